package quantity

import (
	"fmt"
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
	if v := quick(text); v != nil {
		return r, v, nil
	}
	v, err := r.byGrammar()
	if err != nil {
		return nil, nil, err
	}
	return r, v, nil
}

// byGrammar parses the text by the grammar, which alone says what is wrong.
func (r *reader) byGrammar() (*value, *Error) {
	tokens, err := scan(r.text)
	if err != nil {
		return nil, r.fail(r.all(), "the value cannot be read", r.example())
	}
	if err := r.slips(tokens); err != nil {
		return nil, err
	}
	stream, err := lexer.Upgrade(&replay{tokens: tokens})
	if err != nil {
		return nil, r.fail(r.all(), "the value cannot be read", r.example())
	}
	v, err := grammar().ParseFromLexer(stream)
	if err != nil {
		return nil, r.explain(tokens, err)
	}
	return v, nil
}

// scan cuts a text into tokens, space left out, the end of text last. The
// space goes here and not by the parser's own elision, because a token that
// the parser captures could otherwise be the space before it.
func scan(text string) ([]lexer.Token, error) {
	lex, err := definition().LexString("", text)
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
