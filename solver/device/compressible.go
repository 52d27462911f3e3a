package device

import "math"

// Textbook relations of compressible flow with friction in a pipe of constant
// bore, for an ideal gas. The tubes solve their own real-gas forms (isothermal.go,
// adiabatic.go); these are for whoever wants one number, and for the tables the
// tests hold them against. "resistance" is f L/D plus the sum of loss
// coefficients.

// IsothermalFlow gives the mass flow w [kg/s] of
//
//	p1^2 - p2^2 = w^2 C (resistance + 2 ln(p1/p2)),  C = (p/rho)/A^2
//
// with p/rho [m2/s2] the same all along. It does not look whether the exit is
// sonic: see IsothermalExit.
func IsothermalFlow(p1, p2, pOverRho, areaM2, resistance float64) float64 {
	return areaM2 * math.Sqrt((p1-p2)*(p1+p2)/(pOverRho*(resistance+2*math.Log(p1/p2))))
}

// IsothermalExit gives the lowest ratio of exit to inlet pressure that
// isothermal flow through a resistance > 0 can have, where the exit passes at
// M = 1/sqrt(gamma): the root of s^-2 - 1 + 2 ln s = resistance.
func IsothermalExit(resistance float64) float64 {
	// In l = -ln s: exp(2l) - 1 - 2l = resistance, convex and rising; Newton from
	// the right.
	l := math.Log1p(resistance)/2 + math.Sqrt(min(resistance, 1)/2)
	for range 60 {
		step := (math.Expm1(2*l) - 2*l - resistance) / (2 * math.Expm1(2*l))
		l -= step
		if math.Abs(step) <= 1e-15*l {
			break
		}
	}
	return math.Exp(-l)
}

// FannoLength is f L*/D, the length to sonic flow of adiabatic flow at a Mach
// number 0 < mach <= 1: (1-M^2)/(k M^2) + (k+1)/(2k) ln((k+1) M^2/(2+(k-1) M^2)).
func FannoLength(mach, k float64) float64 {
	m2 := mach * mach
	return (1-m2)/(k*m2) + (k+1)/(2*k)*math.Log((k+1)*m2/(2+(k-1)*m2))
}

// FannoPressure is p/p* of the same flow: sqrt((k+1)/(2+(k-1) M^2))/M.
func FannoPressure(mach, k float64) float64 {
	return math.Sqrt((k+1)/(2+(k-1)*mach*mach)) / mach
}

// FannoMach is the subsonic Mach number whose FannoLength is lengthToSonic >= 0.
func FannoMach(lengthToSonic, k float64) float64 {
	lo, hi := 0.0, 1.0
	for range 60 {
		mid := (lo + hi) / 2
		if FannoLength(mid, k) > lengthToSonic {
			lo = mid
		} else {
			hi = mid
		}
	}
	return hi
}
