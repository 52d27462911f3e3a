package solver

import (
	"cmp"
	"math"
	"slices"
)

// Transport lag: how long after a change at a source a place of the network shows
// it. The principle is ASTM D7278's (its text not seen): volume by volume, what a
// part holds over what passes it, each part with its own flow and density.
//
// A plug volume hands on what entered it after t = V rho/w. A stirred volume hands
// on a mixture with the mean age tau = V rho/w; parts of a device's volume may be
// of either kind. Of a row of them
//
//	mean      = plug + sum tau
//	variance  = sum tau^2
//
// and a change has arrived by 95 % where the distribution of ages has reached
// 0.95. Of the tanks together that distribution is taken to be the gamma
// distribution of their mean and variance: exact for one tank and for equal ones;
// for two unlike tanks 95 % is at most 0.3 % off (lag_test.go).
//
// Where streams join, each brings its own ages. The gas at a place is made up of
// parts that came different ways, in proportion to the flow of each; Seconds is
// the mean over all of it (the mean age of the gas there) and Seconds95 the time
// by which 95 % of it is new. The first sign of a change comes earlier, by the
// quickest way; Ways tells them apart. Only what comes from the source asked for
// counts: a second source dilutes the answer and does not delay it. What leaves a
// source is its own, whatever arrives there; a vent gives back what arrives first.
//
// Left out: sorption on walls (water, hydrogen sulphide, ammonia come later),
// diffusion into dead ends, and dispersion in tubes. A gas in a narrow tube is
// levelled across it by diffusion in r^2/D, well under a second, so that a plug
// describes it. A liquid in laminar flow is not: the middle runs at twice the
// mean velocity, so that the first sign arrives after half the plug's time and the
// rest trails (parabolic profile, any textbook of fluid mechanics).

// A Side says whose density fills a volume.
type Side uint8

const (
	Between    Side = iota // the mean of both ends; along a tube, its profile
	Upstream               // the end that flow enters
	Downstream             // the end that flow leaves
)

// An Inner is what an element or a node holds.
type Inner struct {
	VolumeM3 float64 // from 0
	Mixing   float64 // the part of it that is stirred, 0..1; the rest is a plug
	Side     Side    // of an element
	// LengthM is the length of an element that is a tube; 0 for others. With it the
	// profile knows how the gas gains speed.
	LengthM float64
}

// Inside is the inner volumes of a network in one case, per element and node.
type Inside struct{ Elements, Nodes []Inner }

// mostSeconds is the lag beyond which nothing is said to arrive: thirty years.
const mostSeconds = 1e9

// mostWays is how many ways to a node are told apart; beyond it those of like age
// are counted as one, with the mean and variance of both.
const mostWays = 64

// A Transport is what moves in one answer, ready to be asked for lags.
type Transport struct {
	net  *Network
	c    *Case
	r    *Result
	in   Inside
	flow []hop     // per element
	out  []float64 // per node: what leaves it [kg/s]
	next []int     // nodes in the order of flow
	ring []bool
}

// hop is one element as the flow passes it.
type hop struct {
	from, to int
	flowKgS  float64
	heldS    float64 // NaN where its density is not known
	why      string
}

// Transport prepares the lags of a result. What is inside may be nil: all times
// are then zero.
func (n *Network) Transport(c *Case, r *Result, in Inside) *Transport {
	t := &Transport{net: n, c: c, r: r, in: in, flow: make([]hop, len(n.Elements)), out: make([]float64, len(n.Nodes)), ring: make([]bool, len(n.Nodes))}
	if r.Status != Solved {
		return t
	}
	waits := make([]int, len(n.Nodes))
	for i, e := range n.Elements {
		h := hop{e.From, e.To, r.Elements[i].FlowKgS, 0, ""}
		if h.flowKgS < 0 {
			h.from, h.to, h.flowKgS = e.To, e.From, -h.flowKgS
		}
		if h.flowKgS > 0 {
			waits[h.to]++
			t.out[h.from] += h.flowKgS
			held, err := t.held(i, h)
			h.heldS = held / h.flowKgS
			if err != nil {
				h.heldS, h.why = math.NaN(), err.Error()
			}
		}
		t.flow[i] = h
	}
	for i, k := range waits {
		if k == 0 {
			t.next = append(t.next, i)
		}
	}
	for q := 0; q < len(t.next); q++ {
		for _, at := range n.at[t.next[q]] {
			if h := &t.flow[at.element]; h.flowKgS > 0 && h.from == t.next[q] {
				if waits[h.to]--; waits[h.to] == 0 {
					t.next = append(t.next, h.to)
				}
			}
		}
	}
	for i, k := range waits {
		t.ring[i] = k > 0
	}
	return t
}

// A Lag is the transport time from a node to a place.
type Lag struct {
	// Reason says in words why there is none; the times are then NaN.
	Reason string
	// Seconds is the mean age, Seconds95 the time by which 95 % of a change has
	// arrived.
	Seconds, Seconds95 float64
	// Part is the part of the mass flow at the place that comes from the node.
	Part float64
	Ways []Way // largest part first
}

// A Way is one way from a node to a place.
type Way struct {
	Part     float64 // of what comes from the node, by mass: the parts sum to 1
	PlugS    float64
	TanksS   float64   // sum of the tanks' means
	Variance float64   // sum of their squares [s2], and the spread of what was counted as one
	Segments []Segment // in the order of flow
}

// A Segment is an element or a node that a way passes.
type Segment struct {
	Element, Node int // the other is -1
	PlugS, TankS  float64
}

// way is a Way under construction: the last segment and the way to it.
type way struct {
	part, plug, tanks, variance float64
	last                        Segment
	before                      *way
}

// extend gives the way that goes on through a volume that is passed in seconds.
func (w *way) extend(part float64, s Segment, seconds, mixing float64) *way {
	s.TankS = seconds * mixing
	s.PlugS = seconds - s.TankS
	return &way{part, w.plug + s.PlugS, w.tanks + s.TankS, w.variance + s.TankS*s.TankS, s, w}
}

// An Arrival is where what leaves one node is found, and how old.
type Arrival struct {
	t    *Transport
	from int
	part []float64 // of the mass flow through each node
	ways [][]*way
	why  []string // a density that is not known on the way
}

// From follows what leaves a node, usually that of a source, downstream.
func (t *Transport) From(node int) *Arrival {
	k := len(t.net.Nodes)
	a := &Arrival{t, node, make([]float64, k), make([][]*way, k), make([]string, k)}
	for _, i := range t.next {
		if i == node {
			a.part[i], a.ways[i] = 1, []*way{{part: 1}}
			continue
		}
		a.arrive(i)
	}
	return a
}

// arrive gathers at node i what comes through every element, in the order of the
// elements.
func (a *Arrival) arrive(i int) {
	t := a.t
	through, ours := 0.0, 0.0
	var came []int
	for _, at := range t.net.at[i] {
		h := &t.flow[at.element]
		if !(h.flowKgS > 0) || h.to != i {
			continue
		}
		through += h.flowKgS
		if a.leaves(h.from) > 0 {
			ours += h.flowKgS * a.part[h.from]
			came = append(came, at.element)
		}
	}
	if len(came) == 0 {
		return
	}
	switch c := &t.c.Conditions[i]; {
	case c.Kind == Inflow:
		through += c.InflowKgS
	case c.Kind == Pressure && c.Fluid < 0:
		through = max(through, t.out[i]) // the rest is what the vent gives back
	}
	slices.Sort(came)
	a.part[i] = ours / through
	held, v := 0.0, t.inner(t.in.Nodes, i)
	if v.VolumeM3 > 0 {
		held = v.VolumeM3 * t.r.Nodes[i].DensityKgM3 / through
		if math.IsNaN(held) {
			a.why[i] = "the density at " + t.net.Nodes[i] + " is not known"
		}
	}
	for _, e := range came {
		h := &t.flow[e]
		a.why[i] = cmp.Or(a.why[i], a.why[h.from], h.why)
		for _, w := range a.ways[h.from] {
			n := a.pass(w, w.part*h.flowKgS*a.part[h.from]/ours, e)
			if held != 0 || v.Mixing > 0 { // a vessel stands on the way, whatever it holds
				n = n.extend(n.part, Segment{Element: -1, Node: i}, held, v.Mixing)
			}
			a.ways[i] = append(a.ways[i], n)
		}
	}
	a.ways[i] = fewer(a.ways[i])
}

// leaves is the part of what leaves node i that comes from where the arrivals
// started: nothing at another source, which takes all in and gives its own.
func (a *Arrival) leaves(i int) float64 {
	if c := &a.t.c.Conditions[i]; i != a.from && c.Kind == Pressure && c.Fluid >= 0 {
		return 0
	}
	return a.part[i]
}

func (a *Arrival) pass(w *way, part float64, element int) *way {
	return w.extend(part, Segment{Element: element, Node: -1}, a.t.flow[element].heldS, a.t.inner(a.t.in.Elements, element).Mixing)
}

func (t *Transport) inner(of []Inner, i int) Inner {
	if i < len(of) {
		return of[i]
	}
	return Inner{}
}

// At gives the lag to a node.
func (a *Arrival) At(node int) Lag { return a.lag(node, a.part[node], a.ways[node], a.why[node]) }

// Through gives the lag to what leaves an element in the direction of its flow:
// to its upstream node and on through its own volume.
func (a *Arrival) Through(element int) Lag {
	h := &a.t.flow[element]
	if !(h.flowKgS > 0) {
		e := &a.t.net.Elements[element]
		return none(cmp.Or(a.rest(e.From), a.rest(e.To), "nothing flows there"))
	}
	part := a.leaves(h.from)
	var ways []*way
	if part > 0 {
		for _, w := range a.ways[h.from] {
			ways = append(ways, a.pass(w, w.part, element))
		}
	}
	return a.lag(h.from, part, ways, cmp.Or(a.why[h.from], h.why))
}

func none(reason string) Lag { return Lag{Reason: reason, Seconds: math.NaN(), Seconds95: math.NaN()} }

// rest says why nothing moves at a node, empty where it does.
func (a *Arrival) rest(node int) string {
	switch {
	case a.t.r.Status != Solved:
		return "the case is not solved"
	case a.t.r.Nodes[node].State == Trapped:
		return "it is shut off"
	case a.t.r.Nodes[node].State == DeadEnd:
		return "it is a dead end, which only diffusion reaches"
	case a.t.ring[node]:
		return "the flow goes round in a ring there, or comes from one"
	}
	return ""
}

func (a *Arrival) lag(node int, part float64, ways []*way, why string) Lag {
	switch rest := a.rest(node); {
	case rest != "":
		return none(rest)
	case part == 0:
		return none("nothing that comes from there flows through it")
	case why != "":
		return none(why)
	}
	l := Lag{Part: part}
	for _, w := range ways {
		o := Way{Part: w.part, PlugS: w.plug, TanksS: w.tanks, Variance: w.variance}
		for s := w; s.before != nil; s = s.before {
			o.Segments = append(o.Segments, s.last)
		}
		slices.Reverse(o.Segments)
		l.Seconds += o.Part * (o.PlugS + o.TanksS)
		l.Ways = append(l.Ways, o)
	}
	if !(l.Seconds <= mostSeconds) {
		return none("so little flows that nothing arrives within thirty years")
	}
	slices.SortStableFunc(l.Ways, func(x, y Way) int { return cmp.Compare(y.Part, x.Part) })
	l.Seconds95 = l.by(0.95)
	return l
}

// fewer counts ways of like age as one until few enough are left. Parts, means and
// variances are kept; the segments are those of the larger part.
func fewer(ways []*way) []*way {
	if len(ways) <= mostWays {
		return ways
	}
	slices.SortStableFunc(ways, func(x, y *way) int { return cmp.Compare(x.plug+x.tanks, y.plug+y.tanks) })
	half := ways[:0:0]
	for i := 0; i < len(ways); i += 2 {
		if i+1 == len(ways) {
			half = append(half, ways[i])
			break
		}
		x, y := ways[i], ways[i+1]
		if y.part > x.part {
			x, y = y, x
		}
		part := x.part + y.part
		if part == 0 {
			half = append(half, x)
			continue
		}
		f := y.part / part
		apart := y.plug + y.tanks - x.plug - x.tanks
		one := *x
		one.part = part
		one.plug += f * (y.plug - x.plug)
		one.tanks += f * (y.tanks - x.tanks)
		one.variance += f*(y.variance-x.variance) + f*(1-f)*apart*apart
		half = append(half, &one)
	}
	return fewer(half)
}
