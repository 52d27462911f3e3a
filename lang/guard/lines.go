package guard

import (
	"bytes"
	"sort"
	"unicode/utf8"

	"tapline/lang/diag"
)

// Lines turns byte offsets of one file into positions. Columns are 1-based code
// points; a byte order mark at the beginning has no column.
type Lines struct {
	name   string
	src    []byte
	starts []int // offset of the first byte of each line
}

// NewLines indexes a file. src is kept, not copied.
func NewLines(name string, src []byte) *Lines {
	l := &Lines{name: name, src: src, starts: []int{0}}
	if bytes.HasPrefix(src, []byte("\ufeff")) {
		l.starts[0] = 3
	}
	for i := 0; ; {
		n := bytes.IndexByte(src[i:], '\n')
		if n < 0 {
			return l
		}
		i += n + 1
		l.starts = append(l.starts, i)
	}
}

// Position gives the place of a byte offset; an offset outside the file counts
// as its nearest end. Cost: a search over the lines and one pass over the line.
func (l *Lines) Position(offset int) diag.Position {
	offset = max(0, min(offset, len(l.src)))
	line := max(1, sort.SearchInts(l.starts, offset+1))
	start := min(l.starts[line-1], offset)
	return diag.Position{Line: line, Column: 1 + utf8.RuneCount(l.src[start:offset]), Byte: offset}
}

// Range gives the place of a run of bytes.
func (l *Lines) Range(start, end int) diag.Range {
	return diag.Range{File: l.name, Start: l.Position(start), End: l.Position(end)}
}
