package solver

import (
	"math"

	"tapline/solver/device"
)

// A law leaves the monotone class where its lift follows a pressure in the wrong
// sense: a dome that follows a node, a seat on which the inlet of a reducer or
// the outlet of a holder acts. Each such device is given the load that these
// pressures make, held at a number. What is left is monotone: it has one answer,
// and pseudo-time finds it. The loads are then moved until each is what its
// pressures make.
//
// With the loads h in a box (pressures lie between the extreme known ones), the
// answer's loads T(h) are again in the box and follow h continuously: T has a
// fixed point (Brouwer), so an answer exists, whether or not a physical device
// would come to rest there.

// loads are the held devices and what they carry, in lifts.
type loads struct {
	element   []int
	low, high []float64 // the box
	now, made []float64 // h, T(h)
}

// feedback gives the part of a lift that follows pressures in the wrong sense.
func feedback(l *device.Lift) (up, down, ref float64) {
	return min(l.Up, 0), max(l.Down, 0), l.Ref
}

// gather lists in h the devices to hold, with their loads at the present pressures.
func (w *Workspace) gather(h *loads) {
	h.element, h.low, h.high, h.now, h.made = h.element[:0], h.low[:0], h.high[:0], h.now[:0], h.made[:0]
	lo, hi := 0.0, w.highest // a dead end may rest below all known pressures
	for i := range w.c.Devices {
		d := &w.c.Devices[i]
		if d.Passage == nil || d.Lift == nil || d.Snap {
			continue
		}
		up, down, ref := feedback(&w.base[i])
		if up == 0 && down == 0 && ref == 0 {
			continue
		}
		h.element = append(h.element, i)
		h.low = append(h.low, up*hi+down*lo+min(ref*lo, ref*hi))
		h.high = append(h.high, up*lo+down*hi+max(ref*lo, ref*hi))
		h.made = append(h.made, 0)
	}
	w.read(h)
	h.now = append(h.now, h.made...)
}

// read gives what the present pressures make of the loads.
func (w *Workspace) read(h *loads) {
	for k, i := range h.element {
		e := &w.net.Elements[i]
		up, down, ref := feedback(&w.base[i])
		made := up*w.sensedAt(e.From) + down*w.sensedAt(e.To)
		if ref != 0 {
			made += ref * w.ref[e.Sense]
		}
		h.made[k] = min(max(made, h.low[k]), h.high[k])
	}
}

// sensedAt is the pressure a seat feels at a node: the lowest where it is trapped.
func (w *Workspace) sensedAt(i int) float64 {
	p := w.level(i)
	if !finite(p) {
		return w.lowest
	}
	return p
}

// hold gives the held devices their loads; nil lets all go.
func (w *Workspace) hold(h *loads) {
	w.held = h != nil
	if h == nil {
		copy(w.lifts, w.base)
		return
	}
	for k, i := range h.element {
		l := w.base[i]
		l.Bias += h.now[k]
		l.Up, l.Down, l.Ref = max(l.Up, 0), min(l.Down, 0), 0
		w.lifts[i] = l
	}
}

// respond solves with the loads held at h.now, flows to within tol, and reads h.made.
// Any start will do, since the answer is one.
func (w *Workspace) respond(h *loads, tol float64) bool {
	w.hold(h)
	copy(w.saved, w.p)
	if !w.newton(0, 25, tol, 0) {
		copy(w.p, w.saved)
		w.reset()
		if !w.pseudoTime() {
			return false
		}
	}
	w.read(h)
	return true
}

// miss is the largest relative distance of a load from what its pressures make,
// as a share of its box.
func (h *loads) miss() (worst float64) {
	for k := range h.now {
		if span := h.high[k] - h.low[k]; span > 0 {
			worst = max(worst, math.Abs(h.made[k]-h.now[k])/span)
		}
	}
	return worst
}

// near reports whether what the pressures make of every load is within a share of its
// box of a known load.
func (h *loads) near(known []float64, share float64) bool {
	for k := range h.made {
		if math.Abs(h.made[k]-known[k]) > share*(h.high[k]-h.low[k]) {
			return false
		}
	}
	return true
}

// agree reports whether every load is what its pressures make, to rounding: a
// load is a lift, and a device nearly shut passes in proportion to it.
func (h *loads) agree() bool {
	for k := range h.now {
		span := h.high[k] - h.low[k]
		if !(math.Abs(h.made[k]-h.now[k]) <= min(loadTol*span, max(leastLift, 8*0x1p-52*span))) {
			return false
		}
	}
	return true
}

// holdLoads finds loads that are what their pressures make.
func (w *Workspace) holdLoads() bool {
	h := &w.ends
	w.gather(h)
	if len(h.element) == 0 {
		return false
	}
	defer w.hold(nil)
	return (w.relax(h, boldWeight, boldMoves) || w.relax(h, timidWeight, timidMoves)) && w.polish()
}

// polish lets the loads go and takes full steps from there, which bring the last
// digits; where they do not, the answer with the loads held stands.
func (w *Workspace) polish() bool {
	held := w.stand()
	w.hold(nil)
	if !w.newton(0, 25, elementTol, 0) {
		w.from(held)
		w.settle(false)
	}
	return true
}

// relax moves each load towards what its pressures make, as far as a straight
// line through its last two misses says (Irons & Tuck, Int. J. Numer. Meth. Eng.
// 1 (1969) 275-277, for each load alone). No weight is above most: where loads that act
// on each other go round under large ones, small ones may bring them to rest.
func (w *Workspace) relax(h *loads, most float64, moves int) bool {
	weight := make([]float64, len(h.now))
	before := make([]float64, len(h.now))
	for k := range weight {
		weight[k] = min(1, most)
	}
	for range moves {
		if !w.respond(h, elementTol) {
			return false
		}
		if h.agree() {
			return true
		}
		for k := range h.now {
			miss := h.made[k] - h.now[k]
			if before[k] != 0 {
				weight[k] *= min(max(before[k]/(before[k]-miss), 0.1), 10)
				weight[k] = min(max(weight[k], 1e-4), most)
			}
			before[k] = miss
			h.now[k] = min(max(h.now[k]+weight[k]*miss, h.low[k]), h.high[k])
		}
	}
	return false
}

const (
	boldWeight, boldMoves   = 100, 100
	timidWeight, timidMoves = 0.3, 400
	loadTol                 = 1e-12 // of the box
	leastLift               = 1e-11 // below which lifts are not told apart
)
