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
