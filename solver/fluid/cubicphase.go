package fluid

import (
	"fmt"
	"math"
)

// Where a pure substance of the Peng-Robinson equation is a gas.
//
// The limit is that of GERG-2008 or of the substance's multiparameter equation where it
// has one, else a published saturation equation (Peng-Robinson's own saturation
// pressure is off by some per cent, more for polar substances), else the pressure at
// which the equation's liquid and gas have equal fugacities.
//
// Below the triple point the gas ends earlier, at the sublimation pressure. Its
// slope in 1/T is that of boiling times one plus the ratio of the heats of melting
// and boiling, which is below 0.5 for every substance here; so the line of 1.5
// times the slope from the triple point lies below the sublimation pressure, and
// what is under it is surely gas. The line refuses some gas, never too little.

const freezingFactor = 1.5

// pureGas refuses a state in which the pure fluid is not gas.
func (c *Cubic) pureGas(tK, pPa float64) error {
	s := &substances[c.only]
	if tK >= s.tC {
		return nil
	}
	limit := c.pureLimitPa(tK)
	switch {
	case pPa <= limit:
		return nil
	}
	return c.refuse(tK, pPa, "%s", noGas(c.only, tK, limit))
}

// noGas says of substance i what it is above the pressure up to which it is gas.
func noGas(i int, tK, limitPa float64) string {
	s := &substances[i]
	switch {
	case tK >= s.tripleK:
		return fmt.Sprintf("is liquid: above %.4g bara it is not a gas at this temperature", limitPa/1e5)
	case i < componentCount:
		return fmt.Sprintf("is solid: above %.4g bara it is not a gas at this temperature", limitPa/1e5)
	}
	return fmt.Sprintf("may be solid: below its triple point of %.5g degC it is surely a gas up to %.3g bara only", s.tripleK-celsiusOffset, limitPa/1e5)
}

// pureLimitPa is the pressure up to which the pure fluid is gas below its critical
// temperature.
func (c *Cubic) pureLimitPa(tK float64) float64 {
	if hasSaturation(c.only) {
		return gasLimitPa(c.only, tK)
	}
	tripleK := substances[c.only].tripleK
	if tK >= tripleK {
		return c.boilingPa(tK)
	}
	return freezingLimitPa(tripleK, tK, c.boilingPa)
}

// freezingLimitPa is the line below the triple point; boilingPa is the saturation
// pressure above it.
func freezingLimitPa(tripleK, tK float64, boilingPa func(tK float64) float64) float64 {
	const step = 0.1
	atTriple := boilingPa(tripleK)
	slope := math.Log(boilingPa(tripleK+step)/atTriple) / (1/tripleK - 1/(tripleK+step))
	return atTriple * math.Exp(-freezingFactor*slope*(1/tK-1/tripleK))
}

// boilingPa is the saturation pressure of a substance without a better equation.
func (c *Cubic) boilingPa(tK float64) float64 {
	if l := &boilingLines[c.only-componentCount]; l.tC > 0 {
		return l.pressurePa(tK)
	}
	if p, ok := c.equalFugacityPa(tK); ok {
		return p
	}
	return substances[c.only].wilsonPa(tK)
}

// wilsonPa is Wilson's estimate of the saturation pressure, G. M. Wilson, 65th
// National AIChE Meeting (1968).
func (s *substance) wilsonPa(tK float64) float64 {
	return s.pC * math.Exp(5.373*(1+s.acentric)*(1-s.tC/tK))
}

// equalFugacityPa is the pressure at which the pure fluid's liquid and gas roots
// have equal fugacities, by Newton's method in ln p, whose slope is Z_l - Z_g. It
// reports false close to the critical point, where the two cannot be told apart.
func (c *Cubic) equalFugacityPa(tK float64) (float64, bool) {
	lnP := math.Log(substances[c.only].wilsonPa(tK))
	rt := cubicR * tK
	a, _, _ := c.attractionAt(tK)
	for range 60 {
		pPa := math.Exp(lnP)
		bp := c.b * pPa / rt
		least, greatest := newCubicPolynomial(a*pPa/(rt*rt), bp).roots(bp)
		if least == greatest {
			// Outside the loop: towards it.
			if least > criticalVB*bp {
				lnP += 0.02
			} else {
				lnP -= 0.02
			}
			continue
		}
		gibbs := func(z float64) float64 {
			return z - math.Log(z-bp) - a/(2*math.Sqrt2*c.b*rt)*math.Log((z+onePlusRoot2*bp)/(z+oneMinusRoot2*bp))
		}
		step := (gibbs(least) - gibbs(greatest)) / (least - greatest)
		lnP -= max(-0.5, min(step, 0.5))
		if math.Abs(step) < 1e-11 {
			return math.Exp(lnP), true
		}
	}
	return 0, false
}

// Nitrogen dioxide pairs to N2O4. More of it paired than this is refused: it is as
// much as the density may err.
const mostPaired = 0.02

// pairedShare is the part of nitrogen dioxide that is paired at equilibrium, pPa being
// its partial pressure as if none were. The constant of N2O4 = 2 NO2 follows from the
// reaction's heat and entropy, 57.1 kJ/mol and 175.7 J/(mol K) at 1 bar (handbook
// values, from memory).
func pairedShare(tK, pPa float64) float64 {
	ratio := 8 * pPa / (1e5 * math.Exp((175.7-57.1e3/tK)/cubicR))
	return 1 - 2/(1+math.Sqrt(1+ratio))
}
