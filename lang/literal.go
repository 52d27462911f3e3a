package lang

import (
	"bytes"
	"fmt"
	"sort"
	"strings"
	"unicode"
	"unicode/utf8"

	"golang.org/x/text/unicode/norm"

	"tapline/lang/diag"
)

// How strings are read.
//
// The HCL parser is given every string blanked out (see mask.go) and
// this file decodes the strings from the file's own bytes. That keeps the place
// of every decoded character known, so that an error inside a quantity or a
// path underlines the very characters, through escapes and stripped indents;
// and it is linear in the length of the string, which the parser is not.
//
// A quoted string knows \n \r \t \" \\ \uXXXX \UXXXXXXXX. A heredoc takes
// backslashes as they are; <<- strips the indent of its least indented line
// that is not blank. Both know $${ and %%{ for ${ and %{. Text is brought into
// Unicode's composed form, so that names that look the same are the same; where
// that changes anything, places inside the string are no longer told apart.

// A literal is where a decoded text, or a part of one, stands in its file.
type literal struct {
	src  *source
	from int // offset of the text within all that the literal decodes to
	segs []segment
	end  int // length of all the literal decodes to
}

// A segment maps decoded bytes from text on, up to the next segment, to the
// width file bytes at file: one for one, or as a whole where folded.
type segment struct {
	text, file, width int32
	folded            bool
}

// within maps the bytes start..end of the decoded text to the file.
func (l literal) within(start, end int) (diag.Range, bool) {
	start, end = start+l.from, end+l.from
	if l.src == nil || start < 0 || end < start || end > l.end {
		return diag.Range{}, false
	}
	first, _ := l.span(start)
	if end == start {
		return l.src.rangeOf(first, first), true
	}
	_, last := l.span(end - 1)
	return l.src.rangeOf(first, last), true
}

// span gives the file bytes that the decoded byte at came from. Past the last
// byte it is the place right after it.
func (l literal) span(at int) (start, end int) {
	i := sort.Search(len(l.segs), func(i int) bool { return int(l.segs[i].text) > at }) - 1
	if i < 0 {
		return 0, 0
	}
	s := l.segs[i]
	if at >= l.end {
		e := int(s.file + s.width)
		return e, e
	}
	if s.folded {
		return int(s.file), int(s.file + s.width)
	}
	f := int(s.file) + at - int(s.text)
	return f, f + 1
}

// part gives the literal of the decoded text from byte start on.
func (l literal) part(start int) literal {
	l.from += start
	return l
}

// A textError is a mistake inside a string, at file bytes.
type textError struct {
	start, end    int
	message, hint string
}

// decodeString decodes the quoted string or heredoc that stands at the file
// bytes start up to end, delimiters included.
func decodeString(src *source, start, end int) (string, literal, []textError) {
	d := decoder{src: src}
	if bytes.HasPrefix(src.bytes[start:end], []byte("<<")) {
		d.heredoc(start, end)
	} else {
		d.quoted(start+1, max(start+1, end-1))
	}
	text := d.text.String()
	if len(d.segs) == 0 {
		d.segs = append(d.segs, segment{text: 0, file: int32(min(start+1, end))})
	}
	if !norm.NFC.IsNormalString(text) {
		text = norm.NFC.String(text)
		d.segs = []segment{{file: int32(start), width: int32(end - start), folded: true}}
	}
	return text, literal{src: src, segs: d.segs, end: len(text)}, d.errs
}

type decoder struct {
	src  *source
	text strings.Builder
	segs []segment
	errs []textError
}

// copy takes the file bytes start..end as they are.
func (d *decoder) copy(start, end int) {
	if start >= end {
		return
	}
	if n := len(d.segs); n > 0 && !d.segs[n-1].folded && int(d.segs[n-1].file+d.segs[n-1].width) == start {
		d.segs[n-1].width += int32(end - start)
	} else {
		d.segs = append(d.segs, segment{text: int32(d.text.Len()), file: int32(start), width: int32(end - start)})
	}
	d.text.Write(d.src.bytes[start:end])
}

// fold puts text in the place of the file bytes start..end.
func (d *decoder) fold(start, end int, text string) {
	d.segs = append(d.segs, segment{text: int32(d.text.Len()), file: int32(start), width: int32(end - start), folded: true})
	d.text.WriteString(text)
}

func (d *decoder) quoted(start, end int) {
	b := d.src.bytes
	for i := start; i < end; {
		switch {
		case b[i] == '\\':
			i += d.escape(i, end)
		case doubled(b[i:end]):
			d.fold(i, i+3, string(b[i+1:i+3]))
			i += 3
		default:
			i = d.run(i, end, "\\$%")
		}
	}
}

// run takes the byte at i and those behind it up to the next of the marks, and
// gives where it stopped.
func (d *decoder) run(i, end int, marks string) int {
	stop := end
	if n := bytes.IndexAny(d.src.bytes[i+1:end], marks); n >= 0 {
		stop = i + 1 + n
	}
	d.copy(i, stop)
	return stop
}

// doubled tells whether b starts with $${ or %%{.
func doubled(b []byte) bool {
	return len(b) >= 3 && (b[0] == '$' || b[0] == '%') && b[1] == b[0] && b[2] == '{'
}

// escape decodes the backslash sequence at i and tells its length.
func (d *decoder) escape(i, end int) int {
	b := d.src.bytes
	if i+1 >= end {
		d.copy(i, end)
		return 1
	}
	switch b[i+1] {
	case 'n':
		d.fold(i, i+2, "\n")
	case 'r':
		d.fold(i, i+2, "\r")
	case 't':
		d.fold(i, i+2, "\t")
	case '"', '\\':
		d.fold(i, i+2, string(b[i+1:i+2]))
	case 'u':
		return d.codePoint(i, end, 4)
	case 'U':
		return d.codePoint(i, end, 8)
	default:
		_, width := utf8.DecodeRune(b[i+1 : end])
		d.errs = append(d.errs, textError{i, i + 1 + width,
			fmt.Sprintf("%s is no escape sequence", show(string(b[i:i+1+width]))),
			`write \\ for a backslash`})
		d.copy(i, i+1+width)
		return 1 + width
	}
	return 2
}

// codePoint decodes \u or \U at i with its digits.
func (d *decoder) codePoint(i, end, digits int) int {
	b := d.src.bytes
	var r rune
	n := 0
	for ; n < digits && i+2+n < end; n++ {
		h := strings.IndexByte("0123456789abcdef", b[i+2+n]|0x20)
		if h < 0 {
			break
		}
		r = r<<4 | rune(h)
	}
	if n < digits || !utf8.ValidRune(r) {
		d.errs = append(d.errs, textError{i, i + 2 + n,
			fmt.Sprintf(`\%c must be followed by the %d hexadecimal digits of a character`, b[i+1], digits),
			`\u00b1 is the sign ±`})
		d.copy(i, i+2+n)
		return 2 + n
	}
	d.fold(i, i+2+n, string(r))
	return 2 + n
}

func (d *decoder) heredoc(start, end int) {
	b := d.src.bytes
	flush := start+2 < end && b[start+2] == '-'
	for start < end && b[start] != '\n' {
		start++
	}
	start = min(start+1, end)
	// The closing marker is the last line; what is before it is the body.
	for end > start && b[end-1] == '\n' {
		end--
	}
	for end > start && b[end-1] != '\n' {
		end--
	}
	indent := 0
	if flush {
		indent = d.indent(start, end)
	}
	for at := start; at < end; {
		eol := at
		for eol < end && b[eol] != '\n' {
			eol++
		}
		eol = min(eol+1, end)
		d.line(at, eol, indent)
		at = eol
	}
}

// indent counts the spaces (in code points) that every line of the body that is
// not blank starts with.
func (d *decoder) indent(start, end int) int {
	least := -1
	for line := range bytes.Lines(d.src.bytes[start:end]) {
		body := bytes.TrimLeftFunc(line, unicode.IsSpace)
		if len(body) == 0 {
			continue
		}
		if n := utf8.RuneCount(line[:len(line)-len(body)]); least < 0 || n < least {
			least = n
		}
	}
	return max(least, 0)
}

// line decodes one line of a heredoc, without its indent unless it is blank.
func (d *decoder) line(start, end, indent int) {
	b := d.src.bytes
	if len(bytes.TrimSpace(b[start:end])) > 0 {
		for ; indent > 0; indent-- {
			_, width := utf8.DecodeRune(b[start:end])
			start += width
		}
	}
	for i := start; i < end; {
		if doubled(b[i:end]) {
			d.fold(i, i+3, string(b[i+1:i+3]))
			i += 3
			continue
		}
		i = d.run(i, end, "$%")
	}
}

// show quotes a piece of a file for a message: control characters escaped, long
// pieces cut.
func show(s string) string {
	const most = 60
	if utf8.RuneCountInString(s) > most {
		s = string([]rune(s)[:most]) + "..."
	}
	var out strings.Builder
	out.WriteByte('"')
	for _, r := range s {
		if unicode.IsPrint(r) {
			out.WriteRune(r)
		} else {
			fmt.Fprintf(&out, `\u%04x`, r)
		}
	}
	out.WriteByte('"')
	return out.String()
}
