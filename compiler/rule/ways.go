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

// spread marks the nodes that can be reached from some, without passing through a
// known pressure. pass says whether a device is passed, from its inlet to its outlet
// or the other way.
func (s *System) spread(from []int, pass func(d *compiler.Device, forward bool) bool) []bool {
	seen := make([]bool, len(s.Program.Nodes))
	queue := append([]int(nil), from...)
	for _, n := range from {
		seen[n] = true
	}
	for q := 0; q < len(queue); q++ {
		n := queue[q]
		if s.Program.Nodes[n].Boundary >= 0 {
			continue
		}
		for _, i := range s.touching(n) {
			d := &s.Program.Devices[i]
			other := d.In + d.Out - n
			if !seen[other] && pass(d, d.In == n) {
				seen[other] = true
				queue = append(queue, other)
			}
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
