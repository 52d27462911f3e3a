package fluid

import "fmt"

// MaybeTwoPhase says whether the gas may be partly condensed at tK [K] and pPa
// [Pa, absolute], and why. Outside the range of the equation it says no: At refuses
// there in any case.
//
// A pure fluid is held against its saturation (or sublimation) pressure. A mixture
// is held against Raoult's law: the shares of pressure over the saturation
// pressures must sum to less than 1. Water, which makes a liquid of its own, is
// judged by itself, and components above 1.8 times their critical temperature are
// left out. The law overstates condensation, the more so the higher the
// pressure: on the dew curves of testdata/fluid/mixture-dew-check.csv the sum is
// never below 1, and it falls below 1 within 4 K of the dew temperature up to 5
// bar, 13 K up to 20 bar and 45 K up to 70 bar (65 K at 90 bar). So "no" can be relied on, and "yes" calls for
// a dew point.
func (m *Mixture) MaybeTwoPhase(tK, pPa float64) (bool, string) {
	if !m.reach.holds(tK, pPa) {
		return false, ""
	}
	if i := m.pure(); i >= 0 {
		if limit := gasLimitPa(i, tK); tK < m.criticalK && pPa > limit {
			return true, fmt.Sprintf("%s condenses above %.4g bara at this temperature", spoken(i), limit/1e5)
		}
		return false, ""
	}
	var sum, most float64
	heaviest := 0
	for _, p := range m.parts {
		if tK > neverCondenses*components[p.i].tC {
			continue
		}
		share := p.x * pPa / gasLimitPa(p.i, tK)
		if p.i == water {
			if share >= 1 {
				return true, fmt.Sprintf("water may condense: its share of the pressure is %.3g times its saturation pressure", share)
			}
			continue
		}
		sum += share
		if share > most {
			most, heaviest = share, p.i
		}
	}
	if sum >= 1 {
		return true, fmt.Sprintf("may be partly liquid: shares of pressure over saturation pressures sum to %.3g, most of it %s", sum, spoken(heaviest))
	}
	return false, ""
}

// dryPa is a pressure below which MaybeTwoPhase says no at tK [K] and above: saturation
// pressures rise with temperature. What the saturation lines of solid and liquid miss each
// other by, where they meet, is left a thousandth.
func (m *Mixture) dryPa(tK float64) float64 {
	const surely = 0.999
	if i := m.pure(); i >= 0 {
		return surely * gasLimitPa(i, min(tK, m.criticalK))
	}
	var perPa, waterPerPa float64
	for _, p := range m.parts {
		switch share := p.x / gasLimitPa(p.i, tK); {
		case tK > neverCondenses*components[p.i].tC:
		case p.i == water:
			waterPerPa = share
		default:
			perPa += share
		}
	}
	return surely / max(perPa, waterPerPa)
}

// neverCondenses is the reduced temperature from which a component does not count.
const neverCondenses = 1.8

func inRange(tK, pPa float64) bool {
	return tK >= lowestK && tK <= highestK && pPa > 0 && pPa <= highestPa
}
