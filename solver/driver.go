package solver

import (
	"math"

	"tapline/solver/device"
)

// The driver around the inner iteration. Plain full steps from the first guess
// (guess.go) finish nearly every case. Where they do not, the pressures are led to
// rest in pseudo-time: implicit steps (A + lambda C), each solved by the same
// inner iteration, lambda falling as steps succeed and rising where one fails.
// For monotone laws an implicit step always has one solution and contracts
// (Porsching 1969; Ortega & Rheinboldt 1970, section 13.5), which is what makes
// the fallback safe. The reference is the pressure of the step before, not a
// leak to somewhere, so regions that nothing holds keep what they have. Where the
// steps have come to rest and a full step would still throw the pressures off, the
// rest is confirmed as it is; dead ends then keep, if need be, the pressure they
// came to rest at.
//
// Where both fail outside the monotone class, the loads that leave it are held
// and moved from outside (hold.go).

// Stage names how far the driver had to go.
type Stage uint8

const (
	Direct     Stage = iota // full steps sufficed
	PseudoTime              // pseudo-time stepping was needed
	HeldLoads               // loads outside the monotone class had to be held and moved from outside
	NotFound                // none of these found an answer
)

func (s Stage) String() string {
	return [...]string{"full steps", "pseudo-time steps", "loads of domes and seats held and moved from outside", "no answer found"}[s]
}

// hydraulics solves the pressures with gases and temperatures held. Cold starts
// begin from guess, at last with the regimes that devices have where nothing is known;
// warm ones from the present pressures.
func (w *Workspace) hydraulics(tol float64) Stage {
	w.asLeft = false
	if w.warm {
		if tol > elementTol && w.oneStep() || tol == elementTol && w.newton(0, mostWarmSteps, tol, 0) {
			return Direct
		}
		return NotFound
	}
	w.began.copy(w)
	if w.newton(0, mostSteps, tol, 0) {
		return Direct
	}
	w.from(w.began)
	if w.pseudoTime() {
		return w.lockedUp()
	}
	for _, high := range []bool{false, true} {
		if w.flat(high); w.pseudoTime() {
			return w.lockedUp()
		}
	}
	copy(w.p, w.saved)
	if w.holdLoads() {
		return HeldLoads
	}
	w.from(w.began)
	if w.reset(); w.pseudoTime() {
		return w.lockedUp()
	}
	return NotFound
}

// oneStep takes one full step and asks nothing of it: the gases follow before the next.
func (w *Workspace) oneStep() bool {
	w.settle(false)
	w.assemble(0, elementTol, false)
	w.iterations++
	w.f.solve()
	step, ok := w.step(mostFall)
	if ok {
		w.move()
		w.remember(0, 0, step)
	}
	return ok
}

// lockedUp sees to it that what rests has locked up, as it has elsewhere, and not
// the pressure at which pseudo-time left it: a dome at a dead end makes a
// difference of it. Where no answer has it so, that answer stands.
func (w *Workspace) lockedUp() Stage {
	if !w.asLeft {
		return PseudoTime
	}
	left := w.stand()
	w.asLeft = false
	if w.holdLoads() {
		return HeldLoads
	}
	w.from(left)
	w.asLeft = true
	w.settle(false)
	return PseudoTime
}

// flat is a start with all pressures at the lowest or the highest known one.
func (w *Workspace) flat(high bool) {
	p := w.lowest / lowestShare
	if high {
		p = w.highest / highestShare
	}
	for i := range w.p {
		if !w.fixed[i] {
			w.p[i] = p
		}
		w.ref[i], w.rest[i] = w.p[i], w.p[i]
	}
	w.classified = false
	w.reset()
}

const (
	// The bounds of any pressure as shares of the lowest and highest known one.
	lowestShare, highestShare = 0.9, 1.1
)

// pseudoTime leads the pressures to rest.
func (w *Workspace) pseudoTime() bool {
	lambda, hold, try := 1.0, 0, 1e-5
	for step := 0; step < 400; step++ {
		copy(w.saved, w.p)
		w.stepped.copy(w)
		if lambda < try {
			if w.newton(0, 25, elementTol, 0) {
				return true
			}
			w.from(w.stepped)
			if w.confirm() {
				return true
			}
			w.from(w.stepped)
			if lambda < 1e-15 {
				w.asLeft = true
				if w.confirm() {
					return true
				}
				w.asLeft = false
				w.from(w.stepped)
			}
			try *= 0.01
			lambda = max(lambda, 1e-12)
		}
		before := w.iterations
		if !w.newton(lambda, 10, 1e-3, 4) {
			w.from(w.stepped)
			lambda *= 6
			hold = 4
			if lambda > 1e12 {
				return false
			}
			continue
		}
		fall := 0.7
		switch k := w.iterations - before; {
		case k <= 2:
			fall = 0.03
		case k <= 4:
			fall = 0.12
		case k <= 6:
			fall = 0.4
		}
		if hold > 0 {
			fall = max(fall, 0.5)
			hold--
		}
		lambda *= fall
	}
	return false
}

// confirm takes pressures that pseudo-time brought to rest for the answer, where
// a full step would throw them off: a node that hangs on next to nothing (a device
// about to shut, a drop that is nil) has its pressure from the steps, not from the
// balance. Only what rests is still classified and filled.
func (w *Workspace) confirm() bool {
	w.classified = false
	for range 30 {
		adrift := w.settle(false)
		_, consistent := w.assemble(0, elementTol, true)
		moved := w.move()
		if consistent && !moved && !adrift {
			return w.balanced()
		}
	}
	return false
}

// reset puts the active set and the flows where a cold start has them.
func (w *Workspace) reset() {
	for i := range w.regime {
		w.regime[i] = w.first(i)
		w.linear[i] = 0.3 * w.nominal[i] * w.p[w.net.Elements[i].From]
	}
}

// first is the regime of element i in a cold start.
func (w *Workspace) first(i int) regime {
	d := &w.c.Devices[i]
	switch l := d.Lift; {
	case d.Snap && !w.popped[i]:
		return shut
	case d.Snap: // stands open
		return full
	case l == nil:
		return full
	case l.Down < 0 && l.Up <= 0: // opens on falling outlet
		return ramp
	case l.Down < 0 && w.cracksLow(l.Bias, l.Up):
		return ramp
	}
	return shut
}

// cracksLow tells a check valve from a relief device: it opens on less than a
// tenth of the pressures around.
func (w *Workspace) cracksLow(bias, up float64) bool { return -bias/up < 0.1*w.highest }

// limits sets the bounds of any pressure, the conductances of each node for
// pseudo-time, and the flow each element passes wide open: anew, or only of the devices
// that are others than in the case before, since it is a scale and no more.
func (w *Workspace) limits(anew bool) {
	lo, hi := math.Inf(1), 0.0
	inflow := false
	for i := range w.net.Nodes {
		switch c := &w.c.Conditions[i]; c.Kind {
		case Pressure:
			lo, hi = min(lo, c.PressurePa), max(hi, c.PressurePa)
		case Inflow:
			inflow = inflow || c.InflowKgS > 0
		}
	}
	if hi == 0 {
		lo, hi = 1e5, 1e5
	}
	// Static head may pass the known pressures by what all rises add up to; an
	// inflow by any amount. The pressure above a column is left above zero.
	head := w.columns()
	w.lowest, w.highest = max(lowestShare*lo-head, lowestShare*lo*1e-3), highestShare*hi+head
	if inflow {
		w.highest = max(1e9, w.highest)
	}
	clear(w.scale)
	for i := range w.net.Elements {
		e, d := &w.net.Elements[i], &w.c.Devices[i]
		if anew || w.changed[i] {
			w.nominal[i] = w.wideOpen(i, hi, 0.5*lo) / hi
		}
		w.floor[i] = 0
		if l := d.Lift; l != nil && l.Ref == 0 && l.Bias < 0 && math.Abs(l.Up+l.Down) <= 1e-12*l.Up {
			w.floor[i] = -l.Bias / l.Up // a drop opens it
		}
		w.scale[e.From] += w.nominal[i]
		w.scale[e.To] += w.nominal[i]
	}
}

// wideOpen is what element i passes wide open between two pressures [kg/s].
func (w *Workspace) wideOpen(i int, pUp, pDown float64) (flow float64) {
	d := &w.c.Devices[i]
	for _, law := range [...]device.Law{d.Passage, d.Leak} {
		if law != nil {
			w.anew = device.Start{}
			device.Pass(&w.flow, law, pUp, pDown, w.gasOf(i, true), &w.anew)
			flow += max(w.flow.W, 0)
		}
	}
	return flow
}
