package solver

import "math"

// The second method outside the monotone class.

// wrong gives the terms of element i's lift that break the monotone class, at p.
func (g *relaxer) wrong(i int, p []float64) (z float64) {
	l, e := g.c.Devices[i].Lift, &g.n.Elements[i]
	if g.c.Devices[i].Passage == nil || l == nil {
		return 0
	}
	if l.Up < 0 {
		z += l.Up * p[e.From]
	}
	if l.Down > 0 {
		z += l.Down * p[e.To]
	}
	if l.Ref != 0 {
		ref := p[e.Sense]
		if h := g.rest[e.Sense]; h > 0 {
			ref = h
		}
		z += l.Ref * ref
	}
	return z
}

// monotone reports whether no lift has such terms.
func (g *relaxer) monotone() bool {
	for i := range g.c.Devices {
		if l := g.c.Devices[i].Lift; g.c.Devices[i].Passage != nil && l != nil && (l.Up < 0 || l.Down > 0 || l.Ref != 0) {
			return false
		}
	}
	return true
}

// take holds the wrong terms as they are at p.
func (g *relaxer) take(p []float64) (most float64) { return g.move(p, 1) }

// move brings the held terms by a share of the way to what they are at p.
func (g *relaxer) move(p []float64, weight float64) (most float64) {
	for i := range g.offset {
		step := g.wrong(i, p) - g.offset[i]
		g.offset[i] += weight * step
		most = max(most, math.Abs(step))
	}
	return most
}

// throughput is half of what passes node i either way, 0 where that may be
// rounding.
func (g *relaxer) throughput(i int, p []float64) (sum float64) {
	for _, e := range g.at[i] {
		m, ulp := g.pass(e, p[g.n.Elements[e].From], p[g.n.Elements[e].To])
		sum += max(math.Abs(m)-64*ulp, 0) / 2
	}
	return sum
}

// holdResting takes over the pressure of a dome at a dead end, which balances do
// not decide: that it locks up above the point of shutting is what the solver
// says of a dead end, not a matter of flows. A dome that is trapped has no
// pressure at all, and the method nothing to say.
func (g *relaxer) holdResting(r *Result) (held, trapped bool) {
	for i, e := range g.n.Elements {
		l := g.c.Devices[i].Lift
		if l == nil || l.Ref == 0 || g.c.Devices[i].Passage == nil {
			continue
		}
		switch r.Nodes[e.Sense].State {
		case DeadEnd:
			g.rest[e.Sense] = r.Nodes[e.Sense].PressurePa
			held = true
		case Trapped:
			trapped = true
		}
	}
	return held, trapped
}

// stand solves with the wrong terms held and moves them until they stand, less
// far where that goes to and fro.
func (g *relaxer) stand(p []float64) bool {
	g.take(p)
	weight, best := 1.0, math.Inf(1)
	for k := 0; k < 60; k++ {
		if !g.together(p, 150) {
			return false
		}
		most := g.move(p, weight)
		if most <= 1e-11 {
			return true
		}
		if k%10 == 9 {
			if most > 0.5*best {
				weight *= 0.5
			}
			best = most
		}
	}
	return false
}
