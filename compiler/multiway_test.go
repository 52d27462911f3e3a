package compiler

import (
	"math"
	"strings"
	"testing"

	"tapline/lang"
	"tapline/lang/diag"
)

// Multiway valves: what their positions join, their faults, and what is reported of
// their ports. Values are invented.

const selector = `
source "CAL" {
  fluid       = "air"
  pressure    = "4 barg"
  temperature = "20 degC"
}
vent "BLEED" { pressure = "0 barg" }
multiway "XV" {
  ports     = ["sample", "cal", "cell", "bleed"]
  cv        = 0.02
  volume    = "2 mL"
  positions = {
    measure   = ["sample > cell", "cal > bleed"],
    calibrate = ["cal > cell"],
    flush     = ["sample > cell", "sample > bleed"],
    off       = [],
  }
  position   = "measure"
  on_failure = "off"
}
valve "N" { cv = 0.01 }
valve "B" { cv = 0.005 }
analyzer "AE" {
  cv     = 0.1
  volume = "10 mL"
}
line "a" { path = ["S -> XV.sample", "CAL -> XV.cal", "XV.cell -> N -> AE -> ATM", "XV.bleed -> B -> BLEED"] }
case "calibration" {
  kind = "service"
  multiway "XV" { position = "calibrate" }
}
case "flush" {
  kind = "service"
  multiway "XV" { position = "flush" }
}
case "off" {
  kind = "service"
  multiway "XV" { position = "off" }
}
case "fails" {
  kind = "upset"
  multiway "XV" { fault = "fails" }
}
case "stuck when calibrating" {
  after = ["calibration"]
  kind  = "upset"
  multiway "XV" { fault = "stuck" }
}
case "stays when calibrating" {
  after = ["calibration"]
  kind  = "upset"
  multiway "XV" {
    on_failure = "stay"
    fault      = "fails"
  }
}
case "plugged" {
  kind = "upset"
  multiway "XV" { fault = "plugged" }
}
case "seat leak" {
  kind = "upset"
  multiway "XV" {
    fault   = "seat leak"
    leak_cv = 0.0002
  }
}
`

// way gives one way through XV in a case, as a device.
func way(t *testing.T, run *Run, name, tag string) DeviceOutcome {
	t.Helper()
	xv := deviceIn(t, run, name, "XV")
	for _, w := range xv.Ways() {
		if w.Tag == "XV."+tag {
			return w
		}
	}
	t.Fatalf("no way %s", tag)
	return DeviceOutcome{}
}

// A way is a valve: the same system of plain valves, open and shut by hand.
func TestPositionsJoinPorts(t *testing.T) {
	run := good(t, solve(t, selector))
	plain := good(t, solve(t, `
source "CAL" {
  fluid       = "air"
  pressure    = "4 barg"
  temperature = "20 degC"
}
vent "BLEED" { pressure = "0 barg" }
valve "SC" { cv = 0.02 }
valve "CB" { cv = 0.02 }
valve "CC" {
  cv    = 0.02
  state = "shut"
}
valve "N" { cv = 0.01 }
valve "B" { cv = 0.005 }
analyzer "AE" { cv = 0.1 }
line "a" { path = ["S -> SC -> (C) -> N -> AE -> ATM", "CAL -> CB -> (B1) -> B -> BLEED", "CAL -> CC -> (C)"] }
case "calibration" {
  valve "SC" { state = "shut" }
  valve "CB" { state = "shut" }
  valve "CC" { state = "open" }
}`))
	for _, c := range []string{"base", "calibration"} {
		for tag, valve := range map[string]string{"sample > cell": "SC", "cal > bleed": "CB", "cal > cell": "CC"} {
			w, v := way(t, run, c, tag), deviceIn(t, plain, c, valve)
			if *w.State != *v.State {
				t.Errorf("%s, %s: %s, want %s", c, tag, *w.State, *v.State)
			}
			if *v.MassFlowKgS == 0 && *w.MassFlowKgS != 0 {
				t.Errorf("%s, %s passes %g kg/s", c, tag, *w.MassFlowKgS)
			}
			near(t, c+", "+tag, w.MassFlowKgS, *v.MassFlowKgS, 1e-9)
		}
	}
	// Its flow is that of all ways; its ports are its own nodes.
	xv := deviceIn(t, run, "base", "XV")
	near(t, "all of it", xv.MassFlowKgS, *deviceIn(t, plain, "base", "SC").MassFlowKgS+*deviceIn(t, plain, "base", "CB").MassFlowKgS, 1e-9)
	if xv.Settings["position"] != "measure" || deviceIn(t, run, "calibration", "XV").Settings["position"] != "calibrate" {
		t.Errorf("settings %v", xv.Settings)
	}
	var ports []string
	for _, p := range xv.Ports {
		ports = append(ports, p.Name+" "+p.Node)
	}
	if got := strings.Join(ports, ", "); got != "bleed XV.bleed, cal CAL, cell XV.cell, sample S" {
		t.Errorf("ports %s", got)
	}
	near(t, "share of the calibration gas", ptr(nodeIn(t, run, "calibration", "XV.cell").Shares["CAL"]), 1, 1e-12)
	near(t, "share of the sample", ptr(nodeIn(t, run, "base", "XV.cell").Shares["S"]), 1, 1e-12)
	// One port joined to two.
	bled := *way(t, run, "flush", "sample > bleed").MassFlowKgS
	near(t, "the sample bled", deviceIn(t, run, "flush", "B").MassFlowKgS, bled, 1e-9)
	near(t, "the sample in the cell", way(t, run, "flush", "sample > cell").MassFlowKgS, *way(t, run, "base", "sample > cell").MassFlowKgS, 1e-9)
	if !(bled > 0) {
		t.Error("nothing is bled")
	}
}

func ptr(x float64) *float64 { return &x }

func TestMultiwayFaults(t *testing.T) {
	run := good(t, solve(t, selector))
	off := deviceIn(t, run, "off", "XV")
	for _, c := range []string{"off", "fails", "plugged"} {
		d := deviceIn(t, run, c, "XV")
		if *d.MassFlowKgS != 0 || *d.State != "shut" {
			t.Errorf("%s: %s, %g kg/s", c, *d.State, *d.MassFlowKgS)
		}
	}
	if p := deviceIn(t, run, "fails", "XV").Settings["position"]; p != off.Settings["position"] {
		t.Errorf("it fails to %v", p)
	}
	if p, ok := deviceIn(t, run, "plugged", "XV").Settings["position"]; p != nil || !ok {
		t.Errorf("plugged it stands at %v", p)
	}
	for _, c := range []string{"stuck when calibrating", "stays when calibrating"} {
		near(t, c, way(t, run, c, "sample > cell").MassFlowKgS, *way(t, run, "base", "sample > cell").MassFlowKgS, 1e-12)
		if p := deviceIn(t, run, c, "XV").Settings["position"]; p != "measure" {
			t.Errorf("%s: it stands at %v", c, p)
		}
	}
	// The seat of cal > cell leaks backwards, from the sample at 6 barg into the
	// calibration gas at 4 barg. By hand, far from choke, with x = 1 - p2/p1:
	// w = N6 Cv (1 - x/(3 x 0.7)) sqrt(x p1 rho1), N6 = 27.341 kg/h, bar, kg/m3.
	leak := way(t, run, "seat leak", "cal > cell")
	cell := nodeIn(t, run, "seat leak", "XV.cell")
	p1 := *cell.PressurePa / 1e5
	x := 1 - 5.01325/p1
	w := 27.341 * 0.0002 * (1 - x/2.1) * math.Sqrt(x*p1**cell.DensityKgM3) / 3600
	near(t, "leak into the calibration gas", leak.MassFlowKgS, -w, 1e-4)
	if *leak.State != "shut" {
		t.Errorf("a shut way that leaks is %s", *leak.State)
	}
}

// A double block and bleed, both seats of which leak to the bleed.
func TestDoubleBlockAndBleed(t *testing.T) {
	run := good(t, solve(t, `
multiway "XV" {
  ports     = ["in", "out", "bleed"]
  cv        = 0.1
  positions = { through = ["in > out"], blocked = [] }
  position  = "through"
}
valve "N" { cv = 0.01 }
vent "BLEED" { pressure = "0 barg" }
line "a" { path = ["S -> XV -> N -> ATM", "XV.bleed -> BLEED"] }
case "seats leak" {
  multiway "XV" {
    position = "blocked"
    fault    = "seat leak"
    leak_cv  = 0.0004
    leaks    = ["in > bleed", "out > bleed"]
  }
}
case "seat leaks" {
  multiway "XV" {
    position = "blocked"
    fault    = "seat leak"
    leak_cv  = 0.0004
  }
}`))
	if w := *deviceIn(t, run, "base", "N").MassFlowKgS; !(w > 0) || *way(t, run, "base", "in > bleed").MassFlowKgS != 0 {
		t.Errorf("through passes %g kg/s", w)
	}
	// Choked: w = 27.341 Cv 2/3 sqrt(0.7 x 1.4006/1.4 p1 rho1), and nothing to N.
	rho := *nodeIn(t, run, "seats leak", "S").DensityKgM3
	w := 27.341 * 0.0004 * 2 / 3 * math.Sqrt(0.7*7.01325*rho) / 3600
	near(t, "leak to the bleed", way(t, run, "seats leak", "in > bleed").MassFlowKgS, w, 1e-3)
	if got := *deviceIn(t, run, "seats leak", "N").MassFlowKgS; got != 0 {
		t.Errorf("%g kg/s pass a double block", got)
	}
	// Without leaks it is the way that is shut which leaks.
	if got := *deviceIn(t, run, "seat leaks", "N").MassFlowKgS; !(got > 0) {
		t.Errorf("%g kg/s pass a leaking seat", got)
	}
}

func TestMultiwayLags(t *testing.T) {
	run := good(t, solve(t, selector))
	for _, c := range run.Outcome.Cases {
		for _, l := range c.Lags {
			var names []string
			for _, s := range l.Segments {
				names = append(names, s.Name)
			}
			got := l.From + ": " + strings.Join(names, ", ")
			if c.Name == "base" && l.Seconds != nil && !strings.Contains(got, "S: ") {
				t.Errorf("base: %s", got)
			}
			if c.Name == "calibration" && l.Seconds != nil && !strings.Contains(got, "XV.cal > cell") {
				t.Errorf("calibration: %s", got)
			}
		}
	}
	// 2 mL of the way at the density there, V rho/w, before the cell.
	w := way(t, run, "base", "sample > cell")
	rho := (*nodeIn(t, run, "base", "S").DensityKgM3 + *nodeIn(t, run, "base", "XV.cell").DensityKgM3) / 2
	for _, l := range run.Outcome.Cases[0].Lags {
		for _, s := range l.Segments {
			if s.Name == w.Tag {
				near(t, "lag of the way", ptr(s.Seconds), 2e-6*rho / *w.MassFlowKgS, 0.01)
				return
			}
		}
	}
	t.Error("the way takes no time")
}

func TestMultiwaySettingsAndSpares(t *testing.T) {
	d, found := read(t, selector).With([]string{"multiway.XV.position=calibrate"})
	if diag.HasErrors(found) {
		t.Fatal(found)
	}
	run, err := Solve(d, Options{Cases: []string{"base"}})
	if err != nil || *way(t, good(t, run), "base", "cal > cell").MassFlowKgS <= 0 {
		t.Errorf("set to calibrate it does not: %v", err)
	}
	spare := good(t, solve(t, `
multiway "XV" {
  ports     = ["a", "b", "c"]
  cv        = 0.1
  positions = { one = ["a > b"], two = ["a > c"] }
  position  = "two"
  spare     = true
}
valve "N" { cv = 0.01 }
line "a" { path = ["S -> (P1) -> N -> ATM", "(P1) -> XV.a", "XV.b -> (P2) -> cap"] }`))
	if xv := deviceIn(t, spare, "base", "XV"); *xv.State != "shut" || len(xv.Passages) != 1 {
		t.Errorf("the spare is %s with %d ways", *xv.State, len(xv.Passages))
	}
}

// upsets adds what can happen to a multiway valve alone.
func TestUpsetsOfMultiwayValves(t *testing.T) {
	base, _, _ := strings.Cut(selector, "case ")
	d, found := lang.ReadFiles("bench", map[string][]byte{"x.tap.hcl": []byte(strings.Replace(preamble, `system "bench" {}`, `system "bench" { upsets = "each device alone" }`, 1) + base)})
	if diag.HasErrors(found) {
		t.Fatal(found)
	}
	var got []string
	for _, c := range d.Cases {
		if strings.HasPrefix(c.Name, "XV ") {
			got = append(got, c.Name)
		}
	}
	if s := strings.Join(got, ", "); s != "XV plugged, XV fails" {
		t.Errorf("upsets %s", s)
	}
}
