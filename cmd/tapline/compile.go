package main

import (
	"errors"
	"fmt"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"sync"

	"tapline/cmd/internal/several"
	"tapline/compiler"
	"tapline/compiler/rule"
	"tapline/lang"
	"tapline/lang/diag"
)

// compile is the engine of the command: it reads, compiles, solves and judges
// each folder, several at a time. What is found is put together in the order of
// the folders, so that nothing depends on how many.
func compile(dirs []string, opt engineOptions) (*solution, error) {
	switch {
	case opt.Table != "" && len(dirs) > 1:
		return nil, usagef("--cases-csv takes the cases of one system, not of %d", len(dirs))
	case opt.Rows != nil && len(dirs) > 1:
		return nil, usagef("--out csv=FILE takes the cases of one system, not of %d", len(dirs))
	}
	progress := newTally(len(dirs), opt.Progress)
	parts := make([]part, len(dirs))
	workers := runtime.GOMAXPROCS(0)
	inside := workers // goroutines for the cases of one system
	if len(dirs) >= 4*workers {
		inside = 1 // the systems keep all processors busy
	}
	fluids := &compiler.Fluids{}
	faults := several.Each(len(dirs), workers, func(i int) {
		parts[i] = one(dirs[i], opt, inside, fluids, progress.of(i))
	})
	found := &solution{Outcome: &compiler.Outcome{Sources: map[string][]byte{}}}
	var networks []*compiler.NetworkDocument
	var assumed []string
	var without error // of a system that has none of the cases asked for
	for i := range parts {
		p := &parts[i]
		if fault := faults[i]; fault != nil {
			if len(dirs) == 1 {
				panic(fault)
			}
			found.Faults = append(found.Faults, fmt.Sprintf("%s: %v", dirs[i], fault))
			continue
		}
		if errors.Is(p.err, compiler.ErrUnknownCase) {
			if without == nil {
				without = p.err
			}
		} else if p.err != nil {
			return nil, p.err
		}
		for _, f := range p.files {
			found.Outcome.Sources[f.Name] = f.Bytes
		}
		found.Outcome.Flags = append(found.Outcome.Flags, p.flags...)
		assumed = append(assumed, p.assumed...)
		if p.system != nil {
			found.Outcome.Systems = append(found.Outcome.Systems, *p.system)
		}
		if p.network != nil {
			networks = append(networks, p.network)
		}
		if p.part != nil {
			found.Parts = append(found.Parts, *p.part)
		}
		if p.curve != nil {
			found.Curve, found.CurveLow, found.CurveHigh = p.curve, p.curveLow, p.curveHigh
		}
	}
	if without != nil && len(found.Outcome.Systems) == 0 {
		return nil, usagef("%v", without)
	}
	slices.SortStableFunc(found.Outcome.Systems, func(a, b compiler.SystemOutcome) int { return strings.Compare(a.Name, b.Name) })
	diag.Sort(found.Outcome.Flags)
	slices.Sort(assumed)
	found.Outcome.Assumptions = slices.Compact(assumed)
	if opt.Network {
		found.Network = map[string]any{"schema": 1, "systems": networks}
	}
	return found, nil
}

// A part is what one folder comes to.
type part struct {
	err     error
	files   []lang.File
	flags   []diag.Diagnostic
	system  *compiler.SystemOutcome // nil for a folder of models only
	assumed []string
	network *compiler.NetworkDocument
	part    *partSystem // where only a part of the spreads is solved

	curve               *compiler.FlowCurve
	curveLow, curveHigh float64
}

// one does the work for one folder.
func one(dir string, opt engineOptions, workers int, fluids *compiler.Fluids, progress func(done, total int)) (p part) {
	d, problems := lang.Read(dir)
	if !diag.HasErrors(problems) {
		var more []diag.Diagnostic
		d, more = d.With(opt.Sets)
		problems = append(problems, more...)
	}
	if opt.Table != "" && !diag.HasErrors(problems) && d.System != nil {
		text, err := readTable(opt.Table)
		if err != nil {
			p.err = err
			return p
		}
		var more []diag.Diagnostic
		d, more = d.WithTable(filepath.ToSlash(opt.Table), text)
		problems = append(problems, more...)
	}
	p.files = d.Files
	if d.System != nil {
		name(problems, d.System.Tag)
	}
	p.flags = problems
	if diag.HasErrors(problems) {
		p.system = compiler.Head(d)
		return p
	}
	if d.System == nil {
		return p
	}
	run, err := compiler.Solve(d, compiler.Options{Cases: opt.Cases, BaseOnly: opt.Share.Of > 0 || opt.Table != "", Workers: workers, Fluids: fluids, Progress: progress, Trace: opt.Trace})
	if err != nil {
		p.err = err
		return p
	}
	name(run.Found, d.System.Tag)
	p.flags = append(p.flags, run.Found...)
	if !diag.HasErrors(run.Found) {
		p.flags = append(p.flags, rule.Judge(run)...)
		of, err := spreads(run, opt, workers, progress)
		if err != nil {
			p.err = err
			return p
		}
		p.flags, p.part = append(p.flags, of.flags...), of.part
		if opt.Curve != "" {
			if p.curve, err = run.FlowCurve(opt.Curve); err != nil {
				p.err = usagef("%v", err)
				return p
			}
			p.curveLow, p.curveHigh = p.curve.Bounds(run)
		}
	}
	p.assumed = run.Assumptions
	p.system = run.Outcome
	if opt.Network && run.Program != nil {
		p.network = run.Program.Document(d.System.Tag)
	}
	return p
}

// name gives findings the name of their system.
func name(found []diag.Diagnostic, system string) {
	for i := range found {
		found[i].System = system
	}
}

// A tally adds the progress of several systems.
type tally struct {
	mu          sync.Mutex
	done, total []int
	report      func(done, total int)
}

func newTally(systems int, report func(done, total int)) *tally {
	return &tally{done: make([]int, systems), total: make([]int, systems), report: report}
}

func (t *tally) of(system int) func(done, total int) {
	return func(done, total int) {
		if t.report == nil {
			return
		}
		t.mu.Lock()
		defer t.mu.Unlock()
		t.done[system], t.total[system] = done, total
		d, all := 0, 0
		for i := range t.done {
			d, all = d+t.done[i], all+max(t.total[i], 1)
		}
		t.report(d, all)
	}
}
