package fluid

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"
)

func cubicOf(t testing.TB, x map[string]float64) *Cubic {
	t.Helper()
	c, err := NewCubic(x)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// testdata/fluid/peng-robinson-check.csv: another program's plain Peng-Robinson, with
// the constants of its second file and no interaction parameters; the answer is the
// root of lowest Gibbs energy.
func TestPengRobinsonAgainstOtherProgram(t *testing.T) {
	kinds, fractions := map[string]*cubicKind{}, map[string][]float64{}
	for _, r := range readCSV(t, "peng-robinson-compositions.csv") {
		name := r["mixture"]
		if kinds[name] == nil {
			kinds[name] = &cubicKind{}
		}
		kinds[name].parts = append(kinds[name].parts,
			newAttraction(r.num(t, "T_c_K"), 1e3*r.num(t, "p_c_kPa"), kappaOf(r.num(t, "acentric_factor"))))
		fractions[name] = append(fractions[name], r.num(t, "x"))
	}
	worst, count, three := 0.0, 0, 0
	for _, r := range readCSV(t, "peng-robinson-check.csv") {
		name := r["mixture"]
		k, x := kinds[name], fractions[name]
		k.weight = make([]float64, len(x)*len(x))
		for i := range k.weight {
			k.weight[i] = 1
		}
		c := &Cubic{kind: k, x: x}
		c.a0, c.a1, c.a2, c.b = k.mix(x)
		tK, pPa := r.num(t, "T_K"), 1e3*r.num(t, "p_kPa")
		least, z := math.Inf(1), 0.0
		lnPhi := make([]float64, len(x))
		gas, liquid := false, false
		for _, ph := range []Phase{Gas, Liquid} {
			root, ok := c.root(tK, pPa, ph)
			if !ok {
				continue
			}
			if !k.lnPhi(lnPhi, x, tK, pPa, ph) {
				t.Fatalf("%s %g K %g Pa: no fugacities of a root", name, tK, pPa)
			}
			gibbs := 0.0
			for i := range x {
				gibbs += x[i] * lnPhi[i]
			}
			gas, liquid = gas || ph == Gas, liquid || ph == Liquid
			if gibbs < least {
				least, z = gibbs, root
			}
		}
		if r["real_roots"] == "3" {
			three++
			if !gas || !liquid {
				t.Errorf("%s %g K %g Pa: not both roots", name, tK, pPa)
			}
		}
		want := r.num(t, "Z")
		near(t, name+" Z", z, want, want, 1e-9)
		rho := 1e3 * r.num(t, "rho_mol_per_L")
		near(t, name+" density", pPa/(z*cubicR*tK), rho, rho, 1e-9)
		worst = max(worst, math.Abs(z/want-1))
		count++
	}
	t.Logf("%d states, %d with three roots: largest difference of Z %.1e", count, three, worst)
	if count != 100 || three == 0 {
		t.Errorf("%d states, %d with three roots", count, three)
	}
}

// cubicStates calls f at random gas states of every component and of random mixtures,
// always the same ones.
func cubicStates(t *testing.T, count int, f func(c *Cubic, tK, pPa float64, s State)) {
	t.Helper()
	rng := rand.New(rand.NewPCG(3, 4))
	names := Components()
	done := 0
	for range 20 * count {
		x := map[string]float64{}
		for range 1 + rng.IntN(4) {
			x[names[rng.IntN(len(names))]] = 0.05 + rng.Float64()
		}
		sum := 0.0
		for _, name := range names {
			sum += x[name]
		}
		for name := range x {
			x[name] /= sum
		}
		c := cubicOf(t, x)
		tK := 120 + 500*rng.Float64()
		pPa := math.Exp(math.Log(1e3) + rng.Float64()*math.Log(2e4)) // 0.01 to 200 bar
		s, err := c.At(tK, pPa)
		if err != nil {
			var state *StateError
			if !errors.As(err, &state) {
				t.Fatalf("%v is no *StateError", err)
			}
			continue
		}
		f(c, tK, pPa, s)
		if done++; done == count {
			return
		}
	}
	t.Fatalf("only %d gas states found", done)
}

// Identities of thermodynamics, with derivatives by central differences.
func TestCubicIdentities(t *testing.T) {
	cubicStates(t, 500, func(c *Cubic, tK, pPa float64, s State) {
		dT, dp := 1e-4*tK, 1e-4*pPa
		var a [4]State
		for k, at := range [4][2]float64{{tK + dT, pPa}, {tK - dT, pPa}, {tK, pPa + dp}, {tK, pPa - dp}} {
			z, ok := c.root(at[0], at[1], Gas)
			if !ok || math.Abs(s.DensityExponent-1) > 3 {
				return // by the end of the gas side, where differences mean nothing
			}
			a[k] = c.state(at[0], at[1], z)
		}
		label := c.label()
		near(t, label+" cp", (a[0].H-a[1].H)/(2*dT), s.Cp, s.Cp, 1e-5)
		near(t, label+" ds/dT", (a[0].S-a[1].S)/(2*dT), s.Cp/tK, s.Cp/tK, 1e-5)
		v := 1 / s.DensityKgM3
		dvdT := (1/a[0].DensityKgM3 - 1/a[1].DensityKgM3) / (2 * dT)
		near(t, label+" dh/dp", (a[2].H-a[3].H)/(2*dp), v-tK*dvdT, v, 1e-4)
		near(t, label+" ds/dp", (a[2].S-a[3].S)/(2*dp), -dvdT, dvdT, 1e-4)
		drho := (a[2].DensityKgM3 - a[3].DensityKgM3) / (2 * dp)
		near(t, label+" exponent", drho*pPa/s.DensityKgM3, s.DensityExponent, s.DensityExponent, 1e-5)
		near(t, label+" Joule-Thomson", (tK*dvdT-v)/s.Cp, s.JouleThomson, v/s.Cp, 1e-4)
		near(t, label+" cp - cv", s.Cp-s.Cv, tK*dvdT*dvdT/(v*v)/(drho/s.DensityKgM3)*v, s.Cp, 1e-4)
		near(t, label+" speed of sound", s.Sound*s.Sound, s.Cp/s.Cv/drho, s.Sound*s.Sound, 1e-5)
		near(t, label+" kappa", s.Kappa, s.Sound*s.Sound*s.DensityKgM3/pPa, s.Kappa, 1e-12)
		rho, exponent, err := c.Density(tK, pPa)
		if err != nil {
			t.Error(err)
		}
		near(t, label+" density alone", rho, s.DensityKgM3, s.DensityKgM3, 1e-14)
		near(t, label+" exponent alone", exponent, s.DensityExponent, s.DensityExponent, 1e-12)
	})
}

// The fugacities against the same state's enthalpy and entropy, and against each other
// by the Gibbs-Duhem equation.
func TestCubicFugacities(t *testing.T) {
	cubicStates(t, 300, func(c *Cubic, tK, pPa float64, s State) {
		lnPhi, err := c.LnPhi(tK, pPa, Gas)
		if err != nil {
			t.Fatal(err)
		}
		const thinPa = 1e-6
		thin := c.state(tK, thinPa, 1)
		gibbs := func(s State) float64 { return c.molarMass * (s.H - tK*s.S) / (cubicR * tK) }
		sum := 0.0
		for i, x := range c.x {
			sum += x * lnPhi[i]
		}
		near(t, c.label()+" mean ln phi", sum, gibbs(s)-gibbs(thin)-math.Log(pPa/thinPa), 1, 1e-9)
		if len(c.x) == 1 {
			return
		}
		const step = 1e-5
		x := append([]float64(nil), c.x...)
		x[0] += step
		moved := make([]float64, len(x))
		if !c.kind.lnPhi(moved, x, tK, pPa, Gas) {
			return
		}
		duhem, size := 0.0, 0.0
		for i := range x {
			d := (moved[i] - lnPhi[i]) / step
			duhem += c.x[i] * d
			size += math.Abs(d)
		}
		near(t, c.label()+" Gibbs-Duhem", duhem, 0, 1+size*size, 1e-3)
	})
}

// Each pure ideal gas has no enthalpy and no entropy at 298.15 K and 101.325 kPa, and
// a GERG-2008 component has nearly the same ideal gas in both equations.
func TestCubicReferenceState(t *testing.T) {
	for _, name := range Components() {
		c := cubicOf(t, map[string]float64{name: 1})
		// Thin gas: entropy falls by R per factor e of pressure.
		const thin = 1e-3
		s := c.state(referenceK, thin, 1)
		near(t, name+" h", s.H*c.molarMass, 0, cubicR*referenceK, 1e-7)
		near(t, name+" s", s.S*c.molarMass+cubicR*math.Log(thin/referencePa), 0, cubicR, 1e-5)
		if covered(name) {
			m := pureOf(t, name)
			for _, tK := range []float64{100, 300, 600} {
				want := m.GammaIdeal(tK)
				near(t, name+" gamma", c.GammaIdeal(tK), want, want, 1e-12)
			}
		}
	}
}

func TestCubicTemperatureAtInverts(t *testing.T) {
	cubicStates(t, 300, func(c *Cubic, tK, pPa float64, s State) {
		for _, guess := range []float64{tK, tK + 3, tK - 20, 60, 700, -1, 1e9} {
			got, err := c.TemperatureAt(s.H, pPa, guess)
			if err != nil {
				t.Errorf("%s %g K %g Pa from %g K: %v", c.label(), tK, pPa, guess, err)
				continue
			}
			near(t, c.label(), got, tK, tK, 1e-8)
		}
	})
}

// The hot calls allocate nothing.
func TestCubicAllocatesNothing(t *testing.T) {
	c := cubicOf(t, map[string]float64{"ethylene": 0.6, "ammonia": 0.2, "nitrogen": 0.2})
	s, err := c.At(320, 20e5)
	if err != nil {
		t.Fatal(err)
	}
	for name, f := range map[string]func(){
		"At":            func() { _, _ = c.At(320, 20e5) },
		"Density":       func() { _, _, _ = c.Density(320, 20e5) },
		"Enthalpy":      func() { _, _, _ = c.Enthalpy(320, 20e5) },
		"TemperatureAt": func() { _, _ = c.TemperatureAt(s.H, 10e5, 320) },
	} {
		if n := testing.AllocsPerRun(100, f); n > 0 {
			t.Errorf("%s allocates %g times", name, n)
		}
	}
}

func BenchmarkCubic(b *testing.B) {
	c := cubicOf(b, map[string]float64{"ethylene": 0.6, "ammonia": 0.2, "nitrogen": 0.15, "propane": 0.05})
	b.Run("Density", func(b *testing.B) {
		for b.Loop() {
			_, _, _ = c.Density(320, 20e5)
		}
	})
	b.Run("At", func(b *testing.B) {
		for b.Loop() {
			_, _ = c.At(320, 20e5)
		}
	})
	b.Run("TemperatureAt", func(b *testing.B) {
		s, _ := c.At(320, 20e5)
		for b.Loop() {
			_, _ = c.TemperatureAt(s.H, 10e5, 320)
		}
	})
	b.Run("Stable", func(b *testing.B) {
		for b.Loop() {
			_ = c.Stable(320, 20e5)
		}
	})
}
