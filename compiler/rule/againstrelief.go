package rule

import (
	"tapline/compiler"
	"tapline/solver/device"
)

// againstReliefs goes through the regulators of a kind and the relief devices in the
// section that each holds. judge gets the operating or service case in which pressure,
// what the regulator may bring about there [Pa], is the highest; 0 for a lift that
// nothing can be said of.
func (s *System) againstReliefs(kind string, pressure func(c *Case, d *compiler.Device, l *device.Lift) float64, judge func(c *Case, d, r *compiler.Device)) {
	for i := range s.Program.Devices {
		d := &s.Program.Devices[i]
		if d.Kind != kind || d.Element < 0 {
			continue
		}
		var at *Case
		highest := 0.0
		for c := range s.each() {
			l := c.balance(d)
			if l == nil || !c.solved() || c.Kind == "upset" {
				continue
			}
			if p := pressure(c, d, l); p > highest {
				highest, at = p, c
			}
		}
		if at == nil {
			continue
		}
		side := d.In
		if kind == "reducer" {
			side = d.Out
		}
		section := s.quiet(side)
		for k := range s.Program.Devices {
			if r := &s.Program.Devices[k]; r.Kind == "relief" && r.Element >= 0 && section[r.In] {
				judge(at, d, r)
			}
		}
	}
}
