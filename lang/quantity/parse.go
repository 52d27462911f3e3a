package quantity

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"unicode/utf8"

	"github.com/alecthomas/participle/v2/lexer"
)

// Limits on what one text may hold.
const (
	MaxLength = 400       // bytes of a text
	MaxDigits = 64        // characters of a number
	MaxPoints = 1_000_000 // points of a series
)

// Parse reads a text as a value of dimension d in one of the allowed forms.
// The error is always an *Error with its place in text.
//
// A unit may be left out on the left of a range, of a tolerance or of a tube
// size and between the commas of a list; the next one to the right then
// counts. A series must land on both of its ends, and ranges run upward.
func Parse(text string, d Dimension, allowed Form) (Value, error) {
	r, v, err := read(text, d, allowed)
	if err != nil {
		return Value{}, err
	}
	out, err := r.value(v, true)
	if err != nil {
		return Value{}, err
	}
	return out, nil // a bare nil, not a nil *Error
}

// SeriesLen tells how many points Parse would expand a series to, without
// expanding it: 1 for every other form, 0 if the text does not parse. Callers
// that read many series from an untrusted file add these up first, so that the
// file cannot ask for more memory than its budget.
func SeriesLen(text string, d Dimension) int {
	r, v, err := read(text, d, ^Form(0))
	if err != nil {
		return 0
	}
	if _, err = r.value(v, false); err != nil {
		return 0
	}
	return max(r.points, 1)
}

// ParseReference reads a reference state, "15 degC, 101.325 kPaa": a
// temperature, then an absolute pressure. The error is always an *Error.
func ParseReference(text string) (Reference, error) {
	r, v, err := read(text, Temperature, Series)
	if err != nil {
		return Reference{}, err
	}
	p := v.Plain
	if p == nil || len(p.Rest) != 1 || p.At != nil {
		return Reference{}, r.fail(r.all(), "a reference state is a temperature and an absolute pressure", `"15 degC, 101.325 kPaa"`)
	}
	ref, err := r.reference(&p.First, p.Rest[0])
	if err != nil {
		return Reference{}, err
	}
	return ref, nil
}

// A reader turns the parse tree of one text into values. points is filled by
// the reading of a series.
type reader struct {
	text    string
	d       Dimension
	allowed Form
	points  int
}

// read checks and parses a text; the parse tree holds what the grammar allows
// for any dimension.
func read(text string, d Dimension, allowed Form) (*reader, *value, *Error) {
	r := &reader{text: text, d: d, allowed: allowed}
	if d < 0 || int(d) >= len(dimensionNames) {
		return nil, nil, r.fail(r.all(), "no value of this kind is known", "")
	}
	if len(text) > MaxLength {
		return nil, nil, r.fail(r.all(), fmt.Sprintf("the value is %d bytes long; at most %d are read", len(text), MaxLength), r.example())
	}
	if strings.TrimSpace(text) == "" {
		return nil, nil, r.fail(r.all(), "the value is empty", r.example())
	}
	if !utf8.ValidString(text) {
		return nil, nil, r.fail(r.all(), "the value is not valid UTF-8 text", r.example())
	}
	tokens, err := scan(text)
	if err != nil {
		return nil, nil, r.fail(r.all(), "the value cannot be read", r.example())
	}
	if err := r.slips(tokens); err != nil {
		return nil, nil, err
	}
	stream, err := lexer.Upgrade(&replay{tokens: tokens})
	if err != nil {
		return nil, nil, r.fail(r.all(), "the value cannot be read", r.example())
	}
	v, err := grammar.ParseFromLexer(stream)
	if err != nil {
		return nil, nil, r.explain(tokens, err)
	}
	return r, v, nil
}

// scan cuts a text into tokens, space left out, the end of text last. The
// space goes here and not by the parser's own elision, because a token that
// the parser captures could otherwise be the space before it.
func scan(text string) ([]lexer.Token, error) {
	lex, err := definition.LexString("", text)
	if err != nil {
		return nil, err
	}
	var tokens []lexer.Token
	for {
		t, err := lex.Next()
		if err != nil {
			return nil, err
		}
		if t.Type != kindSpace {
			tokens = append(tokens, t)
		}
		if t.EOF() {
			return tokens, nil
		}
	}
}

// replay hands the tokens that have been checked on to the parser.
type replay struct {
	tokens []lexer.Token
	next   int
}

func (l *replay) Next() (lexer.Token, error) {
	t := l.tokens[min(l.next, len(l.tokens)-1)]
	l.next++
	return t, nil
}

// place is a run of bytes of the text.
type place struct{ start, end int }

func (r *reader) all() place { return place{0, len(r.text)} }

func (m *measure) place() place {
	start, end := m.span()
	return place{start, end}
}

func tokenPlace(t *lexer.Token) place {
	return place{t.Pos.Offset, t.Pos.Offset + len(t.Value)}
}

func (p place) to(q place) place { return place{p.start, q.end} }

func (r *reader) at(p place) string { return r.text[p.start:p.end] }

func (r *reader) fail(p place, message, hint string) *Error {
	return &Error{Message: message, Hint: hint, Start: p.start, End: p.end}
}

// value gives the meaning of the tree; with expand false the points of a
// series are counted but not made.
func (r *reader) value(v *value, expand bool) (Value, *Error) {
	var out Value
	var err *Error
	switch {
	case v.Bound != nil:
		out, err = r.bound(v.Bound)
	case v.Plain.Range != nil && (v.Plain.Range.Count != nil || v.Plain.Range.Step != nil):
		out, err = r.spaced(v.Plain, expand)
	case v.Plain.Range != nil:
		out, err = r.limits(v.Plain)
	case v.Plain.Tolerance != nil:
		out, err = r.tolerance(v.Plain)
	case v.Plain.Wall != nil:
		out, err = r.tube(v.Plain)
	case len(v.Plain.Rest) > 0:
		out, err = r.list(v.Plain)
	default:
		out, err = r.single(v.Plain)
	}
	if err != nil {
		return Value{}, err
	}
	out.Text = r.text
	return out, nil
}

// want refuses a form that the place does not take.
func (r *reader) want(f Form, p place) *Error {
	if r.allowed&f != 0 {
		return nil
	}
	return r.fail(p, fmt.Sprintf("%s does not fit here; what fits is %s", f.describe(), r.allowed.describe()), r.example())
}

func (r *reader) single(p *plain) (Value, *Error) {
	if p.At != nil && p.At.Second == nil && !isUnitOf(p.At.First.Unit, Temperature) &&
		(r.allowed&FlowAtDrop != 0 || isUnitOf(p.At.First.Unit, PressureDifference)) {
		return r.flowAtDrop(p)
	}
	if err := r.want(Single, r.all()); err != nil {
		return Value{}, err
	}
	q, err := r.quantity(&p.First, p.First.Unit, p.At)
	return Value{Form: Single, Nominal: q}, err
}

func (r *reader) flowAtDrop(p *plain) (Value, *Error) {
	if err := r.want(FlowAtDrop, r.all()); err != nil {
		return Value{}, err
	}
	// A leak is measured as plain volume at its outlet, so plain volume is right here for a gas too.
	d := r.d
	if d == GasFlow {
		d = AnyFlow
	}
	flow, err := r.as(d).quantity(&p.First, p.First.Unit, nil)
	if err != nil {
		return Value{}, err
	}
	drop, err := r.as(PressureDifference).quantity(&p.At.First, p.At.First.Unit, nil)
	return Value{Form: FlowAtDrop, Nominal: flow, Drop: drop}, err
}

func (r *reader) bound(b *bound) (Value, *Error) {
	if err := r.want(Bound, r.all()); err != nil {
		return Value{}, err
	}
	q, err := r.quantity(&b.Measure, b.Measure.Unit, b.At)
	if err != nil {
		return Value{}, err
	}
	open := len(b.Operator.Value) == 1
	if b.Operator.Value[0] == '>' {
		return Value{Form: Bound, Low: q, HasLow: true, LowOpen: open}, nil
	}
	return Value{Form: Bound, High: q, HasHigh: true, HighOpen: open}, nil
}

func (r *reader) limits(p *plain) (Value, *Error) {
	if err := r.want(Range, r.all()); err != nil {
		return Value{}, err
	}
	low, high, err := r.ends(p)
	return Value{Form: Range, Low: low, High: high, HasLow: true, HasHigh: true}, err
}

// ends reads both sides of "a .. b".
func (r *reader) ends(p *plain) (low, high Quantity, err *Error) {
	m := &p.Range.High
	unit := p.First.Unit
	if unit == nil {
		unit = m.Unit
	}
	if high, err = r.quantity(m, m.Unit, p.At); err != nil {
		return
	}
	if low, err = r.quantity(&p.First, unit, p.At); err != nil {
		return
	}
	both := p.First.place().to(m.place())
	if err = r.comparable(low, high, both); err != nil {
		return
	}
	if low.SI > high.SI {
		err = r.fail(both, "the range runs from high to low", r.quoted(both, r.numberText(m)+" .. "+r.at(p.First.place())+r.missingUnit(&p.First, m)))
	}
	return
}

// numberText is a measure as written; missingUnit the unit to add to the left
// one when the two change places.
func (r *reader) numberText(m *measure) string { return r.at(m.place()) }

func (r *reader) missingUnit(left, right *measure) string {
	if left.Unit == nil && right.Unit != nil {
		return " " + right.Unit.Value
	}
	return ""
}

// comparable refuses two quantities that are not measured from the same thing.
func (r *reader) comparable(a, b Quantity, p place) *Error {
	if a.Basis == b.Basis && a.Ref == b.Ref {
		return nil
	}
	if r.d == Pressure {
		return r.fail(p, fmt.Sprintf("%q and %q do not compare: one is gauge, the other absolute", a.Unit, b.Unit), "write both in gauge or both in absolute pressure")
	}
	return r.fail(p, fmt.Sprintf("%q and %q do not compare: they are not counted at the same state", a.Unit, b.Unit), "write both with units of the same kind")
}

func (r *reader) tube(p *plain) (Value, *Error) {
	if err := r.want(Tube, r.all()); err != nil {
		return Value{}, err
	}
	if p.At != nil {
		return Value{}, r.noReference(p.At)
	}
	unit := p.First.Unit
	if unit == nil {
		unit = p.Wall.Unit
	}
	wall, err := r.quantity(p.Wall, p.Wall.Unit, nil)
	if err != nil {
		return Value{}, err
	}
	outside, err := r.quantity(&p.First, unit, nil)
	if err != nil {
		return Value{}, err
	}
	switch {
	case outside.SI <= 0:
		return Value{}, r.fail(p.First.place(), "the outside diameter must be above zero", `"6 mm x 1 mm"`)
	case wall.SI <= 0:
		return Value{}, r.fail(p.Wall.place(), "the wall must be above zero", `"6 mm x 1 mm"`)
	case 2*wall.SI >= outside.SI:
		return Value{}, r.fail(p.Wall.place(), "the wall leaves no bore: twice the wall must be less than the outside diameter", `outside diameter first, then wall: "6 mm x 1 mm"`)
	}
	return Value{Form: Tube, Nominal: outside, Wall: wall}, nil
}

func (r *reader) list(p *plain) (Value, *Error) {
	if err := r.want(Series, r.all()); err != nil {
		return Value{}, err
	}
	items := append([]*measure{&p.First}, p.Rest...)
	points := make([]Quantity, len(items))
	var unit *lexer.Token
	for i := len(items) - 1; i >= 0; i-- {
		if items[i].Unit != nil {
			unit = items[i].Unit
		}
		q, err := r.quantity(items[i], unit, p.At)
		if err != nil {
			return Value{}, err
		}
		points[i] = q
	}
	for i := 1; i < len(points); i++ {
		if err := r.comparable(points[i-1], points[i], items[i-1].place().to(items[i].place())); err != nil {
			return Value{}, err
		}
	}
	r.points = len(points)
	return Value{Form: Series, Points: points}, nil
}

// spaced reads "a .. b, n values" and "a .. b by s".
func (r *reader) spaced(p *plain, expand bool) (Value, *Error) {
	if err := r.want(Series, r.all()); err != nil {
		return Value{}, err
	}
	low, high, err := r.ends(p)
	if err != nil {
		return Value{}, err
	}
	n := 0
	if p.Range.Count != nil {
		if n, err = r.count(p.Range.Count); err != nil {
			return Value{}, err
		}
	} else if n, err = r.steps(p, low, high); err != nil {
		return Value{}, err
	}
	r.points = n
	v := Value{Form: Series}
	if !expand {
		return v, nil
	}
	// Points are spaced in the numbers of the unit on the right, so that their
	// texts read "60", "65", not the echo of a conversion.
	u := find(high.Unit, flowOr(r.d))
	a, b := fromSI(low.SI, u), fromSI(high.SI, u)
	zero := 1e-12 * max(math.Abs(a), math.Abs(b)) // what the conversion can leave of nothing
	v.Points = make([]Quantity, n)
	for i := range v.Points {
		q := high
		number := a + (b-a)*float64(i)/float64(n-1)
		if math.Abs(number) < zero {
			number = 0
		}
		q.Number = shortest(number)
		q.SI = low.SI + (high.SI-low.SI)*float64(i)/float64(n-1)
		v.Points[i] = q
	}
	v.Points[0].SI, v.Points[n-1].SI = low.SI, high.SI
	return v, nil
}

func (r *reader) count(t *lexer.Token) (int, *Error) {
	n, err := strconv.Atoi(t.Value)
	switch {
	case strings.ContainsAny(t.Value, ".eE"):
		return 0, r.fail(tokenPlace(t), "the number of values must be a whole number", `"60 .. 110 barg, 11 values"`)
	case err != nil || n > MaxPoints:
		return 0, r.fail(tokenPlace(t), fmt.Sprintf("too many values: at most %d", MaxPoints), "")
	case n < 2:
		return 0, r.fail(tokenPlace(t), "a series has at least 2 values, its two ends", "write a single value for one case")
	}
	return n, nil
}

// steps gives the number of points of "a .. b by s".
func (r *reader) steps(p *plain, low, high Quantity) (int, *Error) {
	m := p.Range.Step
	step, err := r.difference(m, m.Unit, high)
	if err != nil {
		return 0, err
	}
	if step <= 0 {
		return 0, r.fail(m.place(), "the step must be above zero", "")
	}
	steps := (high.SI - low.SI) / step
	if steps > MaxPoints-1 {
		return 0, r.fail(m.place(), fmt.Sprintf("the step is so small that the series has more than %d values", MaxPoints), "")
	}
	n := math.Round(steps)
	if n < 1 || math.Abs(steps-n) > 1e-6*max(1, n) {
		hint := ""
		if n >= 1 {
			both := p.First.place().to(p.Range.High.place())
			hint = fmt.Sprintf(`"%s, %d values"`, r.at(both), int(n)+1)
		}
		return 0, r.fail(m.place(), "steps of this size do not end at the upper value", hint)
	}
	return int(n) + 1, nil
}
