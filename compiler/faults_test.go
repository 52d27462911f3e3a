package compiler

import (
	"strings"
	"testing"

	"tapline/lang"
	"tapline/lang/diag"
)

// Numbers by hand. Where a device and the valve behind it are both choked, with the
// same x_T, equal flows mean Cv p1 lift = Cv p of the valve, whatever the gas: with
// the source at 21.01325 bara, a reducer of 0.1 and a valve of 0.02 behind it,
//
//	lift 0.1 21.01325 = 0.02 p,  p = 4.01325 - 0.2 lift:  lift = 0.80265/21.05325
//
// The gas is real here and a little cold behind the regulator: 0.5 %.
const failing = `
source "H" {
  fluid       = "n2"
  pressure    = "20 barg"
  temperature = "20 degC"
}
reducer "R" {
  set   = "3 barg"
  cv    = 0.1
  droop = "0.2 bar"
}
valve "N" {
  cv         = 0.04
  opening    = "50 %"
  on_failure = "stay"
}
line "a" { path = "H -> R -> (P1) -> N -> ATM" }
valve "V-9" { cv = 0.01 }
line "b" { path = "S -> V-9 -> ATM" }
`

const liftByHand = 0.80265 / 21.05325

func TestReducerFaultsByHand(t *testing.T) {
	const none = -1 // no lift: nothing moves
	const high = `source "H" { pressure = "30 barg" }`
	for _, tc := range []struct {
		name, fault, more string
		p                 float64 // at P1 [bara]
		lift              float64
	}{
		{"none", "", "", 0.02*0 + 4.01325 - 0.2*liftByHand, liftByHand},
		{"stuck", `fault = "stuck"`, high, liftByHand * 5 * 31.01325, liftByHand},
		{"wide open", "fault = \"wide open\"\n fail_cv = 0.005", "", 0.005 / 0.02 * 21.01325, 1},
		{"seat leak", "fault = \"seat leak\"\n leak_cv = 0.005", "", 0.005 / 0.02 * 21.01325, 0},
		// 0.02 and 0.01 take the flow: lift 0.1 21.01325 = 0.03 p.
		{"diaphragm leak", "fault = \"diaphragm leak\"\n leak_cv = 0.01", "", 4.01325 / (1 + 0.06/21.01325), 0.3 * 4.00182 / 21.01325},
		// The dome takes on p: 0.5 (p - p_atm) = bias - droop lift, so p = 4.01325 - 0.4 lift.
		{"charged dome of half the area", "fault = \"diaphragm leak\"\n leak_cv = 0.01\n set = null\n loading {\n dome = \"2 barg\"\n ratio = 0.5\n bias = \"1.5 bar\"\n }", "",
			4.01325 - 0.4*0.80265/21.09325, 0.80265 / 21.09325},
		{"charged dome and a spring", "fault = \"diaphragm leak\"\n leak_cv = 0.01\n cv = 0.005\n set = null\n loading {\n dome = \"2 barg\"\n bias = \"0.1 bar\"\n }", "",
			0.005 / 0.02 * 21.01325, none},
		{"charged dome alone", "fault = \"diaphragm leak\"\n leak_cv = 0.01\n set = null\n loading { dome = \"2 barg\" }", "", 1.01325, none},
		{"loading lost", `fault = "loading lost"`, "", 1.01325, 0},
		{"shut", `fault = "shut"`, "", 1.01325, none},
		{"plugged", `fault = "plugged"`, "", 1.01325, none},
	} {
		t.Run(tc.name, func(t *testing.T) {
			run := good(t, solve(t, failing+"case \"c\" {\n reducer \"R\" {\n "+tc.fault+"\n }\n "+tc.more+"\n}"))
			p := nodeIn(t, run, "c", "P1")
			near(t, "P1", p.PressurePa, tc.p*1e5, 0.005)
			if lift := deviceIn(t, run, "c", "R").Lift; tc.lift != none || lift != nil {
				near(t, "lift", lift, tc.lift, 0.005)
			}
		})
	}
}

func TestDiaphragmLeakOfAHolder(t *testing.T) {
	// 0.005 from 21.01325 bara into a holder of 0.02 set at 4.01325 bara: without a
	// leak lift 0.02 p = 0.005 21.01325 with p = 4.01325 + 0.2 lift. A leak of 0.01 takes
	// 0.01 p of it.
	run := good(t, solve(t, `
source "H" {
  fluid       = "n2"
  pressure    = "20 barg"
  temperature = "20 degC"
}
valve "V" { cv = 0.005 }
holder "B" {
  set          = "3 barg"
  cv           = 0.04
  accumulation = "0.2 bar"
}
line "a" { path = "H -> V -> (P1) -> B -> ATM" }
valve "V-9" { cv = 0.01 }
line "b" { path = "S -> V-9 -> ATM" }
case "leaks" {
  holder "B" {
    fault   = "diaphragm leak"
    leak_cv = 0.01
  }
}
`))
	// 0.04 lift (4.01325 + 0.2 lift) = 0.10506625
	near(t, "lift", deviceIn(t, run, "base", "B").Lift, 0.63434, 0.006)
	// 0.04 lift (4.01325 + 0.2 lift) + 0.01 (4.01325 + 0.2 lift) = 0.10506625
	near(t, "lift with the leak", deviceIn(t, run, "leaks", "B").Lift, 0.39195, 0.008)
	if n := nodeIn(t, run, "leaks", "B bonnet"); n.State != "boundary" || *n.PressurePa != 101325 {
		t.Errorf("the bonnet: %+v", n)
	}
	vent, source := deviceIn(t, run, "leaks", "B"), deviceIn(t, run, "leaks", "V")
	if lost := 1 - *vent.MassFlowKgS / *source.MassFlowKgS; lost < 0.36 || lost > 0.40 { // 0.01 4.0926/0.10507
		t.Errorf("%g of the flow leaves by the bonnet", lost)
	}
}

func TestDiaphragmLeakIntoADome(t *testing.T) {
	// The dome is fed through a needle valve of 0.001 from 21.01325 bara and bled through
	// one of 0.02; a leak of 0.005 out of the controlled side at some 3 bara adds to it and
	// the pressure before the holder falls no further than the dome's.
	run := good(t, solve(t, `
source "H" {
  fluid       = "n2"
  pressure    = "20 barg"
  temperature = "20 degC"
}
valve "F" { cv = 0.002 }
valve "BL" { cv = 0.01 }
line "dome" { path = "H -> F -> (D) -> BL -> ATM" }
valve "V" { cv = 0.004 }
holder "B" {
  cv           = 0.04
  accumulation = "0.1 bar"
  loading {
    dome = "(D)"
    bias = "1 bar"
  }
}
line "a" { path = "H -> V -> (P1) -> B -> ATM" }
valve "V-9" { cv = 0.01 }
line "b" { path = "S -> V-9 -> ATM" }
case "leaks" {
  holder "B" {
    fault   = "diaphragm leak"
    leak_cv = 0.002
  }
}
`))
	leak := deviceIn(t, run, "leaks", "V")
	through := deviceIn(t, run, "leaks", "B")
	feed, bleed := deviceIn(t, run, "leaks", "F"), deviceIn(t, run, "leaks", "BL")
	into := *leak.MassFlowKgS - *through.MassFlowKgS
	near(t, "what the leak adds to the bleed", &into, *bleed.MassFlowKgS-*feed.MassFlowKgS, 1e-6)
	p, d := nodeIn(t, run, "leaks", "P1"), nodeIn(t, run, "leaks", "D")
	rise := *p.PressurePa - *d.PressurePa - 1e5 - 1e4**through.Lift
	if into <= 0 || rise < -1 || rise > 1 || *d.PressurePa <= *nodeIn(t, run, "base", "D").PressurePa {
		t.Errorf("leak %g kg/s, P1 %g, dome %g, lift %g", into, *p.PressurePa, *d.PressurePa, *through.Lift)
	}
}

func TestStuckAndFailingDevices(t *testing.T) {
	run := good(t, solve(t, failing+`
flow_controller "FC" {
  set        = "2 slpm"
  least_drop = "1 bar"
  range      = "0 .. 10 slpm"
  on_failure = "open"
}
line "c" { path = "H -> FC -> ATM" }
valve "W" { cv = 0.001 }
relief "PSV" {
  set     = "4 barg"
  orifice = "0.5 mm2"
  kd      = 0.8
}
line "d" { path = "H -> W -> (P2) -> PSV -> ATM" }
case "valve stuck" {
  valve "N" {
    opening = "100 %"
    fault   = "stuck"
  }
}
case "valve stays" {
  valve "N" {
    opening = "10 %"
    fault   = "fails"
  }
}
case "valve fails open" {
  reducer "R" { fault = "stuck" }
  valve "N" {
    on_failure = "open"
    fault      = "fails"
  }
}
case "valve fails shut" {
  valve "N" {
    on_failure = "shut"
    fault      = "fails"
  }
}
case "controller stuck" {
  source "H" { pressure = "30 barg" }
  flow_controller "FC" { fault = "stuck" }
}
case "controller fails" {
  flow_controller "FC" { fault = "fails" }
}
case "relief stuck" {
  source "H" { pressure = "30 barg" }
  relief "PSV" { fault = "stuck" }
}
`))
	base := deviceIn(t, run, "base", "N")
	for _, c := range []string{"valve stuck", "valve stays"} {
		near(t, c, deviceIn(t, run, c, "N").MassFlowKgS, *base.MassFlowKgS, 1e-9)
	}
	// The reducer's flow is choked and stays; the valve has twice the passage.
	near(t, "flow, fails open", deviceIn(t, run, "valve fails open", "N").MassFlowKgS, *base.MassFlowKgS, 1e-6)
	if *deviceIn(t, run, "valve fails shut", "N").MassFlowKgS != 0 {
		t.Error("a valve that failed shut passes")
	}
	// Choked at both pressures: the flow follows the absolute pressure.
	fc := deviceIn(t, run, "base", "FC")
	near(t, "controller stuck", deviceIn(t, run, "controller stuck", "FC").MassFlowKgS, *fc.MassFlowKgS*31.01325/21.01325, 0.005)
	if open := *deviceIn(t, run, "controller fails", "FC").MassFlowKgS; open < 5**fc.MassFlowKgS {
		t.Errorf("a controller that failed open passes %g kg/s, %g before", open, *fc.MassFlowKgS)
	}
	psv := deviceIn(t, run, "base", "PSV")
	if *psv.Lift <= 0 || *psv.Lift >= 1 {
		t.Fatalf("the relief lifts by %g", *psv.Lift)
	}
	near(t, "before the stuck relief", nodeIn(t, run, "relief stuck", "P2").PressurePa, *nodeIn(t, run, "base", "P2").PressurePa*31.01325/21.01325, 0.005)
	near(t, "its lift", deviceIn(t, run, "relief stuck", "PSV").Lift, *psv.Lift, 1e-9)
}

// Every kind takes each fault that the table says it takes.
func TestEveryFaultIsComputed(t *testing.T) {
	const device = `
%s
line "a" { path = "S -> X -> (P1) -> V -> ATM" }
valve "V" { cv = 0.02 }
case "c" {
  %s "X" {
    fault = "%s"
    %s
  }
}`
	says := map[string]string{
		"tube": "size = \"6 mm x 1 mm\"\n length = \"2 m\"", "valve": "cv = 0.04\n opening = \"40 %\"\n on_failure = \"stay\"", "orifice": "bore = \"1 mm\"\n cd = 0.6", "filter": "cv = 0.1",
		"check_valve": "cv = 0.1", "meter": "cv = 0.1", "flow_controller": "set = \"2 slpm\"\n on_failure = \"shut\"", "analyzer": "cv = 0.1", "equipment": "cv = 0.1",
		"reducer": "cv = 0.1\n set = \"3 barg\"\n droop = \"0.2 bar\"", "holder": "cv = 0.1\n set = \"3 barg\"\n accumulation = \"0.2 bar\"",
		"relief":   "set = \"3 barg\"\n orifice = \"2 mm2\"\n kd = 0.8",
		"multiway": "cv = 0.1\n ports = [\"in\", \"out\"]\n positions = { on = \"in > out\", off = [] }\n position = \"on\"\n on_failure = \"off\"",
	}
	count := 0
	for _, bt := range lang.Schema() {
		built, later := bt.Faults()
		if len(later) > 0 {
			t.Errorf("%s: %v are not built", bt.Kind, later)
		}
		for _, f := range built {
			size := ""
			if strings.HasSuffix(f, "leak") {
				size = `leak_cv = 0.001`
			}
			if says[bt.Kind] == "" {
				t.Errorf("no test of %s", bt.Kind)
				continue
			}
			text := strings.NewReplacer("%s\nline", bt.Kind+" \"X\" {\n"+says[bt.Kind]+"\n}\nline", "%s \"X\"", bt.Kind+` "X"`, `"%s"`, `"`+f+`"`, "    %s", "    "+size).Replace(device)
			run := good(t, solve(t, text))
			d := deviceIn(t, run, "c", "X")
			if *d.Fault != f {
				t.Errorf("%s: fault %q", bt.Kind, *d.Fault)
			}
			switch {
			case f == "shut", f == "plugged", f == "loading lost" && bt.Kind == "reducer", f == "fails" && (bt.Kind == "flow_controller" || bt.Kind == "multiway"):
				if *d.MassFlowKgS != 0 {
					t.Errorf("%s, %s: passes %g kg/s", bt.Kind, f, *d.MassFlowKgS)
				}
			case *d.MassFlowKgS <= 0:
				t.Errorf("%s, %s: passes nothing", bt.Kind, f)
			}
			count++
		}
	}
	t.Logf("%d pairs of kind and fault", count)
}

func TestGeneratedUpsets(t *testing.T) {
	text := strings.Replace(failing, `valve "V-9" { cv = 0.01 }`, "valve \"V-9\" {\n cv = 0.01\n leak_cv = 0.0001\n}", 1)
	d, found := lang.ReadFiles("bench", map[string][]byte{"x.tap.hcl": []byte(strings.Replace(preamble, `system "bench" {}`, `system "bench" { upsets = "each device alone" }`, 1) + text + `
case "R shut" {
  kind = "service"
}
case "both" {
  after = ["R wide open", "V-9 shut"]
}
`)})
	if diag.HasErrors(found) {
		t.Fatal(found)
	}
	run, err := Solve(d, Options{})
	if err != nil {
		t.Fatal(err)
	}
	good(t, run)
	var got []string
	for _, c := range run.Outcome.Cases {
		if c.Generated {
			got = append(got, c.Name)
			if c.Kind != "upset" {
				t.Errorf("%s is %s", c.Name, c.Kind)
			}
		}
	}
	// V-9 stands fully open: it cannot fail wide open.
	want := "R wide open, R loading lost, N wide open, N shut, V-9 shut, V-9 seat leak"
	if s := strings.Join(got, ", "); s != want {
		t.Errorf("cases %s, want %s", s, want)
	}
	if f := deviceIn(t, run, "R wide open", "R").Fault; f == nil || *f != "wide open" {
		t.Errorf("fault %v", f)
	}
	if f := deviceIn(t, run, "R shut", "R").Fault; f != nil {
		t.Errorf("the case of the files has the fault %s", *f)
	}
	if a, b := deviceIn(t, run, "both", "R").Fault, deviceIn(t, run, "both", "V-9").Fault; a == nil || b == nil {
		t.Error("a case cannot start from generated ones")
	}
}
