package fluid

import "math"

// Water and ice as they stand below a gas.
//
// Saturation pressure and the density of the liquid: IAPWS SR1-86(1992), W. Wagner,
// A. Pruss, J. Phys. Chem. Ref. Data 22 (1993) 783-787, eqs. 1 and 2, to 0.03 % in
// pressure and better below 100 degC. Below freezing it runs on as that of the
// supercooled liquid, which serves only to find that ice has less. Sublimation
// pressure: IAPWS R14-08(2011), eq. 6 (sublimation.go), from 50 K. Molar volume of
// ice: IAPWS R10-06(2009), 19.65 cm3/mol at 0 degC; its change is left out.

const (
	waterCriticalK   = 647.096
	waterCriticalPa  = 22.064e6
	waterCriticalRho = 322.0 // kg/m3
	waterTripleK     = 273.16
	iceVolume        = 19.65e-6 // m3/mol
)

// waterSaturationPa gives the saturation pressure [Pa] of liquid water at tK, up to
// the critical temperature.
func waterSaturationPa(tK float64) float64 {
	y := 1 - tK/waterCriticalK
	root := math.Sqrt(y)
	y3 := y * y * y
	sum := -7.85951783*y + 1.84408259*y*root - 11.7866497*y3 + 22.6807411*y3*root - 15.9618719*y3*y + 1.80122502*y3*y3*y*root
	return waterCriticalPa * math.Exp(waterCriticalK/tK*sum)
}

// waterVolume gives the molar volume [m3/mol] of saturated liquid water.
func waterVolume(tK float64) float64 {
	y := math.Cbrt(1 - tK/waterCriticalK)
	y2 := y * y
	y5 := y2 * y2 * y
	y16 := y5 * y5 * y5 * y
	sum := 1 + 1.99274064*y + 1.09965342*y2 - 0.510839303*y5 - 1.75493479*y16 -
		45.5170352*math.Pow(y, 43) - 6.74694450e5*math.Pow(y, 110)
	return components[water].molarMass / (waterCriticalRho * sum)
}

// lnWaterFugacity gives the logarithm of the fugacity [Pa] that pure water has at tK
// [K] under pPa [Pa, absolute], as liquid or as ice, whichever has less, and whether
// it is ice: the saturation pressure, times the fugacity coefficient of the saturated
// vapour (GERG-2008), carried on to the pressure at constant volume (Poynting).
func lnWaterFugacity(tK, pPa float64) (ln float64, ice bool) {
	ln = condensedFugacity(tK, pPa, waterSaturationPa(tK), waterVolume(tK))
	if tK < waterTripleK+1 {
		if solid := condensedFugacity(tK, pPa, gasLimitPa(water, min(tK, waterTripleK)), iceVolume); solid < ln {
			return solid, true
		}
	}
	return ln, false
}

func condensedFugacity(tK, pPa, satPa, volume float64) float64 {
	return math.Log(satPa) + lnPhiSteam(tK, satPa) + volume*(pPa-satPa)/(gasConstant*tK)
}

// lnPhiSteam is ln of the fugacity coefficient of pure water vapour, at or a little
// above its saturation pressure too.
func lnPhiSteam(tK, pPa float64) float64 {
	e := Evaluator{m: steamMixture()}
	e.setTemperature(tK)
	r, ok := e.newton(pPa/(e.m.rhoR*gasConstant*tK), e.start(pPa/(e.m.rhoR*gasConstant*tK)))
	if !ok {
		return math.NaN()
	}
	a := e.derivatives(r.delta)
	return a.a00 + a.a01 - math.Log(1+a.a01)
}
