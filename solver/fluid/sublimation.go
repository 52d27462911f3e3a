package fluid

import "math"

// gasLimitPa is the pressure above which the pure substance i is no gas at tK
// below its critical temperature: the saturation pressure, or below the triple
// point of the two gases that meet it in practice the sublimation pressure.
//
// Carbon dioxide: R. Span, W. Wagner, J. Phys. Chem. Ref. Data 25 (1996) 1509,
// eq. 3.12. Water: IAPWS R14-08(2011), eq. 6. For the others the line of the
// supercooled liquid runs on, which lies somewhat above the true one.
func gasLimitPa(i int, tK float64) float64 {
	const (
		tripleCO2K  = 216.592
		tripleCO2Pa = 0.51795e6
		tripleH2OK  = 273.16
		tripleH2OPa = 611.657
	)
	switch {
	case i == carbonDioxide && tK < tripleCO2K:
		y := 1 - tK/tripleCO2K
		sum := -14.740846*y + 2.4327015*math.Pow(y, 1.9) - 5.3061778*math.Pow(y, 2.9)
		return tripleCO2Pa * math.Exp(sum*tripleCO2K/tK)
	case i == water && tK < tripleH2OK:
		x := tK / tripleH2OK
		sum := -0.212144006e2*math.Pow(x, 0.333333333e-2) +
			0.273203819e2*math.Pow(x, 0.120666667e1) -
			0.610598130e1*math.Pow(x, 0.170333333e1)
		return tripleH2OPa * math.Exp(sum/x)
	}
	if i >= componentCount && tK < substances[i].tripleK {
		return freezingLimitPa(substances[i].tripleK, tK, func(tK float64) float64 { return saturationPa(i, tK) })
	}
	return saturationPa(i, tK)
}
