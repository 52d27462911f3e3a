package compiler

import (
	"errors"
	"fmt"
	"runtime"
	"slices"
	"strings"
	"sync"

	"tapline/lang"
	"tapline/lang/diag"
	"tapline/solver"
)

// Options say how to run.
type Options struct {
	Cases    []string              // only these cases, spreads and cases of spreads; all where empty
	Workers  int                   // goroutines that solve cases; 0 for one a processor
	BaseOnly bool                  // of the cases that are written out, where Cases is empty
	Fluids   *Fluids               // shared with other systems; may be nil
	Trace    bool                  // fill CaseOutcome.Trace
	Progress func(done, total int) // may be nil; called from several goroutines
}

// A Run is one system, compiled and solved over its cases: what the rules
// judge. Cases and Results have one entry for each case, in the order of the
// files, the base first.
type Run struct {
	Program *Program
	Cases   []*Case
	Results []*solver.Result // nil where a case could not be lowered
	// Protected are the answers with every relief device that passes held to what it
	// is certified for; nil where none passes.
	Protected []*solver.Result
	Outcome   *SystemOutcome
	// Found is what was wrong on the way, errors of the files among it.
	Found []diag.Diagnostic
	// Spreads are those that are wanted. They are not solved here: package spread does.
	Spreads []*lang.Spread
	// Assumptions are what was assumed where the files say nothing, sorted.
	Assumptions []string

	// What cases made later share with the others; see Vary.
	from    base
	made    *fluids
	assumed *noted
	again   []ofSpread
}

// ErrUnknownCase is the error of Options.Cases naming a case that is not there.
var ErrUnknownCase = errors.New("no such case")

// Solve compiles a description and solves its cases.
func Solve(d *lang.Description, opt Options) (*Run, error) {
	run := &Run{Outcome: Head(d)}
	p, found := Compile(d)
	run.Program, run.Found = p, found
	if diag.HasErrors(found) {
		return run, nil
	}
	names := []string{"base"}
	for _, c := range d.Cases {
		names = append(names, c.Name)
	}
	wanted, err := run.selected(names, opt)
	if err != nil {
		return run, err
	}
	run.lowerAndSolve(names, wanted, opt)
	run.solveAgain()
	diag.Sort(run.Found)
	if diag.HasErrors(run.Found) {
		run.Cases, run.Results = nil, nil
		return run, nil
	}
	run.fill(opt.Trace)
	return run, nil
}

// selected marks the cases to solve, and notes the spreads, and cases of spreads,
// that are wanted.
func (run *Run) selected(names []string, opt Options) ([]bool, error) {
	d := run.Program.Description
	wanted := make([]bool, len(names))
	if len(opt.Cases) == 0 {
		for i := range names {
			wanted[i] = i == 0 || !opt.BaseOnly
		}
		run.Spreads = d.Spreads
		return wanted, nil
	}
	for _, o := range opt.Cases {
		if i := slices.Index(names, o); i >= 0 {
			wanted[i] = true
		} else if s := d.Spread(o); s != nil {
			run.Spreads = append(run.Spreads, s)
		} else if s, i, ok := d.FindCase(o); ok {
			run.again = append(run.again, ofSpread{s, i})
		} else {
			for _, s := range d.Spreads {
				names = append(names, s.Name)
			}
			return nil, fmt.Errorf("%w: %q; there are %s", ErrUnknownCase, o, listed(names, 20))
		}
	}
	return wanted, nil
}

// ofSpread is one case of a spread that is asked for by its name.
type ofSpread struct {
	spread *lang.Spread
	i      int
}

// solveAgain solves the cases of spreads that are asked for by name.
func (run *Run) solveAgain() {
	for _, o := range run.again {
		v, found := run.Vary(o.spread)
		if run.Found = append(run.Found, found...); diag.HasErrors(found) {
			continue
		}
		a := v.again(o.i)
		a.Case.Name, a.Case.Generated = o.spread.CaseName(o.i), true
		if run.Found = append(run.Found, a.Found...); a.Result == nil {
			continue
		}
		run.Cases = append(run.Cases, a.Case)
		run.Results = append(run.Results, a.Result)
		run.Protected = append(run.Protected, a.Protected)
	}
}

// lowerAndSolve does all wanted cases, and the base first where others rest on
// it. Cases are independent of each other, so several are solved at a time; the
// results do not depend on how many.
func (run *Run) lowerAndSolve(names []string, wanted []bool, opt Options) {
	p := run.Program
	made := newFluids()
	made.shared = opt.Fluids
	assumed := newNoted()
	var from base
	plain := *p // the regulators were set before this run's settings
	plain.Description = p.Description.Unset()
	set := plain.Description != p.Description
	from.answer = sync.OnceValues(func() (*Case, *solver.Result) {
		c, found := plain.lower("base", made, base{}, nil, assumed.note)
		if diag.HasErrors(found) {
			return nil, nil
		}
		r, err := solver.NewWorkspace(p.Network).Solve(c.Solver)
		if err != nil {
			return nil, nil
		}
		return c, r
	})
	if p.restsOnDome() {
		if _, r := from.answer(); r != nil {
			from.dome = p.domesOf(r)
		}
	}
	if p.restsOnBase() && (len(names) > 1 || set || len(p.Description.Spreads) > 0) {
		if c, r := from.answer(); r != nil {
			from.inlet = p.baseOf(c, r)
		}
		for tag := range from.inlet {
			assumed.note("the set of " + tag + " is taken to hold at its inlet pressure in the base case")
		}
	}
	run.from, run.made, run.assumed = from, made, assumed
	type slot struct {
		c         *Case
		r         *solver.Result
		protected *solver.Result
		found     []diag.Diagnostic
	}
	slots := make([]slot, len(names))
	total := 0
	for _, w := range wanted {
		if w {
			total++
		}
	}
	var (
		next  = make(chan int, len(names)) // so that nobody waits for a worker
		group sync.WaitGroup
		mu    sync.Mutex
		done  int
		fault any
	)
	workers := opt.Workers
	if workers == 0 {
		workers = runtime.GOMAXPROCS(0)
	}
	solve := func() {
		defer func() {
			if f := recover(); f != nil { // raised again by the caller, who can say so
				mu.Lock()
				fault = f
				mu.Unlock()
				for range next {
				}
			}
		}()
		w := solver.NewWorkspace(p.Network)
		for i := range next {
			s := &slots[i]
			if r, err := w.Solve(s.c.Solver); err != nil {
				s.found = append(s.found, diag.Diagnostic{Code: "unsolved", Level: diag.Error, Case: names[i], Message: err.Error()})
			} else {
				vented(r, s.c.Site.AtmospherePa)
				s.r = r
				if k := p.protection(s.c, r); k != nil {
					s.protected, _ = w.Solve(k) // the same sizes as the case itself: no error
				}
			}
			mu.Lock()
			done++
			if opt.Progress != nil {
				opt.Progress(done, total)
			}
			mu.Unlock()
		}
	}
	for range min(workers, total) - 1 {
		group.Go(solve)
	}
	// One case after the other is lowered, here, while those before are solved; then this
	// goroutine solves too.
	func() {
		defer close(next)
		var like *Case
		for i := range slots {
			if !wanted[i] {
				continue
			}
			lend := from
			if i == 0 && !set {
				lend = base{dome: from.dome}
			}
			slots[i].c, slots[i].found = p.lower(names[i], made, lend, like, assumed.note)
			if !diag.HasErrors(slots[i].found) {
				next <- i
				if like == nil && len(slots[i].found) == 0 {
					like = slots[i].c
				}
			}
		}
	}()
	solve()
	group.Wait()
	if fault != nil {
		panic(fault)
	}
	for i := range slots {
		if !wanted[i] {
			continue
		}
		run.Cases = append(run.Cases, slots[i].c)
		run.Results = append(run.Results, slots[i].r)
		run.Protected = append(run.Protected, slots[i].protected)
		run.Found = append(run.Found, slots[i].found...)
	}
	run.Found = distinct(run.Found)
	run.Assumptions = assumed.sorted()
	run.Outcome.Fluids = made.used
	slices.SortStableFunc(run.Outcome.Fluids, func(a, b FluidBasis) int { return strings.Compare(a.Name, b.Name) })
}

// vented widens the bounds of sections with one neighbour only: what is shut
// off from one side may have been vented before.
func vented(r *solver.Result, atmospherePa float64) {
	for i := range r.Nodes {
		if n := &r.Nodes[i]; n.State == solver.Trapped && n.LowPa == n.HighPa {
			n.LowPa = min(n.LowPa, atmospherePa)
		}
	}
}

// restsOnBase reports whether any reducer's reference is the base's inlet.
func (p *Program) restsOnBase() bool {
	return slices.ContainsFunc(p.Devices, func(d Device) bool { return d.Element >= 0 && wantsBase(d.Block) })
}

// restsOnDome reports whether any regulator known by its balance is loaded by a
// node: the least band it can have is a share of that load.
func (p *Program) restsOnDome() bool {
	return slices.ContainsFunc(p.Devices, func(d Device) bool {
		return d.Element >= 0 && p.Network.Elements[d.Element].Sense >= 0 && d.Block.Nested("balance") != nil
	})
}

// domesOf gives the pressures [Pa] at the nodes that load regulators, by tag.
func (p *Program) domesOf(r *solver.Result) map[string]float64 {
	dome := map[string]float64{}
	for i := range p.Devices {
		d := &p.Devices[i]
		if d.Element < 0 {
			continue
		}
		if at := p.Network.Elements[d.Element].Sense; at >= 0 && r.Nodes[at].PressurePa > 0 {
			dome[d.Tag] = r.Nodes[at].PressurePa
		}
	}
	return dome
}

// baseOf gives the inlet pressures [Pa] that the base lends, by tag.
func (p *Program) baseOf(c *Case, r *solver.Result) map[string]float64 {
	inlet := map[string]float64{}
	for i := range p.Devices {
		if d := &p.Devices[i]; d.Element >= 0 && wantsBase(c.Blocks[i]) {
			if pa := r.Nodes[d.In].PressurePa; pa > 0 {
				inlet[d.Tag] = pa
			}
		}
	}
	return inlet
}

// distinct drops what several cases report alike.
func distinct(ds []diag.Diagnostic) []diag.Diagnostic {
	seen := map[string]bool{}
	return slices.DeleteFunc(ds, func(d diag.Diagnostic) bool {
		key := d.Error()
		if d.Level != diag.Error {
			key += d.Case
		}
		if seen[key] {
			return true
		}
		seen[key] = true
		return false
	})
}

// noted collects sentences, each once. It may be used from several goroutines.
type noted struct {
	mu   sync.Mutex
	seen map[string]bool
}

func newNoted() *noted { return &noted{seen: map[string]bool{}} }

func (n *noted) note(sentence string) {
	n.mu.Lock()
	n.seen[sentence] = true
	n.mu.Unlock()
}

func (n *noted) sorted() []string {
	out := make([]string, 0, len(n.seen))
	for s := range n.seen {
		out = append(out, s)
	}
	slices.Sort(out)
	return out
}
