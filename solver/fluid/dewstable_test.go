package fluid

import (
	"math"
	"math/rand/v2"
	"testing"
)

// randomGas draws a gas of the trade: natural gas lean or rich, biomethane, hydrogen
// blend, or carbon dioxide with others.
func randomGas(r *rand.Rand, kind int) map[string]float64 {
	x := map[string]float64{}
	some := func(name string, chance, low, high float64) {
		if r.Float64() < chance {
			x[name] = low * math.Pow(high/low, r.Float64())
		}
	}
	chain := func(first, fall float64, names ...string) {
		for _, name := range names {
			if r.Float64() < 0.8 {
				x[name] = first * (0.5 + r.Float64())
			}
			first *= fall
		}
	}
	main := "methane"
	switch kind % 6 {
	case 0: // lean natural gas
		chain(0.03, 0.2, "ethane", "propane", "n_butane", "n_pentane")
		some("carbon_dioxide", 0.8, 0.001, 0.03)
		some("nitrogen", 0.8, 0.001, 0.05)
		some("helium", 0.3, 0.0001, 0.005)
	case 1: // rich natural gas
		chain(0.08, 0.45, "ethane", "propane", "n_butane", "n_pentane", "n_hexane", "n_heptane", "n_octane")
		some("isobutane", 0.7, 0.001, 0.02)
		some("carbon_dioxide", 0.7, 0.005, 0.1)
		some("nitrogen", 0.7, 0.002, 0.1)
		some("hydrogen_sulfide", 0.3, 0.001, 0.05)
	case 2: // biomethane
		some("carbon_dioxide", 1, 0.003, 0.04)
		some("nitrogen", 0.8, 0.001, 0.03)
		some("oxygen", 0.6, 0.0005, 0.01)
		some("hydrogen", 0.3, 0.0005, 0.02)
		some("hydrogen_sulfide", 0.2, 0.00001, 0.0005)
		some("propane", 0.2, 0.005, 0.08)
	case 3: // hydrogen blend
		some("hydrogen", 1, 0.02, 0.5)
		chain(0.05, 0.25, "ethane", "propane", "n_butane")
		some("carbon_dioxide", 0.5, 0.001, 0.03)
		some("nitrogen", 0.6, 0.001, 0.1)
		some("carbon_monoxide", 0.3, 0.001, 0.1)
	case 4: // sour, or raw biogas
		some("carbon_dioxide", 1, 0.05, 0.5)
		some("hydrogen_sulfide", 0.7, 0.001, 0.2)
		some("nitrogen", 0.5, 0.001, 0.1)
		chain(0.05, 0.3, "ethane", "propane", "n_butane", "n_pentane")
	case 5: // carbon dioxide, or nitrogen, with others
		main = "carbon_dioxide"
		if r.Float64() < 0.4 {
			main = "nitrogen"
		}
		some("methane", 0.7, 0.005, 0.3)
		some("hydrogen", 0.4, 0.002, 0.1)
		some("argon", 0.4, 0.001, 0.05)
		some("oxygen", 0.4, 0.001, 0.05)
		some("hydrogen_sulfide", 0.3, 0.0005, 0.05)
		some("propane", 0.3, 0.001, 0.05)
		some("n_hexane", 0.3, 0.0005, 0.01)
	}
	sum := 0.0
	for _, v := range x {
		sum += v
	}
	if sum > 0.8 {
		for name := range x {
			x[name] *= 0.8 / sum
		}
		sum = 0.8
	}
	x[main] += 1 - sum
	return x
}

// The dew points of random gases, by GERG-2008 and by Peng-Robinson, against the
// tangent plane: at 0.3 K above the dew point the gas is stable, at 0.3 K below it is
// not; and where a curve has ended the gas is stable at all temperatures.
func TestDewCurveIsStable(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 17))
	points, above, branches := 0, 0, 0
	for k := range 108 {
		x := randomGas(r, k)
		if len(x) < 2 {
			continue
		}
		var f Composed = mustNew(t, x)
		if k/6%2 == 1 {
			f = cubicOf(t, x)
		}
		b := DewsOf(f).curve().branches
		if b == nil {
			t.Errorf("%v: no curve", x)
			continue
		}
		branches += len(b.pieces)
		for _, bar := range []float64{0.1, 0.5, 2, 4, 7, 13, 22, 33, 42, 50, 65, 85, 110, 150} {
			pPa := bar * 1e5
			d := DewsOf(f).At(pPa)
			if math.IsNaN(d.HydrocarbonK) {
				above++
				if math.IsNaN(d.CricondenbarPa) {
					t.Errorf("%v at %g bar: %s", x, bar, d.Words)
				}
				for tK := 350.0; tK > 95; tK *= 0.96 {
					if s := b.missed(tK, pPa); s != nil {
						t.Errorf("%v at %g bar splits at %g K into %v: %s", x, bar, tK, s, d.Words)
						break
					}
				}
				continue
			}
			points++
			if s := b.missed(d.HydrocarbonK+0.3, pPa); s != nil {
				t.Errorf("%v at %g bar: dew point %g K, and above it splits into %v", x, bar, d.HydrocarbonK, s)
			}
			s, ok := splits(b.q.f, b.index, b.q.z, d.HydrocarbonK-0.3, pPa, Gas)
			if ok && s == nil {
				t.Errorf("%v at %g bar: dew point %g K, and stable below it", x, bar, d.HydrocarbonK)
			}
		}
	}
	t.Logf("%d dew points, %d pressures above the curve, %d branches", points, above, branches)
	if points < 900 || above < 300 {
		t.Error("too few")
	}
}

// Lean gases beside carbon dioxide or ethane, whose liquid is first of those and above
// a few bar of methane; one with a drop of three kinds. Nothing is on the wrong side of
// the tangent plane by 0.05 K.
func TestDewsOfSeveralBranches(t *testing.T) {
	for _, c := range []struct {
		x           map[string]float64
		cubic       bool
		bar         float64
		first, then string
	}{
		{map[string]float64{"methane": 0.97, "ethane": 0.02, "carbon_dioxide": 0.01}, false, 40, "ethane", "methane"},
		{map[string]float64{"methane": 0.971, "carbon_dioxide": 0.019, "nitrogen": 0.007, "oxygen": 0.002, "hydrogen": 0.001}, false, 40, "carbon_dioxide", "methane"},
		{map[string]float64{"methane": 0.971, "carbon_dioxide": 0.019, "nitrogen": 0.007, "oxygen": 0.003}, true, 40, "carbon_dioxide", "methane"},
		{map[string]float64{"argon": 0.9, "n_butane": 0.08, "n_decane": 0.02}, false, 120, "n_decane", "n_decane"},
	} {
		var f Composed = mustNew(t, c.x)
		if c.cubic {
			f = cubicOf(t, c.x)
		}
		if d := DewsOf(f).At(1e5); d.Mostly != c.first {
			t.Errorf("%v at 1 bar: %+v", c.x, d)
		}
		d := DewsOf(f).At(c.bar * 1e5)
		above, below := f.Stable(d.HydrocarbonK+0.05, c.bar*1e5), f.Stable(d.HydrocarbonK-0.05, c.bar*1e5)
		if d.Mostly != c.then || above != nil || below == nil {
			t.Errorf("%v at %g bar: %+v, above %v, below %v", c.x, c.bar, d, above, below)
		}
		for _, v := range DewsOf(f).curve().branches.pieces {
			t.Logf("%g to %g bar, end %d", v.fromPa/1e5, v.toPa/1e5, v.end)
		}
		t.Logf("%v at %g bar: %.2f degC, cricondenbar %.2f bar", c.x, c.bar, d.HydrocarbonK-celsiusOffset, d.CricondenbarPa/1e5)
	}
}
