package solver

import (
	"math"
)

// Which nodes carry flow is a matter of the graph, not of numbers. Shut devices
// are dropped, every node of known pressure or inflow gets an edge to one outside
// node, and a node can carry flow exactly where it lies on a cycle through the
// outside, that is in a biconnected component that contains it
// (Hopcroft & Tarjan, CACM 16 (1973) 372-378; here one iterative pass).
//
// Nodes that cannot carry flow are at rest. Where a chain of always-open
// passages ties one to the flowing part it is a stub: it stays in the
// equations, where its own passages give it the pressure of its root. What lies
// behind a regulator, check valve or flow controller instead fills to what that
// device lets through at no flow: the highest over all ways (label setting as
// in Dijkstra's method, since no device raises a pressure); what an open one-way
// device drains takes the pressure it drains to. What nothing reaches is trapped, with bounds from the pressures across the shut devices
// around it.

// place says what kind of node the graph makes of a node.
type place uint8

const (
	moving  place = iota // on a way from outside to outside
	stub                 // at rest, tied to its root by open passages
	filled               // at rest, filled through a device that stops at no flow
	trapped              // at rest, reached by nothing
)

// sites holds the classification for one set of shut devices.
type sites struct {
	place    []place
	resting  bool // some node is not moving
	preorder []int
	disc     []int // discovery time from 1; 0 not seen
	low      []int // earliest time a subtree reaches back to; 0 is the outside
	via      []int // element by which a node was found
	parent   []int // node from which it was found, -1 the outside
	next     []int // next element to look at
	stack    []int
	settled  []bool // joined to the outside and labelled for good
	heap     []label
	root     []int     // where fill ran: the moving node that a node at rest is filled from
	head     []float64 // per element: what the pressure falls by from From to To at rest [Pa]
	slack    float64   // what one way must beat another by, where there are heads [Pa]
}

func newSites(n *Network) *sites {
	k := len(n.Nodes)
	return &sites{
		place: make([]place, k), disc: make([]int, k), low: make([]int, k),
		via: make([]int, k), parent: make([]int, k), next: make([]int, k), root: make([]int, k), settled: make([]bool, k), head: make([]float64, len(n.Elements)),
	}
}

// outside reports whether a node is joined to the outside of the network.
func outside(k *Condition) bool {
	return k.Kind == Pressure || k.Kind == Inflow && k.InflowKgS > 0
}

// classify finds which nodes carry flow when the elements marked shut are dropped.
func (s *sites) classify(n *Network, c *Case, shut []bool) {
	s.preorder = s.preorder[:0]
	clear(s.disc)
	for o := range n.Nodes {
		if s.disc[o] == 0 && outside(&c.Conditions[o]) {
			s.search(n, c, shut, o)
		}
	}
	s.resting = len(s.preorder) < len(n.Nodes)
	for i := range s.place {
		s.place[i] = trapped
	}
	for _, v := range s.preorder {
		u := s.parent[v]
		if outside(&c.Conditions[v]) || s.place[u] == moving && s.low[v] < s.disc[u] {
			s.place[v] = moving
		} else {
			s.resting = true
		}
	}
}

// search is the depth-first pass from a node that hangs on the outside by an
// edge of its own.
func (s *sites) search(n *Network, c *Case, shut []bool, root int) {
	enter := func(v, via, parent int) {
		s.preorder = append(s.preorder, v)
		s.disc[v] = len(s.preorder)
		s.low[v], s.via[v], s.parent[v], s.next[v] = s.disc[v], via, parent, 0
		if parent >= 0 && outside(&c.Conditions[v]) {
			s.low[v] = 0
		}
		s.stack = append(s.stack, v)
	}
	s.stack = s.stack[:0]
	enter(root, -1, -1)
	for len(s.stack) > 0 {
		v := s.stack[len(s.stack)-1]
		if s.next[v] == len(n.at[v]) {
			s.stack = s.stack[:len(s.stack)-1]
			if u := s.parent[v]; u >= 0 {
				s.low[u] = min(s.low[u], s.low[v])
			}
			continue
		}
		e := n.at[v][s.next[v]]
		s.next[v]++
		switch {
		case e.element == s.via[v] || shut[e.element]:
		case s.disc[e.other] == 0:
			enter(e.other, e.element, v)
		default:
			s.low[v] = min(s.low[v], s.disc[e.other])
		}
	}
}

// carries reports whether element i lies on a way from outside to outside,
// given that it is not shut.
func (s *sites) carries(n *Network, i int) bool {
	e := &n.Elements[i]
	return s.place[e.From] == moving && s.place[e.To] == moving
}

// fill gives every node its pressure at rest: that of p where it moves, what
// reaches it where it does not, -Inf where it is trapped. ref holds the
// pressures that domes follow. With limit nil the regulators are at the point
// of shutting; else they have locked up, as far as limit lets them.
func (s *sites) fill(n *Network, c *Case, shut []bool, p, ref, rest, limit []float64, lowest float64) {
	s.heap = s.heap[:0]
	for i := range rest {
		if s.place[i] == moving {
			rest[i] = p[i]
			s.root[i] = i
			s.push(label{p[i], i})
			continue
		}
		rest[i] = math.Inf(-1)
		s.place[i] = trapped
	}
	clear(s.settled)
	s.rise(n, c, shut, ref, rest, limit, lowest)
	for s.lower(n, c, shut, rest, limit) {
		s.rise(n, c, shut, ref, rest, limit, lowest)
	}
	for i, q := range rest {
		if s.place[i] > stub && !math.IsInf(q, -1) {
			rest[i] = max(q, leastAtRest)
		}
	}
}

// lower labels the node that nothing fills and that a one-way device standing
// open lets down furthest.
func (s *sites) lower(n *Network, c *Case, shut []bool, rest, limit []float64) bool {
	to, at, from := math.Inf(1), -1, -1
	for i := range n.Elements {
		e, d := &n.Elements[i], &c.Devices[i]
		if u := e.From; !shut[i] && s.disc[u] != 0 && math.IsInf(rest[u], -1) && d.OneWay && d.Leak == nil && !math.IsInf(rest[e.To], -1) {
			p := rest[e.To]
			if limit != nil {
				p = min(p, limit[u])
			}
			if p < to {
				to, at, from = p, u, e.To
			}
		}
	}
	if at >= 0 {
		for i := range rest { // what is let down raises nothing that is drained already
			s.settled[i] = !math.IsInf(rest[i], -1)
		}
		rest[at], s.root[at] = to, s.root[from]
		s.place[at] = filled
		s.push(label{to, at})
	}
	return at >= 0
}

// rise sets the pressures that the labels on the heap build up.
func (s *sites) rise(n *Network, c *Case, shut []bool, ref, rest, limit []float64, lowest float64) {
	labels := 0
	for len(s.heap) > 0 {
		l := s.pop()
		if l.p < rest[l.node] {
			continue
		}
		for _, at := range n.at[l.node] {
			u := at.other
			if s.place[u] == moving {
				continue
			}
			joined := s.disc[u] != 0
			if joined && (shut[at.element] || s.settled[u]) {
				continue // what it is openly joined to takes what leaks in
			}
			e, d := &n.Elements[at.element], &c.Devices[at.element]
			// What opens on its outlet stays shut while its outlet is low.
			outlet := l.p
			if d.Lift != nil && d.Lift.Down > 0 && shut[at.element] {
				outlet = max(rest[e.To], lowest)
			}
			q, open := d.reaches(l.p, outlet, follows(e, ref), e.From == l.node, limit != nil)
			if limit != nil {
				q = min(q, limit[u])
			}
			if h := s.head[at.element]; h != 0 && labels < mostLabels*len(rest) {
				q = lifted(q, h, e.From == l.node)
			}
			if q > rest[u]+s.slack {
				rest[u] = q
				s.root[u] = s.root[l.node]
				s.place[u] = filled
				if open && s.place[l.node] <= stub {
					s.place[u] = stub
				}
				s.push(label{q, u})
				labels++
			}
		}
	}
}

// lifted is the pressure q at the near end of a column at its far end, which may
// be below zero while ways are compared. Round a loop rises need not close: the
// densities differ a little. So a way counts as better only by more than a
// thousandth of all heads, and where the rises that were stated leave a real gap
// the search stops counting them after mostLabels labels a node.
func lifted(q, head float64, forward bool) float64 {
	if forward {
		return q - head
	}
	return q + head
}

const mostLabels = 20

// leastAtRest is the pressure [Pa] left above a column that would pull a vacuum and
// has broken: next to nothing.
const leastAtRest = 1

// follows is the pressure that loads an element, 0 where none does.
func follows(e *Element, ref []float64) float64 {
	if e.Sense < 0 {
		return 0
	}
	return ref[e.Sense]
}

// opening gives for every resting node the pressure at which a shut device next
// to it, or to what it is openly joined to, would open: a regulator locks up no
// further. rest holds the pressures at the point of shutting, locked those that
// what it opens to may have locked up at.
func (s *sites) opening(n *Network, c *Case, shut []bool, ref, rest, locked, limit []float64, lowest float64) {
	for i := range limit {
		limit[i] = math.Inf(1)
		if s.place[i] <= stub {
			limit[i] = rest[i]
		}
	}
	for i := range n.Elements {
		e, d := &n.Elements[i], &c.Devices[i]
		l := d.Lift
		if d.Passage != nil && l == nil && shut[i] && s.place[e.From] > stub && rest[e.To] >= rest[e.From] {
			limit[e.From] = min(limit[e.From], locked[e.To]) // what stands against it opens it
		}
		if d.Passage == nil || l == nil || l.Up <= 0 || l.Up == -l.Down || s.place[e.From] <= stub {
			continue
		}
		after := max(locked[e.To], lowest)
		at := max(-(l.Bias+l.Down*after+l.Ref*follows(e, ref))/l.Up, after)
		limit[e.From] = min(limit[e.From], max(at, rest[e.From]))
	}
	lower := func(i, j int, by float64) bool {
		if s.place[i] <= stub || !(limit[j]+by < limit[i]-s.slack) {
			return false
		}
		was := limit[i]
		limit[i] = max(limit[j]+by, rest[i])
		return limit[i] < was
	}
	for changed := true; changed; {
		changed = false
		for i := range n.Elements {
			e, d := &n.Elements[i], &c.Devices[i]
			switch {
			case d.closed():
			case d.Lift == nil && !d.OneWay || d.Leak != nil:
				changed = lower(e.From, e.To, s.head[i]) || changed
				changed = lower(e.To, e.From, -s.head[i]) || changed
			case d.Lift == nil || d.Lift.At(limit[e.To], limit[e.To], follows(e, ref)) > 0:
				changed = lower(e.From, e.To, 0) || changed
			case d.Lift.Up > 0 && d.Lift.Up == -d.Lift.Down:
				changed = lower(e.From, e.To, -d.Lift.Bias/d.Lift.Up) || changed
			}
		}
	}
}

// reaches gives the pressure that a pressure p on one side of the device builds
// up on the other at no flow, -Inf where nothing gets through, and whether the
// device is a plain open passage. outlet is the pressure behind it as it begins.
func (d *Device) reaches(p, outlet, pRef float64, forward, lockUp bool) (q float64, open bool) {
	none := math.Inf(-1)
	switch {
	case d.closed():
		return none, false
	case d.Leak != nil || d.Lift == nil && !d.OneWay:
		return p, true
	case !forward:
		return none, false
	case d.Lift == nil || d.Lift.At(p, outlet, pRef) > opensAt:
		return p, false
	case d.Lift.Down >= 0:
		return none, false
	}
	// The pressure behind it at which the lift has gone to zero.
	q = -(d.Lift.Bias + d.Lift.Up*p + d.Lift.Ref*pRef) / d.Lift.Down
	if !(q > 0) {
		return none, false
	}
	if lockUp {
		q += d.Lift.LockUpPa
	}
	return min(p, q), false
}

// bounds gives for every trapped node the lowest and highest pressure around
// its region, across whatever shuts it off; rest holds the others' pressures.
func (s *sites) bounds(n *Network, rest, low, high []float64) {
	for i := range n.Nodes {
		low[i], high[i] = rest[i], rest[i]
		if s.place[i] == trapped {
			low[i], high[i] = math.Inf(1), math.Inf(-1)
		}
	}
	for changed := true; changed; {
		changed = false
		for _, e := range n.Elements {
			for _, ends := range [2][2]int{{e.From, e.To}, {e.To, e.From}} {
				i, j := ends[0], ends[1]
				if s.place[i] == trapped && (low[j] < low[i] || high[j] > high[i]) {
					low[i], high[i] = min(low[i], low[j]), max(high[i], high[j])
					changed = true
				}
			}
		}
	}
}

// label is a node with the pressure that reaches it.
type label struct {
	p    float64
	node int
}

func (a label) before(b label) bool { return a.p > b.p || a.p == b.p && a.node < b.node }

func (s *sites) push(l label) {
	h := append(s.heap, l)
	for i := len(h) - 1; i > 0; {
		up := (i - 1) / 2
		if !h[i].before(h[up]) {
			break
		}
		h[i], h[up] = h[up], h[i]
		i = up
	}
	s.heap = h
}

func (s *sites) pop() label {
	h := s.heap
	top, last := h[0], len(h)-1
	h[0] = h[last]
	h = h[:last]
	for i := 0; ; {
		c := 2*i + 1
		if c >= last {
			break
		}
		if c+1 < last && h[c+1].before(h[c]) {
			c++
		}
		if !h[c].before(h[i]) {
			break
		}
		h[i], h[c] = h[c], h[i]
		i = c
	}
	s.heap = h
	return top
}
