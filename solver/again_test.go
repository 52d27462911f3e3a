package solver

import (
	"fmt"
	"math/rand/v2"
	"testing"

	"tapline/solver/device"
	"tapline/solver/fluid"
)

// A workspace keeps nothing of a case that shows in the next: to the last bit,
// an answer is that of a new workspace whatever was solved in it before. Which
// goroutine solves which case is chance, so without this the output would
// depend on the number of processors.
func TestWorkspaceForgets(t *testing.T) {
	air := fluid.Ideal(0.0289652, 1.4, 1.8e-5)
	for seed := uint64(3_000_000); seed < 3_000_150; seed++ {
		n, c, class := generate(seed, air)
		other := disturbed(seed, c)
		fresh, err := NewWorkspace(n).Solve(c)
		if err != nil {
			t.Fatal(err)
		}
		w := NewWorkspace(n)
		for _, k := range []*Case{other, c, other} {
			if _, err := w.Solve(k); err != nil {
				t.Fatal(err)
			}
		}
		used, err := w.Solve(c)
		if err != nil {
			t.Fatal(err)
		}
		if a, b := fmt.Sprintf("%v", fresh), fmt.Sprintf("%v", used); a != b {
			at := ""
			for i := range n.Nodes {
				if x, y := fmt.Sprintf("%v", fresh.Nodes[i]), fmt.Sprintf("%v", used.Nodes[i]); x != y {
					at = fmt.Sprintf("; at %s %s, not %s", n.Nodes[i], y, x)
					break
				}
			}
			t.Errorf("seed %d (%s): another answer (%d iterations, not %d) after other cases%s", seed, class, used.Iterations, fresh.Iterations, at)
		}
	}
}

// disturbed is a case of the same network with other pressures and openings.
func disturbed(seed uint64, c *Case) *Case {
	r := rand.New(rand.NewPCG(seed, 9))
	d := *c
	d.Conditions = append([]Condition{}, c.Conditions...)
	d.Devices = append([]Device{}, c.Devices...)
	for i := range d.Conditions {
		d.Conditions[i].PressurePa *= 0.7 + 0.6*r.Float64()
	}
	for i := range d.Devices {
		if r.IntN(5) == 0 {
			d.Devices[i].Passage = nil
		} else if d.Devices[i].Passage == nil && d.Devices[i].Lift == nil {
			d.Devices[i].Passage = device.Coefficient{Cv: 0.1, XT: 0.7, FL: 0.9}
		}
	}
	return &d
}
