package fluid

import "math"

// Roots of the Peng-Robinson equation in the compressibility Z,
//
//	Z^3 - (1 - B) Z^2 + (A - 3 B^2 - 2 B) Z - (A B - B^2 - B^3) = 0
//	A = a p/(R T)^2, B = b p/(R T)
//
// One or three of them lie above B. Of three the greatest is the gas, the least
// the liquid. A single one is both where the isotherm has no loop (A/B below the
// value at the critical point). Where it has one, gas lies beyond the critical
// volume and liquid before it, since the loop's ends lie on its two sides.

type cubicPolynomial struct{ c2, c1, c0 float64 }

func newCubicPolynomial(a, b float64) cubicPolynomial {
	return cubicPolynomial{-(1 - b), a - 3*b*b - 2*b, -(a*b - b*b - b*b*b)}
}

// roots gives the least and the greatest root above b, which are equal where there
// is but one.
func (q cubicPolynomial) roots(b float64) (least, greatest float64) {
	third := q.c2 / 3
	s := third*third - q.c1/3
	r := third*third*third - third*q.c1/2 + q.c0/2
	d := r*r - s*s*s
	if d >= 0 {
		u := math.Cbrt(math.Abs(r) + math.Sqrt(d))
		if r > 0 {
			u = -u
		}
		z := -third
		if u != 0 {
			z += u + s/u
		}
		z = q.polish(z)
		return z, z
	}
	width := math.Sqrt(s)
	angle := math.Acos(max(-1, min(1, r/(s*width)))) / 3
	greatest = q.polish(-2*width*math.Cos(angle+2*math.Pi/3) - third)
	least = q.polish(-2*width*math.Cos(angle) - third)
	if !(least > b) {
		least = greatest
	}
	return least, greatest
}

// polish takes two steps of Newton's method.
func (q cubicPolynomial) polish(z float64) float64 {
	for range 2 {
		f := ((z+q.c2)*z+q.c1)*z + q.c0
		slope := (3*z+2*q.c2)*z + q.c1
		if slope == 0 {
			break
		}
		z -= f / slope
	}
	return z
}

// attractionAt gives a and its two derivatives with temperature.
func (c *Cubic) attractionAt(tK float64) (a, da, dda float64) {
	root := math.Sqrt(tK)
	return c.a0 - 2*c.a1*root + c.a2*tK, c.a2 - c.a1/root, c.a1 / (2 * tK * root)
}

// root gives Z of the phase asked for, and false where the equation has no such root.
func (c *Cubic) root(tK, pPa float64, ph Phase) (z float64, ok bool) {
	rt := cubicR * tK
	a, _, _ := c.attractionAt(tK)
	return cubicRoot(a*pPa/(rt*rt), c.b*pPa/rt, ph)
}

func cubicRoot(a, b float64, ph Phase) (z float64, ok bool) {
	least, greatest := newCubicPolynomial(a, b).roots(b)
	if least != greatest {
		if ph == Liquid {
			return least, true
		}
		return greatest, true
	}
	if a*omegaB > b*omegaA { // the isotherm has a loop
		if (least > criticalVB*b) != (ph == Gas) {
			return 0, false
		}
	}
	return least, true
}
