package solver

import (
	"math"

	"tapline/solver/device"
)

// A second way to an answer, for small networks: nonlinear Gauss-Seidel. Each
// node in turn is given the pressure at which its own flows balance, found by
// halving an interval. Nothing is linearised, factored or classified, and no
// regime is kept. Shared with the solver are the laws (solver/device) and the
// gas (solver/fluid), each called directly; an ideal gas, isothermal.
//
// Where every law rises with the pressure before it and falls with the one
// behind it, the iteration from all-low only rises and that from all-high only
// falls, and what they tend to encloses every answer (Porsching, SIAM J. Numer.
// Anal. 6 (1969) 437-449; Ortega & Rheinboldt, Iterative Solution of Nonlinear
// Equations, 1970, section 13.5). Any step that keeps every balance on its side
// keeps that, so the last sweep is lengthened while it does.
//
// Plain sweeps crawl where nodes joined by wide passages are fed through narrow
// ones. Groups of nodes, taken together from the widest passage down, are then
// moved by a common factor to where the flows over the group's border balance.
// These moves may overshoot, so what comes of them is no enclosure but two
// answers from opposite ends, each with all its balances closed.

type relaxer struct {
	n      *Network
	c      *Case
	gas    device.Gas
	at     [][]int
	free   []int
	lo, hi float64   // below and above any pressure to be found
	offset []float64 // per element: terms of z held for now
	rest   []float64 // per node: pressure of a dome at rest, 0 elsewhere
	groups [][]int   // sets of nodes, smallest first
	border [][]int   // per group: elements with one end in it
	in     [][]bool
	sweeps int
}

// newRelaxer makes one for an isothermal case with one ideal gas and known
// pressures only.
func newRelaxer(n *Network, c *Case) (*relaxer, error) {
	s, err := c.Fluids[0].At(c.AmbientK, 1e5)
	if err != nil {
		return nil, err
	}
	mu, _ := c.Fluids[0].Viscosity(c.AmbientK, s.DensityKgM3)
	g := &relaxer{n: n, c: c, at: make([][]int, len(n.Nodes)), offset: make([]float64, len(n.Elements)), rest: make([]float64, len(n.Nodes)), lo: math.Inf(1)}
	g.gas = device.Gas{PressurePa: 1e5, TemperatureK: c.AmbientK, DensityKgM3: s.DensityKgM3, Exponent: s.DensityExponent,
		MolarMass: c.Fluids[0].MolarMass(), GammaIdeal: s.GammaIdeal, Kappa: s.Kappa, ViscosityPaS: mu}
	for i, k := range c.Conditions {
		if k.Kind == Pressure {
			// What a reducer fills may be set below every known pressure.
			g.lo, g.hi = min(g.lo, 0.1*k.PressurePa), max(g.hi, k.PressurePa)
		} else {
			g.free = append(g.free, i)
		}
	}
	for i, e := range n.Elements {
		g.at[e.From] = append(g.at[e.From], i)
		g.at[e.To] = append(g.at[e.To], i)
	}
	return g, nil
}

// start is all free nodes at one pressure.
func (g *relaxer) start(p float64) []float64 {
	out := make([]float64, len(g.n.Nodes))
	for i, k := range g.c.Conditions {
		out[i] = p
		if k.Kind == Pressure {
			out[i] = k.PressurePa
		}
	}
	return out
}

// pass is the flow of element i between two pressures and what rounding of them
// is worth in it. The lift's own slope counts in that.
func (g *relaxer) pass(i int, pa, pb float64) (m, noise float64) {
	d := &g.c.Devices[i]
	add := func(law device.Law, lift, slope float64) {
		if s, ok := law.(interface {
			Signed(pIn, pOut float64, g *device.Gas) device.Flow
		}); ok {
			q := s.Signed(pa, pb, &g.gas)
			m += lift * q.W
			noise += lift*(math.Abs(q.Up)*pa+math.Abs(q.Down)*pb) + slope*math.Abs(q.W)
			return
		}
		up, down, sign := pa, pb, 1.0
		if pb > pa {
			up, down, sign = pb, pa, -1
		}
		q := law.Flow(up, down, &g.gas)
		m += sign * lift * q.W
		noise += lift*(math.Abs(q.Up)*up+math.Abs(q.Down)*down) + slope*q.W
	}
	if d.Passage != nil && !(d.OneWay && pb > pa) {
		lift, slope := 1.0, 0.0
		if l := d.Lift; l != nil {
			z := l.Bias + max(l.Up, 0)*pa + min(l.Down, 0)*pb + g.offset[i]
			lift = min(max(z, 0), 1)
			if z > 0 && z < 1 {
				slope = math.Abs(l.Up)*pa + math.Abs(l.Down)*pb + math.Abs(l.Bias)
			}
		}
		if lift > 0 {
			add(d.Passage, lift, slope)
		}
	}
	if d.Leak != nil {
		add(d.Leak, 1, 0)
	}
	return m, 0x1p-52 * noise
}

// net is what flows into node i, and the rounding in it.
func (g *relaxer) net(i int, p []float64) (f, noise float64) {
	for _, e := range g.at[i] {
		m, s := g.pass(e, p[g.n.Elements[e].From], p[g.n.Elements[e].To])
		if g.n.Elements[e].From == i {
			m = -m
		}
		f += m
		noise += s
	}
	return f, noise
}

// root moves x by halving to where f, which falls with x, stops being on its
// side: side*f >= 0, or, to end at the first such x, side*f > 0. guess is a first
// step. It stops when what is left is a twentieth of what was gone, or nothing.
func root(x, bound, side, guess float64, first bool, f func(float64) float64) float64 {
	on := func(x float64) bool {
		v := side * f(x)
		return v > 0 || v == 0 && !first
	}
	if !on(x) {
		return x
	}
	begin, step := x, max(guess, 1e-12*x)
	var far float64
	for {
		next := x + side*step
		if side*(bound-next) <= 0 {
			if on(bound) {
				return bound
			}
			far = bound
			break
		}
		if !on(next) {
			far = next
			break
		}
		x, step = next, 4*step
	}
	for math.Abs(far-x) > 0.05*math.Abs(x-begin) && math.Abs(far-x) > 1e-16*x {
		mid := x + (far-x)/2
		if mid == x || mid == far {
			break
		}
		if on(mid) {
			x = mid
		} else {
			far = mid
		}
	}
	return x
}

// sweep moves every node in turn on its side and gives the largest relative
// move. last holds the moves of the sweep before.
func (g *relaxer) sweep(p, last []float64, side float64, backwards bool) (most float64) {
	g.sweeps++
	bound := g.hi
	if side < 0 {
		bound = g.lo
	}
	for k := range g.free {
		i := g.free[k]
		if backwards {
			i = g.free[len(g.free)-1-k]
		}
		was := p[i]
		p[i] = root(was, bound, side, last[i]/2, true, func(x float64) float64 {
			p[i] = x
			f, _ := g.net(i, p)
			return f
		})
		last[i] = math.Abs(p[i] - was)
		most = max(most, last[i]/was)
	}
	return most
}

// holds reports whether every balance is on its side at p, reached from before.
// Where a pressure moved, a balance of nothing is one step too far: within what
// rests any pressure balances, and only the nearest encloses the others.
func (g *relaxer) holds(p, before []float64, side float64) bool {
	for _, i := range g.free {
		if f, _ := g.net(i, p); side*f < 0 || f == 0 && p[i] != before[i] {
			return false
		}
	}
	return true
}

// enclose moves low up and high down until they meet to tol, or most sweeps are
// done, or neither moves.
func (g *relaxer) enclose(low, high []float64, tol float64, most int) {
	k := len(low)
	before, try, up, down := make([]float64, k), make([]float64, k), make([]float64, k), make([]float64, k)
	one := func(p, last []float64, side float64, backwards bool) float64 {
		copy(before, p)
		moved := g.sweep(p, last, side, backwards)
		for theta := 1.0; theta < 1e9; theta *= 3 {
			for i := range p {
				try[i] = min(max(p[i]+theta*(p[i]-before[i]), g.lo), g.hi)
			}
			if !g.holds(try, before, side) {
				break
			}
			copy(p, try)
		}
		return moved
	}
	for s := 0; s < most; s++ {
		a := one(low, up, 1, s%2 == 1)
		b := one(high, down, -1, s%2 == 1)
		if max(a, b) <= 1e-15 || g.apart(low, high) <= tol {
			return
		}
	}
}
