package path

import (
	"sync"

	"github.com/alecthomas/participle/v2"
	"github.com/alecthomas/participle/v2/lexer"
)

const names = `[A-Za-z0-9_]+(?:[-/][A-Za-z0-9_]+)*`

// The grammar of a path:
//
//	path  = stop { "->" stop }
//	stop  = tube | label | device
//	tube  = "tube" [ name ] "(" [ text { "," text } ] ")"
//	label = "(" ( text | quoted ) ")"
//	device = ( name | quoted ) [ "." name ]
//
// Inside parentheses the lexer gives whole runs of text, because a tube's
// arguments are read by package quantity. A name may hold dashes, so "->" ends
// one only together with its ">": "A->B" is A, arrow, B. NearArrow catches the
// slips; it never appears in the grammar. The cap is a device to the grammar
// and told apart in parse.go. A run of text takes in dashes ("rise -2 m") but
// no arrow, so that a parenthesis left open ends at the next one. "tube-3" is
// a name, caught before the word and handed on as a Name by scan.
//
// Lexer and parser are made when first asked for: the usual spellings are read
// by hand (quick.go), and a run that meets no others does without them.
var definition = sync.OnceValue(func() *lexer.StatefulDefinition {
	return lexer.MustStateful(lexer.Rules{
		"Root": {
			{Name: "Space", Pattern: `\s+`},
			{Name: "NearArrow", Pattern: `-{2,}>*|=+>+|->{2,}|<-+>?|[→⟶⇒➔➜]|[–—−]+>?|>+`},
			{Name: "Arrow", Pattern: `->`},
			{Name: "TubeName", Pattern: `tube[-/]` + names},
			{Name: "Tube", Pattern: `tube\b`},
			{Name: "Name", Pattern: names},
			{Name: "Quoted", Pattern: `'[^'\n]*'`},
			{Name: "Dot", Pattern: `\.`},
			{Name: "Open", Pattern: `\(`, Action: lexer.Push("Inside")},
			{Name: "Close", Pattern: `\)`},
			{Name: "Other", Pattern: `(?s:.)`},
		},
		"Inside": {
			{Name: "InsideQuoted", Pattern: `'[^'\n]*'`},
			{Name: "Comma", Pattern: `,`},
			{Name: "Nested", Pattern: `\(`},
			{Name: "InsideClose", Pattern: `\)`, Action: lexer.Pop()},
			{Name: "InsideArrow", Pattern: `->`},
			{Name: "Text", Pattern: `(?:[^,()'-]|-+[^,()'>-])+`},
			{Name: "Dash", Pattern: `-+`},
			{Name: "Apostrophe", Pattern: `'`},
		},
	})
})

type chain struct {
	First stop   `parser:"@@"`
	Rest  []stop `parser:"(Arrow @@)*"`
}

type stop struct {
	Tube   *tube   `parser:"  @@"`
	Label  *label  `parser:"| @@"`
	Device *device `parser:"| @@"`
}

type tube struct {
	Word  lexer.Token  `parser:"@Tube"`
	Name  *lexer.Token `parser:"@(Name | Quoted | Tube)?"`
	Open  lexer.Token  `parser:"@Open"`
	Args  []*argument  `parser:"(@@ (Comma @@)*)?"`
	Close lexer.Token  `parser:"@InsideClose"`
}

type argument struct {
	Text lexer.Token `parser:"@Text"`
}

type label struct {
	Open   lexer.Token  `parser:"@Open"`
	Quoted *lexer.Token `parser:"( @InsideQuoted"`
	Text   *lexer.Token `parser:"| @Text )?"`
	Close  lexer.Token  `parser:"@InsideClose"`
}

type device struct {
	Name lexer.Token  `parser:"@(Name | Quoted)"`
	Dot  *lexer.Token `parser:"( @Dot"`
	Port *lexer.Token `parser:"@Name )?"`
}

var grammar = sync.OnceValue(func() *participle.Parser[chain] {
	return participle.MustBuild[chain](participle.Lexer(definition()))
})

// Kinds of tokens, numbered as the lexer numbers them: downward from the end of
// text, state by state in the order of their names.
const (
	kindInsideQuoted = lexer.EOF - 1 - iota
	kindComma
	kindNested
	kindInsideClose
	kindInsideArrow
	kindText
	kindDash
	kindApostrophe
	kindSpace
	kindNearArrow
	kindArrow
	kindTubeName
	kindTube
	kindName
	kindQuoted
	kindDot
	kindOpen
	kindClose
	kindOther
)

// end is the offset behind a token.
func end(t lexer.Token) int { return t.Pos.Offset + len(t.Value) }
