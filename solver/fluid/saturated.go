package fluid

import (
	"fmt"
	"math"
)

// saturation gives the temperature [K] at which a pure fluid condenses under pPa,
// from equal fugacities of its two roots, its critical pressure, and why there is
// none. Where only one root exists, that says which side it is on: at a pressure
// below critical, gas is hotter than saturation and liquid colder.
func (u *makeup) saturation(pPa float64) (tK, criticalPa float64, words string) {
	c, known := criticalOf(u.names[0])
	if !known {
		return math.NaN(), math.NaN(), "the critical point of " + u.names[0] + " is not known"
	}
	if pPa >= c.pC {
		return math.NaN(), c.pC, fmt.Sprintf("above its critical pressure of %.4g bara it has no dew point", c.pC/1e5)
	}
	switch f := u.f.(type) {
	case *gergFugacities:
		i := f.trials[0].m.parts[0].i
		return saturationBack(i, pPa, lowestK, components[i].tC, c.pC)
	case *ownFugacities:
		return saturationBack(f.e.m.parts[0].i, pPa, f.e.m.reach.lowK, f.e.m.criticalK, c.pC)
	}
	// Where both roots exist, the one of less fugacity is stable.
	gasIsStable := func(tK float64) (gas, any bool) {
		one := []float64{1}
		var g, l [1]float64
		hasGas := u.f.lnPhi(g[:], one, tK, pPa, Gas)
		hasLiquid := u.f.lnPhi(l[:], one, tK, pPa, Liquid)
		return hasGas && (!hasLiquid || g[0] <= l[0]), hasGas || hasLiquid
	}
	low, high := 0.25*c.tC, c.tC
	for range 60 {
		mid := (low + high) / 2
		gas, any := gasIsStable(mid)
		if gas {
			high = mid
			continue
		}
		if !any && mid > 0.6*c.tC {
			return math.NaN(), c.pC, "no saturation temperature was found"
		}
		low = mid
	}
	if gas, _ := gasIsStable(high); !gas || low == 0.25*c.tC {
		return math.NaN(), c.pC, "no saturation temperature was found within the range of the equation of state"
	}
	return high, c.pC, ""
}

// saturationBack reads a substance's saturation (or sublimation) pressure backwards
// between two temperatures.
func saturationBack(i int, pPa, low, high, criticalPa float64) (tK, pC float64, words string) {
	if low >= high || gasLimitPa(i, low) > pPa {
		return math.NaN(), criticalPa, fmt.Sprintf("below %.4g K, where the equation of state ends", low)
	}
	for range 60 {
		if mid := (low + high) / 2; gasLimitPa(i, mid) < pPa {
			low = mid
		} else {
			high = mid
		}
	}
	return (low + high) / 2, criticalPa, ""
}
