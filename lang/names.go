package lang

import (
	"strings"
	"unicode"
	"unicode/utf8"

	"tapline/lang/diag"
)

// names is every name of a system. Tags of devices, node labels and gauges
// share one name space; fluids, bands, lines and cases have one each.
type names struct {
	blocks  map[blockKey]*Block   // by kind and tag, tubes written in place included
	devices map[string]*Block     // by tag: whatever stands in a path
	tags    []string              // keys of devices, in order
	labels  map[string]diag.Range // node labels, where they first stand
	nodes   []string              // keys of labels, in order
	cases   map[string]*Case      // by name, without "base"
	spreads map[string]*Spread    // by name
	lines   map[string]*Line      // by name
	givens  []*Block              // blocks of the base that use given values
	torn    bool                  // some path could not be read, so that devices and labels may be missing from it
	inline  []*Block              // tubes written in place, in order
	usesOf  map[*Block]*uses      // how the paths use each device
	labelN  map[string]int        // how often each label stands in a path
	capped  map[string]bool       // labels followed by a cap
	ends    map[string]diag.Range // labels that end a path, where
}

type blockKey struct{ kind, tag string }

// baseName is the name of the case that needs no block.
const baseName = "base"

func newNames() *names {
	return &names{
		blocks:  map[blockKey]*Block{},
		devices: map[string]*Block{},
		labels:  map[string]diag.Range{},
		cases:   map[string]*Case{},
		spreads: map[string]*Spread{},
		lines:   map[string]*Line{},
		usesOf:  map[*Block]*uses{},
		labelN:  map[string]int{},
		capped:  map[string]bool{},
		ends:    map[string]diag.Range{},
	}
}

// addBlock gives b its name. A second block of that kind and tag, or a second
// device of that tag, is reported and left out.
func (n *names) addBlock(b *Block, found *collector) bool {
	if first := n.blocks[blockKey{b.Kind, b.Tag}]; first != nil {
		found.errorf(repeatedBlock, b.Range, "", "%s %s stands here a second time", b.Kind, show(b.Tag)).
			relate(first.Range, "first here")
		return false
	}
	if b.typ.InPath() || b.typ.Role == AtNode {
		if first := n.devices[b.Tag]; first != nil {
			found.errorf(repeatedName, b.TagRange, "give one of them another tag", "%s is the tag of %s already", show(b.Tag), article(first.Kind)).
				relate(first.Range, "first here")
			return false
		}
		n.devices[b.Tag] = b
		n.tags = append(n.tags, b.Tag)
	}
	n.blocks[blockKey{b.Kind, b.Tag}] = b
	return true
}

func (n *names) addLabel(name string, at diag.Range) {
	if _, known := n.labels[name]; !known {
		n.labels[name] = at
		n.nodes = append(n.nodes, name)
	}
	n.labelN[name]++
}

// ofKind lists the tags of one kind, in order of the description.
func (d *Description) ofKind(kind string) []string {
	var out []string
	for _, b := range d.Blocks {
		if b.Kind == kind {
			out = append(out, b.Tag)
		}
	}
	if kind == "tube" {
		for _, b := range d.names.inline {
			out = append(out, b.Tag)
		}
	}
	return out
}

func (d *Description) caseNames() []string {
	out := []string{baseName}
	for _, c := range d.Cases {
		out = append(out, c.Name)
	}
	return out
}

// goodTag reports what cannot be a tag or a name. Tags stand in paths, where
// some characters mean something.
func goodTag(b *Block, found *collector) bool {
	bad := func(hint, format string, args ...any) bool {
		found.errorf(badName, b.TagRange, hint, format, args...)
		return false
	}
	switch {
	case b.Tag == "":
		return bad("", "the tag is empty")
	case utf8.RuneCountInString(b.Tag) > maxTagRunes:
		return bad("", "a tag has at most %d characters", maxTagRunes)
	case strings.TrimSpace(b.Tag) != b.Tag:
		return bad("leave them out", "the tag begins or ends with spaces")
	}
	for _, r := range b.Tag {
		if unicode.IsControl(r) || unicode.Is(unicode.Cf, r) {
			found.errorf(unsafeText, b.TagRange, "leave it out", "the tag holds the invisible character U+%04X", r)
			return false
		}
	}
	if b.Kind == "case" && b.Tag == baseName {
		return bad("write it outside of any case", "what holds in the case %q is what the files say outside of cases", baseName)
	}
	if !b.typ.InPath() && b.typ.Role != AtNode {
		return true
	}
	if b.Tag == "tube" || b.Tag == "cap" {
		return bad("", "%s is a word of the path language and no tag", show(b.Tag))
	}
	if i := strings.IndexAny(b.Tag, "'/.()~*"); i >= 0 {
		return bad(`letters, digits, _ and single hyphens, as in "NV-11"`, "a tag holds no %q", b.Tag[i:i+1])
	}
	return true
}

// alike reports names of one name space that differ only in case.
func (d *Description) alike(found *collector) {
	type space struct{ kind, folded string }
	type place struct {
		name string
		at   diag.Range
	}
	seen := make(map[space]place, len(d.Blocks)+len(d.names.inline)+len(d.names.nodes)+len(d.Lines)+len(d.Cases)+len(d.Spreads))
	look := func(kind, name string, at diag.Range) {
		key := space{kind, strings.ToLower(name)}
		first, ok := seen[key]
		if !ok {
			seen[key] = place{name, at}
			return
		}
		if first.name != name {
			found.errorf(similarName, at, "spell them alike, or give one another name",
				"%s and %s differ only in case", show(name), show(first.name)).relate(first.at, "the other one")
		}
	}
	for _, b := range d.Blocks {
		kind := b.Kind
		if b.typ.InPath() || b.typ.Role == AtNode {
			kind = ""
		}
		look(kind, b.Tag, b.TagRange)
	}
	for _, b := range d.names.inline {
		look("", b.Tag, b.TagRange)
	}
	for _, l := range d.names.nodes {
		look("", l, d.names.labels[l])
	}
	for _, l := range d.Lines {
		look("line", l.Name, l.Range)
	}
	for _, c := range d.Cases {
		look("case", c.Name, c.Range)
	}
	for _, s := range d.Spreads {
		look("case", s.Name, s.Range)
	}
}
