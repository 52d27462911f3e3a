package device

import "math"

// Holes of instrument size. ISO 5167 asks for pipes of 50 mm and more and never
// applies here; its formulas stand in iso5167.go only to be held against
// published values.

// A SharpOrifice is a thin plate with a sharp edge:
//
//	w = Cd A eps sqrt(2 rho1 (p1 - p2)),  eps = 1 - 0.41 x/kappa
//
// (expansion factor from memory; Cd about 0.61, common practice). It does not
// choke in the usual sense: eps goes on falling to vacuum. Where kappa is under
// 1.23 the formula has its largest flow at x = kappa/1.23; from there on the
// flow is held, so that it never falls with a falling outlet. A liquid has
// eps = 1 and its own choke (liquid.go).
type SharpOrifice struct {
	BoreM float64
	Cd    float64
}

// Flow implements Law.
func (o SharpOrifice) Flow(pUp, pDown float64, g *Gas) (f Flow) {
	k := math.Sqrt2 * o.Cd * area(o.BoreM)
	if !(k > 0 && pUp > 0) {
		return closed()
	}
	x := drop(pUp, pDown)
	if g.Liquid {
		s := incompressible(x, pUp, jet(o.Cd), g)
		s.throttle(&f, k, pUp, g)
		return f
	}
	s := parabola(x, exponentWithin(g.Kappa)/(3*0.41))
	s.choked = false
	f.throttle(k, pUp, x, g, s)
	return f
}

// A ThickOrifice is a bore long or rounded enough for the jet to fill it; it
// chokes:
//
//	w = Cd A C* p0/sqrt(R T0/M) phi(r)
//
// with the critical-flow factor C* of the real gas and phi the isentropic
// subcritical shape, 1 with zero slope at the critical ratio. C* is
// Gas.CriticalFactor; where that is 0 the gas is taken to keep its isentropic
// exponent down to the throat, C* = C*(kappa)/sqrt(Z), which is within 2 % to
// 50 bar and 6 % too high in nitrogen at 200 bar. Cd 0.8 to 0.98 (common
// practice).
type ThickOrifice struct {
	BoreM float64
	Cd    float64
}

// Flow implements Law.
func (o ThickOrifice) Flow(pUp, pDown float64, g *Gas) (f Flow) {
	a := o.Cd * area(o.BoreM)
	if !(a > 0 && pUp > 0) {
		return closed()
	}
	if g.Liquid {
		s := incompressible(drop(pUp, pDown), pUp, jet(o.Cd), g)
		s.throttle(&f, math.Sqrt2*a, pUp, g)
		return f
	}
	k := exponentWithin(g.Kappa)
	if g.CriticalFactor > 0 {
		z := g.PressurePa * g.MolarMass / (g.DensityKgM3 * GasConstant * g.TemperatureK)
		a *= g.CriticalFactor * math.Sqrt(z) / CriticalFlowFactor(k)
	}
	x := drop(pUp, pDown)
	f.throttle(a, pUp, x, g, isentropic(x, k))
	return f
}

// capillaryEnds is the loss of a capillary between two chambers in dynamic
// pressures: 0.5 for the sharp entrance and 1 to set the gas in motion, which no
// exit gives back (handbook values for sharp-edged pipe ends). With no length
// that is a coefficient of 1/sqrt(1.5) = 0.82, the short tube's.
const capillaryEnds = 1.5

// A Capillary is a tube between two chambers, with the loss of its ends.
type Capillary struct {
	BoreM, LengthM, RoughnessM float64
}

// Flow implements Law. The Gas is that at the mean pressure, as for a Tube.
func (c Capillary) Flow(pUp, pDown float64, g *Gas) Flow { return c.tube().Flow(pUp, pDown, g) }

// Pass implements TwoWay.
func (c Capillary) Pass(f *Flow, pIn, pOut float64, g *Gas, from *Start) {
	c.tube().Pass(f, pIn, pOut, g, from)
}

func (c Capillary) tube() Tube {
	return Tube{BoreM: c.BoreM, LengthM: c.LengthM, RoughnessM: c.RoughnessM, K: capillaryEnds}
}

// area is the cross-section [m2] of a bore.
func area(boreM float64) float64 { return math.Pi / 4 * boreM * boreM }
