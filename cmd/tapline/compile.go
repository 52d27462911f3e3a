package main

import (
	"errors"
	"slices"
	"strings"
	"sync"

	"tapline/compiler"
	"tapline/compiler/rule"
	"tapline/lang"
	"tapline/lang/diag"
)

// compile is the engine of the command: it reads, compiles, solves and judges
// each folder.
func compile(dirs []string, opt engineOptions) (*solution, error) {
	found := &solution{Outcome: &compiler.Outcome{Sources: map[string][]byte{}}}
	progress := newTally(len(dirs), opt.Progress)
	var networks []*compiler.NetworkDocument
	var assumed []string
	var without []error // systems that have none of the cases asked for
	for i, dir := range dirs {
		d, problems := lang.Read(dir)
		if !diag.HasErrors(problems) {
			var more []diag.Diagnostic
			d, more = d.With(opt.Sets)
			problems = append(problems, more...)
		}
		for _, f := range d.Files {
			found.Outcome.Sources[f.Name] = f.Bytes
		}
		if d.System != nil {
			name(problems, d.System.Tag)
		}
		found.Outcome.Flags = append(found.Outcome.Flags, problems...)
		if diag.HasErrors(problems) {
			found.Outcome.Systems = append(found.Outcome.Systems, *compiler.Head(d))
			continue
		}
		if d.System == nil {
			continue // a folder of models only
		}
		run, err := compiler.Solve(d, compiler.Options{Cases: opt.Cases, Progress: progress.of(i)})
		if errors.Is(err, compiler.ErrUnknownCase) {
			without = append(without, err)
			continue
		} else if err != nil {
			return nil, err
		}
		name(run.Found, d.System.Tag)
		found.Outcome.Flags = append(found.Outcome.Flags, run.Found...)
		if !diag.HasErrors(run.Found) {
			found.Outcome.Flags = append(found.Outcome.Flags, rule.Judge(run)...)
			if opt.Curve != "" {
				if found.Curve, err = run.FlowCurve(opt.Curve); err != nil {
					return nil, usagef("%v", err)
				}
				found.CurveLow, found.CurveHigh = found.Curve.Bounds(run)
			}
		}
		assumed = append(assumed, run.Assumptions...)
		found.Outcome.Systems = append(found.Outcome.Systems, *run.Outcome)
		if opt.Network && run.Program != nil {
			networks = append(networks, run.Program.Document(d.System.Tag))
		}
	}
	if len(without) > 0 && len(found.Outcome.Systems) == 0 {
		return nil, usagef("%v", without[0])
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
