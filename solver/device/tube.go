package device

import "math"

// Flow through a tube is implicit: friction depends on the flow. Both forms
// below (isothermal, adiabatic) are one scalar equation F(K) = 0 in the friction
// number K = f Re^2 of friction.go, of which the Reynolds number and with it the
// flow is an explicit, rising function. F falls with K and is close to linear in
// it, so Newton's method inside a bracket needs three or four evaluations.
//
// A sonic exit is part of F: the exit pressure is the larger of p2 and the
// pressure at which w, as a function of the exit pressure, has its maximum.
// There the derivative of F by the exit pressure is zero, which is why value and
// both slopes join and why F'(K) needs no term for it.
//
// Slopes follow by implicit differentiation, dK/dp = -F_p/F_K.

// Liquids are in liquid.go.

// A Tube is a run of tube or hose between two places in the line. The Gas is that
// at the mean pressure p_m = 2/3 (p1^3-p2^3)/(p1^2-p2^2) and mean temperature.
//
// Where 0.02 L/D + K is 10 or more the flow is isothermal with the acceleration
// term; a shorter tube is taken as adiabatic (Fanno) because the isothermal sonic
// exit passes up to 13 % too much there.
type Tube struct {
	BoreM      float64 // inside diameter
	LengthM    float64 // less than one bore counts as one bore
	RoughnessM float64 // absolute; 1.5e-6 for drawn tube
	K          float64 // losses inside the run (bends, fittings) in dynamic pressures, from 0; no exit loss
	// RiseM is the height of the downstream end above the upstream end. See Signed.
	RiseM float64
}

const (
	gravity       = 9.80665 // m/s2, standard
	adiabaticUpTo = 10      // 0.02 L/D + K
	// lowestExit bounds the ratio of exit to inlet pressure: what flows at this
	// ratio is what flows into vacuum, to 1e-12.
	lowestExit = 1e-6
	// leastViscosity keeps K finite where a gas says it has no viscosity.
	leastViscosity = 1e-12
	// settled is the relative Newton step in K after which one last linear
	// correction leaves an error of its square.
	settled  = 1e-8
	maxSteps = 60
)

// Flow implements Law. With a rise, half of the gas column's weight is taken off
// the upstream pressure and half added to the downstream one. Where what is left
// does not drive forward, W is 0 with the slopes of a flow about to start.
func (t Tube) Flow(pUp, pDown float64, g *Gas) Flow {
	if !(t.BoreM > 0 && pUp > 0) {
		return closed()
	}
	if t.RiseM == 0 {
		return t.level(pUp, pDown, g)
	}
	if g.Liquid {
		return t.level(pUp, pDown+columnPa(t.RiseM, g), g)
	}
	half := halfColumn(t.RiseM, g)
	f := t.level(pUp*half, pDown/half, g)
	f.Up *= half
	f.Down /= half
	return f
}

// Signed is Flow for a tube whose direction the pressures decide: positive from
// in to out, RiseM being the height of out above in. With a rise the flow does
// not turn where the pressures are equal but where they differ by the weight of
// the gas, so the caller cannot know the direction. Up and Down are dW/dp_in and
// dW/dp_out, signed; W and Root have the sign of the flow.
func (t Tube) Signed(pIn, pOut float64, g *Gas) Flow {
	forward := pIn-pOut >= columnPa(t.RiseM, g)
	if !g.Liquid {
		half := halfColumn(t.RiseM, g)
		forward = pIn*half >= pOut/half
	}
	if forward {
		return t.Flow(pIn, pOut, g)
	}
	t.RiseM = -t.RiseM
	f := t.Flow(pOut, pIn, g)
	f.W, f.Root, f.Up, f.Down = -f.W, -f.Root, -f.Down, -f.Up
	return f
}

// VolumeM3 is the volume the tube holds.
func (t Tube) VolumeM3() float64 { return area(t.BoreM) * t.LengthM }

// halfColumn is the factor by which pressure falls over half of a rise, the gas
// taken as of one temperature and compressibility (barometric formula).
func halfColumn(riseM float64, g *Gas) float64 {
	if riseM == 0 {
		return 1
	}
	return math.Exp(-min(max(gravity*riseM*g.DensityKgM3/(2*g.PressurePa), -1), 1))
}

// duct is a tube made ready for the equations.
type duct struct {
	areaM2, lengthByBore, roughness, loss float64
	flowPerRe                             float64 // w = flowPerRe Re [kg/s]
}

func (t Tube) level(p1, p2 float64, g *Gas) Flow {
	mu := max(g.ViscosityPaS, leastViscosity)
	a := area(t.BoreM)
	d := duct{
		areaM2:       a,
		lengthByBore: max(t.LengthM/t.BoreM, 1),
		roughness:    max(t.RoughnessM/t.BoreM, 0),
		loss:         max(t.K, 0),
		flowPerRe:    mu * a / t.BoreM,
	}
	if g.Liquid {
		return d.liquid(p1-p2, g)
	}
	p2 = max(p2, lowestExit*p1)
	if 0.02*d.lengthByBore+d.loss < adiabaticUpTo {
		return d.adiabatic(p1, p2, g)
	}
	return d.isothermal(p1, p2, g)
}

// start is a first K below the bound kMax that all the drive spent on friction
// would give, allowing for loss (in dynamic pressures) beside the friction.
func (d *duct) start(kMax, loss float64) float64 {
	reSquaredByK := min(kMax/4096, 40) // laminar; f = 0.025
	return kMax * d.lengthByBore / (d.lengthByBore + reSquaredByK*loss)
}

// bracket keeps Newton's steps between the bounds found so far.
type bracket struct{ lo, hi float64 }

// next gives where to evaluate after the residual f, falling with k, was found at
// k with the Newton step proposed.
func (b *bracket) next(k, step, f float64) float64 {
	if f > 0 {
		b.lo = k
	} else {
		b.hi = k
	}
	if n := k + step; n > 0 && n >= b.lo && n <= b.hi {
		return n
	}
	return (b.lo + b.hi) / 2
}
