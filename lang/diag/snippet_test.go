package diag

import (
	"fmt"
	"strings"
	"testing"
	"unicode/utf8"

	"pgregory.net/rapid"
)

// at gives the range of the first occurrence of text in src.
func at(t testing.TB, file, src, text string) Range {
	t.Helper()
	i := strings.Index(src, text)
	if i < 0 {
		t.Fatalf("%q is not in the source", text)
	}
	position := func(b int) Position {
		line := strings.Count(src[:b], "\n") + 1
		return Position{Line: line, Column: utf8.RuneCountInString(src[strings.LastIndexByte(src[:b], '\n')+1:b]) + 1, Byte: b}
	}
	return Range{File: file, Start: position(i), End: position(i + len(text))}
}

func TestText(t *testing.T) {
	src := "system \"bench\" {\n  title = \"Bench\"\n}\n" +
		"reducer \"PCV-1\" {\n\tset = \"3 barq\"\n  note\t= \"圧力 3 barq\"\n  data = { a = \"e\u0301e\u0301 barq\" }\n}\n" +
		"line \"main\" {\n  path = <<-P\n    A -> B\n  P\n}\r\nvalve \"\x1b[31mX\u202e\" { cv = 1 }\n"
	second := strings.Index(src, "圧力")
	third := strings.Index(src, "e\u0301")
	tests := []struct {
		name  string
		d     Diagnostic
		notes []string
		want  string
	}{
		{
			name: "tab, place, hint",
			d: Diagnostic{Code: "unknown-unit", Level: Error, Range: at(t, "d/s.tap.hcl", src, "barq"),
				Message: `"barq" is not a unit of pressure`, Hint: `write "barg" or "bara"`},
			want: `
error[unknown-unit]: "barq" is not a unit of pressure
  --> d/s.tap.hcl:5:11
   |
 5 |     set = "3 barq"
   |              ^~~~
   = hint: write "barg" or "bara"
`,
		},
		{
			name: "wide characters before the place",
			d:    Diagnostic{Code: "unknown-unit", Level: Error, Range: shift(at(t, "s", src[second:], "barq"), src, second), Message: "m"},
			want: `
error[unknown-unit]: m
  --> s:6:16
   |
 6 |   note  = "圧力 3 barq"
   |                   ^~~~
`,
		},
		{
			name: "combining characters before the place",
			d:    Diagnostic{Code: "unknown-unit", Level: Error, Range: shift(at(t, "s", src[third:], "barq"), src, third), Message: "m"},
			want: "\nerror[unknown-unit]: m\n  --> s:7:22\n   |\n 7 |   data = { a = \"e\u0301e\u0301 barq\" }\n   |                    ^~~~\n",
		},
		{
			name: "several lines",
			d:    Diagnostic{Code: "bad-path", Level: Error, Range: at(t, "s", src, "<<-P\n    A -> B\n  P"), Message: "m"},
			want: `
error[bad-path]: m
   --> s:10:10
    |
 10 |   path = <<-P
    |          ^~~~ to line 12
`,
		},
		{
			name: "control and direction characters are spelled out",
			d:    Diagnostic{Code: "unsafe-text", Level: Error, Range: at(t, "s", src, "X"), Message: "a\x1b[2Jb\nc\u2066"},
			want: `
error[unsafe-text]: a\x1b[2Jb\nc\u2066
   --> s:14:13
    |
 14 | valve "\x1b[31mX\u202e" { cv = 1 }
    |                ^
`,
		},
		{
			name: "related places, case, causes, notes",
			d: Diagnostic{Code: "band-high", Level: Alarm, Case: "winter", Range: at(t, "s", src, `"3 barq"`), Message: "m", Hint: "h",
				Related: []Related{{Range: at(t, "s", src, `"bench"`), Message: "named here"}, {Message: "and the site"}},
				Causes:  []string{"PCV-1 set", "SRC pressure"}},
			notes: []string{"also in 3 other cases"},
			want: `
alarm[band-high]: m
  --> s:5:8, in case "winter"
   |
 5 |     set = "3 barq"
   |           ^~~~~~~~
  --> s:1:8: named here
   |
 1 | system "bench" {
   |        ^~~~~~~
   = see: and the site
   = moved most by: PCV-1 set, SRC pressure
   = also in 3 other cases
   = hint: h
`,
		},
		{
			name: "no place",
			d:    Diagnostic{Code: "unsolved", Level: Alarm, Case: "base", Message: "m"},
			want: "\nalarm[unsolved]: m\n   = case: base\n",
		},
		{
			name: "a file that was not kept",
			d:    Diagnostic{Code: "c", Level: Note, Message: "m", Range: Range{File: "other", Start: Position{Line: 1234, Column: 2}, End: Position{Line: 1234, Column: 3}}},
			want: "\nnote[c]: m\n     --> other:1234:2\n",
		},
		{
			name: "end of a line",
			d:    Diagnostic{Code: "c", Level: Caution, Message: "m", Range: Range{File: "s", Start: Position{Line: 3, Column: 2}, End: Position{Line: 3, Column: 2}}},
			want: "\ncaution[c]: m\n  --> s:3:2\n   |\n 3 | }\n   |  ^\n",
		},
		{
			name: "past the end of a line",
			d:    Diagnostic{Code: "c", Level: Caution, Message: "m", Range: Range{File: "s", Start: Position{Line: 3, Column: 2000}, End: Position{Line: 3, Column: 2005}}},
			want: "\ncaution[c]: m\n  --> s:3:2000\n   |\n 3 | }\n   |  ^\n",
		},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			p := Printer{Sources: map[string][]byte{"s": []byte(src), "d/s.tap.hcl": []byte(src)}}
			if got := p.Text(tt.d, tt.notes...); got != tt.want[1:] {
				t.Errorf("got:\n%s\nwant:\n%s", got, tt.want[1:])
			}
		})
	}
}

// shift moves a range found in src[by:] to its place in src.
func shift(r Range, src string, by int) Range {
	move := func(p *Position) {
		if p.Line == 1 {
			p.Column += utf8.RuneCountInString(src[strings.LastIndexByte(src[:by], '\n')+1 : by])
		}
		p.Line += strings.Count(src[:by], "\n")
		p.Byte += by
	}
	move(&r.Start)
	move(&r.End)
	return r
}

func TestLongLines(t *testing.T) {
	src := strings.Repeat("a", 300) + "HERE" + strings.Repeat("b", 300)
	tests := []struct {
		mark        string
		width       int
		line, line2 string
	}{
		{"HERE", 60, " 1 | ..." + strings.Repeat("a", 23) + "HERE" + strings.Repeat("b", 22) + "...", "   | " + strings.Repeat(" ", 26) + "^~~~"},
		{src[:3], 60, " 1 | " + strings.Repeat("a", 49) + "...", "   | ^~~"},
		{src[600:], 60, " 1 | ..." + strings.Repeat("b", 49), "   | " + strings.Repeat(" ", 48) + "^~~~"},
		{src, 60, " 1 | " + strings.Repeat("a", 49) + "...", "   | ^" + strings.Repeat("~", 48)},
	}
	for _, tt := range tests {
		p := Printer{Sources: map[string][]byte{"s": []byte(src)}, Width: tt.width}
		r := at(t, "s", src, tt.mark)
		if tt.mark == src[600:] {
			r.Start.Column, r.End.Column = 601, 605
		}
		lines := strings.Split(p.Text(Diagnostic{Code: "c", Range: r}), "\n")
		if lines[3] != tt.line || lines[4] != tt.line2 {
			t.Errorf("got\n%s\n%s\nwant\n%s\n%s", lines[3], lines[4], tt.line, tt.line2)
		}
	}
}

// Whatever a file holds and wherever a range points, the source line and its
// marks keep within the window, hold nothing that moves the cursor, and the
// marks stand under the text that the range names.
func TestWindowHolds(t *testing.T) {
	alphabet := []rune("ab \t圧Ａé\u0301\u200d\u202e\x1b\x00😀\u2028")
	rapid.Check(t, func(t *rapid.T) {
		runes := rapid.SliceOfN(rapid.SampledFrom(alphabet), 0, 400).Draw(t, "line")
		line := string(runes)
		start := rapid.IntRange(-1, len(runes)+3).Draw(t, "start")
		end := rapid.IntRange(-1, len(runes)+3).Draw(t, "end")
		room := rapid.IntRange(20, 155).Draw(t, "room")
		shown, from, columns := window(line, start, end, room)
		if w := Columns(shown); w > room || from+columns > room+1 || from < 0 || columns < 1 {
			t.Fatalf("%q takes %d columns, marks %d+%d, of %d", shown, w, from, columns, room)
		}
		if strings.ContainsAny(shown, "\t\x1b\x00\u202e\u2028") {
			t.Fatalf("%q holds a control character", shown)
		}
		if start < 1 || end <= start || end > len(runes)+1 {
			return
		}
		first := runes[start-1]
		if _, w, _ := cell(string(first)); w == 0 || first == '\t' {
			return
		}
		text, _, _ := cell(string(first))
		if under := after(shown, from); !strings.HasPrefix(under, text) {
			t.Fatalf("marks of %q at %d of %q stand under %q", text, from, shown, under)
		}
	})
}

// after gives what stands in s from column n on.
func after(s string, n int) string {
	for i := 0; i < len(s); {
		_, w, size := cell(s[i:])
		if n == 0 && w > 0 {
			return s[i:]
		}
		n -= w
		i += size
	}
	return ""
}

// Widths of Unicode Standard Annex 11 (East Asian Width), from its property
// values for these characters: W and F take two columns, H, Na, N and A one.
func TestColumns(t *testing.T) {
	for s, want := range map[string]int{
		"あ": 2, "Ａ": 2, "ｱ": 1, "가": 2, "😀": 2, "±": 1, "é": 1, "e\u0301": 1, "→": 1, "µ": 1, "\u200d": 0,
		"\t": 2, "\x7f": 4, "\u0085": 4, "\xff": 4, "\u202e": 6, "": 0, "\U000e0001": 10,
	} {
		if got := Columns(s); got != want {
			t.Errorf("%q takes %d columns, want %d", s, got, want)
		}
		if got := len(Escape(s)); Escape(s) != s && got != want {
			t.Errorf("%q is escaped to %q of %d columns, want %d", s, Escape(s), got, want)
		}
	}
}

func TestWrapAndColour(t *testing.T) {
	p := Printer{Width: 40, Wrap: true, Colour: true}
	got := p.Text(Diagnostic{Code: "a-code", Level: Caution, Message: "one two three four five six seven eight nine ten", Hint: "write one or the other of these two long spellings instead"})
	if got := p.Text(Diagnostic{Code: "c", Case: "a case of a long name, and then some", Range: Range{File: "file", Start: Position{Line: 1, Column: 2}}}); got !=
		"\x1b[1;36mnote[c]\x1b[0m:\n  \x1b[34m-->\x1b[0m file:1:2, in case \"a case of a\n      long name, and then some\"\n" {
		t.Errorf("got %q", got)
	}
	want := "\x1b[1;33mcaution[a-code]\x1b[0m: one two three four five\n    six seven eight nine ten\n" +
		"   \x1b[34m=\x1b[0m \x1b[1mhint: \x1b[0mwrite one or the other of\n           these two long spellings\n           instead\n"
	if got != want {
		t.Errorf("got %q\nwant %q", got, want)
	}
}

func TestAllCountsTheRest(t *testing.T) {
	var ds []Diagnostic
	for i := range MaxPrinted + 7 {
		ds = append(ds, Diagnostic{Code: "c", Message: fmt.Sprint(i)})
	}
	got := (&Printer{}).All(ds)
	if !strings.HasSuffix(got, "note[c]: 99\n\nand 7 more, not printed\n") || strings.Contains(got, "note[c]: 100") {
		t.Errorf("ends in %q", got[len(got)-60:])
	}
}

func BenchmarkTextOfLongLine(b *testing.B) {
	src := strings.Repeat("x", 200_000) + "HERE" + strings.Repeat("y", 50_000)
	p := Printer{Sources: map[string][]byte{"s": []byte(src)}}
	d := Diagnostic{Code: "c", Range: at(b, "s", src, "HERE")}
	b.ReportAllocs()
	for b.Loop() {
		p.Text(d)
	}
}
