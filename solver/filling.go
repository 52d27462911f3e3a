package solver

import "math"

// Nodes that cannot carry flow are at rest. Where a chain of always-open
// passages ties one to the flowing part it is a stub: it stays in the
// equations, where its own passages give it the pressure of its root. What lies
// behind a regulator, check valve or flow controller instead fills to what that
// device lets through at no flow: the highest over all ways (label setting as
// in Dijkstra's method, since no device raises a pressure); what an open one-way
// device drains takes the pressure it drains to. What nothing reaches is trapped,
// with bounds from the pressures across the shut devices around it.

// fill gives every node its pressure at rest: that of p where it moves, what
// reaches it where it does not, -Inf where it is trapped. ref holds the
// pressures that domes follow. With limit nil the regulators are at the point
// of shutting; else they have locked up, as far as limit lets them.
func (s *sites) fill(n *Network, c *Case, shut []bool, p, ref, rest, limit []float64, lowest float64) {
	for i := range rest {
		if s.place[i] == moving {
			rest[i] = p[i]
			s.root[i] = int32(i)
			continue
		}
		rest[i] = math.Inf(-1)
		s.place[i] = trapped
	}
	clear(s.settled)
	s.heap, s.fresh, s.drained = s.heap[:0], s.fresh[:0], s.drained[:0]
	for _, i := range s.frontier {
		s.push(label{p[i], i})
		s.fresh = append(s.fresh, i)
	}
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

// A drain is a one-way device standing open from a node that nothing fills.
type drain struct {
	p       float64 // what it lets the node down to
	element int
}

func (a drain) before(b drain) bool { return a.p < b.p || a.p == b.p && a.element < b.element }

// lower labels the node that nothing fills and that a one-way device standing
// open lets down furthest.
func (s *sites) lower(n *Network, c *Case, shut []bool, rest, limit []float64) bool {
	for _, i := range s.fresh {
		s.settled[i] = true // what is let down raises nothing that is drained already
		for _, at := range n.at[i] {
			u, d := at.other, &c.Devices[at.element]
			if n.Elements[at.element].To != i || shut[at.element] || s.disc[u] == 0 || !math.IsInf(rest[u], -1) || !d.OneWay || d.Leak != nil {
				continue
			}
			p := rest[i]
			if limit != nil {
				p = min(p, limit[u])
			}
			s.drained = push(s.drained, drain{p, at.element})
		}
	}
	s.fresh = s.fresh[:0]
	for len(s.drained) > 0 {
		var d drain
		d, s.drained = pop(s.drained)
		e := &n.Elements[d.element]
		if u := e.From; math.IsInf(rest[u], -1) {
			rest[u], s.root[u], s.place[u] = d.p, s.root[e.To], filled
			s.fresh = append(s.fresh, u)
			s.push(label{d.p, u})
			return true
		}
	}
	return false
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
				if math.IsInf(rest[u], -1) {
					s.fresh = append(s.fresh, u)
				}
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

// label is a node with the pressure that reaches it.
type label struct {
	p    float64
	node int
}

func (a label) before(b label) bool { return a.p > b.p || a.p == b.p && a.node < b.node }

func (s *sites) push(l label) { s.heap = push(s.heap, l) }

func (s *sites) pop() (l label) {
	l, s.heap = pop(s.heap)
	return l
}
