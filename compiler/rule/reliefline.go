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
// others join, nearest first, and that place. Another relief device before one, a disc,
// is part of its line; one behind it ends it.
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
		if count != 1 || !inlet && next.Kind == "relief" || next.Kind == "reducer" || next.Kind == "holder" || next.Kind == "flow_controller" {
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
func (c *Case) lineLoss(devices []*compiler.Device, afterPa float64, r relieving, relief *compiler.Device) float64 {
	p, of := afterPa, c.FluidAt(c.Result, relief.In)
	for _, d := range devices {
		law := c.Solver.Devices[d.Element]
		if law.Passage == nil || of == nil {
			return math.NaN()
		}
		passes := func(up float64) float64 {
			at := up
			if law.Mean {
				at = (up + p) / 2
			}
			g, _, err := solver.GasAt(of, r.tK, at)
			if err != nil {
				return math.NaN()
			}
			return law.Passage.Flow(up, p, &g).W
		}
		low, high := p, 1.001*p
		for k := 0; !(passes(high) >= r.kgS); k++ {
			if k == 40 {
				return math.NaN()
			}
			low, high = high, p+2*(high-p)
		}
		for k := 0; k < 50 && high-low > 1e-9*high; k++ {
			if mid := (low + high) / 2; passes(mid) >= r.kgS {
				high = mid
			} else {
				low = mid
			}
		}
		p = high
	}
	return p - afterPa
}

// relieving is what a relief device's capacity was made from: its gauge set, the
// relieving pressure and temperature, and the flow fully open.
type relieving struct{ gaugePa, atPa, tK, kgS float64 }

// relieving reads it from the settings of a device.
func (c *Case) relieving(d *compiler.Device) (r relieving, ok bool) {
	s := c.Settings[d.Number]
	r.kgS, ok = s["capacity_kg_s"].(float64)
	set, _ := s["set_Pa"].(float64)
	r.atPa, _ = s["relieving_Pa"].(float64)
	r.tK, _ = s["relieving_K"].(float64)
	r.gaugePa = set - c.Site.AtmospherePa
	return r, ok && r.gaugePa > 0
}

// base gives the base where it is among the cases that were solved.
func (s *System) base() *Case {
	if len(s.Cases) == 0 || s.Cases[0].Name != "base" || s.Results[0].Status != solver.Solved {
		return nil
	}
	return s.at(0)
}
