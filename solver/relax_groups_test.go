package solver

import (
	"math"
	"sort"
)

// Groups of nodes moved together, see relax_test.go.

// group makes the sets of nodes for p: one by one along the passages from the
// widest down.
func (g *relaxer) group(p []float64, plain bool) {
	type join struct {
		wide float64
		e    int
	}
	var joins []join
	fixed := func(i int) bool { return g.c.Conditions[i].Kind == Pressure }
	for i, e := range g.n.Elements {
		if fixed(e.From) || fixed(e.To) || plain && g.c.Devices[i].Lift != nil {
			continue
		}
		a, b := p[e.From], p[e.To]
		m, _ := g.pass(i, a, b)
		up, _ := g.pass(i, a*(1+1e-6), b)
		down, _ := g.pass(i, a, b*(1+1e-6))
		if wide := min(math.Abs(up-m)/a, math.Abs(down-m)/b); wide > 0 {
			joins = append(joins, join{wide, i})
		}
	}
	sort.SliceStable(joins, func(a, b int) bool { return joins[a].wide > joins[b].wide })
	of := make([]int, len(p))
	var sets [][]int
	for _, i := range g.free {
		of[i] = len(sets)
		sets = append(sets, []int{i})
	}
	for _, j := range joins {
		a, b := of[g.n.Elements[j.e].From], of[g.n.Elements[j.e].To]
		if a == b {
			continue
		}
		both := append(append([]int{}, sets[a]...), sets[b]...)
		for _, i := range both {
			of[i] = len(sets)
		}
		sets = append(sets, both)
	}
	g.groups, g.border, g.in = sets, nil, nil
	for _, s := range sets {
		in := make([]bool, len(p))
		for _, i := range s {
			in[i] = true
		}
		var over []int
		for i, e := range g.n.Elements {
			if in[e.From] != in[e.To] {
				over = append(over, i)
			}
		}
		g.border, g.in = append(g.border, over), append(g.in, in)
	}
}

// over is the net flow into group k, what passes it, and the rounding.
func (g *relaxer) over(k int, p []float64) (f, through, noise float64) {
	for _, e := range g.border[k] {
		m, s := g.pass(e, p[g.n.Elements[e].From], p[g.n.Elements[e].To])
		if g.in[k][g.n.Elements[e].From] {
			m = -m
		}
		f += m
		through += math.Abs(m) / 2
		noise += s
	}
	return f, through, noise
}

// together moves nodes and groups to where their borders balance until all do,
// and reports whether they did. While that goes well it goes on in one manner,
// else it changes between groups across lifts or not, and whole moves or parts.
func (g *relaxer) together(p []float64, most int) bool {
	was := make([]float64, len(p))
	var last []float64 // per group: its last move
	manner, before := 0, math.Inf(1)
	for s := 0; s < most; s++ {
		if s%8 == 0 {
			sum := 0.0
			for _, i := range g.free {
				f, _ := g.net(i, p)
				sum += math.Abs(f)
			}
			if s > 0 && sum > 0.3*before {
				manner++
			}
			before = sum
			g.group(p, manner%2 == 1)
			last = make([]float64, len(g.groups))
		}
		ease := []float64{1, 0.7, 0.4, 0.2}[manner/4%4]
		g.sweeps++
		closed := true
		for k := range g.groups {
			if s%2 == 1 && manner/2%2 == 0 {
				k = len(g.groups) - 1 - k
			}
			set := g.groups[k]
			f, through, noise := g.over(k, p)
			if math.Abs(f) > 1e-11*through+8*noise {
				closed = false
			}
			if f == 0 {
				continue
			}
			side := 1.0
			if f < 0 {
				side = -1
			}
			for _, i := range set {
				was[i] = p[i]
			}
			scale := func(x float64) float64 {
				for _, i := range set {
					p[i] = min(max(was[i]*x, g.lo), g.hi)
				}
				f, _, _ := g.over(k, p)
				return f
			}
			bound := math.Pow(1e4, side)
			x := root(1, bound, side, max(last[k]/16, 1e-13), false, scale)
			last[k] = math.Abs(x - 1)
			if len(set) > 1 {
				x = math.Pow(x, ease)
			}
			scale(x)
		}
		if closed {
			return true
		}
	}
	return false
}
