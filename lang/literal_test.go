package lang

import (
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/hashicorp/hcl/v2"
	"github.com/hashicorp/hcl/v2/hclsyntax"
	"pgregory.net/rapid"
)

// one reads a = EXPR through the raw reader.
func one(t testing.TB, src string) *Value {
	t.Helper()
	found := newCollector()
	r := &rawReader{found: found}
	blocks := r.read(newSource("x.tap.hcl", []byte("b {\n  a = "+src+"\n}\n")))
	if len(found.list) > 0 || len(blocks) != 1 {
		t.Fatalf("%q: %v", src, found.list)
	}
	return blocks[0].Attrs["a"]
}

// TestStringsAsHCL: strings decode to what the HCL specification says, as
// hclsyntax 2.25 (a general-purpose library) reads them.
func TestStringsAsHCL(t *testing.T) {
	pieces := []string{"a", "P1", " ", "  ", "\t", "ä", "管", "->", "$", "%", "{", "}", "$${", "%%{", "±", "#", "//", "'"}
	escapes := []string{`\n`, `\t`, `\r`, `\"`, `\\`, `\u00b1`, `\U0001f600`}
	rapid.Check(t, func(rt *rapid.T) {
		var src string
		if rapid.Bool().Draw(rt, "heredoc") {
			lines := rapid.SliceOfN(rapid.Map(rapid.SliceOfN(rapid.SampledFrom(append(pieces, `\`, `"`)), 0, 6),
				func(p []string) string { return strings.Join(p, "") }), 0, 5).Draw(rt, "lines")
			src = rapid.SampledFrom([]string{"<<", "<<-"}).Draw(rt, "flush") + "END\n"
			for _, l := range lines {
				src += l + "\n"
			}
			src += rapid.SampledFrom([]string{"", "    "}).Draw(rt, "before the end") + "END"
		} else {
			parts := rapid.SliceOfN(rapid.SampledFrom(append(escapes, pieces...)), 0, 12).Draw(rt, "parts")
			src = `"` + strings.Join(parts, "") + `"`
		}
		if strings.Contains(strings.ReplaceAll(strings.ReplaceAll(src, "$${", ""), "%%{", ""), "${") ||
			strings.Contains(strings.ReplaceAll(strings.ReplaceAll(src, "$${", ""), "%%{", ""), "%{") ||
			strings.Contains(src, "$$$") || strings.Contains(src, "%%%") {
			rt.Skip("a template")
		}
		expr, ds := hclsyntax.ParseConfig([]byte("a = "+src+"\n"), "x", hcl.InitialPos)
		if ds.HasErrors() {
			rt.Skip("no HCL")
		}
		want, ds := expr.Body.(*hclsyntax.Body).Attributes["a"].Expr.Value(nil)
		if ds.HasErrors() {
			rt.Skip("no literal")
		}
		v := one(t, src)
		if v.Text != want.AsString() {
			rt.Fatalf("%q: got %q, want %q", src, v.Text, want.AsString())
		}
		// The place of each character is where it is written, or its escape.
		file := "b {\n  a = " + src + "\n}\n"
		last := 0
		for i, c := range v.Text {
			r := v.Within(i, i+utf8.RuneLen(c))
			at := file[r.Start.Byte:r.End.Byte]
			if at != string(c) && !strings.HasPrefix(at, `\`) && !(len(at) == 3 && strings.HasSuffix(at, "{") && strings.ContainsRune("${%", c)) {
				rt.Fatalf("%q: character %d %q is at %q", src, i, c, at)
			}
			if r.Start.Byte < last {
				rt.Fatalf("%q: character %d %q is before the one before it", src, i, c)
			}
			last = r.Start.Byte
		}
	})
}

// TestWithin names single places, columns counted in code points from 1.
func TestWithin(t *testing.T) {
	tests := []struct {
		src          string
		start, end   int
		line, column int
		under        string
	}{
		{`"10 barq"`, 3, 7, 2, 11, "barq"},
		{`"10\u0020barq"`, 3, 7, 2, 16, "barq"},
		{`"10\u0020barq"`, 2, 3, 2, 10, `\u0020`},
		{`"größe barq"`, 8, 12, 2, 14, "barq"},
		{"<<-E\n      A -> B\n        -> C\n    E", 5, 6, 3, 12, "B"},
		{"<<-E\n      A -> B\n        -> C\n    E", 12, 13, 4, 12, "C"},
		{"<<E\n  A\nE", 2, 3, 3, 3, "A"},
		{`"abc"`, 3, 3, 2, 11, ""},
		{`"abc"`, 2, 9, 2, 7, `"abc"`},               // no such place: the whole
		{"\"a\u0308b\"", 0, 2, 2, 7, "\"a\u0308b\""}, // composed to ä: the whole
	}
	for _, tt := range tests {
		v := one(t, tt.src)
		r := v.Within(tt.start, tt.end)
		file := "b {\n  a = " + tt.src + "\n}\n"
		if r.Start.Line != tt.line || r.Start.Column != tt.column || file[r.Start.Byte:r.End.Byte] != tt.under {
			t.Errorf("%q %d..%d: %v %q, want %d:%d %q", tt.src, tt.start, tt.end, r, file[r.Start.Byte:r.End.Byte], tt.line, tt.column, tt.under)
		}
	}
}

// TestPositions compares with counting from the start of the file.
func TestPositions(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := strings.Join(rapid.SliceOfN(rapid.SampledFrom([]string{"a", "é", "管", "😀", "\n", "\r\n", strings.Repeat("x", 300)}), 0, 20).Draw(t, "text"), "")
		at := rapid.IntRange(0, len(text)).Draw(t, "at")
		for at < len(text) && !utf8.RuneStart(text[at]) {
			at--
		}
		before := text[:at]
		line := strings.Count(before, "\n") + 1
		column := utf8.RuneCountInString(before[strings.LastIndexByte(before, '\n')+1:]) + 1
		got := newSource("x", []byte(text)).position(at)
		if got.Line != line || got.Column != column || got.Byte != at {
			t.Fatalf("%q at %d: %+v, want line %d column %d", text, at, got, line, column)
		}
	})
}
