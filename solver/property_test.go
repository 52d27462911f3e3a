package solver

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"tapline/solver/device"
	"tapline/solver/fluid"
)

// verify holds a result against what a right answer must satisfy, using only
// the public result, the laws and the fluid: not the solver's own arithmetic.
func verify(n *Network, c *Case, r *Result) error {
	if r.Status != Solved {
		return fmt.Errorf("unsolved: %s (%v)", r.Reason, r.Unbalanced)
	}
	in, out := make([]float64, len(n.Nodes)), make([]float64, len(n.Nodes))
	for i, e := range n.Elements {
		q := r.Elements[i].FlowKgS
		from, to := e.From, e.To
		if q < 0 {
			from, to, q = to, from, -q
		}
		out[from] += q
		in[to] += q
		if err := lawHolds(n, c, r, i); err != nil {
			return err
		}
	}
	for i, o := range r.Nodes {
		if c.Conditions[i].Kind == Inflow {
			in[i] += c.Conditions[i].InflowKgS
		}
		if t := max(in[i], out[i]); o.State != Boundary && t > 1e-9 && math.Abs(in[i]-out[i]) > 1e-9*t {
			return fmt.Errorf("%s: %g in, %g out", n.Nodes[i], in[i], out[i])
		}
		if (o.State == DeadEnd || o.State == Trapped) && in[i]+out[i] != 0 {
			return fmt.Errorf("%s is at rest (%v) but passes %g kg/s", n.Nodes[i], o.State, in[i]+out[i])
		}
		if o.State != Trapped && !(o.PressurePa > 0) {
			return fmt.Errorf("%s (%v) has pressure %g", n.Nodes[i], o.State, o.PressurePa)
		}
	}
	return restProven(n, c, r)
}

// lawHolds recomputes the flow of element i at the reported pressures and
// temperatures with the gas evaluated there.
func lawHolds(n *Network, c *Case, r *Result, i int) error {
	e, d, got := n.Elements[i], &c.Devices[i], r.Elements[i]
	a, b := r.Nodes[e.From], r.Nodes[e.To]
	if a.State == Trapped || b.State == Trapped {
		if got.FlowKgS != 0 {
			return fmt.Errorf("%s passes %g at a trapped node", e.Name, got.FlowKgS)
		}
		return nil
	}
	if got.FlowKgS == 0 && (a.State == DeadEnd || b.State == DeadEnd) && onHill(c) {
		return nil // where heads do not meet, what is at rest behind one-way devices is an estimate
	}
	up, down, sign := a, b, 1.0
	if b.PressurePa > a.PressurePa {
		up, down, sign = b, a, -1
	}
	if sign < 0 && d.OneWay && d.Leak == nil || d.closed() {
		even := up.PressurePa-down.PressurePa <= restTol*up.PressurePa && math.Abs(got.FlowKgS) <= 1e-15 // rounding
		if got.FlowKgS != 0 && (!even || d.closed()) {
			return fmt.Errorf("%s passes %g where nothing can", e.Name, got.FlowKgS)
		}
		return nil
	}
	t, p := up.TemperatureK, up.PressurePa
	if d.Mean {
		p1, p2 := up.PressurePa, down.PressurePa
		p = 2.0 / 3 * (p1*p1 + p1*p2 + p2*p2) / (p1 + p2)
		if got.FlowKgS == 0 {
			return nil
		}
		if sign*got.FlowKgS < 0 {
			t = down.TemperatureK
		}
		t = 0.5 * (t + got.OutletK)
	}
	f := up.Gas
	if f == nil {
		f = c.Fluids[0]
	}
	gas, _, err := GasAt(f, t, p)
	if err != nil {
		return fmt.Errorf("%s: %v", e.Name, err)
	}
	g := &gas
	want, slope, lift := 0.0, 0.0, 1.0
	if d.Passage != nil && !(sign < 0 && d.OneWay) {
		q := d.Passage.Flow(up.PressurePa, down.PressurePa, g)
		if tube, ok := d.Passage.(device.Tube); ok && sign*got.FlowKgS < 0 {
			q = tube.Signed(a.PressurePa, b.PressurePa, g) // a rise turns it against the pressures
			q.W *= sign
		} else if ok && sign < 0 {
			q = tube.Signed(a.PressurePa, b.PressurePa, g)
			q.W = -q.W
		}
		if d.Lift != nil {
			pr := 0.0
			if e.Sense >= 0 {
				pr = r.Nodes[e.Sense].PressurePa
			}
			lift = d.Lift.At(a.PressurePa, b.PressurePa, pr)
			steep := 1.0
			if lift = min(max(lift, 0), 1); d.Trim != nil {
				lift, steep = d.Trim.Open(lift, a.PressurePa, b.PressurePa)
			}
			slope += q.W * steep * (math.Abs(d.Lift.Up)*a.PressurePa + math.Abs(d.Lift.Down)*b.PressurePa + math.Abs(d.Lift.Ref)*pr)
			if d.Snap {
				lift = got.Lift
			}
		}
		want += lift * q.W
		slope += lift * (math.Abs(q.Up)*up.PressurePa + math.Abs(q.Down)*down.PressurePa)
		if tube, ok := d.Passage.(device.Tube); ok { // its head rests on a density that has settled to so much
			slope += math.Abs(q.Up*tube.HeadPa(g)) * 1e-9 / (4 * 0x1p-52)
		}
	}
	if d.Leak != nil {
		q := d.Leak.Flow(up.PressurePa, down.PressurePa, g)
		want += q.W
		slope += math.Abs(q.Up)*up.PressurePa + math.Abs(q.Down)*down.PressurePa
	}
	if onHill(c) && max(math.Abs(got.FlowKgS), math.Abs(want)) < 1e-12 {
		return nil // heads against each other: what is left is rounding
	}
	if got.FlowKgS == 0 && (a.State == DeadEnd || b.State == DeadEnd) && lift < 1e-9 {
		return nil // at the point of shutting, to rounding
	}
	// 4 ulp of p times the slope.
	if miss := math.Abs(sign*got.FlowKgS - want); miss > 1e-6*math.Abs(want) && miss > 4*0x1p-52*slope+1e-18 {
		return fmt.Errorf("%s: reported %g, law %g at %g -> %g Pa (%v %v)", e.Name, got.FlowKgS, want, a.PressurePa, b.PressurePa, a.State, b.State)
	}
	return nil
}

// onHill reports whether any tube of a case rises.
func onHill(c *Case) bool {
	for i := range c.Devices {
		if t, ok := c.Devices[i].Passage.(device.Tube); ok && t.RiseM != 0 {
			return true
		}
	}
	return false
}

// restProven checks by the graph alone that every node reported at rest cannot
// carry flow: some one node or element cuts it off from the outside, or nothing
// joins it (Menger's theorem, by brute force).
func restProven(n *Network, c *Case, r *Result) error {
	open := func(i int) bool {
		d := &c.Devices[i]
		if d.closed() {
			return false
		}
		if d.Leak != nil {
			return true
		}
		return !(r.Elements[i].State == Shut || r.Elements[i].State == Reversed)
	}
	reach := func(skipNode, skipElement int) []bool {
		seen := make([]bool, len(n.Nodes))
		var todo []int
		for i := range n.Nodes {
			if outside(&c.Conditions[i]) && i != skipNode {
				seen[i] = true
				todo = append(todo, i)
			}
		}
		for len(todo) > 0 {
			i := todo[len(todo)-1]
			todo = todo[:len(todo)-1]
			for _, at := range n.at[i] {
				if at.element != skipElement && at.other != skipNode && !seen[at.other] && open(at.element) {
					seen[at.other] = true
					todo = append(todo, at.other)
				}
			}
		}
		return seen
	}
	cut := make([]bool, len(n.Nodes))
	mark := func(seen []bool, except int) {
		for i, s := range seen {
			cut[i] = cut[i] || !s && i != except
		}
	}
	mark(reach(-1, -1), -1)
	for i := range n.Nodes {
		mark(reach(i, -1), i)
	}
	for i := range n.Elements {
		if open(i) {
			mark(reach(-1, i), -1)
		}
	}
	joined := reach(-1, -1)
	for i, o := range r.Nodes {
		switch o.State {
		case DeadEnd, Trapped:
			if !cut[i] {
				return fmt.Errorf("%s is said to be at rest (%v), the graph does not say so", n.Nodes[i], o.State)
			}
			if o.State == Trapped && joined[i] && !onHill(c) { // a holder at rest may open by heads alone
				return fmt.Errorf("%s is said to be trapped but is joined to the outside", n.Nodes[i])
			}
		case Flowing:
			if cut[i] && !outside(&c.Conditions[i]) {
				return fmt.Errorf("%s is said to flow, but it is cut off", n.Nodes[i])
			}
		}
	}
	return nil
}

func TestRandomNetworks(t *testing.T) {
	judge(t, *countFlag, generate, fluid.Ideal(0.0289652, 1.4, 1.8e-5)) // ideal gas with the mass of air
}

// TestRandomNetworksRealGas is the same with a real gas whose throttling cools
// by tens of kelvin.
func TestRandomNetworksRealGas(t *testing.T) {
	gas, err := fluid.New(map[string]float64{"methane": 0.85, "nitrogen": 0.1, "hydrogen": 0.05})
	if err != nil {
		t.Fatal(err)
	}
	judge(t, *countFlag/40, generate, gas)
}

// judge solves count random networks and holds every answer against verify. A
// network without an answer fails.
func judge(t *testing.T, count int, generate func(seed uint64, f fluid.Fluid) (*Network, *Case, string), gas fluid.Fluid) {
	t.Helper()
	type tally struct{ n, pseudo, loads, several, deadEnd, trapped, its, worst, passes int }
	tallies := map[string]*tally{}
	for k := range count {
		seed := *seedFlag + uint64(k)
		if *classFlag != "" && classes[seed%uint64(len(classes))] != *classFlag {
			continue
		}
		n, c, class := generate(seed, gas)
		r, err := NewWorkspace(n).Solve(c)
		if err != nil {
			t.Fatalf("seed %d (%s): %v", seed, class, err)
		}
		y := tallies[class]
		if y == nil {
			y = &tally{}
			tallies[class] = y
		}
		y.n++
		y.its += r.Iterations
		y.passes = max(y.passes, r.Passes)
		y.worst = max(y.worst, r.Iterations)
		switch r.Stage {
		case PseudoTime:
			y.pseudo++
		case HeldLoads:
			y.loads++
		}
		if r.Several {
			y.several++
		}
		if slices.ContainsFunc(r.Nodes, func(o NodeResult) bool { return o.State == DeadEnd }) {
			y.deadEnd++
		}
		if slices.ContainsFunc(r.Nodes, func(o NodeResult) bool { return o.State == Trapped }) {
			y.trapped++
		}
		for _, o := range r.Others {
			other := *r
			other.Nodes, other.Elements = o.Nodes, o.Elements
			if err := verify(n, c, &other); err != nil {
				t.Errorf("seed %d (%s), the answer from %s: %v", seed, class, o.Start, err)
			}
		}
		if err := verify(n, c, r); err != nil {
			t.Errorf("seed %d (%s, %d nodes, thermal %d, %v, %d passes, %d iterations): %v",
				seed, class, len(n.Nodes), c.Thermal, r.Stage, r.Passes, r.Iterations, err)
		}
	}
	for _, class := range classes {
		if y := tallies[class]; y != nil {
			t.Logf("%-18s %5d networks, all answered unless named above; with dead ends %d, trapped sections %d, several answers %d; by pseudo-time %d, held loads %d; iterations mean %.1f worst %d, passes worst %d",
				class, y.n, y.deadEnd, y.trapped, y.several, y.pseudo, y.loads, float64(y.its)/float64(y.n), y.worst, y.passes)
		}
	}
}
