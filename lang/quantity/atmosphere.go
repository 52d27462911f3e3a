package quantity

import "math"

// Elevations [m] between which StandardAtmospherePa holds.
const (
	LowestElevationM  = -5000
	HighestElevationM = 11000
)

// StandardAtmospherePa gives the pressure [Pa] at a geometric altitude [m] in
// the lowest layer of the US Standard Atmosphere 1976 (NOAA-S/T 76-1562),
// where the temperature falls by 6.5 K per geopotential kilometre: geopotential
// altitude from eq. 18 (earth radius 6356.766 km), pressure from eq. 33a.
// The layer ends at 11 km geopotential; outside LowestElevationM to
// HighestElevationM the result is NaN, so that nothing computed from it looks
// like an answer.
func StandardAtmospherePa(elevationM float64) float64 {
	if !(elevationM >= LowestElevationM && elevationM <= HighestElevationM) {
		return math.NaN()
	}
	const (
		seaLevelPa  = 101325
		seaLevelK   = 288.15
		lapseKM     = -0.0065   // K per geopotential metre
		radiusM     = 6356766   // effective radius of the earth
		molarMass   = 0.0289644 // kg/mol, air at sea level
		gasConstant = 8.31432   // J/(mol K), the value of the standard itself
	)
	geopotentialM := radiusM * elevationM / (radiusM + elevationM)
	return seaLevelPa * math.Pow(seaLevelK/(seaLevelK+lapseKM*geopotentialM), gravity*molarMass/(gasConstant*lapseKM))
}
