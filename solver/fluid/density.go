package fluid

import "math"

// Density from temperature and pressure: the gas root.
//
// In reduced form the equation is q(delta) = delta (1 + a01) = p/(rho_r R T), and
// its slope dq/ddelta = 1 + 2 a01 + a02 is positive on the gas side as far as the
// spinodal. Where it is concave, as it is for vapours, Newton's step from the left
// falls short of the root and climbs to it without passing. Small steps are bent by
// the second derivative (Halley). The start is the virial equation with two
// coefficients, which is nearly exact at low pressure.
//
// That the root lies on the gas side is certain in three ways. Above the reducing
// temperature by a twentieth the equation has no spinodal (a test scans for one).
// Where the virial coefficients and the slope show that the state is far from it, as
// in dilute gas, nothing more is needed either. A pure fluid is held against its saturation pressure
// first. What is left is walked through from zero density in small steps.

const (
	farFromSpinodal = 0.25
	noSpinodalTau   = 0.95
	newtonSteps     = 30
	newtonClose     = 1e-8 // step over delta after which the next would be rounding
	halleyWithin    = 0.1  // steps below this part of delta are bent
	walkFirst       = 1e-4
	walkGrowth      = 1.06
	walkEnd         = 5.0 // reduced density no fluid reaches at 70 MPa
)

// root is a solved density with the two derivatives it was solved by.
type root struct{ delta, a01, a02 float64 }

// exponent is d ln rho / d ln p at constant temperature.
func (r root) exponent() float64 { return (1 + r.a01) / (1 + 2*r.a01 + r.a02) }

// gasRoot solves q(delta) = want. It reports false where there is no gas root.
func (e *Evaluator) gasRoot(want float64) (root, bool) {
	r, ok := e.newton(want, e.start(want))
	switch {
	case !ok:
	case e.tau < noSpinodalTau || e.dilute(r):
		return r, true
	case e.m.pure() >= 0 && (e.tau < 1 || r.delta < 1):
		return r, true
	}
	return e.walk(want)
}

// dilute says whether the root is one of a gas that is nearly ideal: the virial
// terms are small, and the slope agrees. (Far below the critical temperatures the
// equation of a mixture is wild beyond the spinodal and shows roots there.)
func (e *Evaluator) dilute(r root) bool {
	virial := r.delta * (math.Abs(e.b) + math.Abs(e.b3)*r.delta)
	slope := 1 + 2*r.a01 + r.a02
	return virial < farFromSpinodal && math.Abs(slope-1) < 3*farFromSpinodal
}

// start solves the virial equation roughly.
func (e *Evaluator) start(want float64) float64 {
	delta := want
	if q := 1 + 4*e.b*want; q > 0 {
		delta = 2 * want / (1 + math.Sqrt(q))
	} else {
		delta = -1 / (2 * e.b)
	}
	for range 2 {
		slope := 1 + delta*(2*e.b+3*e.b3*delta)
		if slope < 0.1 {
			break
		}
		next := delta - (delta*(1+delta*(e.b+e.b3*delta))-want)/slope
		if !(next > 0.5*delta && next < 2*delta) {
			break
		}
		delta = next
	}
	return delta
}

func (e *Evaluator) newton(want, delta float64) (root, bool) {
	for range newtonSteps {
		a01, a02, a03 := e.pressureTerms(delta)
		slope := 1 + 2*a01 + a02
		if !(slope > 0) {
			return root{}, false
		}
		step := (delta*(1+a01) - want) / slope
		if math.Abs(step) <= newtonClose*delta {
			return root{delta - step, a01, a02}, true
		}
		if math.Abs(step) < halleyWithin*delta {
			bend := step / delta * (2*a01 + 4*a02 + a03) / slope / 2
			if math.Abs(bend) < 0.5 {
				step /= 1 - bend
			}
		}
		delta = max(delta-step, delta/2)
		if delta > walkEnd {
			return root{}, false
		}
	}
	return root{}, false
}

// nearlyIdeal is a density up to which the gas is dilute, where a walk may start.
func (e *Evaluator) nearlyIdeal() float64 {
	b, b3 := math.Abs(e.b), math.Abs(e.b3)
	delta := farFromSpinodal / b
	if b3 > 0 {
		delta = 2 * farFromSpinodal / (b + math.Sqrt(b*b+4*farFromSpinodal*b3))
	}
	delta *= 0.999
	if delta > walkFirst {
		a01, a02, _ := e.pressureTerms(delta)
		if e.dilute(root{delta, a01, a02}) {
			return delta
		}
	}
	return walkFirst
}

// walk goes up from low density until the pressure is reached, which brackets
// the root, or until the slope is gone, which means that there is none.
func (e *Evaluator) walk(want float64) (root, bool) {
	low := 0.0
	for high := e.nearlyIdeal(); high < walkEnd; high *= walkGrowth {
		a01, a02, _ := e.pressureTerms(high)
		if high*(1+a01) >= want {
			return e.bracketed(want, low, high)
		}
		if !(1+2*a01+a02 > 0) {
			return root{}, false
		}
		low = high
	}
	return root{}, false
}

// bracketed is Newton's method held inside low..high, halving where it would leave.
func (e *Evaluator) bracketed(want, low, high float64) (root, bool) {
	delta := (low + high) / 2
	for range 200 {
		a01, a02, _ := e.pressureTerms(delta)
		slope := 1 + 2*a01 + a02
		miss := delta*(1+a01) - want
		if miss > 0 {
			high = delta
		} else {
			low = delta
		}
		step := miss / slope
		if slope > 0 && math.Abs(step) <= newtonClose*delta {
			return root{delta - step, a01, a02}, true
		}
		if next := delta - step; slope > 0 && next > low && next < high {
			delta = next
			continue
		}
		if high-low <= 1e-15*high {
			break
		}
		delta = (low + high) / 2
	}
	return root{}, false
}
