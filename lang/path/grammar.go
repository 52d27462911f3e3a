package path

import (
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
var definition = lexer.MustStateful(lexer.Rules{
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

var grammar = participle.MustBuild[chain](participle.Lexer(definition))

var symbols = definition.Symbols()

// Token kinds that the code looks at by name.
var (
	kindSpace        = symbols["Space"]
	kindNearArrow    = symbols["NearArrow"]
	kindArrow        = symbols["Arrow"]
	kindTube         = symbols["Tube"]
	kindTubeName     = symbols["TubeName"]
	kindName         = symbols["Name"]
	kindQuoted       = symbols["Quoted"]
	kindDot          = symbols["Dot"]
	kindOpen         = symbols["Open"]
	kindClose        = symbols["Close"]
	kindOther        = symbols["Other"]
	kindInsideQuoted = symbols["InsideQuoted"]
	kindComma        = symbols["Comma"]
	kindNested       = symbols["Nested"]
	kindInsideClose  = symbols["InsideClose"]
	kindInsideArrow  = symbols["InsideArrow"]
	kindDash         = symbols["Dash"]
	kindText         = symbols["Text"]
	kindApostrophe   = symbols["Apostrophe"]
)

// end is the offset behind a token.
func end(t lexer.Token) int { return t.Pos.Offset + len(t.Value) }
