package report

import (
	"cmp"
	"fmt"
	"math"
	"path"
	"slices"
	"strings"

	"tapline/compiler"
	"tapline/lang/diag"
)

const (
	maxCasesNamed  = 4  // of the further cases with the same finding
	maxAssumptions = 12 // printed
)

// A finding is one diagnostic with the cases that share it.
type finding struct {
	diag.Diagnostic
	also []string // other cases
}

// gather puts together what differs only by case: one limit overrun in a
// hundred cases is one thing to look at. The one furthest beyond its limit
// speaks for the rest. Errors come first, then alarms, cautions and notes, each
// by place.
func gather(ds []diag.Diagnostic) []finding {
	ds = slices.Clone(ds)
	diag.Sort(ds)
	type key struct {
		code, system, at string
		level            diag.Level
		place            diag.Range
		waived           bool
	}
	index := map[key]int{}
	var out []finding
	for _, d := range ds {
		k := key{d.Code, d.System, d.At, d.Level, d.Range, d.Waived}
		i, ok := index[k]
		if !ok || d.Case == "" || out[i].Case == "" || d.Case == out[i].Case {
			index[k] = len(out)
			out = append(out, finding{Diagnostic: d})
			continue
		}
		if excess(d) > excess(out[i].Diagnostic) {
			out[i].Diagnostic, d = d, out[i].Diagnostic
		}
		if d.Case != out[i].Case && !slices.Contains(out[i].also, d.Case) {
			out[i].also = append(out[i].also, d.Case)
		}
	}
	slices.SortStableFunc(out, func(a, b finding) int { return cmp.Compare(b.Level, a.Level) })
	return out
}

func excess(d diag.Diagnostic) float64 {
	if d.Value == nil || d.Limit == nil {
		return 0
	}
	return math.Abs(*d.Value - *d.Limit)
}

// others names the further cases of a finding.
func (f *finding) others() string {
	slices.Sort(f.also)
	named := f.also
	more := ""
	if len(named) > maxCasesNamed {
		named, more = named[:maxCasesNamed], fmt.Sprintf(" and %d more", len(f.also)-maxCasesNamed)
	}
	quoted := make([]string, len(named))
	for i, n := range named {
		quoted[i] = `"` + n + `"`
	}
	return "also in " + count(len(f.also), "other case", "other cases") + ": " + strings.Join(quoted, ", ") + more
}

// findings writes what is flagged as snippets, then what is accepted and the
// notes, a line each.
func (w *writer) findings() {
	printer := diag.Printer{Sources: w.outcome.Sources, Colour: w.Colour}
	if w.Terminal {
		printer.Width, printer.Wrap = w.Width, true
	}
	var snippets, accepted, notes []finding
	for _, f := range gather(w.outcome.Flags) {
		switch {
		case f.Waived:
			accepted = append(accepted, f)
		case f.Level == diag.Note:
			notes = append(notes, f)
		default:
			snippets = append(snippets, f)
		}
	}
	shown, more := fairly(snippets)
	for _, f := range shown {
		var about []string
		if len(f.also) > 0 {
			about = append(about, f.others())
		}
		w.WriteString(printer.Text(f.Diagnostic, about...) + "\n")
	}
	if more > 0 {
		w.WriteString(diag.More(more) + "\n")
	}
	w.list("Accepted:", accepted)
	w.list("Notes:", notes)
}

// list writes findings a line each under a heading.
func (w *writer) list(heading string, fs []finding) {
	if len(fs) == 0 {
		return
	}
	w.WriteString(w.paint(bold, heading) + "\n")
	shown, more := fairly(fs)
	for _, f := range shown {
		text := "  " + f.Code + ": " + f.Message
		if f.Case != "" {
			text += fmt.Sprintf(", in case %q", f.Case)
		}
		if len(f.also) > 0 {
			text += " (" + f.others() + ")"
		}
		if !f.Range.IsZero() {
			text += " (" + f.Range.String() + ")"
		}
		w.sentence(text, 4)
	}
	if more > 0 {
		w.WriteString("  " + diag.More(more))
	}
	w.WriteByte('\n')
}

// fairly gives the findings to print and the number of those left out. Each
// folder has diag.MaxPrinted to itself: what one is full of takes no place from
// the next.
func fairly(fs []finding) (shown []finding, more int) {
	n := map[string]int{}
	for _, f := range fs {
		of := f.System
		if !f.Range.IsZero() {
			of = path.Dir(f.Range.File)
		}
		if n[of]++; n[of] <= diag.MaxPrinted {
			shown = append(shown, f)
		}
	}
	return shown, len(fs) - len(shown)
}

// ending writes the assumptions, the counts, and what the numbers are good for.
func (w *writer) ending() {
	if a := w.outcome.Assumptions; len(a) > 0 {
		w.WriteString(w.paint(bold, "Assumed where the files say nothing:") + "\n")
		for i, text := range a {
			if i == maxAssumptions {
				w.WriteString("  " + diag.More(len(a)-i))
				break
			}
			w.sentence("  "+text, 4)
		}
		w.WriteByte('\n')
	}
	w.sentence(Counts(w.outcome), 0)
	if slices.ContainsFunc(w.outcome.Systems, func(s compiler.SystemOutcome) bool { return len(s.Cases) > 0 }) {
		w.WriteByte('\n')
		w.broken(Caution, "")
	}
}

// Counts is the one line that sums a run up.
func Counts(o *compiler.Outcome) string {
	n := map[diag.Level]int{}
	waived := 0
	for _, d := range o.Flags {
		if d.Waived {
			waived++
			continue
		}
		n[d.Level]++
	}
	var parts []string
	add := func(n int, one, many string) {
		if n > 0 {
			parts = append(parts, count(n, one, many))
		}
	}
	add(n[diag.Error], "error", "errors")
	add(n[diag.Alarm], "alarm", "alarms")
	add(n[diag.Caution], "caution", "cautions")
	if len(parts) == 0 {
		parts = append(parts, "nothing flagged")
	}
	add(waived, "flag accepted", "flags accepted")
	add(n[diag.Note], "note", "notes")
	text := strings.Join(parts, ", ") + "."
	if len(o.Systems) > 0 {
		text = caseCount(o) + ": " + text
	}
	return text
}
