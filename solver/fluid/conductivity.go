package fluid

import "math"

// diluteConductivity gives the thermal conductivity [W/(m K)] of component i at
// vanishing density from its viscosity there: Chung et al. 1988, eq. 9. A
// monatomic gas gives the exact 15/4 R/M.
func diluteConductivity(i int, tK, viscosityPaS float64) float64 {
	cv := pureIdeal[i].cv(tK)
	return 3.75 * chungPsi(i, tK, cv) * gasConstant * viscosityPaS / components[i].molarMass
}

// chungPsi corrects for the internal motion of the molecules.
func chungPsi(i int, tK, cv float64) float64 {
	w := polar[i].acentric
	alpha := cv - 1.5
	beta := 0.7862 - 0.7109*w + 1.3168*w*w
	if i == water {
		beta = 0.78
	}
	tR := tK / components[i].tC
	z := 2.0 + 10.5*tR*tR
	return 1 + alpha*(0.215+0.28288*alpha-1.061*beta+0.26665*z)/(0.6366+beta*z+1.061*alpha*beta)
}

var pureIdeal = func() (g [componentCount]idealGas) {
	for i := range g {
		g[i] = mixIdeal([]part{{i, 1}})
	}
	return g
}()

// Conductivity gives the thermal conductivity [W/(m K)] of the gas at tK [K] and
// rhoKgM3 [kg/m3], and a bound on its relative error. Near the critical point,
// where conductivity rises without bound, it does not hold.
func (m *Mixture) Conductivity(tK, rhoKgM3 float64) (wMK, relError float64) {
	_, lambda0 := m.dilute(tK, true)
	r := rhoKgM3 / (m.molarMass * m.trans.rhoC)
	dense := stielThodos(r) / m.trans.conductGamma
	lambda := lambda0 + dense
	return lambda, 0.03 + 2*m.diluteError() + 0.4*dense/lambda
}

// stielThodos is the contribution of reduced density, times Gamma Zc^5.
func stielThodos(r float64) float64 {
	switch {
	case r < 0.5:
		return 1.22e-2 * (math.Exp(0.535*r) - 1)
	case r < 2:
		return 1.14e-2 * (math.Exp(0.67*r) - 1.069)
	}
	return 2.60e-3 * (math.Exp(1.155*r) + 2.016)
}
