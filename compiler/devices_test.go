package compiler

import (
	"math"
	"strings"
	"testing"

	"tapline/lang"
	"tapline/lang/diag"
)

// What each kind of device and each fault does in a solved case, against
// numbers worked out by hand from the laws or against what must be true.

func deviceIn(t *testing.T, run *Run, name, tag string) DeviceOutcome {
	t.Helper()
	for _, c := range run.Outcome.Cases {
		for _, d := range c.Devices {
			if c.Name == name && d.Tag == tag {
				return d
			}
		}
	}
	t.Fatalf("no %s in case %q", tag, name)
	return DeviceOutcome{}
}

func nodeIn(t *testing.T, run *Run, name, node string) NodeOutcome {
	t.Helper()
	for _, c := range run.Outcome.Cases {
		for _, n := range c.Nodes {
			if c.Name == name && n.Name == node {
				return n
			}
		}
	}
	t.Fatalf("no node %s in case %q", node, name)
	return NodeOutcome{}
}

func good(t *testing.T, run *Run) *Run {
	t.Helper()
	if diag.HasErrors(run.Found) {
		t.Fatal(run.Found)
	}
	for _, c := range run.Outcome.Cases {
		if c.Status != "solved" {
			t.Fatalf("case %q is %s", c.Name, c.Status)
		}
	}
	return run
}

func near(t *testing.T, what string, got *float64, want, rel float64) {
	t.Helper()
	if got == nil {
		t.Errorf("%s is null, want %g", what, want)
		return
	}
	if math.Abs(*got-want) > rel*math.Abs(want) {
		t.Errorf("%s is %.8g, want %.8g", what, *got, want)
	}
}

const regulated = `
reducer "R" {
  set           = "3 barg"
  cv            = 0.1
  droop         = "0.2 bar"
  supply_effect = "2 %"
  lock_up       = "0.1 bar"
}
valve "N" { cv = 0.02 }
line "a" { path = "S -> R -> (P1) -> N -> ATM" }
case "wide open" {
  reducer "R" { fault = "wide open" }
}
case "shut" {
  reducer "R" { fault = "shut" }
}
case "plugged" {
  reducer "R" { fault = "plugged" }
}
case "loading lost" {
  reducer "R" { fault = "loading lost" }
}
case "leaks" {
  valve "N" { state = "shut" }
  reducer "R" {
    fault   = "seat leak"
    leak_cv = 0.0001
  }
}
case "leaks into flow" {
  reducer "R" {
    set     = "0.5 barg"
    fault   = "seat leak"
    leak_cv = 0.005
  }
}
case "supply low" {
  source "S" { pressure = "4.5 barg" }
}`

func TestReducerAndItsFaults(t *testing.T) {
	run := good(t, solve(t, regulated))
	base := *nodeIn(t, run, "base", "P1").PressurePa
	r := deviceIn(t, run, "base", "R")
	if *r.State != "controlling" || *r.Lift <= 0 || *r.Lift >= 1 {
		t.Errorf("base: %v, lift %v", *r.State, *r.Lift)
	}
	// y = (P_o - p)/droop with the set at the base's own inlet.
	near(t, "lift in the base", r.Lift, (401325-base)/20000, 1e-6)
	if len(run.Assumptions) != 1 || !strings.Contains(run.Assumptions[0], "R is taken to hold at its inlet pressure in the base") {
		t.Errorf("assumptions %q", run.Assumptions)
	}
	// Inlet lower by 1.5 bar, supply effect 2 %: the onset is 0.03 bar higher.
	low := *nodeIn(t, run, "supply low", "P1").PressurePa
	near(t, "lift with the supply low", deviceIn(t, run, "supply low", "R").Lift, (401325+0.02*150000-low)/20000, 1e-6)

	// Wide open, both passages in series with Cv 0.1 and 0.02: nearly all of the
	// drop is over the small one.
	open := *nodeIn(t, run, "wide open", "P1").PressurePa
	if open < 6.5e5 || open > 7.01325e5 {
		t.Errorf("wide open: %g Pa", open)
	}
	for _, c := range []string{"shut", "plugged", "loading lost"} {
		n := nodeIn(t, run, c, "P1")
		near(t, c+": pressure falls to the vent's", n.PressurePa, 101325, 1e-9)
		if *deviceIn(t, run, c, "N").MassFlowKgS != 0 || n.State != "dead end" {
			t.Errorf("%s: %v, %v kg/s", c, n.State, *deviceIn(t, run, c, "N").MassFlowKgS)
		}
	}
	// Nothing drains it: a leaking seat takes the dead end to the supply.
	near(t, "leak into a dead end", nodeIn(t, run, "leaks", "P1").PressurePa, 701325, 1e-9)
	leak := deviceIn(t, run, "leaks into flow", "R")
	if p := *nodeIn(t, run, "leaks into flow", "P1").PressurePa; p < 151325-100 || *leak.MassFlowKgS <= 0 {
		t.Errorf("leak into flow: %g Pa, %g kg/s", p, *leak.MassFlowKgS)
	}
}

func TestFlowSourceControllerAndMeter(t *testing.T) {
	run := good(t, solve(t, `
source "Q" {
  fluid       = "n2"
  flow        = "4 slpm"
  temperature = "20 degC"
}
valve "N" { cv = 0.02 }
meter "FI" {
  drop = "10 mbar"
  flow = "4 slpm"
  calibrated_for {
    fluid       = "air"
    pressure    = "0 barg"
    temperature = "20 degC"
  }
}
line "a" { path = "Q -> (P1) -> N -> FI -> ATM" }
flow_controller "FC" {
  set        = "1 slpm"
  least_drop = "0.5 bar"
  range      = "0 .. 2 slpm"
}
line "b" { path = "S -> FC -> ATM" }`))
	// 4 slpm at 15 degC, 101.325 kPa: ideal molar volume 23.644 L/mol.
	want := 4e-3 / 60 / (8.31446261815324 * 288.15 / 101325) * 0.0280134
	near(t, "inflow", deviceIn(t, run, "base", "N").MassFlowKgS, want, 1e-9)
	near(t, "source", deviceIn(t, run, "base", "Q").MassFlowKgS, want, 1e-9)
	near(t, "reference flow", deviceIn(t, run, "base", "N").ReferenceFlowM3S, 4e-3/60, 1e-6)
	near(t, "controller", deviceIn(t, run, "base", "FC").ReferenceFlowM3S, 1e-3/60, 1e-6)
	// A float scale for air at the atmosphere reads low for nitrogen by
	// sqrt(28.0134/28.850) and for the pressure before it by sqrt(p_cal/p). The
	// mass of the invented air, 79 % nitrogen and 21 % oxygen, is 28.850.
	fi := deviceIn(t, run, "base", "FI")
	near(t, "meter", fi.Reads, 4e-3/60*math.Sqrt(28.0134/28.850*101325 / *fi.Ports[0].PressurePa), 2e-4)
}

func TestReliefActions(t *testing.T) {
	text := func(action string, orifice string) string {
		return `
valve "V" { cv = 0.2 }
valve "N" { cv = 0.01 }
relief "PSV" {
  set      = "4 barg"
  action   = "` + action + `"
  blowdown = "10 %"
  orifice  = "` + orifice + `"
  kd       = 0.8
}
line "a" { path = "S -> V -> (P1) -> N -> ATM" }
line "b" { path = "(P1) -> PSV -> ATM" }`
	}
	run := good(t, solve(t, text("proportional", "10 mm2")))
	p := *nodeIn(t, run, "base", "P1").PressurePa
	near(t, "lift", deviceIn(t, run, "base", "PSV").Lift, (p-501325)/40000, 1e-6)

	// A disc bursts once and stays open, far below its set.
	run = good(t, solve(t, text("disc", "100 mm2")))
	if d := deviceIn(t, run, "base", "PSV"); *d.State != "wide open" || *nodeIn(t, run, "base", "P1").PressurePa > 301325 {
		t.Errorf("disc is %s at %g Pa", *d.State, *nodeIn(t, run, "base", "P1").PressurePa)
	}
	// A pop valve that passes little stays open above its reseat point.
	run = good(t, solve(t, text("pop", "3 mm2")))
	if d := deviceIn(t, run, "base", "PSV"); *d.State != "wide open" {
		t.Errorf("small pop is %s", *d.State)
	}
	// One that passes much falls below its reseat point, shuts, and pops again:
	// there is no steady state. It swings between set and reseat, and passes on
	// average what flows in between them.
	run = good(t, solve(t, text("pop", "100 mm2")))
	d, n := deviceIn(t, run, "base", "PSV"), nodeIn(t, run, "base", "P1")
	if *d.State != "cycling" || !(*d.Lift > 0 && *d.Lift < 1) || !(*d.MassFlowKgS > 0) {
		t.Errorf("large pop is %s, open %g of the time, passes %g kg/s", *d.State, *d.Lift, *d.MassFlowKgS)
	}
	near(t, "reseat", n.PressureLowPa, 101325+0.9*4e5, 1e-4)
	near(t, "set", n.PressureHighPa, 501325, 1e-4)
}

func TestRiseOfAColumn(t *testing.T) {
	run := good(t, solve(t, `
tube "T" {
  size   = "12 mm x 1 mm"
  length = "30 m"
  rise   = "30 m"
}
line "a" { path = "S -> T -> (P1) -> cap" }
valve "V" { cv = 0.1 }
line "b" { path = "S -> V -> ATM" }`))
	// Barometric formula, nitrogen at 20 degC: exp(-M g h / (R T)) = 0.996623.
	near(t, "pressure at the top", nodeIn(t, run, "base", "P1").PressurePa, 701325*math.Exp(-0.0280134*9.80665*30/(8.314462618*293.15)), 2e-5)
}

func TestInflowWithoutAWayOut(t *testing.T) {
	run := solve(t, `
source "Q" {
  fluid       = "n2"
  flow        = "4 slpm"
  temperature = "20 degC"
}
valve "V" {
  cv    = 0.1
  state = "shut"
}
line "a" { path = "Q -> (P1) -> V -> ATM" }
valve "W" { cv = 0.1 }
line "b" { path = "S -> W -> ATM" }`)
	if c := run.Outcome.Cases[0]; c.Status != "unsolved" || !strings.Contains(run.Results[0].Reason, "flows in at P1 has no way out") {
		t.Errorf("%s: %s", c.Status, run.Results[0].Reason)
	}
}

// A dead end locks up through a check valve or a flow controller too, as far as
// a relief or a holder next to it lets it.
func TestLockUpBehindOneWayDevices(t *testing.T) {
	text := func(middle, beyond string) string {
		return `
reducer "R" {
  set     = "3 barg"
  cv      = 0.1
  droop   = "0.2 bar"
  lock_up = "0.3 bar"
}
` + middle + `
line "a" { path = "S -> R -> (P1) -> X -> (P2) -> V -> ATM" }
valve "V" {
  cv    = 0.1
  state = "shut"
}
` + beyond
	}
	const relief = `
relief "PSV" {
  set          = "3.1 barg"
  orifice      = "10 mm2"
  kd           = 0.8
}
line "b" { path = "(P2) -> PSV -> ATM" }`
	for _, tc := range []struct {
		middle, beyond string
		p1, p2         float64 // barg
	}{
		{`valve "X" { cv = 0.1 }`, "", 3.3, 3.3},
		{`flow_controller "X" { set = "1 slpm" }`, "", 3.3, 3.3},
		{"check_valve \"X\" {\n cv = 0.1\n cracks_at = \"0.05 bar\"\n}", "", 3.3, 3.25},
		{`valve "X" { cv = 0.1 }`, relief, 3.1, 3.1},
		{`flow_controller "X" { set = "1 slpm" }`, relief, 3.1, 3.1},
	} {
		run := good(t, solve(t, text(tc.middle, tc.beyond)))
		near(t, tc.middle+": P1", nodeIn(t, run, "base", "P1").PressurePa, 101325+1e5*tc.p1, 1e-9)
		near(t, tc.middle+": P2", nodeIn(t, run, "base", "P2").PressurePa, 101325+1e5*tc.p2, 1e-9)
	}
}

// A check valve stuck open passes backwards.
func TestCheckValveStuckOpen(t *testing.T) {
	run := good(t, solve(t, `
vent "B" { pressure = "7 barg" }
valve "V" { cv = 0.1 }
check_valve "C" { cv = 0.1 }
valve "W" { cv = 0.1 }
line "a" { path = "S -> V -> (P1) -> C -> B" }
line "b" { path = "(P1) -> W -> ATM" }
case "stuck" {
  kind = "upset"
  check_valve "C" { fault = "wide open" }
}`))
	if w := *deviceIn(t, run, "base", "C").MassFlowKgS; w != 0 {
		t.Errorf("sound, it passes %g kg/s", w)
	}
	if w := *deviceIn(t, run, "stuck", "C").MassFlowKgS; w >= 0 {
		t.Errorf("stuck open, it passes %g kg/s", w)
	}
}

// What flows back into a source counts in standard litres as the gas that it is, not
// as the source's own.
func TestStandardVolumeBackIntoASource(t *testing.T) {
	run := good(t, solve(t, `
fluid "helium" {
  mole_percent = { helium = 100 }
}
source "HE" {
  fluid       = "helium"
  pressure    = "9 barg"
  temperature = "20 degC"
}
valve "V" { cv = 0.1 }
valve "W" { cv = 0.1 }
valve "X" { cv = 0.02 }
line "a" { path = "S -> V -> (P1) -> X -> ATM" }
line "b" { path = "HE -> W -> (P1)" }`))
	back, through := deviceIn(t, run, "base", "S"), deviceIn(t, run, "base", "V")
	if through.ReferenceFlowM3S == nil || !(*through.ReferenceFlowM3S < 0) {
		t.Fatalf("nothing flows back: %v", through.ReferenceFlowM3S)
	}
	near(t, "the flow back into S", back.ReferenceFlowM3S, *through.ReferenceFlowM3S, 1e-9)
}

// A setting of this run does not move what the regulators were set at.
func TestSettingsKeepTheReferenceInlet(t *testing.T) {
	d := read(t, regulated)
	set, found := d.With([]string{"source.S.pressure=4.5 barg", "valve.N.cv=0.02", "valve.N.xt=0.7"})
	if diag.HasErrors(found) {
		t.Fatal(found)
	}
	run, err := Solve(set, Options{Cases: []string{"base"}})
	if err != nil {
		t.Fatal(err)
	}
	low := nodeIn(t, good(t, solve(t, regulated)), "supply low", "P1")
	near(t, "P1", nodeIn(t, good(t, run), "base", "P1").PressurePa, *low.PressurePa, 1e-9)
}

// Gas counted at a reference state that nobody states is refused wherever it
// stands, as is a single pressure below absolute zero.
func TestImplausibleValues(t *testing.T) {
	for _, tc := range []struct{ code, text string }{
		{"no-reference-state", `
band "b" {
  at   = "V"
  flow = ">= 1 slpm"
}`},
		{"below-vacuum", `
reducer "R" {
  set   = "-1.2 barg"
  cv    = 0.1
  droop = "0.2 bar"
  spare = true
}`},
	} {
		d, found := lang.ReadFiles("bench", map[string][]byte{"x.tap.hcl": []byte(strings.Replace(preamble, "site { reference_state = \"15 degC, 101.325 kPaa\" }", "", 1) +
			"\nvalve \"V\" { cv = 0.1 }\nline \"a\" { path = \"S -> V -> ATM\" }" + tc.text)})
		if diag.HasErrors(found) {
			t.Fatal(found)
		}
		run, err := Solve(d, Options{})
		if err != nil || len(run.Found) == 0 || run.Found[0].Code != tc.code {
			t.Errorf("%s: %v %v", tc.code, err, run.Found)
		}
	}
}
