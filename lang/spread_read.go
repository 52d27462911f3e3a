package lang

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strconv"

	"tapline/lang/diag"
	"tapline/lang/quantity"
)

// Reading spreads. The partial blocks of a spread are read like those of a case,
// only that a value may stand for several: it then keeps them aside (Value.moves)
// and says one of them. What moves is found in the merged blocks, so that given
// values are found where they are used, and tolerances wherever they come from.

// several are the forms that stand for more than one value.
const several = quantity.Series | quantity.Range

// forms widens the forms of an attribute that takes single values.
func (in *interpreter) forms(f quantity.Form) quantity.Form {
	if in.moves && f&quantity.Single != 0 && f&quantity.Range == 0 {
		f |= several
	}
	return f
}

// several keeps aside what v stands for, and lets it say the first of a list or
// the middle of a range.
func (in *interpreter) several(a *Attribute, v *Value, dim quantity.Dimension) bool {
	if !in.limits(a, v) {
		return false
	}
	v.moves = v.Quantity
	one := v.moves.Low
	if v.moves.Form == quantity.Series {
		one = v.moves.Points[0]
	} else {
		one.SI = (v.moves.Low.SI + v.moves.High.SI) / 2
	}
	v.Quantity, v.Number = single(one), one.SI
	return true
}

func single(q quantity.Quantity) *quantity.Value {
	return &quantity.Value{Form: quantity.Single, Nominal: q, Text: q.Number}
}

// spreadHeader reads what a spread says of itself.
func (b *builder) spreadHeader(blk *Block) {
	inner := blk.Blocks
	blk.Blocks = nil
	b.check.block(blk, spreadBlock, false, nil)
	blk.Blocks = inner
	n := b.d.names
	if first := n.spreads[blk.Tag]; first != nil {
		b.found.errorf(repeatedBlock, blk.Range, "give it another name", "spread %s stands here a second time", show(blk.Tag)).
			relate(first.Range, "first here")
		return
	}
	whole := func(name string) float64 {
		v := blk.Get(name)
		if v == nil {
			return 0
		}
		if v.Number != math.Trunc(v.Number) {
			b.found.errorf(outsideLimits, v.Range, "", "%s must be %s", name, spreadBlock.Attribute(name).Limits.Text)
			return 1
		}
		return v.Number
	}
	s := &Spread{Case: caseOf(blk), Draws: int(whole("draws")), Seed: uint64(whole("seed"))}
	if blk.Has("seed") && !blk.Has("draws") && !blk.ill {
		b.found.errorf(missingAttr, blk.Attrs["seed"].NameRange, "draws = 5000", "seed needs draws beside it")
	}
	n.spreads[s.Name] = s
	b.d.Spreads = append(b.d.Spreads, s)
}

// spreadBody reads the partial blocks of a spread.
func (b *builder) spreadBody(blk *Block) {
	s := b.d.names.spreads[blk.Tag]
	if s == nil || s.Range != blk.Range {
		return // a repeated one, reported
	}
	b.check.in.moves = true
	b.partials(blk, &s.Case)
	b.check.in.moves = false
}

// spread finds what moves in each spread, and holds the numbers of cases against
// what a system may have. Where other mistakes are, it waits until they are gone.
func (d *Description) spread(found *collector) {
	if len(d.Spreads) == 0 || found.errors() {
		return
	}
	in := newInterpreter(found)
	in.moves = true
	combined, draws := 0, 0
	for _, s := range d.Spreads {
		if !d.variables(s, in) {
			continue
		}
		total, most, what := &combined, maxCombined, "cases"
		if s.Draws > 0 {
			total, most, what = &draws, maxDraws, "draws"
		}
		n := 1
		for _, v := range s.Variables {
			if n *= max(v.Values, 1); n > most {
				break
			}
		}
		if s.Draws > 0 {
			n = s.Draws
		}
		if *total += n; *total > most {
			found.errorf(tooLarge, s.Range, "fewer values, or draws in place of combinations", "the spreads of a system have at most %d %s together", most, what)
			return
		}
	}
}

// errors tells whether any error was found.
func (c *collector) errors() bool {
	return slices.ContainsFunc(c.list, func(d diag.Diagnostic) bool { return d.Level == diag.Error })
}

// variables finds what a spread moves; false where that is nothing, which is said.
func (d *Description) variables(s *Spread, in *interpreter) bool {
	before := len(in.found.list)
	r := d.resolve(s.Name, &s.Case, in)
	if len(in.found.list) > before {
		return false
	}
	f := &finder{s: s, found: in.found}
	f.block(place{site: true, block: -1, inline: -1}, r.Site)
	for i, b := range r.Blocks {
		f.block(place{block: i, inline: -1}, b)
	}
	for i, b := range r.Inline {
		f.block(place{block: -1, inline: i}, b)
	}
	if len(in.found.list) > before {
		return false
	}
	slices.SortStableFunc(f.written, func(a, b *Variable) int {
		return cmp.Or(cmp.Compare(a.Range.File, b.Range.File), cmp.Compare(a.Range.Start.Byte, b.Range.Start.Byte))
	})
	f.label()
	s.Variables = append(f.written, f.loose...)
	switch {
	case len(s.Variables) > 0:
	case s.Draws > 0:
		in.found.errorf(nothingMoves, s.Range, `set = "3.5 +/- 0.1 barg" in a device, or a range here`, "nothing in the files has a tolerance that %s could draw", show(s.Name))
		return false
	default:
		in.found.errorf(nothingMoves, s.Range, `pressure = "16 .. 60 barg, 12 values", or draws = 5000`, "spread %s moves nothing: no value in it is a list", show(s.Name))
		return false
	}
	if s.Draws > 0 {
		for _, v := range s.Variables {
			v.key = drawKey(s.Seed, s.Name, v.Label)
		}
	}
	for _, b := range r.Blocks {
		if b.typ == fluidBlock {
			f.wholeGas(b)
		}
	}
	return len(in.found.list) == before
}

// A finder collects the variables of a spread.
type finder struct {
	s              *Spread
	found          *collector
	written, loose []*Variable // written in the spread; tolerances
	names          []naming    // of written, before they are labelled
}

type naming struct {
	v         *Variable
	tag, full string
}

// block looks through a block and those in it.
func (f *finder) block(at place, b *Block) { f.within(at, b, b.Tag, "") }

func (f *finder) within(at place, b *Block, tag, prefix string) {
	var room names16
	for _, name := range b.inOrder(room[:0]) {
		v := b.Attrs[name]
		here := at
		here.attribute, here.entry = name, -1
		f.value(here, v, tag, prefix+name)
		for i, e := range v.Map {
			here.entry = i
			f.value(here, e.Value, tag, prefix+e.Key)
		}
	}
	for i, n := range b.Blocks {
		in := at
		in.within = append(slices.Clone(at.within), i)
		f.within(in, n, tag, prefix+n.Kind+".")
	}
}

// value adds a value that moves.
func (f *finder) value(at place, v *Value, tag, name string) {
	full := name
	if tag != "" {
		full = tag + "." + name
	}
	switch q := v.moves; {
	case q != nil && (q.Form == quantity.Series) == (f.s.Draws > 0):
		f.unfit(v)
	case q != nil:
		one := &Variable{Range: v.Range, Text: v.Text, Values: len(q.Points), Low: q.Low, High: q.High}
		at.points, at.low, at.high = q.Points, q.Low, q.High
		if v.Given != "" {
			tag, full = v.Given, v.Given
			if i := slices.IndexFunc(f.written, func(w *Variable) bool { return w.Range == v.Range }); i >= 0 {
				f.written[i].places = append(f.written[i].places, at)
				return
			}
		}
		f.twice(v)
		one.places = []place{at}
		f.written = append(f.written, one)
		f.names = append(f.names, naming{one, cmp.Or(tag, name), full})
	case f.s.Draws > 0 && v.Quantity != nil && v.Quantity.Form == quantity.Tolerance:
		q := v.Quantity
		at.low, at.high = q.Low, q.High
		f.loose = append(f.loose, &Variable{Label: full, Range: v.Range, Text: v.Text, Low: q.Low, High: q.High, places: []place{at}})
	}
}

// unfit reports a list among draws, or a range among lists.
func (f *finder) unfit(v *Value) {
	if f.s.Draws > 0 {
		f.found.errorf(badValue, v.Range, `a range, as in "16 .. 60 barg"`, "a list of values does not go with draws")
		return
	}
	f.found.errorf(badValue, v.Range, fmt.Sprintf("%q", v.Text+", 5 values"), "it is not said which values of this range are combined")
}

// twice reports a value that stands in its list twice: its cases would have one name.
func (f *finder) twice(v *Value) {
	seen := map[string]bool{}
	for _, q := range v.moves.Points {
		text := q.Number + " " + q.Unit
		if seen[text] {
			f.found.errorf(repeatedKey, v.Range, "", "%s is in the list twice", show(text))
			return
		}
		seen[text] = true
	}
}

// label names what is written by its tag, or, where that is the tag of several, in
// full.
func (f *finder) label() {
	count := map[string]int{}
	for _, n := range f.names {
		count[n.tag]++
	}
	for _, n := range f.names {
		n.v.Label = n.tag
		if count[n.tag] > 1 {
			n.v.Label = n.full
		}
	}
}

// wholeGas sees to it that the parts of a gas that moves never come to more than
// the whole: there is a rest, and it is never below nothing.
func (f *finder) wholeGas(b *Block) {
	_, v := b.Composition()
	if v == nil {
		return
	}
	sum, moves, rest := 0.0, false, false
	for _, e := range v.Map {
		switch q := e.Value.Quantity; {
		case q == nil:
			rest = true
		case e.Value.moves != nil:
			moves = true
			sum += highest(e.Value.moves)
		case f.s.Draws > 0 && q.Form == quantity.Tolerance:
			sum += q.High.SI
		default:
			sum += q.Nominal.SI
		}
	}
	switch percent := strconv.FormatFloat(sum*100, 'g', 6, 64); {
	case moves && !rest:
		f.found.errorf(badComposition, v.Range, `methane = "rest"`, "a gas whose parts move needs a component that makes up the rest")
	case rest && sum > 1+whole:
		f.found.errorf(badComposition, v.Range, "", "the other components come to as much as %s %%: nothing is left for the \"rest\"", percent)
	}
}

func highest(q *quantity.Value) float64 {
	if q.Form != quantity.Series {
		return q.High.SI
	}
	most := 0.0
	for _, p := range q.Points {
		most = max(most, p.SI)
	}
	return most
}
