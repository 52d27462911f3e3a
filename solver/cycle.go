package solver

import "math"

// A jumping device that finds no steady position fills what is before it to its
// set, blows it down to its reseat point, and so on. Over a cycle the mean of what
// passes it is what would flow into its inlet with the pressure between the two:
// the volumes fill and empty by the same amount (whatever they are). So the mean is
// the answer of the same network with the device opening steadily from reseat to
// set; its lift is then the share of the time it stands open. The two pressures are
// the answers with the inlet held at reseat and at set.

// holdsAt is the width of the ramp that holds an inlet at one pressure, as a share
// of the way from reseat to set.
const holdsAt = 1e-3

// cycle solves the mean and both ends for the devices that turn, and reports.
func (w *Workspace) cycle(r *Result, turning []int) {
	for _, i := range turning {
		w.work.Devices[i].Snap = false
	}
	given := make([]float64, 0, len(turning))
	for _, i := range turning {
		given = append(given, -w.c.Devices[i].ReseatZ)
	}
	ends := [2][]float64{}
	for k, at := range []float64{-1, 0} { // reseat, set
		for j, i := range turning {
			w.steady(i, at*given[j]-holdsAt*given[j], at*given[j]+holdsAt*given[j])
		}
		if s, _ := w.passes(mostPasses); s == NotFound {
			r.Stage = NotFound
		}
		for i := range w.p {
			ends[k] = append(ends[k], w.sensedAt(i))
		}
	}
	for j, i := range turning {
		w.steady(i, -given[j], 0)
	}
	s, _ := w.passes(mostPasses)
	r.Stage = max(r.Stage, s)
	w.report(r)
	if r.Status != Solved {
		return
	}
	r.Cycling = true
	for i := range r.Nodes {
		o := &r.Nodes[i]
		low, high := min(ends[0][i], ends[1][i]), max(ends[0][i], ends[1][i])
		if (o.State == Flowing || o.State == DeadEnd) && high-low > 1e-9*high {
			o.LowPa, o.HighPa = low, high
		}
	}
	for _, i := range turning {
		if o := &r.Elements[i]; o.State == Controlling {
			o.State = Cycling
		}
	}
}

// steady has a jumping device open steadily between two lifts of its own scale.
func (w *Workspace) steady(i int, shutZ, fullZ float64) {
	l := own(*w.given.Devices[i].Lift, &w.net.Elements[i])
	by := 1 / math.Max(fullZ-shutZ, 1e-12)
	l.Bias = (l.Bias - shutZ) * by
	l.Up, l.Down, l.Ref = l.Up*by, l.Down*by, l.Ref*by
	w.base[i], w.lifts[i] = l, l
}
