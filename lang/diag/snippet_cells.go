package diag

import (
	"bytes"
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"

	"golang.org/x/text/width"
)

// What a character takes on a terminal. Wide and fullwidth characters of
// Unicode Standard Annex 11 take two columns, marks of categories Mn and Me and
// the two joiners take none, everything else takes one (ambiguous ones too,
// which is right outside East Asian locales). Terminals differ on joined emoji;
// there the marks may stand a column or two off.
//
// Control and format characters, line separators and bytes that are no UTF-8
// are spelled out (\x1b, \u202e, \xff): they could move the cursor, colour the
// screen or turn the reading direction, so that a file looks as it does not read.

const (
	tabStop = 4
	cut     = "..." // stands for the part of a line outside the window
)

// Escape spells out whatever in s would not print as itself.
func Escape(s string) string {
	i := 0
	for i < len(s) && s[i] >= ' ' && s[i] < 0x7f {
		i++
	}
	if i == len(s) {
		return s
	}
	var b strings.Builder
	for i = 0; i < len(s); {
		text, _, size := cell(s[i:])
		b.WriteString(text)
		i += size
	}
	return b.String()
}

// Columns gives how many columns Escape(s) takes.
func Columns(s string) int {
	n := 0
	for i := 0; i < len(s); {
		_, w, size := cell(s[i:])
		n += w
		i += size
	}
	return n
}

// cell reads the first character of s: how it is written, the columns that
// takes, and its bytes in s.
func cell(s string) (text string, columns, size int) {
	if c := s[0]; c >= ' ' && c < 0x7f {
		return s[:1], 1, 1
	}
	r, size := utf8.DecodeRuneInString(s)
	switch {
	case r == utf8.RuneError && size == 1, r < 0xa0:
		text = fmt.Sprintf(`\x%02x`, s[0])
		if size > 1 { // U+0080 to U+009F: the code point, not its first byte
			text = fmt.Sprintf(`\x%02x`, r)
		}
		switch r {
		case '\n':
			text = `\n`
		case '\r':
			text = `\r`
		case '\t':
			text = `\t`
		}
		return text, len(text), size
	case r == 0x200c || r == 0x200d: // joiners are part of honest writing
		return s[:size], 0, size
	case unicode.In(r, unicode.Cf, unicode.Zl, unicode.Zp):
		text = fmt.Sprintf(`\u%04x`, r)
		if r > 0xffff {
			text = fmt.Sprintf(`\U%08x`, r)
		}
		return text, len(text), size
	case unicode.In(r, unicode.Mn, unicode.Me):
		return s[:size], 0, size
	}
	switch width.LookupRune(r).Kind() {
	case width.EastAsianWide, width.EastAsianFullwidth:
		return s[:size], 2, size
	}
	return s[:size], 1, size
}

// sourceLine gives line n (from 1) of src without its line end.
func sourceLine(src []byte, n int) (string, bool) {
	if src == nil || n < 1 {
		return "", false
	}
	for ; n > 1; n-- {
		i := bytes.IndexByte(src, '\n')
		if i < 0 {
			return "", false
		}
		src = src[i+1:]
	}
	if i := bytes.IndexByte(src, '\n'); i >= 0 {
		src = src[:i]
	}
	return string(bytes.TrimSuffix(src, []byte("\r"))), true
}

// window gives as much of line as fits in room columns around the code points
// from column start up to, not including, end (both from 1), and where to mark
// them: marks begin after from columns of shown and take columns >= 1.
// Places outside the line are moved to its nearest end.
func window(line string, start, end, room int) (shown string, from, columns int) {
	line, start, end, left, right := near(line, start, end, room)
	var cells []string
	var widths []int
	at := 0
	for i := 0; i < len(line); {
		text, w, size := cell(line[i:])
		if line[i] == '\t' {
			w = tabStop - at%tabStop
			text = strings.Repeat(" ", w)
		}
		cells, widths = append(cells, text), append(widths, w)
		at += w
		i += size
	}
	lo, hi := 0, len(cells)
	if left || right || at > room {
		room -= 2 * len(cut)
		lo, hi = grow(widths, start, end, room)
	}
	left, right = left || lo > 0, right || hi < len(cells)
	if left {
		shown, from = cut, len(cut)
	}
	shown += strings.Join(cells[lo:hi], "")
	if right {
		shown += cut
	}
	from += sum(widths[lo:start])
	columns = sum(widths[start:max(start, min(end, hi))])
	if columns == 0 {
		// Nothing to underline, or a mark that shares the column before it.
		if start < end && start > lo {
			from--
		}
		columns = 1
	}
	return shown, from, columns
}

// near keeps of line only what could come into a window of room columns, so
// that a line of a quarter of a megabyte costs no more than a short one.
// start and end come back as indices of characters of what is kept; left and
// right tell whether something was cut off there.
func near(line string, start, end, room int) (kept string, a, b int, left, right bool) {
	n := utf8.RuneCountInString(line)
	start = min(max(start, 1)-1, n)
	end = min(max(end-1, start), n)
	lo, hi := max(0, start-2*room), min(n, start+2*room)
	line = line[offset(line, lo):]
	return line[:offset(line, hi-lo)], start - lo, min(end, hi) - lo, lo > 0, hi < n
}

// offset gives the bytes that the first n characters of s take.
func offset(s string, n int) int {
	for i := range s {
		if n == 0 {
			return i
		}
		n--
	}
	return len(s)
}

// grow gives the run of cells that holds the marked ones, as far as they fit,
// and as much on either side as room allows.
func grow(widths []int, start, end, room int) (lo, hi int) {
	lo, hi = start, start
	for hi < end && widths[hi] <= room {
		room -= widths[hi]
		hi++
	}
	for grew := true; grew; {
		grew = false
		if lo > 0 && widths[lo-1] <= room {
			lo--
			room -= widths[lo]
			grew = true
		}
		if hi < len(widths) && widths[hi] <= room {
			room -= widths[hi]
			hi++
			grew = true
		}
	}
	return lo, hi
}

func sum(widths []int) int {
	n := 0
	for _, w := range widths {
		n += w
	}
	return n
}
