package rule

import (
	"fmt"
	"math"
	"slices"

	"tapline/compiler"
	"tapline/lang/diag"
)

var neverFlows = &Rule{
	Codes:     []string{"never-flows"},
	Means:     "an open way leads through a device from a source to a vent, and in no case does anything flow through it",
	Basis:     "the answers of all cases. Reliefs, dead ends, what stated valves shut off in every case, and devices said to be spare are left out",
	perSystem: judgeIdle,
}

// whole reports whether all cases of the system are here.
func (s *System) whole() bool { return len(s.Cases) == 1+len(s.Program.Description.Cases) }

// idleOrder names the device of an idle way that is most likely its cause.
var idleOrder = []string{"reducer", "holder", "flow_controller", "check_valve"}

func judgeIdle(s *System) {
	if !s.whole() {
		return // what flows in the cases left out is not known
	}
	for c := range s.each() {
		if !c.solved() {
			return
		}
	}
	idle := make([]bool, len(s.Program.Devices))
	for i := range s.Program.Devices {
		d := &s.Program.Devices[i]
		idle[i] = d.Element >= 0 && d.Kind != "relief" && !says(s.Cases[0].Blocks[i], "spare") && s.never(d)
	}
	seen := make([]bool, len(idle))
	for i := range idle {
		if !idle[i] || seen[i] {
			continue
		}
		way := s.idleWay(i, idle, seen)
		// A way is told of once, and only where nothing but pressures keeps it shut.
		slices.SortStableFunc(way, func(a, b int) int { return s.idleRank(a) - s.idleRank(b) })
		k := slices.IndexFunc(way, func(i int) bool { return s.through(&s.Program.Devices[i]) })
		if k < 0 {
			continue
		}
		d := &s.Program.Devices[way[k]]
		var others []string
		for _, o := range way {
			if o != way[k] {
				others = append(others, s.Program.Devices[o].Tag)
			}
		}
		slices.Sort(others)
		c := s.at(0)
		message := "nothing flows through " + d.Tag
		if len(others) > 0 {
			message += ", nor through " + listed(others, 6) + " in line with it,"
		}
		in, out := c.highest(d.In), c.highest(d.Out)
		message += " in any case"
		if !math.IsNaN(in) && !math.IsNaN(out) {
			message += fmt.Sprintf("; in the base %s stands before it and %s behind", c.show(in, "pressure"), c.show(out, "pressure"))
		}
		s.flag(diag.Diagnostic{
			Code: "never-flows", Level: diag.Caution, Range: c.Blocks[way[k]].TagRange, At: d.Tag, Message: message,
			Hint: "look at the sets on either side; if it stands by for something, write the case in which it is used",
		})
	}
}

func (s *System) idleRank(i int) int {
	if r := slices.Index(idleOrder, s.Program.Devices[i].Kind); r >= 0 {
		return r
	}
	return len(idleOrder)
}

// never reports whether nothing flows through a device in any case.
func (s *System) never(d *compiler.Device) bool {
	for _, r := range s.Results {
		if math.Abs(r.Elements[d.Element].FlowKgS) > leastReverse {
			return false
		}
	}
	return true
}

// idleWay gathers the idle devices that are joined to one by nodes at which nothing
// flows either.
func (s *System) idleWay(first int, idle, seen []bool) []int {
	way := []int{first}
	seen[first] = true
	for q := 0; q < len(way); q++ {
		d := &s.Program.Devices[way[q]]
		for _, n := range []int{d.In, d.Out} {
			at := s.touching(n)
			if s.Program.Nodes[n].Boundary >= 0 || slices.ContainsFunc(at, func(i int) bool { return !idle[i] && s.Program.Devices[i].Kind != "relief" }) {
				continue
			}
			for _, i := range at {
				if idle[i] && !seen[i] {
					seen[i] = true
					way = append(way, i)
				}
			}
		}
	}
	return way
}

// through reports whether in some case an open way leads from one known pressure
// through a device to another one, as far as stated shut valves and faults go.
func (s *System) through(d *compiler.Device) bool {
	for c := range s.each() {
		open := func(e *compiler.Device) bool {
			k := c.Solver.Devices[e.Element]
			return e.Kind != "relief" && (k.Passage != nil || k.Leak != nil)
		}
		if !open(d) {
			continue
		}
		before := c.boundaries(s.spread([]int{d.In}, func(e *compiler.Device, forward bool) bool {
			return e != d && open(e) && (!forward || !c.Solver.Devices[e.Element].OneWay)
		}))
		behind := c.boundaries(s.spread([]int{d.Out}, func(e *compiler.Device, forward bool) bool {
			return e != d && open(e) && (forward || !c.Solver.Devices[e.Element].OneWay)
		}))
		if len(before) > 0 && len(behind) > 0 && !(len(before) == 1 && slices.Equal(before, behind)) {
			return true
		}
	}
	return false
}

// boundaries gives the known pressures among nodes.
func (s *System) boundaries(nodes []bool) (out []int) {
	for n, in := range nodes {
		if in && s.Program.Nodes[n].Boundary >= 0 {
			out = append(out, n)
		}
	}
	return out
}
