package solver

import (
	"math"

	"tapline/solver/device"
)

const (
	mostSteps      = 40   // full steps before pseudo-time
	mostWarmSteps  = 15   // full steps before a cold start
	mostWarmPasses = 12   // from the answer of another case before a cold start
	mostTroubled   = 60   // passes, where a gas has no state: no answer will be given
	mostPasses     = 160  // of flow, composition and temperature in turn: the slowest blends take about 100
	temperatureTol = 1e-6 // K
	tangentTol     = 1e-7 // relative move of a pressure off its point of tangency
	troubledTol    = 1e-3 // K, where no answer will be given, only why there is none
)

// mostChange is how much more than the tolerances a pass may still change things,
// where what it leaves to come is within them.
const mostChange = 10

// rough is the relative move of a pressure in the last step above which the gases are
// worth more than another step.
const rough = 1e-3

// roughTol are the tolerances on flows in the first passes, from the answer of another
// case while steps are rough: their gases and temperatures are not yet those of the
// answer.
var roughTol = [...]float64{1e-1, 1e-2, 1e-3, 1e-4}

// Solve solves one case from a cold start. The error is for misuse (sizes, values
// that mean nothing); whether an answer was found is in Result.Status. The Result
// does not share memory with the workspace.
func (w *Workspace) Solve(c *Case) (*Result, error) {
	r := &Result{}
	if err := w.SolveInto(r, c, false); err != nil {
		return nil, err
	}
	return r, nil
}

// SolveInto is Solve into a Result that may have been used before: its slices are
// used again, so that solving case after case allocates nothing. With warm it
// begins from the answer of the case before where that had one and knew the
// pressures of the same nodes, and from cold where that leads nowhere. What it finds
// is the same but for the last digits: where a case has several answers, or it is
// not sure that it has one, it is solved again from cold, so that its answer does not
// depend on the case before.
func (w *Workspace) SolveInto(r *Result, c *Case, warm bool) error {
	if err := w.net.check(c); err != nil {
		return err
	}
	r.reuse()
	w.take(c)
	w.several, w.domes = w.mayHaveSeveral(), w.domed()
	same := w.lay()
	w.spread()
	ready := w.ready
	w.ready = false
	if i := w.stranded(); i >= 0 {
		w.refuse(r, i)
		return nil
	}
	if warm && same && ready && !w.domes {
		if w.resume(); w.answer(r, true) {
			return nil
		}
		r.reuse()
		w.take(c)
	}
	w.begin()
	w.answer(r, false)
	return nil
}

// answer solves from where the workspace stands, and looks for what else there is.
// After a warm start it gives up, and reports so, where more than full steps would be
// needed or another start might have led elsewhere.
func (w *Workspace) answer(r *Result, warm bool) (ok bool) {
	if warm {
		w.warm = true
		r.Stage, r.Passes = w.passes(mostWarmPasses)
		if w.warm = false; r.Stage != Direct {
			return false
		}
	} else {
		r.Stage, r.Passes = w.passes(mostPasses)
	}
	var turning []int
	if r.Stage != NotFound && w.snaps() {
		r.Stage, turning = w.jumps()
	}
	w.damping.on = false
	if len(turning) > 0 && r.Stage != NotFound {
		w.cycle(r, turning)
	} else {
		w.report(r)
	}
	if r.Status != Solved {
		return !warm
	}
	before := w.iterations
	w.final.copy(w)
	sure := w.furtherAnswers(r)
	if w.iterations > before {
		r.History = append(r.History[:0], w.history...)
		w.from(w.final.stance)
		copy(w.temperature, w.final.temperature)
		copy(w.outlet, w.final.outlet)
	}
	w.ready = !r.Cycling
	if w.iterations > before && w.ready && sure {
		w.settle(false)
		w.assemble(0, elementTol, false)
	}
	w.keeps(w.iterations == before || sure)
	return sure || !warm
}

// furtherAnswers looks for what else a case may come to: within its dead bands,
// from other starts, after lifting. It reports whether the answer is surely the one
// that any start leads to. The workspace ends elsewhere.
func (w *Workspace) furtherAnswers(r *Result) (sure bool) {
	w.search, sure = true, true
	if ids := w.rubbing(); len(ids) > 0 {
		w.betweenFrictions(r, ids)
	}
	if w.given.OneAnswer {
		return false
	}
	if r.Status == Solved && w.several {
		sure = w.otherAnswers(r) && !r.Several
	}
	if r.Status == Solved && !r.Cycling {
		w.afterLifting(r)
	}
	return sure
}

// take makes the working copy of a case, whose lifts may be held or moved.
func (w *Workspace) take(c *Case) {
	w.given = c
	devices := w.work.Devices
	for i := range devices {
		w.changed[i] = c.Devices[i].differs(&devices[i])
	}
	w.work = *c
	w.work.Devices = append(devices[:0], c.Devices...)
	w.c = &w.work
	for i := range w.work.Devices {
		if l := c.Devices[i].Lift; l != nil {
			was := w.base[i]
			w.base[i] = own(*l, &w.net.Elements[i])
			w.changed[i] = w.changed[i] || was != w.base[i]
			w.lifts[i] = w.base[i]
			w.work.Devices[i].Lift = &w.lifts[i]
		}
	}
}

// own is a lift whose loading follows one of the device's own ends, written as
// the effect of that end.
func own(l device.Lift, e *Element) device.Lift {
	switch e.Sense {
	case e.From:
		l.Up, l.Ref = l.Up+l.Ref, 0
	case e.To:
		l.Down, l.Ref = l.Down+l.Ref, 0
	case -1:
		l.Ref = 0
	}
	return l
}

// begin makes the first guess: gases at their sources' temperatures, pressures
// and flows of a network of square-root laws (guess.go).
func (w *Workspace) begin() {
	w.clean()
	w.energy.forget()
	clear(w.start)
	lo, hi := math.Inf(1), 0.0
	for i := range w.net.Nodes {
		if c := &w.c.Conditions[i]; c.Kind == Pressure {
			lo, hi = min(lo, c.PressurePa), max(hi, c.PressurePa)
		}
	}
	if hi == 0 {
		lo, hi = 1e5, 1e5
	}
	for i := range w.net.Nodes {
		c := &w.c.Conditions[i]
		w.p[i] = 0.5 * (lo + hi)
		if c.Kind == Pressure {
			w.p[i] = c.PressurePa
		}
		w.ref[i], w.rest[i] = w.p[i], w.p[i]
		switch entry := w.gases.entry[i]; {
		case c.Kind != Free:
			w.temperature[i] = c.TemperatureK
		case entry >= 0:
			w.temperature[i] = w.c.Conditions[entry].TemperatureK
		default:
			w.temperature[i] = w.c.AmbientK
		}
	}
	clear(w.outlet)
	w.isothermal()
	w.tangents()
	w.limits(true)
	w.reset()
	w.guess()
	w.tangents()
	clear(w.problem)
}

// clean forgets how the last case went.
func (w *Workspace) clean() {
	w.classified = false
	clear(w.active)
	w.iterations = 0
	w.history = w.history[:0]
	clear(w.popped)
	w.asLeft, w.held, w.search = false, false, false
}

// isothermal puts everything at ambient temperature where it is there.
func (w *Workspace) isothermal() {
	if w.c.Thermal != Isothermal {
		return
	}
	for i := range w.temperature {
		w.temperature[i] = w.c.AmbientK
	}
	for i := range w.outlet {
		w.outlet[i] = w.c.AmbientK
	}
}

// passes iterates pressures, temperatures and gases in turn until none moves.
func (w *Workspace) passes(most int) (stage Stage, n int) {
	before, roused := math.Inf(1), false
	w.lastStep = math.Inf(1)
	for n = 1; n <= most; n++ {
		w.pass = n
		tol := elementTol
		if w.warm && w.lastStep > rough || !w.warm && n <= len(roughTol) {
			tol = roughTol[min(n, len(roughTol))-1]
		}
		s := w.hydraulics(tol)
		if s == NotFound {
			return NotFound, n
		}
		stage = max(stage, s)
		moved := 0.0
		for i := range w.p {
			if w.sites.place[i] == moving {
				moved = max(moved, math.Abs(w.p[i]/w.gas[i].PressurePa-1))
			}
		}
		clear(w.problem)
		w.damp(n)
		shares := 0.0
		if w.gases.unlike {
			shares = w.compose()
		}
		dT, tolK := w.temperatures(), temperatureTol
		if w.trouble() != nil {
			if tolK = troubledTol; n >= mostTroubled {
				return stage, n
			}
		}
		change := max(dT/tolK, moved/tangentTol)
		left := change // to come
		if change < 0.1*before {
			left *= change / before
		}
		before = change
		if tol == elementTol && left <= 1 && change <= mostChange && max(shares, w.lags()) <= shareTol {
			if roused || !w.rouse() {
				return stage, n
			}
			roused = true
		}
		w.tangents()
	}
	return NotFound, n
}

// trouble is why a gas on its way has no state where it is led, nil where all have.
func (w *Workspace) trouble() error {
	for i, err := range w.problem {
		if err != nil && w.sites.place[i] == moving {
			return err
		}
	}
	return nil
}

// snaps reports whether the case has devices that jump open.
func (w *Workspace) snaps() bool {
	for i := range w.c.Devices {
		if w.c.Devices[i].Snap && w.c.Devices[i].Passage != nil {
			return true
		}
	}
	return false
}

// stranded gives a node into which a flow enters that has no way out, or -1.
func (w *Workspace) stranded() int {
	clear(w.drains)
	w.queue = w.queue[:0]
	inflow := false
	for i := range w.net.Nodes {
		switch c := &w.c.Conditions[i]; c.Kind {
		case Pressure:
			w.drains[i] = true
			w.queue = append(w.queue, i)
		case Inflow:
			inflow = inflow || c.InflowKgS > 0
		}
	}
	if !inflow {
		return -1
	}
	for q := 0; q < len(w.queue); q++ {
		for _, at := range w.net.at[w.queue[q]] {
			u := at.other
			if !w.drains[u] && w.c.Devices[at.element].passable(w.net.Elements[at.element].From == u) {
				w.drains[u] = true
				w.queue = append(w.queue, u)
			}
		}
	}
	for i := range w.net.Nodes {
		if c := &w.c.Conditions[i]; c.Kind == Inflow && c.InflowKgS > 0 && !w.drains[i] {
			return i
		}
	}
	return -1
}

// refuse is the result of a case in which the flow entering at a node has no way
// out: its pressure would rise without end.
func (w *Workspace) refuse(r *Result, node int) {
	r.Status, r.Stage, r.Unbalanced = Unsolved, NotFound, []int{node}
	r.Reason = "what flows in at " + w.net.Nodes[node] + " has no way out"
	r.size(w.net)
	nan := math.NaN()
	for i := range r.Nodes {
		r.Nodes[i] = NodeResult{State: Flowing, PressurePa: nan, LowPa: nan, HighPa: nan, TemperatureK: nan, DensityKgM3: nan}
		if w.c.Conditions[i].Kind == Pressure {
			r.Nodes[i].State = Boundary
		}
	}
	for i := range r.Elements {
		r.Elements[i] = ElementResult{Lift: nan, OutletK: nan, LowKgS: nan, HighKgS: nan}
	}
}
