package report

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"tapline/compiler"
)

func lagTable(c *compiler.CaseOutcome) *table {
	var mean, most []*float64
	for _, l := range c.Lags {
		mean, most = append(mean, l.Seconds), append(most, l.Seconds95)
	}
	seconds := plain("s")
	means, mosts := column(mean, seconds), column(most, seconds)
	t := &table{head: []cell{{"from", ""}, {"to", ""}, {"mean lag\ns", ""}, {"to 95 %\ns", ""}}, words: []bool{true, true, false, false}}
	for i, l := range c.Lags {
		t.rows = append(t.rows, []cell{{l.From, ""}, {l.To, ""}, {means[i], ""}, {mosts[i], ""}})
	}
	return t
}

// mostParts is how many parts of a lag are named, longest first.
const mostParts = 6

// lagParts writes where the time of every lag goes, or why there is none.
func (w *writer) lagParts(c *compiler.CaseOutcome) {
	said := false
	for i := range c.Lags {
		l := &c.Lags[i]
		text := l.From + " to " + l.To + ": "
		parts := partsOf(l)
		switch {
		case len(parts) > 0:
			text += strings.Join(parts, ", ")
			if l.Ways > 1 {
				text += fmt.Sprintf(", over %d ways", l.Ways)
			}
		case l.Reason != "":
			text += "no lag, " + l.Reason
		case l.Seconds != nil && *l.Seconds == 0:
			text += "nothing on the way states a volume"
		default:
			continue
		}
		w.sentence(text, 2)
		said = true
	}
	if said {
		w.WriteByte('\n')
	}
}

// partsOf lists what takes time on the way of a lag, longest first.
func partsOf(l *compiler.LagOutcome) []string {
	parts := slices.DeleteFunc(slices.Clone(l.Segments), func(s compiler.LagSegment) bool { return s.Seconds == 0 })
	slices.SortStableFunc(parts, func(a, b compiler.LagSegment) int { return cmp.Compare(b.Seconds, a.Seconds) })
	var out []string
	rest := 0.0
	for i, s := range parts {
		if i >= mostParts {
			rest += s.Seconds
			continue
		}
		text := s.Name + " " + compact(s.Seconds, 3) + " s"
		if s.StirredS > 0 {
			text += " stirred"
		}
		out = append(out, text)
	}
	if rest > 0 {
		out = append(out, fmt.Sprintf("%d more %s s", len(parts)-mostParts, compact(rest, 3)))
	}
	return out
}
