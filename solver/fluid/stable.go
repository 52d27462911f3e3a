package fluid

import (
	"fmt"
	"strings"
)

var _ Composed = (*Mixture)(nil)

// Basis says that the equation is GERG-2008 and how good it is for the density of
// natural gases in its normal range (the authors' figure); other mixtures are mostly
// within 0.5 %.
func (m *Mixture) Basis() Basis { return Basis{Equation: "GERG-2008", Phase: Gas, DensityError: 0.001} }

// Stable is nil where the gas is above its dew points at tK [K] and pPa [Pa,
// absolute], else a *StateError that says what condenses. Where the quick bound of
// MaybeTwoPhase is passed, nothing else is asked.
func (m *Mixture) Stable(tK, pPa float64) error {
	if m.pure() >= 0 {
		e := m.Evaluator()
		_, err := e.solve(tK, pPa)
		return err
	}
	if err := m.checkRange(tK, pPa); err != nil {
		return err
	}
	if maybe, _ := m.MaybeTwoPhase(tK, pPa); !maybe {
		return nil
	}
	if words := DewsOf(m).At(pPa).Condensed(tK); words != "" {
		return m.refuse(tK, pPa, "is not all gas: %s", words)
	}
	return nil
}

// Condensed says in words what of the gas is liquid or ice at tK; nothing where it
// is all gas.
func (d Dew) Condensed(tK float64) string {
	var words []string
	if tK <= d.HydrocarbonK {
		mostly := ""
		if d.Mostly != "" {
			mostly = " (the first drop is mostly " + speak(d.Mostly) + ")"
		}
		words = append(words, fmt.Sprintf("its dew point is %.4g degC%s", d.HydrocarbonK-celsiusOffset, mostly))
	}
	if tK <= d.WaterK {
		what := "water dew point"
		if d.Frost {
			what = "frost point"
		}
		words = append(words, fmt.Sprintf("its %s is %.4g degC", what, d.WaterK-celsiusOffset))
	}
	return strings.Join(words, "; ")
}
