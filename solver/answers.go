package solver

import "math"

// Where a device's opening rises with the pressure that its own flow raises, or
// falls with the pressure its flow lowers, the network leaves the class in which
// the answer is known to be one: supply effect of a reducer, outlet effect of a
// holder, a loading that follows a node. Such a case is solved again from
// all-low and from all-high pressures, with the gases and temperatures of the
// first answer; another place reached is another answer.

// mayHaveSeveral reports whether a law in the case has a slope of the wrong sign.
func (w *Workspace) mayHaveSeveral() bool {
	for i := range w.c.Devices {
		d := &w.c.Devices[i]
		if l := d.Lift; d.Passage != nil && l != nil && (l.Up < 0 || l.Down > 0 || l.Ref != 0) {
			return true
		}
	}
	return false
}

// otherAnswers solves from all-low and all-high starts and records what differs
// from r. The workspace ends with the last of them.
func (w *Workspace) otherAnswers(r *Result) {
	for _, high := range []bool{false, true} {
		w.flat(high)
		if w.hydraulics(mostSteps) == NotFound {
			continue // a lower bound on how many answers there are
		}
		other := make([]float64, len(w.p))
		differs := false
		for i := range w.p {
			other[i] = math.NaN()
			if r.Nodes[i].State == Trapped || w.sites.place[i] == trapped {
				continue
			}
			if other[i] = w.level(i); w.sites.place[i] == filled {
				other[i] = w.locked[i]
			}
			// What rests in both may rest at what it was before; that is said of dead
			// ends as such and makes no other answer.
			flows := r.Nodes[i].State == Flowing || w.sites.place[i] == moving
			if flows && math.Abs(other[i]/r.Nodes[i].PressurePa-1) > 1e-6 {
				differs = true
			}
		}
		if differs {
			r.Several = true
			r.Others = append(r.Others, other)
		}
	}
}
