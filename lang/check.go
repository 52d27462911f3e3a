package lang

import (
	"cmp"
	"slices"
	"strings"

	"tapline/lang/diag"
)

// A checker holds blocks against the schema, top down.
type checker struct {
	found     *collector
	in        *interpreter
	resolving bool // blocks are merged ones
	resolved  bool // of another case than the base
	layered   bool // blocks are partial ones of a case that starts from others

	open       opener // of the files of curves
	shown      string // the folder as ranges name it
	curves     map[string]*source
	curveBytes int
}

// block sees to it that b says only what its type lets it say; what is wrong
// is reported and taken out of b. A partial block (of a case) needs nothing;
// base is then the block it is a copy of, or nil.
func (c *checker) block(b *Block, t *BlockType, partial bool, base *Block) {
	b.typ = t
	spoilt := map[string]bool{}
	var room names16
	for _, name := range b.inOrder(room[:0]) {
		if c.found.full(b.Range.File) {
			return // the file is beyond reading; what is wrong further down is only counted
		}
		if !c.attribute(b, name, partial, base) {
			spoilt[name], b.ill = true, true
			delete(b.Attrs, name)
		}
	}
	if c.nested(b, partial, base) {
		c.complete(b, b.Range, partial, spoilt)
	}
	if t == fluidBlock && !b.ill {
		c.fluid(b, base)
	}
}

// names16 is room for the attributes of most blocks.
type names16 [16]string

// inOrder adds the attributes to out, in the order they are written.
func (b *Block) inOrder(out []string) []string {
	for name := range b.Attrs {
		out = append(out, name)
	}
	slices.SortFunc(out, func(x, y string) int {
		return cmp.Or(cmp.Compare(b.Attrs[x].NameRange.Start.Byte, b.Attrs[y].NameRange.Start.Byte), cmp.Compare(x, y))
	})
	return out
}

func (c *checker) attribute(b *Block, name string, partial bool, base *Block) bool {
	v := b.Attrs[name]
	a := b.typ.Attribute(name)
	switch {
	case a == nil && b.typ.Open:
		return c.given(v, partial)
	case a == nil && b.typ.Child(name) != nil:
		c.found.errorf(wrongType, v.NameRange, name+" { ... } on lines of its own", "%s is a block, not an attribute", name)
		return false
	case a == nil:
		c.found.errorf(unknownAttr, v.NameRange, c.found.meant(name, b.typ.attributeNames()), "%s has no attribute %s", article(b.Kind), show(name))
		return false
	case a.NotBuilt:
		c.found.errorf(notYetBuilt, v.NameRange, "", "%s is part of the language and not yet built in this version", a.Name)
		return false
	case partial && a.Fixed:
		c.found.errorf(notOverridden, v.NameRange, "say it outside of any case", "%s is the same in every case", a.Name)
		return false
	case !partial && name == "fault":
		c.found.errorf(faultInBase, v.NameRange, `case "..." { kind = "upset" ... }, with a copy of this block in it`,
			"a fault belongs in a case")
		return false
	}
	return c.in.value(a, v, func(sibling string) *Value {
		if b.Has(sibling) || base == nil {
			return b.Get(sibling)
		}
		return base.Get(sibling)
	}) && (a.Type != TypeCurveFile || v.Null || c.curveFile(v))
}

func (t *BlockType) attributeNames() []string {
	out := make([]string, len(t.Attributes))
	for i, a := range t.Attributes {
		out[i] = a.Name
	}
	return out
}

// given takes whatever is one thing; what it means is seen where it is used.
func (c *checker) given(v *Value, partial bool) bool {
	if partial && v.Null {
		return true // back to what holds outside of cases
	}
	switch v.shape {
	case isText, isNumber, isFlag:
		return true
	case isOther:
		return false
	}
	c.found.errorf(wrongType, v.Range, `flare_high = "0.45 barg"`, "a given value is a text, a number, true or false, not %s", v.shape.words())
	return false
}

// nested checks the blocks inside b and keeps the good ones. It tells whether
// all of them are built: one that is not may stand for attributes that are
// otherwise needed.
func (c *checker) nested(b *Block, partial bool, base *Block) (built bool) {
	built = true
	kept := b.Blocks[:0]
	for _, n := range b.Blocks {
		t := b.typ.Child(n.Kind)
		switch {
		case t == nil && b.typ.Attribute(n.Kind) != nil:
			c.found.errorf(wrongType, n.KindRange, b.typ.Attribute(n.Kind).example(), "%s is an attribute, not a block", n.Kind)
		case t == nil:
			c.unknownBlock(n, b.typ)
		case t.NotBuilt:
			c.notBuilt(n)
			built = false
		case len(n.labels) > 0:
			c.found.errorf(wrongLabels, n.labels[0].at, n.Kind+" {", "%s takes no tag", n.Kind)
		case !t.Repeats && slices.ContainsFunc(kept, func(k *Block) bool { return k.Kind == n.Kind }):
			c.found.errorf(repeatedBlock, n.KindRange, "", "%s stands in this block twice", n.Kind)
		default:
			var under *Block
			if base != nil && !t.Repeats {
				under = base.Nested(n.Kind)
			}
			c.block(n, t, partial && !t.Repeats && (under != nil || base == nil), under)
			kept = append(kept, n)
		}
	}
	b.Blocks = kept
	return built
}

func (c *checker) notBuilt(b *Block) {
	c.found.errorf(notYetBuilt, b.Range, "", "%s is part of the language and not yet built in this version", b.Kind)
}

// unknownBlock reports a kind of block that the place does not know. inside is
// nil at the top of a file.
func (c *checker) unknownBlock(b *Block, inside *BlockType) {
	top := make([]string, len(schema))
	for i, t := range schema {
		top[i] = t.Kind
	}
	if inside == nil {
		var owners []string
		for _, t := range schema {
			if t.Child(b.Kind) != nil {
				owners = append(owners, t.Kind)
			}
		}
		if len(owners) > 0 {
			c.found.errorf(unknownBlock, b.KindRange, "move it into the block it belongs to", "%s stands inside %s", b.Kind, strings.Join(owners, ", "))
			return
		}
		hint := tradeWord(b.Kind)
		if hint == "" {
			hint = c.found.meant(b.Kind, top)
		}
		c.found.errorf(unknownBlock, b.KindRange, hint, "there is no block %s", show(b.Kind))
		return
	}
	if Lookup(b.Kind) != nil {
		c.found.errorf(unknownBlock, b.KindRange, "close the braces of the block around it first", "%s does not stand inside %s", b.Kind, inside.Kind)
		return
	}
	known := make([]string, len(inside.Nested))
	for i, t := range inside.Nested {
		known[i] = t.Kind
	}
	c.found.errorf(unknownBlock, b.KindRange, c.found.meant(b.Kind, known), "there is no block %s inside %s", show(b.Kind), inside.Kind)
}

// complete sees to it that what must be there is, and that what excludes or
// needs one another does. What is missing is reported at at. Attributes in
// spoilt were written, but wrongly.
func (c *checker) complete(b *Block, at diag.Range, partial bool, spoilt map[string]bool) {
	t := b.typ
	if !partial {
		for _, a := range t.Attributes {
			if a.Required && !b.Has(a.Name) && !spoilt[a.Name] && !slices.ContainsFunc(a.Unless, b.holds) {
				c.found.errorf(missingAttr, at, a.example(), "%s needs %s", b.what(), a.Name)
			}
		}
	}
	for _, one := range t.OneOf {
		c.oneOf(b, one, at, partial, spoilt)
	}
	for _, a := range t.Attributes {
		for _, nested := range a.Excludes {
			if n := b.Nested(nested); n != nil && b.Has(a.Name) {
				c.found.errorf(conflict, b.Attrs[a.Name].NameRange, c.without(a.Name),
					"%s and the block %s exclude each other", a.Name, nested).relate(n.Range, "the block")
			}
		}
	}
	if partial {
		return
	}
	for _, set := range t.Together {
		for _, name := range set {
			if b.Has(name) {
				continue
			}
			for _, other := range set {
				if b.Has(other) && !spoilt[name] {
					c.found.errorf(missingAttr, b.Attrs[other].NameRange, t.Attribute(name).example(), "%s needs %s beside it", other, name)
					break
				}
			}
		}
	}
	c.chosen(b, spoilt)
	if t == multiwayBlock {
		c.multiway(b, spoilt)
	}
}

// holds tells whether b has a nested block of a kind.
func (b *Block) holds(kind string) bool { return b.Nested(kind) != nil }

// without is the hint for one attribute too many.
func (c *checker) without(name string) string {
	if c.resolved {
		return name + " = null in the case takes out what holds outside of it"
	}
	return "leave one of them out"
}

func (c *checker) oneOf(b *Block, one OneOf, at diag.Range, partial bool, spoilt map[string]bool) {
	var given []*Value
	var names []string
	ill := false
	for _, name := range one.Names {
		ill = ill || spoilt[name]
		if b.Has(name) {
			given, names = append(given, b.Attrs[name]), append(names, name)
		}
	}
	switch {
	case len(given) > 1:
		// The one written later is the one too many.
		first, second := 0, 1
		if !c.later(given[1], given[0]) {
			first, second = 1, 0
		}
		c.found.errorf(conflict, given[second].NameRange, c.without(names[first]), "%s and %s exclude each other", names[first], names[second]).
			relate(given[first].NameRange, "the other one")
	case one.Needed && len(given) == 0 && !ill && !partial:
		c.found.errorf(missingAttr, at, b.typ.Attribute(one.Names[0]).example(), "%s needs %s", b.what(), strings.Join(one.Names, " or "))
	}
}

// later tells whether x is written after y; what a case says is later than
// what holds outside of it, wherever it stands.
func (c *checker) later(x, y *Value) bool {
	if x.overlaid != y.overlaid {
		return x.overlaid
	}
	if x.Range.File != y.Range.File {
		return x.Range.File > y.Range.File
	}
	return x.Range.Start.Byte > y.Range.Start.Byte
}

// article puts a or an before a kind of block.
func article(kind string) string {
	if kind != "" && strings.IndexByte("aeio", kind[0]) >= 0 {
		return "an " + kind
	}
	return "a " + kind
}

// what names a block in a message: reducer "PCV-1".
func (b *Block) what() string {
	if b.Tag == "" {
		return b.Kind
	}
	return b.Kind + " " + show(b.Tag)
}
