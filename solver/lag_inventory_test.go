package solver

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"
)

// What a network holds is what leaves it times its age: over all ways out, the sum
// of mass flow and mean age is the mass inside (Danckwerts, Chem. Eng. Sci. 2
// (1953) 1-13), however the flow splits and joins, and what leaves comes from
// somewhere. Both in random networks.
func TestInventoryIsOutflowTimesAge(t *testing.T) {
	judged, left, ways := 0, 0, 0
	for seed := uint64(1_000_000); seed < 1_000_160; seed++ {
		n, c, class := generate(seed, nitrogen)
		r, err := NewWorkspace(n).Solve(c)
		if err != nil || r.Status != Solved {
			t.Fatal(seed, err, r.Reason)
		}
		rnd := rand.New(rand.NewPCG(seed, 3))
		in := Inside{Elements: make([]Inner, len(n.Elements)), Nodes: make([]Inner, len(n.Nodes))}
		for i := range in.Elements {
			in.Elements[i] = Inner{VolumeM3: 1e-4 * rnd.Float64(), Mixing: rnd.Float64(), Side: Side(rnd.IntN(3))}
		}
		arrives, moves := make([]float64, len(n.Nodes)), make([]float64, len(n.Nodes))
		for i, e := range r.Elements {
			to := n.Elements[i].To
			if e.FlowKgS < 0 {
				to = n.Elements[i].From
			}
			arrives[to] += math.Abs(e.FlowKgS)
		}
		for i, k := range c.Conditions {
			if k.Kind != Pressure && rnd.IntN(2) == 0 {
				in.Nodes[i] = Inner{VolumeM3: 1e-4 * rnd.Float64(), Mixing: rnd.Float64()}
			}
			if moves[i] = arrives[i]; k.Kind == Inflow {
				moves[i] += k.InflowKgS
			}
		}
		tr := n.Transport(c, r, in)
		// A column can drive a flow round; flows below 1e-9 kg/s need not balance to
		// what their long ages would ask for; a vent can give back what it takes.
		back := false
		for i, k := range c.Conditions {
			back = back || k.Kind == Pressure && arrives[i] > 0 && tr.out[i] > 0
		}
		if back || slices.Contains(tr.ring, true) || slices.ContainsFunc(tr.flow, func(h hop) bool { return h.flowKgS > 0 && h.flowKgS < 1e-9 }) {
			left++
			continue
		}
		held := 0.0
		for _, h := range tr.flow {
			held += h.heldS * h.flowKgS
		}
		for i, v := range in.Nodes {
			if arrives[i] > 0 && v.VolumeM3 > 0 {
				held += v.VolumeM3 * r.Nodes[i].DensityKgM3
			}
		}
		outflow, aged := 0.0, 0.0
		parts := make([]float64, len(n.Nodes))
		for s, k := range c.Conditions {
			if !outside(&k) {
				continue
			}
			a := tr.From(s)
			for o, k := range c.Conditions {
				if o == s || k.Kind != Pressure || arrives[o] == 0 {
					continue
				}
				parts[o] += a.part[o]
				for _, k := range a.waysTo(o) {
					w := &tr.ways[k]
					aged += arrives[o] * a.part[o] * w.part * (w.plug + w.tanks)
				}
				ways = max(ways, len(a.waysTo(o)))
			}
		}
		for o, p := range parts {
			if c.Conditions[o].Kind != Pressure || arrives[o] == 0 {
				continue
			}
			outflow += arrives[o]
			if arrives[o] > 1e-9 && math.Abs(p-1) > 1e-6 {
				t.Errorf("seed %d (%s): %g of what arrives at %s comes from somewhere", seed, class, p, n.Nodes[o])
			}
		}
		if outflow == 0 {
			continue
		}
		judged++
		if math.Abs(aged-held) > 1e-5*held {
			t.Errorf("seed %d (%s): holds %.9g kg, outflow times age is %.9g kg", seed, class, held, aged)
		}
	}
	t.Logf("%d networks with a flow, %d left out, up to %d ways to a place", judged, left, ways)
}
