// Package report writes an outcome as text for people.
//
// In goes a compiler.Outcome, in SI, and the width of the window; out comes
// text whose numbers are in the units that the system's shown_in asks for,
// gauge pressures above the atmosphere of each case. In order: each system with
// its cases against its bands, what is flagged as snippets, what is accepted,
// notes, assumptions, one line of counts, and once what the numbers are good
// for. The same outcome and options give the same bytes.
//
//	text := report.Check(outcome, report.Options{Width: 80})
package report

import (
	"fmt"
	"runtime"
	"strings"

	"tapline/cmd/internal/several"
	"tapline/compiler"
	"tapline/lang/diag"
)

// Options say what the text is to be read on. The zero value is a plain file.
type Options struct {
	Width    int  // columns of tables; 0 means 80, at least 40
	Terminal bool // sentences are broken at Width and source lines cut to it; in a file they stay whole
	Trace    bool // say how every case was solved
	Colour   bool // marks and levels are coloured as well as spelled
}

// Caution ends every report that holds numbers.
const Caution = "These numbers help a competent person to judge. They replace neither the governing code nor a licensed engineer's approval."

type writer struct {
	strings.Builder
	Options
	painter
	outcome *compiler.Outcome
}

// Check gives what "tapline check" prints.
func Check(o *compiler.Outcome, opt Options) string {
	return write(o, opt, false)
}

// Solve gives what "tapline solve" prints: every node and device of every case, the
// capacities of relief devices, then what Check prints.
func Solve(o *compiler.Outcome, opt Options) string {
	return write(o, opt, true)
}

func write(o *compiler.Outcome, opt Options, states bool) string {
	hasErrors := diag.HasErrors(o.Flags)
	texts := make([]string, len(o.Systems), len(o.Systems)+1)
	for _, fault := range several.Each(len(o.Systems), runtime.GOMAXPROCS(0), func(i int) {
		if s := &o.Systems[i]; len(s.Cases) > 0 || !hasErrors { // what is wrong with its files says all there is
			texts[i] = newWriter(o, opt).whole(s, states)
		}
	}) {
		if fault != nil {
			panic(fault)
		}
	}
	w := newWriter(o, opt)
	w.findings()
	w.ending()
	return strings.Join(append(texts, w.String()), "")
}

// whole writes all that is said of one system alone, and gives it.
func (w *writer) whole(s *compiler.SystemOutcome, states bool) string {
	w.system(s)
	w.fluids(s, states)
	if states {
		for j := range s.Cases {
			w.solved(s, &s.Cases[j])
		}
		w.reliefs(s, "")
	}
	w.cases(s)
	w.spreads(s)
	return w.String()
}

func newWriter(o *compiler.Outcome, opt Options) *writer {
	if opt.Width == 0 {
		opt.Width = 80
	}
	opt.Width = max(opt.Width, 40)
	return &writer{Options: opt, painter: painter(opt.Colour), outcome: o}
}

// system writes the name and title, and what gauge pressures and standard
// volumes are counted from.
func (w *writer) system(s *compiler.SystemOutcome) {
	name := s.Name
	if s.Title != "" {
		name += ": " + s.Title
	}
	w.broken(name, bold)
	u := unitsOf(s)
	about := fmt.Sprintf("%s, atmosphere %s bara", s.Dir, compact(s.AtmospherePa/1e5, 6))
	if r := s.ReferenceState; r != nil {
		about += fmt.Sprintf(", standard volumes at %s degC and %s bara", compact(r.TemperatureK-273.15, 6), compact(r.PressurePa/1e5, 6))
	}
	w.broken(about+", results in "+strings.Join(append([]string{u.pressure, u.temperature}, u.flowsOf(s)...), ", "), "")
}

// fluids says what the properties of each fluid rest on; of all of them, or only
// of those where it is not plain.
func (w *writer) fluids(s *compiler.SystemOutcome, all bool) {
	for _, f := range s.Fluids {
		if f.Plain && !all {
			continue
		}
		text := f.Name + ": " + f.Equation
		if f.DensityError > 0 {
			text += ", density to " + compact(f.DensityError*100, 2) + " %"
		}
		if f.Note != "" {
			text += "; " + f.Note
		}
		w.broken(text, "")
	}
	w.WriteByte('\n')
}

// broken writes text broken at the width wherever it is read.
func (w *writer) broken(text, colour string) {
	for _, line := range diag.Wrap(diag.Escape(text), w.Width, 0) {
		w.WriteString(w.paint(colour, line) + "\n")
	}
}

// sentence writes text broken at the width on a terminal and whole elsewhere.
func (w *writer) sentence(text string, indent int) {
	text = diag.Escape(text)
	if !w.Terminal {
		w.WriteString(text + "\n")
		return
	}
	for i, line := range diag.Wrap(text, w.Width, indent) {
		if i > 0 {
			w.WriteString(strings.Repeat(" ", indent))
		}
		w.WriteString(line + "\n")
	}
}
