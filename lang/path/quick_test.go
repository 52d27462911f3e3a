package path

import (
	"math/rand/v2"
	"reflect"
	"strings"
	"testing"

	"github.com/alecthomas/participle/v2/lexer"
)

// The kinds are written down in grammar.go so that nobody has to build the
// lexer to know them.
func TestKindsAreTheLexers(t *testing.T) {
	names := map[string]lexer.TokenType{
		"EOF": lexer.EOF, "InsideQuoted": kindInsideQuoted, "Comma": kindComma, "Nested": kindNested, "InsideClose": kindInsideClose,
		"InsideArrow": kindInsideArrow, "Text": kindText, "Dash": kindDash, "Apostrophe": kindApostrophe, "Space": kindSpace,
		"NearArrow": kindNearArrow, "Arrow": kindArrow, "TubeName": kindTubeName, "Tube": kindTube, "Name": kindName,
		"Quoted": kindQuoted, "Dot": kindDot, "Open": kindOpen, "Close": kindClose, "Other": kindOther,
	}
	if got := definition().Symbols(); !reflect.DeepEqual(got, names) {
		t.Errorf("the lexer has %v\nwritten down are %v", got, names)
	}
}

// placed takes line and column out of every token of a tree: nothing reads
// them, and quick does not count them.
func placed(v reflect.Value) {
	switch v.Kind() {
	case reflect.Pointer:
		if !v.IsNil() {
			placed(v.Elem())
		}
	case reflect.Slice:
		for i := range v.Len() {
			placed(v.Index(i))
		}
	case reflect.Struct:
		if t, ok := v.Addr().Interface().(*lexer.Token); ok {
			t.Pos = lexer.Position{Offset: t.Pos.Offset}
			return
		}
		for i := range v.NumField() {
			placed(v.Field(i))
		}
	}
}

// agrees holds a tree read by hand against the grammar's.
func agrees(t interface{ Fatalf(string, ...any) }, text string) (byHand bool) {
	got := quick(text)
	if got == nil {
		return false
	}
	want, err := byGrammar(text)
	if err != nil {
		t.Fatalf("%q is read by hand; the grammar says: %v", text, err)
	}
	placed(reflect.ValueOf(want))
	if !reflect.DeepEqual(got, want) {
		t.Fatalf("%q by hand is %+v, by the grammar %+v", text, got, want)
	}
	return true
}

// What the files are full of must not need the grammar.
func TestQuickReadsTheUsual(t *testing.T) {
	for _, text := range []string{
		"A -> B", "A->B", "\n  A\n  -> B\r\n\t-> C\n", "(P1) -> NV-12 -> (P3)", "( P1 ) -> A", "AE-11.out -> B.in",
		"R1/NV-2 -> R1/R2/F-1.in", "A -> (TP-1) -> cap", "cap-1 -> tube-3 -> tube_4", "tube/V-1 -> tubes",
		"'ball valve 3' -> 'Ä.1'.out", "('sample point') -> A", "A -> tube(6 mm x 1 mm, 32 m, 4 bends, rise -2 m) -> B",
		"A -> tube T-12(1/4 in x 0.035 in, 1 1/2 m) -> B", "A -> tube 'run 4' (3 m,\n 4 bends,rise -2 m, k 1.5, roughness 2 um )",
	} {
		if !agrees(t, text) {
			t.Errorf("%q is not read by hand", text)
		}
	}
	if long := "A" + strings.Repeat("->A", MaxStops); quick(long) != nil {
		t.Error("a path of too many stops is read by hand")
	}
}

// A text made of pieces at random is read by hand to the grammar's tree, or not
// by hand. Most that are read stand on a sound path with one piece put in.
func TestQuickAgreesWithTheGrammar(t *testing.T) {
	draw := rand.New(rand.NewPCG(1, 2))
	pieces := []string{"A", "V-1", "R1/X", "x_1", "7", "tube", "tube-", "tube/", "tubes", "cap", "(", ")", "(P1)", "->", "-->", "->>", "=>", "→", "-", "--", ".", ",", "'", "'a b'",
		"3 m", "4 bends", "rise -2 m", "rise --2", "=", "*", "ä", "\x00", "\n", "\t", "\v", "\u00a0", "/", "tube(3 m)", "()", "(')", " ", "  ", ">", "<-"}
	stops := []string{"A", "V-1", "R1/X", "'a b'", "(P1)", "( P1 )", "('s p')", "()", "tube(3 m)", "tube T-1(6 mm x 1 mm, 3 m, 2 bends)", "tube tube(1 m)", "tube (1 m , rise -2 m)", "tube()", "A.in", "'b'.out", "cap", "tube-3"}
	byHand := 0
	for range 40_000 {
		var text string
		if draw.IntN(4) == 0 {
			for range draw.IntN(9) {
				text += pieces[draw.IntN(len(pieces))]
			}
		} else {
			text = stops[draw.IntN(len(stops))]
			for range draw.IntN(5) {
				text += []string{" -> ", "->", "\n-> "}[draw.IntN(3)] + stops[draw.IntN(len(stops))]
			}
			if draw.IntN(2) == 0 {
				at := draw.IntN(len(text) + 1)
				text = text[:at] + pieces[draw.IntN(len(pieces))] + text[at:]
			}
		}
		if agrees(t, text) {
			byHand++
		}
	}
	if byHand < 10_000 {
		t.Errorf("only %d texts were read by hand", byHand)
	}
}

func FuzzQuick(f *testing.F) {
	for _, text := range []string{"A -> B", "A -> (P1) -> tube(6 mm x 1 mm, 32 m, 4 bends, rise 2 m) -> R1/B.in", "'a b' -> tube T-1(3 m)", "A -> tube(--1)", "tube-"} {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		if len(text) <= MaxLength {
			agrees(t, text)
		}
	})
}
