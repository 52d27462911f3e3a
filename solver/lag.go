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

// A Transport is what moves in one answer, ready to be asked for lags. It belongs to
// one goroutine.
type Transport struct {
	net   *Network
	c     *Case
	r     *Result
	in    Inside
	flow  []hop     // per element
	out   []float64 // per node: what leaves it [kg/s]
	next  []int     // nodes in the order of flow
	waits []int     // per node: elements that bring something, not yet followed
	ring  []bool

	// The ways of all arrivals, and lists of them by their places here: a node's ways
	// stand side by side in the second.
	ways     []way
	lists    []int
	arrivals []*Arrival // those made before are made again
	from     int        // of them, that are in use
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
	k := len(n.Nodes)
	t := &Transport{net: n, flow: make([]hop, len(n.Elements)), out: make([]float64, k), next: make([]int, 0, k), waits: make([]int, k), ring: make([]bool, k)}
	t.Set(c, r, in)
	return t
}

// Set prepares the lags of another result of the network, in the room of the one
// before, whose arrivals no longer hold.
func (t *Transport) Set(c *Case, r *Result, in Inside) {
	n := t.net
	t.c, t.r, t.in = c, r, in
	t.next, t.ways, t.lists, t.from = t.next[:0], t.ways[:0], t.lists[:0], 0
	clear(t.flow)
	clear(t.out)
	clear(t.waits)
	clear(t.ring)
	if r.Status != Solved {
		return
	}
	for i, e := range n.Elements {
		h := hop{e.From, e.To, r.Elements[i].FlowKgS, 0, ""}
		if h.flowKgS < 0 {
			h.from, h.to, h.flowKgS = e.To, e.From, -h.flowKgS
		}
		if h.flowKgS > 0 {
			t.waits[h.to]++
			t.out[h.from] += h.flowKgS
			held, err := t.held(i, h)
			h.heldS = held / h.flowKgS
			if err != nil {
				h.heldS, h.why = math.NaN(), err.Error()
			}
		}
		t.flow[i] = h
	}
	for i, k := range t.waits {
		if k == 0 {
			t.next = append(t.next, i)
		}
	}
	for q := 0; q < len(t.next); q++ {
		for _, at := range n.at[t.next[q]] {
			if h := &t.flow[at.element]; h.flowKgS > 0 && h.from == t.next[q] {
				if t.waits[h.to]--; t.waits[h.to] == 0 {
					t.next = append(t.next, h.to)
				}
			}
		}
	}
	for i, k := range t.waits {
		t.ring[i] = k > 0
	}
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

// way is a Way under construction: the last segment, and where the way to it stands,
// -1 for none.
type way struct {
	part, plug, tanks, variance float64
	last                        Segment
	before                      int
}

// extend makes the way that goes on from another through a volume that is passed in
// seconds.
func (t *Transport) extend(from int, part float64, s Segment, seconds, mixing float64) int {
	w := &t.ways[from]
	s.TankS = seconds * mixing
	s.PlugS = seconds - s.TankS
	t.ways = append(t.ways, way{part, w.plug + s.PlugS, w.tanks + s.TankS, w.variance + s.TankS*s.TankS, s, from})
	return len(t.ways) - 1
}

// An Arrival is where what leaves one node is found, and how old.
type Arrival struct {
	t    *Transport
	from int
	part []float64 // of the mass flow through each node
	list [][2]int  // per node: where in the transport's lists its ways begin and end
	why  []string  // a density that is not known on the way
}

// From follows what leaves a node, usually that of a source, downstream.
func (t *Transport) From(node int) *Arrival {
	if t.from == len(t.arrivals) {
		k := len(t.net.Nodes)
		t.arrivals = append(t.arrivals, &Arrival{t: t, part: make([]float64, k), list: make([][2]int, k), why: make([]string, k)})
	}
	a := t.arrivals[t.from]
	t.from++
	a.from = node
	clear(a.part)
	clear(a.list)
	clear(a.why)
	for _, i := range t.next {
		if i == node {
			a.part[i], a.list[i] = 1, [2]int{len(t.lists), len(t.lists) + 1}
			t.lists = append(t.lists, len(t.ways))
			t.ways = append(t.ways, way{part: 1, before: -1})
			continue
		}
		a.arrive(i)
	}
	return a
}

// waysTo gives the ways to a node by their places.
func (a *Arrival) waysTo(node int) []int { return a.t.lists[a.list[node][0]:a.list[node][1]] }

// arrive gathers at node i what comes through every element, in the order of the
// elements.
func (a *Arrival) arrive(i int) {
	t := a.t
	through, ours := 0.0, 0.0
	for _, at := range t.net.at[i] {
		if h := &t.flow[at.element]; h.flowKgS > 0 && h.to == i {
			through += h.flowKgS
			ours += h.flowKgS * a.leaves(h.from)
		}
	}
	if ours == 0 {
		return
	}
	switch c := &t.c.Conditions[i]; {
	case c.Kind == Inflow:
		through += c.InflowKgS
	case c.Kind == Pressure && c.Fluid < 0:
		through = max(through, t.out[i]) // the rest is what the vent gives back
	}
	a.part[i] = ours / through
	held, v := 0.0, t.inner(t.in.Nodes, i)
	if v.VolumeM3 > 0 {
		held = v.VolumeM3 * t.r.Nodes[i].DensityKgM3 / through
		if math.IsNaN(held) {
			a.why[i] = "the density at " + t.net.Nodes[i] + " is not known"
		}
	}
	first := len(t.lists)
	for _, at := range t.net.at[i] {
		h := &t.flow[at.element]
		if !(h.flowKgS > 0) || h.to != i || !(a.leaves(h.from) > 0) {
			continue
		}
		a.why[i] = cmp.Or(a.why[i], a.why[h.from], h.why)
		for k := a.list[h.from][0]; k < a.list[h.from][1]; k++ {
			w := t.lists[k]
			n := a.pass(w, t.ways[w].part*h.flowKgS*a.part[h.from]/ours, at.element)
			if held != 0 || v.Mixing > 0 { // a vessel stands on the way, whatever it holds
				n = t.extend(n, t.ways[n].part, Segment{Element: -1, Node: i}, held, v.Mixing)
			}
			t.lists = append(t.lists, n)
		}
	}
	t.lists = t.lists[:first+len(t.fewer(t.lists[first:]))]
	a.list[i] = [2]int{first, len(t.lists)}
}

// leaves is the part of what leaves node i that comes from where the arrivals
// started: nothing at another source, which takes all in and gives its own.
func (a *Arrival) leaves(i int) float64 {
	if c := &a.t.c.Conditions[i]; i != a.from && c.Kind == Pressure && c.Fluid >= 0 {
		return 0
	}
	return a.part[i]
}

func (a *Arrival) pass(w int, part float64, element int) int {
	return a.t.extend(w, part, Segment{Element: element, Node: -1}, a.t.flow[element].heldS, a.t.inner(a.t.in.Elements, element).Mixing)
}

func (t *Transport) inner(of []Inner, i int) Inner {
	if i < len(of) {
		return of[i]
	}
	return Inner{}
}

// At gives the lag to a node.
func (a *Arrival) At(node int) Lag {
	return a.lag(node, a.part[node], a.waysTo(node), a.why[node])
}

// Through gives the lag to what leaves an element in the direction of its flow:
// to its upstream node and on through its own volume.
func (a *Arrival) Through(element int) Lag {
	h := &a.t.flow[element]
	if !(h.flowKgS > 0) {
		e := &a.t.net.Elements[element]
		return none(cmp.Or(a.rest(e.From), a.rest(e.To), "nothing flows there"))
	}
	part := a.leaves(h.from)
	var ways []int
	if part > 0 {
		for _, w := range a.waysTo(h.from) {
			ways = append(ways, a.pass(w, a.t.ways[w].part, element))
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

func (a *Arrival) lag(node int, part float64, ways []int, why string) Lag {
	switch rest := a.rest(node); {
	case rest != "":
		return none(rest)
	case part == 0:
		return none("nothing that comes from there flows through it")
	case why != "":
		return none(why)
	}
	l := Lag{Part: part, Ways: make([]Way, len(ways))}
	all := a.t.ways
	segments := 0
	for _, i := range ways {
		for s := &all[i]; s.before >= 0; s = &all[s.before] {
			segments++
		}
	}
	passed := make([]Segment, 0, segments)
	for k, i := range ways {
		w, first := &all[i], len(passed)
		for s := w; s.before >= 0; s = &all[s.before] {
			passed = append(passed, s.last)
		}
		slices.Reverse(passed[first:])
		l.Ways[k] = Way{Part: w.part, PlugS: w.plug, TanksS: w.tanks, Variance: w.variance, Segments: passed[first:len(passed):len(passed)]}
		l.Seconds += w.part * (w.plug + w.tanks)
	}
	if !(l.Seconds <= mostSeconds) {
		return none("so little flows that nothing arrives within thirty years")
	}
	slices.SortStableFunc(l.Ways, func(x, y Way) int { return cmp.Compare(y.Part, x.Part) })
	l.Seconds95 = l.by(0.95)
	return l
}

// fewer counts ways of like age as one until few enough are left, in the place of the
// list. Parts, means and variances are kept; the segments are those of the larger part.
func (t *Transport) fewer(list []int) []int {
	for len(list) > mostWays {
		slices.SortStableFunc(list, func(i, j int) int {
			x, y := &t.ways[i], &t.ways[j]
			return cmp.Compare(x.plug+x.tanks, y.plug+y.tanks)
		})
		half := list[:0]
		for i := 0; i < len(list); i += 2 {
			if i+1 == len(list) {
				half = append(half, list[i])
			} else {
				half = append(half, t.one(list[i], list[i+1]))
			}
		}
		list = half
	}
	return list
}

// one counts two ways as one.
func (t *Transport) one(i, j int) int {
	if t.ways[j].part > t.ways[i].part {
		i, j = j, i
	}
	one, y := t.ways[i], &t.ways[j]
	part := one.part + y.part
	if part == 0 {
		return i
	}
	f := y.part / part
	apart := y.plug + y.tanks - one.plug - one.tanks
	one.part = part
	one.plug += f * (y.plug - one.plug)
	one.tanks += f * (y.tanks - one.tanks)
	one.variance += f*(y.variance-one.variance) + f*(1-f)*apart*apart
	t.ways = append(t.ways, one)
	return len(t.ways) - 1
}
