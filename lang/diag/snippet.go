package diag

import (
	"fmt"
	"strconv"
	"strings"
)

// How a finding looks to people:
//
//	error[unknown-unit]: "barq" is not a unit of pressure
//	  --> bench/system.tap.hcl:7:19
//	   |
//	 7 |   outlet  = "4.2 barq"
//	   |                  ^~~~
//	   = hint: write "barg" (gauge) or "bara" (absolute)
//
// The marks stand under the very characters of the range on any terminal: tabs
// are spread, wide characters take two columns, combining ones none, and
// whatever could move the cursor is spelled out (see snippet_cells.go). A line
// too long for the window is shown around the place. A range over several
// lines is marked on its first line, which says where it ends.

const (
	// MaxColumns is the widest a source line is ever printed.
	MaxColumns = 160
	// MaxPrinted is how many findings All prints before it counts the rest.
	MaxPrinted = 100

	minColumns = 40
)

// A Printer turns diagnostics into text for people. The zero value prints
// without source lines, without colour, at MaxColumns.
type Printer struct {
	Sources map[string][]byte // by the file name that ranges use
	Width   int               // columns of the window; kept within 40..160, 0 means 160
	Wrap    bool              // break sentences at Width too (a terminal); otherwise they stay whole (a log)
	Colour  bool
}

// All gives every diagnostic in the order given, a blank line between two, and
// after MaxPrinted of them a count of those left out.
func (p *Printer) All(ds []Diagnostic) string {
	var b strings.Builder
	for i, d := range ds {
		if i > 0 {
			b.WriteByte('\n')
		}
		if i == MaxPrinted {
			b.WriteString(More(len(ds) - i))
			break
		}
		b.WriteString(p.Text(d))
	}
	return b.String()
}

// More is the line that stands for n findings not printed.
func More(n int) string { return fmt.Sprintf("and %d more, not printed\n", n) }

// Text gives one diagnostic, ending in a newline. Each of the notes becomes a
// line of its own below the places.
func (p *Printer) Text(d Diagnostic, notes ...string) string {
	s := snippet{Printer: *p, level: d.Level, gutter: 2}
	s.Width = p.columns()
	for _, r := range append([]Related{{Range: d.Range}}, d.Related...) {
		if !r.Range.IsZero() {
			s.gutter = max(s.gutter, len(strconv.Itoa(r.Range.Start.Line))+1)
		}
	}
	s.head(d)
	if !d.Range.IsZero() {
		where := ""
		if d.Case != "" {
			where = ", in case " + strconv.Quote(d.Case)
		}
		s.place(d.Range, where)
	}
	for _, r := range d.Related {
		if r.Range.IsZero() {
			s.note("see", r.Message)
			continue
		}
		s.place(r.Range, ": "+Escape(r.Message))
	}
	if d.Range.IsZero() && d.Case != "" {
		s.note("case", d.Case)
	}
	if len(d.Causes) > 0 {
		s.note("moved most by", strings.Join(d.Causes, ", "))
	}
	for _, n := range notes {
		s.note("", n)
	}
	if d.Hint != "" {
		s.note("hint", d.Hint)
	}
	return s.String()
}

func (p *Printer) columns() int {
	if p.Width == 0 {
		return MaxColumns
	}
	return min(max(p.Width, minColumns), MaxColumns)
}

// A snippet is the text of one diagnostic under way.
type snippet struct {
	Printer
	strings.Builder
	level  Level
	gutter int // columns of the line numbers
}

func (s *snippet) head(d Diagnostic) {
	title := d.Level.String()
	if d.Code != "" {
		title += "[" + Escape(d.Code) + "]"
	}
	lines := s.wrap(title+": "+Escape(d.Message), 4)
	// The title holds no space, so it is whole in the first line.
	s.WriteString(s.paint(levelColour(s.level), title) + strings.TrimPrefix(lines[0], title) + "\n")
	for _, l := range lines[1:] {
		s.WriteString("    " + l + "\n")
	}
}

// place writes where r is, what follows it, and the source line with its marks.
func (s *snippet) place(r Range, after string) {
	pad := strings.Repeat(" ", s.gutter)
	for i, l := range s.wrap(pad+"--> "+Escape(r.String())+after, s.gutter+4) {
		if i == 0 {
			l = pad + s.paint(gutterColour, "-->") + strings.TrimPrefix(l, pad+"-->")
		} else {
			l = pad + "    " + l
		}
		s.WriteString(l + "\n")
	}
	line, ok := sourceLine(s.Sources[r.File], r.Start.Line)
	if !ok {
		return
	}
	end, tail := r.End.Column, ""
	if r.End.Line > r.Start.Line {
		end, tail = int(^uint(0)>>1), fmt.Sprintf(" to line %d", r.End.Line)
	}
	bar := s.paint(gutterColour, "|")
	shown, from, width := window(line, r.Start.Column, end, s.Width-s.gutter-3-len(tail))
	number := s.paint(gutterColour, fmt.Sprintf("%*d", s.gutter, r.Start.Line))
	marks := s.paint(levelColour(s.level), "^"+strings.Repeat("~", width-1)+tail)
	fmt.Fprintf(s, "%s %s\n", pad, bar)
	fmt.Fprintf(s, "%s %s %s\n", number, bar, strings.TrimRight(shown, " "))
	fmt.Fprintf(s, "%s %s %s%s\n", pad, bar, strings.Repeat(" ", from), marks)
}

// note writes "= label: text" under the gutter.
func (s *snippet) note(label, text string) {
	if label != "" {
		label += ": "
	}
	indent := s.gutter + 3 + len(label)
	lines := s.wrap(strings.Repeat(" ", indent)+Escape(text), indent)
	fmt.Fprintf(s, "%*s %s %s%s\n", s.gutter, "", s.paint(gutterColour, "="), s.paint(bold, label), strings.TrimLeft(lines[0], " "))
	for _, l := range lines[1:] {
		fmt.Fprintf(s, "%*s%s\n", indent, "", l)
	}
}

// wrap breaks text at the window where sentences are to be broken; lines after
// the first leave indent columns free.
func (s *snippet) wrap(text string, indent int) []string {
	if !s.Wrap {
		return []string{text}
	}
	return Wrap(text, s.Width, indent)
}

// Wrap breaks text at spaces so that the first line takes at most width columns
// and each later one at most width-indent. A word longer than a line stays
// whole. Leading spaces are kept.
func Wrap(text string, width, indent int) []string {
	var lines []string
	line := text[:len(text)-len(strings.TrimLeft(text, " "))]
	used, empty := len(line), true
	for _, word := range strings.Fields(text) {
		w := Columns(word)
		switch {
		case empty:
			line, used, empty = line+word, used+w, false
		case used+1+w > width:
			lines = append(lines, line)
			line, used = word, indent+w
		default:
			line, used = line+" "+word, used+1+w
		}
	}
	return append(lines, line)
}

// Colours are the plain eight of ECMA-48, bold, so that they follow the
// reader's own palette.
const (
	bold         = "1"
	gutterColour = "34"
)

func levelColour(l Level) string {
	switch l {
	case Note:
		return "1;36"
	case Caution:
		return "1;33"
	}
	return "1;31"
}

func (s *snippet) paint(colour, text string) string {
	if !s.Colour || text == "" {
		return text
	}
	return "\x1b[" + colour + "m" + text + "\x1b[0m"
}
