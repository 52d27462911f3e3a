package compiler

import (
	"fmt"
	"slices"
	"strings"

	"gonum.org/v1/gonum/graph/simple"
	"gonum.org/v1/gonum/graph/topo"
	"gonum.org/v1/gonum/graph/traverse"

	"tapline/lang"
	"tapline/lang/diag"
)

// Questions that the topology alone answers, whatever the numbers of a case:
// loops in which nothing resists, parts that no source feeds, one-way devices
// that nothing can pass in their direction.

// outsideID stands for whatever fixes pressures in the graphs below.
const outsideID = -1

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
	g := simple.NewUndirectedGraph()
	id := func(node int) int64 {
		if p.Nodes[node].Boundary >= 0 {
			return outsideID
		}
		return int64(node)
	}
	for i := range p.Devices {
		d := &p.Devices[i]
		if d.Element < 0 || resists(d.Block) {
			continue
		}
		a, b := simple.Node(id(d.In)), simple.Node(id(d.Out))
		for _, n := range []simple.Node{a, b} {
			if g.Node(n.ID()) == nil {
				g.AddNode(n)
			}
		}
		if a == b || topo.PathExistsIn(g, a, b) {
			found = append(found, diag.Diagnostic{
				Code: "loop-without-resistance", Level: diag.Error, Range: d.Block.TagRange,
				Message: fmt.Sprintf("%s closes a loop, or joins two known pressures, in which nothing resists the flow", d.Tag),
				Hint:    "give it a cv, or a drop at a flow",
			})
			continue
		}
		g.SetEdge(g.NewEdge(a, b))
	}
	return found
}

// unfed finds connected parts of the network without a source.
func (p *Program) unfed() (found []diag.Diagnostic) {
	g := simple.NewUndirectedGraph()
	for i := range p.Nodes {
		if !p.Nodes[i].Atmosphere {
			g.AddNode(simple.Node(i))
		}
	}
	for i := range p.Devices {
		if d := &p.Devices[i]; d.Element >= 0 {
			g.SetEdge(g.NewEdge(simple.Node(d.In), simple.Node(d.Out)))
		}
	}
	for _, part := range topo.ConnectedComponents(g) {
		nodes := make([]int, len(part))
		for i, n := range part {
			nodes[i] = int(n.ID())
		}
		slices.Sort(nodes)
		if slices.ContainsFunc(nodes, p.isSource) {
			continue
		}
		var names []string
		for _, n := range nodes {
			names = append(names, p.Nodes[n].Name)
		}
		found = append(found, diag.Diagnostic{
			Code: "no-source", Level: diag.Error, Range: p.Nodes[nodes[0]].Range,
			Message: "no source feeds " + listed(names, 4),
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
	g := simple.NewDirectedGraph()
	for i := range p.Nodes {
		g.AddNode(simple.Node(i))
	}
	for i := range p.Devices {
		d := &p.Devices[i]
		if d.Element < 0 {
			continue
		}
		g.SetEdge(g.NewEdge(simple.Node(d.In), simple.Node(d.Out)))
		if !oneWay(d.Kind) {
			g.SetEdge(g.NewEdge(simple.Node(d.Out), simple.Node(d.In)))
		}
	}
	reached := traverse.BreadthFirst{}
	for _, s := range p.sources {
		if d := &p.Devices[s]; d.In >= 0 {
			reached.Walk(g, simple.Node(d.In), nil)
		}
	}
	for i := range p.Devices {
		d := &p.Devices[i]
		if d.Element >= 0 && oneWay(d.Kind) && !reached.Visited(simple.Node(d.In)) {
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
