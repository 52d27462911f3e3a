package guard

import (
	"bytes"
	"fmt"

	"github.com/hashicorp/hcl/v2/hclsyntax"
)

// foreign explains a token that the language does not have and says how many
// tokens it covers; 0 ends the walk. A run of the same token is one error.
func (s *scan) foreign(i int) int {
	t := s.tokens[i]
	run := 1
	for i+run < len(s.tokens) && s.tokens[i+run].Type == t.Type && adjacent(s.tokens[i+run-1], s.tokens[i+run]) {
		run++
	}
	all := t
	all.Range.End = s.tokens[i+run-1].Range.End
	switch t.Type {
	case hclsyntax.TokenOParen, hclsyntax.TokenCParen:
		if s.last.Type == hclsyntax.TokenIdent && t.Type == hclsyntax.TokenOParen {
			s.span(NotAllowed, s.last, all, "the language has no functions", "a tube stands inside the string of a path")
			break
		}
		s.at(NotAllowed, all, "parentheses stand only inside strings", `a node as "(P1)"`)
	case hclsyntax.TokenSlash:
		if next := s.next(i); next.Type == hclsyntax.TokenStar && adjacent(t, next) {
			s.span(Unclosed, t, next, "the comment is not closed", "end it with */")
			return 0
		}
		s.arithmetic(all)
	case hclsyntax.TokenPlus, hclsyntax.TokenStar, hclsyntax.TokenStarStar, hclsyntax.TokenPercent:
		if t.Type == hclsyntax.TokenPercent && s.last.Type == hclsyntax.TokenNumberLit {
			break // told at the number
		}
		s.arithmetic(all)
	case hclsyntax.TokenEqualOp, hclsyntax.TokenNotEqual, hclsyntax.TokenLessThan, hclsyntax.TokenLessThanEq,
		hclsyntax.TokenGreaterThan, hclsyntax.TokenGreaterThanEq, hclsyntax.TokenAnd, hclsyntax.TokenOr, hclsyntax.TokenBang:
		s.at(NotAllowed, all, fmt.Sprintf("%q: the language does not compare", t.Bytes), `a bound stands in quotes: ">= 1 barg"`)
	case hclsyntax.TokenQuestion:
		s.at(NotAllowed, all, "the language has no conditions", "write a case for each")
	case hclsyntax.TokenFatArrow:
		s.at(NotAllowed, all, `"=>" is not part of the language`, `"="`)
	case hclsyntax.TokenEllipsis:
		s.at(NotAllowed, all, `"..." is not part of the language`, `a range stands in quotes: "0.9 .. 1.1 barg"`)
	case hclsyntax.TokenApostrophe, hclsyntax.TokenBacktick:
		s.at(WrongCharacter, all, fmt.Sprintf("%q does not begin a string", t.Bytes), `double quotes: "..."`)
		return s.restOfLine(i)
	case hclsyntax.TokenSemicolon:
		s.at(WrongCharacter, all, `";" is not part of the language`, "one attribute a line, commas in lists")
	case hclsyntax.TokenInvalid:
		return s.invalid(i, run)
	default:
		s.at(NotAllowed, all, fmt.Sprintf("%q is not part of the language", clip(string(t.Bytes))), "")
	}
	return run
}

// invalid explains a character that begins no token.
func (s *scan) invalid(i, run int) int {
	t := s.tokens[i]
	switch string(t.Bytes) {
	case "“", "”", "„", "‟", "«", "»", "‘", "’", "‚":
		s.at(WrongCharacter, t, fmt.Sprintf("%q is a typographic quote", t.Bytes), `straight double quotes: "..."`)
		return s.restOfLine(i)
	case "\u00a0", "\u202f", "\u2009", "\u200b", "\u3000":
		s.at(WrongCharacter, t, "a space that is not a plain space stands here", "a plain space")
		return run
	case "−", "–", "—":
		s.at(WrongCharacter, t, fmt.Sprintf("%q is a typographic dash", t.Bytes), `"-"`)
		return run
	}
	s.at(WrongCharacter, t, fmt.Sprintf("the character %q has no meaning outside strings and comments", clip(string(t.Bytes))), "")
	return run
}

// restOfLine counts the tokens up to the end of the line: behind a wrong quote
// they are the inside of a string, and errors about them would be noise.
func (s *scan) restOfLine(i int) int {
	n := 1
	for i+n < len(s.tokens) {
		t := s.tokens[i+n]
		if t.Type == hclsyntax.TokenNewline || t.Type == hclsyntax.TokenEOF || t.Type == hclsyntax.TokenOHeredoc ||
			t.Type == hclsyntax.TokenComment && bytes.HasSuffix(t.Bytes, []byte("\n")) ||
			t.Type == hclsyntax.TokenCBrace || t.Type == hclsyntax.TokenCBrack || t.Type == hclsyntax.TokenOBrace || t.Type == hclsyntax.TokenOBrack {
			break
		}
		n++
	}
	return n
}

// clip shortens what a message repeats from the file.
func clip(s string) string {
	const most = 40
	n := 0
	for i := range s {
		if n == most {
			return s[:i] + "..."
		}
		n++
	}
	return s
}
