package solver

import "math"

// The first guess.

// guess solves a linear network in p^2 with nominal conductances, in which
// every regulator holds the node it senses at its setting.
func (w *Workspace) guess() {
	f := w.f
	f.clear()
	square := func(i int) float64 { p := w.c.Conditions[i].PressurePa; return p * p }
	hi, lo := w.highest/highestShare, w.lowest/lowestShare
	mean := 0.25 * (hi*hi + lo*lo)
	if w.highest >= 1e9 {
		mean = 4 * w.lowest * w.lowest
	}
	for i := range w.net.Elements {
		e, d := &w.net.Elements[i], &w.c.Devices[i]
		g := w.nominal[i]
		if g == 0 {
			continue
		}
		if d.Lift != nil {
			if node, p, ok := w.holds(i); ok && !w.fixed[node] {
				k := f.pos[node]
				f.excess[k] += 1e3 * w.scale[node]
				f.rhs[k] += 1e3 * w.scale[node] * p * p
				continue
			}
			g *= 0.1
		}
		if w.fixed[e.From] && w.fixed[e.To] {
			continue
		}
		switch {
		case w.fixed[e.From]:
			f.excess[f.pos[e.To]] += g
			f.rhs[f.pos[e.To]] += g * square(e.From)
		case w.fixed[e.To]:
			f.excess[f.pos[e.From]] += g
			f.rhs[f.pos[e.From]] += g * square(e.To)
		default:
			f.add(w.slots[i].ab, true, g)
			f.add(w.slots[i].ab, false, g)
		}
	}
	for k, i := range f.order {
		tie := 1e-6*w.scale[i] + 1e-30
		f.excess[k] += tie
		f.rhs[k] += tie * mean
	}
	f.solve()
	for i := range w.p {
		if w.fixed[i] {
			w.p[i] = w.c.Conditions[i].PressurePa
			continue
		}
		w.p[i] = min(max(math.Sqrt(max(f.rhs[f.pos[i]], 0)), w.lowest), w.highest)
	}
}

// holds gives the node that a lifting device controls and the pressure at which
// it begins to open, as far as that can be told before anything is solved.
func (w *Workspace) holds(i int) (node int, p float64, ok bool) {
	e, l := &w.net.Elements[i], w.c.Devices[i].Lift
	if w.floor[i] > 0 || l.Bias == 0 && l.Ref == 0 {
		return 0, 0, false // opens on a drop
	}
	pr := 0.0
	if l.Ref != 0 {
		if e.Sense < 0 || !w.fixed[e.Sense] {
			return 0, 0, false
		}
		pr = w.c.Conditions[e.Sense].PressurePa
	}
	if l.Down < 0 && l.Up <= 0 {
		node = e.To
		p = -(l.Bias + l.Ref*pr + l.Up*w.highest/highestShare) / l.Down
	} else {
		node = e.From
		p = -(l.Bias + l.Ref*pr + l.Down*w.lowest/lowestShare) / l.Up
	}
	return node, min(max(p, w.lowest), w.highest), finite(p)
}
