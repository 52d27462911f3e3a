package compiler

import (
	"fmt"
	"math"

	"tapline/lang"
	"tapline/lang/diag"
	"tapline/solver"
	"tapline/solver/fluid"
)

// Spreads. A spread is resolved and lowered once; going from one of its cases to the
// next then costs what it moves: the condition of a source, the law of a device. What
// everything rests on (the site, a gas, what is shut) has the whole case lowered
// again. One goroutine has a Worker, whose case is overwritten by the next.

// SpreadChunk is how many cases are solved one from the other: the first of each
// chunk from nothing, the others from the answer before. It is part of what an answer
// is to the last bit, so it never depends on processors or parts.
const SpreadChunk = 64

// A Varied is a spread of a run, ready to be solved case by case, from any number of
// goroutines.
type Varied struct {
	Spread *lang.Spread

	run   *Run
	moved *lang.Moved
	whole bool // every case is lowered as a whole
	// Else what is to be made again: devices and nodes, by index.
	devices, nodes []int
	ambient        bool // and all that feels the air
}

// Vary prepares a spread. Errors found are those of its first case.
func (run *Run) Vary(s *lang.Spread) (*Varied, []diag.Diagnostic) {
	moved, found := run.Program.Description.Move(s)
	v := &Varied{Spread: s, run: run, moved: moved}
	if diag.HasErrors(found) {
		return v, found
	}
	v.reach()
	first := run.Program.caseOf(moved.Resolved, run.made)
	found = run.Program.lowerCase(first, found, run.from, run.assumed.note)
	run.Assumptions = run.assumed.sorted()
	return v, found
}

// Workers assume nothing that the first case does not: which cases a process solves
// must not show.
func unnoted(string) {}

// reach finds what the values that move reach into.
func (v *Varied) reach() {
	p := v.run.Program
	at := map[[2]int]int{} // device by block and inline
	for i := range p.Devices {
		if d := &p.Devices[i]; d.inline {
			at[[2]int{-1, d.index}] = i
		} else if d.Way == nil {
			at[[2]int{d.index, -1}] = i
		}
	}
	seen := map[int]bool{}
	for _, t := range v.moved.Touched {
		i, isDevice := at[[2]int{t.Block, t.Inline}]
		switch {
		case t.Site && t.Attribute == "ambient":
			v.ambient = true
			continue
		case !isDevice, p.Devices[i].Kind == "multiway": // the ways through it are devices of their own
			v.whole = true
			continue
		}
		d := &p.Devices[i]
		if seen[i] || d.In < 0 {
			continue
		}
		switch {
		case t.Other, d.Kind == "valve" && t.Attribute == "opening" && t.Zero:
			v.whole = true // a choice, or a valve that shuts: another gas may stand somewhere
		case d.Element >= 0:
			v.devices = append(v.devices, i)
		case d.Block.Type().Role == lang.Boundary:
			v.nodes = append(v.nodes, d.In)
		}
		seen[i] = true
	}
	if v.ambient {
		for i := range p.Nodes {
			v.nodes = append(v.nodes, i)
		}
		for i := range p.Devices {
			if d := &p.Devices[i]; feelsAir(d) && d.Element >= 0 && !seen[i] {
				v.devices = append(v.devices, i)
			}
		}
	}
}

// feelsAir tells whether the law of a device rests on the temperature of the air: of a
// tube by its tracing, of a regulator by a dome that was charged and shut off.
func feelsAir(d *Device) bool {
	return d.Kind == "tube" || d.Kind == "reducer" || d.Kind == "holder"
}

// A Worker solves cases of a spread, one at a time.
type Worker struct {
	*Varied
	moved     *lang.Moved
	c         *Case
	made      *fluids
	solved    *solver.Workspace
	result    solver.Result
	filler    *filler
	outcome   CaseOutcome
	protected *solver.Workspace
	again     bool // the workspace holds the answer of the case before
}

// An Answer is one case of a spread, solved. All of it is overwritten by the next.
type Answer struct {
	Case      *Case
	Result    *solver.Result // nil where Found says why there is none
	Protected *solver.Result // see Run.Protected
	Outcome   *CaseOutcome   // devices and lags only: what is judged
	Found     []diag.Diagnostic
}

// Worker gives a worker for one goroutine.
func (v *Varied) Worker() *Worker {
	p := v.run.Program
	w := &Worker{Varied: v, moved: v.moved.Copy(), made: v.run.made.lend(), filler: p.filler()}
	w.solved, w.protected = solver.NewWorkspace(p.Network), solver.NewWorkspace(p.Network)
	w.c = p.caseOf(w.moved.Resolved, w.made)
	w.c.Spread = v.Spread.Name
	if !v.whole {
		w.lower() // all that stays as it is, and is this goroutine's own
	}
	return w
}

func (w *Worker) lower() []diag.Diagnostic {
	p := w.run.Program
	w.made.forget()
	return p.lowerCase(w.c, nil, w.run.from, unnoted)
}

// Answer solves case i. Where warm is set it may start from the case before, so that
// what comes out is a function of all cases since the last that was not.
func (w *Worker) Answer(i int, warm bool) *Answer {
	p := w.run.Program
	w.moved.Set(i)
	a := &Answer{Case: w.c}
	if w.whole {
		a.Found = w.lower()
	} else {
		a.Found = w.relower()
	}
	if diag.HasErrors(a.Found) {
		w.again = false
		return a
	}
	r := &w.result
	if err := w.solved.SolveInto(r, w.c.Solver, warm && w.again); err != nil {
		w.again = false
		a.Found = append(a.Found, diag.Diagnostic{Code: "unsolved", Level: diag.Error, Message: err.Error()})
		return a
	}
	w.again = r.Status == solver.Solved
	if w.c.Name = w.Spread.Name; !w.again {
		w.c.Name = w.Spread.CaseName(i)
	}
	vented(r, w.c.Site.AtmospherePa)
	a.Result = r
	if k := p.protection(w.c, r); k != nil {
		a.Protected, _ = w.protected.Solve(k) // the same sizes as the case itself: no error
	}
	w.c.dews = p.dewsOf(w.c, r)
	a.Outcome = w.judged()
	return a
}

// relower makes again what the values that moved reach into.
func (w *Worker) relower() []diag.Diagnostic {
	p, c := w.run.Program, w.c
	r := &reader{site: c.Site}
	for _, t := range w.moved.Touched {
		if t.Value.Quantity != nil && !t.Value.Null {
			r.measurable(t.Value)
		}
	}
	if w.ambient {
		_, c.AmbientK = siteOf(c.Resolved.Site)
		c.Solver.AmbientK = c.AmbientK
	}
	for _, n := range w.nodes {
		var m fluid.Composed
		if k := &c.Solver.Conditions[n]; k.Kind != solver.Free && k.Fluid >= 0 {
			m, _ = c.Solver.Fluids[k.Fluid].(fluid.Composed)
		}
		p.condition(n, c, m, r)
	}
	for _, i := range w.devices {
		p.lawOf(i, c, r, w.run.from, unnoted)
	}
	return r.found
}

// judged is what the rules ask of an outcome.
func (w *Worker) judged() *CaseOutcome {
	c, o := w.c, &w.outcome
	w.filler.numbers.Reuse()
	*o = CaseOutcome{
		Name: c.Name, Kind: c.Kind, After: c.After, Status: "solved", AtmospherePa: c.Site.AtmospherePa,
		Devices: o.Devices[:0], Lags: w.filler.lags.lags(o.Lags[:0], c, &w.result, false),
	}
	if w.result.Status != solver.Solved {
		o.Status = "unsolved"
	}
	for i := range w.run.Program.Devices {
		if w.run.Program.Devices[i].In >= 0 {
			o.Devices = append(o.Devices, w.filler.judged(c, &w.result, i))
		}
	}
	return o
}

// Stream is what turns the mass flow through a device into volume: the molar mass of
// a gas, or the density of a liquid.
func (a *Answer) Stream(tag string) (molarMass, liquidKgM3 float64) {
	if d := a.Outcome.Device(tag); d != nil {
		return d.MolarMass, d.LiquidKgM3
	}
	return 0, 0
}

// A Row is one case of a spread as a row of numbers, in the order of Columns.
type Row struct {
	Case    string
	Solved  bool
	Flagged []string // codes of alarms and cautions
	Numbers []float64
}

// Columns names the numbers of a row: what moves, in SI, then the pressure of every
// node and the flow of every device.
func (v *Varied) Columns() []string {
	var out []string
	for _, x := range v.Spread.Variables {
		out = append(out, x.Label)
	}
	p := v.run.Program
	for i := range p.Nodes {
		out = append(out, p.Nodes[i].Name+" pressure_Pa")
	}
	for i := range p.Devices {
		if p.Devices[i].Element >= 0 {
			out = append(out, p.Devices[i].Tag+" mass_flow_kg_s")
		}
	}
	return out
}

// Row gives the row of case i, which is solved.
func (w *Worker) Row(a *Answer, i int, flagged []string) Row {
	p := w.run.Program
	out := Row{Case: w.Spread.CaseName(i), Flagged: flagged, Numbers: make([]float64, 0, len(w.Spread.Variables)+len(p.Nodes)+len(p.Network.Elements))}
	for k := range w.Spread.Variables {
		x := math.NaN()
		if v := w.moved.At(k); v != nil && v.Quantity != nil && !v.Null {
			x = v.Quantity.Nominal.PressurePa(a.Case.Site)
		}
		out.Numbers = append(out.Numbers, x)
	}
	if a.Result == nil || a.Result.Status != solver.Solved {
		return out
	}
	out.Solved = true
	for _, n := range a.Result.Nodes {
		out.Numbers = append(out.Numbers, n.PressurePa)
	}
	for i := range p.Devices {
		if e := p.Devices[i].Element; e >= 0 {
			out.Numbers = append(out.Numbers, a.Result.Elements[e].FlowKgS)
		}
	}
	return out
}

// again solves one case of a spread as the spread does: from the first of its chunk.
func (v *Varied) again(i int) *Answer {
	w := v.Worker()
	first := i / SpreadChunk * SpreadChunk
	for k := first; k < i; k++ {
		w.Answer(k, k > first)
	}
	return w.Answer(i, i > first)
}

// LeaveOut says of each spread that it is not solved, because together they have more
// than most cases.
func (run *Run) LeaveOut(most int) (found []diag.Diagnostic) {
	for _, s := range run.Spreads {
		found = append(found, diag.Diagnostic{
			Code: "spread-left-out", Level: diag.Note, Range: s.Range, System: run.Outcome.Name,
			Message: fmt.Sprintf("the spread %q of %d cases is not solved here: check solves spreads of at most %d cases together", s.Name, s.Cases(), most),
			Hint:    "tapline solve solves them all",
		})
	}
	return found
}
