package guard

import (
	"fmt"
	"runtime"
	"strings"
	"testing"
	"time"

	"github.com/hashicorp/hcl/v2"
	"github.com/hashicorp/hcl/v2/hclsyntax"

	"tapline/lang/diag"
)

// What the language has must pass.
var good = map[string]string{
	"empty":          "",
	"block":          "valve \"NV-1\" {\n  cv = 0.3\n}\n",
	"one line block": "vent \"ATM\" { pressure = \"0 barg\" }\n",
	"crlf":           "valve \"NV-1\" {\r\n  cv = 0.3\r\n}\r\n",
	"mark at start":  "\ufeffsite {\n}\n",
	"heredoc":        "line \"a\" {\n  path = <<-PATH\n    A -> (P1)\n    -> B\n  PATH\n}\n",
	"escaped marks":  "note = \"$${a} %%{b} 5 % $ x\"\n",
	"comments":       "# a\n// b\n/* c\n d */\na = 1 # e\n",
	"given":          "pressure = given.flare_high\n",
	"negative":       "a = [-1, -0.5]\nb = -2e-3\n",
	"lists":          "points = [[\"0 slpm\", \"3.6 barg\"],\n  [\"10 slpm\", \"3.5 barg\"],\n]\n",
	"map":            "m = { methane = \"rest\", \"carbon dioxide\" : 1.9, }\n",
	"null":           "a = null\nb = true\n",
	"labels":         "a \"b\" \"c\" \"d\" {\n}\n",
	"sixteen deep":   "a = " + strings.Repeat("[", 16) + strings.Repeat("]", 16) + "\n",
	"64 digits":      "a = " + strings.Repeat("1", 64) + "\n",
	"words":          "note = \"Prüfgas für Ω – 5 µm\" # ≥\n",
}

func TestGood(t *testing.T) {
	for name, src := range good {
		t.Run(name, func(t *testing.T) {
			if found := Check("x.tap.hcl", []byte(src)); len(found) > 0 {
				t.Errorf("%q: %v", src, found)
			}
			if _, diags := hclsyntax.ParseConfig([]byte(src), "x", hcl.InitialPos); diags.HasErrors() {
				t.Errorf("the example itself does not parse: %v", diags)
			}
		})
	}
}

// Each bad text with the code, the characters underlined, and a part of message
// and hint of its first error.
func TestBad(t *testing.T) {
	for _, c := range []struct{ src, code, under, message, hint string }{
		{"a = (1)", NotAllowed, "(", "parentheses", "(P1)"},
		{"a = f(1)", NotAllowed, "f(", "no functions", "path"},
		{"a = 1 + 2", NotAllowed, "+", "does not calculate", "result"},
		{"a = 2 * 3", NotAllowed, "*", "does not calculate", ""},
		{"a = 6 / 3", NotAllowed, "/", "does not calculate", ""},
		{"a = 3 - 2", NotAllowed, "-", "does not calculate", ""},
		{"a = - 2", NotAllowed, "-", "does not calculate", ""},
		{"a = --2", NotAllowed, "-", "does not calculate", ""},
		{"a = -b", NotAllowed, "-", "does not calculate", ""},
		{"a = !!!!b", NotAllowed, "!!!!", "does not compare", ""},
		{"a = b == 2", NotAllowed, "==", "does not compare", ""},
		{"a = b ? 1 : 2", NotAllowed, "?", "conditions", "case"},
		{"a = [for x in b : x]", NotAllowed, "for", "for", "spread"},
		{"a = {for x in b : x => x}", NotAllowed, "for", "for", ""},
		{"a = b[0]", NotAllowed, "[", "where a value is expected", ""},
		{"a = b[*]", NotAllowed, "[", "where a value is expected", ""},
		{"a = b.*", NotAllowed, ".", "given.NAME", ""},
		{"a = b.c.d", NotAllowed, ".", "one point", ""},
		{"a = b.0", NotAllowed, ".", "given.NAME", ""},
		{"a => 1", NotAllowed, "=>", "=>", "="},
		{"a = [b...]", NotAllowed, "...", "...", ".."},
		{"a = \"x${b}y\"", NotAllowed, "${", "template", "$${"},
		{"a = \"x%{if b}y\"", NotAllowed, "%{", "template", "%%{"},
		{"a = <<E\n  ${b}\nE\n", NotAllowed, "${", "template", "$${"},
		{"a = a::b", NotAllowed, "::", "not part", ""},
		{"a = ~1", NotAllowed, "~", "not part", ""},
		{"a = .5", BadNumber, ".5", "no digit before", "0.5"},
		{"a = 1_000", BadNumber, "1_000", "underscore", "1000"},
		{"a = 0,12", BadNumber, ",", "point", "0.12"},
		{"a = 1e400", BadNumber, "1e400", "exponent", ""},
		{"a = 1e99999999999999999999", BadNumber, "1e99999999999999999999", "exponent", ""},
		{"a = " + strings.Repeat("9", 65), BadNumber, strings.Repeat("9", 65), "64 digits", ""},
		{"a = 3.2 barg", UnquotedValue, "3.2 barg", "quotes", "\"3.2 barg\""},
		{"a = 5 %", UnquotedValue, "5 %", "quotes", "\"5 %\""},
		{"a = 'x'", WrongCharacter, "'", "string", "\"...\""},
		{"a = `x`", WrongCharacter, "`", "string", "\"...\""},
		{"a = “x”", WrongCharacter, "“", "typographic quote", "straight"},
		{"a =\u00a01", WrongCharacter, "\u00a0", "space", ""},
		{"a = −1", WrongCharacter, "−", "dash", "-"},
		{"a = 1;", WrongCharacter, ";", ";", "line"},
		{"a = €", WrongCharacter, "€", "€", ""},
		{"a = \"x", Unclosed, "\"", "string is not closed", ""},
		{"a = \"x\nb = 1\n", Unclosed, "\"", "not closed on its line", "heredoc"},
		{"a = <<E\nx\n", Unclosed, "<<E\n", "heredoc is not closed", ""},
		{"/* a", Unclosed, "/*", "comment", "*/"},
		{"a {\n  b {\n  }\n", Unclosed, "{", "not closed", ""},
		{"a = [1, 2\n", Unclosed, "[", "not closed", ""},
		{"a = [1, 2}\n", Unclosed, "[", "closed by", "]"},
		{"}\n", Unclosed, "}", "not opened", ""},
		{"a b c d e {\n}\n", TooManyLabels, "e", "3 labels", ""},
		{"a \"b\" \"c\" \"d\" \"e\" {\n}\n", TooManyLabels, "\"", "3 labels", ""},
		{"a = " + strings.Repeat("[", 17), TooDeep, "[", "16 deep", ""},
		{"a = <<E\n" + strings.Repeat("x\n", MaxParts+1) + "E\n", TextTooLong, "<<E\n", "1000 lines", "split"},
		{"a = \"" + strings.Repeat("$${", MaxParts+1) + "\"", TextTooLong, "\"", "1000 lines or escaped", "split"},
		{"a = 1\rb = 2", NotText, "\r", "carriage return", "LF"},
		{"a = \"x\x00\"", NotText, "\x00", "U+0000", ""},
		{"# \x1b[31m\n", NotText, "\x1b", "U+001B", ""},
		{"# \u202e\n", NotText, "\u202e", "U+202E", ""},
		{"a = 1 # \ufeff\n", NotText, "\ufeff", "byte order mark", ""},
		{"a = \"\xff\"", NotText, "\xff", "UTF-8", "UTF-8"},
		{"\xff\xfea\x00", NotText, "\xff", "UTF-8", "UTF-16"},
	} {
		t.Run(clip(c.src), func(t *testing.T) {
			found := Check("x.tap.hcl", []byte(c.src))
			if len(found) == 0 {
				t.Fatal("passes")
			}
			d := found[0]
			under := c.src[d.Range.Start.Byte:d.Range.End.Byte]
			if d.Level != diag.Error || d.Code != c.code || under != c.under || !strings.Contains(d.Message, c.message) || !strings.Contains(d.Hint, c.hint) {
				t.Errorf("got %s %q %q, hint %q", d.Code, under, d.Message, d.Hint)
			}
		})
	}
}

func TestPositionsCountCodePoints(t *testing.T) {
	// e and a combining acute are one grapheme, but two code points.
	src := "\ufeff# Ω\na = \"e\u0301\" + 1\n"
	found := Check("dir/x.tap.hcl", []byte(src))
	if len(found) != 1 {
		t.Fatalf("%v", found)
	}
	want := diag.Range{File: "dir/x.tap.hcl", Start: diag.Position{Line: 2, Column: 10, Byte: 18}, End: diag.Position{Line: 2, Column: 11, Byte: 19}}
	if found[0].Range != want {
		t.Errorf("got %+v, want %+v", found[0].Range, want)
	}
	if p := NewLines("x", []byte(src)).Position(3); p != (diag.Position{Line: 1, Column: 1, Byte: 3}) {
		t.Errorf("behind the byte order mark: %+v", p)
	}
}

func TestPositionsAgreeWithASlowCount(t *testing.T) {
	src := "a\r\n\nΩb\ne\u0301 c\n"
	lines := NewLines("x", []byte(src))
	line, column := 1, 1
	for i, r := range src {
		if p := lines.Position(i); p.Line != line || p.Column != column || p.Byte != i {
			t.Errorf("byte %d: got %+v, want %d:%d", i, p, line, column)
		}
		column++
		if r == '\n' {
			line, column = line+1, 1
		}
	}
	if p := lines.Position(1 << 40); p.Byte != len(src) || p.Line != line {
		t.Errorf("behind the end: %+v", p)
	}
}

func TestGivesUpAfterEnough(t *testing.T) {
	found := Check("x", []byte(strings.Repeat("a = 1 + 2\n", 1000)))
	if len(found) != MaxDiagnostics+1 || found[MaxDiagnostics].Code != GivenUp {
		t.Errorf("%d diagnostics, the last %v", len(found), found[len(found)-1])
	}
}

// hostile are texts that end or stall an unguarded reader of this syntax.
func hostile() map[string]string {
	// The sweep over all of them is done at a sixteenth of the largest file,
	// where anything worse than linear still shows, the known killers in full.
	fill := func(s string) string { return strings.Repeat(s, MaxBytes/16/len(s)) }
	full := func(s string) string { return strings.Repeat(s, MaxBytes/len(s)) }
	m := map[string]string{
		"brackets 1M":     "a = " + strings.Repeat("[", 1_000_000),
		"heredoc 1MB":     "a = <<E\n" + strings.Repeat("x\n", 500_000) + "E\n",
		"marks 1M":        "a = " + strings.Repeat("!", 1_000_000) + "b",
		"NULs":            full("\x00"),
		"invalid":         full("\xfe"),
		"carriage return": full("\r"),
		"brackets":        full("["),
		"calls":           full("f("),
		"conditions":      "a = " + full("a?b:")[4:],
		"splats":          "a = a" + full("[*]")[5:],
		"templates":       full("\"${"),
		"heredocs":        full("<<E\n"),
		"digits":          "a = " + full("1")[4:],
	}
	for _, s := range []string{"[", "(", "{", "{x=", "[{", "f(", "[for x in ", "!", "-", "~", "a?b:", "a?", "b:", "a[*]", "a.b", ".*", "[0]", "\"${", "\"%{", "${", "\"", "<<E\n", "<<-E\n", "'", "`", "“", "/*", "//", "#", "a b ", "\"\" ", "a{\n", "}\n", "]", ")", "..", "::", "\\", "1", "1 ", "1e9", "-1", "=", ",", ":", "\ufeff", "e\u0301", "\r\n"} {
		m["file of "+s] = fill(s)
		m["value of "+s] = "a = " + fill(s)[4:]
		m["quoted "+s] = "a = \"" + fill(s)[8:] + "\"\n"
	}
	return m
}

func TestHostile(t *testing.T) {
	for name, src := range hostile() {
		start := cpu()
		found := Check("x", []byte(src))
		if d := cpu() - start; d > 2*time.Second {
			t.Errorf("%s: %v", name, d)
		}
		if len(found) > MaxDiagnostics+1 {
			t.Errorf("%s: %d diagnostics", name, len(found))
		}
		for _, d := range found {
			checkRange(t, src, d)
		}
	}
}

// What passes the guard must be safe to parse: files of every kind that do
// pass, through the real parser; in full size where the parser works hardest.
func TestWhatPassesParsesInBounds(t *testing.T) {
	fill := func(head, s, tail string) string {
		return head + strings.Repeat(s, (MaxBytes-len(head)-len(tail))/len(s)) + tail
	}
	small := func(head, s, tail string) string {
		return head + strings.Repeat(s, MaxBytes/16/len(s)) + tail
	}
	for name, src := range map[string]string{
		"blocks":     fill("", "a{\n}\n", ""),
		"deep":       fill("", strings.Repeat("a{\n", 16)+strings.Repeat("}\n", 16), ""),
		"heredoc":    fill("", "a = <<-E\n"+strings.Repeat(" x\n", MaxParts-1)+" E\n", ""),
		"long lines": fill("", "a = <<-E\n"+strings.Repeat(" "+strings.Repeat("x", 120)+"\n", MaxParts-1)+" E\n", ""),
		"heredocs":   small("", "a = <<E\nE\n", ""),
		"long line":  small("a = \"", "x", "\"\n"),
		"escapes":    small("a = \"", "\\u0041", "\"\n"),
		"marks":      fill("", "a = \""+strings.Repeat("$${", MaxParts)+"\"\n", ""),
		"list":       small("a = [", "1,", "1]\n"),
		"strings":    fill("a = [", "\"\",", "1]\n"),
		"lists":      small("a = [", "[[[[[[[[[[[[[[[]]]]]]]]]]]]]]],", "1]\n"),
		"map":        small("a = {", "b=1,", "c=1}\n"),
		"given":      small("a = [", "b.c,", "1]\n"),
		"nonsense":   small("", "= ", ""),
		"colons":     small("a = ", ": ", ""),
		"commas":     small("a = [", ",", "]"),
		"equals":     small("", "a = ", ""),
		"names":      small("", "a\n", ""),
		"comments":   small("", "#\n", ""),
		"combining":  small("a = \"", "\u0301", "\"\n"),
		"attributes": small("", "a = 1\n", ""),
	} {
		if found := Check("x", []byte(src)); len(found) > 0 {
			t.Errorf("%s does not pass: %v", name, found[0])
			continue
		}
		var before, after runtime.MemStats
		runtime.ReadMemStats(&before)
		start := cpu()
		hclsyntax.ParseConfig([]byte(src), "x", hcl.InitialPos)
		took := cpu() - start
		runtime.ReadMemStats(&after)
		mb := (after.TotalAlloc - before.TotalAlloc) >> 20
		t.Logf("%-10s %v, %d MB allocated", name, took.Round(time.Millisecond), mb)
		if took > 2*time.Second {
			t.Errorf("%s: parsed in %v", name, took)
		}
	}
}

func checkRange(t *testing.T, src string, d diag.Diagnostic) {
	t.Helper()
	r := d.Range
	if r.Start.Byte < 0 || r.End.Byte > len(src) || r.Start.Byte >= r.End.Byte || r.Start.Line < 1 || r.Start.Column < 1 || d.Message == "" || len(d.Message)+len(d.Hint) > 500 {
		t.Errorf("%s: %+v %q %q", clip(src), r, d.Message, d.Hint)
	}
}

func FuzzCheck(f *testing.F) {
	for _, src := range good {
		f.Add([]byte(src))
	}
	for _, s := range []string{"a = (((", "a = \"${", "a = <<E\n", "a = 1 + 2", "\xff", "a = b[*]", "'", "/*"} {
		f.Add([]byte(s))
	}
	f.Fuzz(func(t *testing.T, src []byte) {
		found := Check("x", src)
		for _, d := range found {
			checkRange(t, string(src), d)
		}
		if again := Check("x", src); fmt.Sprint(again) != fmt.Sprint(found) {
			t.Error("two runs differ")
		}
		if len(found) == 0 {
			hclsyntax.ParseConfig(src, "x", hcl.InitialPos) // must not panic
		}
	})
}

func BenchmarkCheck(b *testing.B) {
	src := []byte(strings.Repeat(good["block"]+good["heredoc"]+good["lists"], 1000))
	b.SetBytes(int64(len(src)))
	for b.Loop() {
		Check("x", src)
	}
}
