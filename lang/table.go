package lang

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"maps"
	"path/filepath"
	"slices"
	"strings"
	"unicode/utf8"

	"tapline/lang/diag"
	"tapline/lang/quantity"
)

// Cases from a table: a CSV file (RFC 4180) whose first line names what its columns
// say and whose other lines are cases, as a spreadsheet or a logger writes them.
//
//	name,GRID.pressure,FLARE.pressure [barg],V-20.state
//	monday 06:00,51.2 barg,0.12,shut
//	monday 07:00,,0.31,
//
// The first column names the cases. Each other head is TAG.attribute, with the kinds
// of nested blocks between, site.ambient or given.NAME; behind it, in brackets, may
// stand the unit of cells that are bare numbers. An empty cell leaves what the files
// say. A table makes a spread by the name of the file.

// MaxTableBytes is what a table of cases may have.
const MaxTableBytes = 256 << 20

// What else a table may hold.
const (
	maxTableColumns = 200
)

// WithTable gives the description with the cases of a table as its only spread.
func (d *Description) WithTable(name string, src []byte) (*Description, []diag.Diagnostic) {
	out := *d
	found := newCollector()
	t := &tableReader{d: &out, src: newSource(name, src), found: found, in: newInterpreter(found)}
	out.Spreads = nil
	out.Files = append(slices.Clone(d.Files), File{Name: name, Bytes: src})
	if t.read() {
		t.s.fits(t)
		out.Spreads = []*Spread{t.s}
	}
	return &out, found.result()
}

type tableReader struct {
	d       *Description
	src     *source
	found   *collector
	in      *interpreter
	s       *Spread
	columns []*column
}

// A column is what a head names.
type column struct {
	*Variable
	a        *Attribute
	base     *Block // holds the attribute, outside of cases
	at       diag.Range
	unit     string
	interned map[string]int              // of Variable.others, by text
	known    map[quantity.Quantity]int32 // of Variable.units
}

// A cell is what a row says in a column: a quantity, its number apart from what it is
// measured in and from; a value of another kind; or nothing.
type cell struct {
	si float64
	of int32 // index into Variable.units; -1 for nothing; from -2 down, of Variable.others
}

const noCell = -1

// bad reports a mistake in the table.
func (t *tableReader) bad(code string, at diag.Range, hint, format string, args ...any) {
	t.found.errorf(code, at, hint, format, args...)
}

// field gives the place of field i of the record just read, and whether its text stands
// in the file as it is.
func (t *tableReader) field(r *csv.Reader, i int, text string) (at diag.Range, start int, plain bool) {
	line, column := r.FieldPos(i)
	start = t.src.lines[min(line, len(t.src.lines))-1] + column - 1
	if plain = bytes.HasPrefix(t.src.bytes[min(start, len(t.src.bytes)):], []byte(text)); plain {
		return t.src.rangeOf(start, start+len(text)), start, true
	}
	return t.src.rangeOf(start, start+1), start, false
}

// read reads the whole table.
func (t *tableReader) read() bool {
	whole := t.src.rangeOf(0, 0)
	base := filepath.Base(filepath.ToSlash(t.src.name))
	switch {
	case len(t.src.bytes) > MaxTableBytes:
		t.bad(tooLarge, whole, "split it", "a table of cases has at most %d bytes", MaxTableBytes)
		return false
	case !utf8.Valid(t.src.bytes):
		t.bad(badTable, whole, "save it as CSV in UTF-8", "the table is not in UTF-8")
		return false
	}
	t.s = &Spread{Case: Case{Name: base, Kind: "operating", Range: whole}, rows: []string{}}
	text := t.src.bytes
	r := csv.NewReader(bytes.NewReader(text))
	r.ReuseRecord = true
	heads, err := r.Read()
	if err != nil {
		t.broken(err)
		return false
	}
	if !t.heads(r, heads) {
		return false
	}
	names := map[string]bool{}
	for {
		row, err := r.Read()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			t.broken(err)
			return false
		}
		if len(t.s.rows) == maxCombined {
			t.bad(tooLarge, whole, "split it", "a table has at most %d cases", maxCombined)
			return false
		}
		t.row(r, row, names)
		if t.found.full(t.src.name) {
			return false
		}
	}
	if len(t.s.rows) == 0 && !t.found.errors() {
		t.bad(badTable, whole, "a line for each case below the heads", "the table holds no case")
	}
	return !t.found.errors()
}

// broken reports what the CSV itself has wrong.
func (t *tableReader) broken(err error) {
	at := t.src.rangeOf(0, 0)
	if errors.Is(err, io.EOF) {
		t.bad(badTable, at, "name,GRID.pressure", "the table is empty")
		return
	}
	message := err.Error()
	var p *csv.ParseError
	if errors.As(err, &p) {
		start := t.src.lines[min(max(p.Line, 1), len(t.src.lines))-1]
		if p.Column > 0 {
			start += p.Column - 1
		}
		at = t.src.rangeOf(start, start+1)
		switch {
		case errors.Is(p.Err, csv.ErrFieldCount):
			message = "this line has more or fewer cells than the heads"
		case errors.Is(p.Err, csv.ErrQuote), errors.Is(p.Err, csv.ErrBareQuote):
			message = "a quote stands in a cell that is not closed by one, or not begun by one"
		default:
			message = p.Err.Error()
		}
	}
	t.bad(badTable, at, "", "%s", message)
}

// heads reads the first line.
func (t *tableReader) heads(r *csv.Reader, heads []string) bool {
	seen := map[string]diag.Range{}
	for i, head := range heads {
		text := strings.TrimSpace(head)
		at, _, _ := t.field(r, i, head)
		switch first, again := seen[text]; {
		case i == 0 && strings.TrimPrefix(text, "\ufeff") != "name":
			hint := "name,GRID.pressure"
			if strings.Contains(text, ";") {
				hint = "part the cells by commas, not semicolons"
			}
			t.bad(badTable, at, hint, `the first column is headed "name" and names the cases`)
			return false
		case i == 0:
			continue
		case i > maxTableColumns:
			t.bad(tooLarge, at, "", "a table has at most %d columns", maxTableColumns)
			return false
		case again:
			t.found.errorf(repeatedKey, at, "", "two columns are headed %s", show(text)).relate(first, "the first")
			continue
		}
		seen[text] = at
		if c := t.head(text, at); c != nil {
			t.columns = append(t.columns, c)
			t.s.Variables = append(t.s.Variables, c.Variable)
		}
	}
	if len(heads) == 1 {
		t.bad(badTable, t.src.rangeOf(0, 0), "name,GRID.pressure", "the table names cases and says nothing of them")
	}
	return !t.found.errors()
}

// head finds what a head names.
func (t *tableReader) head(text string, at diag.Range) *column {
	c := &column{at: at, interned: map[string]int{}, known: map[quantity.Quantity]int32{}}
	if i := strings.IndexByte(text, '['); i >= 0 && strings.HasSuffix(text, "]") {
		c.unit = strings.TrimSpace(text[i+1 : len(text)-1])
		text = strings.TrimSpace(text[:i])
	}
	parts := strings.Split(text, ".")
	if len(parts) < 2 {
		t.bad(badTable, at, "GRID.pressure, or FLARE.pressure [barg]", "a head is a tag, a point and an attribute, not %s", show(text))
		return nil
	}
	tag, name := parts[0], parts[len(parts)-1]
	p, b := t.place(tag, at)
	if b == nil {
		return nil
	}
	for _, kind := range parts[1 : len(parts)-1] {
		i := slices.IndexFunc(b.Blocks, func(n *Block) bool { return n.Kind == kind })
		if i < 0 {
			t.bad(unknownBlock, at, "", "%s has no block %s", b.what(), show(kind))
			return nil
		}
		p.within = append(p.within, i)
		b = b.Blocks[i]
	}
	p.attribute, p.entry = name, -1
	c.base = b
	c.a = b.typ.Attribute(name)
	switch {
	case c.a == nil:
		t.bad(unknownAttr, at, t.found.meant(name, b.typ.attributeNames()), "%s has no attribute %s", article(b.Kind), show(name))
		return nil
	case c.a.NotBuilt:
		t.bad(notYetBuilt, at, "", "%s is part of the language and not yet built in this version", name)
		return nil
	case c.a.Fixed:
		t.bad(notOverridden, at, "say it in the files", "%s is the same in every case", name)
		return nil
	}
	switch c.a.Type {
	case TypeQuantity, TypeNumber, TypeChoice, TypeFlag, TypeName, TypeDome:
	default:
		t.bad(notOverridden, at, "write it into a case", "%s is neither a value nor a choice, and cannot stand in a table", name)
		return nil
	}
	c.Variable = &Variable{Label: text, Range: at, Text: text, places: []place{p}, owner: b}
	return c
}

// place finds the block of a tag. Given values are not moved by tables: a column says
// directly what they would.
func (t *tableReader) place(tag string, at diag.Range) (place, *Block) {
	none := place{block: -1, inline: -1}
	if tag == siteBlock.Kind {
		none.site = true
		if t.d.Site == nil {
			return none, &Block{Kind: siteBlock.Kind, typ: siteBlock}
		}
		return none, t.d.Site
	}
	b := t.d.names.devices[tag]
	if b == nil {
		t.bad(unknownTag, at, t.found.meant(tag, t.d.names.tags), "no device, source or vent is called %s", show(tag))
		return none, nil
	}
	if i := slices.Index(t.d.Blocks, b); i >= 0 {
		none.block = i
	} else if i := slices.Index(t.d.names.inline, b); i >= 0 {
		none.inline = i
	}
	if !b.typ.InCase || none.block < 0 && none.inline < 0 {
		t.bad(notOverridden, at, "", "a case cannot hold %s", article(b.Kind))
		return none, nil
	}
	return none, b
}

// row reads one case.
func (t *tableReader) row(r *csv.Reader, row []string, names map[string]bool) {
	name := strings.TrimSpace(row[0])
	at, _, _ := t.field(r, 0, row[0])
	switch {
	case name == "":
		t.bad(badName, at, "", "the case has no name")
	case utf8.RuneCountInString(name) > maxTagRunes:
		t.bad(badName, at, "", "a name has at most %d characters", maxTagRunes)
	case names[name]:
		t.bad(repeatedName, at, "", "the case %s is there twice", show(name))
	default:
		t.in.plain(&Value{Text: name, Range: at}, false)
	}
	names[name] = true
	t.s.rows = append(t.s.rows, strings.Clone(name))
	t.s.at = append(t.s.at, int32(at.Start.Byte))
	for i, c := range t.columns {
		c.cells = append(c.cells, t.cell(r, i+1, row[i+1], c))
	}
}

// cell reads one cell.
func (t *tableReader) cell(r *csv.Reader, i int, raw string, c *column) cell {
	text := strings.TrimSpace(raw)
	if text == "" {
		return cell{of: noCell}
	}
	if k, ok := c.interned[text]; ok {
		return cell{of: int32(-2 - k)}
	}
	at, start, plain := t.field(r, i, raw)
	v := &Value{Range: at, NameRange: c.at, Text: text, shape: isText, overlaid: true}
	if plain && c.unit == "" {
		lead := strings.Index(raw, text)
		v.lit = literal{src: t.src, segs: []segment{{file: int32(start + lead), width: int32(len(text))}}, end: len(text)}
	}
	switch c.a.Type {
	case TypeFlag:
		if text == "true" || text == "false" {
			v.shape, v.Flag = isFlag, text == "true"
		}
	case TypeQuantity, TypeNumber, TypeDome:
		if c.unit != "" {
			v.Text = text + " " + c.unit
		}
		if c.a.Type == TypeDome && strings.HasPrefix(text, "(") {
			t.bad(notOverridden, at, "write it into a case", "which node a dome follows cannot stand in a table")
			return cell{of: noCell}
		}
	}
	if !t.in.value(c.a, v, c.base.Get) {
		return cell{of: noCell}
	}
	if c.a.Type == TypeName {
		t.d.named(c.a.Refers, v, t.found)
	}
	if q := v.Quantity; q != nil && q.Form == quantity.Single {
		unit := q.Nominal
		unit.SI, unit.Number = 0, ""
		k, ok := c.known[unit]
		if !ok {
			k = int32(len(c.Variable.units))
			unit.Unit = strings.Clone(unit.Unit)
			c.known[unit] = k
			c.Variable.units = append(c.Variable.units, unit)
		}
		return cell{si: q.Nominal.SI, of: k}
	}
	k := len(c.others)
	if k == maxTableChoices {
		t.bad(tooLarge, at, "", "a column has at most %d different texts", maxTableChoices)
		return cell{of: noCell}
	}
	v.Text = strings.Clone(v.Text)
	c.interned[strings.Clone(text)] = k
	c.others = append(c.others, v)
	return cell{of: int32(-2 - k)}
}

// maxTableChoices bounds what a column holds besides quantities.
const maxTableChoices = 1000

// faults are partial blocks of the faults that a table holds: what a case may break
// decides how the network is made.
func (s *Spread) faults() []*Case {
	var out []*Case
	for _, v := range s.Variables {
		p := v.places[0]
		for _, o := range v.others {
			if p.attribute == "fault" {
				b := &Block{Kind: v.owner.Kind, Tag: v.owner.Tag, typ: v.owner.typ, Attrs: map[string]*Value{"fault": o}}
				out = append(out, &Case{Name: s.Name, Kind: s.Kind, Blocks: []*Block{b}})
			}
		}
	}
	return out
}

// fits holds the blocks of each case together: a fault that needs its size, two
// attributes that exclude each other. Rows that say the same kinds of things are
// looked at once.
func (s *Spread) fits(t *tableReader) {
	m, found := t.d.Move(s)
	if len(found) > 0 {
		return // said where the description was read
	}
	check := &checker{found: t.found, in: t.in, resolving: true, resolved: true}
	seen := map[string]bool{}
	blocks := map[*Block]bool{}
	for _, c := range t.columns {
		p := c.places[0]
		switch {
		case p.site:
			blocks[m.Site] = true
		case p.block >= 0:
			blocks[m.Blocks[p.block]] = true
		default:
			blocks[m.Inline[p.inline]] = true
		}
	}
	ordered := slices.SortedFunc(maps.Keys(blocks), func(a, b *Block) int { return strings.Compare(a.Kind+" "+a.Tag, b.Kind+" "+b.Tag) })
	var key strings.Builder
	for i := range s.rows {
		key.Reset()
		for _, v := range s.Variables {
			fmt.Fprintf(&key, "%d,", min(v.cells[i].of, 0))
		}
		if seen[key.String()] {
			continue
		}
		seen[key.String()] = true
		m.Set(i)
		at := t.src.rangeOf(int(s.at[i]), int(s.at[i])+1)
		for _, b := range ordered {
			check.complete(b, at, false, nil)
			for _, n := range b.Blocks {
				check.complete(n, at, false, nil)
			}
		}
		if t.found.errors() {
			return
		}
	}
}
