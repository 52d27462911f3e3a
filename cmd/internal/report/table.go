package report

import (
	"slices"
	"strings"

	"tapline/lang/diag"
)

const (
	gap       = 2 // columns between two columns of a table
	narrowest = 8 // a column of words is not squeezed below this
)

// A cell is one field of a table; its text may hold line breaks.
type cell struct {
	text   string
	colour string // "" for none
}

// A table is a head, a rule and rows, all of the same number of cells. Numbers
// come padded so that they line up; every column is set flush left.
type table struct {
	head []cell
	rows [][]cell
	// words tells the columns of words, which may be broken to fit the width.
	words []bool
}

// A strip is one column of a table to be.
type strip struct {
	head  cell
	cells []cell
	words bool
}

// size gives the columns it takes when nothing is broken.
func (c *strip) size() int {
	n := c.head.size()
	for i := range c.cells {
		n = max(n, c.cells[i].size())
	}
	return n
}

// size gives the columns of the longest line.
func (c *cell) size() (n int) {
	for line := range strings.SplitSeq(c.text, "\n") {
		n = max(n, diag.Columns(line))
	}
	return n
}

// beside makes a table of columns of one height.
func beside(columns []strip) *table {
	t := &table{rows: make([][]cell, len(columns[0].cells))}
	for i := range t.rows {
		t.rows[i] = make([]cell, len(columns))
	}
	for k, c := range columns {
		t.head, t.words = append(t.head, c.head), append(t.words, c.words)
		for i := range c.cells {
			t.rows[i][k] = c.cells[i]
		}
	}
	return t
}

// sizes gives the columns each column takes when nothing is broken.
func (t *table) sizes() []int {
	sizes := make([]int, len(t.head))
	for i := range t.head {
		sizes[i] = t.head[i].size()
	}
	for _, row := range t.rows {
		for i := range row {
			sizes[i] = max(sizes[i], row[i].size())
		}
	}
	return sizes
}

// total gives the width of a table of columns of these sizes.
func total(sizes []int) int {
	n := gap * (len(sizes) - 1)
	for _, s := range sizes {
		n += s
	}
	return n
}

// write lays the table out within width, breaking the widest columns of words
// as far as it must.
func (t *table) write(b *strings.Builder, width int, p painter) {
	sizes := t.sizes()
	for over := total(sizes) - width; over > 0; over-- {
		widest := -1
		for i, s := range sizes {
			if t.words[i] && s > narrowest && (widest < 0 || s > sizes[widest]) {
				widest = i
			}
		}
		if widest < 0 {
			break
		}
		sizes[widest]--
	}
	t.row(b, t.head, sizes, p, true)
	rules := make([]cell, len(sizes))
	for i, s := range sizes {
		rules[i].text = strings.Repeat("-", s)
	}
	t.row(b, rules, sizes, p, false)
	for _, row := range t.rows {
		t.row(b, row, sizes, p, false)
	}
}

// row writes one row, as many lines high as its highest cell. The head stands
// on the rule, so its short cells are filled from above.
func (t *table) row(b *strings.Builder, row []cell, sizes []int, p painter, head bool) {
	cells := make([][]string, len(row))
	high := 0
	for i, c := range row {
		cells[i] = broken(c.text, sizes[i])
		high = max(high, len(cells[i]))
	}
	for i := range cells {
		fill := make([]string, high-len(cells[i]))
		if head {
			cells[i] = append(fill, cells[i]...)
		} else {
			cells[i] = append(cells[i], fill...)
		}
	}
	for line := range high {
		pending := 0 // spaces owed, left out at the end of a line
		for i, c := range row {
			text := diag.Escape(cells[i][line])
			if text == "" {
				pending += sizes[i] + gap
				continue
			}
			b.WriteString(strings.Repeat(" ", pending))
			b.WriteString(p.paint(c.colour, text))
			pending = sizes[i] + gap - diag.Columns(text)
		}
		b.WriteByte('\n')
	}
}

// broken gives text as lines of at most size columns: at its own line breaks,
// then at spaces, then anywhere.
func broken(text string, size int) []string {
	var out []string
	for line := range strings.SplitSeq(text, "\n") {
		if diag.Columns(line) <= size {
			out = append(out, line)
			continue
		}
		for _, part := range diag.Wrap(line, size, 0) {
			out = append(out, chopped(part, size)...)
		}
	}
	return out
}

// chopped cuts a word into pieces of at most size columns, after a hyphen where a
// piece holds one.
func chopped(word string, size int) []string {
	var out []string
	start, used := 0, 0
	for i, r := range word {
		w := diag.Columns(string(r))
		if used+w > size && i > start {
			end := i
			if h := strings.LastIndexByte(word[start:i], '-'); h > 0 {
				end = start + h + 1
			}
			out = append(out, word[start:end])
			start, used = end, diag.Columns(word[end:i])
		}
		used += w
	}
	return append(out, word[start:])
}

// shortened gives text in at most lines lines of size columns, the rest cut off
// with a mark.
func shortened(text string, size, lines int) string {
	parts := broken(text, size)
	if len(parts) <= lines {
		return strings.Join(parts, "\n")
	}
	parts = slices.Clone(parts[:lines])
	last := parts[lines-1]
	for diag.Columns(last) > size-len("...") {
		r := []rune(last)
		last = string(r[:len(r)-1])
	}
	parts[lines-1] = last + "..."
	return strings.Join(parts, "\n")
}

// A painter sets colours, or none.
type painter bool

func (p painter) paint(colour, text string) string {
	if !bool(p) || colour == "" || strings.TrimSpace(text) == "" {
		return text
	}
	return "\x1b[" + colour + "m" + text + "\x1b[0m"
}

const (
	red  = "1;31"
	bold = "1"
	dim  = "2"
)
