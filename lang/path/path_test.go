package path

import (
	"errors"
	"fmt"
	"strings"
	"testing"
	"time"
	"unicode/utf8"

	"pgregory.net/rapid"
)

// show writes steps the short way the tables below use.
func show(steps []Step) string {
	var words []string
	for _, s := range steps {
		w := s.Kind.String() + ":" + s.Name
		if s.Port != "" {
			w += "." + s.Port
		}
		if s.Tube != nil {
			var args []string
			for _, a := range s.Tube.Args {
				args = append(args, a.Name+"="+a.Text)
			}
			w += "[" + strings.Join(args, "; ") + "]"
		}
		words = append(words, w)
	}
	return strings.Join(words, " | ")
}

func TestGood(t *testing.T) {
	for text, want := range map[string]string{
		"A -> B":                        "device:A | device:B",
		"A->B":                          "device:A | device:B",
		"\n  A\n  -> B\r\n\t-> C\n":     "device:A | device:B | device:C",
		"V-10 -> F-11-A -> x_1 -> 101":  "device:V-10 | device:F-11-A | device:x_1 | device:101",
		"(P1) -> NV-12 -> (P3)":         "label:P1 | device:NV-12 | label:P3",
		"( P1 ) -> A":                   "label:P1 | device:A",
		"AE-11.out -> B.in":             "device:AE-11.out | device:B.in",
		"R1/NV-2 -> R1/R2/F-1.in":       "device:R1/NV-2 | device:R1/R2/F-1.in",
		"(S1) -> R1.feed":               "label:S1 | device:R1.feed",
		"A -> (TP-1) -> cap":            "device:A | label:TP-1 | cap:cap",
		"(TP-1) -> cap":                 "label:TP-1 | cap:cap",
		"cap-1 -> tube-3 -> tube_4":     "device:cap-1 | device:tube-3 | device:tube_4",
		"tube/V-1 -> tubes":             "device:tube/V-1 | device:tubes",
		"'ball valve 3' -> 'Ä.1'.out":   "device:ball valve 3 | device:Ä.1.out",
		"('sample point') -> A":         "label:sample point | device:A",
		"A -> tube(3 m) -> B":           "device:A | tube:[=3 m] | device:B",
		"A->tube(6 mm x 1 mm, 32 m)->B": "device:A | tube:[=6 mm x 1 mm; =32 m] | device:B",
		"A -> tube T-12(1/4 in x 0.035 in, 1 1/2 m) -> B":                      "device:A | tube:T-12[=1/4 in x 0.035 in; =1 1/2 m] | device:B",
		"A -> tube 'run 4' (3 m,\n 4 bends,rise -2 m, k 1.5, roughness 2 um )": "device:A | tube:run 4[=3 m; bends=4; rise=-2 m; k=1.5; roughness=2 um]",
		"A -> tube(1 bend, 3 m) -> B":                                          "device:A | tube:[bends=1; =3 m] | device:B",
	} {
		steps, err := Parse(text)
		if err != nil {
			t.Errorf("%q: %v (hint %s)", text, err, err.(*Error).Hint)
			continue
		}
		if got := show(steps); got != want {
			t.Errorf("%q:\n got %s\nwant %s", text, got, want)
		}
		checkSteps(t, text, steps)
	}
}

// checkSteps holds places against what stands there.
func checkSteps(t interface{ Errorf(string, ...any) }, text string, steps []Step) {
	at := 0
	for _, s := range steps {
		if s.Start < at || s.End <= s.Start || s.End > len(text) {
			t.Errorf("%q: %+v out of place", text, s)
			return
		}
		at = s.End
		here := text[s.Start:s.End]
		if !strings.Contains(here, s.Name) || !strings.HasSuffix(here, s.Port) {
			t.Errorf("%q: %+v stands at %q", text, s, here)
		}
		if (s.Tube != nil) != (s.Kind == Tube) {
			t.Errorf("%q: %+v", text, s)
		}
		if s.Tube == nil {
			continue
		}
		for _, a := range s.Tube.Args {
			if a.Start < s.Start || a.End > s.End || text[a.Start:a.End] != a.Text || a.Text == "" {
				t.Errorf("%q: argument %+v", text, a)
			}
		}
	}
}

// Each bad path: the characters underlined, a part of the message, a part of
// the hint.
func TestBad(t *testing.T) {
	long := "A" + strings.Repeat(" -> A", MaxStops)
	for _, c := range []struct{ text, under, message, hint string }{
		{"", "", "empty", "GRID"},
		{" \n ", " \n ", "empty", "GRID"},
		{"A", "A", "one stop", "A -> (P1)"},
		{"(P1)", "(P1)", "one stop", ""},
		{"cap", "cap", "behind a label", "(TP-1) -> cap"},

		// Arrows.
		{"A B -> C", "B", "no arrow stands before", `"A -> B", or 'A B'`},
		{"A -> B (P1)", "(", "no arrow", "->"},
		{"A (P1)", "(", "no arrow", "->"},
		{"(P1) (P2)", "(", "no arrow", "->"},
		{"A 'B'", "'B'", "no arrow", "->"},
		{"A tube(3 m)", "tube", "no arrow", "->"},
		{"A --> B", "-->", "not an arrow", `"->"`},
		{"A -- B", "--", "not an arrow", `"->"`},
		{"A → B", "→", "not an arrow", `"->"`},
		{"A => B", "=>", "not an arrow", `"->"`},
		{"A > B", ">", "not an arrow", `"->"`},
		{"A ->> B", "->>", "not an arrow", `"->"`},
		{"A –> B", "–>", "not an arrow", `"->"`},
		{"A <- B", "<-", "not an arrow", "direction of flow"},
		{"A - B", "-", "does not join", `"->"`},
		{"A, B", ",", "does not join", `"->"`},
		{"A -> -> B", "-> ->", "two arrows", ""},
		{"-> A", "->", "begins with an arrow", ""},
		{"A ->", "->", "nothing follows", ""},

		// Labels.
		{"(P1) -> (P2)", "(P1) -> (P2)", "two labels", "between them"},
		{"A -> (P1) -> (P2) -> B", "(P1) -> (P2)", "two labels", ""},
		{"A -> () -> B", "()", "empty", "(P1)"},
		{"A -> (  ) -> B", "(  )", "empty", "(P1)"},
		{"A -> (P 1)", "P 1", "not a name", "('P 1')"},
		{"A -> (P.1)", "P.1", "not a name", "('P.1')"},
		{"A -> (P1, P2)", ",", "one name", ""},
		{"A -> ('P1' x)", "x", "whole name", ""},
		{"A -> (P1", "(", "not closed", "(P1)"},
		{"A -> (P1 -> B", "(", "not closed", "(P1)"},
		{"A -> P1) -> B", ")", "not opened", ""},
		{"A -> ((P1)) -> B", "(", "inside parentheses", ""},
		{"A -> (-P1) -> B", "-P1", "not a name", ""},
		{"A -> (P1-) -> B", "-", "dash", ""},
		{"(P1).in -> B", ".", "only a device has ports", ""},

		// Ports.
		{"A -> B.in -> C", "B.in", "middle of a path", `"B"`},
		{"A. -> B", ". ->", "no port", "AE-11.out"},
		{"A -> B.", ".", "no port", "AE-11.out"},
		{"A.b.c -> D", ".", "one port", "quotes"},
		{"A . in -> B", "A . in", "space", `"A.in"`},
		{"A.R1/in -> B", "R1/in", "not the name of a port", ""},
		{".in -> B", ".", "where a tag begins", ""},

		// Reserved words.
		{"A -> tube -> B", "tube", "in parentheses", "tube(6 mm"},
		{"A -> tube", "tube", "in parentheses", "tube(6 mm"},
		{"A -> tube T-1 -> B", "T-1", "in parentheses", "tube(6 mm"},
		{"A -> 'tube'", "'tube'", "not a name", "another name"},
		{"A -> (tube)", "tube", "not a name", ""},
		{"A -> (cap)", "cap", "not a name", ""},
		{"A -> tube cap(3 m)", "cap", "not a name", ""},
		{"A -> tube tube(3 m)", "tube", "not a name", ""},
		{"A -> cap", "cap", "behind a label", "(TP-1) -> cap"},
		{"cap -> (P1)", "cap", "behind a label", ""},
		{"(P1) -> cap -> B", "cap", "ends the path", ""},
		{"(P1) -> cap.in", "cap.in", "no ports", ""},

		// Tubes.
		{"A -> tube() -> B", "()", "empty", "tube(6 mm"},
		{"A -> Tube(3 m) -> B", "Tube(", "only a tube", `"tube(...)"`},
		{"A -> V-1(3 m) -> B", "V-1(", "only a tube", "tube V-1(...)"},
		{"A -> tube(3 m,) -> B", ",", "argument is missing", ""},
		{"A -> tube(,3 m) -> B", ",", "argument is missing", ""},
		{"A -> tube(3 m,,4 bends) -> B", ",", "argument is missing", ""},
		{"A -> tube('3 m') -> B", "'3 m'", "no quotes", ""},
		{"A -> tube(1 m, 2 m, 3 m) -> B", "3 m", "third value", ""},
		{"A -> tube(rise 1 m, rise 2 m) -> B", "rise 2 m", "twice", ""},
		{"A -> tube(bends 4) -> B", "bends 4", "before the word", "4 bends"},
		{"A -> tube(1.5 bends) -> B", "1.5 bends", "whole number", "4 bends"},
		{"A -> tube(9999999 bends) -> B", "9999999 bends", "whole number", ""},
		{"A -> tube(rise) -> B", "rise", "no value follows", "rise 2 m"},
		{"A -> tube(rise = 2 m) -> B", "rise = 2 m", "without a sign", "rise 2 m"},
		{"A -> tube(length 2 m) -> B", "length 2 m", "not something a tube is given", "4 bends"},
		{"A -> tube(3 m -> B", "(", "not closed", "(3 m)"},

		// Characters.
		{"R*/X -> B", "*", "never in a path", ""},
		{"A- -> B", "-", "end with a dash", ""},
		{"Ventil-Ä -> B", "Ä", "without quotes", "'Ventil-Ä'"},
		{"A -> B/ -> C", "/", "without quotes", "'B/'"},
		{"A -> B&C", "&", "without quotes", "'B&C'"},
		{"'A -> B", "'", "not closed", ""},
		{"A -> ('P1 -> B", "'", "not closed", ""},
		{"A -> \"B\"", "\"", "double quotes", ""},
		{"A -> ''", "''", "empty", ""},
		{"A -> ' B'", "' B'", "space", "'B'"},
		{"A -> 'B\x01'", "'B\x01'", "cannot be seen", ""},
		{"A -> \x00B", "\x00", "cannot be seen", ""},
		{"A -> \xff", "A -> \xff", "UTF-8", ""},

		// Sizes.
		{strings.Repeat("A", MaxLength+1), strings.Repeat("A", MaxLength+1), "20001 bytes", "label"},
		{long, "->", "more than 2000 stops", "label"},
	} {
		_, err := Parse(c.text)
		e, ok := err.(*Error)
		if !ok {
			t.Errorf("%q: %v", clip(c.text), err)
			continue
		}
		if under := c.text[e.Start:e.End]; under != c.under || !strings.Contains(e.Message, c.message) || !strings.Contains(e.Hint, c.hint) {
			t.Errorf("%q: %q %q, hint %s", clip(c.text), clip(under), e.Message, e.Hint)
		}
		for _, word := range []string{"token", "expected", "grammar", "<EOF>", "Inside", "Quoted"} {
			if strings.Contains(e.Message, word) {
				t.Errorf("%q leaks %q", clip(c.text), e.Message)
			}
		}
	}
}

// The hints that show a name in quotes must work when followed.
func TestQuotedHintsParse(t *testing.T) {
	for _, name := range []string{"P 1", "P.1", "Ventil-Ä", "B/", "B&C", "1.2"} {
		for _, text := range []string{"A -> '" + name + "'", "A -> ('" + name + "')"} {
			steps, err := Parse(text)
			if err != nil || steps[1].Name != name {
				t.Errorf("%q: %v", text, err)
			}
		}
	}
}

func TestTwoThousandStops(t *testing.T) {
	text := "A" + strings.Repeat("->A", MaxStops-1)
	steps, err := Parse(text)
	if err != nil || len(steps) != MaxStops {
		t.Errorf("%d stops, %v", len(steps), err)
	}
}

// A chain written from steps is read back as these steps, whatever the blanks.
func TestRoundTrip(t *testing.T) {
	plain := rapid.StringMatching(`[A-Za-z0-9_]{1,4}(-[A-Za-z0-9_]{1,3}){0,2}`).Filter(func(s string) bool { return s != "tube" && s != "cap" })
	odd := rapid.StringMatching(`[A-Z][ .&/a-zä]{0,5}[a-z]`).Filter(func(s string) bool { return s != "tube" && s != "cap" })
	blank := rapid.SampledFrom([]string{"", " ", "\n  ", "\t"})
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(2, 12).Draw(t, "stops")
		var words, want []string
		label := true
		for i := 0; i < n; i++ {
			kind := rapid.IntRange(0, 4).Draw(t, "kind")
			if kind == 0 && label && i > 0 {
				kind = 1
			}
			label = kind == 0
			name := plain.Draw(t, "name")
			pad := blank.Draw(t, "blank")
			switch kind {
			case 0:
				words, want = append(words, "("+pad+name+pad+")"), append(want, "label:"+name)
			case 1, 2:
				words, want = append(words, name), append(want, "device:"+name)
			case 3:
				quoted := odd.Draw(t, "quoted")
				words, want = append(words, "'"+quoted+"'"), append(want, "device:"+quoted)
			case 4:
				words = append(words, "tube "+name+pad+"("+pad+"3 m,"+pad+"rise -1 m"+pad+")")
				want = append(want, "tube:"+name+"[=3 m; rise=-1 m]")
			}
		}
		text := strings.Join(words, blank.Draw(t, "before")+"->"+blank.Draw(t, "after"))
		steps, err := Parse(text)
		if err != nil {
			t.Fatalf("%q: %v", text, err)
		}
		if got := show(steps); got != strings.Join(want, " | ") {
			t.Fatalf("%q: %s", text, got)
		}
		checkSteps(t, text, steps)
	})
}

func checkAnything(t interface {
	Errorf(string, ...any)
}, text string) {
	steps, err := Parse(text)
	if err == nil {
		checkSteps(t, text, steps)
		return
	}
	var e *Error
	if !errors.As(err, &e) || e.Message == "" || e.Start < 0 || e.End > len(text) || e.Start >= e.End && text != "" || len(e.Message)+len(e.Hint) > 600 {
		t.Errorf("%q: %#v", text, err)
		return
	}
	if utf8.ValidString(text) && !utf8.ValidString(e.Message+e.Hint) {
		t.Errorf("%q: %q %q", text, e.Message, e.Hint)
	}
}

func TestPiecesInAnyOrder(t *testing.T) {
	pieces := []string{"A", "V-1", "R1/X", "tube", "cap", "(", ")", "(P1)", "->", "-", ".", ",", "'", "'a b'", "3 m", "4 bends", "rise 2 m", "=", "*", "ä", "\x00", "\n", "/", "tube(3 m)", "()"}
	rapid.Check(t, func(t *rapid.T) {
		checkAnything(t, strings.Join(rapid.SliceOfN(rapid.SampledFrom(pieces), 0, 12).Draw(t, "pieces"), rapid.SampledFrom([]string{"", " "}).Draw(t, "between")))
	})
}

// Texts of the largest size, of one piece each: no stack, no square.
func TestHostile(t *testing.T) {
	for _, piece := range []string{"(", ")", "->", "-", "A", "A->", "A ", "'", "''", "tube(", "tube", "tube ", "(P1)->", ".", ",", "A.", "tube(1,", "\n", "ä", "/", "A/", "A-", "tube(3 m)->", "(a,", "(-", "--", "- ", "'\n"} {
		for _, text := range []string{strings.Repeat(piece, MaxLength/len(piece)), "A -> tube(" + strings.Repeat(piece, (MaxLength-12)/len(piece)) + ")"} {
			start := cpu()
			checkAnything(t, text)
			if took := cpu() - start; took > time.Second {
				t.Errorf("%q: %v", clip(text), took)
			}
		}
	}
}

func FuzzParse(f *testing.F) {
	for _, text := range []string{"A -> B", "A -> (P1) -> tube(6 mm x 1 mm, 32 m, 4 bends, rise 2 m) -> R1/B.in", "(TP-1) -> cap", "'a b' -> tube T-1(3 m)", "A --> B", "A -> (", "A -> tube(,)", "tube", "A.b.c"} {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) { checkAnything(t, text) })
}

func BenchmarkParse(b *testing.B) {
	for name, text := range map[string]string{
		"short": "(P2) -> NV-12 -> FI-12 -> (P3)",
		"line":  "GRID -> V-10 -> F-11 -> PCV-11 -> (P1) -> tube(6 mm x 1 mm, 32 m, 4 bends) -> (P2) -> NV-11 -> FI-11 -> AE-11 -> (P3) -> BPH-11 -> FLARE",
	} {
		b.Run(name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				Parse(text)
			}
		})
	}
}

func ExampleParse() {
	steps, _ := Parse("GRID -> tube(6 mm x 1 mm, 32 m) -> (P1)")
	for _, s := range steps {
		fmt.Printf("%s %q\n", s.Kind, s.Name)
	}
	// Output:
	// device "GRID"
	// tube ""
	// label "P1"
}
