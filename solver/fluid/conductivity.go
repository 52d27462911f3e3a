package fluid

import "math"

// diluteConductivity gives the thermal conductivity [W/(m K)] of component i at
// vanishing density. Water: IAPWS R15-11, the dilute part. The others from their
// viscosity there: hydrogen by the modified Eucken relation (B. E. Poling, J. M.
// Prausnitz, J. P. O'Connell, The Properties of Gases and Liquids, 5th ed.,
// chapter 10), the rest by Chung et al. 1988, which gives the exact 15/4 R/M for a
// monatomic gas and is 8 % low for hydrogen.
func diluteConductivity(i int, tK, viscosityPaS float64) float64 {
	if i == water {
		return steam(1e-3, waterL, tK)
	}
	cv := pureIdeal[i].cv(tK)
	unit := gasConstant * viscosityPaS / components[i].molarMass
	if i == hydrogen {
		return unit * (1.32*cv + 1.77)
	}
	return unit * 3.75 * chungPsi(i, tK, cv)
}

var waterL = []float64{2.443221e-3, 1.323095e-2, 6.770357e-3, -3.454586e-3, 4.096266e-4}

// chungPsi corrects for the internal motion of the molecules.
func chungPsi(i int, tK, cv float64) float64 {
	w := polar[i].acentric
	alpha := cv - 1.5
	beta := 0.7862 - 0.7109*w + 1.3168*w*w
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
// where conductivity rises without bound, the value is too low: the bound grows
// there, but close by it does not hold either.
func (m *Mixture) Conductivity(tK, rhoKgM3 float64) (wMK, relError float64) {
	_, lambda0 := m.dilute(tK, true)
	r := rhoKgM3 / (m.molarMass * m.trans.rhoC)
	dense := stielThodos(r) / m.trans.conductGamma
	lambda := lambda0 + dense
	critical := 0.5 * r / (1 + r*r) * math.Exp(-math.Abs(tK/m.trans.tC-1)/0.05)
	return lambda, 0.03 + 2*m.diluteError() + dense/lambda*(0.4+m.trans.polarShare) + critical
}

// stielThodos is the contribution of reduced density, times Gamma Zc^5. The
// published pieces miss each other by 0.3 % at their ends; here each starts where
// the last one ended.
func stielThodos(r float64) float64 {
	low := 1.22e-2 * math.Expm1(0.535*min(r, 0.5))
	middle := 1.14e-2 * (math.Exp(0.67*max(0.5, min(r, 2))) - math.Exp(0.67*0.5))
	high := 2.60e-3 * (math.Exp(1.155*max(r, 2)) - math.Exp(1.155*2))
	return low + middle + high
}
