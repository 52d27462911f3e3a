package device

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"
)

// The properties every law must have whatever its formula: exact slopes,
// monotone flow, no jump, finite answers. Points are drawn with a fixed seed, a
// third of them at very small drops, a third over all drops, a third at large
// ones, where laws choke.

type namedLaw struct {
	name    string
	law     Law
	passive bool // rises all the way with a falling outlet until choked
}

func laws() []namedLaw {
	valve := Coefficient{Cv: 0.02, XT: 0.7, FL: 0.9}
	return []namedLaw{
		{"coefficient", valve, true},
		{"large coefficient", Coefficient{Cv: 30, XT: 0.3, FL: 0.6}, true},
		{"coefficient that never chokes", Coefficient{Cv: 1, XT: 1.5, FL: 0.9}, true},
		{"needle with seat", Coefficient{Cv: 0.002, XT: 0.8, FL: 0.98, SeatM: 0.8e-3}, true},
		{"needle with fd", Coefficient{Cv: 0.01, XT: 0.8, FL: 0.98, Fd: 0.07, SizeM: 0.015}, true},
		{"valve between reducers", Fittings{BoreM: 0.05, InletM: 0.08, OutletM: 0.1}.Fitted(Coefficient{Cv: 82, XT: 0.6, FL: 0.85}), true},
		{"needle between reducers", Fittings{BoreM: 4e-3, InletM: 10e-3, OutletM: 10e-3}.Fitted(Coefficient{Cv: 0.05, XT: 0.8, FL: 0.98, SeatM: 2e-3, SizeM: 4e-3}), true},
		{"sharp orifice", SharpOrifice{BoreM: 0.5e-3, Cd: 0.61}, true},
		{"thick orifice", ThickOrifice{BoreM: 0.5e-3, Cd: 0.85}, true},
		{"nozzle", Nozzle{AreaM2: 12e-6, K: 0.8}, true},
		{"capillary", Capillary{BoreM: 0.2e-3, LengthM: 0.05}, true},
		{"short capillary", Capillary{BoreM: 0.5e-3, LengthM: 0.005}, true},
		{"long tube", Tube{BoreM: 4e-3, LengthM: 45, RoughnessM: 1.5e-6}, true},
		{"narrow tube", Tube{BoreM: 0.5e-3, LengthM: 2, RoughnessM: 1.5e-6}, true},
		{"tube with bends", Tube{BoreM: 10e-3, LengthM: 5, RoughnessM: 1.5e-6, K: 6}, true},
		{"short tube", Tube{BoreM: 4e-3, LengthM: 0.2, RoughnessM: 1.5e-6, K: 0.5}, true},
		{"rough short tube", Tube{BoreM: 25e-3, LengthM: 8, RoughnessM: 1e-3, K: 1}, true},
		{"flow controller", FlowController{SetKgS: 2e-5, Open: valve}, true},
	}
}

// gases are nitrogen-like, with densities that follow p^0.7, p and p^1.3.
func gases() []Gas {
	var gs []Gas
	for _, e := range []float64{0.7, 1, 1.3, 2.5} {
		gs = append(gs, Gas{
			PressurePa: 5e5, TemperatureK: 293.15, DensityKgM3: 5e5 * 0.0280134 / (GasConstant * 293.15),
			Exponent: e, MolarMass: 0.0280134, GammaIdeal: 1.4, Kappa: 1.4 / e, ViscosityPaS: 17.6e-6,
		})
	}
	gs = append(gs, gs[0])
	gs[4].CriticalFactor = 0.70
	return append(gs, liquids()...)
}

// liquids are like water, cold and close to boiling, like a light hydrocarbon near
// its critical point, and like a heavy oil.
func liquids() []Gas {
	return []Gas{
		{Liquid: true, PressurePa: 5e5, TemperatureK: 293.15, DensityKgM3: 998, Exponent: 2e-4, MolarMass: 0.018, ViscosityPaS: 1e-3, VapourPressurePa: 2339, CriticalPa: 22.064e6},
		{Liquid: true, PressurePa: 5e5, TemperatureK: 418, DensityKgM3: 922, Exponent: 3e-4, MolarMass: 0.018, ViscosityPaS: 2e-4, VapourPressurePa: 4.2e5, CriticalPa: 22.064e6},
		{Liquid: true, PressurePa: 4e6, TemperatureK: 360, DensityKgM3: 380, Exponent: 0.3, MolarMass: 0.044, ViscosityPaS: 5e-5, VapourPressurePa: 3.6e6, CriticalPa: 4.25e6},
		{Liquid: true, PressurePa: 5e5, TemperatureK: 293.15, DensityKgM3: 900, Exponent: 3e-4, MolarMass: 0.3, ViscosityPaS: 0.3},
	}
}

func draw(r *rand.Rand) (pUp, pDown float64) {
	pUp = math.Exp(math.Log(1e4) + r.Float64()*math.Log(2e3))
	var x float64
	switch r.IntN(3) {
	case 0:
		x = math.Exp(math.Log(1e-9) * r.Float64())
	case 1:
		x = r.Float64()
	default:
		x = 1 - math.Exp(math.Log(1e-5)*r.Float64())
	}
	return pUp, pUp * (1 - x)
}

func eachPoint(t *testing.T, seed uint64, n int, f func(t *testing.T, l namedLaw, g *Gas, pUp, pDown float64)) {
	for _, l := range laws() {
		for i, g := range gases() {
			t.Run(fmt.Sprintf("%s/gas %d", l.name, i), func(t *testing.T) {
				r := rand.New(rand.NewPCG(seed, uint64(i)))
				for range n {
					pUp, pDown := draw(r)
					if f(t, l, &g, pUp, pDown); t.Failed() {
						return
					}
				}
			})
		}
	}
}

// difference is the derivative of f at x by central differences of two widths,
// extrapolated, with the spread of the two as a measure of its own error.
func difference(f func(float64) float64, x, h float64) (d, spread float64) {
	one := func(h float64) float64 {
		a, b := x-h, x+h
		return (f(b) - f(a)) / (b - a)
	}
	wide, narrow := one(h), one(h/2)
	return narrow + (narrow-wide)/3, math.Abs(narrow - wide)
}

func TestSlopesAreExact(t *testing.T) {
	eachPoint(t, 1, 400, func(t *testing.T, l namedLaw, g *Gas, pUp, pDown float64) {
		f := l.law.Flow(pUp, pDown, g)
		d := pUp - pDown
		h := min(2e-3*d, 1e-3*pDown)
		if d < 1e-8*pUp {
			return // the pressures' own rounding is more than the step
		}
		up, eUp := difference(func(p float64) float64 { return l.law.Flow(p, pDown, g).W }, pUp, h)
		down, eDown := difference(func(p float64) float64 { return l.law.Flow(pUp, p, g).W }, pDown, h)
		// Where curvature jumps (choke, sonic exit, controller) the differences have
		// an error of their own; noise of the flow itself counts 1e-12.
		tol := 2e-5*(math.Abs(f.Up)+math.Abs(f.Down)) + 2e-11*f.W/h
		if math.Abs(up-f.Up) > tol+eUp {
			t.Errorf("p_up %g, p_down %g: dW/dp_up %g, differences %g (spread %g)", pUp, pDown, f.Up, up, eUp)
		}
		if math.Abs(down-f.Down) > tol+eDown {
			t.Errorf("p_up %g, p_down %g: dW/dp_down %g, differences %g (spread %g)", pUp, pDown, f.Down, down, eDown)
		}
	})
}

// Exact slopes rest on the spread staying small: hold it where the laws are
// smooth, so that the allowance above cannot hide an error.
func TestDifferencesAgreeAwayFromJoins(t *testing.T) {
	g := gases()[1]
	for _, l := range laws() {
		for _, x := range []float64{3e-7, 1e-4, 0.05, 0.2} {
			pUp := 4e5
			pDown := pUp * (1 - x)
			f := l.law.Flow(pUp, pDown, &g)
			up, _ := difference(func(p float64) float64 { return l.law.Flow(p, pDown, &g).W }, pUp, 1e-3*x*pUp)
			down, _ := difference(func(p float64) float64 { return l.law.Flow(pUp, p, &g).W }, pDown, 1e-3*x*pUp)
			tol := 1e-6 * (math.Abs(f.Up) + math.Abs(f.Down))
			if math.Abs(up-f.Up) > tol || math.Abs(down-f.Down) > tol {
				t.Errorf("%s, x = %g: slopes %g %g, differences %g %g", l.name, x, f.Up, f.Down, up, down)
			}
		}
	}
}

func TestSlopesHaveTheirSigns(t *testing.T) {
	eachPoint(t, 2, 2000, func(t *testing.T, l namedLaw, g *Gas, pUp, pDown float64) {
		f := l.law.Flow(pUp, pDown, g)
		if f.Up < 0 || f.Down > 0 || f.W < 0 {
			t.Errorf("p_up %g, p_down %g: %+v", pUp, pDown, f)
		}
		if f.Exponent < 0.4999 || f.Exponent > 1.0001 || !(f.Root > 0) {
			t.Errorf("p_up %g, p_down %g: exponent and root of %+v", pUp, pDown, f)
		}
	})
}

func TestFlowIsMonotone(t *testing.T) {
	eachPoint(t, 3, 1000, func(t *testing.T, l namedLaw, g *Gas, pUp, pDown float64) {
		w := l.law.Flow(pUp, pDown, g).W
		for _, step := range []float64{1e-7, 1e-3, 0.3} {
			if more := l.law.Flow(pUp*(1+step), pDown, g).W; more < w*(1-1e-13) {
				t.Errorf("p_up %g -> x%g at p_down %g: flow falls from %g to %g", pUp, 1+step, pDown, w, more)
			}
			if less := l.law.Flow(pUp, pDown*(1-step), g).W; less < w*(1-1e-13) {
				t.Errorf("p_down %g -> x%g at p_up %g: flow falls from %g to %g", pDown, 1-step, pUp, w, less)
			}
		}
	})
}

// Between neighbouring points no law may jump by more than its slopes allow.
func TestNoJump(t *testing.T) {
	const pUp = 6e5
	for i, g := range gases() {
		for _, l := range laws() {
			last := l.law.Flow(pUp, pUp, &g)
			lastP := pUp
			// Geometric steps of 0.5 % of the drop, from 1e-10 to vacuum.
			for x := 1e-10; x < 1; x *= 1.005 {
				p := pUp * (1 - x)
				f := l.law.Flow(pUp, p, &g)
				room := 1.02*max(-f.Down, -last.Down)*(lastP-p) + 1e-12*f.W
				if f.W-last.W > room {
					t.Errorf("%s, gas %d: from x %g the flow jumps from %g to %g", l.name, i, x, last.W, f.W)
					break
				}
				last, lastP = f, p
			}
		}
	}
}

// The chord of a solver: slope at the point times 2 Root/(Root + last) must give
// the tangent where last = W, and Root and W must be the same away from zero.
func TestRootIsTheFlowAwayFromZero(t *testing.T) {
	eachPoint(t, 4, 300, func(t *testing.T, l namedLaw, g *Gas, pUp, pDown float64) {
		if pUp-pDown < 2e-6*pUp {
			return
		}
		f := l.law.Flow(pUp, pDown, g)
		if math.Abs(f.Root-f.W) > 1e-12*f.W {
			t.Errorf("p_up %g, p_down %g: %+v", pUp, pDown, f)
		}
	})
}

func TestNoFlowWithoutDrop(t *testing.T) {
	for i, g := range gases() {
		for _, l := range laws() {
			f := l.law.Flow(3e5, 3e5, &g)
			if f.W != 0 || f.Choked {
				t.Errorf("%s, gas %d: %+v at no drop", l.name, i, f)
			}
			if !(f.Up > 0 && f.Down < 0 && f.Root > 0) {
				t.Errorf("%s, gas %d: no slope at no drop: %+v", l.name, i, f)
			}
			if math.Abs(f.Up+f.Down) > 1e-9*f.Up {
				t.Errorf("%s, gas %d: slopes at no drop differ: %+v", l.name, i, f)
			}
			near := l.law.Flow(3e5, 3e5*(1-1e-10), &g)
			if math.Abs(near.Down/f.Down-1) > 1e-2 {
				t.Errorf("%s, gas %d: slope jumps at no drop: %g, %g", l.name, i, f.Down, near.Down)
			}
		}
	}
}

func TestExtremeInputsStayFinite(t *testing.T) {
	extremes := []float64{1e-6, 1, 1e2, 1e5, 1e9, 1e12}
	odd := []Gas{
		{PressurePa: 1e5, TemperatureK: 20, DensityKgM3: 1e3, Exponent: 1e-3, MolarMass: 0.002, GammaIdeal: 1.0, Kappa: 0.5, ViscosityPaS: 1e-7},
		{PressurePa: 1e3, TemperatureK: 2000, DensityKgM3: 1e-6, Exponent: 8, MolarMass: 0.3, GammaIdeal: 1.67, Kappa: 40, ViscosityPaS: 1e-2},
		{PressurePa: 1e5, TemperatureK: 300, DensityKgM3: 1, Exponent: 1, MolarMass: 0.03, GammaIdeal: 0, Kappa: 0, ViscosityPaS: 0},
		{Liquid: true, PressurePa: 1e5, TemperatureK: 300, DensityKgM3: 1e3, Exponent: 1e-5, MolarMass: 0.03},
		{Liquid: true, PressurePa: 1e5, TemperatureK: 300, DensityKgM3: 1e3, Exponent: 1e-5, MolarMass: 0.03, ViscosityPaS: 1e5, VapourPressurePa: 1e9, CriticalPa: 1e3},
	}
	odd = append(odd, gases()...)
	more := append(laws(),
		namedLaw{name: "no coefficient", law: Coefficient{}},
		namedLaw{name: "no bore", law: Tube{LengthM: 1}},
		namedLaw{name: "no length", law: Tube{BoreM: 0.004}},
		namedLaw{name: "hair", law: Tube{BoreM: 1e-6, LengthM: 1e4}},
		namedLaw{name: "all roughness", law: Tube{BoreM: 0.01, LengthM: 1, RoughnessM: 0.02}},
		namedLaw{name: "lossy", law: Tube{BoreM: 0.01, LengthM: 1, K: 1e9}},
		namedLaw{name: "mine shaft", law: Tube{BoreM: 0.01, LengthM: 1e5, RiseM: 1e7}},
		namedLaw{name: "no hole", law: ThickOrifice{}},
		namedLaw{name: "no plate", law: SharpOrifice{}},
		namedLaw{name: "no nozzle", law: Nozzle{}},
		namedLaw{name: "shut controller", law: FlowController{Open: Coefficient{Cv: 1, XT: 0.7}}},
	)
	for _, l := range more {
		for i, g := range odd {
			for _, pUp := range append(extremes, 0) {
				for _, pDown := range append(extremes, 0, -1) {
					f := l.law.Flow(pUp, min(pDown, pUp), &g)
					if !(f.Root > 0) && pUp > 0 {
						t.Fatalf("%s, gas %d, p_up %g, p_down %g: root of %+v", l.name, i, pUp, pDown, f)
					}
					for _, v := range []float64{f.W, f.Up, f.Down, f.Exponent, f.Root} {
						if math.IsNaN(v) || math.IsInf(v, 0) {
							t.Fatalf("%s, gas %d, p_up %g, p_down %g: %+v", l.name, i, pUp, pDown, f)
						}
					}
				}
			}
		}
	}
}
