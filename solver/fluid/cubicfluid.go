package fluid

import (
	"fmt"
	"math"
)

var _ Composed = (*Cubic)(nil)

// MolarMass gives the molar mass [kg/mol].
func (c *Cubic) MolarMass() float64 { return c.molarMass }

// Viscosity gives the dynamic viscosity [Pa s] of the gas at tK [K] and rhoKgM3
// [kg/m3], and its expected relative error.
func (c *Cubic) Viscosity(tK, rhoKgM3 float64) (paS, relError float64) {
	return c.trans.viscosityAt(tK, rhoKgM3/c.molarMass)
}

// Conductivity gives the thermal conductivity [W/(m K)] of the gas at tK [K] and
// rhoKgM3 [kg/m3], and its expected relative error.
func (c *Cubic) Conductivity(tK, rhoKgM3 float64) (wMK, relError float64) {
	return c.trans.conductivityAt(tK, rhoKgM3/c.molarMass)
}

// Fractions gives the components, sorted by name, and their mole fractions in the
// same order.
func (c *Cubic) Fractions() (names []string, x []float64) {
	return append([]string(nil), c.kind.names...), append([]float64(nil), c.x...)
}

// Like makes a gas of the same components with other mole fractions, in the order
// of Fractions. A component whose fraction is 0 stays in the list.
func (c *Cubic) Like(x []float64) (Composed, error) {
	if len(x) != len(c.x) {
		return nil, fmt.Errorf("%d mole fractions for %d components", len(x), len(c.x))
	}
	sum := 0.0
	for k, f := range x {
		if !(f >= 0 && f <= 1) {
			return nil, fmt.Errorf("mole fraction of %s is %g; it must be from 0 to 1", spoken(c.kind.index[k]), f)
		}
		sum += f
	}
	if math.Abs(sum-1) > sumTolerance {
		return nil, fmt.Errorf("mole fractions sum to %.12g; they must sum to 1", sum)
	}
	y := make([]float64, len(x))
	for k, f := range x {
		y[k] = f / sum
	}
	return newCubic(c.kind, y), nil
}
