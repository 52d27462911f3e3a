package device

import "math"

// FloatReading gives what a float in a tapered tube shows for a volume flow at
// its own pressure and temperature, on a scale made for a gas of another density
// there: Q_read = Q sqrt(rho_true/rho_cal). The float's weight stands against
// rho Q^2 (the gas's buoyancy on the float left out). calibrationKgM3 is the
// density of the scale's gas at the scale's stated pressure and temperature and
// must be above zero.
func FloatReading(flowM3S, densityKgM3, calibrationKgM3 float64) float64 {
	return flowM3S * math.Sqrt(densityKgM3/calibrationKgM3)
}

// FloatKgM3 is the density of a float of stainless steel (handbooks, 7,900 to
// 8,000 kg/m3).
const FloatKgM3 = 7950.0

// LiquidFloatReading is FloatReading for liquids, whose buoyancy on the float of
// FloatKgM3 counts: Q_read = Q sqrt(rho_true (rho_f - rho_cal)/(rho_cal (rho_f - rho_true))).
// Where the float would swim it gives NaN.
func LiquidFloatReading(flowM3S, densityKgM3, calibrationKgM3 float64) float64 {
	if densityKgM3 >= FloatKgM3 || calibrationKgM3 >= FloatKgM3 {
		return math.NaN()
	}
	return FloatReading(flowM3S, densityKgM3, calibrationKgM3) *
		math.Sqrt((FloatKgM3-calibrationKgM3)/(FloatKgM3-densityKgM3))
}
