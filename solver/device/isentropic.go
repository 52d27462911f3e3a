package device

import "math"

// One-dimensional isentropic flow of a gas with a constant exponent k, from
// rest. Textbook relations (NACA Report 1135; API 520 Part I and ISO 4126-1 use
// the same for relief devices). k = 1 is the limit of an isothermal nozzle and
// is reached smoothly: the differences that vanish there are written as
// logarithms and expm1.

// Bounds of k that the laws accept; a value outside is moved to the bound. Real
// isentropic exponents leave 1..5 only close to saturation and in dense fluid,
// where none of these laws holds.
const (
	leastExponent    = 1
	greatestExponent = 5
)

func exponentWithin(k float64) float64 {
	return min(max(k, leastExponent), greatestExponent)
}

// logHalf is ln((k+1)/2)/(k-1).
func logHalf(k float64) float64 {
	z := (k - 1) / 2
	if math.Abs(z) < 1e-4 {
		return (1 - z*(1.0/2-z/3)) / 2
	}
	return lnOnePlus(z) / (2 * z)
}

// CriticalRatio is the ratio of throat to stagnation pressure at and below
// which the flow is sonic: (2/(k+1))^(k/(k-1)), 0.528 for k = 1.4.
func CriticalRatio(k float64) float64 { return math.Exp(-k * logHalf(k)) }

// CriticalFlowFactor is C* of an ideal gas: the choked flow is C* A p0/sqrt(R
// T0/M), C* = sqrt(k (2/(k+1))^((k+1)/(k-1))), 0.6847 for k = 1.4 (ISO 9300,
// ideal limit). Times 520 it is the C of API 520 Part I in US units, times
// 0.03948 the one in kg/h, kPa, mm2 and K; times 3.948 that of ISO 4126-1.
func CriticalFlowFactor(k float64) float64 {
	return math.Sqrt(k * math.Exp(-(k+1)*logHalf(k)))
}

// isentropic is the shape sqrt(2k/(k-1) (r^(2/k) - r^((k+1)/k))), r = 1 - x,
// level from the critical ratio on.
func isentropic(x, k float64) shape {
	if x < straightBelow {
		// 2 x (1 - 1.5 x/k) is the square of the shape to x^2.
		y := math.Sqrt2 * (1 - 0.75*x/k)
		q, dq := straightened(x)
		slope := dq*y - q*math.Sqrt2*0.75/k
		return shape{u: q * y, slope: slope, root: (2 - 6*x/k) / (2 * slope)}
	}
	l, half := lnOnePlus(-x), logHalf(k)
	if l <= -k*half {
		u := math.Sqrt(k * exp(-(k+1)*half))
		return shape{u: u, root: u, choked: true}
	}
	m := (k - 1) / k
	h := -l // (1 - r^m)/m
	if m > 1e-9 {
		h = -expLessOne(m*l) / m
	}
	r, rest := 1-x, 1-m*h
	rk := 2 * squared(r/rest) // 2 r^(2/k)
	u := math.Sqrt(rk * h)
	return shape{u: u, slope: rk * (rest - 2*h/k) / (2 * u * r), root: u}
}

// SubcriticalF2 is the coefficient of subcritical flow of API 520 Part I, r the
// ratio of back pressure to relieving pressure, above the critical one:
// F2 = sqrt(k/(k-1) r^(2/k) (1 - r^((k-1)/k))/(1 - r)).
func SubcriticalF2(k, r float64) float64 {
	return isentropic(1-r, k).u / math.Sqrt(2*(1-r))
}

// VenturiFactor is C_f of 40 CFR 1065.640 for a passage of diameter ratio beta:
// the flow over A p_in/sqrt(R T/M), r the ratio of throat to inlet static
// pressure above the critical one, k > 1. With beta = 0 it is the isentropic
// shape itself.
func VenturiFactor(r, k, beta float64) float64 {
	b2 := beta * beta
	return math.Sqrt(2 * k * (math.Pow(r, (k-1)/k) - 1) / ((k - 1) * (b2*b2 - math.Pow(r, -2/k))))
}

// Isentropic are ratios of static to stagnation state, and of the area to the
// sonic area, at one Mach number.
type Isentropic struct{ Pressure, Density, Temperature, Area float64 }

// IsentropicAt gives the ratios at mach > 0 for the exponent k > 1.
func IsentropicAt(mach, k float64) Isentropic {
	t := 1 + (k-1)/2*mach*mach
	return Isentropic{
		Pressure:    math.Pow(t, -k/(k-1)),
		Density:     math.Pow(t, -1/(k-1)),
		Temperature: 1 / t,
		Area:        math.Pow(2*t/(k+1), (k+1)/(2*(k-1))) / mach,
	}
}
