package fluid

import (
	"math"
	"testing"
	"time"
)

// Throttled from 50 bara and 20 degC, carbon dioxide is part liquid on the way (at 20
// bara, TestThrottlingIntoLiquid) and gas again at 1 bara. Both ends are above the
// saturation temperature.
func TestThrottlePathOfCarbonDioxide(t *testing.T) {
	m := pureOf(t, "carbon_dioxide")
	s, err := m.At(293.15, 50e5)
	if err != nil {
		t.Fatal(err)
	}
	margin, atPa, dew := ThrottlePath(m, s.H, 50e5, 1e5)
	t.Logf("least margin %.2f K at %.3g bara, where it condenses at %.2f degC", margin, atPa/1e5, dew.HydrocarbonK-celsiusOffset)
	if margin > 0 || !(atPa < 45e5 && atPa > 5e5) {
		t.Errorf("margin %g K at %g Pa", margin, atPa)
	}
	end, err := m.TemperatureAt(s.H, 1e5, 293.15)
	if ends := DewsOf(m).At(1e5).Margin(end); err != nil || !(ends > 5) || !(DewsOf(m).At(50e5).Margin(293.15) > 5) {
		t.Errorf("the ends are not dry: %g K", ends)
	}
	// From 20 bara and 20 degC it stays gas.
	if s, err = m.At(293.15, 20e5); err != nil {
		t.Fatal(err)
	}
	if margin, atPa, _ = ThrottlePath(m, s.H, 20e5, 1e5); !(margin > 5) {
		t.Errorf("from 20 bara: %g K at %g Pa", margin, atPa)
	}
}

// Light gases warm on throttling at 25 degC: helium by 0.062 and hydrogen by 0.03
// K/atm (handbook values), nitrogen and air cool. So what water they hold is least
// likely to condense at the end; in nitrogen the least margin may be on the way. The
// least margin is that of a finer look at the path, and never above that of its ends.
func TestThrottlePathsOfMoistGases(t *testing.T) {
	for _, c := range []struct {
		name     string
		dry      map[string]float64
		p1, perK float64 // warming [K/atm] near 1 atm, 25 degC
		within   float64
	}{
		{"helium", map[string]float64{"helium": 1}, 100e5, 0.062, 0.08},
		{"hydrogen", map[string]float64{"hydrogen": 1}, 100e5, 0.03, 0.08},
		{"air", dryAir, 100e5, -0.232, 0.02},
		{"lean gas", map[string]float64{"methane": 0.93, "ethane": 0.04, "propane": 0.015, "n_butane": 0.008, "n_hexane": 0.001, "nitrogen": 0.006}, 60e5, -0.47, 0.1},
	} {
		f, err := damped(c.dry)(2e-5)
		if err != nil {
			t.Fatal(err)
		}
		low, err := f.At(298.15, 101325)
		if err != nil {
			t.Fatal(err)
		}
		warming := -low.JouleThomson * 101325
		near(t, c.name+" K/atm", warming, c.perK, c.perK, c.within)
		s, err := f.At(298.15, c.p1)
		if err != nil {
			t.Fatal(err)
		}
		start := time.Now()
		margin, atPa, dew := ThrottlePath(f, s.H, c.p1, 2e5)
		took := time.Since(start)
		endK, err := f.TemperatureAt(s.H, 2e5, 298.15)
		if err != nil {
			t.Fatal(err)
		}
		if (endK > 298.15) != (c.perK > 0) {
			t.Errorf("%s goes from 298.15 K to %g K", c.name, endK)
		}
		fine := math.Inf(1)
		for pPa := c.p1; pPa >= 2e5; pPa *= 0.985 {
			tK, err := f.TemperatureAt(s.H, pPa, 298.15)
			if err != nil {
				t.Fatal(err)
			}
			fine = min(fine, DewsOf(f).At(pPa).Margin(tK))
		}
		t.Logf("%-9s from %g bara to 2 bara: 25 degC to %.1f degC, least margin %.2f K at %.3g bara (water %.2f degC, hydrocarbon %.2f degC), %v",
			c.name, c.p1/1e5, endK-celsiusOffset, margin, atPa/1e5, dew.WaterK-celsiusOffset, dew.HydrocarbonK-celsiusOffset, took.Round(10*time.Microsecond))
		if !(math.Abs(margin-fine) < 0.02) {
			t.Errorf("%s: least margin %g K, a finer look finds %g K", c.name, margin, fine)
		}
	}
}

func TestThrottlePathRefuses(t *testing.T) {
	m := mustNew(t, fourGas)
	for _, c := range [][3]float64{{math.NaN(), 1e5, 1e4}, {0, -1, 1e5}, {0, 1e5, math.NaN()}, {0, math.Inf(1), 1e5}} {
		if margin, _, _ := ThrottlePath(m, c[0], c[1], c[2]); !math.IsNaN(margin) {
			t.Errorf("%v: %g", c, margin)
		}
	}
	helium := pureOf(t, "helium")
	if margin, _, _ := ThrottlePath(helium, 0, 100e5, 1e5); !math.IsInf(margin, 1) {
		t.Errorf("helium: %g", margin)
	}
}
