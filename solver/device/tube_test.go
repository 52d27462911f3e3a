package device

import (
	"math"
	"testing"
)

// The tubes' join against the published formulas it joins.
func TestFrictionFactorAgainstItsParts(t *testing.T) {
	cases := []struct {
		re, rr, want, tol float64
	}{
		// Hagen-Poiseuille.
		{10, 0, Laminar(10), 1e-9},
		{1000, 1e-4, Laminar(1000), 3e-4},
		{1500, 1e-4, Laminar(1500), 5e-3},
		{2000, 1e-2, Laminar(2000), 5e-2},
		// Colebrook 1939; what is left is (1+a)/a for 1/a and the tail of the join.
		{4e3, 0, Colebrook(4e3, 0), 5e-3},
		{6e3, 0, Colebrook(6e3, 0), 1e-3},
		{1e4, 1e-3, Colebrook(1e4, 1e-3), 1e-3},
		{1e5, 1e-4, Colebrook(1e5, 1e-4), 1e-4},
		{1e7, 1e-2, Colebrook(1e7, 1e-2), 2e-3},
		// Blasius 1913 differs from Colebrook by 3 % in its range.
		{1e4, 0, Blasius(1e4), 0.03},
		{5e4, 0, Blasius(5e4), 0.03},
	}
	for _, c := range cases {
		if f := FrictionFactor(c.re, c.rr); math.Abs(f/c.want-1) > c.tol {
			t.Errorf("Re %g, roughness %g: f = %g, want %g within %g", c.re, c.rr, f, c.want, c.tol)
		}
	}
}

func TestReynoldsRisesWithFrictionNumber(t *testing.T) {
	for _, rr := range []float64{0, 1e-4, 0.05, 2} {
		last := 0.0
		for k := 1e-6; k < 1e16; k *= 1.02 {
			at := frictionAt(k, rr)
			if at.re <= last || at.exponent <= 0 || at.exponent > 1+1e-12 {
				t.Fatalf("roughness %g, K %g: Re %g after %g, exponent %g", rr, k, at.re, last, at.exponent)
			}
			up, down := frictionAt(k*math.Exp(1e-5), rr), frictionAt(k*math.Exp(-1e-5), rr)
			if d := math.Log(up.re/down.re) / 2e-5; math.Abs(d-at.exponent) > 1e-6 {
				t.Fatalf("roughness %g, K %g: exponent %g, differences %g", rr, k, at.exponent, d)
			}
			if d := (up.exponent - down.exponent) / 2e-5; math.Abs(d-at.bend) > 1e-6 {
				t.Fatalf("roughness %g, K %g: bend %g, differences %g", rr, k, at.bend, d)
			}
			last = at.re
		}
	}
}

// Laminar gas flow through a capillary tube: m = pi D^4 M (p1^2-p2^2)/(256 mu L R T)
// (Hagen-Poiseuille integrated for an ideal gas, textbook).
func TestLaminarTubeIsPoiseuille(t *testing.T) {
	g := ideal(1.5e5, 293.15, 0.0280134, 1.4, 17.6e-6)
	tube := Tube{BoreM: 0.25e-3, LengthM: 3}
	p1, p2 := 2e5, 1e5
	want := math.Pi * math.Pow(tube.BoreM, 4) * g.MolarMass * (p1*p1 - p2*p2) /
		(256 * g.ViscosityPaS * tube.LengthM * GasConstant * g.TemperatureK)
	if f := tube.Flow(p1, p2, g); math.Abs(f.W/want-1) > 1e-3 {
		t.Errorf("w = %g, want %g", f.W, want)
	}
}

// Both forms of the tube against the textbook relations of compressible.go, with
// the friction factor at the tube's own Reynolds number.
func TestTubeAgainstTextbookRelations(t *testing.T) {
	const p1, rr = 8e5, 1e-3
	g := ideal(p1, 293.15, 0.0280134, 1.4, 17.6e-6)
	pOverRho := p1 / g.DensityKgM3
	for _, tube := range []Tube{
		{BoreM: 4e-3, LengthM: 4, RoughnessM: rr * 4e-3, K: 3},
		{BoreM: 10e-3, LengthM: 200, RoughnessM: rr * 10e-3},
		{BoreM: 4e-3, LengthM: 0.4, RoughnessM: rr * 4e-3},
		{BoreM: 20e-3, LengthM: 1, RoughnessM: rr * 20e-3, K: 2},
	} {
		adiabatic := 0.02*tube.LengthM/tube.BoreM+tube.K < adiabaticUpTo
		resistance := func(w float64) float64 {
			re := w * tube.BoreM / (area(tube.BoreM) * g.ViscosityPaS)
			return FrictionFactor(re, rr)*tube.LengthM/tube.BoreM + tube.K
		}
		// Into near-vacuum: sonic exit.
		f := tube.Flow(p1, 1e3, g)
		var want, exit float64
		if adiabatic {
			m := FannoMach(resistance(f.W), 1.4)
			want = p1 * area(tube.BoreM) * m * math.Sqrt(1.4/pOverRho)
			exit = p1 / FannoPressure(m, 1.4)
		} else {
			exit = p1 * IsothermalExit(resistance(f.W))
			want = IsothermalFlow(p1, exit, pOverRho, area(tube.BoreM), resistance(f.W))
		}
		if !f.Choked || math.Abs(f.W/want-1) > 1e-9 {
			t.Errorf("%+v, sonic exit: w = %g (choked %v), want %g", tube, f.W, f.Choked, want)
		}
		if above, below := tube.Flow(p1, 1.001*exit, g), tube.Flow(p1, 0.999*exit, g); above.Choked || !below.Choked {
			t.Errorf("%+v: sonic above the exit pressure %v, below %v", tube, above.Choked, below.Choked)
		}
		// Subsonic.
		p2 := (p1 + exit) / 2
		f = tube.Flow(p1, p2, g)
		if adiabatic {
			m1 := f.W / (p1 * area(tube.BoreM)) * math.Sqrt(pOverRho/1.4)
			m2 := FannoMach(FannoLength(m1, 1.4)-resistance(f.W), 1.4)
			if got := p1 * FannoPressure(m2, 1.4) / FannoPressure(m1, 1.4); math.Abs(got/p2-1) > 1e-9 {
				t.Errorf("%+v: Fanno exit pressure %g, want %g", tube, got, p2)
			}
			continue
		}
		want = IsothermalFlow(p1, p2, pOverRho, area(tube.BoreM), resistance(f.W))
		if math.Abs(f.W/want-1) > 1e-9 {
			t.Errorf("%+v, subsonic: w = %g, want %g", tube, f.W, want)
		}
	}
}

// A gas whose density follows p^e: the mean density is that at p_m, exactly.
func TestLongTubeUsesDensityAtMeanPressure(t *testing.T) {
	tube := Tube{BoreM: 4e-3, LengthM: 30, RoughnessM: 1.5e-6}
	p1, p2 := 9e5, 6e5
	real := gases()[2]
	pm := 2.0 / 3 * (p1*p1*p1 - p2*p2*p2) / (p1*p1 - p2*p2)
	rho, _ := real.Density(pm)
	atMean := real
	atMean.PressurePa, atMean.DensityKgM3, atMean.Exponent = pm, rho, 1
	got, want := tube.Flow(p1, p2, &real).W, tube.Flow(p1, p2, &atMean).W
	if math.Abs(got/want-1) > 1e-10 {
		t.Errorf("w = %g, want %g", got, want)
	}
}

func TestRisingTubeBalancesTheGasColumn(t *testing.T) {
	g := ideal(20e5, 293.15, 0.0280134, 1.4, 17.6e-6)
	tube := Tube{BoreM: 4e-3, LengthM: 60, RoughnessM: 1.5e-6, RiseM: 50}
	// Barometric formula (textbook): p_top = p_bottom exp(-g h M/(R T)).
	bottom := 20e5
	top := bottom * math.Exp(-gravity*tube.RiseM*g.MolarMass/(GasConstant*g.TemperatureK))
	still := tube.Signed(bottom, top, g)
	up, down := tube.Signed(bottom, top-1, g), tube.Signed(bottom, top+1, g)
	if math.Abs(still.W) > 1e-9*up.W || !(up.W > 0) || !(down.W < 0) {
		t.Errorf("still %g, up %g, down %g", still.W, up.W, down.W)
	}
	if math.Abs(up.W+down.W) > 1e-3*up.W || math.Abs(up.Down/down.Down-1) > 1e-3 {
		t.Errorf("not odd about rest: %+v, %+v", up, down)
	}
	// Slopes either way.
	for _, pOut := range []float64{top - 5e3, top - 10, top + 10, top + 5e3} {
		f := tube.Signed(bottom, pOut, g)
		h := 0.01 * math.Abs(top-pOut)
		in, _ := difference(func(p float64) float64 { return tube.Signed(p, pOut, g).W }, bottom, h)
		out, _ := difference(func(p float64) float64 { return tube.Signed(bottom, p, g).W }, pOut, h)
		if math.Abs(in/f.Up-1) > 1e-5 || math.Abs(out/f.Down-1) > 1e-5 {
			t.Errorf("outlet %g: slopes %g %g, differences %g %g", pOut, f.Up, f.Down, in, out)
		}
	}
	// As a Law, against the column: no flow, but the slopes of one about to start.
	if f := tube.Flow(bottom, bottom, g); f.W != 0 || !(f.Up > 0) || !(f.Down < 0) {
		t.Errorf("against the column: %+v", f)
	}
}
