package fluid

import "math"

// Density from temperature and pressure: the liquid root.
//
// On the liquid side the reduced pressure q(delta) of density.go is convex, so
// Newton's step from the right falls short of the root and comes down to it without
// passing, as far as the spinodal, where the slope is gone. The start is three times
// the pseudo-critical density, about where liquids are when they freeze; where the
// pressure is not reached there, the search goes up. Where the equation has no
// spinodal, as well above the critical temperature, the way down ends at its only
// root.

const (
	packedStart  = 3.0  // over the pseudo-critical density
	packedGrowth = 1.04 // factor upwards
	packedEnd    = 5.0  // over the pseudo-critical density: no fluid is as dense below 70 MPa
	longestFall  = 0.1  // of the density in one step down
	liquidSteps  = 200
	besideLiquid = 1.01 // over a density known
	surelyLiquid = 1.7  // over the pseudo-critical density
)

// liquidRoot solves q(delta) = want from the dense side. It reports false where
// there is no liquid root.
func (e *Evaluator) liquidRoot(want float64) (root, bool) {
	if e.tau < noSpinodalTau {
		if r, ok := e.newton(want, e.start(want)); ok {
			return r, true
		}
	}
	unit := e.m.pseudoCritical() / e.m.rhoR
	delta, below := packedStart*unit, 0.0
	a01, a02, _ := e.pressureTerms(delta)
	for !(delta*(1+a01) >= want && 1+2*a01+a02 > 0) {
		if 1+2*a01+a02 > 0 {
			below = delta
		} else {
			below = 0
		}
		if delta *= packedGrowth; delta > packedEnd*unit {
			return root{}, false
		}
		a01, a02, _ = e.pressureTerms(delta)
	}
	if below > 0 {
		return e.bracketed(want, below, delta)
	}
	return e.comeDown(want, delta, a01, a02)
}

// comeDown is Newton's method from delta, to the right of the liquid root.
func (e *Evaluator) comeDown(want, delta, a01, a02 float64) (root, bool) {
	for range liquidSteps {
		slope := 1 + 2*a01 + a02
		if !(slope > 0) {
			return root{}, false
		}
		step := (delta*(1+a01) - want) / slope
		if math.Abs(step) <= newtonClose*delta {
			return root{delta - step, a01, a02}, true
		}
		if step < 0 { // passed it: not convex here, but the slope held all the way
			return e.bracketed(want, delta, delta/(1-longestFall))
		}
		delta -= min(step, longestFall*delta)
		a01, a02, _ = e.pressureTerms(delta)
	}
	return root{}, false
}

// liquidRootBeside is liquidRoot where one at a similar state is known. It starts a
// little to its right, and so comes down to the same root wherever that is a liquid's
// density and not near critical; else it starts afresh.
func (e *Evaluator) liquidRootBeside(want, delta float64) (root, bool) {
	delta *= besideLiquid
	if delta*e.m.rhoR < surelyLiquid*e.m.pseudoCritical() {
		return e.liquidRoot(want)
	}
	a01, a02, _ := e.pressureTerms(delta)
	if !(delta*(1+a01) >= want && 1+2*a01+a02 > 0) {
		return e.liquidRoot(want)
	}
	if r, ok := e.comeDown(want, delta, a01, a02); ok {
		return r, true
	}
	return e.liquidRoot(want)
}

// pseudoCritical is the density [mol/m3] of the components' critical volumes added up.
func (m *Mixture) pseudoCritical() float64 {
	if m.own != nil {
		return m.rhoR
	}
	v := 0.0
	for _, p := range m.parts {
		v += p.x / components[p.i].rhoC
	}
	return 1 / v
}

// solveLiquid checks the range, sets the temperature and finds the liquid root.
func (e *Evaluator) solveLiquid(tK, pPa float64) (root, error) {
	m := e.m
	if err := m.checkRange(tK, pPa); err != nil {
		return root{}, err
	}
	e.setTemperature(tK)
	r, ok := e.liquidRoot(pPa / (m.rhoR * m.gasR * tK))
	if !ok {
		return root{}, m.refuse(tK, pPa, "has no liquid state: it boils away before it comes down to that pressure")
	}
	return r, nil
}
