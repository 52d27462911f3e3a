package solver

import (
	"math"
	"slices"

	"tapline/solver/device"
)

const (
	mostSteps      = 40   // full steps before pseudo-time
	mostPasses     = 160  // of flow, composition and temperature in turn: the slowest blends take about 100
	temperatureTol = 1e-6 // K
	tangentTol     = 1e-7 // relative move of a pressure off its point of tangency
	troubledTol    = 1e-3 // K, where no answer will be given, only why there is none
)

// Solve solves one case. The error is for misuse (sizes, values that mean
// nothing); whether an answer was found is in Result.Status. The Result does not share memory with the workspace.
func (w *Workspace) Solve(c *Case) (*Result, error) {
	if err := w.net.check(c); err != nil {
		return nil, err
	}
	w.take(c)
	w.lay()
	w.spread()
	if i := w.stranded(); i >= 0 {
		return w.refuse(i), nil
	}
	w.begin()
	r := &Result{}
	r.Stage, r.Passes = w.passes()
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
		return r, nil
	}
	w.search = true
	defer func() { r.History = slices.Clone(w.history) }()
	if ids := w.rubbing(); len(ids) > 0 {
		if w.betweenFrictions(r, ids); r.Status != Solved {
			return r, nil
		}
	}
	if w.mayHaveSeveral() {
		w.otherAnswers(r)
	}
	if !r.Cycling {
		w.afterLifting(r)
	}
	return r, nil
}

// take makes the working copy of a case, whose lifts may be held or moved.
func (w *Workspace) take(c *Case) {
	w.given = c
	devices := w.work.Devices
	w.work = *c
	w.work.Devices = append(devices[:0], c.Devices...)
	w.c = &w.work
	for i := range w.work.Devices {
		if l := c.Devices[i].Lift; l != nil {
			w.base[i] = own(*l, &w.net.Elements[i])
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
	w.classified = false
	clear(w.active)
	w.iterations = 0
	w.history = w.history[:0]
	clear(w.popped)
	w.asLeft, w.held, w.search = false, false, false
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
		case w.c.Thermal == Isothermal:
			w.temperature[i] = w.c.AmbientK
		case c.Kind != Free:
			w.temperature[i] = c.TemperatureK
		case entry >= 0:
			w.temperature[i] = w.c.Conditions[entry].TemperatureK
		default:
			w.temperature[i] = w.c.AmbientK
		}
	}
	for i := range w.outlet {
		w.outlet[i] = 0
		if w.c.Thermal == Isothermal {
			w.outlet[i] = w.c.AmbientK
		}
	}
	w.tangents(false)
	w.limits()
	w.reset()
	w.guess()
	w.tangents(false)
	clear(w.problem)
}

// passes iterates pressures, temperatures and gases in turn until none moves.
func (w *Workspace) passes() (stage Stage, n int) {
	for n = 1; n <= mostPasses; n++ {
		w.pass = n
		s := w.hydraulics(mostSteps)
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
		dT, tol := w.temperatures(), temperatureTol
		if w.trouble() != nil {
			tol = troubledTol
		}
		if dT <= tol && max(shares, w.lags()) <= shareTol && moved <= tangentTol && n > 1 {
			return stage, n
		}
		w.tangents(w.c.Thermal != Isothermal)
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
	for i := range w.net.Nodes {
		if c := &w.c.Conditions[i]; c.Kind != Inflow || c.InflowKgS == 0 {
			continue
		}
		seen := make([]bool, len(w.net.Nodes))
		seen[i] = true
		w.queue = append(w.queue[:0], i)
		out := false
		for q := 0; q < len(w.queue) && !out; q++ {
			n := w.queue[q]
			out = w.c.Conditions[n].Kind == Pressure
			for _, at := range w.net.at[n] {
				d := &w.c.Devices[at.element]
				if seen[at.other] || !d.passable(w.net.Elements[at.element].From == n) {
					continue
				}
				seen[at.other] = true
				w.queue = append(w.queue, at.other)
			}
		}
		if !out {
			return i
		}
	}
	return -1
}

// refuse is the result of a case in which the flow entering at a node has no way
// out: its pressure would rise without end.
func (w *Workspace) refuse(node int) *Result {
	r := &Result{
		Status: Unsolved, Stage: NotFound, Unbalanced: []int{node},
		Reason: "what flows in at " + w.net.Nodes[node] + " has no way out",
		Nodes:  make([]NodeResult, len(w.net.Nodes)), Elements: make([]ElementResult, len(w.net.Elements)),
	}
	nan := math.NaN()
	for i := range r.Nodes {
		r.Nodes[i] = NodeResult{State: Flowing, PressurePa: nan, LowPa: nan, HighPa: nan, TemperatureK: nan, DensityKgM3: nan}
		if w.c.Conditions[i].Kind == Pressure {
			r.Nodes[i].State = Boundary
		}
	}
	for i := range r.Elements {
		r.Elements[i].Lift, r.Elements[i].OutletK, r.Elements[i].LowKgS, r.Elements[i].HighKgS = nan, nan, nan, nan
	}
	return r
}
