package device

import "math"

// Liquids. A throttle passes w = K sqrt(rho1 dp) until the narrowest place of the
// jet comes to the vapour pressure; from there on it is choked. IEC 60534-2-1:2011
// (clause 5) has
//
//	dp = min(p1 - p2, FL^2 (p1 - FF pv)),  FF = 0.96 - 0.28 sqrt(pv/pc)
//
// with a corner in the middle, which a solver cannot take. In x = (p1 - p2)/p1 and
// xc = FL^2 (1 - FF pv/p1) the corner is replaced by a parabola that has the value
// and slope of both lines at xc (1 -+ 1/10):
//
//	G = x - (x - (1-eps) xc)^2/(4 eps xc),  eps = 1/10
//
// G rises all the way and stays below the standard's minimum: by 2.5 % at x = xc,
// that is 1.3 % in flow, and not at all outside of the tenth on either side.
// Below x = 1e-6 the root is straightened as that of a gas is.
//
// Holes and nozzles take the same form with a recovery factor of their own: a bore
// is choked with its jet at the vapour pressure, w = Cc A sqrt(2 rho (p1 - pv)) with
// the contraction Cc = 0.62 (W. H. Nurick, J. Fluids Eng. 98 (1976) 681), which is
// FL = 0.62/Cd; a relief nozzle has FL = 1.
//
// In a tube w^2 (f L/D + K) = 2 rho A^2 (p1 - p2 - rho g h), Darcy and Weisbach,
// with the friction of the gas tubes (friction.go) and the density at the mean
// pressure. No acceleration, no exit loss, no choke: where the pressure falls to
// that of the vapour the caller has to say so.

const (
	choking = 0.1 // eps
	// leastMargin bounds 1 - FF pv/p1 where the liquid boils before the device and
	// the law no longer holds. No liquid has less: FF is at most 0.96.
	leastMargin = 0.04
	// usualRecovery stands for an FL not given (globe valves; common practice).
	usualRecovery = 0.9
	// contraction is Cc of a sharp-edged hole.
	contraction = 0.62
)

// CriticalRatioFactor is FF of IEC 60534-2-1: 0.96 - 0.28 sqrt(pv/pc), 0.96 where
// the critical pressure is 0, that is not known.
func CriticalRatioFactor(vapourPressurePa, criticalPa float64) float64 {
	if !(criticalPa > 0) {
		return 0.96
	}
	return 0.96 - 0.28*math.Sqrt(min(max(vapourPressurePa/criticalPa, 0), 1))
}

// recovered is FL^2.
func recovered(fl float64) float64 {
	if !(fl > 0) {
		fl = usualRecovery
	}
	return min(max(fl*fl, smallestChoke), 1)
}

// jet is FL^2 of a hole.
func jet(cd float64) float64 { return recovered(contraction / cd) }

// JetRatio is the ratio (p1 - p2)/(p1 - pv) from which a hole of coefficient cd
// cavitates: that at which its jet comes to the vapour pressure.
func JetRatio(cd float64) float64 { return jet(cd) }

// ChokedDrop gives the drop [Pa] from which the standard calls a liquid choked.
func (c Coefficient) ChokedDrop(pUp float64, g *Gas) float64 {
	xc, _ := chokeAt(pUp, recovered(c.FL), g)
	return xc * pUp
}

// IncipientRatio is the ratio (p1 - p2)/(p1 - pv) from which cavitation is to be
// expected: x_Fz = 0.9/sqrt(1 + 3 Fd sqrt(Cv/(1.17 FL))) of IEC 60534-8-4 for valves
// whose maker gives none (from memory; Fd = 1 where not given), but no more than
// FL^2, with which the flow is choked.
func (c Coefficient) IncipientRatio() float64 {
	fl2, fd := recovered(c.FL), c.Fd
	if !(fd > 0) {
		fd = 1
	}
	return min(0.9/math.Sqrt(1+3*fd*math.Sqrt(max(c.Cv, 0)/(1.17*math.Sqrt(fl2)))), fl2)
}

// chokeAt gives xc and its derivative by p1.
func chokeAt(pUp, fl2 float64, g *Gas) (xc, byUp float64) {
	boils := CriticalRatioFactor(g.VapourPressurePa, g.CriticalPa) * g.VapourPressurePa / pUp
	if 1-boils <= leastMargin {
		return fl2 * leastMargin, 0
	}
	return fl2 * (1 - boils), fl2 * boils / pUp
}

// sized is the drop that sizes a passage, over p1, and its derivatives.
type sized struct {
	x         float64 // the drop there is, over p1
	g         float64
	byX, byUp float64 // of g; byUp at constant x
	choked    bool
}

func incompressible(x, pUp, fl2 float64, g *Gas) sized {
	xc, xcByUp := chokeAt(pUp, fl2, g)
	y := x / xc
	switch {
	case y <= 1-choking:
		return sized{x: x, g: x, byX: 1}
	case y >= 1+choking:
		return sized{x: x, g: xc, byUp: xcByUp, choked: true}
	}
	over := y - (1 - choking)
	s := sized{x: x, g: xc * (y - over*over/(4*choking)), byX: 1 - over/(2*choking), choked: y >= 1}
	s.byUp = (s.g/xc - y*s.byX) * xcByUp
	return s
}

// throttle sets the flow k sqrt(p1 rho1 g), k in m2.
func (s *sized) throttle(f *Flow, k, pUp float64, g *Gas) {
	load, perPa := k*g.load(pUp), 1/pUp
	u, slope := straightened(s.g)
	if s.g >= straightBelow {
		u = math.Sqrt(s.g)
		slope = 0.5 / u
	}
	byDrop := load * slope * s.byX * perPa
	f.W = load * u
	f.Up = byDrop*(1-s.x) + load*slope*s.byUp + f.W*perPa*(0.5+0.5*g.Exponent)
	f.Down = -byDrop
	f.Exponent, f.Root, f.Choked = 0.5, load/(2*slope), s.choked
}

// linear sets the flow scale g, scale being proportional to p1 rho1.
func (s *sized) linear(f *Flow, scale, pUp float64, g *Gas) {
	byDrop := scale * s.byX / pUp
	f.W = scale * s.g
	f.Up = byDrop*(1-s.x) + scale*s.byUp + f.W*(1+g.Exponent)/pUp
	f.Down = -byDrop
}

// columnPa is the weight of the liquid over a rise.
func columnPa(riseM float64, g *Gas) float64 { return gravity * riseM * g.DensityKgM3 }

// HeadPa is what the pressure falls by from in to out of a tube at rest, at the
// pressure and temperature of g.
func (t Tube) HeadPa(g *Gas) float64 {
	if t.RiseM == 0 || g.Liquid {
		return columnPa(t.RiseM, g)
	}
	half := halfColumn(t.RiseM, g)
	return g.PressurePa * (1/half - half)
}

// liquid is the flow of a liquid under the drop that its weight leaves.
func (d *duct) liquid(fl *Flow, drop float64, g *Gas, from *Start) {
	perRe := squared(d.flowPerRe/d.areaM2) / (2 * g.DensityKgM3) // dynamic pressure is perRe Re^2
	perK := perRe * d.lengthByBore
	if drop <= 0 {
		fl.rest(d.flowPerRe / 64 / perK)
		return
	}
	kMax := drop / perK
	in := bracket{0, kMax * (1 + 1e-9)}
	at, wall := from.begin(kMax, d)
	if at.k == 0 {
		at = from.friction(kMax*wall/(wall+d.loss), d.roughness)
	}
	for range maxSteps {
		dynamic := perRe * at.re * at.re * d.loss
		f := drop - perK*at.k - dynamic
		z := toRoot(f, perK*at.k+2*dynamic*at.exponent, -2*dynamic*at.curve())
		if math.Abs(z) <= settled {
			at = at.moved(z)
			break
		}
		at = from.friction(in.next(at.k, z, f), d.roughness)
	}
	fall := perK*at.k + 2*perRe*at.re*at.re*d.loss*at.exponent
	w := d.flowPerRe * at.re
	up := w * at.exponent / fall
	fl.W, fl.Up, fl.Down, fl.Root, fl.Choked = w, up, -up, max(w, smallestRoot), false
	fl.exponent(at.exponent * drop / fall)
}
