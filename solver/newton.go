package solver

import (
	"math"

	"tapline/solver/device"
)

// The inner iteration. Unknowns are the node pressures; every lift is in one of
// three regimes (shut, ramp, full) that move one place at a time, and inside
// the ramp the lift is not clamped, so that the linearised problem knows how to
// come back. Square-root laws are given the slope of a chord between the flow
// at the present pressures and the flow of the last linear solve: it equals the
// tangent at convergence and stays finite where the flow passes through zero,
// where the tangent sends Newton's method to and fro. Full steps.
//
// An iteration has converged when every element's linearised flow equals its
// law at the new pressures, the linearised flows balance, the last step was
// small and no regime moved. The flows reported are the linearised ones: they
// balance to rounding, while recomputed from rounded pressures a large opening
// in series with a small leak would not.

const (
	elementTol = 1e-9 // relative agreement of linearised flow and law
	stepTol    = 1e-3 // last step, relative to pressure
	rounding   = 64 * 0x1p-52
	leastDrop  = 1e-6  // relative drop below which a lift is given the slope it has there
	restTol    = 1e-12 // relative move of a dome at rest
	shutsAt    = 1e-9  // lift below zero at which a device at rest shuts
	opensAt    = 1e-11 // lift above which a device at rest opens: above rounding of its terms
)

// newton iterates on (A + lambda C) dp = F + lambda C (saved - p) and reports
// whether it converged. abortAfter > 0 stops early where the mismatch does not
// halve twice in that many iterations.
func (w *Workspace) newton(lambda float64, most int, tol float64, abortAfter int) bool {
	stepped, moved, step := false, false, 0.0
	first := math.Inf(1)
	for it := 0; it < most; it++ {
		adrift := w.settle(lambda > 0)
		worst, consistent := w.assemble(lambda, tol, stepped)
		if stepped {
			w.trail = append(w.trail, worst)
			if consistent && !moved && !adrift && step <= stepTol && (lambda > 0 || w.balanced()) {
				return true
			}
			if it == 1 {
				first = worst
			}
			if abortAfter > 0 && it > abortAfter && worst > first/4 {
				return false
			}
		}
		w.iterations++
		w.f.solve()
		var ok bool
		if step, ok = w.step(); !ok {
			return false
		}
		moved = w.move()
		stepped = true
	}
	return false
}

// assemble evaluates every law at p, fills the factors, and compares with the
// flows of the last linear solve.
func (w *Workspace) assemble(lambda, tol float64, compare bool) (worst float64, consistent bool) {
	f := w.f
	f.clear()
	consistent = true
	for i := range w.net.Elements {
		if !w.inPlay(i) {
			if compare && w.linear[i] != 0 {
				consistent = false
			}
			w.link[i] = link{}
			w.linear[i] = 0
			continue
		}
		old := w.link[i].gross
		w.evaluate(i)
		l := &w.link[i]
		if compare {
			miss := math.Abs(w.linear[i] - l.m)
			if !(miss <= tol*math.Abs(l.m)+rounding*max(l.gross, old)) {
				consistent = false
				worst = max(worst, miss/(math.Abs(l.m)+1e-12))
			}
		}
		w.couple(i, l)
	}
	for k, i := range f.order {
		if !w.active[i] {
			f.excess[k], f.rhs[k] = 1, 0
			continue
		}
		f.excess[k] += 1e-15*w.scale[i] + lambda*w.scale[i]
		f.rhs[k] += lambda * w.scale[i] * (w.saved[i] - w.p[i])
		if c := &w.c.Conditions[i]; c.Kind == Inflow {
			f.rhs[k] += c.InflowKgS
		}
	}
	return worst, consistent
}

// couple adds one link to the factors.
func (w *Workspace) couple(i int, l *link) {
	f, e, s := w.f, &w.net.Elements[i], &w.slots[i]
	da, db, dr := l.da, l.db, l.dr
	r := e.Sense
	switch r {
	case e.From:
		da, r = da+dr, -1
	case e.To:
		db, r = db+dr, -1
	}
	a, b := w.active[e.From], w.active[e.To]
	if a {
		k := f.pos[e.From]
		f.rhs[k] -= l.m
		if b {
			f.add(s.ab, false, da)
		} else {
			f.excess[k] += da
		}
	}
	if b {
		k := f.pos[e.To]
		f.rhs[k] += l.m
		if a {
			f.add(s.ab, true, -db)
		} else {
			f.excess[k] -= db
		}
	}
	if r < 0 || !w.active[r] || dr == 0 {
		return
	}
	k := f.pos[r]
	if a {
		f.add(s.ar, true, -dr)
		f.excess[k] += dr
	}
	if b {
		f.add(s.br, true, dr)
		f.excess[k] -= dr
	}
}

// evaluate linearises element i at the present pressures.
func (w *Workspace) evaluate(i int) {
	e, d := &w.net.Elements[i], &w.c.Devices[i]
	pa, pb := w.p[e.From], w.p[e.To]
	l := &w.link[i]
	*l = link{}
	last := math.Abs(w.linear[i])
	if d.Passage != nil {
		switch {
		case d.Lift == nil && !(d.OneWay && w.regime[i] == shut), d.Lift != nil && w.regime[i] == full:
			w.through(i, d.Passage, pa, pb, last, l)
		case d.Lift != nil && w.regime[i] == ramp:
			w.lifting(i, d, pa, pb, last, l)
		}
	}
	if d.Leak != nil {
		w.through(i, d.Leak, pa, pb, math.Inf(-1), l)
	}
	pr := 0.0
	if e.Sense >= 0 {
		pr = w.ref[e.Sense]
	}
	l.gross = math.Abs(l.da)*pa + math.Abs(l.db)*pb + math.Abs(l.dr)*pr
}

// directed is a law whose direction the pressures alone do not decide (a tube
// with a rise): W, Up and Down are signed, against the pressures of both ends.
type directed interface {
	Signed(pIn, pOut float64, g *device.Gas) device.Flow
}

// through adds a passage that is open in both directions to l. last < 0 takes
// the tangent, not the chord.
func (w *Workspace) through(i int, law device.Law, pa, pb, last float64, l *link) {
	up, down, sign := pa, pb, 1.0
	if pb > pa {
		up, down, sign = pb, pa, -1
	}
	gas := w.gasOf(i, sign > 0)
	if d, ok := law.(directed); ok {
		q := d.Signed(pa, pb, gas)
		k := chord(&q, min(last, w.nominal[i]*up))
		l.m += q.W
		l.da += k * q.Up
		l.db += k * q.Down
		l.choked = l.choked || q.Choked
		return
	}
	q := law.Flow(up, down, gas)
	k := chord(&q, min(last, w.nominal[i]*up))
	l.m += sign * q.W
	if sign > 0 {
		l.da += k * q.Up
		l.db += k * q.Down
	} else {
		l.da -= k * q.Down
		l.db -= k * q.Up
	}
	l.choked = l.choked || q.Choked
}

// lifting adds a passage whose lift is on its ramp: m = z g, z not clamped.
func (w *Workspace) lifting(i int, d *Device, pa, pb, last float64, l *link) {
	pr := 0.0
	if r := w.net.Elements[i].Sense; r >= 0 {
		pr = w.ref[r]
	}
	z := d.Lift.At(pa, pb, pr)
	open := min(max(z, 0), 1)
	var g link
	opened := 0.0 // flow wide open that a change of lift is worth
	switch drop := pa - pb; {
	case w.floor[i] > 0 && drop < w.floor[i]:
		// It opens on a drop and is short of it: held at that drop, so that the
		// slope leads back.
		w.through(i, d.Passage, pa, pa-w.floor[i], math.Inf(-1), &g)
		g.da, g.db = 0, 0
		opened = g.m
	case drop < leastDrop*pa:
		w.through(i, d.Passage, pa, pa*(1-leastDrop), math.Inf(-1), &g)
		opened = g.m
		g = link{}
		w.through(i, d.Passage, pa, pb, last/max(open, 1e-3), &g)
	default:
		w.through(i, d.Passage, pa, pb, last/max(open, 1e-3), &g)
		opened = g.m
	}
	l.m += z * g.m
	l.da += opened*d.Lift.Up + open*g.da
	l.db += opened*d.Lift.Down + open*g.db
	if !w.held {
		l.dr += opened * d.Lift.Ref
	}
	l.choked = l.choked || g.choked
}

// chord is the factor that turns the tangent of a power law into the chord to
// the flow last; 1 where the two flows are the same.
func chord(q *device.Flow, last float64) float64 {
	root, flow := math.Abs(q.Root), math.Abs(q.W)
	if last < 0 || q.Exponent == 1 || root == 0 {
		return 1
	}
	return 1 + (2-2*q.Exponent)*(2*root/(2*root+last-flow)-1)
}

// gasOf is the gas a law of element i is evaluated with.
func (w *Workspace) gasOf(i int, forward bool) *device.Gas {
	switch {
	case w.c.Devices[i].Mean:
		return &w.mean[i]
	case forward:
		return &w.gas[w.net.Elements[i].From]
	}
	return &w.gas[w.net.Elements[i].To]
}

// step applies the solution: new pressures within bounds, linearised flows.
// It gives the largest relative step, and false without any change where a
// number is not finite.
func (w *Workspace) step() (largest float64, ok bool) {
	for _, x := range w.f.rhs {
		if !finite(x) {
			return 0, false
		}
	}
	dp := func(node int) float64 {
		if node < 0 || !w.active[node] {
			return 0
		}
		return w.f.rhs[w.f.pos[node]]
	}
	for i := range w.net.Elements {
		if !w.inPlay(i) {
			continue
		}
		e, l := &w.net.Elements[i], &w.link[i]
		w.linear[i] = l.m + l.da*dp(e.From) + l.db*dp(e.To) + l.dr*dp(e.Sense)
	}
	for k, i := range w.f.order {
		if !w.active[i] {
			continue
		}
		x := w.f.rhs[k]
		largest = max(largest, math.Abs(x)/w.p[i])
		w.p[i] = min(max(w.p[i]+x, w.lowest), w.highest)
	}
	return largest, true
}

// move shifts the regimes by at most one place and reports whether any did.
func (w *Workspace) move() (moved bool) {
	for i := range w.net.Elements {
		d := &w.c.Devices[i]
		if d.Passage == nil || d.Lift == nil && !d.OneWay {
			continue
		}
		now := w.regime[i]
		next := w.nextRegime(i, d, now)
		if next != now {
			w.regime[i] = next
			moved = true
		}
	}
	return moved
}

func (w *Workspace) nextRegime(i int, d *Device, now regime) regime {
	e := &w.net.Elements[i]
	pa, pb := w.level(e.From), w.level(e.To)
	if !finite(pa) || !finite(pb) {
		return now
	}
	// Behind a device at rest the pressure may have filled to that before it.
	carries := w.inPlay(i)
	drives := pa > pb || pa == pb && !w.touches(e)
	if d.OneWay && carries && now != shut && w.linear[i] < 0 {
		return shut
	}
	if d.Lift == nil { // one-way without a lift: open or shut
		if now == shut && drives {
			return full
		}
		return now
	}
	if d.Snap {
		return now // flipped from outside, see snap.go
	}
	pr := 0.0
	if e.Sense >= 0 {
		pr = w.ref[e.Sense]
		if !w.held && (w.active[e.Sense] || w.fixed[e.Sense]) {
			pr = w.p[e.Sense]
		}
	}
	z := d.Lift.At(pa, pb, pr)
	switch {
	case !finite(z):
		return now
	case now == shut && z > opensAt && (!d.OneWay || drives):
		return ramp
	case now == ramp && (z < 0 && carries || z < -shutsAt):
		return shut
	case now == ramp && z > 1:
		return full
	case now == full && z < 1:
		return ramp
	}
	return now
}

// touches reports whether the equations hold both ends of an element.
func (w *Workspace) touches(e *Element) bool {
	return (w.active[e.From] || w.fixed[e.From]) && (w.active[e.To] || w.fixed[e.To])
}

// level is the pressure of a node as far as it is known.
func (w *Workspace) level(i int) float64 {
	if w.active[i] || w.fixed[i] {
		return w.p[i]
	}
	return w.rest[i]
}

// balanced reports whether the linearised flows balance at every node.
func (w *Workspace) balanced() bool {
	worst, _ := w.imbalance()
	return worst <= 1e-9
}

// imbalance gives the worst balance error relative to throughput over nodes
// passing at least 1e-9 kg/s, and its node (-1 where there is none).
func (w *Workspace) imbalance() (worst float64, node int) {
	node = -1
	for i := range w.net.Nodes {
		if !w.active[i] {
			continue
		}
		in, out := 0.0, 0.0
		if c := &w.c.Conditions[i]; c.Kind == Inflow {
			in = c.InflowKgS
		}
		for _, at := range w.net.at[i] {
			m := w.linear[at.element]
			if w.net.Elements[at.element].From == i {
				m = -m
			}
			if m > 0 {
				in += m
			} else {
				out -= m
			}
		}
		if t := max(in, out); t > 1e-9 {
			if miss := math.Abs(in-out) / t; miss > worst {
				worst, node = miss, i
			}
		}
	}
	return worst, node
}
