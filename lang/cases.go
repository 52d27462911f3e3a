package lang

import (
	"fmt"
	"slices"
)

// caseHeader reads what a case says of itself.
func (b *builder) caseHeader(blk *Block) {
	inner := blk.Blocks
	blk.Blocks = nil
	b.check.block(blk, caseBlock, false, nil)
	blk.Blocks = inner
	n := b.d.names
	if first := n.cases[blk.Tag]; first != nil {
		b.found.errorf(repeatedBlock, blk.Range, "give it another name", "case %s stands here a second time", show(blk.Tag)).
			relate(first.Range, "first here")
		return
	}
	c := caseOf(blk)
	n.cases[c.Name] = &c
	b.d.Cases = append(b.d.Cases, &c)
}

// caseOf reads the header of a case or spread.
func caseOf(blk *Block) Case {
	c := Case{Name: blk.Tag, Kind: textOf(blk, "kind"), Range: blk.Range}
	if blk.Has("after") {
		for _, v := range blk.Attrs["after"].List {
			c.After = append(c.After, v.Text)
			c.AfterRange = append(c.AfterRange, v.Range)
		}
	}
	return c
}

// caseBody reads the partial blocks of a case.
func (b *builder) caseBody(blk *Block) {
	c := b.d.names.cases[blk.Tag]
	if c == nil || c.Range != blk.Range {
		return // a repeated case, reported
	}
	b.partials(blk, c)
}

// partials reads the partial blocks of a case or spread into c.
func (b *builder) partials(blk *Block, c *Case) {
	seen := map[blockKey]*Block{}
	for _, p := range blk.Blocks {
		base, ok := b.overridden(p)
		if !ok {
			continue
		}
		key := blockKey{p.Kind, p.Tag}
		if first := seen[key]; first != nil {
			b.found.errorf(repeatedBlock, p.Range, "put it all into one", "%s stands in this %s twice", p.what(), blk.Kind).relate(first.Range, "first here")
			continue
		}
		seen[key] = p
		markOverlaid(p)
		b.check.layered = len(c.After) > 0
		b.check.block(p, p.typ, true, base)
		if p.typ == givenBlock {
			b.knownGivens(p)
		}
		c.Blocks = append(c.Blocks, p)
	}
}

// markOverlaid notes on every value of a partial block that a case says it.
func markOverlaid(b *Block) {
	for _, v := range b.Attrs {
		v.overlaid = true
	}
	for _, n := range b.Blocks {
		markOverlaid(n)
	}
}

// overridden finds the block that a partial block is a copy of.
func (b *builder) overridden(p *Block) (base *Block, ok bool) {
	t := Lookup(p.Kind)
	if t == nil {
		b.check.unknownBlock(p, nil)
		return nil, false
	}
	p.typ = t
	switch {
	case t.NotBuilt:
		b.check.notBuilt(p)
		return nil, false
	case !t.InCase:
		b.found.errorf(notOverridden, p.Range, "write it outside of any case", "a case cannot hold %s", article(p.Kind))
		return nil, false
	}
	if !b.labels(p) {
		return nil, false
	}
	if !t.Tagged {
		if t == siteBlock {
			return b.d.Site, true
		}
		return nil, true
	}
	if base = b.d.names.blocks[blockKey{p.Kind, p.Tag}]; base != nil {
		return base, true
	}
	if other := b.d.names.devices[p.Tag]; other != nil {
		b.found.errorf(unknownTag, p.Range, fmt.Sprintf("%s %q { ... }", other.Kind, p.Tag), "%s is %s, not %s", show(p.Tag), article(other.Kind), article(p.Kind)).
			relate(other.Range, "it stands here")
		return nil, false
	}
	code := unknownTag
	if t == fluidBlock {
		code = unknownFluid
	}
	b.found.errorf(code, p.TagRange, b.found.meant(p.Tag, b.d.ofKind(p.Kind)), "there is no %s called %s to override", p.Kind, show(p.Tag))
	return nil, false
}

// knownGivens leaves only names that the files give a value.
func (b *builder) knownGivens(p *Block) {
	var room names16
	for _, name := range p.inOrder(room[:0]) {
		if b.d.Givens[name] == nil {
			b.found.errorf(unknownGiven, p.Attrs[name].NameRange, b.found.meant(name, b.d.givenNames()), "no value is given by the name %s", show(name))
			delete(p.Attrs, name)
		}
	}
}

func (d *Description) givenNames() []string {
	out := make([]string, 0, len(d.Givens))
	for name := range d.Givens {
		out = append(out, name)
	}
	slices.Sort(out)
	return out
}

// caseOrder reports cases that start from unknown cases or from one another.
func (d *Description) caseOrder(found *collector) {
	const (
		unseen = iota
		open
		done
	)
	for _, s := range d.Spreads { // which nothing starts from
		for i, name := range s.After {
			if name != baseName && d.names.cases[name] == nil {
				found.errorf(unknownCase, s.AfterRange[i], found.meant(name, d.caseNames()), "there is no case %s", show(name))
			}
		}
	}
	state := map[string]int{}
	// A stack in place of recursion: a chain of cases may be as long as the files.
	type frame struct {
		c    *Case
		next int
	}
	for _, start := range d.Cases {
		stack := []frame{}
		push := func(c *Case) {
			state[c.Name] = open
			stack = append(stack, frame{c: c})
		}
		if state[start.Name] == unseen {
			push(start)
		}
		for len(stack) > 0 {
			f := &stack[len(stack)-1]
			if f.next == len(f.c.After) {
				state[f.c.Name] = done
				stack = stack[:len(stack)-1]
				continue
			}
			name, at := f.c.After[f.next], f.c.AfterRange[f.next]
			f.next++
			to := d.names.cases[name]
			switch {
			case name == baseName:
			case to == nil:
				found.errorf(unknownCase, at, found.meant(name, d.caseNames()), "there is no case %s", show(name))
			case state[name] == open:
				found.errorf(caseCycle, at, "leave it out", "the case %s starts from itself, by way of %s", show(name), show(f.c.Name)).
					relate(to.Range, "the case")
			case state[name] == unseen:
				push(to)
			}
		}
	}
}

// layers lists the cases whose partial blocks a case consists of, first to
// last, each once: where one is laid on twice, only the last time matters,
// since it sets again whatever it set before.
func (d *Description) layers(c *Case) []*Case {
	seen := map[*Case]bool{}
	var backwards []*Case
	stack := []*Case{c}
	for len(stack) > 0 {
		top := stack[len(stack)-1]
		stack = stack[:len(stack)-1]
		if seen[top] {
			continue
		}
		seen[top] = true
		backwards = append(backwards, top)
		for _, name := range top.After {
			if a := d.names.cases[name]; a != nil {
				stack = append(stack, a)
			}
		}
	}
	slices.Reverse(backwards)
	return backwards
}
