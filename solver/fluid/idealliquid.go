package fluid

import (
	"fmt"
	"math"
)

// IdealLiquid is a liquid of one compressibility, heat capacity and viscosity,
// rho = DensityKgM3 exp(CompressibilityPa (p - 1 atm)), whose vapour pressure does not
// depend on temperature: for tests and for networks worked out by hand. Values that
// are no liquid's make every state an error.
type IdealLiquid struct {
	MolarMassKgMol    float64
	DensityKgM3       float64 // at 101.325 kPa
	CompressibilityPa float64 // [1/Pa], from 0
	CpJKgK            float64
	ViscosityPaS      float64
	VapourPa          float64 // from 0
}

var _ Fluid = (*IdealLiquid)(nil)

// MolarMass gives the molar mass [kg/mol].
func (l *IdealLiquid) MolarMass() float64 { return l.MolarMassKgMol }

func (l *IdealLiquid) check(tK, pPa float64) error {
	for _, x := range []float64{l.MolarMassKgMol, l.DensityKgM3, l.CpJKgK, l.ViscosityPaS, tK, pPa} {
		if !positive(x) {
			return &StateError{"ideal liquid", tK, pPa, fmt.Sprintf("has no state: it is made of %+v", *l)}
		}
	}
	if !(l.CompressibilityPa >= 0 && l.CompressibilityPa*pPa < 1) {
		return &StateError{"ideal liquid", tK, pPa, "has no state: it is too compressible"}
	}
	return nil
}

// At gives the state; enthalpy is zero at 298.15 K and 101.325 kPa.
func (l *IdealLiquid) At(tK, pPa float64) (State, error) {
	if err := l.check(tK, pPa); err != nil {
		return State{}, err
	}
	rho := l.DensityKgM3 * math.Exp(l.CompressibilityPa*(pPa-referencePa))
	return State{
		TemperatureK: tK, PressurePa: pPa, DensityMol: rho / l.MolarMassKgMol, DensityKgM3: rho,
		Z: pPa * l.MolarMassKgMol / (rho * gasConstant * tK),
		// Without expansion by heat dh = cp dT + dp/rho.
		H:  l.CpJKgK*(tK-referenceK) + (pPa-referencePa)/rho,
		S:  l.CpJKgK * math.Log(tK/referenceK),
		Cp: l.CpJKgK, Cv: l.CpJKgK, GammaIdeal: 1.3, Kappa: 1.3,
		DensityExponent: l.CompressibilityPa * pPa, InNormalRange: true,
	}, nil
}

// Density gives the density [kg/m3] and d ln rho / d ln p.
func (l *IdealLiquid) Density(tK, pPa float64) (rhoKgM3, exponent float64, err error) {
	s, err := l.At(tK, pPa)
	return s.DensityKgM3, s.DensityExponent, err
}

// Enthalpy gives the specific enthalpy [J/kg] and heat capacity [J/(kg K)].
func (l *IdealLiquid) Enthalpy(tK, pPa float64) (h, cp float64, err error) {
	s, err := l.At(tK, pPa)
	return s.H, s.Cp, err
}

// TemperatureAt gives the temperature [K] of an enthalpy; the guess is not needed.
func (l *IdealLiquid) TemperatureAt(hJKg, pPa, _ float64) (float64, error) {
	s, err := l.At(referenceK, pPa)
	if err != nil {
		return 0, err
	}
	t := referenceK + (hJKg-s.H)/l.CpJKgK
	return t, l.check(t, pPa)
}

// GammaIdeal is a gas's and means nothing here.
func (l *IdealLiquid) GammaIdeal(float64) float64 { return 1.3 }

// Viscosity gives the constant viscosity.
func (l *IdealLiquid) Viscosity(_, _ float64) (paS, relError float64) { return l.ViscosityPaS, 0 }

// Conductivity is that of a Prandtl number of 7, near that of water.
func (l *IdealLiquid) Conductivity(_, _ float64) (wMK, relError float64) {
	return l.ViscosityPaS * l.CpJKgK / 7, 0
}

// LiquidAt gives the vapour pressure, a critical pressure of 4 MPa and the viscosity.
func (l *IdealLiquid) LiquidAt(tK, pPa float64) (bubblePa, criticalPa, viscosityPaS float64, err error) {
	return l.VapourPa, 4e6, l.ViscosityPaS, l.check(tK, pPa)
}

// MaybeTwoPhase says where it boils.
func (l *IdealLiquid) MaybeTwoPhase(tK, pPa float64) (bool, string) {
	if pPa < l.VapourPa {
		return true, fmt.Sprintf("it boils below %.4g bara", l.VapourPa/1e5)
	}
	return false, ""
}
