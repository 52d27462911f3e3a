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
// It is Newton's method with cp for a slope. Where a step lands on a temperature
// with no gas state, it is halved towards that wall, and where the wall is reached
// with enthalpy still too high, its error is the answer. A guess with no gas state
// looks upwards first, where gas is.
func (m *Mixture) TemperatureAt(hJKg, pPa, guessK float64) (float64, error) {
	if math.IsNaN(hJKg) || math.IsNaN(guessK) {
		return 0, m.refuse(guessK, pPa, "has no temperature of the enthalpy %g J/kg", hJKg)
	}
	e := m.Evaluator()
	t := max(lowestK, min(guessK, highestK))
	s, err := e.At(t, pPa)
	for step := 1.0; err != nil && t < highestK; step *= 2 {
		t = min(t+step, highestK)
		s, err = e.At(t, pPa)
	}
	if err != nil {
		return 0, err
	}
	wall := math.Inf(-1)
	var blocked error // the state refused at the wall
	for range temperatureSteps {
		next := t + (hJKg-s.H)/s.Cp
		if math.Abs(next-t) <= temperatureClose*t {
			return next, nil
		}
		if next <= wall {
			if t-wall <= 1e-7*t {
				return 0, blocked
			}
			next = (t + wall) / 2
		}
		if next > highestK && t < highestK {
			next = highestK
		}
		there, err := e.At(next, pPa)
		switch {
		case err == nil:
			t, s = next, there
		case next > t:
			return 0, err
		default:
			wall, blocked = next, err
		}
	}
	return 0, m.refuse(t, pPa, "has no temperature of the enthalpy %g J/kg", hJKg)
}
