package compiler

import (
	"fmt"
	"strings"
	"testing"

	"tapline/lang"
)

// Every fault of every kind, each against a number by hand. The device X stands between
// the source H, 21.01325 bara, and the valve V of 0.02 behind (P1), or where it says so
// behind the valve that feeds (P1). Where X and V are both choked, as from 3.4 to 6.3
// bara at (P1), equal flows mean Cv_X 21.01325 = 0.02 p, whatever the gas (see
// failing in faults_test.go). A device that passes nothing leaves (P1) at the
// atmosphere, or where it holds the gas back, at the source's pressure. The gas is real,
// and a little cold behind X: 0.7 % at 30 barg.

const (
	fedBy  = "line \"a\" { path = \"H -> X -> (P1) -> V -> ATM\" }\nvalve \"V\" { cv = 0.02 }\n"
	before = "line \"a\" { path = \"H -> V -> (P1) -> X -> ATM\" }\nvalve \"V\" { cv = 0.005 }\n"
	// into has the check valve X against the flow, from (P2), which stands open.
	into = "line \"a\" { path = \"H -> V -> (P1) -> W -> ATM\" }\nline \"x\" { path = \"(P2) -> X -> (P1)\" }\nline \"o\" { path = \"(P2) -> O -> ATM\" }\n" +
		"valve \"V\" { cv = 0.005 }\nvalve \"W\" { cv = 0.02 }\nvalve \"O\" { cv = 2 }\n"

	quarter = 0.005 / 0.02 * 21.01325
	fifth   = 0.004 / 0.02 * 21.01325
	nothing = 1.01325
	held    = 21.01325
)

// A cell is one kind and one fault. p is at (P1) [bara]; flow, where it is set, through X
// [kg/h].
type faultCell struct {
	kind, says, rest, fault, more string
	p, flow                       float64
}

func faultCells() []faultCell {
	const (
		valve   = "cv = 0.005\n opening = \"80 %\""
		check   = "cv = 0.005\n cracks_at = \"0.1 bar\""
		holder  = "cv = 0.04\n set = \"3 barg\"\n accumulation = \"0.2 bar\""
		relief  = "set = \"9 barg\"\n kd = 0.8\n orifice = "
		high    = "source \"H\" { pressure = \"30 barg\" }"
		control = "set = \"2 slpm\"\n least_drop = \"1 bar\"\n range = \"0 .. 10 slpm\""
		toVent  = "line \"a\" { path = \"H -> X -> ATM\" }\nline \"p\" { path = \"H -> V -> (P1) -> W -> ATM\" }\nvalve \"V\" { cv = 0.005 }\nvalve \"W\" { cv = 0.02 }\n"
	)
	cells := []faultCell{
		{"valve", valve, fedBy, "wide open", "", quarter, 0},
		{"valve", valve, fedBy, "wide open", "fail_cv = 0.0055", 0.0055 / 0.02 * 21.01325, 0},
		{"valve", valve, fedBy, "shut", "", nothing, 0},
		{"valve", valve, fedBy, "plugged", "", nothing, 0},
		{"valve", valve, fedBy, "seat leak", "leak_cv = 0.001", quarter, 0},
		{"valve", "cv = 1\n state = \"shut\"", fedBy, "seat leak", "leak_cv = 0.004", fifth, 0},
		{"valve", valve, fedBy, "stuck", "opening = \"100 %\"", fifth, 0},
		{"valve", valve, fedBy, "fails", "on_failure = \"open\"", quarter, 0},
		{"valve", valve, fedBy, "fails", "on_failure = \"shut\"", nothing, 0},
		{"valve", valve, fedBy, "fails", "on_failure = \"stay\"\n opening = \"10 %\"", fifth, 0},

		{"check_valve", check, fedBy, "plugged", "", nothing, 0},
		{"check_valve", check, fedBy, "shut", "", nothing, 0},
		// 0.005 21.01325 = (0.02 + 0.005) p: as much leaves backwards.
		{"check_valve", check, into, "wide open", "", 0.005 / 0.025 * 21.01325, 0},
		{"check_valve", check, into, "seat leak", "leak_cv = 0.003", 0.005 / 0.023 * 21.01325, 0},

		{"holder", holder, before, "plugged", "", held, 0},
		{"holder", holder, before, "shut", "", held, 0},
		{"holder", holder, before, "wide open", "fail_cv = 0.025", 0.005 / 0.025 * 21.01325, 0},
		// 0.04 lift p + 0.01 p = 0.10506625 with p = 4.01325 + 0.2 lift: lift 0.39195.
		{"holder", holder, before, "seat leak", "leak_cv = 0.01", 4.01325 + 0.2*0.39195, 0},
		{"holder", holder, before, "diaphragm leak", "leak_cv = 0.01", 4.01325 + 0.2*0.39195, 0},
		// It stands where 0.04 lift p = 0.10506625 has it, 0.63434.
		{"holder", holder, before, "stuck", high, 0.005 * 31.01325 / (0.04 * 0.63434), 0},
		// Open from the atmosphere on: 0.0035 21.01325/0.02 is above the 0.2 bar that takes.
		{"holder", strings.Replace(holder, "0.04", "0.02", 1), strings.Replace(before, "0.005", "0.0035", 1), "loading lost", "", 0.0035 / 0.02 * 21.01325, 0},

		{"relief", relief + `"1 mm2"`, before, "plugged", "", held, 0},
		{"relief", relief + `"1 mm2"`, before, "shut", "", held, 0},
		{"relief", relief + `"1 mm2"`, before, "seat leak", "leak_cv = 0.02", quarter, 0},
		// Half of 3.441 kg/h, see below, through 0.66853 A p kg/h (ISO 4126-1): A 0.45 mm2.
		{"relief", relief + `"0.45 mm2"`, before, "wide open", "", 1.7205 / (0.66853 * 0.45), 0},
		// Set to 4 barg it stands where lift p = 1.7205/0.66853 with p = 5.01325 + 0.4 lift has
		// it, 0.4945, and passes 31.01325/21.01325 as much.
		{"relief", strings.Replace(relief, "9", "4", 1) + `"1 mm2"`, before, "stuck", high, 31.01325 / 21.01325 * (5.01325 + 0.4*0.4945), 0},

		{"flow_controller", control, toVent, "plugged", "", quarter, 0},
		{"flow_controller", control, toVent, "shut", "", quarter, 0},
		// 10 slpm are 0.7109 kg/h, which Cv 0.022388 passes at 1 bar into the atmosphere: x
		// 0.4967, Y 0.7635, 27.341 0.7635 sqrt(2.3139 kg/m3 1 bar) = 31.754 kg/h a Cv. Choked
		// from 21.01325 bara: 27.341 0.022388 2/3 sqrt(0.7 21.01325 24.23) = 7.704 kg/h.
		{"flow_controller", control, toVent, "wide open", "", quarter, 7.704},
		{"flow_controller", control, toVent, "fails", "on_failure = \"open\"", quarter, 7.704},
		{"flow_controller", control, toVent, "fails", "on_failure = \"shut\"", quarter, 0},
		// 2 slpm are 0.14218 kg/h; the same part of a third and a half more before it.
		{"flow_controller", control, toVent, "stuck", high, 0.005 / 0.02 * 31.01325, 0.14218 * 31.01325 / 21.01325},
		{"flow_controller", control, toVent, "fails", "on_failure = \"stay\"", quarter, 0.14218},
	}
	for kind, says := range map[string]string{"tube": "size = \"6 mm x 1 mm\"\n length = \"2 m\"", "orifice": "bore = \"1 mm\"\n cd = 0.6",
		"filter": "cv = 0.1", "meter": "cv = 0.1", "analyzer": "cv = 0.1", "equipment": "cv = 0.1"} {
		cells = append(cells, faultCell{kind, says, fedBy, "plugged", "", nothing, 0})
	}
	return cells
}

func TestEveryFaultByHand(t *testing.T) {
	done := map[string]bool{}
	for _, f := range []string{"stuck", "wide open", "seat leak", "diaphragm leak", "loading lost", "shut", "plugged"} {
		done["reducer "+f] = true // TestReducerFaultsByHand
	}
	for _, c := range faultCells() {
		done[c.kind+" "+c.fault] = true
		t.Run(c.kind+" "+c.fault+" "+c.more, func(t *testing.T) {
			inX, beside := c.more, ""
			if strings.HasPrefix(c.more, "source") {
				inX, beside = "", c.more
			}
			run := good(t, solve(t, fmt.Sprintf(`
source "H" {
  fluid       = "n2"
  pressure    = "20 barg"
  temperature = "20 degC"
}
%s "X" {
  %s
}
%s
valve "V-9" { cv = 0.01 }
line "z" { path = "S -> V-9 -> ATM" }
case "c" {
  %[1]s "X" {
    fault = %[4]q
    %[5]s
  }
  %[6]s
}`, c.kind, c.says, c.rest, c.fault, inX, beside)))
			near(t, "P1", nodeIn(t, run, "c", "P1").PressurePa, c.p*1e5, 0.007)
			w := *deviceIn(t, run, "c", "X").MassFlowKgS
			switch passes := c.p != nothing && c.p != held && c.kind != "flow_controller" || c.flow > 0; {
			case c.flow > 0:
				w *= 3600
				near(t, "flow", &w, c.flow, 0.007)
			case !passes && w != 0, passes && w == 0:
				t.Errorf("passes %g kg/s", w)
			case (c.rest == into) != (w < 0) && passes:
				t.Errorf("passes %g kg/s the other way", w)
			}
		})
	}
	for _, bt := range lang.Schema() {
		built, _ := bt.Faults()
		for _, f := range built {
			if !done[bt.Kind+" "+f] && bt.Kind != "multiway" { // a multiway's: multiway_test.go
				t.Errorf("%s: %s is held against nothing", bt.Kind, f)
			}
		}
	}
}
