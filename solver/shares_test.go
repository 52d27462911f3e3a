package solver

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"tapline/solver/device"
	"tapline/solver/fluid"
)

// Gases of unlike molar mass M and heat capacity for blends worked out by hand.
// Per mole, cp is gamma/(gamma - 1) R: 3.5 R, 2.5 R and 4.5 R.
const r = 8.314472 // J/(mol K)

var (
	gasA = fluid.Ideal(0.028, 1.4, 1.8e-5)
	gasB = fluid.Ideal(0.004, 5.0/3, 2.0e-5)
	gasC = fluid.Ideal(0.044, 9.0/7, 1.5e-5)
)

type sketch struct {
	builder
}

func newSketch(thermal Thermal, fluids ...fluid.Fluid) *sketch {
	s := &sketch{builder{r: rand.New(rand.NewPCG(1, 1))}}
	s.c.Fluids, s.c.Thermal, s.c.AmbientK = fluids, thermal, 293.15
	return s
}

func (s *sketch) inflow(kgS, tK float64, fluid int) int {
	return s.node(Condition{Kind: Inflow, InflowKgS: kgS, TemperatureK: tK, Fluid: fluid})
}

func (s *sketch) open(from, to int, cv float64) int {
	return s.add(from, to, Device{Passage: device.Coefficient{Cv: cv, XT: 0.7, FL: 0.9}})
}

func (s *sketch) solve(t *testing.T) *Result {
	t.Helper()
	n, err := New(s.nodes, s.elements)
	if err != nil {
		t.Fatal(err)
	}
	result, err := NewWorkspace(n).Solve(&s.c)
	if err != nil {
		t.Fatal(err)
	}
	if result.Status != Solved {
		t.Fatal(result.Reason)
	}
	return result
}

func near(t *testing.T, what string, got, want, rel float64) {
	t.Helper()
	if !(math.Abs(got-want) <= rel*math.Abs(want)) {
		t.Errorf("%s is %.15g, want %.15g", what, got, want)
	}
}

// shareOf is the share of an entry in what is at a node.
func shareOf(n NodeResult, entry int) float64 {
	for _, s := range n.Shares {
		if s.Entry == entry {
			return s.Mole
		}
	}
	return 0
}

// Two streams meet at a node and leave together:
//
//	2.8 g/s of A at 300 K  = 0.1 mol/s, heat capacity 0.35 R
//	1.2 g/s of B at 360 K  = 0.3 mol/s, heat capacity 0.75 R
//	blend: A 0.25, B 0.75; M = 4.0 g/s over 0.4 mol/s = 10 g/mol;
//	T = (0.35*300 + 0.75*360)/1.1 = 375/1.1 K
func TestTwoStreamsMeet(t *testing.T) {
	s := newSketch(Isenthalpic, gasA, gasB)
	a, b := s.inflow(2.8e-3, 300, 0), s.inflow(1.2e-3, 360, 1)
	j, out := s.free(), s.vent(1e5)
	s.open(a, j, 1)
	s.open(b, j, 1)
	last := s.open(j, out, 0.5)
	got := s.solve(t)
	for _, n := range []int{j, out} {
		near(t, "share of A", shareOf(got.Nodes[n], a), 0.25, 1e-9)
		near(t, "share of B", shareOf(got.Nodes[n], b), 0.75, 1e-9)
		near(t, "molar mass", got.Nodes[n].Gas.MolarMass(), 0.010, 1e-9)
		near(t, "temperature", got.Nodes[n].TemperatureK, 375/1.1, 1e-9)
		near(t, "density", got.Nodes[n].DensityKgM3, got.Nodes[n].PressurePa*0.010/(r*375/1.1), 1e-9)
	}
	near(t, "share at its own source", shareOf(got.Nodes[a], a), 1, 0)
	// The last valve sees the blend: its law at the pressures found gives the flow.
	g, _, err := GasAt(got.Nodes[j].Gas, got.Nodes[j].TemperatureK, got.Nodes[j].PressurePa)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "flow by the law", device.Coefficient{Cv: 0.5, XT: 0.7, FL: 0.9}.Flow(got.Nodes[j].PressurePa, 1e5, &g).W, 4.0e-3, 1e-9)
	near(t, "flow", got.Elements[last].FlowKgS, 4.0e-3, 1e-9)
}

// A third stream joins behind the first two, in a leg laid the other way round:
//
//	4.0 g/s of the blend above, 0.4 mol/s, 1.1 R, at 375/1.1 K
//	4.4 g/s of C at 280 K = 0.1 mol/s, heat capacity 0.45 R
//	A 0.2, B 0.6, C 0.2; M = 8.4/0.5 = 16.8 g/mol; T = (375 + 126)/1.55 K
//
// A dead end behind the first junction takes the gas of that one, a stub of the
// stub too, and what is shut off on all sides has none.
func TestThreeStreamsAndWhatRests(t *testing.T) {
	s := newSketch(Isenthalpic, gasA, gasB, gasC)
	a, b, c := s.inflow(2.8e-3, 300, 0), s.inflow(1.2e-3, 360, 1), s.inflow(4.4e-3, 280, 2)
	j, k, out, other := s.free(), s.free(), s.vent(1e5), s.vent(1.1e5)
	s.open(a, j, 1)
	s.open(b, j, 1)
	back := s.open(k, j, 1) // flows from j to k
	s.open(c, k, 1)
	s.open(k, out, 0.5)
	s.open(k, other, 0.5)
	stub, twig, filled, trapped := s.free(), s.free(), s.free(), s.free()
	s.open(j, stub, 0.1)
	s.open(stub, twig, 0.1)
	s.add(k, filled, s.reducer(1.5e5, 5e5))
	s.add(k, trapped, Device{})
	got := s.solve(t)
	near(t, "flow backwards", got.Elements[back].FlowKgS, -4.0e-3, 1e-9)
	for _, n := range []int{j, stub, twig} {
		near(t, "A before", shareOf(got.Nodes[n], a), 0.25, 1e-9)
		near(t, "B before", shareOf(got.Nodes[n], b), 0.75, 1e-9)
	}
	for _, n := range []int{k, out, other, filled} {
		near(t, "A", shareOf(got.Nodes[n], a), 0.2, 1e-9)
		near(t, "B", shareOf(got.Nodes[n], b), 0.6, 1e-9)
		near(t, "C", shareOf(got.Nodes[n], c), 0.2, 1e-9)
		near(t, "molar mass", got.Nodes[n].Gas.MolarMass(), 0.0168, 1e-9)
	}
	for _, n := range []int{k, out, other} {
		near(t, "temperature", got.Nodes[n].TemperatureK, 501/1.55, 1e-9)
	}
	if n := got.Nodes[trapped]; n.State != Trapped || n.Shares != nil || n.Gas != nil {
		t.Errorf("shut off on all sides: %v %v %v", n.State, n.Shares, n.Gas)
	}
}

// pump moves a fixed flow from its inlet to its outlet whatever the pressures.
type pump struct{ kgS float64 }

func (p pump) Flow(_, _ float64, _ *device.Gas) device.Flow {
	return device.Flow{W: p.kgS, Exponent: 1, Root: p.kgS}
}
func (p pump) Pass(f *device.Flow, _, _ float64, _ *device.Gas, _ *device.Start) {
	*f = device.Flow{W: p.kgS, Exponent: 1, Root: p.kgS}
}

// A pump sends 5.6 g/s back round a ring that A enters at one place and B at
// another: the flows of the ring are closed by hand.
//
//	into j: 2.8 g/s of A and 5.6 g/s of what is at k; into k: that and 1.2 g/s of B.
//	At k the shares are those of the throughput, 0.25 and 0.75 (M = 10 g/mol), for
//	what goes round brings nothing of its own; the ring carries 0.56 mol/s.
//	At j: A (0.1 + 0.56*0.25)/0.66, B 0.56*0.75/0.66.
//	Temperature: 375/1.1 K at k; at j (0.35*300 + 0.56*2.75*375/1.1)/(0.35 + 0.56*2.75).
func TestRing(t *testing.T) {
	s := newSketch(Isenthalpic, gasA, gasB)
	a, b := s.inflow(2.8e-3, 300, 0), s.inflow(1.2e-3, 360, 1)
	j, k, out := s.free(), s.free(), s.vent(1e5)
	s.open(a, j, 1)
	s.open(b, k, 1)
	s.open(j, k, 1)
	s.add(k, j, Device{Passage: pump{5.6e-3}})
	s.open(k, out, 0.5)
	got := s.solve(t)
	near(t, "A at k", shareOf(got.Nodes[k], a), 0.25, 1e-9)
	near(t, "B at k", shareOf(got.Nodes[k], b), 0.75, 1e-9)
	near(t, "A at j", shareOf(got.Nodes[j], a), 0.24/0.66, 1e-9)
	near(t, "B at j", shareOf(got.Nodes[j], b), 0.42/0.66, 1e-9)
	near(t, "temperature of k", got.Nodes[k].TemperatureK, 375/1.1, 1e-8)
	near(t, "temperature of j", got.Nodes[j].TemperatureK, (0.35*300+0.56*2.75*375/1.1)/(0.35+0.56*2.75), 1e-8)
}

// A vent that gives back is an entry of its own: what it gives is counted as the
// system's gas at its own temperature.
func TestVentGivesBack(t *testing.T) {
	s := newSketch(Isenthalpic, gasA)
	src := s.source(3e5)
	s.c.Conditions[src].TemperatureK = 300
	j, high, low := s.free(), s.vent(2.5e5), s.vent(1e5)
	s.open(src, j, 0.1)
	s.open(j, high, 0.2)
	s.open(j, low, 0.5)
	got := s.solve(t)
	in, back := got.Elements[0].FlowKgS, -got.Elements[1].FlowKgS
	if !(back > 0) {
		t.Fatalf("the vent gives back %g", back)
	}
	for _, n := range []int{j, low} {
		near(t, "share of the source", shareOf(got.Nodes[n], src), in/(in+back), 1e-9)
		near(t, "share of the vent", shareOf(got.Nodes[n], high), back/(in+back), 1e-9)
		near(t, "temperature", got.Nodes[n].TemperatureK, (in*300+back*293.15)/(in+back), 1e-9)
	}
}

// Ideal and real gases do not blend; the case says so.
func TestUnlikeKinds(t *testing.T) {
	real, err := fluid.New(map[string]float64{"methane": 1})
	if err != nil {
		t.Fatal(err)
	}
	s := newSketch(Isenthalpic, gasA, real)
	j := s.free()
	s.open(s.inflow(1e-3, 300, 0), j, 1)
	s.open(s.inflow(1e-3, 300, 1), j, 1)
	s.open(j, s.vent(1e5), 1)
	n, err := New(s.nodes, s.elements)
	if err != nil {
		t.Fatal(err)
	}
	got, err := NewWorkspace(n).Solve(&s.c)
	if err != nil || got.Status != Unsolved || got.Reason == "" {
		t.Errorf("%v, %v %q", err, got.Status, got.Reason)
	}
}

// mixedNetwork is the random network of a seed with two to four fluids: its
// sources take them in turn, and more sources are joined to it where it has few.
func mixedNetwork(t *testing.T, seed uint64, fluids []fluid.Fluid) (*Network, *Case, string) {
	n, c, class := generate(seed, fluids[0])
	b := &builder{r: rand.New(rand.NewPCG(seed, 29)), nodes: n.Nodes, elements: n.Elements, c: *c}
	b.c.Fluids = fluids[:2+b.r.IntN(len(fluids)-1)]
	high, given := 0.0, 0
	for i := range b.c.Conditions {
		if k := &b.c.Conditions[i]; k.Kind == Pressure && k.Fluid >= 0 {
			k.Fluid = given % len(b.c.Fluids)
			given++
			high = max(high, k.PressurePa)
		}
	}
	free := len(b.nodes)
	for ; given < len(b.c.Fluids); given++ {
		s := b.source(high * b.between(0.3, 1.1))
		b.c.Conditions[s].Fluid = given
		to := b.r.IntN(free)
		for b.c.Conditions[to].Kind != Free {
			to = b.r.IntN(free)
		}
		d := b.valve()
		if b.chance(0.3) {
			d = b.check()
		}
		b.add(s, to, d)
	}
	made, err := New(b.nodes, b.elements)
	if err != nil {
		t.Fatal(err)
	}
	return made, &b.c, class
}

// balance holds the shares of a result against the mole balance of every entry
// and, where heat is not exchanged, against the enthalpy balance, at every node,
// using only the public result.
func balance(n *Network, c *Case, r *Result) (worst float64, err error) {
	gas := func(i int) fluid.Fluid { // a vent that no source reaches gives back the first
		if g := r.Nodes[i].Gas; g != nil {
			return g
		}
		return c.Fluids[0]
	}
	asked := NewWorkspace(n) // for the source that stands in for what a vent gives back, which may take a blend too
	asked.c = c
	asked.spread()
	molar := func(e int) float64 { return asked.entryMolar(e) }
	for i, o := range r.Nodes {
		if o.Gas == nil {
			continue
		}
		sum, mass := 0.0, 0.0
		for _, s := range o.Shares {
			sum += s.Mole
			mass += s.Mole * molar(s.Entry)
		}
		if math.Abs(sum-1) > 1e-12 || math.Abs(mass/o.Gas.MolarMass()-1) > 1e-11 {
			return worst, fmt.Errorf("%s: shares sum to %.15g, molar mass %.15g of %.15g", n.Nodes[i], sum, mass, o.Gas.MolarMass())
		}
		if o.State != Flowing {
			continue
		}
		in, out := map[int]float64{}, map[int]float64{}
		total, heat, scale := 0.0, 0.0, 0.0
		for _, at := range n.at[i] {
			e, q := n.Elements[at.element], r.Elements[at.element].FlowKgS
			from := e.From
			if q < 0 {
				from, q = e.To, -q
			}
			if q == 0 {
				continue
			}
			side, sign, t := out, -1.0, o.TemperatureK
			if from != i {
				side, sign, t = in, 1.0, r.Elements[at.element].OutletK
				total += q / gas(from).MolarMass()
			}
			for _, s := range r.Nodes[from].Shares {
				side[s.Entry] += q / gas(from).MolarMass() * s.Mole
			}
			h, cp, err := gas(from).Enthalpy(t, o.PressurePa)
			if err != nil {
				return worst, err
			}
			heat += sign * q * h
			scale += q * cp * t
		}
		if total < 1e-8 {
			continue
		}
		for e, x := range in {
			worst = max(worst, math.Abs(x-out[e])/total)
		}
		if c.Thermal == Isenthalpic {
			worst = max(worst, math.Abs(heat)/scale)
		}
	}
	return worst, nil
}

func judgeMixed(t *testing.T, count int, fluids []fluid.Fluid) {
	t.Helper()
	worst, passes, blends := 0.0, 0, 0
	for k := range count {
		seed := *seedFlag + uint64(k)
		n, c, class := mixedNetwork(t, seed, fluids)
		r, err := NewWorkspace(n).Solve(c)
		if err != nil {
			t.Fatalf("seed %d (%s): %v", seed, class, err)
		}
		if err := verify(n, c, r); err != nil {
			t.Errorf("seed %d (%s, %d passes): %v", seed, class, r.Passes, err)
			continue
		}
		miss, err := balance(n, c, r)
		if err != nil || miss > 1e-9 {
			t.Errorf("seed %d (%s): balance of a gas missed by %g, %v", seed, class, miss, err)
		}
		worst, passes = max(worst, miss), max(passes, r.Passes)
		for _, o := range r.Nodes {
			if len(o.Shares) > 1 {
				blends++
			}
		}
	}
	t.Logf("%d networks, %d nodes with blends, worst balance %.2g, at most %d passes", count, blends, worst, passes)
	if blends < count {
		t.Errorf("only %d nodes with blends", blends)
	}
}

var unlikeGases = []fluid.Fluid{gasA, gasB, gasC, fluid.Ideal(0.002, 1.41, 0.9e-5)}

func TestRandomBlends(t *testing.T) { judgeMixed(t, *countFlag/8, unlikeGases) }

// Lagging flows close a ring in these networks, from which a gas that no longer
// comes in is washed out until its share is less than a number can hold.
func TestWashedOutOfRing(t *testing.T) {
	for _, seed := range []uint64{2425, 7_000_500} {
		n, c, _ := mixedNetwork(t, seed, unlikeGases)
		r, err := NewWorkspace(n).Solve(c)
		if err != nil {
			t.Fatal(err)
		}
		if err := verify(n, c, r); err != nil {
			t.Errorf("seed %d: %v", seed, err)
		}
		for i, o := range r.Nodes {
			for k := 1; k < len(o.Shares); k++ {
				if o.Shares[k].Entry <= o.Shares[k-1].Entry {
					t.Errorf("seed %d, node %d: entry %d after %d", seed, i, o.Shares[k].Entry, o.Shares[k-1].Entry)
				}
			}
		}
	}
}

func TestRandomBlendsRealGas(t *testing.T) {
	var fluids []fluid.Fluid
	for _, x := range []map[string]float64{
		{"methane": 0.95, "nitrogen": 0.05}, {"nitrogen": 1}, {"hydrogen": 1}, {"helium": 0.9, "oxygen": 0.1},
	} {
		f, err := fluid.New(x)
		if err != nil {
			t.Fatal(err)
		}
		fluids = append(fluids, f)
	}
	judgeMixed(t, *countFlag/50, fluids)
}
