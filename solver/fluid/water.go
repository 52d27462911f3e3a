package fluid

import (
	"fmt"
	"math"
	"sync"
)

// The water dew point of a gas, and its frost point.
//
// At the dew point the water in the gas has the fugacity of pure water under the
// same pressure:
//
//	y phi(gas) p = p_sat phi_sat exp(V (p - p_sat)/(R T))
//
// The right side rests on water's own saturation equations (condensedwater.go),
// the left on the fugacity coefficient of water in the gas by its equation of state;
// so what an equation of state does badly, the vapour pressure of water, it is not
// asked for. What the right side over y p amounts to is the enhancement factor of
// humidity tables. What dissolves in the water lowers its fugacity a little (carbon
// dioxide: 0.6 % at 10 bar, 0.1 K); that is left out, and so are hydrates, which
// may form before ice or water does.

var steamMixture = sync.OnceValue(func() *Mixture {
	m, err := New(map[string]float64{"water": 1})
	if err != nil {
		panic(err) // the name is in the table
	}
	return m
})

const (
	waterLowestK  = 130.0 // of a dew point looked for
	waterHighestK = 640.0
	waterSteps    = 100
	waterCloseK   = 1e-10
	wallCloseK    = 1e-6
	fractionClose = 1e-12 // relative
)

// waterLnPhi gives ln phi of water, at place at, in the gas; ln is memory.
func (u *makeup) waterLnPhi(ln []float64, at int, tK, pPa float64) (float64, bool) {
	if !u.f.lnPhi(ln, u.z, tK, pPa, Gas) {
		return 0, false
	}
	if g, ok := u.f.(*gergFugacities); ok {
		return ln[at] + airCorrection(g.trials[Gas].m.parts, tK, pPa), true
	}
	return ln[at], true
}

// waterDew gives the temperature [K] at which water at place at condenses under
// pPa, and whether as ice. It reports false where there is none from 130 to 640 K
// and where the gas has no gas state at it (it condenses itself first).
func (u *makeup) waterDew(at int, pPa float64) (tK float64, frost, ok bool) {
	if len(u.z) == 1 {
		return steamDew(pPa)
	}
	ln := make([]float64, len(u.z))
	lnY := math.Log(u.z[at] * pPa)
	// excess is how far the water in the gas is above what it can hold.
	excess := func(tK float64) (float64, bool) {
		lnPhi, ok := u.waterLnPhi(ln, at, tK, pPa)
		var limit float64
		limit, frost = lnWaterFugacity(tK, pPa)
		return lnY + lnPhi - limit, ok && !math.IsNaN(limit)
	}
	// An ideal gas gives the start; what the gas really is moves it by a few kelvin.
	low, high := waterLowestK, waterHighestK
	for range 40 {
		mid := (low + high) / 2
		if limit, _ := lnWaterFugacity(mid, pPa); limit < lnY {
			low = mid
		} else {
			high = mid
		}
	}
	tK = high
	low, high = waterLowestK, waterHighestK
	wall := false // low is where the gas ends
	lastK, last := math.NaN(), math.NaN()
	for range waterSteps {
		here, held := excess(tK)
		if !held {
			low, wall = tK, true
			if tK = min(tK+2, (tK+high)/2); high-low < wallCloseK {
				return 0, false, false
			}
			continue
		}
		if here > 0 {
			low, wall = tK, false
		} else {
			high = tK
		}
		slope := (here - last) / (tK - lastK)
		if !(slope < 0) {
			slope = -25 / tK // of the saturation pressure, roughly
		}
		lastK, last = tK, here
		next := tK - here/slope
		if math.Abs(next-tK) < waterCloseK {
			return next, frost, true
		}
		if !(next > low && next < high) {
			next = (low + high) / 2
		}
		if wall && high-low < wallCloseK || high-low < waterCloseK {
			return tK, frost, !wall && low > waterLowestK && high < waterHighestK
		}
		tK = next
	}
	return 0, false, false
}

// steamDew is where pure water condenses, or freezes out.
func steamDew(pPa float64) (tK float64, frost, ok bool) {
	saturation := func(tK float64) (float64, bool) {
		if tK < waterTripleK {
			return gasLimitPa(water, tK), true
		}
		return waterSaturationPa(tK), false
	}
	low, high := waterLowestK, waterCriticalK
	for range 80 {
		tK = (low + high) / 2
		var p float64
		if p, frost = saturation(tK); p < pPa {
			low = tK
		} else {
			high = tK
		}
	}
	return tK, frost, low > waterLowestK && high < waterCriticalK
}

// WaterFraction gives the mole fraction of water in a gas whose water dew point (or
// frost point: below 0 degC over ice) is dewK [K] at pPa [Pa, absolute]. make gives
// the gas with the mole fraction y of water in it; it is asked for several. The
// error says what cannot be: a dew point above what pure water has at that pressure,
// a gas that condenses itself, a temperature outside 130 to 640 K.
func WaterFraction(with func(y float64) (Composed, error), dewK, pPa float64) (float64, error) {
	if !(dewK >= waterLowestK && dewK <= waterHighestK) {
		return 0, fmt.Errorf("a water dew point of %.5g degC is outside %g to %g degC", dewK-celsiusOffset, waterLowestK-celsiusOffset, waterHighestK-celsiusOffset)
	}
	if !(pPa > 0 && pPa <= highestPa) {
		return 0, fmt.Errorf("a water dew point at %.5g bara is outside 0 to %g bara", pPa/1e5, highestPa/1e5)
	}
	limit, _ := lnWaterFugacity(dewK, pPa)
	y := math.Exp(limit) / pPa
	for range waterSteps {
		if !(y < 1) {
			break
		}
		f, err := with(y)
		if err != nil {
			return 0, err
		}
		u := makeupOf(f)
		at, _ := u.water()
		if at < 0 {
			return 0, fmt.Errorf("the gas with water in it has no water")
		}
		lnPhi, ok := u.waterLnPhi(make([]float64, len(u.z)), at, dewK, pPa)
		if !ok {
			if _, err := f.LnPhi(dewK, pPa, Gas); err != nil {
				return 0, err
			}
			return 0, fmt.Errorf("the gas has no state at its water dew point")
		}
		next := math.Exp(limit-lnPhi) / pPa
		if math.Abs(next-y) <= fractionClose*y {
			return next, nil
		}
		y = next
	}
	return 0, fmt.Errorf("no gas has a water dew point of %.5g degC at %.5g bara: water alone boils there at a higher pressure", dewK-celsiusOffset, pPa/1e5)
}
