package fluid

import (
	"math"
	"testing"
)

// Methane hydrate with water: W. M. Deaton, E. M. Frost, US Bureau of Mines Monograph 8
// (1946), as quoted in E. D. Sloan, Clathrate Hydrates of Natural Gases (from memory).
// The correlation is above every point, and by less than 3.5 K.
func TestHydratesOfMethane(t *testing.T) {
	m := pureOf(t, "methane")
	for _, c := range []struct{ tK, mPa float64 }{
		{273.7, 2.76}, {275.4, 3.24}, {277.0, 3.81}, {279.3, 4.77}, {280.9, 5.71}, {282.6, 6.77}, {284.3, 8.12}, {285.9, 9.78},
	} {
		got, ok := HydrateK(m, 1e6*c.mPa)
		t.Logf("%.2f MPa: %.2f K, measured %.1f K", c.mPa, got, c.tK)
		if !ok || !(got > c.tK && got < c.tK+3.5) {
			t.Errorf("at %g MPa: %g K, measured %g K", c.mPa, got, c.tK)
		}
	}
}

func TestHydrateRange(t *testing.T) {
	for _, c := range []struct {
		x   map[string]float64
		pPa float64
	}{
		{map[string]float64{"nitrogen": 1}, 50e5}, {map[string]float64{"carbon_dioxide": 1}, 30e5},
		{map[string]float64{"methane": 0.8, "hydrogen": 0.2}, 50e5}, {map[string]float64{"propane": 1}, 5e5},
		{map[string]float64{"methane": 1}, 1e5}, {map[string]float64{"methane": 1}, 700e5}, {map[string]float64{"methane": 1}, math.NaN()},
		{map[string]float64{"water": 1}, 1e5},
	} {
		if tK, ok := HydrateK(mustNew(t, c.x), c.pPa); ok {
			t.Errorf("%v at %g Pa: %g K", c.x, c.pPa, tK)
		}
	}
	wet := mustNew(t, map[string]float64{"methane": 0.899, "ethane": 0.1, "water": 0.001})
	if tK, ok := HydrateK(wet, 70e5); !ok || math.Abs(tK-287) > 3 {
		t.Errorf("a common gas at 70 bara: %g K %v", tK, ok)
	}
}
