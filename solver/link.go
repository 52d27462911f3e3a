package solver

import (
	"math"

	"tapline/solver/device"
)

// One element at the present pressures: its flow and slopes.

// evaluate linearises element i at the present pressures.
func (w *Workspace) evaluate(i int) {
	e, d := &w.net.Elements[i], &w.c.Devices[i]
	pa, pb := w.p[e.From], w.p[e.To]
	l := &w.link[i]
	*l = link{}
	last := math.Abs(w.linear[i])
	if d.Passage != nil {
		switch {
		case d.Lift == nil && !(d.OneWay && w.regime[i] == shut), d.Lift != nil && d.Trim == nil && w.regime[i] == full:
			w.through(i, d.Passage, pa, pb, last, l)
		case d.Lift != nil && w.regime[i] != shut:
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

// through adds a passage that is open in both directions to l. last < 0 takes
// the tangent, not the chord.
func (w *Workspace) through(i int, law device.Law, pa, pb, last float64, l *link) {
	q, up := &w.flow, pa
	if pb > pa {
		up = pb
	}
	device.Pass(q, law, pa, pb, w.gasOf(i, up == pa), &w.start[i])
	k := chord(q, last, w.nominal[i]*up)
	l.m += q.W
	l.da += k * q.Up
	l.db += k * q.Down
	l.choked = l.choked || q.Choked
}

// lifting adds a passage whose lift is on its ramp: m = z g, z not clamped. With a
// trim it is m = o(z) g, on the ramp and fully lifted.
func (w *Workspace) lifting(i int, d *Device, pa, pb, last float64, l *link) {
	pr := 0.0
	if r := w.net.Elements[i].Sense; r >= 0 {
		pr = w.ref[r]
	}
	z := d.Lift.At(pa, pb, pr)
	factor, open, slope := z, min(max(z, 0), 1), 1.0
	if d.Trim != nil {
		factor, open, slope = w.trimmed(i, d, z)
	}
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
	l.m += factor * g.m
	l.da += opened*slope*d.Lift.Up + open*g.da
	l.db += opened*slope*d.Lift.Down + open*g.db
	l.dr += opened * slope * d.Lift.Ref
	l.choked = l.choked || g.choked
}

// trimmed gives what the fully open flow is multiplied by at lift z, that between
// shut and open, and its slope.
func (w *Workspace) trimmed(i int, d *Device, z float64) (factor, open, slope float64) {
	if w.regime[i] == full {
		open, _ = w.opening(i, d, 1)
		return open, open, 0
	}
	factor, slope = w.opening(i, d, z)
	open, _ = w.opening(i, d, min(max(z, 0), 1))
	return factor, open, slope
}

// opening is the trim at lift z, for the pressures of which the gases were last
// taken.
func (w *Workspace) opening(i int, d *Device, z float64) (opening, slope float64) {
	e := &w.net.Elements[i]
	return d.Trim.Open(z, w.gas[e.From].PressurePa, w.gas[e.To].PressurePa)
}

// chord is the factor that turns the tangent of a power law into the chord to
// the flow last; 1 where the two flows are the same. A flow that is more than most
// cannot be and counts as that.
func chord(q *device.Flow, last, most float64) float64 {
	root, flow := math.Abs(q.Root), math.Abs(q.W)
	if last < 0 || q.Exponent == 1 || root == 0 {
		return 1
	}
	if last > most {
		last = max(most, flow)
	}
	return 1 + (2-2*q.Exponent)*((flow-last)/(2*root-(flow-last)))
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
