package solver

import "math"

// Friction holds a regulator anywhere within its dead band: where it stands
// depends on the direction it came from. The answer is then an interval. Its ends
// are at ends of the dead bands, all combinations of which are solved for a few
// devices; for more, each alone and all together.

// mostCorners is the number of devices up to which all combinations are solved.
const mostCorners = 3

// rubbing lists the devices with a dead band.
func (w *Workspace) rubbing() (ids []int) {
	for i := range w.given.Devices {
		if d := &w.given.Devices[i]; d.DeadBandZ > 0 && d.Lift != nil && d.Passage != nil {
			ids = append(ids, i)
		}
	}
	return ids
}

// betweenFrictions widens the answer in r to what the dead bands allow. The
// workspace ends at the answer that r holds.
func (w *Workspace) betweenFrictions(r *Result, ids []int) {
	low, high := make([]float64, len(r.Nodes)), make([]float64, len(r.Nodes))
	least, most := make([]float64, len(r.Elements)), make([]float64, len(r.Elements))
	for i := range r.Nodes {
		low[i], high[i] = r.Nodes[i].PressurePa, r.Nodes[i].PressurePa
	}
	for i := range r.Elements {
		least[i], most[i] = r.Elements[i].FlowKgS, r.Elements[i].FlowKgS
	}
	solve := func(side func(k int) float64) bool {
		for k, i := range ids {
			l := own(*w.given.Devices[i].Lift, &w.net.Elements[i])
			l.Bias += side(k) * w.given.Devices[i].DeadBandZ
			w.base[i], w.lifts[i] = l, l
		}
		s, _ := w.passes(mostPasses)
		if s == NotFound {
			return false
		}
		var o Result
		if w.report(&o); o.Status != Solved {
			return false
		}
		for i := range o.Nodes {
			low[i], high[i] = math.Min(low[i], o.Nodes[i].PressurePa), math.Max(high[i], o.Nodes[i].PressurePa)
		}
		for i := range o.Elements {
			least[i], most[i] = min(least[i], o.Elements[i].FlowKgS), max(most[i], o.Elements[i].FlowKgS)
		}
		return true
	}
	ok := true
	for _, side := range sides(len(ids)) {
		ok = solve(func(k int) float64 { return side[k] }) && ok
	}
	back := solve(func(int) float64 { return 0 })
	if !ok || !back {
		r.Status = Unsolved
		r.Reason = "no pressures found with friction holding a device at an end of its dead band"
		return
	}
	for i := range r.Nodes {
		if o := &r.Nodes[i]; o.State != Trapped && o.State != Boundary && high[i]-low[i] > 1e-9*high[i] {
			if !math.IsNaN(o.LowPa) { // of a cycle
				low[i], high[i] = min(low[i], o.LowPa), max(high[i], o.HighPa)
			}
			o.LowPa, o.HighPa = low[i], high[i]
		}
	}
	for i := range r.Elements {
		if o := &r.Elements[i]; most[i]-least[i] > 1e-9*max(math.Abs(most[i]), math.Abs(least[i])) {
			o.LowKgS, o.HighKgS = least[i], most[i]
		}
	}
}

// sides lists the combinations of ends to solve for n devices: -1 shuts sooner, 1
// later.
func sides(n int) (out [][]float64) {
	if n <= mostCorners {
		for set := range 1 << n {
			s := make([]float64, n)
			for k := range s {
				s[k] = float64(set>>k&1)*2 - 1
			}
			out = append(out, s)
		}
		return out
	}
	for _, x := range []float64{-1, 1} {
		all := make([]float64, n)
		for k := range all {
			all[k] = x
			alone := make([]float64, n)
			alone[k] = x
			out = append(out, alone)
		}
		out = append(out, all)
	}
	return out
}
