package fluid

import (
	"errors"
	"math"
	"strings"
	"testing"
)

func someLiquid(t testing.TB, x map[string]float64) Composed {
	t.Helper()
	l, err := LiquidOf(x)
	if err != nil {
		t.Fatal(err)
	}
	return l
}

// testdata/fluid/pure-fluid-check.csv and pure-saturation-check.csv, the liquid
// rows: reference equations of single fluids (CoolProp 8.0), other equations than
// the ones under test: GERG-2008, and corresponding states for the substances beyond it,
// which serve in their mixtures. Densities are held against the error that Basis states; heat
// capacity [%], viscosity and conductivity [%] against what is good enough for the
// heating of a tube and for friction.
func TestLiquidsAgainstReferenceEquations(t *testing.T) {
	type worst struct {
		rho, saturated, cp, viscosity, conductivity float64
		stated                                      float64
	}
	found := map[string]*worst{}
	of := func(name string) (*worst, Composed) {
		var l Composed
		var err error
		if covered(name) {
			l, err = LiquidOf(map[string]float64{name: 1})
		} else {
			l, err = newRackettLiquid(map[string]float64{name: 1})
		}
		if err != nil {
			return nil, nil
		}
		if found[name] == nil {
			found[name] = &worst{stated: 100 * l.Basis().DensityError}
		}
		return found[name], l
	}
	for _, r := range readCSV(t, "pure-fluid-check.csv") {
		if phase := r["phase"]; phase != "liquid" && phase != "supercritical_liquid" {
			continue
		}
		w, l := of(r["fluid"])
		if l == nil {
			continue
		}
		tK, pPa := r.num(t, "T_K"), 1e3*r.num(t, "p_kPa")
		if r, ok := l.(*RackettLiquid); ok && tK > nearTop*r.tC {
			continue
		}
		if err := l.Stable(tK, pPa); err != nil {
			t.Errorf("%s: %v", r["fluid"], err)
			continue
		}
		s, err := l.At(tK, pPa)
		if err != nil {
			t.Errorf("%s: %v", r["fluid"], err)
			continue
		}
		off := func(got float64, column string) float64 {
			if r[column] == "" {
				return 0
			}
			return math.Abs(100 * (got/r.num(t, column) - 1))
		}
		w.rho = max(w.rho, off(s.DensityKgM3, "rho_kg_per_m3"))
		w.cp = max(w.cp, off(s.Cp*l.MolarMass(), "cp_J_per_molK"))
		if v, e := l.Viscosity(tK, s.DensityKgM3); e < 1 {
			w.viscosity = max(w.viscosity, off(1e6*v, "viscosity_uPa_s"))
		}
		k, _ := l.Conductivity(tK, s.DensityKgM3)
		w.conductivity = max(w.conductivity, off(1e3*k, "conductivity_mW_per_mK"))
	}
	for _, r := range readCSV(t, "pure-saturation-check.csv") {
		tK := r.num(t, "T_K")
		w, l := of(r["fluid"])
		if l == nil || tK < lowestK {
			continue
		}
		s, err := l.At(tK, 1) // the liquid at its bubble pressure
		if err != nil {
			continue // too near the critical temperature
		}
		w.saturated = max(w.saturated, math.Abs(100*(s.DensityMol/(1e3*r.num(t, "rho_liquid_mol_per_L"))-1)))
	}
	if len(found) < 12 {
		t.Errorf("only %d liquids", len(found))
	}
	for _, s := range substances {
		w := found[s.name]
		if w == nil {
			continue
		}
		t.Logf("%-20s density within %.2f %%, saturated %.2f %% (stated %.1f %%); cp %.0f %%, viscosity %.0f %%, conductivity %.0f %%",
			s.name, w.rho, w.saturated, w.stated, w.cp, w.viscosity, w.conductivity)
		if max(w.rho, w.saturated) > w.stated {
			t.Errorf("%s: density off by more than stated", s.name)
		}
		if w.cp > 15 || w.viscosity > 35 {
			t.Errorf("%s: cp or viscosity too far off", s.name)
		}
	}
}

func TestLiquidRefusesInWords(t *testing.T) {
	for _, c := range []struct {
		x       map[string]float64
		bar, tC float64
		words   string
	}{
		{map[string]float64{"propane": 1}, 5, 40, "propane at 5 bara, 40 degC is gas: below 13.68 bara it boils"},
		{map[string]float64{"water": 1}, 1, 120, "is gas: below 1.9"},
		{map[string]float64{"water": 1}, 1, -10, "is solid"},
		{map[string]float64{"propane": 1}, 50, 120, "no bubble pressure"},
		{map[string]float64{"ammonia": 1}, 5, 20, "ammonia at 5 bara, 20 degC is gas: below 8.5"},
		{map[string]float64{"toluene": 0.5, "benzene": 0.5}, 0.5, 90, "is not all liquid: below 0.9"},
		{map[string]float64{"ethylene": 1}, 60, 20, "no bubble pressure"},
		{map[string]float64{"acetylene": 1}, 60, 20, "has no liquid state"},
		{map[string]float64{"propane": 0.5, "n_butane": 0.5}, 3, 20, "is not all liquid: below 5.0"},
	} {
		err := someLiquid(t, c.x).Stable(c.tC+celsiusOffset, c.bar*1e5)
		var state *StateError
		if !errors.As(err, &state) || !strings.Contains(err.Error(), c.words) {
			t.Errorf("%v at %g bara, %g degC: %v, want %q", c.x, c.bar, c.tC, err, c.words)
		}
	}
	for words, x := range map[string]map[string]float64{
		"two liquids": {"water": 0.3, "n_octane": 0.7}, "30 % of water and": {"water": 0.3, "toluene": 0.7}, "no solubility": {"water": 0.99, "n_octane": 0.01},
		"takes up no": {"water": 0.9, "carbon_dioxide": 0.1}, "sum to": {"water": 0.5},
	} {
		if _, err := LiquidOf(x); err == nil || !strings.Contains(err.Error(), words) {
			t.Errorf("%v: %v, want %q", x, err, words)
		}
	}
}

// At the bubble pressure the liquid and a bubble have the same fugacities, and
// ideal mixtures of like molecules follow Raoult.
func TestBubblePressure(t *testing.T) {
	for _, c := range []struct {
		x          map[string]float64
		tK         float64
		raoultPart float64 // how far Raoult may be off
	}{
		{map[string]float64{"n_hexane": 0.6, "n_heptane": 0.4}, 293.15, 0.02},
		{map[string]float64{"n_hexane": 0.6, "n_heptane": 0.4}, 350, 0.02},
		{map[string]float64{"propane": 0.5, "n_butane": 0.5}, 293.15, 0.06},
		{map[string]float64{"propane": 0.95, "ethane": 0.05}, 293.15, 0.2},
		{map[string]float64{"methane": 0.2, "n_decane": 0.8}, 293.15, 0},
		{map[string]float64{"nitrogen": 0.01, "n_pentane": 0.99}, 350, 0},
	} {
		l := someLiquid(t, c.x).(*LiquidMixture)
		p, ok := l.bubbles.solve(c.tK)
		if !ok {
			t.Errorf("%v at %g K: none", c.x, c.tK)
			continue
		}
		between, _ := l.bubbles.at(c.tK)
		near(t, "between nodes", between, p, p, 2e-5)
		phi, err := l.LnPhi(c.tK, p, Liquid)
		if err != nil {
			t.Error(err)
			continue
		}
		// The bubble: y = phi x/phi(gas), found anew from the gas side.
		names, x := l.Fractions()
		y := append([]float64(nil), x...)
		for i, n := range names {
			y[i] *= saturationPa(substanceByName()[n], c.tK)
		}
		sum, raoult := 0.0, 0.0
		for range 60 {
			total := 0.0
			of := map[string]float64{}
			for i := range y {
				total += y[i]
			}
			for i, n := range names {
				of[n] = y[i] / total
			}
			gas, err := mustNew(t, of).LnPhi(c.tK, p, Gas)
			if err != nil {
				t.Fatal(err)
			}
			sum, raoult = 0, 0
			for i, n := range names {
				y[i] = x[i] * math.Exp(phi[i]-gas[i])
				sum += y[i]
				raoult += x[i] * saturationPa(substanceByName()[n], c.tK)
			}
		}
		near(t, "sum of the bubble's fractions", sum, 1, 1, 1e-7)
		if c.raoultPart > 0 {
			near(t, "bubble pressure after Raoult", p, raoult, raoult, c.raoultPart)
		}
		t.Logf("%v at %g K: %.4g bara, Raoult %.4g", c.x, c.tK, p/1e5, raoult/1e5)
	}
}

// Henry's constants at 25 degC against R. Sander, Atmos. Chem. Phys. 15 (2015) 4399
// (solubilities in mol/(m3 Pa), from memory): k_H = 55.34 kmol/m3 over them.
func TestHenry(t *testing.T) {
	for i, solubility := range map[int]float64{
		carbonDioxide: 3.3e-4, methane: 1.4e-5, nitrogen: 6.4e-6, oxygen: 1.3e-5, hydrogen: 7.8e-6,
		carbonMonoxide: 9.7e-6, hydrogenSulfide: 1.0e-3, ethane: 1.9e-5, helium: 3.8e-6, argon: 1.4e-5,
	} {
		want := 55.34e3 / solubility
		near(t, spoken(i), henrys[i].henryPa(298.15), want, want, 0.09)
	}
	soda := someLiquid(t, map[string]float64{"water": 0.99, "carbon_dioxide": 0.01})
	if err := soda.Stable(298.15, 10e5); err == nil {
		t.Error("soda water of 1 % at 10 bara does not fizz")
	}
	if err := soda.Stable(298.15, 18e5); err != nil {
		t.Error(err)
	}
}

// Below the bubble pressure the liquid stands as at it; above, density rises with
// pressure as its exponent says, and temperature comes back from enthalpy.
func TestLiquidStates(t *testing.T) {
	for _, x := range []map[string]float64{{"water": 1}, {"propane": 1}, {"n_hexane": 0.7, "n_decane": 0.3}, {"ammonia": 1}, {"toluene": 0.5, "n_heptane": 0.5}} {
		l := someLiquid(t, x)
		bubble, _, _, err := l.(interface {
			LiquidAt(tK, pPa float64) (bubblePa, criticalPa, viscosityPaS float64, err error)
		}).LiquidAt(300, 50e5)
		if err != nil {
			t.Fatal(err)
		}
		low, err := l.At(300, bubble/3)
		if err != nil {
			t.Fatal(err)
		}
		at, _ := l.At(300, bubble)
		near(t, "boiled density", low.DensityKgM3, at.DensityKgM3, at.DensityKgM3, 1e-12)
		if low.DensityExponent != 0 || low.PressurePa != bubble/3 {
			t.Errorf("boiled state %+v", low)
		}
		p := bubble + 30e5
		s, _ := l.At(300, p)
		more, _, _ := l.Density(300, p*1.001)
		less, _, _ := l.Density(300, p*0.999)
		near(t, "exponent", math.Log(more/less)/math.Log(1.001/0.999), s.DensityExponent, s.DensityExponent, 1e-4)
		back, err := l.TemperatureAt(s.H, p, 320)
		if err != nil {
			t.Error(err)
		}
		near(t, "temperature", back, 300, 300, 1e-9)
		warmer, _ := l.At(300.5, p)
		colder, _ := l.At(299.5, p)
		near(t, "heat capacity", s.Cp, warmer.H-colder.H, s.Cp, 1e-3)
	}
}

func TestLiquidsBlend(t *testing.T) {
	hexane, decane := someLiquid(t, map[string]float64{"n_hexane": 1}), someLiquid(t, map[string]float64{"n_decane": 1})
	b, err := Blend([]Fluid{hexane, decane}, []float64{3, 1})
	if err != nil {
		t.Fatal(err)
	}
	rho, _, err := b.Density(293.15, 1e5)
	want, _, _ := someLiquid(t, map[string]float64{"n_hexane": 0.75, "n_decane": 0.25}).Density(293.15, 1e5)
	if err != nil || rho != want {
		t.Errorf("density %g, want %g; %v", rho, want, err)
	}
	water := someLiquid(t, map[string]float64{"water": 1})
	if _, err := Blend([]Fluid{hexane, water}, []float64{1, 1}); err == nil {
		t.Error("hexane and water blend")
	}
	if _, err := Blend([]Fluid{hexane, pureOf(t, "methane")}, []float64{1, 1}); err == nil {
		t.Error("a liquid and a gas blend")
	}
}

// Liquids of all kinds mix without heat: hexane by GERG-2008 and toluene by its own
// equation, as much of each, meet between their temperatures, and so does water with
// methanol; acetylene's stands on corresponding states alone.
func TestUnlikeLiquidsMeetBetweenTheirTemperatures(t *testing.T) {
	for _, pair := range [][2]string{{"n_hexane", "toluene"}, {"water", "methanol"}, {"n_octane", "benzene"}} {
		a, b := someLiquid(t, map[string]float64{pair[0]: 1}), someLiquid(t, map[string]float64{pair[1]: 1})
		both := someLiquid(t, map[string]float64{pair[0]: 0.5, pair[1]: 0.5})
		ha, cpA, err := a.Enthalpy(313.15, 5e5)
		if err != nil {
			t.Fatal(err)
		}
		hb, cpB, _ := b.Enthalpy(293.15, 5e5)
		h := (ha*a.MolarMass() + hb*b.MolarMass()) / (2 * both.MolarMass())
		got, err := both.TemperatureAt(h, 5e5, 300)
		want := (313.15*cpA*a.MolarMass() + 293.15*cpB*b.MolarMass()) / (cpA*a.MolarMass() + cpB*b.MolarMass())
		if err != nil || math.Abs(got-want) > 0.3 {
			t.Errorf("%v: %g K, want %g; %v", pair, got, want, err)
		}
	}
}
