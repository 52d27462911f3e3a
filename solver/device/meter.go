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
