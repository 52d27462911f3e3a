package lang

import (
	"cmp"
	"maps"
	"slices"

	"tapline/lang/diag"
)

// A Resolved is one case after all its layers are laid on one another. Blocks
// that no layer touches are shared with the description: do not change them.
type Resolved struct {
	Name, Kind string
	After      []string
	Generated  bool     // made by upsets of the system block
	Site       *Block   // never nil; without attributes where the files hold none
	Blocks     []*Block // same order as Description.Blocks
	// Inline are the tubes written in place, in the order of lines, paths and
	// stops, with what the case says of them. A stop's tube is found by its tag.
	Inline []*Block
}

// Resolve lays the layers of a case on one another: "base", or a case's name.
// What the files say outside of cases comes first, then the cases of after in
// order, each with those it starts from, then the case itself. Attributes merge
// singly, nested blocks included; lists and maps are replaced whole; null
// restores the default. Given values are put in their places last and read in
// the dimension of the attribute that uses them.
//
// Resolve may be called from several goroutines at once.
func (d *Description) Resolve(caseName string) (*Resolved, []diag.Diagnostic) {
	found := newCollector()
	var c *Case
	if caseName != baseName && d.names != nil {
		if c = d.names.cases[caseName]; c == nil {
			found.errorf(unknownCase, diag.Range{}, found.meant(caseName, d.caseNames()), "there is no case %s", show(caseName))
			return &Resolved{Name: caseName, Kind: "operating", Site: &Block{Kind: siteBlock.Kind, typ: siteBlock}}, found.result()
		}
	}
	in := newInterpreter(found)
	r := d.resolve(caseName, c, in)
	return r, found.result()
}

// resolve lays the layers of c, nil for the base, on one another.
func (d *Description) resolve(name string, c *Case, in *interpreter) *Resolved {
	r := &Resolved{Name: name, Kind: "operating", Site: &Block{Kind: siteBlock.Kind, typ: siteBlock}}
	if d.names == nil {
		return r
	}
	var layers []*Case
	if c != nil {
		r.Kind, r.After, r.Generated = c.Kind, slices.Clone(c.After), c.Generated
		layers = d.layers(c)
	}
	layers = append(slices.Clone(layers), d.always...)
	o := overlay{
		d: d, parts: map[blockKey][]*Block{}, givens: d.Givens,
		check: &checker{found: in.found, in: in, resolving: true, resolved: c != nil},
	}
	for _, c := range layers {
		for _, b := range c.Blocks {
			if b.typ == givenBlock {
				o.give(b)
				continue
			}
			o.parts[blockKey{b.Kind, b.Tag}] = append(o.parts[blockKey{b.Kind, b.Tag}], b)
		}
	}
	if d.Site != nil {
		r.Site = d.Site
	}
	r.Site = o.block(r.Site)
	r.Blocks, r.Inline = slices.Clone(d.Blocks), slices.Clone(d.names.inline)
	for _, b := range o.touched() {
		if b.nth > 0 {
			r.Blocks[b.nth-1] = o.block(b)
		} else {
			r.Inline[-b.nth-1] = o.block(b)
		}
	}
	return r
}

// touched lists the blocks of the base that are not as they are in the case, the tubes
// written in place last.
func (o *overlay) touched() []*Block {
	n := o.d.names
	out := slices.Clone(n.givens)
	for key := range o.parts {
		if b := n.blocks[key]; b != nil {
			out = append(out, b)
		}
	}
	out = slices.DeleteFunc(out, func(b *Block) bool { return b.nth == 0 })
	rank := func(b *Block) int {
		if b.nth < 0 {
			return len(o.d.Blocks) - b.nth
		}
		return b.nth
	}
	slices.SortFunc(out, func(a, b *Block) int { return cmp.Compare(rank(a), rank(b)) })
	return slices.Compact(out)
}

// An overlay is what one case lays over the base.
type overlay struct {
	d      *Description
	parts  map[blockKey][]*Block // partial blocks, first to last
	givens map[string]*Value
	check  *checker
}

// give lays the given values of a case over those that hold so far.
func (o *overlay) give(b *Block) {
	o.givens = maps.Clone(o.givens)
	for name, v := range b.Attrs {
		if v.Null {
			v = o.d.Givens[name]
		}
		o.givens[name] = v
	}
}

// block gives b with all that is laid over it; b itself if that is nothing.
func (o *overlay) block(b *Block) *Block {
	parts := o.parts[blockKey{b.Kind, b.Tag}]
	out := b
	at := b.Range
	for _, p := range parts {
		out = merge(out, p)
		at = p.Range
	}
	out = o.substitute(out)
	if len(parts) > 0 {
		o.complete(out, at)
	}
	return out
}

// merge lays p over b, into a new block.
func merge(b, p *Block) *Block {
	out := *b
	out.Attrs = make(map[string]*Value, len(b.Attrs)+len(p.Attrs))
	maps.Copy(out.Attrs, b.Attrs)
	for _, one := range p.replacing() {
		delete(out.Attrs, one)
	}
	maps.Copy(out.Attrs, p.Attrs)
	out.Blocks = slices.Clone(b.Blocks)
	for i, n := range p.Blocks {
		if n.typ.Repeats && !slices.ContainsFunc(p.Blocks[:i], func(x *Block) bool { return x.Kind == n.Kind }) {
			out.Blocks = slices.DeleteFunc(out.Blocks, func(x *Block) bool { return x.Kind == n.Kind })
		}
		if n.typ.Repeats {
			out.Blocks = append(out.Blocks, n)
			continue
		}
		if i := slices.IndexFunc(out.Blocks, func(x *Block) bool { return x.Kind == n.Kind }); i >= 0 {
			out.Blocks[i] = merge(out.Blocks[i], n)
		} else {
			out.Blocks = append(out.Blocks, n)
		}
	}
	return &out
}

// replacing lists the attributes that those of a partial block take the place
// of.
func (b *Block) replacing() (names []string) {
	for _, one := range b.typ.OneOf {
		if one.Replaces && slices.ContainsFunc(one.Names, b.Has) {
			names = append(names, one.Names...)
		}
	}
	return names
}

// complete checks a merged block, and those in it, as a whole.
func (o *overlay) complete(b *Block, at diag.Range) {
	o.check.complete(b, at, false, nil)
	if b.typ == fluidBlock {
		o.check.fluid(b, nil)
	}
	for _, n := range b.Blocks {
		o.complete(n, at)
	}
}

// substitute puts given values in their places, into a new block where there
// are any.
func (o *overlay) substitute(b *Block) *Block {
	out := b
	var room names16
	for _, name := range b.inOrder(room[:0]) {
		v := b.Attrs[name]
		if v.shape != isGiven {
			continue
		}
		if out == b {
			out = copied(b)
		}
		if put := o.given(b.typ.Attribute(name), v, out); put != nil {
			out.Attrs[name] = put
		}
	}
	for i, n := range b.Blocks {
		s := o.substitute(n)
		if s == n {
			continue
		}
		if out == b {
			out = copied(b)
		}
		out.Blocks[i] = s
	}
	return out
}

func copied(b *Block) *Block {
	out := *b
	out.Attrs, out.Blocks = maps.Clone(b.Attrs), slices.Clone(b.Blocks)
	return &out
}

// given reads the value that v names as attribute a. A mistake is underlined
// where the value is written, and says where it is used.
func (o *overlay) given(a *Attribute, v *Value, b *Block) *Value {
	g := o.givens[v.Given]
	if g == nil || a == nil {
		return nil // reported on reading
	}
	put := *g
	put.NameRange, put.Given, put.overlaid = v.NameRange, v.Given, v.overlaid
	before := len(o.check.found.list)
	if !o.check.in.value(a, &put, b.Get) {
		for i := before; i < len(o.check.found.list); i++ {
			f := &o.check.found.list[i]
			f.Related = append(f.Related, diag.Related{Range: v.Range, Message: "used here, as " + a.Name})
		}
		return nil
	}
	return &put
}
