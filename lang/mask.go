package lang

import (
	"fmt"

	"github.com/hashicorp/hcl/v2"
	"github.com/hashicorp/hcl/v2/hclsyntax"

	"tapline/lang/diag"
)

// mask gives the file with the inside of every string blanked out; nothing
// moves. See literal.go for why. On the way it counts what the parser would
// make of the file, and refuses what is too much before any of it is made.
//
// The tokens are those the guard went over: what it took for a string must not
// become syntax for the parser.
func (r *rawReader) mask(src *source, tokens hclsyntax.Tokens) []byte {
	out := append([]byte(nil), src.bytes...)
	blocks, values := r.blocks, r.values
	for i, t := range tokens {
		switch t.Type {
		case hclsyntax.TokenOBrace:
			blocks++
		case hclsyntax.TokenEqual, hclsyntax.TokenComma:
			values++
		case hclsyntax.TokenQuotedLit, hclsyntax.TokenStringLit:
			inside := out[t.Range.Start.Byte:t.Range.End.Byte]
			last := i+1 < len(tokens) && tokens[i+1].Type == hclsyntax.TokenCHeredoc
			for j := range inside {
				if !last || j < len(inside)-1 {
					inside[j] = '.'
				}
			}
		}
		if r.tooMany(blocks, values, t.Range) {
			return nil
		}
	}
	r.blocks, r.values = blocks, values
	return out
}

// tooMany tells whether the system has grown too large, and reports it once.
// Maps count as blocks here, as their braces are alike to the lexer.
func (r *rawReader) tooMany(blocks, values int, at hcl.Range) bool {
	what := ""
	switch {
	case r.over:
		return true
	case blocks > maxBlocks:
		what = fmt.Sprintf("%d blocks", maxBlocks)
	case values > maxValues:
		what = fmt.Sprintf("%d values", maxValues)
	default:
		return false
	}
	r.refuseMore(r.at(at), what)
	return true
}

func (r *rawReader) refuseMore(at diag.Range, most string) {
	r.over, r.broken = true, true
	r.found.errorf(tooLarge, at, "split it into several systems", "a system holds at most %s; here it has more", most)
}

// words counts words and signs, at least as many as the lexer finds tokens, but
// not the arrows of paths, which are dense where they stand at all.
func words(src []byte) int {
	n := 0
	inside := false
	for i, c := range src {
		if c == '-' && i+1 < len(src) && src[i+1] == '>' || c == '>' && i > 0 && src[i-1] == '-' {
			inside = false
			continue
		}
		word := c >= 0x80 || c == '_' || '0' <= c && c <= '9' || 'a' <= c|0x20 && c|0x20 <= 'z'
		if word && !inside || !word && c != ' ' && c != '\t' && c != '\r' {
			n++
		}
		inside = word
	}
	return n
}
