// Package device holds the laws of the elements of a network of gas or liquid:
// the mass flow through one device from the pressures at its ends. No law knows
// the network. Everything is SI: Pa absolute, K, kg/s, m, kg/m3.
package device

import "math"

// Gas is what a law needs to know of the gas, or the liquid, that enters it, and
// which form of itself it takes (liquid.go). Density is a
// tangent in ln p, exact in value and slope at PressurePa and positive and
// rising everywhere; whoever solves moves the point of tangency until it is
// where the pressure is, so that the answer rests on the full equation of
// state while the laws cost none.
type Gas struct {
	PressurePa   float64 // point of tangency
	TemperatureK float64
	DensityKgM3  float64 // at PressurePa and TemperatureK
	Exponent     float64 // d ln rho / d ln p at constant T there; 1 for an ideal gas
	MolarMass    float64 // kg/mol
	GammaIdeal   float64 // ideal-gas cp/cv at TemperatureK
	Kappa        float64 // real isentropic exponent
	ViscosityPaS float64
	// CriticalFactor is the critical-flow factor C* of the real gas (ISO 9300):
	// w = Cd A C* p0 / sqrt(R T0/M) in choked flow from PressurePa and
	// TemperatureK. 0 where it is not known: it then follows from Kappa.
	CriticalFactor float64

	// Liquid says that the fluid is one. The laws then take their incompressible
	// forms, and read of the above only the density and the viscosity.
	Liquid           bool
	VapourPressurePa float64 // bubble pressure at TemperatureK; 0 where it never boils
	CriticalPa       float64 // critical pressure; 0 where it is not known
}

// GasConstant is R [J/(mol K)] (CODATA 2018, exact).
const GasConstant = 8.31446261815324

// Density gives the density at pressure p [Pa] and its slope [kg/m3/Pa].
func (g *Gas) Density(p float64) (rho, slope float64) {
	if g.Exponent == 1 {
		slope = g.DensityKgM3 / g.PressurePa
		return slope * p, slope
	}
	rho = g.DensityKgM3 * powerOfRatio(p, g.PressurePa, g.Exponent)
	return rho, g.Exponent * rho / p
}

// load is sqrt(p rho) at pressure p, which rises as p^((1 + Exponent)/2).
func (g *Gas) load(p float64) float64 {
	if g.Exponent == 1 {
		return p * math.Sqrt(g.DensityKgM3/g.PressurePa)
	}
	return math.Sqrt(g.PressurePa*g.DensityKgM3) * powerOfRatio(p, g.PressurePa, 0.5+0.5*g.Exponent)
}

// Flow is what a law answers. Within the laws one is set in place, field by field: as
// a value that is handed on from function to function it costs as much as a law.
type Flow struct {
	W    float64 // mass flow [kg/s], never negative
	Up   float64 // dW/dp_up [kg/s/Pa]
	Down float64 // dW/dp_down [kg/s/Pa]
	// Exponent a of W ~ (p_up - p_down)^a near the point: 1/2 for a square-root
	// law, 1 for a laminar one. With Root it lets the solver replace the tangent
	// by a chord, which keeps steps sound where W passes through zero. Within
	// 1/2..1: outside of that the chord could turn its sign.
	Exponent float64
	// Root is W where W is a plain power of the drop, and the flow at which a
	// pure power law has the same slope where the law is straightened near zero.
	Root   float64
	Choked bool
}

// A Law gives the flow of a passage, fully open, for pUp >= pDown > 0. Laws are compared
// with ==, to see whether a device is another than in the case before.
type Law interface {
	Flow(pUp, pDown float64, g *Gas) Flow
}

// A TwoWay law is one that is asked often, or that says itself which way it flows.
// Pass sets f to the flow from in to out: Up and Down are then dW/dp_in and
// dW/dp_out, and W and Root have the sign of the flow. A search begins at from, which
// it renews.
type TwoWay interface {
	Law
	Pass(f *Flow, pIn, pOut float64, g *Gas, from *Start)
}

// Pass asks any law in that way.
func Pass(f *Flow, law Law, pIn, pOut float64, g *Gas, from *Start) {
	if l, ok := law.(TwoWay); ok {
		l.Pass(f, pIn, pOut, g, from)
		return
	}
	if pIn >= pOut {
		*f = law.Flow(pIn, pOut, g)
		return
	}
	*f = law.Flow(pOut, pIn, g)
	f.turn()
}

// turn makes of a flow the same one seen from its outlet.
func (f *Flow) turn() {
	f.W, f.Root, f.Up, f.Down = -f.W, -f.Root, -f.Down, -f.Up
}

// Lift is how far a device is open: z = Bias + Up pUp + Down pDown + Ref pRef,
// clamped to 0..1. pRef is the pressure of a node the loading follows.
type Lift struct {
	Bias          float64
	Up, Down, Ref float64 // [1/Pa]
	LockUpPa      float64 // a dead end downstream settles this far above the point where z = 0
}

// At gives z, not clamped.
func (l *Lift) At(pUp, pDown, pRef float64) float64 {
	return l.Bias + l.Up*pUp + l.Down*pDown + l.Ref*pRef
}
