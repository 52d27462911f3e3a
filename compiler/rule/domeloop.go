package rule

import (
	"fmt"
	"slices"

	"tapline/compiler"
	"tapline/lang/diag"
)

var domeLoop = &Rule{
	Codes:     []string{"dome-loop"},
	Means:     "the dome of a regulator is fed from the very section whose pressure it controls",
	Basis:     "the graph: the dome's node and what feeds it, pilots included, against the section behind a reducer or before a holder. With such a feedback the pressure may run away, or rest at more than one value",
	perSystem: judgeDomes,
}

func judgeDomes(s *System) {
	if len(s.Cases) == 0 {
		return
	}
	c := s.at(0)
	for i := range s.Program.Devices {
		d := &s.Program.Devices[i]
		if d.Kind != "reducer" && d.Kind != "holder" {
			continue
		}
		dome := s.domeAt(d)
		if dome < 0 || s.Program.Nodes[dome].Boundary >= 0 {
			continue
		}
		if d.Kind == "holder" && dome == d.Out {
			continue // a bias on its own return, whatever else comes there
		}
		section := s.controlled(d)
		// What feeds the dome, against the direction of the paths; not through the
		// regulator itself.
		feeds := s.spread([]int{dome}, func(e *compiler.Device, forward bool) bool {
			return !forward && e != d && e.Kind != "relief" && !s.lockedShut(e)
		})
		var at []string
		for n := range section {
			if section[n] && feeds[n] && s.Program.Nodes[n].Boundary < 0 {
				at = append(at, s.Program.Nodes[n].Name)
			}
		}
		if len(at) == 0 {
			continue
		}
		where := at[0]
		if name := s.Program.Nodes[dome].Name; slices.Contains(at, name) {
			where = name
		}
		v := c.Blocks[i].Nested("loading")
		f := diag.Diagnostic{
			Code: "dome-loop", Level: diag.Caution, Range: c.Blocks[i].TagRange, At: d.Tag,
			Message: fmt.Sprintf("the dome of %s is fed from %s, whose pressure %s itself controls", d.Tag, where, d.Tag),
			Hint:    "feed the dome from before the reducer or behind the holder, through a pilot of its own",
		}
		if v != nil && v.Get("dome") != nil {
			f.Range = v.Get("dome").Range
		}
		s.flag(f)
	}
}

// controlled marks the section whose pressure a regulator controls, up to the next
// regulator: all that it feeds behind a reducer; before a holder, what stands within
// its band of the holder's own inlet, since beyond a throttle something else sets the
// pressure. A bleed from elsewhere into it does not belong to it.
func (s *System) controlled(d *compiler.Device) []bool {
	behind := d.Kind == "reducer"
	from := d.In
	if behind {
		from = d.Out
	}
	return s.spread([]int{from}, func(e *compiler.Device, forward bool) bool {
		switch e.Kind {
		case "reducer", "holder", "relief", "flow_controller":
			return false
		}
		return forward == behind && !s.lockedShut(e) && (behind || s.withinBand(d, e))
	})
}

// withinBand reports whether a device on the way to a holder takes less than the
// holder's band in every operating case.
func (s *System) withinBand(holder, e *compiler.Device) bool {
	for c := range s.each() {
		if !c.solved() || c.Kind != "operating" {
			continue
		}
		l := c.balance(holder)
		if drop := c.Result.Nodes[e.In].PressurePa - c.Result.Nodes[e.Out].PressurePa; l == nil || l.Up <= 0 || drop > 1/l.Up {
			return false
		}
	}
	return true
}
