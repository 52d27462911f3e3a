package lang

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"tapline/lang/diag"
)

// references sees to it that every name an attribute refers to is there, and
// notes which blocks use given values.
func (d *Description) references(found *collector) {
	all := slices.Clone(d.Blocks)
	if d.Site != nil {
		all = append(all, d.Site)
	}
	if d.System != nil {
		all = append(all, d.System)
	}
	for _, b := range all {
		if d.refer(b, found) {
			d.names.givens = append(d.names.givens, b)
		}
	}
	for _, c := range d.Cases {
		for _, b := range c.Blocks {
			d.refer(b, found)
		}
	}
	for _, s := range d.Spreads {
		for _, b := range s.Blocks {
			d.refer(b, found)
		}
	}
}

// refer checks the names in one block and the blocks in it, and tells whether
// any value is a given one.
func (d *Description) refer(b *Block, found *collector) (usesGiven bool) {
	var room names16
	for _, name := range b.inOrder(room[:0]) {
		v, a := b.Attrs[name], b.typ.Attribute(name)
		if a == nil || v.Null {
			continue
		}
		if v.shape == isGiven {
			usesGiven = true
			if d.Givens[v.Given] == nil {
				found.errorf(unknownGiven, v.Range, found.meant(v.Given, d.givenNames()), "no value is given by the name %s", show(v.Given))
			}
			continue
		}
		switch a.Type {
		case TypeName:
			d.named(a.Refers, v, found)
		case TypeNames:
			if b.Kind == "case" {
				continue // caseOrder looks at after
			}
			for _, e := range v.List {
				d.named(a.Refers, e, found)
			}
		case TypeDome:
			if v.Quantity == nil {
				d.label(v, found)
			}
		case TypeShares:
			for _, e := range v.Map {
				d.tagged("source", e.Key, e.KeyRange, unknownTag, found)
			}
		}
	}
	if b.Kind == "band" {
		d.bandPlaces(b, found)
	}
	for _, n := range b.Blocks {
		usesGiven = d.refer(n, found) || usesGiven
	}
	return usesGiven
}

func (d *Description) named(to Target, v *Value, found *collector) {
	switch to {
	case ToFluid:
		d.tagged("fluid", v.Text, v.Range, unknownFluid, found)
	case ToSource:
		d.tagged("source", v.Text, v.Range, unknownTag, found)
	case ToDevice:
		if d.names.devices[v.Text] == nil {
			found.errorf(unknownTag, v.Range, found.meant(v.Text, d.names.tags), "no device is called %s", show(v.Text))
		}
	case ToCase:
		if v.Text != baseName && d.names.cases[v.Text] == nil && d.names.spreads[v.Text] == nil {
			found.errorf(unknownCase, v.Range, found.meant(v.Text, d.caseNames()), "there is no case %s", show(v.Text))
		}
	case ToPlace:
		d.place(v, found)
	}
}

// tagged looks for a block of that kind and tag.
func (d *Description) tagged(kind, tag string, at diag.Range, code string, found *collector) {
	if d.names.blocks[blockKey{kind, tag}] != nil {
		return
	}
	hint := found.meant(tag, d.ofKind(kind))
	if b := d.names.devices[tag]; b != nil {
		hint = fmt.Sprintf("%s is %s", tag, article(b.Kind))
	}
	found.errorf(code, at, hint, "there is no %s %s", kind, show(tag))
}

// label looks for the node that "(P7)" names.
func (d *Description) label(v *Value, found *collector) bool {
	name := strings.TrimSpace(v.Text)
	if !strings.HasPrefix(name, "(") || !strings.HasSuffix(name, ")") {
		found.errorf(unknownLabel, v.Range, "(P7)", "a node is its label in parentheses")
		return false
	}
	name = strings.TrimSpace(name[1 : len(name)-1])
	if _, ok := d.names.labels[name]; !ok {
		if d.names.torn {
			return false
		}
		found.errorf(unknownLabel, v.Range, found.meant(name, d.names.nodes), "no path holds the node (%s)", name)
		return false
	}
	return true
}

// A spot is a kind of place that a band may be about.
type spot int

const (
	nowhere spot = iota
	aNode        // a label, a port, a source, a vent or a vessel
	aPort
	aDevice // a bare tag with two ends
	anEnd   // a bare source or vent: a node, and a flow
)

// place looks for a node "(P2)", a port "TAG.in" or a bare tag.
func (d *Description) place(v *Value, found *collector) spot {
	text := strings.TrimSpace(v.Text)
	if strings.HasPrefix(text, "(") {
		if d.label(v, found) {
			return aNode
		}
		return nowhere
	}
	if b := d.names.devices[text]; b != nil {
		switch b.typ.Role {
		case Boundary:
			return anEnd
		case Pot, AtNode:
			return aNode
		}
		if b.typ == multiwayBlock {
			found.errorf(wrongPlace, v.Range, strconv.Quote(b.Tag+"."+b.PortsOf()[0]), "%s has several ports; say at which", show(text))
			return nowhere
		}
		return aDevice
	}
	tag, port := text, ""
	if i := strings.LastIndexByte(text, '.'); i > 0 {
		tag, port = text[:i], text[i+1:]
	}
	b := d.names.devices[tag]
	if b == nil {
		hint := found.meant(tag, d.names.tags)
		if _, ok := d.names.labels[tag]; ok {
			hint = fmt.Sprintf("%q, the node", "("+tag+")")
		}
		found.errorf(unknownTag, v.Range, hint, "no device, source or vent is called %s", show(tag))
		return nowhere
	}
	if b.typ.NotBuilt {
		return nowhere
	}
	if own := b.PortsOf(); !slices.Contains(own, port) {
		found.errorf(unknownPort, v.Range, found.meant(port, own), "%s has no port %s", show(tag), show(port))
		return nowhere
	}
	return aPort
}

// shows tells whether a bare tag is that of an analyzer, whose lag is the time
// until it shows a change.
func (d *Description) shows(v *Value) bool {
	b := d.names.devices[strings.TrimSpace(v.Text)]
	return b != nil && b.Kind == "analyzer"
}

// bandPlaces sees to it that a band says something, and something that its
// places have: a node has a pressure, a device a flow.
func (d *Description) bandPlaces(b *Block, found *collector) {
	ofNode := []string{"pressure", "temperature", "dew_margin", "lag", "share"}
	ofDevice := []string{"flow", "drop", "lift"}
	if !slices.ContainsFunc(append(slices.Clone(ofNode), ofDevice...), func(n string) bool { return b.Attrs[n] != nil }) && b.Attrs["at"] != nil {
		if b == d.names.blocks[blockKey{b.Kind, b.Tag}] && !b.ill {
			found.errorf(missingAttr, b.Range, `pressure = "0.9 .. 1.4 barg"`, "%s limits nothing", b.what())
		}
		return
	}
	if !b.Has("at") {
		return
	}
	quiet := newCollector() // what is no place at all has been reported
	quiet.guesses = maxGuesses
	for _, v := range b.Attrs["at"].List {
		where := d.place(v, quiet)
		for _, name := range ofNode {
			if b.Has(name) && where == aDevice && !(name == "lag" && d.shows(v)) {
				found.errorf(wrongPlace, v.Range, fmt.Sprintf("%q or %q", v.Text+".in", v.Text+".out"),
					"%s has two ends; %s is judged at one of them", show(v.Text), name)
				break
			}
		}
		for _, name := range ofDevice {
			if b.Has(name) && (where == aNode || where != nowhere && where != aDevice && name != "flow") {
				found.errorf(wrongPlace, v.Range, "the tag of the device alone", "%s is judged of a device, and %s is none", name, show(v.Text))
				break
			}
		}
	}
}
