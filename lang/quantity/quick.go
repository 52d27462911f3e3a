package quantity

import (
	"strings"

	"github.com/alecthomas/participle/v2/lexer"
)

// The usual spellings, read by hand.
//
// The grammar (grammar.go) defines the language. Its lexer tries seventeen
// regular expressions a token, and making it takes longer than the rest of the
// start of a process; nearly every value in a file is plain ASCII of units that
// exist. quick reads those in one pass to the tree that the grammar would make,
// and gives up, without a word, on everything else: the grammar then decides
// and explains. A test holds the two against each other.

// quick gives the tree of a text in a usual spelling, nil for any other.
func quick(text string) *value {
	s := quickScan{text: text, tokens: make([]lexer.Token, 0, strings.Count(text, " ")+1)}
	for s.skip(); s.at < len(text); s.skip() {
		if !s.token() {
			return nil
		}
	}
	p := quickParse{rest: s.tokens, ok: true}
	v := p.value()
	if !p.ok || len(p.rest) > 0 {
		return nil
	}
	return v
}

// A quickScan cuts a text into tokens as the grammar's lexer would.
type quickScan struct {
	text   string
	at     int
	tokens []lexer.Token
}

func (s *quickScan) skip() {
	for s.at < len(s.text) && s.text[s.at] == ' ' {
		s.at++
	}
}

// peek gives the byte n behind the one at hand, 0 past the end.
func (s *quickScan) peek(n int) byte {
	if s.at+n < len(s.text) {
		return s.text[s.at+n]
	}
	return 0
}

func (s *quickScan) emit(kind lexer.TokenType, end int) {
	s.tokens = append(s.tokens, lexer.Token{Type: kind, Value: s.text[s.at:end], Pos: lexer.Position{Offset: s.at, Line: 1, Column: s.at + 1}})
	s.at = end
}

// token takes the next token; false where it might be an unusual one.
func (s *quickScan) token() bool {
	next := s.peek(1)
	switch c := s.text[s.at]; {
	case isDigit(c):
		return s.number()
	case isLetter(c) || c == '%':
		return s.word()
	case c == ',':
		s.emit(kindComma, s.at+1)
	case c == '.' && next == '.' && s.peek(2) != '.':
		s.emit(kindRange, s.at+2)
	case c == '+' && next == '/' && s.peek(2) == '-':
		s.emit(kindPlusMinus, s.at+3)
	case c == '-' && next != '/' && next != '+':
		s.emit(kindSign, s.at+1)
	case c == '>' && next == '=', c == '<' && next == '=':
		s.emit(kindCompare, s.at+2)
	case c == '>', c == '<' && next != '>':
		s.emit(kindCompare, s.at+1)
	default:
		return false
	}
	return true
}

// digits gives the end of a run of digits, at itself if there is none.
func (s *quickScan) digits(at int) int {
	for at < len(s.text) && isDigit(s.text[at]) {
		at++
	}
	return at
}

// number takes a number or a fraction, but none that a comma or an underscore
// runs on behind.
func (s *quickScan) number() bool {
	end := s.digits(s.at)
	if e, ok := s.fraction(end); ok {
		s.emit(kindFraction, e)
		return true
	}
	if end < len(s.text) && s.text[end] == '.' {
		if e := s.digits(end + 1); e > end+1 {
			end = e
		}
	}
	if end < len(s.text) && (s.text[end] == ',' && s.digits(end+1) > end+1 || s.text[end] == '_') {
		return false
	}
	if end < len(s.text) && s.text[end]|0x20 == 'e' {
		power := end + 1
		if power < len(s.text) && (s.text[power] == '+' || s.text[power] == '-') {
			power++
		}
		if e := s.digits(power); e > power {
			end = e
		}
	}
	s.emit(kindNumber, end)
	return true
}

// fraction gives the end of "3/4" or "1 3/4" whose first digits end at end.
func (s *quickScan) fraction(end int) (int, bool) {
	top := end
	if top < len(s.text) && s.text[top] == ' ' {
		for top < len(s.text) && s.text[top] == ' ' {
			top++
		}
		if top = s.digits(top); !isDigit(s.text[top-1]) {
			return 0, false
		}
	}
	if top == len(s.text) || s.text[top] != '/' {
		return 0, false
	}
	bottom := s.digits(top + 1)
	return bottom, bottom > top+1
}

// word takes a keyword or a unit that exists.
func (s *quickScan) word() bool {
	end := s.at + 1
	for end < len(s.text) && inWord(s.text[end]) {
		end++
	}
	if end < len(s.text) && (s.text[end] == '(' || s.text[end] >= 0x80) {
		return false // the word may go on
	}
	switch word := s.text[s.at:end]; word {
	case "at", "by", "x", "values":
		s.emit(kindKeyword, end)
		return true
	default:
		if len(spellings()[word]) == 0 {
			return false
		}
	}
	s.emit(kindWord, end)
	return true
}

func isDigit(c byte) bool  { return '0' <= c && c <= '9' }
func isLetter(c byte) bool { return 'a' <= c|0x20 && c|0x20 <= 'z' }

func inWord(c byte) bool {
	return isLetter(c) || isDigit(c) || c == '%' || c == '^' || c == '*' || c == '/' || c == '_'
}

// A quickParse makes the tree of the tokens; ok turns false where they do not
// follow the grammar.
type quickParse struct {
	rest []lexer.Token
	ok   bool
}

// is reports whether a token of this kind comes next.
func (p *quickParse) is(kind lexer.TokenType) bool {
	return len(p.rest) > 0 && p.rest[0].Type == kind
}

func (p *quickParse) isKeyword(word string) bool {
	return p.is(kindKeyword) && p.rest[0].Value == word
}

func (p *quickParse) take() *lexer.Token {
	t := &p.rest[0]
	p.rest = p.rest[1:]
	return t
}

func (p *quickParse) value() *value {
	if p.is(kindCompare) {
		b := &bound{Operator: *p.take()}
		p.measure(&b.Measure)
		b.At = p.state()
		return &value{Bound: b}
	}
	v := &plain{}
	p.measure(&v.First)
	switch {
	case p.is(kindRange):
		v.Range = p.rangeTail()
	case p.is(kindPlusMinus):
		v.Tolerance = &tolerance{Sign: *p.take()}
		p.measure(&v.Tolerance.Delta)
	case p.isKeyword("x"):
		p.take()
		v.Wall = p.another()
	default:
		for p.is(kindComma) {
			p.take()
			v.Rest = append(v.Rest, p.another())
		}
	}
	v.At = p.state()
	return &value{Plain: v}
}

func (p *quickParse) measure(m *measure) {
	if p.is(kindSign) {
		m.Sign = p.take()
	}
	if !p.is(kindNumber) && !p.is(kindFraction) {
		p.ok, p.rest = false, nil
		return
	}
	m.Number = *p.take()
	if p.is(kindWord) {
		m.Unit = p.take()
	}
}

// another reads a measure that is not always there.
func (p *quickParse) another() *measure {
	m := &measure{}
	p.measure(m)
	return m
}

func (p *quickParse) rangeTail() *rangeTail {
	p.take()
	r := &rangeTail{}
	p.measure(&r.High)
	switch {
	case p.is(kindComma) && len(p.rest) > 2 && p.rest[1].Type == kindNumber && p.rest[2].Value == "values":
		r.Count = &p.rest[1]
		p.rest = p.rest[3:]
	case p.isKeyword("by"):
		p.take()
		r.Step = p.another()
	}
	return r
}

func (p *quickParse) state() *state {
	if !p.isKeyword("at") {
		return nil
	}
	s := &state{At: *p.take()}
	p.measure(&s.First)
	if p.is(kindComma) {
		p.take()
		s.Second = p.another()
	}
	return s
}
