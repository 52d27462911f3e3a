package compiler

import (
	"slices"
	"strings"

	"tapline/lang"
	"tapline/lang/diag"
	"tapline/lang/path"
)

// Paths join ends of devices; what is joined is one node. Here nodes are made
// and named.

// A joiner merges terminals (labels, "TAG.port", or the tag of a device that is
// one node) into nodes.
type joiner struct {
	terminals []met // as first met
	index     map[string]int
	joined    sets // of terminals, by index
	label     map[string]bool
}

// met is a terminal and where it is first met.
type met struct {
	name string
	at   diag.Range
}

func newJoiner() *joiner { return &joiner{index: map[string]int{}, label: map[string]bool{}} }

// meet gives the index of a terminal.
func (j *joiner) meet(t string, at diag.Range) int {
	i, ok := j.index[t]
	if !ok {
		i = len(j.terminals)
		j.index[t] = i
		j.terminals = append(j.terminals, met{t, at})
		j.joined = append(j.joined, i)
	}
	return i
}

// sets part the numbers from 0 up into sets; each holds a member of its set, the root
// itself.
type sets []int

func (s sets) root(i int) int {
	for s[i] != i {
		s[i] = s[s[i]]
		i = s[i]
	}
	return i
}

// join makes one set, with the root of a, of those of a and b.
func (s sets) join(a, b int) { s[s.root(b)] = s.root(a) }

// walk joins what the paths join.
func walk(d *lang.Description, j *joiner) {
	blocks := map[string]*lang.Block{}
	for _, b := range d.Blocks {
		if b.Type().InPath() {
			blocks[b.Tag] = b
		}
	}
	for _, l := range d.Lines {
		for _, stops := range l.Stops {
			before := -1
			for i := range stops {
				if stops[i].Kind == path.Cap {
					before = -1
					continue
				}
				l, r := terminals(&stops[i], blocks, j)
				left, right := j.meet(l, stops[i].Range), j.meet(r, stops[i].Range)
				if before >= 0 {
					j.joined.join(before, left)
				}
				before = right
			}
		}
	}
}

// terminals gives the terminals of a stop towards the stop before it and the
// stop after it.
func terminals(s *lang.Stop, blocks map[string]*lang.Block, j *joiner) (left, right string) {
	switch s.Kind {
	case path.Label:
		j.label[s.Name] = true
		return s.Name, s.Name
	case path.Tube:
		return s.Inline.Tag + ".in", s.Inline.Tag + ".out"
	}
	b := blocks[s.Name]
	switch {
	case b == nil:
		return s.Name, s.Name
	case s.Port != "":
		t := terminal(b, s.Port)
		return t, t
	}
	return terminal(b, "in"), terminal(b, "out")
}

// terminal gives the terminal of a device's port; every port of a multiway valve is
// one. Sources, vents, vessels and
// equipment with ports of its own but no in and out are one node; what is
// neither in nor out is on the inlet side (the unfiltered side of a filter).
func terminal(b *lang.Block, port string) string {
	ports := b.PortsOf()
	switch {
	case b.Kind == "multiway":
		return b.Tag + "." + port
	case b.Type().Role != lang.Inline, !slices.Contains(ports, "in") || !slices.Contains(ports, "out"):
		return b.Tag
	case port == "out":
		return b.Tag + ".out"
	}
	return b.Tag + ".in"
}

// name gives a node's name: the first of its labels in alphabetical order; else
// the tag of its vessel, source or vent; else the outlet that feeds it.
func (p *Program) name(terminals []string, j *joiner) (name string, aliases []string) {
	var labels, tags, outs, ins []string
	for _, t := range terminals {
		_, isTag := p.byTag[t]
		switch {
		case j.label[t]:
			labels = append(labels, t)
		case isTag:
			tags = append(tags, t)
		case strings.HasSuffix(t, ".out"), p.fed[t]:
			outs = append(outs, t)
		default:
			ins = append(ins, t)
		}
	}
	for _, l := range [][]string{labels, tags, outs, ins} {
		slices.Sort(l)
	}
	switch {
	case len(labels) > 0:
		return labels[0], append(labels[1:], tags...)
	case len(tags) > 0:
		return tags[0], tags[1:]
	case len(outs) > 0:
		return outs[0], nil
	}
	return ins[0], nil
}
