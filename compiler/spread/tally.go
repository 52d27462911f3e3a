package spread

import (
	"cmp"
	"math"
	"slices"

	"tapline/compiler"
	"tapline/lang/diag"
	"tapline/solver"
)

// namedUnsolved is how many cases without an answer are named.
const namedUnsolved = 5

// A Tally is what some cases of a spread come to. It can be written as JSON and read
// back without loss.
type Tally struct {
	Cases, Solved int
	Unsolved      []Failure // the first ones
	Limits        []*Limit  // sorted, once it is complete
	Flags         []*Flag   // sorted, once it is complete
}

// A Failure is a case without an answer.
type Failure struct {
	Case   int
	Reason string
}

// A Limit is one limit over the cases seen.
type Limit struct {
	Source, Name, At, Quantity string
	First                      Bounds // of the first case it was held against
	Inside, Judged, Unjudged   int
	Lowest, Highest, Worst     *Value // nil where nothing was judged
}

// Bounds are what a limit was in a case.
type Bounds struct {
	Case         int
	Min, Max     *float64
	AtmospherePa float64
}

// A Value is one value in one case.
type Value struct {
	Case                  int
	Value                 float64
	Margin                *float64 // nil where the limit has no end
	MolarMass, LiquidKgM3 float64  // of a flow
	AtmospherePa          float64
}

// A Flag is one finding over the cases seen; the case furthest beyond its limit
// speaks for all.
type Flag struct {
	Worst diag.Diagnostic
	Case  int // of Worst
	Cases int

	last int // the case counted last
}

// A counter fills a tally case by case.
type counter struct {
	Tally
	limits map[limitKey]*Limit
	order  []*Limit // as the cases so far had them
	flags  map[flagKey]*Flag
}

type limitKey struct{ source, name, at, quantity string }

type flagKey struct {
	code, at string
	level    diag.Level
	place    diag.Range
}

func (l *Limit) key() limitKey { return limitKey{l.Source, l.Name, l.At, l.Quantity} }

func keyOf(d *diag.Diagnostic) flagKey { return flagKey{d.Code, d.At, d.Level, d.Range} }

func newCounter() *counter {
	return &counter{limits: map[limitKey]*Limit{}, flags: map[flagKey]*Flag{}}
}

// failed counts a case without an answer.
func (t *counter) failed(i int, reason string) {
	t.Cases++
	t.Unsolved = append(t.Unsolved, Failure{i, reason})
	if len(t.Unsolved) > 4*namedUnsolved {
		t.Unsolved = firsts(t.Unsolved)
	}
}

func firsts(fs []Failure) []Failure {
	slices.SortFunc(fs, func(a, b Failure) int { return cmp.Compare(a.Case, b.Case) })
	return fs[:min(len(fs), namedUnsolved)]
}

// add counts a case that was solved, or that has at least a result.
func (t *counter) add(i int, a *compiler.Answer, checks []compiler.CheckOutcome, flags []diag.Diagnostic) {
	if a.Result.Status == solver.Solved {
		t.Cases++
		t.Solved++
	} else {
		t.failed(i, a.Result.Reason)
	}
	for k := range checks {
		t.limit(k, &checks[k], i).add(&checks[k], i, a)
	}
	for k := range flags {
		t.flag(&flags[k], i)
	}
}

// limit finds what check k of case i is about. Most cases have the same checks in the
// same order.
func (t *counter) limit(k int, c *compiler.CheckOutcome, i int) *Limit {
	if k < len(t.order) {
		if l := t.order[k]; l.At == c.At && l.Quantity == c.Quantity && l.Name == c.Name && l.Source == c.Source {
			return l
		}
	}
	key := limitKey{c.Source, c.Name, c.At, c.Quantity}
	l := t.limits[key]
	if l == nil {
		l = &Limit{Source: c.Source, Name: c.Name, At: c.At, Quantity: c.Quantity, First: Bounds{Case: -1}}
		t.limits[key] = l
	}
	t.order = append(t.order[:min(k, len(t.order))], l)
	return l
}

func (l *Limit) add(c *compiler.CheckOutcome, i int, a *compiler.Answer) {
	if l.First.Case < 0 || i < l.First.Case {
		l.First = Bounds{i, copied(c.Min), copied(c.Max), a.Case.Site.AtmospherePa}
	}
	if c.Status == "unjudged" || c.Value == nil {
		if c.Status == "fail" {
			l.Judged++ // nothing arrives: outside, without a number
		} else {
			l.Unjudged++
		}
		return
	}
	l.Judged++
	if c.Status == "pass" {
		l.Inside++
	}
	v := Value{Case: i, Value: *c.Value, Margin: c.Margin}
	if l.Lowest == nil || lower(&v, l.Lowest) {
		l.Lowest = v.keep(l.Lowest, c, a)
	}
	if l.Highest == nil || higher(&v, l.Highest) {
		l.Highest = v.keep(l.Highest, c, a)
	}
	if l.Worst == nil || worse(&v, l.Worst) {
		l.Worst = v.keep(l.Worst, c, a)
	}
}

// keep gives a value, of the check c, that outlives its case; in the place of another.
func (v *Value) keep(in *Value, c *compiler.CheckOutcome, a *compiler.Answer) *Value {
	if in == nil {
		in = &Value{}
	}
	margin := in.Margin
	*in = Value{Case: v.Case, Value: v.Value, AtmospherePa: a.Case.Site.AtmospherePa}
	if m := v.Margin; m != nil && margin != nil && !math.IsNaN(*m) && !math.IsInf(*m, 0) {
		*margin, in.Margin = *m, margin
	} else {
		in.Margin = copied(m)
	}
	if c.Quantity == "flow" || c.Quantity == "flow_set" {
		in.MolarMass, in.LiquidKgM3 = a.Stream(c.At)
	}
	return in
}

func copied(x *float64) *float64 {
	if x == nil || math.IsNaN(*x) || math.IsInf(*x, 0) {
		return nil
	}
	y := *x
	return &y
}

// lower, higher and worse order values; of equal ones the first case counts.
func lower(a, b *Value) bool  { return a.Value < b.Value || a.Value == b.Value && a.Case < b.Case }
func higher(a, b *Value) bool { return a.Value > b.Value || a.Value == b.Value && a.Case < b.Case }
func worse(a, b *Value) bool {
	x, y := margin(a), margin(b)
	return x < y || x == y && a.Case < b.Case
}

func margin(v *Value) float64 {
	if v.Margin == nil {
		return math.Inf(1)
	}
	return *v.Margin
}

func (t *counter) flag(d *diag.Diagnostic, i int) {
	key := keyOf(d)
	f := t.flags[key]
	if f == nil {
		f = &Flag{last: -1, Case: -1}
		t.flags[key] = f
	}
	if f.last != i {
		f.Cases, f.last = f.Cases+1, i
	}
	if f.Case < 0 || further(d, i, &f.Worst, f.Case) {
		f.Case, f.Worst = i, *d
		f.Worst.Value, f.Worst.Limit = copied(d.Value), copied(d.Limit)
	}
}

// further tells whether a finding lies further beyond its limit than another, or as
// far in an earlier case.
func further(a *diag.Diagnostic, i int, b *diag.Diagnostic, j int) bool {
	x, y := excess(a), excess(b)
	return x > y || x == y && i < j
}

func excess(d *diag.Diagnostic) float64 {
	if d.Value == nil || d.Limit == nil {
		return 0
	}
	if e := math.Abs(*d.Value - *d.Limit); !math.IsNaN(e) {
		return e
	}
	return 0
}

// done gives the tally of a counter, in order.
func (t *counter) done() *Tally {
	t.Unsolved = firsts(t.Unsolved)
	for _, l := range t.limits {
		t.Limits = append(t.Limits, l)
	}
	for _, f := range t.flags {
		t.Flags = append(t.Flags, f)
	}
	t.sort()
	return &t.Tally
}

func (t *Tally) sort() {
	slices.SortFunc(t.Limits, func(a, b *Limit) int {
		return cmp.Or(cmp.Compare(a.Source, b.Source), cmp.Compare(a.Name, b.Name), cmp.Compare(a.At, b.At), cmp.Compare(a.Quantity, b.Quantity))
	})
	slices.SortFunc(t.Flags, func(a, b *Flag) int {
		return cmp.Or(cmp.Compare(a.Worst.Range.File, b.Worst.Range.File), cmp.Compare(a.Worst.Range.Start.Byte, b.Worst.Range.Start.Byte),
			cmp.Compare(a.Worst.Range.End.Byte, b.Worst.Range.End.Byte),
			cmp.Compare(a.Worst.Code, b.Worst.Code), cmp.Compare(a.Worst.At, b.Worst.At), cmp.Compare(a.Worst.Level, b.Worst.Level))
	})
}

// Join gives the tally of all cases of several, which have none in common.
func Join(ts []*Tally) *Tally {
	out := newCounter()
	for _, t := range ts {
		out.Cases += t.Cases
		out.Solved += t.Solved
		out.Unsolved = append(out.Unsolved, t.Unsolved...)
		for _, l := range t.Limits {
			if into := out.limits[l.key()]; into != nil {
				into.join(l)
			} else {
				own := *l
				out.limits[l.key()] = &own
			}
		}
		for _, f := range t.Flags {
			into := out.flags[keyOf(&f.Worst)]
			if into == nil {
				own := *f
				out.flags[keyOf(&f.Worst)] = &own
				continue
			}
			into.Cases += f.Cases
			if further(&f.Worst, f.Case, &into.Worst, into.Case) {
				into.Worst, into.Case = f.Worst, f.Case
			}
		}
	}
	return out.done()
}

func (l *Limit) join(o *Limit) {
	if o.First.Case < l.First.Case {
		l.First = o.First
	}
	l.Inside += o.Inside
	l.Judged += o.Judged
	l.Unjudged += o.Unjudged
	for _, p := range []struct {
		into   **Value
		from   *Value
		better func(a, b *Value) bool
	}{{&l.Lowest, o.Lowest, lower}, {&l.Highest, o.Highest, higher}, {&l.Worst, o.Worst, worse}} {
		if p.from != nil && (*p.into == nil || p.better(p.from, *p.into)) {
			*p.into = p.from
		}
	}
}

// Whole tells whether a tally that was read has all its parts, and none of a case
// beyond so many, so that it can be joined and shown.
func (t *Tally) Whole(cases int) bool {
	if t.Cases < 0 || t.Solved < 0 || t.Solved > t.Cases {
		return false
	}
	is := func(i int) bool { return i >= 0 && i < cases }
	whole := func(vs ...*Value) bool {
		return !slices.ContainsFunc(vs, func(v *Value) bool { return v != nil && !is(v.Case) })
	}
	for _, l := range t.Limits {
		if l == nil || !is(l.First.Case) || l.Inside < 0 || l.Inside > l.Judged || !whole(l.Lowest, l.Highest, l.Worst) ||
			(l.Lowest == nil) != (l.Highest == nil) || (l.Lowest == nil) != (l.Worst == nil) {
			return false
		}
	}
	for _, f := range t.Unsolved {
		if !is(f.Case) {
			return false
		}
	}
	return !slices.ContainsFunc(t.Flags, func(f *Flag) bool { return f == nil || !is(f.Case) || f.Cases < 1 })
}
