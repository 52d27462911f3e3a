package fluid

import (
	"fmt"
	"math"
)

// State holds the properties of a gas at one temperature and pressure. Enthalpy
// and entropy are zero for each pure ideal gas at 298.15 K and 101.325 kPa.
type State struct {
	TemperatureK, PressurePa float64
	DensityMol               float64 // mol/m3
	DensityKgM3              float64
	Z                        float64 // compressibility p/(rho R T)
	H                        float64 // specific enthalpy [J/kg]
	S                        float64 // specific entropy [J/(kg K)]
	Cp, Cv                   float64 // specific heat capacities [J/(kg K)]
	Sound                    float64 // speed of sound [m/s]
	Kappa                    float64 // isentropic exponent (rho/p) (dp/drho)_s
	JouleThomson             float64 // (dT/dp)_h [K/Pa]
	GammaIdeal               float64 // cp/cv at this temperature and vanishing pressure
	DensityExponent          float64 // d ln rho / d ln p at constant temperature
	// InNormalRange is false where the equation holds but is less exact: GERG-2008
	// outside 90..450 K or above 35 MPa, a multiparameter equation below its triple
	// point, Peng-Robinson above a sixth of its critical density.
	InNormalRange bool
}

// StateError says why a fluid has no gas state at a temperature and pressure.
type StateError struct {
	Fluid                    string
	TemperatureK, PressurePa float64
	Reason                   string // completes "FLUID at P bara, T degC ..."
}

func (e *StateError) Error() string {
	return fmt.Sprintf("%s at %.5g bara, %.5g degC %s", e.Fluid, e.PressurePa/1e5, e.TemperatureK-celsiusOffset, e.Reason)
}

func (m *Mixture) refuse(tK, pPa float64, format string, args ...any) error {
	return &StateError{m.label(), tK, pPa, fmt.Sprintf(format, args...)}
}

// At gives the state of the gas at tK [K] and pPa [Pa, absolute]. The error is a
// *StateError outside the range of the equation (60..700 K, 70 MPa or less), where a
// pure fluid is liquid or solid, and where the equation has no gas root.
func (m *Mixture) At(tK, pPa float64) (State, error) {
	e := Evaluator{m: m}
	return e.At(tK, pPa)
}

// Density gives the density [kg/m3] and d ln rho / d ln p at constant temperature
// (to 1e-7), and nothing else. Errors as for At.
func (m *Mixture) Density(tK, pPa float64) (rhoKgM3, exponent float64, err error) {
	e := Evaluator{m: m}
	return e.Density(tK, pPa)
}

// Enthalpy gives the specific enthalpy [J/kg] and isobaric heat capacity
// [J/(kg K)]. Errors as for At.
func (m *Mixture) Enthalpy(tK, pPa float64) (h, cp float64, err error) {
	s, err := m.At(tK, pPa)
	return s.H, s.Cp, err
}

// At is Mixture.At, keeping what depends on temperature alone.
func (e *Evaluator) At(tK, pPa float64) (State, error) {
	r, err := e.solve(tK, pPa)
	if err != nil {
		return State{}, err
	}
	s := e.atDensity(tK, r.delta*e.m.rhoR)
	s.PressurePa = pPa
	return s, nil
}

// Density is Mixture.Density, keeping what depends on temperature alone.
func (e *Evaluator) Density(tK, pPa float64) (rhoKgM3, exponent float64, err error) {
	r, err := e.solve(tK, pPa)
	if err != nil {
		return 0, 0, err
	}
	return r.delta * e.m.rhoR * e.m.molarMass, r.exponent(), nil
}

// solve checks the range and the phase, sets the temperature and finds the gas root.
func (e *Evaluator) solve(tK, pPa float64) (root, error) {
	m := e.m
	if !m.reach.holds(tK, pPa) {
		return root{}, m.checkRange(tK, pPa)
	}
	if i := m.pure(); i >= 0 && tK < m.criticalK {
		if limit := gasLimitPa(i, tK); pPa > limit {
			return root{}, m.refuse(tK, pPa, "%s", noGas(i, tK, limit))
		}
	}
	e.setTemperature(tK)
	r, ok := e.gasRoot(pPa / (m.rhoR * m.gasR * tK))
	if !ok {
		return root{}, m.refuse(tK, pPa, "has no gas state: it condenses before it reaches that pressure")
	}
	return r, nil
}

func (m *Mixture) checkRange(tK, pPa float64) error {
	switch q := m.reach; {
	case q.holds(tK, pPa):
		return nil
	case !(tK >= q.lowK && tK <= q.highK):
		return m.refuse(tK, pPa, "is outside the range of the equation of state, %.4g to %.4g K%s", q.lowK, q.highK, m.wider(tK, pPa))
	default:
		return m.refuse(tK, pPa, "is outside the range of the equation of state, above 0 up to %g bara%s", q.highPa/1e5, m.wider(tK, pPa))
	}
}

// wider says which equation reaches a state that this does not.
func (m *Mixture) wider(tK, pPa float64) string {
	if m.own == nil || !inRange(tK, pPa) {
		return ""
	}
	return fmt.Sprintf("; equation = %q reaches it, with less certainty", equationCubic)
}

// atDensity evaluates everything at tK and rho [mol/m3], stable or not, by the
// usual relations of thermodynamics to the Helmholtz energy.
func (e *Evaluator) atDensity(tK, rho float64) State {
	e.setTemperature(tK)
	m := e.m
	r := m.gasR
	a := e.derivatives(rho / m.rhoR)
	e.idealAt(tK)
	i1, cv0 := e.i1, e.cv0
	alpha0 := e.alpha0 + math.Log(rho)

	z := 1 + a.a01
	dpdrho := 1 + 2*a.a01 + a.a02 // over R T
	dpdT := 1 + a.a01 - a.a11     // over rho R
	cv := cv0 - a.a20             // over R
	cp := cv + dpdT*dpdT/dpdrho   // over R
	ratio := cp / cv
	perKg := r / m.molarMass
	pPa := rho * r * tK * z
	return State{
		TemperatureK:    tK,
		PressurePa:      pPa,
		DensityMol:      rho,
		DensityKgM3:     rho * m.molarMass,
		Z:               z,
		H:               perKg * tK * (z + i1 + a.a10),
		S:               perKg * (i1 + a.a10 - alpha0 - a.a00),
		Cp:              perKg * cp,
		Cv:              perKg * cv,
		Sound:           math.Sqrt(ratio * perKg * tK * dpdrho),
		Kappa:           ratio * dpdrho / z,
		JouleThomson:    (dpdT/dpdrho - 1) / (rho * r * cp),
		GammaIdeal:      1 + 1/cv0,
		DensityExponent: z / dpdrho,
		InNormalRange:   tK >= m.reach.normalLowK && tK <= m.reach.normalHighK && pPa <= m.reach.normalHighPa,
	}
}
