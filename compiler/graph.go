package compiler

import (
	"fmt"
	"strings"

	"tapline/lang"
	"tapline/lang/diag"
)

// Questions that the topology alone answers, whatever the numbers of a case:
// loops in which nothing resists, parts that no source feeds, one-way devices
// that nothing can pass in their direction.

// sets part the numbers from 0 up into sets; each holds a member of its set, the root
// itself.
type sets []int

func newSets(n int) sets {
	s := make(sets, n)
	for i := range s {
		s[i] = i
	}
	return s
}

func (s sets) root(i int) int {
	for s[i] != i {
		s[i] = s[s[i]]
		i = s[i]
	}
	return i
}

// join makes one set, with the root of a, of those of a and b; false where they are
// one already.
func (s sets) join(a, b int) bool {
	ra, rb := s.root(a), s.root(b)
	s[rb] = ra
	return ra != rb
}

func (p *Program) checkGraph() (found []diag.Diagnostic) {
	found = append(found, p.looseLoops()...)
	found = append(found, p.unfed()...)
	if len(found) == 0 {
		found = append(found, p.blocked()...)
	}
	return found
}

// resists reports whether a device has a resistance in the base.
func resists(b *lang.Block) bool {
	switch b.Kind {
	case "tube", "orifice", "flow_controller", "relief":
		return true
	}
	return b.Has("cv") || b.Has("kv") || b.Has("drop")
}

// looseLoops finds rings of devices without resistance, in which any flow
// could go round, and known pressures joined by such devices alone.
func (p *Program) looseLoops() (found []diag.Diagnostic) {
	outside := len(p.Nodes) // stands for whatever fixes pressures
	loose := newSets(outside + 1)
	id := func(node int) int {
		if p.Nodes[node].Boundary >= 0 {
			return outside
		}
		return node
	}
	for i := range p.Devices {
		d := &p.Devices[i]
		if d.Element < 0 || resists(d.Block) {
			continue
		}
		if !loose.join(id(d.In), id(d.Out)) {
			found = append(found, diag.Diagnostic{
				Code: "loop-without-resistance", Level: diag.Error, Range: d.Block.TagRange,
				Message: fmt.Sprintf("%s closes a loop, or joins two known pressures, in which nothing resists the flow", d.Tag),
				Hint:    "give it a cv, or a drop at a flow",
			})
		}
	}
	return found
}

// unfed finds connected parts of the network without a source.
func (p *Program) unfed() (found []diag.Diagnostic) {
	parts := newSets(len(p.Nodes))
	for i := range p.Devices {
		if d := &p.Devices[i]; d.Element >= 0 {
			parts.join(d.In, d.Out)
		}
	}
	fed := make([]bool, len(p.Nodes)) // by root
	for n := range p.Nodes {
		fed[parts.root(n)] = fed[parts.root(n)] || p.isSource(n)
	}
	names := map[int][]string{} // by root
	var first []int             // nodes of parts that are not fed
	for n := range p.Nodes {
		r := parts.root(n)
		if fed[r] || p.Nodes[n].Atmosphere {
			continue
		}
		if names[r] == nil {
			first = append(first, n)
		}
		names[r] = append(names[r], p.Nodes[n].Name)
	}
	for _, n := range first {
		found = append(found, diag.Diagnostic{
			Code: "no-source", Level: diag.Error, Range: p.Nodes[n].Range,
			Message: "no source feeds " + listed(names[parts.root(n)], 4),
			Hint:    `join it to a source, or add one: source "S-1" { ... }`,
		})
	}
	diag.Sort(found)
	return found
}

func (p *Program) isSource(n int) bool {
	b := p.Nodes[n].Boundary
	return b >= 0 && p.Devices[b].Kind == "source"
}

// A hop leads from a node to another, through a device.
type hop struct {
	to, device int
	back       bool // against the direction of the device
}

// findHops lists, for each node, where devices lead from it, in their order.
func (p *Program) findHops() {
	p.hops = make([][]hop, len(p.Nodes))
	for i := range p.Devices {
		if d := &p.Devices[i]; d.Element >= 0 {
			p.hops[d.In] = append(p.hops[d.In], hop{d.Out, i, false})
			p.hops[d.Out] = append(p.hops[d.Out], hop{d.In, i, true})
		}
	}
}

// blocked finds one-way devices whose inlet no source can reach.
func (p *Program) blocked() (found []diag.Diagnostic) {
	reached := make([]bool, len(p.Nodes))
	var queue []int
	reach := func(n int) {
		if !reached[n] {
			reached[n] = true
			queue = append(queue, n)
		}
	}
	for _, s := range p.sources {
		if d := &p.Devices[s]; d.In >= 0 {
			reach(d.In)
		}
	}
	for q := 0; q < len(queue); q++ {
		for _, h := range p.hops[queue[q]] {
			if !h.back || !oneWay(p.Devices[h.device].Kind) {
				reach(h.to)
			}
		}
	}
	for i := range p.Devices {
		d := &p.Devices[i]
		if d.Element >= 0 && oneWay(d.Kind) && !reached[d.In] {
			found = append(found, diag.Diagnostic{
				Code: "cannot-pass", Level: diag.Error, Range: d.Block.TagRange,
				Message: fmt.Sprintf("%s passes flow from %s to %s only, and nothing can reach %s", d.Tag, p.Nodes[d.In].Name, p.Nodes[d.Out].Name, p.Nodes[d.In].Name),
				Hint:    "turn it round in its path",
			})
		}
	}
	return found
}

// oneWay reports whether devices of a kind pass nothing backwards.
func oneWay(kind string) bool {
	switch kind {
	case "check_valve", "reducer", "holder", "relief", "flow_controller":
		return true
	}
	return false
}

// listed joins names for a sentence, at most n of them.
func listed(names []string, n int) string {
	if len(names) > n {
		return strings.Join(names[:n], ", ") + fmt.Sprintf(" and %d more", len(names)-n)
	}
	return strings.Join(names, ", ")
}
