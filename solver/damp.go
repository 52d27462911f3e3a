package solver

import "math"

// Plain substitution of flows into compositions and temperatures and back can
// overshoot: a light gas let into a junction raises the pressure that lets it in,
// or steers it elsewhere, and the next pass undoes it; near its critical point a gas
// that cools grows so much denser that the pressure before a restriction falls, and
// the gas cools more. What follows the flows is then given flows that lag behind,
// and nodes temperatures that do: each moves a part of the way to its new value,
// less where it swings to and fro, by the straight line through its last two misses
// (Irons & Tuck, Int. J. Numer. Meth. Eng. 1 (1969) 275-277, for each value alone).
// Where nothing moves any more they are the values themselves.

const (
	dampsFrom      = 16 // pass, after the rough ones, from which temperatures are damped
	dampsFromMixed = 5  // and where unlike gases can mix
	leastWeight    = 0.02
)

// damping holds the flows that lag behind.
type damping struct {
	on     bool
	flow   []float64 // per element [kg/s]
	miss   []float64 // its last miss
	weight []float64
	heat   struct{ miss, weight []float64 } // per node, of its temperature
}

func newDamping(nodes, elements int) damping {
	d := damping{flow: make([]float64, elements), miss: make([]float64, elements), weight: make([]float64, elements)}
	d.heat.miss, d.heat.weight = make([]float64, nodes), make([]float64, nodes)
	return d
}

// part is the part of a miss to move by, given the miss before and the part then.
func part(was, miss, weight float64) float64 {
	if was*miss < 0 {
		return max(weight*max(was/(was-miss), 0.1), leastWeight)
	}
	return min(1.3*weight, 1)
}

// dampHeat gives the temperature of node i on its way from t to next.
func (w *Workspace) dampHeat(i int, t, next float64) float64 {
	d := &w.damping
	if !d.on {
		return next
	}
	miss := next - t
	d.heat.weight[i] = part(d.heat.miss[i], miss, d.heat.weight[i])
	d.heat.miss[i] = miss
	return t + d.heat.weight[i]*miss
}

// damp moves the lagging flows towards the flows of pass n.
func (w *Workspace) damp(n int) {
	d := &w.damping
	from := dampsFrom
	if w.gases.unlike {
		from = dampsFromMixed
	}
	switch {
	case n < from+len(roughTol), w.c.Thermal == Isothermal && !w.gases.unlike:
		d.on = false
		return
	case !d.on:
		d.on = true
		copy(d.flow, w.linear)
		for i := range d.weight {
			d.miss[i], d.weight[i] = 0, 1
		}
		for i := range d.heat.weight {
			d.heat.miss[i], d.heat.weight[i] = 0, 1
		}
		return
	}
	for i, m := range w.linear {
		miss := m - d.flow[i]
		d.weight[i] = part(d.miss[i], miss, d.weight[i])
		d.miss[i] = miss
		d.flow[i] += d.weight[i] * miss
	}
}

// lags is by how much the lagging flows differ from the flows, relative to what
// passes the nodes.
func (w *Workspace) lags() (worst float64) {
	if !w.damping.on {
		return 0
	}
	leaves := w.gases.leaves
	for i, e := range w.net.Elements {
		if d := math.Abs(w.linear[i] - w.damping.flow[i]); d > leastShare*w.gases.most {
			worst = max(worst, d/max(leaves[e.From], leaves[e.To]))
		}
	}
	return worst
}
