package lang

import (
	"bytes"
	"sort"
	"unicode/utf8"

	"tapline/lang/diag"
)

// A source is one file's bytes with what is needed to turn a byte offset into
// a line and a column quickly, however long the lines are.
type source struct {
	name  string
	bytes []byte
	lines []int // byte offset of each line's first byte
	marks []int // code points that start before byte i*markEvery; nil where each byte is one
}

// markEvery is the distance between remembered counts of code points.
const markEvery = 256

func newSource(name string, src []byte) *source {
	s := &source{name: name, bytes: src, lines: make([]int, 1, bytes.Count(src, []byte("\n"))+1)}
	plain := true
	for i, c := range src {
		plain = plain && c < utf8.RuneSelf
		if c == '\n' {
			s.lines = append(s.lines, i+1)
		}
	}
	if plain {
		return s
	}
	count := 0
	for i, c := range src {
		if i%markEvery == 0 {
			s.marks = append(s.marks, count)
		}
		if startsRune(c) {
			count++
		}
	}
	s.marks = append(s.marks, count)
	return s
}

// startsRune tells whether c is the first byte of a code point.
func startsRune(c byte) bool { return c&0xC0 != 0x80 }

// runesBefore counts the code points that start before byte.
func (s *source) runesBefore(byte int) int {
	if s.marks == nil {
		return byte
	}
	i := byte / markEvery
	n := s.marks[i]
	for _, c := range s.bytes[i*markEvery : byte] {
		if startsRune(c) {
			n++
		}
	}
	return n
}

// position turns a byte offset (brought into the file where it lies outside)
// into a place.
func (s *source) position(byte int) diag.Position {
	byte = max(0, min(byte, len(s.bytes)))
	line := sort.SearchInts(s.lines, byte+1)
	start := s.lines[line-1]
	return diag.Position{Line: line, Column: s.runesBefore(byte) - s.runesBefore(start) + 1, Byte: byte}
}

// rangeOf gives the range of the bytes start up to, not including, end.
func (s *source) rangeOf(start, end int) diag.Range {
	return diag.Range{File: s.name, Start: s.position(start), End: s.position(max(start, end))}
}
