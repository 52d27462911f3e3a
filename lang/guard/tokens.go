package guard

import (
	"bytes"
	"fmt"
	"strconv"
	"strings"

	"github.com/hashicorp/hcl/v2/hclsyntax"
)

// none stands for the token before the first.
var none = hclsyntax.Token{Type: hclsyntax.TokenNewline}

// A scan is the state of the walk over the tokens.
type scan struct {
	*checker
	tokens []hclsyntax.Token
	open   []hclsyntax.Token // braces and brackets not yet closed
	last   hclsyntax.Token   // the token before, comments left out
	solid  hclsyntax.Token   // the same, newlines left out too
	words  int               // identifiers and strings in a row
}

// tokens walks over the file once. It stops at the first thing after which the
// tokens no longer mean what they seem to: too deep, or a string without end.
func (c *checker) tokens(tokens []hclsyntax.Token) {
	s := &scan{checker: c, tokens: tokens, last: none, solid: none}
	for i := 0; i < len(tokens) && !c.full; {
		n := s.token(i)
		if n == 0 {
			return
		}
		i += n
	}
	for _, t := range s.open {
		c.at(Unclosed, t, fmt.Sprintf("%q is not closed", t.Bytes), "")
	}
}

func (c *checker) at(code string, t hclsyntax.Token, message, hint string) {
	start, end := t.Range.Start.Byte, t.Range.End.Byte
	c.add(code, start, max(end, start+1), message, hint)
}

// token looks at token i and says how many tokens it took; 0 ends the walk.
func (s *scan) token(i int) int {
	t := s.tokens[i]
	took := 1
	words := 0
	switch t.Type {
	case hclsyntax.TokenNewline, hclsyntax.TokenEOF:
		s.last, s.words = t, 0
		return 1
	case hclsyntax.TokenComment:
		if bytes.HasSuffix(t.Bytes, []byte("\n")) {
			s.last, s.words = none, 0
		}
		return 1
	case hclsyntax.TokenIdent:
		words = s.words + 1
		s.identifier(i)
	case hclsyntax.TokenOQuote, hclsyntax.TokenOHeredoc:
		words = s.words + 1
		if took = s.text(i); took == 0 {
			return 0
		}
	case hclsyntax.TokenNumberLit:
		s.number(i)
	case hclsyntax.TokenMinus:
		s.minus(i)
	case hclsyntax.TokenDot:
		s.dot(i)
	case hclsyntax.TokenOBrace, hclsyntax.TokenOBrack:
		if !s.opening(t) {
			return 0
		}
	case hclsyntax.TokenCBrace, hclsyntax.TokenCBrack:
		s.closing(t)
	case hclsyntax.TokenEqual, hclsyntax.TokenColon:
	case hclsyntax.TokenComma:
		s.comma(i)
	default:
		if took = s.foreign(i); took == 0 {
			return 0
		}
	}
	if words == MaxLabels+2 {
		s.at(TooManyLabels, t, fmt.Sprintf("more than %d labels on one block", MaxLabels), `a kind and a tag, valve "NV-1" { ... }`)
	}
	s.words = words
	s.last = s.tokens[i+took-1]
	s.solid = s.last
	return took
}

// next gives the token behind i, comments included; the end of the file counts
// as a newline.
func (s *scan) next(i int) hclsyntax.Token {
	if i+1 < len(s.tokens) {
		return s.tokens[i+1]
	}
	return none
}

func adjacent(a, b hclsyntax.Token) bool { return a.Range.End.Byte == b.Range.Start.Byte }

// identifier refuses "for" where it would begin a comprehension.
func (s *scan) identifier(i int) {
	t := s.tokens[i]
	if string(t.Bytes) == "for" && (s.solid.Type == hclsyntax.TokenOBrack || s.solid.Type == hclsyntax.TokenOBrace) {
		s.at(NotAllowed, t, `"for" is not part of the language`, "write the values out, or use a spread")
	}
}

// text takes a whole string or heredoc.
func (s *scan) text(i int) int {
	opening := s.tokens[i]
	what, closing := "string", hclsyntax.TokenCQuote
	if opening.Type == hclsyntax.TokenOHeredoc {
		what, closing = "heredoc", hclsyntax.TokenCHeredoc
	}
	for n := i + 1; n < len(s.tokens); n++ {
		t := s.tokens[n]
		switch t.Type {
		case closing:
			return n - i + 1
		case hclsyntax.TokenQuotedLit, hclsyntax.TokenStringLit:
			// The parser joins the parts of a text one by one, in time that
			// grows with their square: 12 s and 8 GB for the largest file.
			if n-i > MaxParts {
				s.at(TextTooLong, opening, fmt.Sprintf("the %s has more than %d lines or escaped marks", what, MaxParts), "split it")
				return 0
			}
		case hclsyntax.TokenTemplateInterp, hclsyntax.TokenTemplateControl:
			mark := strings.TrimSuffix(string(t.Bytes), "~")
			s.at(NotAllowed, t, fmt.Sprintf("%q would begin a template, which the language does not have", mark), fmt.Sprintf("%q for the characters themselves", mark[:1]+mark))
			if n = s.template(n); n < 0 {
				return 0
			}
		case hclsyntax.TokenQuotedNewline:
			s.at(Unclosed, opening, "the string is not closed on its line", `end it with ", or use a heredoc for several lines`)
			return 0
		default:
			s.at(Unclosed, opening, fmt.Sprintf("the %s is not closed", what), "")
			return 0
		}
	}
	s.at(Unclosed, opening, fmt.Sprintf("the %s is not closed", what), "")
	return 0
}

// template gives the index of the end of a template that begins at n, or -1.
func (s *scan) template(n int) int {
	for depth := 0; n < len(s.tokens); n++ {
		switch s.tokens[n].Type {
		case hclsyntax.TokenTemplateInterp, hclsyntax.TokenTemplateControl:
			depth++
		case hclsyntax.TokenTemplateSeqEnd:
			if depth--; depth == 0 {
				return n
			}
		}
	}
	return -1
}

// number refuses long ones and absurd exponents, and units without quotes.
func (s *scan) number(i int) {
	t, next := s.tokens[i], s.next(i)
	text := string(t.Bytes)
	switch {
	case len(text) > MaxDigits:
		s.at(BadNumber, t, fmt.Sprintf("the number has more than %d digits", MaxDigits), "")
	case absurd(text):
		s.at(BadNumber, t, "the exponent is out of all reason; at most 30 either way", "")
	case next.Type == hclsyntax.TokenIdent && adjacent(t, next) && next.Bytes[0] == '_':
		s.span(BadNumber, t, next, fmt.Sprintf("%q has an underscore inside a number", clip(text+string(next.Bytes))), strings.ReplaceAll(clip(text+string(next.Bytes)), "_", ""))
	case next.Type == hclsyntax.TokenIdent || next.Type == hclsyntax.TokenPercent:
		whole := text + " " + string(next.Bytes)
		s.span(UnquotedValue, t, next, "a value with a unit stands in quotes", fmt.Sprintf("%q", clip(whole)))
	}
}

func absurd(number string) bool {
	_, exponent, ok := strings.Cut(strings.ToLower(number), "e")
	if !ok {
		return false
	}
	n, err := strconv.Atoi(exponent)
	return err != nil || n > 30 || n < -30
}

func (s *scan) span(code string, from, to hclsyntax.Token, message, hint string) {
	s.add(code, from.Range.Start.Byte, to.Range.End.Byte, message, hint)
}

// minus lets one pass before a number where a value begins.
func (s *scan) minus(i int) {
	t, next := s.tokens[i], s.next(i)
	switch s.solid.Type {
	case hclsyntax.TokenEqual, hclsyntax.TokenColon, hclsyntax.TokenComma, hclsyntax.TokenOBrack:
		if next.Type == hclsyntax.TokenNumberLit && adjacent(t, next) {
			return
		}
	}
	s.arithmetic(t)
}

func (s *scan) arithmetic(t hclsyntax.Token) {
	s.at(NotAllowed, t, fmt.Sprintf("%q: the language does not calculate", clip(string(t.Bytes))), "write the result")
}

// dot lets pass the one in given.NAME.
func (s *scan) dot(i int) {
	t, next := s.tokens[i], s.next(i)
	switch {
	case s.last.Type == hclsyntax.TokenIdent && next.Type == hclsyntax.TokenIdent && adjacent(s.last, t) && adjacent(t, next):
		if i >= 2 && s.tokens[i-2].Type == hclsyntax.TokenDot {
			s.at(NotAllowed, t, "a name has one point at most, as in given.NAME", "")
		}
	case next.Type == hclsyntax.TokenNumberLit && adjacent(t, next) && s.last.Type != hclsyntax.TokenIdent:
		s.span(BadNumber, t, next, "the number has no digit before the point", "0"+clip("."+string(next.Bytes)))
	default:
		s.at(NotAllowed, t, "a point stands only in given.NAME", "")
	}
}

// comma catches the decimal comma where no list can be.
func (s *scan) comma(i int) {
	t, next := s.tokens[i], s.next(i)
	inList := len(s.open) > 0 && s.open[len(s.open)-1].Type == hclsyntax.TokenOBrack
	if !inList && s.last.Type == hclsyntax.TokenNumberLit && next.Type == hclsyntax.TokenNumberLit && adjacent(s.last, t) && adjacent(t, next) {
		s.at(BadNumber, t, "the decimal sign is a point", clip(string(s.last.Bytes)+"."+string(next.Bytes)))
	}
}

// opening checks a brace or bracket; false ends the walk.
func (s *scan) opening(t hclsyntax.Token) bool {
	if t.Type == hclsyntax.TokenOBrack {
		switch s.solid.Type {
		case hclsyntax.TokenEqual, hclsyntax.TokenColon, hclsyntax.TokenComma, hclsyntax.TokenOBrack:
		default:
			s.at(NotAllowed, t, "a list stands only where a value is expected", "name = [ ... ]")
		}
	}
	if len(s.open) == MaxNesting {
		s.at(TooDeep, t, fmt.Sprintf("braces and brackets are nested more than %d deep", MaxNesting), "")
		s.open = nil // what is still open is beside the point now
		return false
	}
	s.open = append(s.open, t)
	return true
}

func (s *scan) closing(t hclsyntax.Token) {
	if len(s.open) == 0 {
		s.at(Unclosed, t, fmt.Sprintf("%q closes what was not opened", t.Bytes), "")
		return
	}
	opened := s.open[len(s.open)-1]
	s.open = s.open[:len(s.open)-1]
	want := hclsyntax.TokenCBrace
	if opened.Type == hclsyntax.TokenOBrack {
		want = hclsyntax.TokenCBrack
	}
	if t.Type != want {
		s.at(Unclosed, opened, fmt.Sprintf("%q is closed by %q", opened.Bytes, t.Bytes), fmt.Sprintf("%q", string(rune(want))))
	}
}
