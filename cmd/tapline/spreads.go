package main

import (
	"io"
	"os"

	"tapline/compiler"
	"tapline/compiler/spread"
	"tapline/lang"
	"tapline/lang/diag"
)

// What the spreads of a run come to.
type ofSpreads struct {
	flags []diag.Diagnostic
	part  *partSystem // where only a part of them is solved
}

// spreads solves the spreads of a run, or takes them from parts, and adds them to its
// outcome. progress goes on from the cases that are solved already.
func spreads(run *compiler.Run, opt engineOptions, workers int, progress func(done, total int)) (out ofSpreads, err error) {
	if opt.Share.Of > 0 {
		out.part = &partSystem{Dir: run.Outcome.Dir, Inputs: run.Outcome.InputsSHA256, Spreads: map[string]*spread.Tally{}}
	}
	total := 0
	for _, s := range run.Spreads {
		total += s.Cases()
	}
	if opt.MostInSpreads > 0 && total > opt.MostInSpreads {
		out.flags = run.LeaveOut(opt.MostInSpreads)
		return out, nil
	}
	if err := opt.Rows.fits(run); err != nil {
		return out, err
	}
	before := len(run.Cases)
	done := before
	for _, s := range run.Spreads {
		var t *spread.Tally
		var found []diag.Diagnostic
		if opt.Joined != nil {
			if _, found = run.Vary(s); !diag.HasErrors(found) {
				if t, err = opt.Joined.of(run, s.Name, s.Cases()); err != nil {
					return out, err
				}
			}
		} else {
			t, found = spread.Solve(run, s, spread.Options{
				Part: opt.Share.Part, Parts: opt.Share.Of, Each: opt.Rows.each(), Workers: workers,
				Progress: func(n, of int) { progress(done+n, before+total-s.Cases()+of) },
			})
		}
		done += s.Cases()
		out.flags = append(out.flags, found...)
		switch {
		case diag.HasErrors(found):
		case opt.Share.Of > 0:
			out.part.Spreads[s.Name] = t
		default:
			run.Outcome.Spreads = append(run.Outcome.Spreads, t.Outcome(s))
			out.flags = append(out.flags, t.Diagnostics(s, run.Outcome.Name)...)
		}
	}
	return out, nil
}

// readTable reads the file of --cases-csv, at most one byte more than a table may have.
func readTable(name string) ([]byte, error) {
	f, err := os.Open(name)
	if err != nil {
		return nil, usagef("cannot read the cases: %v", err)
	}
	defer f.Close()
	if info, err := f.Stat(); err != nil || !info.Mode().IsRegular() {
		return nil, usagef("cannot read the cases: %s is no regular file", name)
	}
	text, err := io.ReadAll(io.LimitReader(f, lang.MaxTableBytes+1))
	if err != nil {
		return nil, usagef("cannot read the cases: %v", err)
	}
	return text, nil
}
