package fluid

import (
	"fmt"
	"math"
)

// Fluid is what a network needs to know of a gas. Units as for Mixture.
type Fluid interface {
	MolarMass() float64
	At(tK, pPa float64) (State, error)
	Density(tK, pPa float64) (rhoKgM3, exponent float64, err error)
	Enthalpy(tK, pPa float64) (h, cp float64, err error)
	TemperatureAt(hJKg, pPa, guessK float64) (float64, error)
	GammaIdeal(tK float64) float64
	Viscosity(tK, rhoKgM3 float64) (paS, relError float64)
	Conductivity(tK, rhoKgM3 float64) (wMK, relError float64)
}

var (
	_ Fluid = (*Mixture)(nil)
	_ Fluid = (*IdealGas)(nil)
)

// IdealGas is a gas with p = rho R T/M and constant heat capacities and viscosity,
// for tests and for networks worked out by hand.
type IdealGas struct {
	molarMass, gamma, viscosity float64
}

// Ideal makes an ideal gas of molarMass [kg/mol], ratio of heat capacities gamma
// (above 1) and viscosity [Pa s]. Values that are no gas's make every state an error.
func Ideal(molarMass, gamma, viscosity float64) *IdealGas {
	return &IdealGas{molarMass, gamma, viscosity}
}

func (g *IdealGas) check(tK, pPa float64) error {
	reason := ""
	switch {
	case !positive(g.molarMass) || !positive(g.viscosity) || !(g.gamma > 1) || math.IsInf(g.gamma, 1):
		reason = fmt.Sprintf("is no gas: molar mass %g kg/mol, cp/cv %g, viscosity %g Pa s", g.molarMass, g.gamma, g.viscosity)
	case !positive(tK):
		reason = "has no state: the temperature must be above 0 K"
	case !positive(pPa):
		reason = "has no state: the pressure must be above 0 bara"
	default:
		return nil
	}
	return &StateError{"ideal gas", tK, pPa, reason}
}

func positive(x float64) bool { return x > 0 && !math.IsInf(x, 1) }

func (g *IdealGas) cp() float64 { return g.gamma / (g.gamma - 1) * gasConstant / g.molarMass }

// MolarMass gives the molar mass [kg/mol].
func (g *IdealGas) MolarMass() float64 { return g.molarMass }

// At gives the state; enthalpy and entropy are zero at 298.15 K and 101.325 kPa.
func (g *IdealGas) At(tK, pPa float64) (State, error) {
	if err := g.check(tK, pPa); err != nil {
		return State{}, err
	}
	r := gasConstant / g.molarMass
	cp := g.cp()
	return State{
		TemperatureK: tK, PressurePa: pPa,
		DensityMol:      pPa / (gasConstant * tK),
		DensityKgM3:     pPa / (r * tK),
		Z:               1,
		H:               cp * (tK - referenceK),
		S:               cp*math.Log(tK/referenceK) - r*math.Log(pPa/referencePa),
		Cp:              cp,
		Cv:              cp - r,
		Sound:           math.Sqrt(g.gamma * r * tK),
		Kappa:           g.gamma,
		GammaIdeal:      g.gamma,
		DensityExponent: 1,
		InNormalRange:   true,
	}, nil
}

// Density gives the density [kg/m3] and its exponent, 1.
func (g *IdealGas) Density(tK, pPa float64) (rhoKgM3, exponent float64, err error) {
	if err := g.check(tK, pPa); err != nil {
		return 0, 0, err
	}
	return pPa * g.molarMass / (gasConstant * tK), 1, nil
}

// Enthalpy gives the specific enthalpy [J/kg] and heat capacity [J/(kg K)].
func (g *IdealGas) Enthalpy(tK, pPa float64) (h, cp float64, err error) {
	if err := g.check(tK, pPa); err != nil {
		return 0, 0, err
	}
	return g.cp() * (tK - referenceK), g.cp(), nil
}

// TemperatureAt gives the temperature [K] of an enthalpy; the guess is not needed.
func (g *IdealGas) TemperatureAt(hJKg, pPa, _ float64) (float64, error) {
	t := referenceK + hJKg/g.cp()
	if err := g.check(t, pPa); err != nil {
		return 0, err
	}
	return t, nil
}

// GammaIdeal gives cp/cv.
func (g *IdealGas) GammaIdeal(float64) float64 { return g.gamma }

// Viscosity gives the constant viscosity.
func (g *IdealGas) Viscosity(_, _ float64) (paS, relError float64) { return g.viscosity, 0 }

// Conductivity follows Eucken: Pr = 4 gamma/(9 gamma - 5), good to 10 %.
func (g *IdealGas) Conductivity(_, _ float64) (wMK, relError float64) {
	return g.viscosity * g.cp() * (9*g.gamma - 5) / (4 * g.gamma), 0.1
}
