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
	if m, ok := u.f.(*gergFugacities); ok {
		return gergSaturation(m.trials[0].m.parts[0].i, pPa, c.pC)
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

// gergSaturation reads a component's saturation (or sublimation) pressure backwards.
func gergSaturation(i int, pPa, criticalPa float64) (tK, pC float64, words string) {
	low, high := lowestK, components[i].tC
	if gasLimitPa(i, low) > pPa || low >= high {
		return math.NaN(), criticalPa, fmt.Sprintf("below %g K, where the equation of state ends", lowestK)
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
