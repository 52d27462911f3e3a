package lang

import (
	"maps"
	"slices"

	"tapline/lang/diag"
	"tapline/lang/quantity"
)

// Moving through the cases of a spread. A Moved has its own copy of every block in
// which something moves, and Set writes the values of a case into them: no layer is
// laid again, and what does not move is shared with everything else.

// A Moved is the blocks of a spread at one of its cases. It belongs to one goroutine.
type Moved struct {
	*Resolved
	// Touched are the blocks in which something moves.
	Touched []Touch

	spread *Spread
	still  *Resolved // as it is before anything moves
	slots  []slot
}

// A Touch is one value that a spread moves.
type Touch struct {
	Site          bool
	Block, Inline int    // index into Resolved.Blocks or Inline; -1 for the other
	Attribute     string // of the block or of one nested in it
	Nested        bool
	Value         *Value
	Zero          bool // it is nought in some case
	Other         bool // it is no single quantity in some case
}

type slot struct {
	v    *Variable
	k    int // of Spread.Variables
	at   *place
	into *Value
	as   Value           // what it says where a row says nothing
	one  *quantity.Value // what it says of a single quantity
}

// Move resolves a spread and gives its blocks at case 0.
func (d *Description) Move(s *Spread) (*Moved, []diag.Diagnostic) {
	found := newCollector()
	in := newInterpreter(found)
	in.moves = true
	r := d.resolve(s.Name, &s.Case, in)
	m := &Moved{Resolved: r, spread: s, still: r}
	if found.errors() {
		return m, found.result()
	}
	return m.Copy(), found.result()
}

// Copy gives another goroutine's: the same, at case 0.
func (m *Moved) Copy() *Moved {
	r := *m.still
	r.Blocks, r.Inline = slices.Clone(r.Blocks), slices.Clone(r.Inline)
	out := &Moved{Resolved: &r, spread: m.spread, still: m.still}
	out.own(m.spread)
	out.Set(0)
	return out
}

// own copies every block in which something moves, and every value that does.
func (m *Moved) own(s *Spread) {
	o := owner{blocks: map[*Block]bool{}, values: map[*Value]bool{}}
	for k, v := range s.Variables {
		for i := range v.places {
			p := &v.places[i]
			at := &m.Site
			switch {
			case p.block >= 0:
				at = &m.Blocks[p.block]
			case p.inline >= 0:
				at = &m.Inline[p.inline]
			}
			b := o.block(at)
			for _, n := range p.within {
				b = o.block(&b.Blocks[n])
			}
			into, as := o.value(b, p)
			m.slots = append(m.slots, slot{v, k, p, into, as, into.Quantity})
			m.Touched = append(m.Touched, Touch{
				Site: p.site, Block: p.block, Inline: p.inline, Attribute: p.attribute, Nested: len(p.within) > 0, Value: into, Zero: v.zero(p), Other: len(v.others) > 0,
			})
		}
	}
}

// An owner copies each block and each value once.
type owner struct {
	blocks map[*Block]bool
	values map[*Value]bool
}

func (o owner) block(at **Block) *Block {
	if !o.blocks[*at] {
		out := **at
		out.Attrs, out.Blocks = maps.Clone(out.Attrs), slices.Clone(out.Blocks)
		*at = &out
		o.blocks[&out] = true
	}
	return *at
}

// value gives the value at a place of a block, which is then the owner's, and what it
// says of itself. One that is not written is null, so that the default holds.
func (o owner) value(b *Block, p *place) (into *Value, as Value) {
	v := b.Attrs[p.attribute]
	if v == nil {
		v = &Value{Null: true, shape: isNull}
	}
	if !o.values[v] {
		out := *v
		out.Map = slices.Clone(out.Map)
		v = &out
		b.Attrs[p.attribute], o.values[v] = v, true
	}
	if p.entry >= 0 {
		part := *v.Map[p.entry].Value
		v.Map[p.entry].Value = &part
		v = &part
	}
	as = *v
	v.Quantity = &quantity.Value{Form: quantity.Single}
	return v, as
}

// zero tells whether a variable is nought in some case.
func (v *Variable) zero(p *place) bool {
	if v.cells != nil {
		return slices.ContainsFunc(v.cells, func(c cell) bool { return c.si == 0 && c.of >= 0 })
	}
	if v.Values == 0 {
		return p.low.SI <= 0 && p.high.SI >= 0
	}
	return slices.ContainsFunc(p.points, func(q quantity.Quantity) bool { return q.SI == 0 })
}

// At gives what variable k of the spread is at, where it stands first.
func (m *Moved) At(k int) *Value {
	for i := range m.slots {
		if m.slots[i].k == k {
			return m.slots[i].into
		}
	}
	return nil
}

// Set moves to case i.
func (m *Moved) Set(i int) {
	for k := range m.slots {
		t := &m.slots[k]
		var q quantity.Quantity
		switch {
		case m.spread.rows != nil:
			t.row(&t.v.cells[i])
			continue
		case m.spread.Draws > 0:
			q = t.at.low
			q.SI += uniform(t.v.key, i) * (t.at.high.SI - q.SI)
		default:
			q = t.at.points[m.spread.point(i, t.k)]
		}
		t.into.Quantity.Nominal, t.into.Number = q, q.SI
	}
}

// row takes what a cell of a table says.
func (t *slot) row(c *cell) {
	switch {
	case c.of == noCell:
		*t.into = t.as
	case c.of < 0:
		*t.into = *t.v.others[-2-c.of]
	default:
		t.one.Nominal = t.v.units[c.of]
		t.one.Nominal.SI = c.si
		*t.into = Value{Range: t.v.Range, NameRange: t.v.Range, Quantity: t.one, Number: c.si, shape: isText, overlaid: true}
	}
}
