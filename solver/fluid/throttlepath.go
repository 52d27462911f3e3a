package fluid

import "math"

// Along a throttling the gas keeps its enthalpy, and its temperature falls (or, for
// hydrogen and helium, rises) as the pressure does, while its dew points move too. So
// it may condense half way and be dry again at the end: carbon dioxide from 50 bara
// and 20 degC is part liquid at 20 bara and gas at 1 bara. The path is looked at in
// steps of equal ratio of pressure, and more closely about the least margin.

const (
	pathSteps   = 16
	pathClosing = 4 // halvings about the least margin
)

// ThrottlePath follows f at the specific enthalpy hJKg [J/kg] from p1Pa down to p2Pa
// [Pa, absolute] and gives the least margin [K] of its temperature over both its dew
// points, the pressure where that is, and the dew points there. The margin is
// negative where the gas is colder than a dew point and 0 where it has no gas state
// below a dew point, which is where it is said to condense; +Inf where there is no
// dew point on the way. NaN for pressures that are none, and where the path leaves
// the range of the equation of state before anything is known of it.
func ThrottlePath(f Composed, hJKg, p1Pa, p2Pa float64) (leastMarginK, atPa float64, dew Dew) {
	return DewsOf(f).Throttle(hJKg, p1Pa, p2Pa)
}

// Throttle is ThrottlePath of the fluid.
func (d *Dews) Throttle(hJKg, p1Pa, p2Pa float64) (leastMarginK, atPa float64, dew Dew) {
	if !(p1Pa > 0 && p2Pa > 0) || math.IsInf(p1Pa, 1) || math.IsNaN(hJKg) {
		return math.NaN(), p1Pa, d.At(math.NaN())
	}
	guessK := 300.0
	at := func(pPa float64) (float64, Dew) {
		here := d.At(pPa)
		tK, err := d.wet.TemperatureAt(hJKg, pPa, guessK)
		switch {
		case err == nil:
		case math.IsNaN(here.HighestK()):
			return math.NaN(), here
		default:
			return 0, here
		}
		guessK = tK
		return here.Margin(tK), here
	}
	ratio := math.Pow(p2Pa/p1Pa, 1.0/pathSteps)
	leastMarginK, atPa = math.NaN(), p1Pa
	for k, pPa := 0, p1Pa; k <= pathSteps; k, pPa = k+1, pPa*ratio {
		if k == pathSteps {
			pPa = p2Pa
		}
		m, here := at(pPa)
		if m < leastMarginK || math.IsNaN(leastMarginK) {
			leastMarginK, atPa, dew = m, pPa, here
		}
	}
	high, low := max(p1Pa, p2Pa), min(p1Pa, p2Pa)
	for range pathClosing {
		ratio = math.Sqrt(ratio)
		centre := atPa
		for _, pPa := range [2]float64{centre * ratio, centre / ratio} {
			if pPa > high || pPa < low {
				continue
			}
			if m, here := at(pPa); m < leastMarginK {
				leastMarginK, atPa, dew = m, pPa, here
			}
		}
	}
	return leastMarginK, atPa, dew
}

// Margin is how far tK is above the higher dew point [K]; +Inf where there is none.
func (d Dew) Margin(tK float64) float64 {
	if h := d.HighestK(); !math.IsNaN(h) {
		return tK - h
	}
	return math.Inf(1)
}
