package solver

// Where the couplings of the elements live in the factors. One layout serves all
// cases with the same set of known pressures.

// slots says where the couplings of one element live in the factors.
type slots struct{ ab, ar, br slot }

type slot struct {
	at    int32
	upper bool // the first node's row is in upper
	ok    bool
}

// lay makes the factors for the case's set of known pressures, or keeps those
// of the case before, and reports whether it kept them.
func (w *Workspace) lay() (same bool) {
	same = w.f != nil
	for i := range w.fixed {
		is := w.c.Conditions[i].Kind == Pressure
		same = same && is == w.fixed[i]
		w.fixed[i] = is
	}
	if same {
		return true
	}
	unknown := make([]bool, len(w.fixed))
	for i, is := range w.fixed {
		unknown[i] = !is
	}
	var couplings [][2]int
	for _, e := range w.net.Elements {
		couplings = append(couplings, [2]int{e.From, e.To})
		if e.Sense >= 0 {
			couplings = append(couplings, [2]int{e.From, e.Sense}, [2]int{e.To, e.Sense})
		}
	}
	w.f = newFactors(unknown, couplings)
	at := func(i, j int) slot {
		if i < 0 || j < 0 || i == j {
			return slot{}
		}
		s, upper, ok := w.f.slot(i, j)
		return slot{int32(s), upper, ok}
	}
	for i, e := range w.net.Elements {
		w.slots[i] = slots{at(e.From, e.To), at(e.From, e.Sense), at(e.To, e.Sense)}
	}
	return false
}

// add puts v into the row of the slot's first node (first true) or second.
func (f *factors) add(s slot, first bool, v float64) {
	if !s.ok {
		return
	}
	if first == s.upper {
		f.upper[s.at] += v
	} else {
		f.lower[s.at] += v
	}
}
