package rule

import (
	"math"

	"tapline/compiler"
	"tapline/lang"
	"tapline/solver"
)

// The lines before and after a relief device, as far as the next branch, vessel,
// regulator or boundary: what flows through the device flows through all of them.

// reliefLine gives the devices between an end of a relief device and the place where
// others join, nearest first, and that place.
func (s *System) reliefLine(d *compiler.Device, inlet bool) (devices []*compiler.Device, end int) {
	end = d.Out
	if inlet {
		end = d.In
	}
	seen := map[int]bool{end: true}
	for last := d; ; {
		var next *compiler.Device
		count := 0
		for i := range s.Program.Devices {
			o := &s.Program.Devices[i]
			switch {
			case o.In < 0 || o == last || o.In != end && o.Out != end:
			case o.Element < 0 && o.Block.Type().Role != lang.AtNode:
				return devices, end // a vessel, a boundary
			case o.Element >= 0:
				count++
				next = o
			}
		}
		if count != 1 || next.Kind == "reducer" || next.Kind == "holder" || next.Kind == "flow_controller" {
			return devices, end
		}
		other := next.In + next.Out - end
		if seen[other] {
			return devices, end
		}
		seen[other] = true
		devices = append(devices, next)
		last, end = next, other
	}
}

// lineLoss is how far the pressure rises against the flow w of g through devices,
// from what it is after the last; NaN where that is not known. The devices are given
// from the last to the first, fully open.
func (c *Case) lineLoss(devices []*compiler.Device, afterPa, w, tK float64, n *solver.NodeResult) float64 {
	p := afterPa
	for _, d := range devices {
		law := c.Solver.Devices[d.Element]
		if law.Passage == nil || n.Gas == nil {
			return math.NaN()
		}
		passes := func(up float64) float64 {
			at := up
			if law.Mean {
				at = (up + p) / 2
			}
			g, _, err := solver.GasAt(n.Gas, tK, at)
			if err != nil {
				return math.NaN()
			}
			return law.Passage.Flow(up, p, &g).W
		}
		low, high := p, 1.001*p
		for k := 0; !(passes(high) >= w); k++ {
			if k == 40 {
				return math.NaN()
			}
			low, high = high, p+2*(high-p)
		}
		for k := 0; k < 50 && high-low > 1e-9*high; k++ {
			if mid := (low + high) / 2; passes(mid) >= w {
				high = mid
			} else {
				low = mid
			}
		}
		p = high
	}
	return p - afterPa
}

// relieving reads the settings of a relief device that its capacity was made from.
func (c *Case) relieving(d *compiler.Device) (set, at, tK, w float64, ok bool) {
	s := c.Settings[c.index(d)]
	w, ok = s["capacity_kg_s"].(float64)
	set, _ = s["set_Pa"].(float64)
	at, _ = s["relieving_Pa"].(float64)
	tK, _ = s["relieving_K"].(float64)
	return set - c.Site.AtmospherePa, at, tK, w, ok && set > c.Site.AtmospherePa
}

// base gives the base where it is among the cases that were solved.
func (s *System) base() *Case {
	if len(s.Cases) == 0 || s.Cases[0].Name != "base" || s.Results[0].Status != solver.Solved {
		return nil
	}
	return &Case{System: s, Case: s.Cases[0], Result: s.Results[0], Outcome: &s.Run.Outcome.Cases[0]}
}
