package solver

import "math"

// Devices that jump open (pop-action reliefs, discs) are states, not laws: shut
// needs z <= 0, open needs z above the reseat point. From all shut, the worst
// violation is flipped and the case solved again, until none is left. Where a set
// of positions returns, all sets are tried (2^k of them, k small); where none is
// consistent no steady state exists and the devices that flipped cycle, see
// cycle.go.

// mostEnumerated is the number of jumping devices up to which all sets of
// positions are tried.
const mostEnumerated = 8

// jumps settles the jumping devices, starting from the present solution with all
// of them shut. turning lists the devices that find no position.
func (w *Workspace) jumps() (stage Stage, turning []int) {
	stage, turning = w.flip()
	if len(turning) == 0 || stage == NotFound {
		return stage, turning
	}
	ids := w.jumping()
	if len(ids) > mostEnumerated {
		return stage, turning
	}
	found := false
	w.eachSet(ids, func() bool {
		found = true
		return false
	})
	if found {
		return stage, nil
	}
	return stage, turning
}

// eachSet solves every set of positions and calls visit where it is consistent,
// until visit says no more.
func (w *Workspace) eachSet(ids []int, visit func() (more bool)) {
	for set := range 1 << len(ids) {
		for k, i := range ids {
			w.popped[i] = set>>k&1 == 1
		}
		w.position()
		if s, _ := w.passes(mostPasses); s != NotFound && w.worstViolation() < 0 && !visit() {
			return
		}
	}
}

// jumping lists the devices that jump open and shut again. A disc does not: open
// would always be consistent.
func (w *Workspace) jumping() (ids []int) {
	for i := range w.c.Devices {
		if d := &w.c.Devices[i]; d.Snap && d.Passage != nil && !math.IsInf(d.ReseatZ, -1) {
			ids = append(ids, i)
		}
	}
	return ids
}

// position puts the jumping devices where popped has them.
func (w *Workspace) position() {
	for i := range w.c.Devices {
		if w.c.Devices[i].Snap {
			w.regime[i] = shut
			if w.popped[i] {
				w.regime[i] = full
			}
		}
	}
}

// flip turns the worst violation until there is none, or until a set of positions
// returns: then the devices turned since are given.
func (w *Workspace) flip() (stage Stage, turning []int) {
	seen := map[string]int{}
	var turned []int
	for {
		key := make([]byte, len(w.popped))
		for i, open := range w.popped {
			if open {
				key[i] = 1
			}
		}
		if first, again := seen[string(key)]; again {
			return stage, distinct(turned[first:])
		}
		seen[string(key)] = len(turned)
		at := w.worstViolation()
		if at < 0 {
			return stage, nil
		}
		turned = append(turned, at)
		w.popped[at] = !w.popped[at]
		w.position()
		s, _ := w.passes(mostPasses)
		if stage = max(stage, s); s == NotFound {
			return NotFound, nil
		}
	}
}

func distinct(ids []int) (out []int) {
	seen := map[int]bool{}
	for _, i := range ids {
		if !seen[i] {
			seen[i] = true
			out = append(out, i)
		}
	}
	return out
}

// worstViolation gives the jumping device whose position is furthest from what
// its pressures ask for, or -1.
func (w *Workspace) worstViolation() int {
	worst, at := 0.0, -1
	for i := range w.c.Devices {
		if v := w.violation(i); v > worst {
			worst, at = v, i
		}
	}
	return at
}

// violation is how far the state of a jumping device is from what its pressures
// ask for, in lifts; 0 where it agrees.
func (w *Workspace) violation(i int) float64 {
	d := &w.c.Devices[i]
	if !d.Snap || d.Passage == nil {
		return 0
	}
	e := &w.net.Elements[i]
	z := w.liftOf(i)
	switch {
	case !finite(z), d.OneWay && w.level(e.To) >= w.level(e.From):
		return 0
	case !w.popped[i]:
		return max(z, 0)
	}
	return max(d.ReseatZ-z, 0)
}

// liftOf is z of element i at the present pressures, not clamped.
func (w *Workspace) liftOf(i int) float64 {
	e := &w.net.Elements[i]
	return w.c.Devices[i].Lift.At(w.level(e.From), w.level(e.To), follows(e, w.ref))
}
