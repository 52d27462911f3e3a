package lang

import (
	"tapline/lang/diag"
	"tapline/lang/path"
	"tapline/lang/quantity"
)

// A Description is what the *.tap.hcl files of one folder say. It does not
// change after Read and may be used from several goroutines at once.
type Description struct {
	Dir     string            // as given, forward slashes
	Files   []File            // sorted by name
	System  *Block            // nil where the files hold none
	Site    *Block            // nil where the files hold none
	Givens  map[string]*Value // by name, as written in the given block
	Blocks  []*Block          // all other blocks with a tag, in source order (files sorted by name)
	Lines   []*Line           // in source order
	Cases   []*Case           // as written; the case "base" is implicit
	Spreads []*Spread         // in source order

	names  *names
	curves []string     // names of the files of curves as blocks have them, cleaned, in no order
	always []*Case      // laid over every case, see With
	unset  *Description // without these
}

// A File is one file that was read.
type File struct {
	Name  string // the name used in ranges
	Bytes []byte
}

// A Line is one line block: which devices stand one after the other.
type Line struct {
	Name          string
	Range         diag.Range // the header, line "sample"
	Tube          *Value     // size of tubes that state none, or nil
	Stops         [][]Stop   // one list for each path
	Service, Note string
}

// A Stop is one stop of a path.
type Stop struct {
	path.Step
	Range diag.Range // the very characters, escapes and heredocs mapped
	// Inline is, for a tube written in place, a tube block as if it had been
	// written out, its values pointing into the path. An unnamed one has the
	// tag LINE~N, counted from 1 within its line. (Step.Tube holds the raw
	// arguments.)
	Inline *Block
}

// A Case is one case block, as written.
type Case struct {
	Name       string
	Kind       string // "operating", "service" or "upset"
	Range      diag.Range
	After      []string
	AfterRange []diag.Range
	Generated  bool     // made by upsets of the system block, not written
	Blocks     []*Block // partial copies, Kind "site" and "given" among them
}

// A Block is one block: a device, a band, a nested loading. Partial blocks of
// cases have the same shape.
type Block struct {
	Kind, Tag string
	// Range is the header, reducer "PCV-1"; KindRange and TagRange its parts.
	Range, KindRange, TagRange diag.Range
	Attrs                      map[string]*Value
	Blocks                     []*Block // nested, in source order

	typ    *BlockType
	labels []label // all of the header's labels; Tag is the first
	nth    int     // in Description.Blocks, counted from 1; below 0 among the tubes written in place; 0 in neither
	ill    bool    // something in it was wrong and is left out
}

// A Value is what an attribute, an element of a list or an entry of a map
// says. Which of the fields holds it follows from the attribute's type in the
// schema; see the constants of type Type.
type Value struct {
	Range     diag.Range // the expression, with its quotes
	NameRange diag.Range // the attribute's name; zero for elements
	Null      bool       // null was written: the default holds
	Default   bool       // nothing was written: this comes from the schema
	Flag      bool
	Given     string          // NAME of given.NAME; Resolve puts the value in its place
	Quantity  *quantity.Value // anything with a dimension, bare numbers included
	Reference *quantity.Reference
	Number    float64 // a bare number
	Text      string  // any text as written, quantities included
	List      []*Value
	Map       []Entry // in source order

	shape    shape           // what was written
	lit      literal         // where Text stands in the file
	overlaid bool            // a case says it
	moves    *quantity.Value // in a spread: all that it stands for; Quantity is then the first of it
}

// An Entry is one key of a map with its value.
type Entry struct {
	Key      string
	KeyRange diag.Range
	Value    *Value
}

// Within gives the place of the bytes start up to, not including, end of the
// decoded Text; escapes and the indent of heredocs are mapped. Where there is
// no such place it is the whole value.
func (v *Value) Within(start, end int) diag.Range {
	if r, ok := v.lit.within(start, end); ok {
		return r
	}
	return v.Range
}

// Lookup gives the value of a map's key, or nil.
func (v *Value) Lookup(key string) *Value {
	for i := range v.Map {
		if v.Map[i].Key == key {
			return v.Map[i].Value
		}
	}
	return nil
}

// Texts gives the texts of a list, or of a single text.
func (v *Value) Texts() []string {
	if v == nil || v.Null {
		return nil
	}
	if v.List == nil {
		return []string{v.Text}
	}
	ts := make([]string, len(v.List))
	for i, e := range v.List {
		ts[i] = e.Text
	}
	return ts
}

// Get gives the value of an attribute: what is written, else the schema's
// default (Default is true), else nil.
func (b *Block) Get(name string) *Value {
	if v := b.Attrs[name]; v != nil && !v.Null {
		return v
	}
	if b.typ == nil {
		return nil
	}
	return b.typ.defaultOf(name)
}

// Has reports whether the attribute is written and not null.
func (b *Block) Has(name string) bool {
	v := b.Attrs[name]
	return v != nil && !v.Null
}

// Nested gives the first nested block of that kind, or nil.
func (b *Block) Nested(kind string) *Block {
	for _, n := range b.Blocks {
		if n.Kind == kind {
			return n
		}
	}
	return nil
}

// Type gives the block's row of the schema table.
func (b *Block) Type() *BlockType { return b.typ }
