package solver

import (
	"math"
	"math/rand/v2"
	"testing"

	"tapline/solver/device"
)

// The two quick functions are math's, to what their comments say.
func TestQuickFunctions(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 6))
	for range 20_000 {
		x := math.Exp(60*rng.Float64() - 30)
		if got, want := fifthRoot(x), math.Pow(x, 0.2); math.Abs(got/want-1) > 1e-12 {
			t.Errorf("the fifth root of %g is %g, not %g", x, got, want)
		}
		x = 1.1 * decayMost * rng.Float64()
		if got, want := decay(x), math.Exp(-x); math.Abs(got/want-1) > 6e-16 {
			t.Errorf("e^-%g is %g, not %g", x, got, want)
		}
	}
	for _, x := range []float64{0, 1e-300, decayMost, 700, 1e9, math.Inf(1), -1} {
		if got, want := decay(x), math.Exp(-x); math.Abs(got-want) > 6e-16*want {
			t.Errorf("e^-%g is %g, not %g", x, got, want)
		}
	}
	if x := decay(math.NaN()); !math.IsNaN(x) {
		t.Errorf("e^-NaN is %g", x)
	}
}

// The conductance of a tube is that of its films in series, written out plainly, from
// hardly any flow to far beyond the turn to turbulence, where Nu passes 3.66.
func TestTubeConductance(t *testing.T) {
	heat := Heat{LengthM: 1, BoreM: 0.0045, OuterM: 0.00635, OutsideWM2K: 10}
	g := device.Gas{ViscosityPaS: 1.1e-5}
	const k, cp = 0.034, 2300
	for _, outside := range []float64{0, 10, 1e4} {
		heat.OutsideWM2K = outside
		for mass := 1e-200; mass < 1; mass *= 7 {
			re := 4 * mass / (math.Pi * heat.BoreM * g.ViscosityPaS)
			turbulent := 0.023 * math.Pow(re, 0.8) * math.Pow(cp*g.ViscosityPaS/k, 0.4)
			want := math.Pi * k * math.Pow(math.Pow(3.66, 8)+math.Pow(turbulent, 8), 0.125)
			if outside > 0 {
				want = 1 / (1/want + 1/(math.Pi*heat.OuterM*outside))
			}
			if got := tubeConductance(&heat, k, &g, mass, cp); !(math.Abs(got/want-1) <= 3e-12) {
				t.Errorf("%g kg/s, %g W/(m2 K) outside: %g W/(m K), not %g", mass, outside, got, want)
			}
		}
	}
}
