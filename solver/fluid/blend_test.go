package fluid

import (
	"math"
	"strings"
	"testing"
)

// Worked by hand: 3 mol of 90/10 methane and nitrogen with 1 mol of hydrogen hold
// 2.7, 0.3 and 1 mol of 4.
func TestBlendOfMixtures(t *testing.T) {
	a := mustNew(t, map[string]float64{"methane": 0.9, "nitrogen": 0.1})
	b := mustNew(t, map[string]float64{"hydrogen": 1})
	c := mustNew(t, map[string]float64{"helium": 1})
	got, err := Blend([]Fluid{a, b, c}, []float64{3, 1, 0})
	if err != nil {
		t.Fatal(err)
	}
	names, x := got.(*Mixture).Fractions()
	want := map[string]float64{"methane": 0.675, "nitrogen": 0.075, "hydrogen": 0.25}
	if len(names) != len(want) {
		t.Errorf("components %v", names)
	}
	for i, name := range names {
		if math.Abs(x[i]-want[name]) > 1e-15 {
			t.Errorf("%s %.17g, want %g", name, x[i], want[name])
		}
	}
	same := mustNew(t, want)
	for _, p := range []float64{1e5, 5e6} {
		s1, err1 := got.At(290, p)
		s2, err2 := same.At(290, p)
		if err1 != nil || err2 != nil || math.Abs(s1.DensityKgM3/s2.DensityKgM3-1) > 1e-13 || math.Abs(s1.H-s2.H) > 1e-9*s2.Cp*290 {
			t.Errorf("at %g Pa: %v %v, %v %v", p, s1, err1, s2, err2)
		}
	}
}

// Gases of both equations: 1 mol of ammonia in 3 mol of nitrogen and methane. The
// fractions are worked by hand.
func TestBlendAcrossEquations(t *testing.T) {
	a := mustNew(t, map[string]float64{"methane": 0.5, "nitrogen": 0.5})
	b, err := Make(map[string]float64{"ammonia": 1}, "auto")
	if err != nil {
		t.Fatal(err)
	}
	for _, order := range [][]Fluid{{a, b}, {b, a}} {
		moles := []float64{3, 1}
		if order[0] != Fluid(a) {
			moles = []float64{1, 3}
		}
		f, err := Blend(order, moles)
		if err != nil {
			t.Fatal(err)
		}
		names, x := f.(Composed).Fractions()
		for i, name := range names {
			if want := map[string]float64{"methane": 0.375, "nitrogen": 0.375, "ammonia": 0.25}[name]; math.Abs(x[i]-want) > 1e-15 {
				t.Errorf("%s %g, want %g", name, x[i], want)
			}
		}
		if len(names) != 3 || f.(Composed).Basis().Equation != "Peng-Robinson" {
			t.Errorf("%v under %s", names, f.(Composed).Basis().Equation)
		}
	}
	water, err := LiquidOf(map[string]float64{"water": 1})
	if err != nil {
		t.Fatal(err)
	}
	for _, order := range [][]Fluid{{a, water}, {water, a}, {b, water}} {
		if f, err := Blend(order, []float64{1, 1}); err == nil {
			t.Errorf("gas and liquid make %v", f)
		}
	}
}

// Worked by hand: 1 mol of M 28e-3, cp/cv 1.4 (molar cp 3.5 R) with 3 mol of
// M 4e-3, cp/cv 5/3 (2.5 R): M = (28 + 12)/4 = 10e-3, cp = (3.5 + 7.5)/4 = 2.75 R,
// cp/cv = 2.75/1.75. Like viscosities and masses leave viscosity alone.
func TestBlendOfIdealGases(t *testing.T) {
	a, b := Ideal(28e-3, 1.4, 1.8e-5), Ideal(4e-3, 5.0/3, 2e-5)
	got, err := Blend([]Fluid{a, b}, []float64{1, 3})
	if err != nil {
		t.Fatal(err)
	}
	if m := got.MolarMass(); math.Abs(m-10e-3) > 1e-17 {
		t.Errorf("molar mass %g", m)
	}
	if g := got.GammaIdeal(300); math.Abs(g-2.75/1.75) > 1e-14 {
		t.Errorf("cp/cv %g", g)
	}
	if mu, _ := got.Viscosity(300, 1); !(mu > 1.8e-5 && mu < 2.2e-5) {
		t.Errorf("viscosity %g", mu)
	}
	twin, err := Blend([]Fluid{a, Ideal(28e-3, 1.4, 1.8e-5)}, []float64{1, 3})
	if err != nil {
		t.Fatal(err)
	}
	if mu, _ := twin.Viscosity(300, 1); math.Abs(mu-1.8e-5) > 1e-19 {
		t.Errorf("viscosity of twins %g", mu)
	}
}

func TestBlendRefuses(t *testing.T) {
	a, b := mustNew(t, map[string]float64{"methane": 1}), Ideal(28e-3, 1.4, 1.8e-5)
	for _, tc := range []struct {
		parts []Fluid
		moles []float64
		words string
	}{
		{[]Fluid{a, b}, []float64{1, 1}, "unlike kinds"},
		{[]Fluid{b, a}, []float64{1, 1}, "unlike kinds"},
		{[]Fluid{a}, []float64{1, 1}, "do not make a blend"},
		{[]Fluid{a, a}, []float64{1, -1}, "no amount"},
		{[]Fluid{a, a}, []float64{1, math.NaN()}, "no amount"},
		{[]Fluid{a, a}, []float64{1, math.Inf(1)}, "no amount"},
		{[]Fluid{a, nil}, []float64{1, 1}, "no amount"},
		{[]Fluid{a, b}, []float64{0, 0}, "no composition"},
		{nil, nil, "no composition"},
	} {
		if _, err := Blend(tc.parts, tc.moles); err == nil || !strings.Contains(err.Error(), tc.words) {
			t.Errorf("%v of %v: %v, want %q", tc.moles, tc.parts, err, tc.words)
		}
	}
	if f, err := Blend([]Fluid{a, b}, []float64{2, 0}); f != Fluid(a) || err != nil {
		t.Errorf("what is left of one fluid: %v, %v", f, err)
	}
}
