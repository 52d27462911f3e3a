package report

import (
	"fmt"
	"slices"
	"strings"

	"tapline/compiler"
)

// The table of cases against limits: a row a case, a column a limit. Bands
// always have a column; a rating, an allowance or a rule has one only where a
// case fails it or it could not be judged, else it is counted below. Columns
// that do not fit beside one another go on in a further table. Of many cases
// those come first that fail something.

const (
	maxRows     = 60
	columnWords = 16 // a limit's name is broken to this many columns
)

// A limit is one column: one quantity at one place held against one pair of bounds.
type limit struct {
	name, at, quantity string
	source             string
	checks             []*compiler.CheckOutcome
	failed, unjudged   bool

	// Of one that has a column.
	in     map[string]*compiler.CheckOutcome // by case
	stream stream                            // of a flow, where something flows
	scale  scale                             // of the head
	ends   ends                              // of the head
}

func (w *writer) cases(s *compiler.SystemOutcome) {
	if len(s.Cases) == 0 && len(s.Spreads) > 0 {
		return
	}
	if len(s.Cases) == 0 {
		w.WriteString("No case was solved.\n\n")
		return
	}
	v := viewOf(s)
	shown, held := v.limits()
	rows, left, leftBad := rowsOf(s, shown)
	blank := slices.ContainsFunc(shown, func(l *limit) bool {
		return slices.ContainsFunc(rows, func(c *compiler.CaseOutcome) bool { return l.in[c.Name] == nil })
	})
	if len(shown) == 0 {
		w.table(statusTable(s, rows))
	}
	names, columns := caseColumn(rows), make([]strip, len(shown))
	for i, l := range shown {
		columns[i] = strip{l.head(), l.cells(v, rows), false}
	}
	for len(columns) > 0 {
		// At least one column, then as many as fit. The names of cases may be broken.
		n, wide := 1, min(names.size(), w.Width*3/10)+gap+columns[0].size()
		for ; n < len(columns); n++ {
			if wide += gap + columns[n].size(); wide > w.Width {
				break
			}
		}
		w.table(beside(append([]strip{names}, columns[:n]...)))
		columns = columns[n:]
	}
	if left > 0 {
		fails := "all within these limits"
		if leftBad > 0 {
			fails = fmt.Sprintf("%d of them not within these limits", leftBad)
		}
		w.sentence(fmt.Sprintf("%s more, %s: --format json has them all.", count(left, "case", "cases"), fails), 0)
	}
	if held > 0 {
		w.sentence(fmt.Sprintf("%s of devices or rules, met in every case, not shown.", count(held, "limit", "limits")), 0)
	}
	if blank {
		w.sentence("Blank: the limit is not held against that case.", 0)
	}
	if left > 0 || held > 0 || blank {
		w.WriteByte('\n')
	}
}

func (w *writer) table(t *table) {
	t.write(&w.Builder, w.Width, w.painter)
	w.WriteByte('\n')
}

// limits collects the columns in the order their first check stands in, and
// counts those that are met everywhere and need none.
func (v view) limits() (shown []*limit, held int) {
	type key struct{ source, name, at, quantity string }
	index := map[key]*limit{}
	var all []*limit
	for i := range v.Checks {
		c := &v.Checks[i]
		k := key{c.Source, c.Name, c.At, c.Quantity}
		l := index[k]
		if l == nil {
			l = &limit{name: c.Name, at: c.At, quantity: c.Quantity, source: c.Source, checks: make([]*compiler.CheckOutcome, 0, len(v.Cases))}
			index[k] = l
			all = append(all, l)
		}
		l.checks = append(l.checks, c)
		l.failed = l.failed || c.Status == "fail"
		l.unjudged = l.unjudged || c.Status == "unjudged" && v.solved(c.Case)
	}
	for _, l := range all {
		if l.source != "band" && !l.failed && !l.unjudged {
			held++
			continue
		}
		l.in = make(map[string]*compiler.CheckOutcome, len(l.checks))
		for _, c := range l.checks {
			l.in[c.Case] = c
		}
		l.stream = v.anyStream(l)
		l.scale = v.scaleIn(l, l.checks[0].Case)
		l.ends = endsOf(l.checks[0], l.scale)
		shown = append(shown, l)
	}
	return shown, held
}

// A view is a system with what its tables ask for again and again.
type view struct {
	*compiler.SystemOutcome
	units
	byName map[string]*compiler.CaseOutcome
}

func viewOf(s *compiler.SystemOutcome) view {
	v := view{s, unitsOf(s), make(map[string]*compiler.CaseOutcome, len(s.Cases))}
	for i := range s.Cases {
		v.byName[s.Cases[i].Name] = &s.Cases[i]
	}
	return v
}

func (v view) solved(name string) bool {
	c := v.byName[name]
	return c != nil && c.Status == "solved"
}

// through gives the stream that a flow limit is about, in one case.
func (v view) through(l *limit, c *compiler.CaseOutcome) stream {
	tag, port, _ := strings.Cut(l.at, ".")
	for i := range c.Devices {
		d := &c.Devices[i]
		if d.Tag != tag {
			continue
		}
		if way := wayAt(d, port); way != nil {
			d = way
		}
		return v.streamThrough(c, d)
	}
	return stream{}
}

// anyStream gives the stream of the first case in which something flows, for
// the limit's head and for the cases in which nothing does.
func (v view) anyStream(l *limit) stream {
	if l.quantity != "flow" {
		return stream{}
	}
	var found stream
	for i := range v.Cases {
		if found = v.through(l, &v.Cases[i]); found.known() {
			break
		}
	}
	return found
}

// scaleIn gives what a limit is shown in, in the case of that name.
func (v view) scaleIn(l *limit, name string) scale {
	c := v.byName[name]
	if c == nil {
		return v.of(l.quantity, v.AtmospherePa, l.stream)
	}
	through := l.stream
	if l.quantity == "flow" {
		if here := v.through(l, c); here.known() {
			through = here
		}
	}
	return v.of(l.quantity, c.AtmospherePa, through)
}

// rowsOf picks the cases to show: all of them if they are few, else the first,
// then those that fail something, then others in their order. It counts the
// rest, and how many of those fail something.
func rowsOf(s *compiler.SystemOutcome, shown []*limit) (rows []*compiler.CaseOutcome, left, leftBad int) {
	bad := map[string]bool{}
	for _, l := range shown {
		for name, c := range l.in {
			bad[name] = bad[name] || c.Status == "fail"
		}
	}
	for pass := range 3 {
		for i := range s.Cases {
			c := &s.Cases[i]
			failing := c.Status != "solved" || bad[c.Name]
			rank := 2
			switch {
			case i == 0 || len(s.Cases) <= maxRows:
				rank = 0
			case failing:
				rank = 1
			}
			switch {
			case rank != pass:
			case len(rows) < maxRows:
				rows = append(rows, c)
			default:
				left++
				if failing {
					leftBad++
				}
			}
		}
	}
	return rows, left, leftBad
}

// named gives the name of a case, with its kind unless it is an operating one.
func named(c *compiler.CaseOutcome) string {
	if c.Kind != "" && c.Kind != "operating" {
		return c.Name + " (" + c.Kind + ")"
	}
	return c.Name
}

func caseCell(c *compiler.CaseOutcome) cell {
	text := named(c)
	if c.Status != "solved" {
		return cell{"not solved: " + text, red}
	}
	return cell{text, ""}
}

func statusTable(s *compiler.SystemOutcome, rows []*compiler.CaseOutcome) *table {
	t := &table{head: []cell{{"case", ""}, {"status", ""}}, words: []bool{true, false}}
	for _, c := range rows {
		status := "solved, no limit to hold it against"
		if c.Status != "solved" {
			status = "-"
		}
		t.rows = append(t.rows, []cell{caseCell(c), {status, ""}})
	}
	return t
}

func caseColumn(rows []*compiler.CaseOutcome) strip {
	c := strip{cell{"case", ""}, make([]cell, len(rows)), true}
	for i, row := range rows {
		c.cells[i] = caseCell(row)
	}
	return c
}

func (l *limit) head() cell {
	lines := []string{shortened(l.name, columnWords, 2), l.at, strings.ReplaceAll(l.quantity, "_", " "), l.ends.String()}
	return cell{strings.Join(lines, "\n"), ""}
}

// ends are the limits of a check as they are shown.
type ends struct {
	low, high       float64
	hasLow, hasHigh bool
	unit            string
}

func endsOf(c *compiler.CheckOutcome, s scale) ends {
	e := ends{unit: s.unit, hasLow: c.Min != nil, hasHigh: c.Max != nil}
	if e.hasLow {
		e.low = s.show(*c.Min)
	}
	if e.hasHigh {
		e.high = s.show(*c.Max)
	}
	return e
}

// String spells the limits as a system file would.
func (e ends) String() string {
	text := ""
	switch {
	case e.hasLow && e.hasHigh:
		text = compact(e.low, 6) + " .. " + compact(e.high, 6)
	case e.hasLow:
		text = ">= " + compact(e.low, 6)
	case e.hasHigh:
		text = "<= " + compact(e.high, 6)
	}
	return strings.TrimSpace(text + " " + e.unit)
}

// cells gives one cell a row: the value, and a word where it fails.
func (l *limit) cells(v view, rows []*compiler.CaseOutcome) []cell {
	scales := make([]scale, len(rows))
	var values []float64
	for i, c := range rows {
		if k := l.in[c.Name]; k != nil && k.Value != nil {
			scales[i] = v.scaleIn(l, c.Name)
			values = append(values, scales[i].show(*k.Value))
		}
	}
	n := decimals(values)
	numbers := make([]string, len(rows))
	for i, c := range rows {
		numbers[i] = "-"
		if k := l.in[c.Name]; k != nil && k.Value != nil {
			numbers[i] = beyond(scales[i].show(*k.Value), scales[i].pointer(k.Min), scales[i].pointer(k.Max), n)
		}
	}
	alignPoints(numbers)
	out := make([]cell, len(rows))
	for i, c := range rows {
		k := l.in[c.Name]
		switch {
		case k == nil:
			out[i].text = "" // the limit does not hold in this case
			continue
		case k.Status == "unjudged" && k.Value == nil && c.Status == "solved":
			out[i].text = "not judged"
			continue
		}
		out[i].text = numbers[i]
		if k.Value == nil {
			continue
		}
		if scales[i].unit != l.scale.unit && *k.Value != 0 {
			out[i].text += " " + scales[i].unit
		}
		out[i] = l.mark(out[i], k, scales[i])
	}
	return out
}

// mark adds what is to be said of a value in words, and the limits of this case
// where they are others than the head's.
func (l *limit) mark(c cell, k *compiler.CheckOutcome, s scale) cell {
	switch {
	case k.Status == "unjudged":
		c.text += " not judged"
	case k.Status != "fail":
	case k.Min != nil && *k.Value < *k.Min:
		c = cell{c.text + " low", red}
	case k.Max != nil && *k.Value > *k.Max:
		c = cell{c.text + " high", red}
	default:
		c = cell{c.text + " fails", red}
	}
	if k.WaivedBy != nil {
		c = cell{c.text + ", accepted", ""}
	}
	if here := endsOf(k, s); here != l.ends && here.String() != l.ends.String() {
		c.text += " (" + here.String() + ")"
	}
	return c
}

func count(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}
