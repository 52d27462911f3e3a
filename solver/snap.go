package solver

// Devices that jump open (pop-action reliefs, discs) are states, not laws: shut
// needs z <= 0, open needs z above the reseat point. From all shut, the worst
// violation is flipped and the case solved again, until none is left or a set
// of states returns, in which case the device cycles.

// flip settles the jumping devices, starting from the present solution with
// all of them shut.
func (w *Workspace) flip() (stage Stage, cycling bool) {
	seen := map[string]bool{}
	for {
		key := make([]byte, 0, len(w.regime))
		for i := range w.c.Devices {
			if w.c.Devices[i].Snap {
				key = append(key, byte(w.regime[i]))
			}
		}
		if seen[string(key)] {
			return stage, true
		}
		seen[string(key)] = true
		worst, at := 0.0, -1
		for i := range w.c.Devices {
			if v := w.violation(i); v > worst {
				worst, at = v, i
			}
		}
		if at < 0 {
			return stage, false
		}
		w.regime[at] = full - w.regime[at]
		s, _ := w.passes()
		if stage = max(stage, s); s == NotFound {
			return NotFound, false
		}
	}
}

// violation is how far the state of a jumping device is from what its pressures
// ask for, in lifts; 0 where it agrees.
func (w *Workspace) violation(i int) float64 {
	d, e := &w.c.Devices[i], &w.net.Elements[i]
	if !d.Snap || d.Passage == nil {
		return 0
	}
	pr := 0.0
	if e.Sense >= 0 {
		pr = w.ref[e.Sense]
	}
	z := d.Lift.At(w.level(e.From), w.level(e.To), pr)
	switch {
	case !finite(z):
		return 0
	case w.regime[i] == shut:
		return max(z, 0)
	}
	return max(d.ReseatZ-z, 0)
}
