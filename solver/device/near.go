package device

import "math"

// Logarithms and powers of ratios. The laws are mostly asked at or near the point
// of tangency of their gas, so that what they raise to a power is close to 1 and a
// short series is exact to rounding: a fifth of the time of math.Log and math.Exp.

// lnOfRatio is ln(a/b) for a and b above 0 and far from the ends of the range. The
// difference is taken before the quotient, so that it is exact to rounding where the
// two are almost the same.
func lnOfRatio(a, b float64) float64 {
	const wide = 0.17 // up to a/b of sqrt(2): as far as log takes its series
	if u := (a - b) / (a + b); u < wide && u > -wide {
		return logSeries(u)
	}
	return ln(a / b)
}

// lnOnePlus is ln(1+y) for y > -1.
func lnOnePlus(y float64) float64 {
	const low, high = -0.29, 0.4
	if y < high && y > low {
		return logSeries(y / (2 + y))
	}
	return ln(1 + y)
}

// ln is the natural logarithm of a positive normal number: x = 2^k m with m between
// the roots of 1/2 and 2, ln x = k ln 2 + 2 artanh((m-1)/(m+1)).
func ln(x float64) float64 {
	const (
		rootHalf     = 0x3fe6a09e667f3bcd // bits of sqrt(1/2)
		ln2Hi, ln2Lo = 0x1.62e42feep-1, 0x1.a39ef35793c76p-33
	)
	b := math.Float64bits(x) - rootHalf
	k := float64(int64(b) >> 52)
	m := math.Float64frombits(b&(1<<52-1) + rootHalf)
	return k*ln2Hi + (logSeries((m-1)/(m+1)) + k*ln2Lo)
}

// logSeries is ln((1+u)/(1-u)) for |u| up to 0.172.
func logSeries(u float64) float64 {
	v := u * u
	w := v * v
	odd := 1.0/3 + w*(1.0/7+w*(1.0/11+w*(1.0/15+w*(1.0/19))))
	even := 1.0/5 + w*(1.0/9+w*(1.0/13+w*(1.0/17)))
	return 2*u + 2*u*v*(odd+v*even)
}

// powerOfRatio is (a/b)^e.
func powerOfRatio(a, b, e float64) float64 {
	if a == b {
		return 1
	}
	return exp(e * lnOfRatio(a, b))
}

// exp is e^z, by its series where that is short.
func exp(z float64) float64 {
	if z < short && z > -short {
		return 1 + expSeries(z)
	}
	return math.Exp(z)
}

// expLessOne is e^z - 1.
func expLessOne(z float64) float64 {
	if z < short && z > -short {
		return expSeries(z)
	}
	return math.Exp(z) - 1
}

// short is the z up to which expSeries is e^z - 1.
const short = 1.0 / 16

func expSeries(z float64) float64 {
	y := z * z
	return z + y*(1.0/2+z*(1.0/6)+y*(1.0/24+z*(1.0/120)+y*(1.0/720+z*(1.0/5040)+y*(1.0/40320))))
}
