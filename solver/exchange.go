package solver

import (
	"math"

	"tapline/solver/device"
	"tapline/solver/fluid"
)

// How a device exchanges heat with its surroundings: along it the gas approaches the
// temperature of the wall, and what is left of the difference is e^-(UA/m cp). The next
// device waits for that answer. A processor does other work meanwhile, but only so much:
// the two functions at the end take a third of the time of math's, and are no less exact
// than what follows needs.

// tubeConductance is the heat conductance of a tube per length [W/(m K)]: film
// inside and film outside in series. Inside, Nu is 3.66 in laminar flow (fully
// developed, constant wall temperature) and 0.023 Re^0.8 Pr^0.4 in turbulent
// flow (Dittus & Boelter), joined by the eighth power sum.
func tubeConductance(heat *Heat, k float64, g *device.Gas, mass, cp float64) float64 {
	// Re^2 Pr, with Re = 4 m/(pi d mu) and Pr = cp mu/k. At 1 it is laminar to rounding.
	z := 16 / (math.Pi * math.Pi) * mass * mass * cp / (heat.BoreM * heat.BoreM * g.ViscosityPaS * k)
	root := fifthRoot(max(z, 1))
	nu, _ := device.Larger(3.66, 0.023*root*root)
	inside, outside := math.Pi*k*nu, math.Pi*heat.OuterM*heat.OutsideWM2K
	if !(outside > 0) {
		return inside
	}
	return inside * outside / (inside + outside)
}

// A conductor is the conductivity of the gas in a tube where it was last asked for.
// It hardly changes between passes, and is known to a few per cent.
type conductor struct {
	fluid     fluid.Fluid
	t, rho, k float64
}

// at gives the conductivity [W/(m K)] of f at the state of g.
func (c *conductor) at(f fluid.Fluid, g *device.Gas) float64 {
	if c.fluid != f || math.Abs(g.TemperatureK-c.t) > caloricK || math.Abs(g.DensityKgM3-c.rho) > 1e-5*c.rho {
		*c = conductor{f, g.TemperatureK, g.DensityKgM3, conductivity(f, g)}
	}
	return c.k
}

const (
	decayMost  = 8  // up to which e^-x has a table
	decaySteps = 32 // of it in 1
)

// decays is e^-n/decaySteps.
var decays = func() (t [decayMost*decaySteps + 1]float64) {
	for n := range t {
		t[n] = math.Exp(-float64(n) / decaySteps)
	}
	return t
}()

// decay is e^-x to a few units of rounding: from the next place in the table, by the series.
func decay(x float64) float64 {
	if !(x >= 0 && x < decayMost) {
		return math.Exp(-x)
	}
	n := int(x*decaySteps + 0.5)
	d := float64(n)/decaySteps - x
	d2 := d * d
	return decays[n] * (1 + d + d2*(1.0/2+d*(1.0/6)+d2*(1.0/24+d*(1.0/120)+d2*(1.0/720))))
}

// fifthRoot is x^(1/5) to a part in 1e12, for x above zero. A fifth of the bits of a
// number is, but for a constant, its root to a part in 30; two steps of Halley's method
// do the rest.
func fifthRoot(x float64) float64 {
	y := math.Float64frombits(math.Float64bits(x)/5 + 0x3325d<<44)
	for range 2 {
		y5 := y * y
		y5 *= y5 * y
		y *= (2*y5 + 3*x) / (3*y5 + 2*x)
	}
	return y
}
