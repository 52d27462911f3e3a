package fluid

import (
	"math"
	"strings"
	"testing"
)

// testdata/fluid/mixture-dew-check.csv: at and below every dew temperature the
// answer must be yes; and no again a stated distance above it.
func TestMaybeTwoPhaseAgainstDewPoints(t *testing.T) {
	all := compositions(t, "mixture-dew-compositions.csv", "mixture")
	for name, m := range compositions(t, "gerg2008-compositions.csv", "composition") {
		all[name] = m
	}
	count := 0
	for _, r := range readCSV(t, "mixture-dew-check.csv") {
		if r["method"] != "gerg2008_independent" {
			continue
		}
		count++
		m, dewK, bar := all[r["mixture"]], r.num(t, "T_dew_K"), r.num(t, "p_kPa")/100
		if two, _ := m.MaybeTwoPhase(dewK-0.01, 1e5*bar); !two {
			t.Errorf("%s at %g bar: no at the dew temperature %g K", r["mixture"], bar, dewK)
		}
		if r["mixture"] == "co2_methane" && dewK < 200 {
			continue // there carbon dioxide freezes, well above the dew point
		}
		above := 65.0
		switch {
		case bar <= 5:
			above = 4
		case bar <= 20:
			above = 13
		case bar <= 70:
			above = 45
		}
		if two, why := m.MaybeTwoPhase(dewK+above, 1e5*bar); two {
			t.Errorf("%s at %g bar: still yes %g K above the dew temperature: %s", r["mixture"], bar, above, why)
		}
	}
	if count < 50 {
		t.Errorf("only %d dew points", count)
	}
}

func TestMaybeTwoPhase(t *testing.T) {
	for _, c := range []struct {
		x       map[string]float64
		tK, pPa float64
		want    string // "" for no
	}{
		{fourGas, 293.15, 100e5, ""},
		{map[string]float64{"nitrogen": 0.79, "oxygen": 0.21}, 263.15, 300e5, ""},
		{map[string]float64{"hydrogen": 0.999, "argon": 0.001}, 100, 350e5, ""},
		{map[string]float64{"nitrogen": 0.98, "water": 0.02}, 293.15, 2e5, "water may condense"},
		{map[string]float64{"nitrogen": 0.98, "water": 0.02}, 323.15, 2e5, ""},
		{map[string]float64{"nitrogen": 0.99, "n_hexane": 0.01}, 280, 20e5, "most of it n-hexane"},
		{map[string]float64{"carbon_dioxide": 1}, 273.15, 40e5, "condenses above 34.85 bara"},
		{map[string]float64{"carbon_dioxide": 1}, 273.15, 34e5, ""},
		{map[string]float64{"nitrogen": 1}, 300, 300e5, ""},
		{fourGas, math.NaN(), 1e5, ""},
		{fourGas, 300, -1, ""},
	} {
		two, why := mustNew(t, c.x).MaybeTwoPhase(c.tK, c.pPa)
		if two != (c.want != "") || !strings.Contains(why, c.want) {
			t.Errorf("%v at %g K %g Pa: %v %q, want %q", c.x, c.tK, c.pPa, two, why, c.want)
		}
	}
}
