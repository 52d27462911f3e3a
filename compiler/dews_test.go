package compiler

import (
	"math"
	"testing"

	"tapline/lang"
	"tapline/lang/diag"
)

// dewy solves a system of invented values: a rich gas with water in it, and a dry one,
// each throttled into a vent.
func dewy(t *testing.T) *Run {
	t.Helper()
	d, found := lang.ReadFiles("dewy", map[string][]byte{"x.tap.hcl": []byte(`
system "dewy" {}
fluid "rich" {
  mole_percent    = { methane = 84, ethane = 8, propane = 4, n_butane = 2, n_hexane = 1, nitrogen = 1 }
  water_dew_point = "-8 degC at 70 bara"
}
fluid "lpg" { mole_percent = { propane = 60, n_butane = 40 } }
fluid "nitrogen" { mole_percent = { nitrogen = 100 } }
source "GRID" {
  fluid       = "rich"
  pressure    = "60 barg"
  temperature = "45 degC"
}
source "BOTTLE" {
  fluid       = "lpg"
  pressure    = "3.5 barg"
  temperature = "20 degC"
}
source "N2" {
  fluid       = "nitrogen"
  pressure    = "60 barg"
  temperature = "20 degC"
}
vent "FLARE" { pressure = "1 barg" }
vent "FLARE-2" { pressure = "1 barg" }
vent "ATM" { pressure = "1 barg" }
valve "V-1" { cv = 0.02 }
valve "V-2" { cv = 0.02 }
valve "V-3" { cv = 0.02 }
line "a" { path = "GRID -> V-1 -> FLARE" }
line "b" { path = "BOTTLE -> V-2 -> FLARE-2" }
line "c" { path = "N2 -> V-3 -> ATM" }
`)})
	if diag.HasErrors(found) {
		t.Fatal(found)
	}
	run, err := Solve(d, Options{})
	if err != nil || diag.HasErrors(run.Found) {
		t.Fatal(err, run.Found)
	}
	return run
}

// The higher dew temperature is given where something might condense, and the phase
// follows from it; nothing is looked for where a gas is far from condensing.
func TestPhaseAndDewOfNodes(t *testing.T) {
	run := dewy(t)
	for _, c := range []struct {
		node, phase string
		low, high   float64 // of the dew temperature [K]; 0 for none
	}{
		{"GRID", "gas", 305, 309},         // hydrocarbons: gas_b_c1_c6 of testdata/fluid, a like gas, has 306 K
		{"BOTTLE", "two-phase", 295, 305}, // lpg of testdata/fluid, somewhat lighter, has 297 K at 4.5 bar
		{"N2", "gas", 0, 0},
	} {
		n := nodeIn(t, run, "base", c.node)
		if n.Phase == nil || *n.Phase != c.phase {
			t.Errorf("%s: phase %v, want %s", c.node, n.Phase, c.phase)
		}
		if (n.DewK == nil) != (c.high == 0) || n.DewK != nil && !(*n.DewK > c.low && *n.DewK < c.high) {
			t.Errorf("%s: dew temperature %v, want %g to %g K", c.node, n.DewK, c.low, c.high)
		}
	}
}

// A throttling is judged from its inlet to its outlet, and the node behind it takes the
// least of both.
func TestDewsAlongThrottlings(t *testing.T) {
	run := dewy(t)
	dews := run.Cases[0].Dews()
	v, _ := run.Program.Device("V-1")
	k := -1
	for i := range run.Program.Devices {
		if &run.Program.Devices[i] == v {
			k = i
		}
	}
	path, ok := dews.Along(k)
	before, okIn := dews.At(v.In)
	after, okOut := dews.At(v.Out)
	if !ok || !okIn || !okOut || !(path.MarginK <= min(before.MarginK, after.MarginK)+1e-6) {
		t.Errorf("along %+v, ends %g and %g K", path, before.MarginK, after.MarginK)
	}
	if got := dews.LeastInto(v.Out); got != path.MarginK {
		t.Errorf("into the vent %g K, along the valve %g K", got, path.MarginK)
	}
	if math.Abs(path.TemperatureK-path.HighestK()-path.MarginK) > 1e-9 {
		t.Errorf("%g K at a dew point of %g K is no margin of %g K", path.TemperatureK, path.HighestK(), path.MarginK)
	}
	// -8 degC at 70 bara is what the file says of the water.
	if at, _ := dews.At(v.In); !(at.WaterK > 263 && at.WaterK < 265.15) || !at.Frost {
		t.Errorf("water of the grid gas at 61 bara: %g K, frost %v", at.WaterK, at.Frost)
	}
}
