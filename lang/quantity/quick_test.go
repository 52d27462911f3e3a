package quantity

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
		"EOF": lexer.EOF, "Space": kindSpace, "LocaleComma": kindLocaleComma, "Underscore": kindUnderscore,
		"Fraction": kindFraction, "Number": kindNumber, "Dots": kindDots, "Range": kindRange, "PointFirst": kindPointFirst,
		"PlusMinus": kindPlusMinus, "NearPlusMinus": kindNearPlusMinus, "NearCompare": kindNearCompare, "Compare": kindCompare,
		"Sign": kindSign, "Comma": kindComma, "Keyword": kindKeyword, "Word": kindWord, "Other": kindOther,
	}
	if got := definition().Symbols(); !reflect.DeepEqual(got, names) {
		t.Errorf("the lexer has %v\nwritten down are %v", got, names)
	}
}

// agrees holds a tree read by hand against the grammar's.
func agrees(t interface{ Fatalf(string, ...any) }, text string) (byHand bool) {
	got := quick(text)
	if got == nil {
		return false
	}
	r := &reader{text: text, allowed: ^Form(0)}
	want, err := r.byGrammar()
	if err != nil {
		t.Fatalf("%q is read by hand; the grammar says: %v", text, err)
	}
	if !reflect.DeepEqual(got, want) {
		t.Fatalf("%q by hand is %+v, by the grammar %+v", text, got, want)
	}
	return true
}

// What the files are full of must not need the grammar.
func TestQuickReadsTheUsual(t *testing.T) {
	for _, text := range []string{
		"3.2 barg", "0", "-18 degC", "6mm", "1e-3 m3/h", "10 %", "1/4 in", "1 1/2 in", "0.9 .. 1.1 barg", "500 mbarg .. 2 barg",
		">= 1 slpm", "<60 s", "25 psig +/- 2 %", "0.12 +/- 0.01", "6 mm x 1 mm", "1/4 in x 0.035 in", "5 mL/min at 10 bar",
		"60 .. 110 barg, 11 values", "60 .. 110 barg by 5 bar", "16, 25, 60 barg", "200 L/min at 21.1 degC, 1.01325 bara",
		"15 degC, 101.325 kPaa", "-8 degC at 70 bara", "0.3 bar at 60 slpm", " -40..80 degC ",
	} {
		if !agrees(t, text) {
			t.Errorf("%q is not read by hand", text)
		}
	}
	for i := range table() {
		for _, name := range append([]string{table()[i].Name}, table()[i].Also...) {
			if text := "1.5 " + name; !agrees(t, text) && isPlain(name) {
				t.Errorf("%q is not read by hand", text)
			}
		}
	}
}

func isPlain(s string) bool {
	return !strings.ContainsFunc(s, func(c rune) bool { return c >= 0x80 || c == '(' })
}

// pieces are what texts are made of, the slips and the strange among them.
var pieces = []string{
	"1", "0", "25", "1.5", "10.", ".5", "1e3", "2E-4", "1e", "1e+", "1/4", "1 1/2", "3 / 4", "1_000", "1,5", "007", "1.2.3",
	"..", "...", "…", ".", "+/-", "±", "+ -", "-/+", "-+", "+", "-", "−", ">=", "<=", ">", "<", "=>", "<>", "=", "x", "×", "*", "/", "_", "^",
	",", ", ", " at ", "at", "by", " by ", "values", " values", "x1", "at%", "x/", "by_", "nan", "inf",
	"barg", "bara", "bar", "mm", "degC", "K", "%", "slpm", "L/min", "m3/h", "in", "kg/m3", "in2", "°C", "m²", "foo", "e5", "mm(a)", "(", ")",
	" ", "  ", "\t", "\n", "é", "\u00a0", "'", `"`, "\x00",
}

// A text made of pieces at random is read by hand to the grammar's tree, or not
// by hand. Most that are read stand on a sound spelling with one piece changed.
func TestQuickAgreesWithTheGrammar(t *testing.T) {
	draw := rand.New(rand.NewPCG(1, 2))
	one := func() string { return pieces[draw.IntN(len(pieces))] }
	number := func() string { return []string{"", "-", ""}[draw.IntN(3)] + pieces[draw.IntN(17)] }
	unit := func() string {
		if draw.IntN(3) == 0 {
			return ""
		}
		return " "[draw.IntN(2):] + table()[draw.IntN(len(table()))].Name
	}
	measure := func() string { return number() + unit() }
	gap := func() string { return []string{"", " ", "  "}[draw.IntN(3)] }
	byHand := 0
	for range 60_000 {
		var text string
		switch draw.IntN(8) {
		case 0:
			text = measure()
		case 1:
			text = measure() + gap() + ".." + gap() + measure()
		case 2:
			text = measure() + gap() + []string{"+/-", "x", ",", "at", "by"}[draw.IntN(5)] + gap() + measure()
		case 3:
			text = []string{">=", "<", ">", "<="}[draw.IntN(4)] + gap() + measure()
		case 4:
			text = measure() + gap() + ".." + gap() + measure() + []string{", 5 values", " by " + measure(), "," + measure(), " x " + measure()}[draw.IntN(4)]
		case 5:
			text = measure() + gap() + "," + gap() + measure() + "," + gap() + measure()
		case 6:
			text = measure() + " at " + measure() + gap() + "," + gap() + measure()
		default:
			for range 1 + draw.IntN(6) {
				text += one()
			}
		}
		if draw.IntN(3) == 0 {
			at := draw.IntN(len(text) + 1)
			text = text[:at] + one() + text[at:]
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
	for _, text := range []string{"3.2 barg", "1 1/2 in", "60 .. 110 barg, 11 values", "200 L/min at 21.1 degC, 1.01325 bara", "1,5", "x", "-+1"} {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		if len(text) <= MaxLength {
			agrees(t, text)
		}
	})
}
