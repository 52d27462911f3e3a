package device

import (
	"math"
	"testing"
)

// The short series against package math, in units of the last place. What they join,
// a ratio and the whole range, is on both sides of each bound.
func TestNearOneAgainstMath(t *testing.T) {
	check := func(name string, x, got, want, most float64) {
		ulp := math.Nextafter(math.Abs(want), math.Inf(1)) - math.Abs(want)
		if !(math.Abs(got-want) <= most*ulp) {
			t.Errorf("%s at %v: %v, want %v, %.1f units of the last place off", name, x, got, want, math.Abs(got-want)/ulp)
		}
	}
	for x := 1e-12; x < 1e12 && !t.Failed(); x *= 1.0037 {
		check("ln", x, ln(x), math.Log(x), 2)
		check("ln(1+x)", x, lnOnePlus(x), math.Log1p(x), 3)
		if x < 0.5 || x > 2 { // nearer to 1 the rounding of the quotient counts
			check("ln(3x/3)", x, lnOfRatio(3*x, 3), math.Log(3*x/3), 4)
		}
		// Nearer and nearer to 1, where the difference is exact.
		if x < 1 {
			check("ln of nearly 1", x, lnOfRatio(1+x, 1), math.Log1p((1+x)-1), 3)
			check("ln of nearly 1 from below", x, lnOfRatio(1, 1+x), -math.Log1p((1+x)-1), 3)
			check("ln(1-x)", x, lnOnePlus(-x), math.Log1p(-x), 4)
			check("exp - 1", x, expLessOne(x), math.Expm1(x), 20)
			check("exp - 1", -x, expLessOne(-x), math.Expm1(-x), 20)
			check("exp", x, exp(x), math.Exp(x), 2)
			check("exp", -x, exp(-x), math.Exp(-x), 2)
		}
	}
	for x := 0.5; x < 2 && !t.Failed(); x *= 1.00037 {
		for _, e := range []float64{-0.9, 1e-4, 0.3, 0.97, 1.9} {
			check("power", x, powerOfRatio(x, 1, e), math.Pow(x, e), 3)
		}
	}
	if p := powerOfRatio(4, 4, 0.7); p != 1 {
		t.Errorf("at the point itself: %v", p)
	}
}
