package path

import (
	"strings"

	"github.com/alecthomas/participle/v2/lexer"
)

// The usual spellings, read by hand.
//
// The grammar (grammar.go) defines the language. Making it takes longer than
// the rest of the start of a process, and its lexer tries a dozen regular
// expressions a token; nearly every path is sound. quick reads those in one
// pass to the tree that the grammar would make, and gives up, without a word,
// on everything else: the grammar then decides and explains. A test holds the
// two against each other.

// quick gives the tree of a text in a usual spelling, nil for any other.
func quick(text string) *chain {
	s := quickScan{text: text, tokens: make([]lexer.Token, 0, len(text)/4)}
	if !s.all() {
		return nil
	}
	p := quickParse{rest: s.tokens}
	c := &chain{}
	if !p.stop(&c.First) {
		return nil
	}
	for p.is(kindArrow) {
		p.take()
		if len(c.Rest) == MaxStops-1 {
			return nil
		}
		c.Rest = append(c.Rest, stop{})
		if !p.stop(&c.Rest[len(c.Rest)-1]) {
			return nil
		}
	}
	if len(p.rest) > 0 {
		return nil
	}
	return c
}

// A quickScan cuts a text into tokens as the grammar's lexer would, blank ones
// left out.
type quickScan struct {
	text   string
	at     int
	tokens []lexer.Token
}

func (s *quickScan) emit(kind lexer.TokenType, end int) {
	s.tokens = append(s.tokens, lexer.Token{Type: kind, Value: s.text[s.at:end], Pos: lexer.Position{Offset: s.at}})
	s.at = end
}

// all takes every token; false where one might be unusual.
func (s *quickScan) all() bool {
	for s.at < len(s.text) {
		switch c := s.text[s.at]; {
		case c == ' ' || c == '\n' || c == '\t' || c == '\r':
			s.at++
		case inName(c):
			end := s.name()
			kind := kindName
			if s.text[s.at:end] == "tube" {
				kind = kindTube
			}
			s.emit(kind, end)
		case strings.HasPrefix(s.text[s.at:], "->") && !strings.HasPrefix(s.text[s.at+2:], ">"):
			s.emit(kindArrow, s.at+2)
		case c == '.':
			s.emit(kindDot, s.at+1)
		case c == '\'':
			if !s.quoted(kindQuoted) {
				return false
			}
		case c == '(':
			s.emit(kindOpen, s.at+1)
			if !s.inside() {
				return false
			}
		default:
			return false
		}
	}
	return true
}

func inName(c byte) bool {
	return c == '_' || '0' <= c && c <= '9' || 'a' <= c|0x20 && c|0x20 <= 'z'
}

// name gives the end of the name at hand: runs joined by a dash or a slash.
func (s *quickScan) name() int {
	end := s.at
	for {
		for end < len(s.text) && inName(s.text[end]) {
			end++
		}
		if end+1 >= len(s.text) || s.text[end] != '-' && s.text[end] != '/' || !inName(s.text[end+1]) {
			return end
		}
		end++
	}
}

// quoted takes a name in quotes, which ends on its line.
func (s *quickScan) quoted(kind lexer.TokenType) bool {
	n := strings.IndexAny(s.text[s.at+1:], "'\n")
	if n < 0 || s.text[s.at+1+n] == '\n' {
		return false
	}
	s.emit(kind, s.at+n+2)
	return true
}

// inside takes the tokens up to the parenthesis that closes.
func (s *quickScan) inside() bool {
	for s.at < len(s.text) {
		switch s.text[s.at] {
		case ')':
			s.emit(kindInsideClose, s.at+1)
			return true
		case ',':
			s.emit(kindComma, s.at+1)
		case '\'':
			if !s.quoted(kindInsideQuoted) {
				return false
			}
		default:
			end := s.run()
			if end == s.at {
				return false
			}
			if strings.TrimSpace(s.text[s.at:end]) == "" {
				s.at = end
			} else {
				s.emit(kindText, end)
			}
		}
	}
	return false
}

// run gives the end of a run of text: dashes belong to it where something else
// of it follows them.
func (s *quickScan) run() int {
	for end := s.at; ; {
		past := end
		for past < len(s.text) && s.text[past] == '-' {
			past++
		}
		if past == len(s.text) || strings.IndexByte(",()'", s.text[past]) >= 0 || past > end && s.text[past] == '>' {
			return end
		}
		end = past + 1
	}
}

// A quickParse makes the tree of the tokens. Its methods tell whether they
// follow the grammar.
type quickParse struct{ rest []lexer.Token }

// is reports whether a token of this kind comes next.
func (p *quickParse) is(kind lexer.TokenType) bool {
	return len(p.rest) > 0 && p.rest[0].Type == kind
}

func (p *quickParse) take() *lexer.Token {
	t := &p.rest[0]
	p.rest = p.rest[1:]
	return t
}

// must takes a token of this kind into the tree.
func (p *quickParse) must(kind lexer.TokenType, into *lexer.Token) bool {
	if !p.is(kind) {
		return false
	}
	*into = *p.take()
	return true
}

func (p *quickParse) stop(s *stop) bool {
	switch {
	case p.is(kindTube):
		s.Tube = &tube{}
		return p.tube(s.Tube)
	case p.is(kindOpen):
		s.Label = &label{Open: *p.take()}
		if p.is(kindInsideQuoted) {
			s.Label.Quoted = p.take()
		} else if p.is(kindText) {
			s.Label.Text = p.take()
		}
		return p.must(kindInsideClose, &s.Label.Close)
	case p.is(kindName), p.is(kindQuoted):
		s.Device = &device{Name: *p.take()}
		if p.is(kindDot) {
			s.Device.Dot = p.take()
			s.Device.Port = &lexer.Token{}
			return p.must(kindName, s.Device.Port)
		}
		return true
	}
	return false
}

func (p *quickParse) tube(t *tube) bool {
	t.Word = *p.take()
	if p.is(kindName) || p.is(kindQuoted) || p.is(kindTube) {
		t.Name = p.take()
	}
	if !p.must(kindOpen, &t.Open) {
		return false
	}
	if p.is(kindText) {
		t.Args = append(t.Args, &argument{*p.take()})
		for p.is(kindComma) {
			p.take()
			a := &argument{}
			if !p.must(kindText, &a.Text) {
				return false
			}
			t.Args = append(t.Args, a)
		}
	}
	return p.must(kindInsideClose, &t.Close)
}
