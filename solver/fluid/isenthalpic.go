package fluid

import "math"

const (
	temperatureSteps = 100
	temperatureClose = 1e-10 // relative
)

// TemperatureAt finds the temperature [K] at which the gas has the specific
// enthalpy hJKg [J/kg] at pPa [Pa, absolute]: the end of an isenthalpic throttling.
// guessK is where to begin (the temperature before it will do). Enthalpy rises with
// temperature, so there is one answer at most. The error is a *StateError: that of
// the state which stands in the way, for instance a liquid one.
//
// It is Newton's method with cp for a slope, halved where it would pass a temperature
// known to lie beyond the answer, as near the critical point. Where a step lands on a temperature
// with no gas state, it is halved towards that wall, and where the wall is reached
// with enthalpy still too high, its error is the answer. A guess with no gas state
// looks upwards first, where gas is.
func (m *Mixture) TemperatureAt(hJKg, pPa, guessK float64) (float64, error) {
	e := Evaluator{m: m}
	return temperatureAt(func(tK float64) (float64, float64, error) {
		s, err := e.At(tK, pPa)
		return s.H, s.Cp, err
	}, func(tK float64) error {
		return m.refuse(tK, pPa, "has no temperature of the enthalpy %g J/kg", hJKg)
	}, m.reach.lowK, m.reach.highK, hJKg, guessK)
}

// temperatureAt solves at(tK) for its enthalpy; at gives heat capacity too. The
// answer lies from lowK to highK. Where there is none, the error is refuse's.
func temperatureAt(at func(tK float64) (h, cp float64, err error), refuse func(tK float64) error, lowK, highK, hJKg, guessK float64) (float64, error) {
	if math.IsNaN(hJKg) || math.IsNaN(guessK) {
		return 0, refuse(guessK)
	}
	t := max(lowK, min(guessK, highK))
	h, cp, err := at(t)
	for step := 1.0; err != nil && t < highK; step *= 2 {
		t = min(t+step, highK)
		h, cp, err = at(t)
	}
	if err != nil {
		return 0, err
	}
	below, above := math.Inf(-1), math.Inf(1) // where enthalpy was too low, and too high
	wall := math.Inf(-1)
	var blocked error // the state refused at the wall
	for range temperatureSteps {
		next := t + (hJKg-h)/cp
		if math.Abs(next-t) <= temperatureClose*t {
			return next, nil
		}
		if h < hJKg {
			below = t
			if next >= above {
				next = (t + above) / 2
			}
		} else {
			above = t
			if next <= below {
				next = (t + below) / 2
			}
		}
		if next <= wall {
			if t-wall <= 1e-7*t {
				return 0, blocked
			}
			next = (t + wall) / 2
		}
		if next > highK && t < highK {
			next = highK
		}
		hNext, cpNext, err := at(next)
		switch {
		case err == nil:
			t, h, cp = next, hNext, cpNext
		case next > t:
			return 0, err
		default:
			wall, blocked = next, err
		}
	}
	return 0, refuse(t)
}
