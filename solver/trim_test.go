package solver

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"tapline/solver/device"
	"tapline/solver/fluid"
)

// trimmed gives the lifts of the random networks measured openings: points drawn
// at random that rise, of one curve or of a family, up to less than fully open
// here and there.
func trimmed(seed uint64, f fluid.Fluid) (*Network, *Case, string) {
	n, c, class := generate(seed+1_500_000, f)
	r := rand.New(rand.NewPCG(seed, 31))
	for i := range c.Devices {
		d := &c.Devices[i]
		if d.Lift == nil || d.Snap || d.Passage == nil {
			continue
		}
		t := &device.Trim{ByOutlet: d.Lift.Up > 0}
		p := 1e5 * (1 + 3*r.Float64())
		x, y := drawn(r)
		for range 1 + r.IntN(4) {
			t.FamilyPa = append(t.FamilyPa, p)
			t.Curves = append(t.Curves, device.NewRising(x, y))
			p *= 1.5 + 2*r.Float64()
			x, y = like(r, x, y)
		}
		d.Trim = t
	}
	return n, c, class
}

// drawn are points that rise from nothing at 0.
func drawn(r *rand.Rand) (x, y []float64) {
	x, y = []float64{0}, []float64{0}
	for range 2 + r.IntN(5) {
		x = append(x, x[len(x)-1]+0.1+r.Float64())
		y = append(y, y[len(y)-1]+0.05+r.Float64())
	}
	full := 0.5 + 0.5*r.Float64()
	last := len(x) - 1
	for i, l, h := 0, x[last], y[last]; i <= last; i++ {
		x[i] /= l
		y[i] *= full / h
	}
	return x, y
}

// like are points of the next curve of a family: other openings by up to a fifth.
func like(r *rand.Rand, x, y []float64) (x2, y2 []float64) {
	x2, y2 = slices.Clone(x), slices.Clone(y)
	rise, sum := 0.8+0.4*r.Float64(), 0.0
	for i := 1; i < len(y); i++ {
		sum += (y[i] - y[i-1]) * (rise + 0.2*(r.Float64()-0.5))
		y2[i] = min(sum, 1-1e-3*float64(len(y)-i))
	}
	return x2, y2
}

func TestRandomNetworksOfMeasuredOpenings(t *testing.T) {
	judge(t, *countFlag/10, trimmed, fluid.Ideal(0.0289652, 1.4, 1.8e-5))
}

// A trim that is a straight line to fully open is none.
func TestStraightTrimIsNone(t *testing.T) {
	line := device.NewRising([]float64{0, 0.3, 0.5, 1}, []float64{0, 0.3, 0.5, 1})
	for seed := uint64(1_200_000); seed < 1_200_060; seed++ {
		n, c, _ := generate(seed, fluid.Ideal(0.0289652, 1.4, 1.8e-5))
		plain, err := NewWorkspace(n).Solve(c)
		if err != nil {
			t.Fatal(err)
		}
		for i := range c.Devices {
			if c.Devices[i].Lift != nil && !c.Devices[i].Snap {
				c.Devices[i].Trim = &device.Trim{FamilyPa: []float64{1e5}, Curves: []*device.Rising{line}}
			}
		}
		trim, err := NewWorkspace(n).Solve(c)
		if err != nil {
			t.Fatal(err)
		}
		if plain.Status != trim.Status {
			t.Errorf("seed %d: %v, with a straight trim %v", seed, plain.Status, trim.Status)
			continue
		}
		for i := range plain.Nodes {
			a, b := plain.Nodes[i], trim.Nodes[i]
			if len(plain.Others)+len(trim.Others) == 0 && a.State == Flowing && math.Abs(a.PressurePa-b.PressurePa) > 1e-8*a.PressurePa {
				t.Errorf("seed %d: %s %g Pa, with a straight trim %g", seed, n.Nodes[i], a.PressurePa, b.PressurePa)
			}
		}
	}
}
