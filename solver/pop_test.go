package solver

import (
	"math"
	"math/rand/v2"
	"testing"

	"tapline/solver/device"
	"tapline/solver/fluid"
)

// Devices that jump open (pop-action reliefs) against brute force: a panel with
// k of them has 2^k sets of states, and each set is a plain network in which a
// pop is a hole or is not there. A set stands where every shut pop is at or
// below its set pressure and every open one at or above its reseating pressure.

// pops is a random panel with k pop valves.
func pops(seed uint64, k int) (n *Network, c *Case, at []int) {
	b := &builder{r: rand.New(rand.NewPCG(seed, 23))}
	b.c.Fluids = []fluid.Fluid{fluid.Ideal(0.0289652, 1.4, 1.8e-5)}
	b.c.AmbientK, b.c.Thermal = 293.15, Isothermal
	high := b.log(4e5, 1e7)
	nodes := []int{b.free()}
	b.add(b.source(high), nodes[0], b.wide())
	for range 1 + b.r.IntN(6) {
		x := b.free()
		b.add(nodes[b.r.IntN(len(nodes))], x, b.wide())
		nodes = append(nodes, x)
	}
	b.add(nodes[len(nodes)-1], b.vent(1.05e5), b.wide())
	if b.chance(0.5) {
		b.add(nodes[b.r.IntN(len(nodes))], b.vent(1.05e5), b.wide())
	}
	header := b.vent(b.between(1.02e5, 2e5))
	for range k {
		from := nodes[b.r.IntN(len(nodes))]
		at = append(at, b.add(from, header, Device{Passage: device.Nozzle{AreaM2: b.log(1e-6, 3e-5), K: 0.8}, OneWay: true}))
	}
	n, err := New(b.nodes, b.elements)
	if err != nil {
		panic(err)
	}
	// Set pressures about where the panel stands with all shut.
	c = &b.c
	shut := states(c, at, 0)
	r, err := NewWorkspace(n).Solve(shut)
	if err != nil || r.Status != Solved {
		panic("a panel of valves has no answer")
	}
	for _, i := range at {
		p := r.Nodes[n.Elements[i].From].PressurePa
		set := max(p*b.between(0.7, 1.1), 1.5e5)
		over := 0.1 * set
		l := device.ReliefSpec{SetPa: set, OverpressurePa: over, Beta: b.r.Float64(), AtmospherePa: 101325}.Lift()
		blowdown := []float64{0.1, 0.1, 0.1, 0.05, 0.2}[b.r.IntN(5)]
		c.Devices[i].Lift, c.Devices[i].Snap = &l, true
		c.Devices[i].ReseatZ = -blowdown * (set - 101325) / over
	}
	return n, c, at
}

// wide is a valve beside which a pop is felt.
func (b *builder) wide() Device {
	return Device{Passage: device.Coefficient{Cv: b.log(0.05, 2), XT: 0.7}}
}

// states is the plain case in which the pops of a set are open and the others not
// there.
func states(c *Case, at []int, open uint) *Case {
	plain := *c
	plain.Devices = append([]Device{}, c.Devices...)
	for k, i := range at {
		plain.Devices[i] = Device{OneWay: true}
		if open>>k&1 == 1 {
			plain.Devices[i].Passage = c.Devices[i].Passage
		}
	}
	return &plain
}

// standing is a set of states that stands, and its pressures.
type standing struct {
	open uint
	p    []float64
}

// enumerate tries all sets. z holds those of the first pop shut and open with
// all others shut. doubtful says that some pop sits on its limit.
func enumerate(t *testing.T, n *Network, c *Case, at []int) (found []standing, z [2]float64, doubtful bool) {
	t.Helper()
	w := NewWorkspace(n)
	for open := range uint(1) << len(at) {
		r, err := w.Solve(states(c, at, open))
		if err != nil || r.Status != Solved {
			t.Fatalf("a plain network has no answer: %v %s", err, r.Reason)
		}
		stands := true
		for k, i := range at {
			l, e := c.Devices[i].Lift, n.Elements[i]
			lift := l.Bias + l.Up*r.Nodes[e.From].PressurePa + l.Down*r.Nodes[e.To].PressurePa
			is := open>>k&1 == 1
			limit := 0.0
			if is {
				limit = c.Devices[i].ReseatZ
			}
			doubtful = doubtful || math.Abs(lift-limit) < 1e-7
			stands = stands && (is && lift >= limit || !is && lift <= limit)
			if k == 0 && open <= 1 {
				z[open] = lift
			}
		}
		if stands {
			s := standing{open: open}
			for i := range r.Nodes {
				s.p = append(s.p, r.Nodes[i].PressurePa)
			}
			found = append(found, s)
		}
	}
	return found, z, doubtful
}

// agrees reports whether a result is one of the sets that stand. A pop with the
// pressure against it passes nothing open or shut, and counts as either.
func agrees(n *Network, at []int, r *Result, found []standing) bool {
	open, either := uint(0), uint(0)
	for k, i := range at {
		switch r.Elements[i].State {
		case WideOpen:
			open |= 1 << k
		case Reversed:
			either |= 1 << k
		}
	}
	for _, s := range found {
		if s.open&^either != open {
			continue
		}
		for i := range s.p {
			if !(math.Abs(r.Nodes[i].PressurePa/s.p[i]-1) <= 1e-9) {
				return false
			}
		}
		return true
	}
	return false
}

func TestPopPanels(t *testing.T) {
	var steady, none, several [9]int
	for seed := uint64(1_000_000); seed < 1_000_300; seed++ {
		k := 1 + int(seed%8)
		n, c, at := pops(seed, k)
		found, _, doubtful := enumerate(t, n, c, at)
		if doubtful {
			continue
		}
		r, err := NewWorkspace(n).Solve(c)
		if err != nil {
			t.Fatal(err)
		}
		switch {
		case len(found) == 0:
			none[k]++
			if !r.Cycling {
				t.Errorf("seed %d (%d pops): no set of states stands, yet it is not said to cycle (%v)", seed, k, r.Status)
			}
		case r.Cycling:
			t.Errorf("seed %d (%d pops): said to cycle, yet %d sets of states stand", seed, k, len(found))
		default:
			steady[k]++
			if len(found) > 1 {
				several[k]++
			}
			if (len(found) > 1) != r.PathDependent {
				t.Errorf("seed %d (%d pops): %d sets stand, path-dependent is %v", seed, k, len(found), r.PathDependent)
			}
			for _, o := range r.Others {
				other := *r
				other.Nodes, other.Elements = o.Nodes, o.Elements
				if !agrees(n, at, &other, found) {
					t.Errorf("seed %d (%d pops): the answer from %s is none of the %d sets that stand", seed, k, o.Start, len(found))
				}
			}
			if r.Status != Solved || !agrees(n, at, r, found) {
				t.Errorf("seed %d (%d pops): the answer (%v) is none of the %d sets that stand", seed, k, r.Status, len(found))
			}
		}
	}
	t.Logf("pops 1 to 8: steady %v, of which several sets stand %v, none stands %v", steady[1:], several[1:], none[1:])
}

// A single pop has four cases, by its z while it is shut and while it is open:
// only shut stands, only open, both, or neither.
func TestSinglePop(t *testing.T) {
	var count [4]int
	names := [4]string{"neither", "shut only", "open only", "both"}
	for seed := uint64(1_100_000); seed < 1_100_600; seed++ {
		n, c, at := pops(seed, 1)
		found, z, doubtful := enumerate(t, n, c, at)
		if doubtful {
			continue
		}
		if z[1] > z[0]+1e-12*math.Abs(z[0]) {
			t.Errorf("seed %d: opening raises what opens it, z %g to %g", seed, z[0], z[1])
		}
		which := 0
		if z[0] <= 0 {
			which |= 1
		}
		if z[1] >= c.Devices[at[0]].ReseatZ {
			which |= 2
		}
		count[which]++
		r, err := NewWorkspace(n).Solve(c)
		if err != nil {
			t.Fatal(err)
		}
		got := r.Elements[at[0]].State
		switch which {
		case 0:
			if !r.Cycling || got != Cycling {
				t.Errorf("seed %d: neither state stands, yet it is %v and not cycling", seed, got)
				break
			}
			swings(t, seed, n, c, at[0], r)
		case 3:
			if !r.PathDependent {
				t.Errorf("seed %d: both states stand, and it is not said to depend on the path", seed)
			}
			fallthrough
		case 1: // from shut, where it starts
			if r.Cycling || got != Shut && got != Reversed {
				t.Errorf("seed %d: shut stands, yet it is %v (cycling %v)", seed, got, r.Cycling)
			}
		case 2:
			if r.Cycling || got != WideOpen && got != Reversed {
				t.Errorf("seed %d: only open stands, yet it is %v (cycling %v)", seed, got, r.Cycling)
			}
		}
		if !r.Cycling && !agrees(n, at, r, found) {
			t.Errorf("seed %d: the pressures are not those of the plain network", seed)
		}
	}
	for k, name := range names {
		t.Logf("%-10s %d", name, count[k])
		if count[k] < 10 {
			t.Errorf("%s occurs only %d times", name, count[k])
		}
	}
}

// swings checks a cycle: the inlet goes between reseat and set, the device is open
// a share of the time, and what passes it on average is what flows into its inlet
// at the mean pressure.
func swings(t *testing.T, seed uint64, n *Network, c *Case, at int, r *Result) {
	t.Helper()
	l, e, o := c.Devices[at].Lift, n.Elements[at], r.Elements[at]
	inlet := r.Nodes[e.From]
	after := r.Nodes[e.To].PressurePa
	set := -(l.Bias + l.Down*after) / l.Up
	reseat := set + c.Devices[at].ReseatZ/l.Up
	window := set - reseat
	if math.Abs(inlet.LowPa-reseat) > 2e-3*window || math.Abs(inlet.HighPa-set) > 2e-3*window {
		t.Errorf("seed %d: swings from %g to %g, reseat and set are %g and %g", seed, inlet.LowPa, inlet.HighPa, reseat, set)
	}
	if share := (inlet.PressurePa - reseat) / window; !(o.Lift > 0 && o.Lift < 1) || math.Abs(share-o.Lift) > 1e-6 {
		t.Errorf("seed %d: open %g of the time at a mean of %g", seed, o.Lift, inlet.PressurePa)
	}
	in := 0.0
	for i, other := range n.Elements {
		switch {
		case i == at:
		case other.To == e.From:
			in += r.Elements[i].FlowKgS
		case other.From == e.From:
			in -= r.Elements[i].FlowKgS
		}
	}
	if math.Abs(o.FlowKgS/in-1) > 1e-9 {
		t.Errorf("seed %d: %g kg/s pass it on average, %g flow in", seed, o.FlowKgS, in)
	}
}
