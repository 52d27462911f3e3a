package solver

import (
	"math"
	"math/rand/v2"
	"testing"

	"tapline/solver/device"
	"tapline/solver/fluid"
)

// Solved from the case before, every case has the answer that it has from cold.
func TestWarmIsCold(t *testing.T) {
	real := natural(t)
	ideal := fluid.Ideal(0.0289652, 1.4, 1.8e-5)
	const count = 110
	warm, solved := 0, 0
	for k := range count {
		seed := uint64(6_000_000 + k)
		f := fluid.Fluid(ideal)
		if k%8 == 0 {
			f = real
		}
		n, base, class := generate(seed, f)
		r := rand.New(rand.NewPCG(seed, 5))
		chain, cold := NewWorkspace(n), NewWorkspace(n)
		var got, want Result
		for step := range 5 {
			c := *base
			c.Conditions = append([]Condition(nil), base.Conditions...)
			for i := range c.Conditions {
				switch q := &c.Conditions[i]; {
				case q.Kind == Pressure && step > 0:
					q.PressurePa *= math.Exp(0.3 * (r.Float64() - 0.5))
					q.TemperatureK += 4 * (r.Float64() - 0.5)
				case q.Kind == Inflow:
					q.InflowKgS *= math.Exp(0.3 * (r.Float64() - 0.5))
				}
			}
			if step%2 == 1 {
				c.Devices = otherDevices(base.Devices, r)
			}
			if err := chain.SolveInto(&got, &c, true); err != nil {
				t.Fatal(err)
			}
			if err := cold.SolveInto(&want, &c, false); err != nil {
				t.Fatal(err)
			}
			if got.Status != want.Status {
				t.Errorf("%s, seed %d, step %d: %v from the case before (%s), %v from cold (%s)", class, seed, step, got.Status, got.Reason, want.Status, want.Reason)
				continue
			}
			if got.Status != Solved {
				continue
			}
			solved++
			if got.Iterations < want.Iterations {
				warm++
			}
			sameAnswer(t, class, seed, step, n, &got, &want)
		}
	}
	t.Logf("%d cases solved, %d with fewer iterations than from cold", solved, warm)
	if warm < solved/6 {
		t.Errorf("only %d of %d cases gained from the case before", warm, solved)
	}
}

// otherDevices are the same devices with some of their passages and settings moved.
func otherDevices(devices []Device, r *rand.Rand) []Device {
	devices = append([]Device(nil), devices...)
	for i := range devices {
		d := &devices[i]
		if v, ok := d.Passage.(device.Coefficient); ok && r.IntN(3) == 0 {
			v.Cv *= math.Exp(0.5 * (r.Float64() - 0.5))
			d.Passage = v
		}
		if d.Lift != nil && r.IntN(3) == 0 {
			l := *d.Lift
			l.Bias *= math.Exp(0.1 * (r.Float64() - 0.5))
			d.Lift = &l
		}
	}
	return devices
}

// sameAnswer compares two answers to one case.
func sameAnswer(t *testing.T, class string, seed uint64, step int, n *Network, got, want *Result) {
	t.Helper()
	near := func(what, name string, g, w, tol float64) {
		if !(math.Abs(g-w) <= tol) && !(math.IsNaN(g) && math.IsNaN(w)) {
			t.Errorf("%s, seed %d, step %d: %s of %s is %.12g, from cold %.12g", class, seed, step, what, name, g, w)
		}
	}
	through := make([]float64, len(n.Nodes))
	for i, e := range n.Elements {
		m := math.Abs(want.Elements[i].FlowKgS)
		through[e.From], through[e.To] = max(through[e.From], m), max(through[e.To], m)
	}
	for i := range got.Nodes {
		g, w := &got.Nodes[i], &want.Nodes[i]
		if g.State != w.State {
			t.Errorf("%s, seed %d, step %d: node %s is %v, from cold %v", class, seed, step, n.Nodes[i], g.State, w.State)
		}
		if through[i] < 1e-9 {
			continue
		}
		near("pressure", n.Nodes[i], g.PressurePa, w.PressurePa, 1e-7*w.PressurePa)
		near("temperature", n.Nodes[i], g.TemperatureK, w.TemperatureK, 1e-4)
		near("density", n.Nodes[i], g.DensityKgM3, w.DensityKgM3, 1e-6*w.DensityKgM3)
	}
	for i, e := range n.Elements {
		m := max(through[e.From], through[e.To])
		near("flow", e.Name, got.Elements[i].FlowKgS, want.Elements[i].FlowKgS, 1e-6*m+1e-12)
	}
	if got.Several != want.Several || got.PathDependent != want.PathDependent {
		t.Errorf("%s, seed %d, step %d: several %v and path-dependent %v, from cold %v and %v", class, seed, step,
			got.Several, got.PathDependent, want.Several, want.PathDependent)
	}
}

// A Result used again holds what a fresh one does, and solving into it allocates
// nothing.
func TestSolveIntoAllocatesNothing(t *testing.T) {
	n, cs := forty(natural(t), 0, 16)
	w := NewWorkspace(n)
	var r Result
	k := 0
	solve := func() {
		if err := w.SolveInto(&r, cs[k%len(cs)], k > 0); err != nil || r.Status != Solved {
			t.Fatal(err, r.Reason)
		}
		k++
	}
	for range 2 * len(cs) {
		solve()
	}
	if a := testing.AllocsPerRun(2*len(cs), solve); a > 0 {
		t.Errorf("%v allocations a case", a)
	}
}
