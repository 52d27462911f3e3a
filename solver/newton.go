package solver

import "math"

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
	elementTol = 1e-9        // relative agreement of linearised flow and law
	stepTol    = 1e-3        // last step, relative to pressure
	rounding   = 4 * 0x1p-52 // of the pressures, as a share of them
	leastDrop  = 1e-6        // relative drop below which a lift is given the slope it has there
	restTol    = 1e-12       // relative move of a dome at rest
	shutsAt    = 1e-9        // lift below zero at which a device at rest shuts
	mostFall   = 0.5         // share of a pressure that a step leaves at least
	opensAt    = 1e-11       // lift above which a device at rest opens: above rounding of its terms
)

// newton iterates on (A + lambda C) dp = F + lambda C (saved - p) and reports
// whether it converged. abortAfter > 0 stops early where the mismatch does not
// halve twice in that many iterations.
func (w *Workspace) newton(lambda float64, most int, tol float64, abortAfter int) bool {
	stepped, moved, step := false, false, 0.0
	first := math.Inf(1)
	var round goround
	for it := 0; it < most; it++ {
		adrift := w.settle(lambda > 0)
		worst, consistent := w.assemble(lambda, tol, stepped)
		if stepped {
			if consistent && !moved && !adrift && step <= max(stepTol, tol) && (lambda > 0 || w.balanced()) {
				if lambda > 0 || !w.move() { // what rests may have filled since
					return true
				}
				continue
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
		fall := 0.0
		if lambda == 0 {
			fall = mostFall
		}
		var ok bool
		if step, ok = w.step(fall); !ok {
			return false
		}
		moved = w.move()
		stepped = true
		w.remember(lambda, worst, step)
		if lambda == 0 && round.again(step) {
			return false
		}
	}
	return false
}

// An Iteration is one step of the inner iteration. Where Lambda is above 0 it was
// an implicit step in pseudo-time.
type Iteration struct {
	Pass     int     // of flow and temperature in turn
	Search   bool    // after the answer: for its interval, or for other answers
	Held     bool    // with loads outside the monotone class held
	Lambda   float64 // 1 over the step in pseudo-time
	Mismatch float64 // of linearised flows and laws before the step, relative, the worst
	Step     float64 // the largest relative move of a pressure
}

// mostRemembered bounds the history of a case.
const mostRemembered = 20_000

func (w *Workspace) remember(lambda, mismatch, step float64) {
	if len(w.history) < mostRemembered {
		w.history = append(w.history, Iteration{w.pass, w.search, w.held, lambda, mismatch, step})
	}
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

// step applies the solution: new pressures within bounds, linearised flows.
// It gives the largest relative step, and false without any change where a
// number is not finite.
func (w *Workspace) step(fall float64) (largest float64, ok bool) {
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
		w.p[i] = min(max(w.p[i]+x, fall*w.p[i], w.lowest), w.highest)
	}
	w.lastStep = largest
	return largest, true
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
			if w.classified && w.sites.place[i] == moving && !w.sites.carries(w.net, at.element) {
				continue // rounding: what rests passes nothing
			}
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
