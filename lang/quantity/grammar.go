package quantity

import (
	"sync"

	"github.com/alecthomas/participle/v2"
	"github.com/alecthomas/participle/v2/lexer"
)

// The grammar of a value:
//
//	value   = bound | plain
//	bound   = (">=" | "<=" | ">" | "<") measure [at]
//	plain   = measure [ ".." measure [ "," number "values" | "by" measure ]
//	                  | "+/-" measure | "x" measure | { "," measure } ] [at]
//	at      = "at" measure [ "," measure ]
//	measure = [ "-" ] (number | fraction) [ unit ]
//
// It does not recurse, and one token of look-ahead decides everything. What is
// more than grammar (which unit may be left out, which form may stand where)
// is decided in parse.go, where the error can say what was meant.
//
// A point counts as part of a number only between digits, so that "10..20" is
// a range. The token kinds from LocaleComma on never appear in the grammar:
// they exist to catch the usual slips whole, before the parser sees them.
//
// Lexer and parser are made when first asked for: the usual spellings are read
// by hand (quick.go), and a run that meets no others does without them.
var definition = sync.OnceValue(func() *lexer.StatefulDefinition {
	return lexer.MustSimple([]lexer.SimpleRule{
		{Name: "Space", Pattern: `\s+`},
		{Name: "LocaleComma", Pattern: `\d+(?:\.\d+)?(?:,\d+)+(?:\.\d+)?`},
		{Name: "Underscore", Pattern: `\d+(?:_+\d*)+(?:\.\d+)?`},
		{Name: "Fraction", Pattern: `(?:\d+\s+)?\d+/\d+`},
		{Name: "Number", Pattern: `\d+(?:\.\d+)?(?:[eE][+-]?\d+)?`},
		{Name: "Dots", Pattern: `\.{3,}|…`},
		{Name: "Range", Pattern: `\.\.`},
		{Name: "PointFirst", Pattern: `\.\d+`},
		{Name: "PlusMinus", Pattern: `\+/-|±`},
		{Name: "NearPlusMinus", Pattern: `\+\s*/?\s*[-−]|-/\+|[-−]\+`},
		{Name: "NearCompare", Pattern: `=>|=<|≥|≤|==|<>|=`},
		{Name: "Compare", Pattern: `>=|<=|>|<`},
		{Name: "Sign", Pattern: `-`},
		{Name: "Comma", Pattern: `,`},
		{Name: "Keyword", Pattern: `(?:at|by|x|values)\b`},
		{Name: "Word", Pattern: `[\p{L}%°℃℉][\p{L}\p{N}%°²³·^*/_]*(?:\(\pL+\))?`},
		{Name: "Other", Pattern: `(?s:.)`},
	})
})

type measure struct {
	Sign   *lexer.Token `parser:"@Sign?"`
	Number lexer.Token  `parser:"@(Number | Fraction)"`
	Unit   *lexer.Token `parser:"@Word?"`
}

type value struct {
	Bound *bound `parser:"  @@"`
	Plain *plain `parser:"| @@"`
}

type bound struct {
	Operator lexer.Token `parser:"@Compare"`
	Measure  measure     `parser:"@@"`
	At       *state      `parser:"@@?"`
}

type plain struct {
	First     measure    `parser:"@@"`
	Range     *rangeTail `parser:"( @@"`
	Tolerance *tolerance `parser:"| @@"`
	Wall      *measure   `parser:"| 'x' @@"`
	Rest      []*measure `parser:"| (Comma @@)+ )?"`
	At        *state     `parser:"@@?"`
}

type rangeTail struct {
	High  measure      `parser:"Range @@"`
	Count *lexer.Token `parser:"( Comma @Number 'values'"`
	Step  *measure     `parser:"| 'by' @@ )?"`
}

type tolerance struct {
	Sign  lexer.Token `parser:"@PlusMinus"`
	Delta measure     `parser:"@@"`
}

type state struct {
	At     lexer.Token `parser:"@'at'"`
	First  measure     `parser:"@@"`
	Second *measure    `parser:"(Comma @@)?"`
}

var grammar = sync.OnceValue(func() *participle.Parser[value] {
	return participle.MustBuild[value](participle.Lexer(definition()))
})

// Kinds of tokens, numbered as the lexer numbers them: downward from the end of
// text in the order of the rules.
const (
	kindSpace = lexer.EOF - 1 - iota
	kindLocaleComma
	kindUnderscore
	kindFraction
	kindNumber
	kindDots
	kindRange
	kindPointFirst
	kindPlusMinus
	kindNearPlusMinus
	kindNearCompare
	kindCompare
	kindSign
	kindComma
	kindKeyword
	kindWord
	kindOther
)

// span gives the byte offsets of a measure.
func (m *measure) span() (start, end int) {
	start = m.Number.Pos.Offset
	if m.Sign != nil {
		start = m.Sign.Pos.Offset
	}
	last := m.Number
	if m.Unit != nil {
		last = *m.Unit
	}
	return start, last.Pos.Offset + len(last.Value)
}
