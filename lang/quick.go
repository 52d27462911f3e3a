package lang

import (
	"strconv"
	"unicode/utf8"

	"tapline/lang/diag"
	"tapline/lang/guard"
)

// The usual spelling of files, read by hand.
//
// The guard and the HCL parser (raw.go) define the language. Between them they
// cut a file into tokens twice, at 80 bytes and several allocations a token, and
// make a tree that is thrown away; nearly every file is sound and uses little of
// the syntax. quick reads those in one pass to the blocks that raw.go would make
// of the tree, and gives up, without a word, on everything else: the guard and
// the parser then decide and explain. It goes no deeper than the guard would let it. A
// test holds the two against each other.
//
// Left to them are, besides all that is wrong, templates and their escaped marks,
// comments of several lines, numbers with exponents, more than one label and
// names in other letters than ASCII.

// mostEntries bounds maps, whose keys are compared with one another.
const mostEntries = 100

// quick gives the blocks of a file in the usual spelling. Where it is another,
// ok is false and nothing is reported or counted.
func (r *rawReader) quick(src *source) (blocks []*Block, ok bool) {
	if !guard.IsText(src.bytes) {
		return nil, false
	}
	q := quickReader{src: src, text: string(src.bytes), line: 1}
	if !q.file() || r.blocks+q.braces > maxBlocks || r.values+q.marks > maxValues {
		return nil, false
	}
	r.blocks, r.values = r.blocks+q.braces, r.values+q.marks
	return q.top, true
}

// A quickReader goes over the text of one file. Its methods tell whether what
// they take is usual.
type quickReader struct {
	src  *source
	text string
	at   int

	line  int // of the byte at hand
	start int // of that line
	inner int // bytes of that line so far that begin no code point

	depth         int      // of braces and brackets
	braces, marks int      // what the parser's limits count: see mask.go
	top           []*Block // of the file
	attrs         []attr   // of the bodies that are open

	blocks slab[Block]
	values slab[Value]
	labels slab[label]
	segs   slab[segment]
}

type attr struct {
	name  string
	value *Value
}

// A slab hands out the elements of slices, which takes an allocation for many.
type slab[T any] struct{ free []T }

func (s *slab[T]) one() []T {
	if len(s.free) == 0 {
		s.free = make([]T, 16)
	}
	one := s.free[:1:1]
	s.free = s.free[1:]
	return one
}

// here is the place of the byte at hand.
func (q *quickReader) here() diag.Position {
	return diag.Position{Line: q.line, Column: q.at - q.start - q.inner + 1, Byte: q.at}
}

func (q *quickReader) from(start diag.Position) diag.Range {
	return diag.Range{File: q.src.name, Start: start, End: q.here()}
}

// next gives the byte at hand past spaces, 0 at the end of the file.
func (q *quickReader) next() byte {
	for ; q.at < len(q.text); q.at++ {
		if c := q.text[q.at]; c != ' ' && c != '\t' {
			return c
		}
	}
	return 0
}

// take takes the sign c past spaces.
func (q *quickReader) take(c byte) bool {
	if q.next() != c {
		return false
	}
	q.at++
	return true
}

// newline takes the rest of a line that holds nothing more but a comment, and
// the end of the file for one.
func (q *quickReader) newline() bool {
	switch c := q.next(); {
	case c == '#' || c == '/' && q.at+1 < len(q.text) && q.text[q.at+1] == '/':
		for q.at < len(q.text) && q.text[q.at] != '\n' {
			q.at++
		}
	case c == '\r':
		q.at++ // a line feed follows: the file is text
	}
	if q.at == len(q.text) {
		return true
	}
	if q.text[q.at] != '\n' {
		return false
	}
	q.at++
	q.line, q.start, q.inner = q.line+1, q.at, 0
	return true
}

// newlines takes empty lines and comments, if any, and gives the byte behind them.
func (q *quickReader) newlines() byte {
	for q.at < len(q.text) && q.newline() {
	}
	return q.next()
}

// open and shut take a brace or bracket.
func (q *quickReader) open(c byte) bool {
	q.depth++
	return q.depth <= guard.MaxNesting && q.take(c)
}

func (q *quickReader) shut(c byte) bool {
	q.depth--
	return q.take(c)
}

// mark takes a sign that the limits count.
func (q *quickReader) mark(c byte) bool {
	q.marks++
	return q.take(c)
}

// word takes a name past spaces.
func (q *quickReader) word() (name string, at diag.Range, ok bool) {
	c := q.next()
	if !letter(c) {
		return "", at, false
	}
	start := q.here()
	for q.at < len(q.text) && (letter(q.text[q.at]) || digit(q.text[q.at]) || q.text[q.at] == '-') {
		q.at++
	}
	name = q.text[start.Byte:q.at]
	return name, q.from(start), name != "for" && (q.at == len(q.text) || q.text[q.at] < utf8.RuneSelf)
}

func letter(c byte) bool { return 'a' <= c|0x20 && c|0x20 <= 'z' || c == '_' }
func digit(c byte) bool  { return '0' <= c && c <= '9' }

func (q *quickReader) file() bool {
	for q.newlines() != 0 {
		b, ok := q.block()
		if !ok {
			return false
		}
		q.top = append(q.top, b)
	}
	return q.at == len(q.text)
}

// block takes a block from its kind to the end of the line it ends on.
func (q *quickReader) block() (*Block, bool) {
	kind, at, ok := q.word()
	if !ok {
		return nil, false
	}
	return q.blockOf(kind, at)
}

// blockOf takes the rest of a block whose kind has been read.
func (q *quickReader) blockOf(kind string, at diag.Range) (*Block, bool) {
	b := &q.blocks.one()[0]
	b.Kind, b.KindRange, b.Range = kind, at, at
	if c := q.next(); c != '{' {
		b.labels = q.labels.one()
		l := &b.labels[0]
		ok := false
		if c == '"' {
			l.text, _, l.at, ok = q.quoted()
		} else {
			l.text, l.at, ok = q.word()
		}
		if !ok {
			return nil, false
		}
		b.Tag, b.TagRange, b.Range.End = l.text, l.at, l.at.End
	}
	q.braces++
	return b, q.open('{') && q.body(b) && q.shut('}') && q.newline()
}

// body takes the inside of a block, which is one attribute or lines of them.
func (q *quickReader) body(b *Block) bool {
	first := len(q.attrs)
	if c := q.next(); letter(c) {
		name, at, ok := q.word()
		if !ok || !q.attribute(name, at) {
			return false
		}
	} else if c != '}' {
		for q.newlines() != '}' {
			name, at, ok := q.word()
			switch {
			case !ok:
				return false
			case q.next() == '=':
				if !q.attribute(name, at) || !q.newline() {
					return false
				}
			default:
				n, ok := q.blockOf(name, at)
				if !ok {
					return false
				}
				b.Blocks = append(b.Blocks, n)
			}
		}
	}
	own := q.attrs[first:]
	b.Attrs = make(map[string]*Value, len(own))
	for _, a := range own {
		b.Attrs[a.name] = a.value
	}
	q.attrs = q.attrs[:first]
	return len(b.Attrs) == len(own)
}

// attribute takes the rest of an attribute whose name has been read.
func (q *quickReader) attribute(name string, at diag.Range) bool {
	if !q.mark('=') {
		return false
	}
	v, ok := q.value()
	if !ok {
		return false
	}
	v.NameRange = at
	q.attrs = append(q.attrs, attr{name, v})
	return true
}

func (q *quickReader) value() (v *Value, ok bool) {
	c := q.next()
	start := q.here()
	v = &q.values.one()[0]
	switch {
	case c == '"':
		v.shape = isText
		v.Text, v.lit, v.Range, ok = q.quoted()
		return v, ok
	case c == '<':
		v.shape = isText
		v.Text, v.lit, ok = q.heredoc()
	case c == '-' || digit(c):
		v.shape = isNumber
		v.Number, ok = q.number()
	case c == '[':
		v.shape = isList
		ok = q.list(v)
	case c == '{':
		v.shape = isMap
		ok = q.entries(v)
	default:
		ok = q.bare(v)
	}
	v.Range = q.from(start)
	return v, ok
}

// bare takes true, false, null or given.NAME.
func (q *quickReader) bare(v *Value) bool {
	word, _, ok := q.word()
	switch {
	case !ok:
		return false
	case word == "true", word == "false":
		v.shape, v.Flag = isFlag, word == "true"
	case word == "null":
		v.shape, v.Null = isNull, true
	case word == "given" && q.at+1 < len(q.text) && q.text[q.at] == '.' && letter(q.text[q.at+1]):
		q.at++
		v.shape = isGiven
		v.Given, _, ok = q.word()
	default:
		return false
	}
	return ok
}

func (q *quickReader) number() (float64, bool) {
	start := q.at
	if q.text[q.at] == '-' {
		q.at++
	}
	first := q.at
	q.digits()
	if q.at == first {
		return 0, false
	}
	if q.at < len(q.text) && q.text[q.at] == '.' {
		q.at++
		if point := q.at; q.digits() == point {
			return 0, false
		}
	}
	if q.at-first > guard.MaxDigits {
		return 0, false
	}
	n, err := strconv.ParseFloat(q.text[start:q.at], 64)
	return n, err == nil
}

// digits takes digits, if any, and gives where they end.
func (q *quickReader) digits() int {
	for q.at < len(q.text) && digit(q.text[q.at]) {
		q.at++
	}
	return q.at
}

// list takes a list; its lines end where they like.
func (q *quickReader) list(v *Value) bool {
	if !q.open('[') {
		return false
	}
	v.List = []*Value{}
	for q.newlines() != ']' {
		e, ok := q.value()
		if !ok {
			return false
		}
		v.List = append(v.List, e)
		if q.newlines() != ']' && !q.mark(',') {
			return false
		}
	}
	return q.shut(']')
}

// entries takes a map; a comma or a line's end, or both, part its entries.
func (q *quickReader) entries(v *Value) bool {
	q.braces++
	if !q.open('{') {
		return false
	}
	for q.newlines() != '}' {
		e, ok := q.entry()
		if !ok || len(v.Map) == mostEntries || v.Lookup(e.Key) != nil {
			return false
		}
		v.Map = append(v.Map, e)
		if c := q.next(); c == ',' {
			q.mark(',')
		} else if c != '}' && !q.newline() {
			return false
		}
	}
	return q.shut('}')
}

func (q *quickReader) entry() (e Entry, ok bool) {
	if q.next() == '"' {
		e.Key, _, e.KeyRange, ok = q.quoted()
	} else {
		e.Key, e.KeyRange, ok = q.word()
		ok = ok && e.Key != "true" && e.Key != "false" && e.Key != "null"
	}
	if !ok || !(q.next() == ':' && q.take(':') || q.mark('=')) {
		return e, false
	}
	if e.Value, ok = q.value(); ok {
		e.Value.NameRange = e.KeyRange
	}
	return e, ok
}
