package fluid

import (
	"math"
	"strings"
	"testing"
)

// Coming back from the enthalpy of a state gives its temperature, from near and far.
func TestTemperatureAtInverts(t *testing.T) {
	gasStates(t, 300, func(m *Mixture, tK, pPa float64, s State) {
		for _, guess := range []float64{tK, tK + 3, tK - 20, 300, 60, 700, -1, 1e9} {
			got, err := m.TemperatureAt(s.H, pPa, guess)
			if err != nil {
				t.Errorf("%s %g K %g Pa from %g K: %v", m.label(), tK, pPa, guess, err)
				continue
			}
			near(t, m.label(), got, tK, tK, 1e-8)
		}
	})
}

// Throttling: the small drop follows the Joule-Thomson coefficient; hydrogen and
// helium warm at 300 K; a temperature after throttling is below where mu is positive.
func TestThrottling(t *testing.T) {
	for _, name := range gergNames() {
		m := pureOf(t, name)
		tK, pPa := 300.0, 1e4
		if components[substanceByName()[name]].tC > 400 {
			tK, pPa = 450, 1e3
		}
		s, err := m.At(tK, pPa)
		if err != nil {
			t.Fatal(err)
		}
		end, err := m.TemperatureAt(s.H, pPa*0.999, tK)
		if err != nil {
			t.Fatal(err)
		}
		near(t, name+" drop", end-tK, -s.JouleThomson*pPa*0.001, s.JouleThomson*pPa*0.001, 1e-2)
		warms := name == "hydrogen" || name == "helium"
		if warms != (end > tK) {
			t.Errorf("%s goes from %g K to %g K", name, tK, end)
		}
	}
}

// Carbon dioxide throttled from 50 bara, 20 degC meets liquid at 20 bara: its
// enthalpy there is below that of the saturated gas. That is said, not answered.
func TestThrottlingIntoLiquid(t *testing.T) {
	m := pureOf(t, "carbon_dioxide")
	s, err := m.At(293.15, 50e5)
	if err != nil {
		t.Fatal(err)
	}
	end, err := m.TemperatureAt(s.H, 20e5, 293.15)
	if err == nil || !strings.Contains(err.Error(), "is liquid") {
		t.Errorf("%g K, %v; want words about liquid", end, err)
	}
	end, err = m.TemperatureAt(s.H, 1e5, 293.15)
	if err != nil || end > 245 || end < 200 {
		t.Errorf("to 1 bara: %g K, %v", end, err)
	}
}

func TestTemperatureAtRefuses(t *testing.T) {
	m := mustNew(t, fourGas)
	for _, c := range []struct{ h, p, guess float64 }{
		{math.NaN(), 1e5, 300}, {0, math.NaN(), 300}, {0, 1e5, math.NaN()},
		{math.Inf(1), 1e5, 300}, {math.Inf(-1), 1e5, 300}, {1e12, 1e5, 300}, {-1e12, 1e5, 300},
		{0, -1, 300}, {0, 1e9, 300},
	} {
		if got, err := m.TemperatureAt(c.h, c.p, c.guess); err == nil {
			t.Errorf("%v gives %g", c, got)
		}
	}
}
