package rule

import (
	"tapline/compiler"
)

// Ways through the network by its parts alone, whatever the pressures are.

// touching gives the devices at a node by their indices, made once.
func (s *System) touching(node int) []int {
	if s.atNode == nil {
		s.atNode = make([][]int, len(s.Program.Nodes))
		for i := range s.Program.Devices {
			if d := &s.Program.Devices[i]; d.Element >= 0 {
				s.atNode[d.In] = append(s.atNode[d.In], i)
				s.atNode[d.Out] = append(s.atNode[d.Out], i)
			}
		}
	}
	return s.atNode[node]
}

// A stop is a node on a way through the network. By is the way through a multiway valve
// that led to it, nil for anything else: from there another of the same valve leads on
// only where one of its positions joins both.
type stop struct {
	node int
	by   *compiler.Device
}

// onward gives the stop at the other end of a device at a stop; false where that is a
// way through the same valve which is never open at the same time.
func (s *System) onward(at stop, d *compiler.Device) (to stop, ok bool) {
	to.node = d.In + d.Out - at.node
	if d.Way == nil {
		return to, true
	}
	to.by = d
	return to, at.by == nil || s.Program.Together(at.by, d)
}

// spread marks the nodes that can be reached from some, without passing through a
// known pressure. pass says whether a device is passed, from its inlet to its outlet
// or the other way.
func (s *System) spread(from []int, pass func(d *compiler.Device, forward bool) bool) []bool {
	seen, freely := make([]bool, len(s.Program.Nodes)), make([]bool, len(s.Program.Nodes))
	through := map[stop]bool{} // stops behind multiway valves
	queue := make([]stop, len(from))
	for i, n := range from {
		seen[n], freely[n], queue[i].node = true, true, n
	}
	for q := 0; q < len(queue); q++ {
		at := queue[q]
		if s.Program.Nodes[at.node].Boundary >= 0 {
			continue
		}
		for _, i := range s.touching(at.node) {
			d := &s.Program.Devices[i]
			to, ok := s.onward(at, d)
			if !ok || freely[to.node] || to.by != nil && through[to] || !pass(d, d.In == at.node) {
				continue
			}
			seen[to.node] = true
			if to.by != nil {
				through[to] = true
			} else {
				freely[to.node] = true
			}
			queue = append(queue, to)
		}
	}
	return seen
}

// lockedShut reports whether a valve is locked shut in every case.
func (s *System) lockedShut(d *compiler.Device) bool {
	return d.Kind == "valve" && s.locked(d) == "shut"
}

// clear reports whether nothing in a device can shut, plug or check: a tube, a piece
// of equipment, a valve locked open in every case.
func (s *System) clear(d *compiler.Device) bool {
	switch d.Kind {
	case "tube", "equipment":
		return true
	case "valve":
		return s.locked(d) == "open"
	}
	return false
}

// locked gives the state in which a valve is locked in every case, "" for none; found
// once for all valves.
func (s *System) locked(d *compiler.Device) string {
	if s.lockedIn == nil {
		s.lockedIn = map[*compiler.Device]string{}
		for i := range s.Program.Devices {
			v := &s.Program.Devices[i]
			if v.Kind != "valve" {
				continue
			}
			for k, c := range s.Cases {
				state := text(c.Blocks[i], "state")
				if !says(c.Blocks[i], "locked") || k > 0 && state != s.lockedIn[v] {
					state = ""
				}
				if s.lockedIn[v] = state; state == "" {
					break
				}
			}
		}
	}
	return s.lockedIn[d]
}

// quiet marks what may stand at one pressure with a node when nothing flows: no
// regulator or relief device is passed, a check valve or flow controller only forward.
func (s *System) quiet(node int) []bool {
	return s.spread([]int{node}, func(d *compiler.Device, forward bool) bool {
		switch d.Kind {
		case "reducer", "holder", "relief":
			return false
		case "check_valve", "flow_controller":
			return forward
		}
		return !s.lockedShut(d)
	})
}
