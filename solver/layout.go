package solver

import "slices"

// Where the couplings of the elements stand in the factors. One layout serves all
// cases with the same set of known pressures, whoever solves them.

// A layout is a pattern with the slots of the elements. It is not changed once made.
type layout struct {
	*pattern
	fixed []bool // nodes of known pressure
	slots []slots
}

// slots says where the couplings of one element stand.
type slots struct{ ab, ar, br slot }

// slot is twice the index of an entry, and one more where the second node's row is
// the earlier; noSlot where there is none.
type slot int32

const noSlot slot = -1

// mostLayouts is the number of layouts that a network keeps.
const mostLayouts = 4

// lay gives the workspace the layout for the case's set of known pressures, and
// reports whether it had it already.
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
	l := w.net.layout(w.fixed)
	w.slots = l.slots
	w.f = newFactors(l.pattern)
	return false
}

// layout gives the layout for a set of known pressures, from those at hand or made
// anew.
func (n *Network) layout(fixed []bool) *layout {
	n.laying.Lock()
	defer n.laying.Unlock()
	for _, l := range n.layouts {
		if slices.Equal(l.fixed, fixed) {
			return l
		}
	}
	l := n.newLayout(slices.Clone(fixed))
	if len(n.layouts) == mostLayouts {
		n.layouts = slices.Delete(n.layouts, 0, 1)
	}
	n.layouts = append(n.layouts, l)
	return l
}

func (n *Network) newLayout(fixed []bool) *layout {
	unknown := make([]bool, len(fixed))
	for i, is := range fixed {
		unknown[i] = !is
	}
	couplings := make([][2]int32, 0, len(n.Elements))
	for _, e := range n.Elements {
		from, to, sense := int32(e.From), int32(e.To), int32(e.Sense)
		couplings = append(couplings, [2]int32{from, to})
		if sense >= 0 {
			couplings = append(couplings, [2]int32{from, sense}, [2]int32{to, sense})
		}
	}
	l := &layout{newPattern(unknown, couplings), fixed, make([]slots, len(n.Elements))}
	for i, e := range n.Elements {
		l.slots[i] = slots{l.slot(e.From, e.To), l.slot(e.From, e.Sense), l.slot(e.To, e.Sense)}
	}
	return l
}

// slot finds where entry (row, column) of two nodes is kept; column may be -1.
func (l *pattern) slot(row, column int) slot {
	if column < 0 || row == column {
		return noSlot
	}
	r, c := l.pos[row], l.pos[column]
	if r < 0 || c < 0 {
		return noSlot
	}
	k := min(r, c)
	at, ok := slices.BinarySearch(l.nbr[l.start[k]:l.start[k+1]], max(r, c))
	if !ok {
		return noSlot
	}
	s := slot(l.start[k]+int32(at)) * 2
	if c < r {
		s++
	}
	return s
}

// add puts v into the row of the slot's first node (first true) or second.
func (f *factors) add(s slot, first bool, v float64) {
	if s < 0 {
		return
	}
	if first == (s&1 == 0) {
		f.entries[s>>1].upper += v
	} else {
		f.entries[s>>1].lower += v
	}
}
