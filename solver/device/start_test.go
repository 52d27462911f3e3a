package device

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"
)

// A flow sought from what was found before is the flow sought from nothing, whatever
// was found before: a little away and far, the other way round, laminar, next to no
// drop, sonic, another tube, another gas. Slopes only lead the solver; they are off
// by what the last step in K squared is worth.
func TestStartDoesNotMatter(t *testing.T) {
	var tubes []namedLaw
	for _, l := range laws() {
		switch l.law.(type) {
		case Tube, Capillary:
			tubes = append(tubes, l)
		}
	}
	tubes = append(tubes,
		namedLaw{name: "rising tube", law: Tube{BoreM: 4e-3, LengthM: 60, RoughnessM: 1.5e-6, RiseM: 5}},
		namedLaw{name: "short falling tube", law: Tube{BoreM: 4e-3, LengthM: 0.3, RoughnessM: 1.5e-6, RiseM: -0.3}})
	off := func(a, b float64) float64 {
		if a == b {
			return 0
		}
		return math.Abs(a-b) / max(math.Abs(a), math.Abs(b))
	}
	for i, g := range gases() {
		t.Run(fmt.Sprintf("gas %d", i), func(t *testing.T) {
			r := rand.New(rand.NewPCG(7, uint64(i)))
			var from Start
			for k := 0; k < 40 && !t.Failed(); k++ {
				l := tubes[r.IntN(len(tubes))]
				pIn, pOut := draw(r)
				for range 25 {
					gas := g
					// From a change in the last digit to one of everything.
					by := math.Pow(10, -15*r.Float64())
					pIn *= 1 + by*(r.Float64()-0.5)
					pOut *= 1 + by*(r.Float64()-0.5)
					gas.DensityKgM3 *= 1 + 0.1*by*(r.Float64()-0.5)
					gas.ViscosityPaS *= 1 + 0.1*by*(r.Float64()-0.5)
					if r.IntN(8) == 0 {
						pIn, pOut = pOut, pIn
					}
					var none Start
					var a, b Flow
					Pass(&a, l.law, pIn, pOut, &gas, &from)
					Pass(&b, l.law, pIn, pOut, &gas, &none)
					if off(a.W, b.W) > 1e-12 || off(a.Root, b.Root) > 1e-12 || off(a.Up, b.Up) > 1e-6 || off(a.Down, b.Down) > 1e-6 ||
						math.Abs(a.Exponent-b.Exponent) > 1e-6 || a.Choked != b.Choked {
						t.Errorf("%s, %v to %v: %+v, from nothing %+v", l.name, pIn, pOut, a, b)
					}
				}
			}
		})
	}
}

// The friction a small step away is what it is there.
func TestFrictionMoved(t *testing.T) {
	for _, rr := range []float64{0, 1e-4, 0.05, 2} {
		for k := 1e-6; k < 1e16; k *= 1.1 {
			for _, z := range []float64{settled, -settled} {
				moved, there := frictionAt(k, rr).moved(z), frictionAt(k*(1+z), rr)
				if math.Abs(moved.re/there.re-1) > 1e-12 || math.Abs(moved.exponent-there.exponent) > 1e-7 {
					t.Fatalf("roughness %g, K %g: %+v, want %+v", rr, k, moved, there)
				}
			}
		}
	}
}
