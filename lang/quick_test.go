package lang

import (
	"bytes"
	"math/rand/v2"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"
)

// agrees holds a file read by hand against what the parser makes of it.
func agrees(t interface {
	Helper()
	Fatalf(string, ...any)
}, text []byte) (byHand bool) {
	t.Helper()
	src := newSource("x.tap.hcl", text)
	quick, whole := &rawReader{found: newCollector()}, &rawReader{found: newCollector()}
	got, ok := quick.quick(src)
	if !ok {
		if quick.blocks+quick.values+len(quick.found.list) > 0 {
			t.Fatalf("%q is given up, and something of it is kept", text)
		}
		return false
	}
	want := whole.byParser(src)
	if len(whole.found.list) > 0 {
		t.Fatalf("%q is read by hand; the parser says: %v", text, whole.found.list)
	}
	if len(got)+len(want) > 0 && !reflect.DeepEqual(got, want) {
		t.Fatalf("%q by hand is %+v, by the parser %+v", text, got, want)
	}
	if quick.blocks != whole.blocks || quick.values != whole.values {
		t.Fatalf("%q by hand has %d blocks and %d values, by the parser %d and %d", text, quick.blocks, quick.values, whole.blocks, whole.values)
	}
	return true
}

// soundFiles are all files of systems in this repository that are no mistakes.
func soundFiles(tb testing.TB) (texts [][]byte) {
	tb.Helper()
	for _, pattern := range []string{"../examples/*/*", "../testdata/*/*/*", "testdata/valid/*/*"} {
		names, err := filepath.Glob(pattern + Extension)
		if err != nil || len(names) == 0 {
			tb.Fatalf("%d files like %s, %v", len(names), pattern, err)
		}
		for _, name := range names {
			text, err := os.ReadFile(name)
			if err != nil {
				tb.Fatal(err)
			}
			texts = append(texts, text)
		}
	}
	return texts
}

// usual are spellings that must not need the parser, each the inside of a block.
var usual = []string{
	"", "\n", " # a\n\n // b\n", "\na = 1\n", "a = 1", " a = \"0 barg\" ", "\na = true\n b = false\n\n c = null # d\n",
	"\na = [1, -2.5,\n  \"c\", # d\n\n true,\n]\nb = []\n", "\na = [[\"1\", \"2\"], [\n\"3\"\n]]\n", "\na = {}\nb = { c = 1, \"d e\" : 2 }\nf = {\n g = 3\n\n h = [4], # i\n j = { k = null }\n}\n",
	"\na = given.flare_high\nb = [given.x-y]\n", "\nallow {\n  outlet = \"1 .. 2 barg\"\n}\nb {\n}\nc { d = 1 }\n", "\r\na = 1\r\nb = [\r\n2\r\n]\r\n",
	"\na = <<-PATH\n    A -> B\n  -> C\n\n  PATH\nb = 1\n", "\na = <<E\n  x\\ny\nE \n", "\r\na = <<-E\r\n  x\r\n  E\r\n", "\na = <<E\nE\n",
	"\na = \"Prüfgas für Ω – 5 µm\" # ≥\nb = \"e\\u0301 \\\"q\\\" \\\\ \\t\"\n", "\na = \"26 %\"\nb = \"% $ 5 %, $x\"\n", "\na = 007\nb = -0\nc = 0.30\n",
	"\n\ta\t=\t1\t\n", "\nx-1 \"tag\" {\n}\ny tag {\n}\n",
}

func TestQuickReadsTheUsual(t *testing.T) {
	for _, inside := range usual {
		for _, around := range [][2]string{{"valve \"V-1\" {", "}\n"}, {"\n\n# c\nsite{", "} # d\n"}, {"a b {", "}"}} {
			if text := around[0] + inside + around[1]; !agrees(t, []byte(text)) {
				t.Errorf("%q is not read by hand", text)
			}
		}
	}
	for _, text := range []string{"", "\n", "# a", "// b\r\n\r\n"} {
		if !agrees(t, []byte(text)) {
			t.Errorf("%q is not read by hand", text)
		}
	}
	byHand := 0
	files := soundFiles(t)
	for _, text := range files {
		if agrees(t, text) {
			byHand++
		}
		crlf := bytes.ReplaceAll(bytes.ReplaceAll(text, []byte("\r"), nil), []byte("\n"), []byte("\r\n"))
		agrees(t, crlf)
	}
	if byHand < len(files)*9/10 {
		t.Errorf("only %d of %d files are read by hand", byHand, len(files))
	}
}

// Of what the parser has to explain nothing may be read by hand, and of what is
// large no more than it.
func TestQuickGivesUp(t *testing.T) {
	for _, inside := range []string{
		"a = 1, b = 2", "\na = 1 b = 2\n", "\na = 1\na = 2\n", "\na = { b = 1, b = 2 }\n", "\na = { null = 1 }\n", "\na = { b = 1 c = 2 }\n", "\na = [1 2]\n",
		"\na = [,]\n", "\na = { , }\n", "\na = { b = 1\n, c = 2 }\n", "\na = { b\n= 1 }\n", "\na =\n1\n", "\na = b\n", "\na = given\n", "\na = given.b.c\n", "\na = given .b\n",
		"\na = - 1\n", "\na = 1.\n", "\na = 1.2.3\n", "\na = 1_0\n", "\na = 1 %\n", "\na = 3 barg\n", "\na = == 1\n", "\na => 1\n", "\nfor = 1\n", "\na = \"b\nc\"\n", "\na = \"b\n",
		"\na = \"\\q\"\n", "\na = \"\\ud800\"\n", "\na = \"${b}\"\n", "\na = <<E\n${b}\nE\n", "\na = <<E\nb\n", "\na = <<E\nb\n E c\n", "\na = <<E b\nE\n", "a = <<E\nE\n", "a { b = 1 }", "\na { b = 1 } c = 2\n",
		"\na \"b\" \"c\" \"d\" \"e\" {\n}\n", "\na = (1)\n", "\na = \"b\"[0]\n", "\na = 1 /* b", "\na = 1\rb = 2\n", "\na = \"\x00\"\n", "\n\ufeffa = 1\n", "\na = \"\u202e\"\n", "\n\"a\" = 1\n", "\na\n", "}", "{",
		"\na = " + strings.Repeat("[", 16) + strings.Repeat("]", 16) + "\n", "\na = " + strings.Repeat("1", 65) + "\n", "\na = <<E\n" + strings.Repeat("x\n", 1001) + "E\n",
	} {
		if text := "valve \"V-1\" {" + inside + "}\n"; agrees(t, []byte(text)) {
			t.Errorf("%q is read by hand", text)
		}
	}
	for _, text := range []string{"a = 1\n", "a", "a {\n", "a {\n} b {\n}\n", "a\n{\n}\n", "a = {\n}\n", "/* a */\n", "\ufeffa {\n}\n", "é {\n}\n"} {
		if agrees(t, []byte(text)) {
			t.Errorf("%q is read by hand", text)
		}
	}
	var entries strings.Builder
	entries.WriteString("a {\nb = {")
	for range maxFileBytes/8 - 10 {
		entries.WriteString("x = 1, ")
	}
	entries.WriteString("}\n}\n")
	r := &rawReader{found: newCollector(), values: maxValues - 1}
	for _, text := range []string{entries.String(), "a {\nb = [1, 2, 3]\n}\n"} {
		if _, ok := r.quick(newSource("x", []byte(text))); ok {
			t.Errorf("%.20q... is read by hand", text)
		}
	}
}

// A sound file with pieces put in, taken out or doubled at random is read by
// hand to the parser's blocks, or not by hand.
func TestQuickAgreesWithTheParser(t *testing.T) {
	draw := rand.New(rand.NewPCG(1, 2))
	pieces := []string{"\"", "\\", "\\\"", "\n", "\r\n", " ", "\t", "{", "}", "[", "]", "(", ",", "=", ":", ".", "-", "#", "//", "/*", "*/", "<<E\n", "<<-E\n", "\nE\n", "E", "$", "%", "$${", "${",
		"1", "0.5", "1e3", "_", "a", "given.a", "null", "true", "for", "a = 1", "a = \"b\"\n", "b {\n}\n", "é", "\u0301", "\ufeff", "\u00a0", "\x00", "\\u0041", "\\n", "::", "->", ";", "'", "~", "?", "!", "*", "..."}
	texts := soundFiles(t)
	for _, inside := range usual {
		texts = append(texts, []byte("valve \"V-1\" {"+inside+"}\n"))
	}
	byHand := 0
	for range 30_000 {
		text := texts[draw.IntN(len(texts))]
		if len(text) > 400 { // some lines of it
			at := draw.IntN(len(text) - 300)
			at += bytes.IndexByte(text[at:], '\n') + 1
			text = text[at:min(at+100+draw.IntN(200), len(text))]
			if end := bytes.LastIndex(text, []byte("\n}\n")); end > 0 {
				text = text[:end+3]
			}
			if begin := bytes.Index(text, []byte("\n}\n")); begin > 0 && begin+3 < len(text) {
				text = text[begin+3:]
			}
		}
		text = bytes.Clone(text)
		for range draw.IntN(3) {
			at := draw.IntN(len(text) + 1)
			switch end := at + draw.IntN(min(4, len(text)-at+1)); draw.IntN(4) {
			case 0:
				text = append(text[:at], text[end:]...)
			case 1:
				text = append(text[:end:end], text[at:]...)
			default:
				text = append(append(text[:at:at], pieces[draw.IntN(len(pieces))]...), text[at:]...)
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
	for _, inside := range usual {
		f.Add([]byte("valve \"V-1\" {" + inside + "}\n"))
	}
	f.Fuzz(func(t *testing.T, text []byte) {
		if len(text) <= maxFileBytes {
			agrees(t, text)
		}
	})
}
