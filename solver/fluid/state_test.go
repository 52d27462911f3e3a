package fluid

import (
	"errors"
	"math"
	"math/rand/v2"
	"strings"
	"sync"
	"testing"
)

// gasStates calls f at random gas states of every component, of random pairs and
// of mixtures, always the same ones.
func gasStates(t *testing.T, count int, f func(m *Mixture, tK, pPa float64, s State)) {
	t.Helper()
	rng := rand.New(rand.NewPCG(1, 2))
	names := gergNames()
	done := 0
	for range 20 * count {
		x := map[string]float64{}
		switch n := rng.IntN(4); n {
		case 0:
			x[names[rng.IntN(len(names))]] = 1
		case 3:
			x = fourGas
		default:
			a, b := names[rng.IntN(len(names))], names[rng.IntN(len(names))]
			if a == b {
				continue
			}
			y := 0.05 + 0.9*rng.Float64()
			x[a], x[b] = y, 1-y
		}
		m := mustNew(t, x)
		tK := 120 + 500*rng.Float64()
		pPa := math.Exp(math.Log(1e3) + rng.Float64()*math.Log(2e4)) // 0.01 to 200 bar
		s, err := m.At(tK, pPa)
		if err != nil {
			var state *StateError
			if !errors.As(err, &state) {
				t.Fatalf("%v is no *StateError", err)
			}
			continue
		}
		f(m, tK, pPa, s)
		if done++; done == count {
			return
		}
	}
	t.Fatalf("only %d gas states found", done)
}

// Identities of thermodynamics, with derivatives by central differences of the
// density, enthalpy and entropy themselves.
func TestIdentities(t *testing.T) {
	gasStates(t, 400, func(m *Mixture, tK, pPa float64, s State) {
		dT, dp := 1e-4*tK, 1e-4*pPa
		a, err1 := m.At(tK+dT, pPa)
		b, err2 := m.At(tK-dT, pPa)
		c, err3 := m.At(tK, pPa+dp)
		d, err4 := m.At(tK, pPa-dp)
		if errors.Join(err1, err2, err3, err4) != nil {
			return // at an edge of the gas region
		}
		label := m.label()
		const within = 3e-5
		r := gasConstant / m.MolarMass()
		near(t, label+" p", s.Z*s.DensityKgM3*r*tK, pPa, pPa, 1e-12)
		near(t, label+" cp = dh/dT", (a.H-b.H)/(2*dT), s.Cp, s.Cp, within)
		near(t, label+" cp = T ds/dT", tK*(a.S-b.S)/(2*dT), s.Cp, s.Cp, within)
		near(t, label+" mu = -(dh/dp)/cp", -(c.H-d.H)/(2*dp)/s.Cp, s.JouleThomson, 1/(s.DensityKgM3*s.Cp), within)
		dvdT := (1/a.DensityKgM3 - 1/b.DensityKgM3) / (2 * dT)
		near(t, label+" ds/dp = -dv/dT", (c.S-d.S)/(2*dp), -dvdT, r/pPa, within)
		drdp := (c.DensityKgM3 - d.DensityKgM3) / (2 * dp)
		near(t, label+" exponent", s.DensityExponent, drdp*pPa/s.DensityKgM3, 1, within*s.DensityExponent)
		// Mayer's relation and the speed of sound from the same two slopes.
		cv := s.Cp - tK*dvdT*dvdT*s.DensityKgM3*s.DensityKgM3/drdp
		near(t, label+" cv", s.Cv, cv, s.Cp, 10*within)
		near(t, label+" w2 = (cp/cv) dp/drho", s.Sound*s.Sound, s.Cp/s.Cv/drdp, s.Sound*s.Sound, within)
		near(t, label+" kappa", s.Kappa, s.Sound*s.Sound*s.DensityKgM3/pPa, s.Kappa, 1e-12)
	})
}

// All ways to the same number give the same bits, whatever an Evaluator did
// before and in whatever order the composition was written down.
func TestSameBits(t *testing.T) {
	e := map[*Mixture]*Evaluator{}
	gasStates(t, 200, func(m *Mixture, tK, pPa float64, s State) {
		names, x := m.Fractions()
		again := map[string]float64{}
		for i := len(names) - 1; i >= 0; i-- {
			again[names[i]] = x[i]
		}
		if s2, err := mustNew(t, again).At(tK, pPa); err != nil || s2 != s {
			t.Fatalf("%v, %v differs from %v", s2, err, s)
		}
		if e[m] == nil {
			e[m] = m.Evaluator()
			if _, err := e[m].At(tK+7, pPa/3); err != nil && tK < 690 {
				t.Fatal(err)
			}
		}
		s3, err := e[m].At(tK, pPa)
		if err != nil || s3 != s {
			t.Fatalf("evaluator: %v, %v differs from %v", s3, err, s)
		}
		rho, exponent, err := m.Density(tK, pPa)
		if err != nil || rho != s.DensityKgM3 || math.Abs(exponent/s.DensityExponent-1) > 1e-6 {
			t.Fatalf("Density gives %g, %g, %v; At gives %g, %g", rho, exponent, err, s.DensityKgM3, s.DensityExponent)
		}
		h, cp, err := m.Enthalpy(tK, pPa)
		if err != nil || h != s.H || cp != s.Cp {
			t.Fatalf("Enthalpy gives %g, %g, %v", h, cp, err)
		}
		if g := m.GammaIdeal(tK); math.Abs(g/s.GammaIdeal-1) > 1e-14 {
			t.Fatalf("GammaIdeal %g, At %g", g, s.GammaIdeal)
		}
	})
}

// One mixture may be used by many at once, the first use of a saturation table
// included.
func TestShared(t *testing.T) {
	m := pureOf(t, "isobutane")
	want, err := m.At(300, 1e5)
	if err != nil {
		t.Fatal(err)
	}
	var group sync.WaitGroup
	for range 8 {
		group.Go(func() {
			other := pureOf(t, "n_octane")
			if s, err := m.At(300, 1e5); err != nil || s != want {
				t.Errorf("%v, %v", s, err)
			}
			if _, err := other.At(300, 1e5); err == nil {
				t.Error("octane is no gas at 300 K")
			}
		})
	}
	group.Wait()
}

func TestThinGasIsIdeal(t *testing.T) {
	for _, name := range gergNames() {
		for _, tK := range []float64{200, 300, 650} {
			s, err := pureOf(t, name).At(tK, 1e-5)
			if err != nil {
				t.Error(err)
				continue
			}
			near(t, name+" Z", s.Z, 1, 1, 1e-9)
			near(t, name+" exponent", s.DensityExponent, 1, 1, 1e-9)
			near(t, name+" kappa", s.Kappa, s.GammaIdeal, 1, 1e-7)
		}
	}
	// cp/cv of monatomic gases is 5/3, of nitrogen at 300 K 1.400 (cp0 = 29.125
	// J/(mol K), any handbook).
	// The ratio of the two gas constants leaves 3e-6.
	near(t, "helium", pureOf(t, "helium").GammaIdeal(300), 5.0/3, 1, 5e-6)
	near(t, "nitrogen", pureOf(t, "nitrogen").GammaIdeal(300), 29.125/(29.125-8.3145), 1, 2e-4)
}

// The gas root is the lowest density at which the pressure is reached: Newton's
// quick answer must be the one that a walk from zero finds.
func TestGasRootIsTheFirst(t *testing.T) {
	walked := 0
	gasStates(t, 600, func(m *Mixture, tK, pPa float64, s State) {
		e := m.Evaluator()
		e.setTemperature(tK)
		r, ok := e.walk(pPa / (m.rhoR * gasConstant * tK))
		if !ok {
			t.Errorf("%s %g K %g Pa: no root on the walk, %g mol/m3 before", m.label(), tK, pPa, s.DensityMol)
			return
		}
		walked++
		near(t, m.label()+" density", s.DensityMol, r.delta*m.rhoR, s.DensityMol, 1e-11)
	})
	if walked == 0 {
		t.Error("nothing compared")
	}
}

// Newton's answer is taken without a walk where the reduced temperature is above
// 1/noSpinodalTau: no pair may have a spinodal there below 70 MPa. At lower
// temperatures the same scan must find them, or it would prove nothing.
func TestNoSpinodalAboveReducingTemperature(t *testing.T) {
	scan := func(m *Mixture, tau float64) bool {
		tK := m.tR / tau
		e := m.Evaluator()
		e.setTemperature(tK)
		for delta := 0.02; delta < 3; delta += 0.05 {
			a01, a02, _ := e.pressureTerms(delta)
			if !(1+2*a01+a02 > 0) && delta*(1+a01)*m.rhoR*gasConstant*tK < highestPa {
				return true
			}
		}
		return false
	}
	found := 0
	for i := range components {
		for j := i + 1; j < componentCount; j++ {
			for _, x := range []float64{0.02, 0.3, 0.7, 0.98} {
				m := mustNew(t, map[string]float64{components[i].name: x, components[j].name: 1 - x})
				for tau := 0.5; tau < noSpinodalTau; tau += 0.05 {
					if tK := m.tR / tau; tK >= lowestK && tK <= highestK && scan(m, tau) {
						t.Errorf("%g %s + %s has a spinodal at tau %g", x, components[i].name, components[j].name, tau)
					}
				}
				if scan(m, 1.25) {
					found++
				}
			}
		}
	}
	if found < 100 {
		t.Errorf("found only %d spinodals at low temperature", found)
	}
}

func TestRefusals(t *testing.T) {
	lean := mustNew(t, fourGas)
	for _, c := range []struct {
		m       *Mixture
		tK, pPa float64
		want    string
	}{
		// Saturation of carbon dioxide at 0 degC is 34.85 bar (R. Span, W. Wagner,
		// J. Phys. Chem. Ref. Data 25 (1996) 1509).
		{pureOf(t, "carbon_dioxide"), 273.15, 60e5, "carbon dioxide at 60 bara, 0 degC is liquid: above 34.85 bara"},
		{pureOf(t, "carbon_dioxide"), 200, 3e5, "is solid"},
		{pureOf(t, "water"), 293.15, 1e5, "water at 1 bara, 20 degC is liquid"},
		{pureOf(t, "propane"), 293.15, 20e5, "is liquid"},
		{lean, 110, 50e5, "the mixture of mostly methane at 50 bara, -163.15 degC has no gas state"},
		{lean, 59.9, 1e5, "60 to 700 K"},
		{lean, 701, 1e5, "60 to 700 K"},
		{lean, 300, 70.1e6, "up to 700 bara"},
		{lean, 300, 0, "above 0"},
		{lean, 300, -1e5, "above 0"},
		{lean, -5, 1e5, "60 to 700 K"},
		{lean, math.NaN(), 1e5, "60 to 700 K"},
		{lean, 300, math.NaN(), "above 0"},
		{lean, math.Inf(1), 1e5, "60 to 700 K"},
		{lean, 300, math.Inf(1), "up to 700 bara"},
	} {
		_, err := c.m.At(c.tK, c.pPa)
		var state *StateError
		if !errors.As(err, &state) || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%g K %g Pa: %v, want %q", c.tK, c.pPa, err, c.want)
		}
		if _, _, err2 := c.m.Density(c.tK, c.pPa); err2 == nil || err2.Error() != err.Error() {
			t.Errorf("Density says %v, At says %v", err2, err)
		}
	}
}

func TestNormalRange(t *testing.T) {
	m := pureOf(t, "nitrogen")
	for _, c := range []struct {
		tK, pPa float64
		want    bool
	}{{90, 1e5, true}, {89, 1e5, false}, {450, 35e6, true}, {451, 1e5, false}, {300, 35.1e6, false}} {
		if s, err := m.At(c.tK, c.pPa); err != nil || s.InNormalRange != c.want {
			t.Errorf("%g K %g Pa: %v, %v", c.tK, c.pPa, s.InNormalRange, err)
		}
	}
}

func TestNew(t *testing.T) {
	for _, c := range []struct {
		x    map[string]float64
		want string
	}{
		{nil, "sum to 0"},
		{map[string]float64{"methane": 0.9}, "sum to 0.9"},
		{map[string]float64{"methane": 1, "brine": 0}, `unknown component "brine"; supported: 1_3_butadiene, 1_butene`},
		{map[string]float64{"methane": 0.5, "acetone": 0.5}, "GERG-2008 does not cover acetone; it covers argon, carbon_dioxide"},
		{map[string]float64{"methane": 1.5, "argon": -0.5}, "argon is -0.5"},
		{map[string]float64{"methane": math.NaN()}, "methane is NaN"},
		{map[string]float64{"methane": math.Inf(1)}, "methane is +Inf"},
		{map[string]float64{"methane": 0.5, "argon": 0.5 + 2e-9}, "sum to 1.000000002"},
	} {
		if _, err := New(c.x); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%v: %v, want %q", c.x, err, c.want)
		}
	}
	m := mustNew(t, map[string]float64{"nitrogen": 0.25, "argon": 0.75 + 5e-10, "methane": 0})
	names, x := m.Fractions()
	if len(names) != 2 || names[0] != "argon" || names[1] != "nitrogen" || math.Abs(x[0]+x[1]-1) > 1e-15 {
		t.Errorf("fractions %v %v", names, x)
	}
	near(t, "molar mass", m.MolarMass(), 0.25*28.0134e-3+0.75*39.948e-3, 1, 1e-10)
	if got := Components(); len(got) != 65 || got[0] != "1_3_butadiene" || !IsComponent("n_butane") || IsComponent("N2") {
		t.Errorf("components %v", got)
	}
}

// FuzzAt: any two numbers give a sound state or words.
func FuzzAt(f *testing.F) {
	f.Add(300.0, 1e5)
	f.Add(61.0, 69e6)
	f.Add(304.2, 7.4e6)
	f.Add(1e300, -1.0)
	mixtures := []*Mixture{mustNew(f, fourGas), mustNew(f, allGas()), pureOf(f, "carbon_dioxide"), pureOf(f, "n_decane")}
	f.Fuzz(func(t *testing.T, tK, pPa float64) {
		for _, m := range mixtures {
			s, err := m.At(tK, pPa)
			if err != nil {
				if !strings.Contains(err.Error(), "bara") {
					t.Errorf("no words: %v", err)
				}
				continue
			}
			if !(s.DensityMol > 0 && s.Z > 0 && s.Sound > 0 && s.DensityExponent > 0) || math.IsInf(s.DensityMol, 0) {
				t.Errorf("%g K %g Pa: %+v", tK, pPa, s)
			}
			if end, err := m.TemperatureAt(s.H, pPa, tK); err != nil || math.Abs(end-tK) > 1e-6*tK {
				t.Errorf("%g K comes back as %g, %v", tK, end, err)
			}
		}
	})
}
