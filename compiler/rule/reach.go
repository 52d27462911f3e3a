package rule

import (
	"fmt"
	"math"

	"tapline/compiler"
	"tapline/solver"
)

// The highest pressure that can reach each node, by the parts alone.
//
// Sources and vents give the highest pressure they have in any case; one that is given
// by its flow gives the highest that was found at it. From there the pressure spreads
// through everything that can be open, since with what lies behind shut nothing flows
// and nothing drops: valves and throttles pass all of it. Check valves, holders and
// flow controllers pass it forward, reliefs not at all; check valves and valves locked
// shut are taken to hold. A reducer passes what it locks up at, and, once for each
// reducer, everything: one is wide open at a time.
//
// A relief device keeps the nodes at its inlet at the pressure it opens at, as far as
// nothing between can shut, plug or check. An open way to a vent on the same terms
// keeps them at the vent's pressure; what the flow through it adds is judged in the
// cases. The columns of liquids are counted, those of gases are not.

// A bound is the highest pressure at a node and what sets it.
type bound struct {
	pa     float64
	by     *compiler.Device // source, vent, relief, or reducer at its lock-up
	opened *compiler.Device // the reducer wide open on the way, if any
}

// reach gives the bounds with one reducer wide open, or none where it is nil.
func (s *System) reach(opened *compiler.Device) []bound {
	caps := s.caps()
	at, freely := make([]bound, len(s.Program.Nodes)), make([]bound, len(s.Program.Nodes))
	through := map[stop]bound{} // at stops behind multiway valves
	var queue []stop
	above := func(b, than bound) bool { return than.by == nil || b.pa > than.pa*(1+1e-9) }
	put := func(to stop, b bound) {
		n := to.node
		if k := caps[n]; k.by != nil && k.pa < b.pa {
			b = k
		}
		if above(b, at[n]) {
			at[n] = b
		}
		switch {
		case to.by == nil && above(b, freely[n]):
			freely[n] = b
		case to.by != nil && above(b, freely[n]) && above(b, through[to]):
			through[to] = b
		default:
			return
		}
		queue = append(queue, to)
	}
	fixed := make([]bool, len(at))
	for n := range at {
		if i := s.Program.Nodes[n].Boundary; i >= 0 {
			pa, given := s.boundaryPa(n)
			fixed[n] = given
			put(stop{node: n}, bound{pa: pa, by: &s.Program.Devices[i]})
		}
	}
	// A dome in its own loop may raise a bound step by step; what is reached by then
	// is a bound from below and good enough to judge by.
	for q := 0; q < len(queue) && q < 100*len(at); q++ {
		from := queue[q]
		here := freely[from.node]
		if from.by != nil {
			here = through[from]
		}
		for _, i := range s.touching(from.node) {
			d := &s.Program.Devices[i]
			to, ok := s.onward(from, d)
			if !ok {
				continue
			}
			if b, ok := s.passes(d, from.node, here, at, opened); ok && !fixed[to.node] {
				put(to, b)
			}
		}
	}
	return at
}

// passes gives what a device lets through of what stands at node n to its other end.
func (s *System) passes(d *compiler.Device, n int, b bound, at []bound, opened *compiler.Device) (bound, bool) {
	forward := n == d.In
	switch d.Kind {
	case "relief":
		return b, false
	case "check_valve", "holder", "flow_controller":
		return b, forward
	case "reducer":
		if d == opened {
			b.opened = d
			return b, forward
		}
		dome := 0.0
		if k := s.domeAt(d); k >= 0 {
			dome = at[k].pa
		}
		if p := s.controlledPa(d, b.pa, dome); p < b.pa {
			b.pa, b.by = p, d
		}
		return b, forward
	}
	b.pa += s.headPa(d, forward)
	return b, !s.lockedShut(d)
}

// controlledPa is the highest outlet of a reducer that works: its lock-up at that inlet
// and at every inlet of the cases, or, without a balance to ask, the highest it had.
func (s *System) controlledPa(d *compiler.Device, inletPa, domePa float64) float64 {
	highest := math.Inf(-1)
	for c := range s.each() {
		if l := c.balance(d); l != nil && l.Down < 0 {
			highest = max(highest, lockedUpPa(l, inletPa, domePa))
			if p := c.Result.Nodes[d.In].PressurePa; c.solved() && p < inletPa {
				highest = max(highest, lockedUpPa(l, p, domePa))
			}
		}
	}
	if !math.IsInf(highest, -1) {
		return highest
	}
	for c := range s.each() {
		if p := c.Result.Nodes[d.Out].PressurePa; c.solved() && c.Kind != "upset" && p > highest {
			highest = p
		}
	}
	if math.IsInf(highest, -1) {
		return inletPa
	}
	return min(inletPa, highest)
}

// boundaryPa is the highest pressure of a source or vent in any case, and whether it
// is given and not an answer.
func (s *System) boundaryPa(n int) (pa float64, given bool) {
	given = true
	for c := range s.each() {
		k := c.Solver.Conditions[n]
		switch {
		case k.Kind == solver.Pressure:
			pa = max(pa, k.PressurePa)
		case c.solved() && c.Result.Nodes[n].PressurePa > pa:
			pa, given = c.Result.Nodes[n].PressurePa, false
		}
	}
	return pa, given
}

// caps are what reliefs and open vents keep nodes at; by is nil where nothing does.
func (s *System) caps() []bound {
	if s.kept != nil {
		return s.kept
	}
	s.kept = make([]bound, len(s.Program.Nodes))
	keep := func(nodes []bool, head []float64, b bound) {
		for n, in := range nodes {
			here := b
			here.pa += head[n]
			if in && s.Program.Nodes[n].Boundary < 0 && (s.kept[n].by == nil || here.pa < s.kept[n].pa) {
				s.kept[n] = here
			}
		}
	}
	for i := range s.Program.Devices {
		d := &s.Program.Devices[i]
		switch {
		case d.In < 0:
		case d.Kind == "relief":
			if pa, ok := s.opensPa(d); ok {
				nodes, head := s.joined(d.In)
				keep(nodes, head, bound{pa: pa, by: d})
			}
		case d.Kind == "vent":
			pa, _ := s.boundaryPa(d.In)
			for _, k := range s.touching(d.In) {
				e := &s.Program.Devices[k]
				if other := e.In + e.Out - d.In; s.clear(e) && s.Program.Nodes[other].Boundary < 0 {
					nodes, head := s.joined(other)
					keep(nodes, head, bound{pa: pa + s.headPa(e, e.In == d.In), by: d})
				}
			}
		}
	}
	return s.kept
}

// joined marks the nodes that are joined to one so that nothing can shut, plug or
// check between, and how far above its pressure they stand at rest [Pa].
func (s *System) joined(node int) (nodes []bool, headPa []float64) {
	headPa = make([]float64, len(s.Program.Nodes))
	nodes = s.spread([]int{node}, func(d *compiler.Device, forward bool) bool {
		if !s.clear(d) {
			return false
		}
		from, to := d.In, d.Out
		if !forward {
			from, to = to, from
		}
		headPa[to] = headPa[from] + s.headPa(d, forward)
		return true
	})
	return nodes, headPa
}

// headPa is what a column of liquid in a tube adds from one end to the other; found
// once for all tubes.
func (s *System) headPa(d *compiler.Device, forward bool) float64 {
	if s.heads == nil {
		s.heads = make([]float64, len(s.Program.Devices))
		for i := range s.heads {
			if e := &s.Program.Devices[i]; e.Kind == "tube" && e.Element >= 0 {
				s.heads[i] = s.columnPa(e)
			}
		}
	}
	if forward {
		return s.heads[d.Number]
	}
	return -s.heads[d.Number]
}

// columnPa is what the column in a tube adds along its path, in the first case in which
// it holds a liquid.
func (s *System) columnPa(d *compiler.Device) float64 {
	const gravity = 9.80665 // m/s2, standard
	for c := range s.each() {
		if !c.solved() {
			continue
		}
		rise, _ := c.Settings[d.Number]["rise_m"].(float64)
		if rho := c.LiquidKgM3(c.Result, d); rho > 0 {
			return -rho * gravity * rise
		}
	}
	return 0
}

// told writes what brings a pressure to a place.
func (b bound) told(c *Case) string {
	what := fmt.Sprintf("%s of %s", c.show(b.pa, "pressure"), b.by.Tag)
	if b.by.Kind == "reducer" {
		what = fmt.Sprintf("%s, at which %s may lock up,", c.show(b.pa, "pressure"), b.by.Tag)
	}
	if b.opened != nil {
		return fmt.Sprintf("%s can reach it with %s wide open", what, b.opened.Tag)
	}
	return what + " can reach it"
}
