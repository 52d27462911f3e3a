package fluid

import (
	"fmt"
	"math"
	"strings"
)

var _ Composed = (*Mixture)(nil)

// Whether a fluid is wholly gas.
//
// A pure fluid is held against its saturation or sublimation pressure, as At does.
// Of a mixture the part without water is held against the tangent plane of its
// equation's Gibbs energy (stability.go), and its water against its own dew or frost
// point, which rests on water's own saturation equations: what dew points say and what
// Stable says agree. Solids other than ice are not looked at.

// Stable is nil where the gas is wholly gas at tK [K] and pPa [Pa, absolute], else a
// *StateError that says what condenses. Where the quick bound of MaybeTwoPhase is
// passed, nothing else is asked.
func (m *Mixture) Stable(tK, pPa float64) error {
	e := Evaluator{m: m}
	if _, err := e.solve(tK, pPa); err != nil || m.pure() >= 0 {
		return err
	}
	if maybe, _ := m.MaybeTwoPhase(tK, pPa); !maybe {
		return nil
	}
	if words := condensed(m, tK, pPa); words != "" {
		return m.refuse(tK, pPa, "is not all gas: %s", words)
	}
	return nil
}

// Stable is as Mixture.Stable.
func (c *Cubic) Stable(tK, pPa float64) error {
	if _, err := c.gas(tK, pPa); err != nil || c.only >= 0 {
		return err
	}
	if words := condensed(c, tK, pPa); words != "" {
		return c.refuse(tK, pPa, "is not all gas: %s", words)
	}
	return nil
}

// condensed says in words what of the mixture f is no gas; nothing where all is.
func condensed(f Composed, tK, pPa float64) string {
	dews := DewsOf(f)
	only := Dew{HydrocarbonK: math.NaN()}
	only.WaterK, only.Frost = dews.Water(pPa)
	words := []string{}
	if dry := dews.dry(); dry != nil {
		u := makeupOf(dry)
		index := make([]int, len(u.names))
		for k, name := range u.names {
			index[k] = substanceByName()[name]
		}
		switch s, ok := splits(u.f, index, u.z, tK, pPa, Gas); {
		case !ok:
			words = append(words, "besides its water it has no gas state")
		case s != nil:
			words = append(words, s.words(index))
		}
	}
	if water := only.Condensed(tK); water != "" {
		words = append(words, water)
	}
	return strings.Join(words, "; ")
}

// Condensed says in words what of the gas is liquid or ice at tK; nothing where it
// is all gas.
func (d Dew) Condensed(tK float64) string {
	var words []string
	if tK <= d.HydrocarbonK {
		mostly := ""
		if d.Mostly != "" {
			mostly = " (the first drop is mostly " + Spoken(d.Mostly) + ")"
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

// Basis says what the numbers rest on. Of pure fluids the expected error is the
// largest difference from the reference equations of state from 250 K up to 30 MPa
// (testdata/fluid/README.md, rounded up); of mixtures it is the authors' figure for
// natural gases, and 0.5 % for others. Of multiparameter equations see their table.
func (m *Mixture) Basis() Basis {
	if m.own != nil {
		return Basis{Equation: "multiparameter equation of " + m.own.source, Phase: Gas, DensityError: m.own.density}
	}
	b := Basis{Equation: "GERG-2008", Phase: Gas, DensityError: 0.005}
	switch i := m.pure(); i {
	case -1:
		for _, p := range m.parts {
			if p.i == methane && p.x > 0.5 {
				b.DensityError = 0.001
			}
		}
	case nitrogen, methane, ethane, carbonDioxide, hydrogen:
		b.DensityError = 0.001
	case oxygen, argon, helium:
		b.DensityError = 0.002
	case propane, nButane, isobutane, carbonMonoxide, hydrogenSulfide:
		b.DensityError = 0.003
	}
	return b
}
