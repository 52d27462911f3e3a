package spread

import (
	"runtime"
	"sync"

	"tapline/compiler"
	"tapline/compiler/rule"
	"tapline/lang"
	"tapline/lang/diag"
)

// Options say which cases of a spread are solved, and who is told.
type Options struct {
	Part, Parts int                                  // part 1 to Parts; the whole where Parts is 0
	Workers     int                                  // goroutines that solve cases; 0 for one a processor
	Progress    func(done, total int)                // may be nil; called from several goroutines
	Each        func(chunk int, rows []compiler.Row) // may be nil; called with the chunks in order
}

// Chunks gives the chunks from, up to not including to, that a part of a number of
// cases solves.
func Chunks(cases, part, parts int) (from, to int) {
	n := (cases + compiler.SpreadChunk - 1) / compiler.SpreadChunk
	if parts == 0 {
		return 0, n
	}
	return n * (part - 1) / parts, n * part / parts
}

// Solve solves and judges the cases of a spread, or a part of them. The diagnostics
// are those of a spread that cannot be solved at all.
func Solve(run *compiler.Run, s *lang.Spread, opt Options) (*Tally, []diag.Diagnostic) {
	v, found := run.Vary(s)
	if diag.HasErrors(found) {
		return nil, found
	}
	cases := s.Cases()
	from, to := Chunks(cases, opt.Part, opt.Parts)
	total := min(to*compiler.SpreadChunk, cases) - min(from*compiler.SpreadChunk, cases)
	var (
		mu      sync.Mutex
		group   sync.WaitGroup
		next    = from
		done    int
		fault   any
		tallies []*Tally
		rows    = newRows(from, opt.Each)
	)
	workers := opt.Workers
	if workers == 0 {
		workers = runtime.GOMAXPROCS(0)
	}
	for range min(workers, to-from) {
		group.Go(func() {
			defer func() {
				if f := recover(); f != nil { // raised again by the caller, who can say so
					mu.Lock()
					fault, next = f, to
					mu.Unlock()
					rows.stop()
				}
			}()
			w := &worker{counter: newCounter(), w: v.Worker(), judge: rule.NewCaseJudge(run), rows: opt.Each != nil}
			for {
				mu.Lock()
				chunk := next
				next++
				mu.Unlock()
				if chunk >= to {
					break
				}
				first := chunk * compiler.SpreadChunk
				last := min(first+compiler.SpreadChunk, cases)
				for i := first; i < last; i++ {
					w.solve(i, i > first)
				}
				rows.put(chunk, w.made)
				w.made = nil
				mu.Lock()
				done += last - first
				if opt.Progress != nil {
					opt.Progress(done, total)
				}
				mu.Unlock()
			}
			mu.Lock()
			tallies = append(tallies, w.done())
			mu.Unlock()
		})
	}
	group.Wait()
	if fault != nil {
		panic(fault)
	}
	return Join(tallies), found
}

// A worker solves, judges and counts.
type worker struct {
	*counter
	w     *compiler.Worker
	judge *rule.CaseJudge
	rows  bool
	made  []compiler.Row
}

func (w *worker) solve(i int, warm bool) {
	a := w.w.Answer(i, warm)
	if a.Result == nil {
		w.failed(i, a.Found[0].Message)
		d := a.Found[0]
		d.Code, d.Level = "unsolved", diag.Alarm
		w.flag(&d, i)
		if w.rows {
			w.made = append(w.made, w.w.Row(a, i, []string{"unsolved"}))
		}
		return
	}
	checks, flags := w.judge.Case(a)
	w.add(i, a, checks, flags)
	if w.rows {
		var codes []string
		for _, f := range flags {
			if f.Level > diag.Note {
				codes = append(codes, f.Code)
			}
		}
		w.made = append(w.made, w.w.Row(a, i, codes))
	}
}
