package solver

import "math"

// Bringing what rests up to date with the present states and pressures: a round of
// classification and filling (topology.go, filling.go), regulators locked up as far
// as nothing next to them would open, and bounds for what is trapped.

// settle brings classification, resting pressures and dome pressures up to the
// present states and pressures, and reports whether the pressure of a dome at
// rest moved. In pseudo-time every node has an equation of its own, shut off or
// not, and nothing is classified.
func (w *Workspace) settle(inTime bool) (moved bool) {
	ref := w.ref
	changed := !w.classified || inTime
	for i := range w.net.Elements {
		s := w.isShut(i)
		changed = changed || s != w.starting[i]
		w.starting[i] = s
	}
	if inTime {
		w.classified = false
		for i := range w.p {
			w.active[i] = !w.fixed[i]
		}
		copy(w.rest, w.p)
		copy(ref, w.p)
		return false
	}
	if changed {
		w.sites.classify(w.net, w.c, w.starting)
		w.classified = true
	}
	if w.sites.resting {
		w.sites.slack = 1e-3 * w.columns()
		// The lifts of the resting part are judged at the point of shutting;
		// domes fed by a regulator at rest follow it locked up. Chains of domes at
		// rest settle over the iterations.
		w.sites.fill(w.net, w.c, w.starting, w.p, w.ref, w.rest, nil, w.lowest)
		w.lockUp()
		if w.asLeft {
			w.keep()
		}
	} else {
		copy(w.rest, w.p)
		copy(w.locked, w.p)
	}
	for i := range w.p {
		pl := w.sites.place[i]
		was := w.active[i]
		w.active[i] = !w.fixed[i] && (pl == moving || pl == stub)
		p := w.p[i]
		switch {
		case pl == filled, pl == stub && !was:
			w.p[i] = min(max(w.rest[i], w.lowest), w.highest)
			p = w.locked[i]
			moved = moved || w.sensed[i] && math.Abs(ref[i]-p) > restTol*p
		case pl == stub:
			w.rest[i], w.locked[i] = p, p
		case pl == trapped && !w.asLeft:
			p = w.lowest
		}
		ref[i] = p
	}
	return moved
}

// lockUp lets the regulators of the resting part lock up, as far as nothing next
// to them would open. What would open is judged with the pressures after it as
// they are when locked up, so a few rounds may be needed; where they do not
// agree, nothing locks up.
func (w *Workspace) lockUp() {
	copy(w.locked, w.rest)
	for range 4 {
		w.sites.opening(w.net, w.c, w.starting, w.ref, w.rest, w.locked, w.limit, w.lowest)
		w.sites.fill(w.net, w.c, w.starting, w.p, w.ref, w.locked, w.limit, w.lowest)
		if !w.bursts() {
			return
		}
	}
	copy(w.locked, w.rest)
}

// bursts reports whether a device that is shut would open at the locked-up
// pressures.
func (w *Workspace) bursts() bool {
	for i := range w.net.Elements {
		e, d := &w.net.Elements[i], &w.c.Devices[i]
		if d.Passage == nil || d.Lift == nil || d.Snap || w.regime[i] != shut {
			continue
		}
		pa, pb := w.locked[e.From], w.locked[e.To]
		if z := d.Lift.At(pa, pb, follows(e, w.ref)); pa > pb && finite(pb) && z > shutsAt {
			return true
		}
	}
	return false
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
	// The lowest limits first. Each holds back what it is openly joined to.
	s.heap = s.heap[:0]
	for _, i := range s.frontier {
		s.push(label{-limit[i], i})
	}
	for i := range limit {
		if s.place[i] > stub && !math.IsInf(limit[i], 1) || s.place[i] == stub {
			s.push(label{-limit[i], i})
		}
	}
	hold := func(i, j int, by float64) {
		if s.place[i] <= stub || !(limit[j]+by < limit[i]-s.slack) {
			return
		}
		if q := max(limit[j]+by, rest[i]); q < limit[i] {
			limit[i] = q
			s.push(label{-q, i})
		}
	}
	for len(s.heap) > 0 {
		l := s.pop()
		j := l.node
		if -l.p > limit[j] {
			continue
		}
		for _, at := range n.at[j] {
			i, e, d := at.other, &n.Elements[at.element], &c.Devices[at.element]
			switch {
			case d.closed():
			case d.Lift == nil && !d.OneWay || d.Leak != nil:
				if e.To == j {
					hold(i, j, s.head[at.element])
				} else {
					hold(i, j, -s.head[at.element])
				}
			case e.To != j:
			case d.Lift == nil || d.Lift.At(limit[j], limit[j], follows(e, ref)) > 0:
				hold(i, j, 0)
			case d.Lift.Up > 0 && d.Lift.Up == -d.Lift.Down:
				hold(i, j, -d.Lift.Bias/d.Lift.Up)
			}
		}
	}
}

// keep gives what rests the pressures that are there.
func (w *Workspace) keep() {
	copy(w.rest, w.p)
	copy(w.locked, w.p)
	for i := range w.rest {
		if w.sites.place[i] == trapped {
			w.rest[i], w.locked[i] = math.Inf(-1), math.Inf(-1)
		}
	}
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
	clear(s.settled)
	for i := range n.Nodes {
		if s.place[i] != trapped || s.settled[i] {
			continue
		}
		// The whole of its region, then what is around it.
		s.settled[i] = true
		s.stack = append(s.stack[:0], i)
		lo, hi := low[i], high[i]
		for k := 0; k < len(s.stack); k++ {
			for _, at := range n.at[s.stack[k]] {
				u := at.other
				switch {
				case s.place[u] != trapped:
					lo, hi = min(lo, rest[u]), max(hi, rest[u])
				case !s.settled[u]:
					s.settled[u] = true
					s.stack = append(s.stack, u)
				}
			}
		}
		for _, u := range s.stack {
			low[u], high[u] = lo, hi
		}
	}
}
