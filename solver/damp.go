package solver

import "math"

// Plain substitution of flows into compositions and temperatures and back can
// overshoot: a light gas let into a junction raises the pressure that lets it in,
// or steers it elsewhere, and the next pass undoes it. What follows the flows is
// then given flows that lag behind: each moves a part of the way to its new value,
// less where it swings to and fro, by the straight line through its last two misses
// (Irons & Tuck, Int. J. Numer. Meth. Eng. 1 (1969) 275-277, for each flow alone).
// Where nothing moves any more they are the flows themselves.

const (
	dampsFrom      = 16 // pass from which temperatures are damped
	dampsFromMixed = 5  // and where unlike gases can mix
	leastWeight    = 0.02
)

// damping holds the flows that lag behind.
type damping struct {
	on     bool
	flow   []float64 // per element [kg/s]
	miss   []float64 // its last miss
	weight []float64
}

func newDamping(elements int) damping {
	return damping{flow: make([]float64, elements), miss: make([]float64, elements), weight: make([]float64, elements)}
}

// damp moves the lagging flows towards the flows of pass n.
func (w *Workspace) damp(n int) {
	d := &w.damping
	from := dampsFrom
	if w.gases.unlike {
		from = dampsFromMixed
	}
	switch {
	case n < from, w.c.Thermal == Isothermal && !w.gases.unlike:
		d.on = false
		return
	case !d.on:
		d.on = true
		copy(d.flow, w.linear)
		for i := range d.weight {
			d.miss[i], d.weight[i] = 0, 1
		}
		return
	}
	for i, m := range w.linear {
		miss := m - d.flow[i]
		if was := d.miss[i]; was*miss < 0 {
			d.weight[i] = max(d.weight[i]*max(was/(was-miss), 0.1), leastWeight)
		} else {
			d.weight[i] = min(1.5*d.weight[i], 1)
		}
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
