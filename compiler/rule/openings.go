package rule

import (
	"math"

	"tapline/compiler"
	"tapline/lang"
	"tapline/solver"
	"tapline/solver/device"
)

// Where a regulator or relief device begins to open and stands fully open, out of the
// balance it was solved with. Devices whose balance is not linear, and those whose
// fault took it away, have none and are not judged by the rules that ask here.

// balance is the lift of a device in a case, nil where it has none.
func (c *Case) balance(d *compiler.Device) *device.Lift {
	if d.Element < 0 || c.Solver.Devices[d.Element].Passage == nil {
		return nil
	}
	l := c.Solver.Devices[d.Element].Lift
	if l == nil || l.Up == 0 && l.Down == 0 {
		return nil
	}
	return l
}

// inletAt is the inlet pressure [Pa] at which a lift that rises with it reaches z.
func inletAt(l *device.Lift, z, outletPa, domePa float64) float64 {
	return (z - l.Bias - l.Down*outletPa - l.Ref*domePa) / l.Up
}

// outletAt is the outlet pressure [Pa] at which a lift that falls with it reaches z.
func outletAt(l *device.Lift, z, inletPa, domePa float64) float64 {
	return (z - l.Bias - l.Up*inletPa - l.Ref*domePa) / l.Down
}

// domeAt is the node whose pressure loads a device, -1 where it is loaded by none.
func (s *System) domeAt(d *compiler.Device) int {
	if d.Element < 0 {
		return -1
	}
	return s.Program.Network.Elements[d.Element].Sense
}

// domePa is the pressure that loads a device, 0 where it follows no node. Of a shut
// section it is the lowest it may have, which the solver takes.
func (c *Case) domePa(d *compiler.Device) float64 {
	n := c.domeAt(d)
	if n < 0 {
		return 0
	}
	if r := c.Result.Nodes[n]; r.State == solver.Trapped {
		return r.LowPa
	}
	return c.Result.Nodes[n].PressurePa
}

// lockedUpPa is where the outlet of a reducer settles without flow, with that inlet;
// never above the inlet.
func lockedUpPa(l *device.Lift, inletPa, domePa float64) float64 {
	return min(inletPa, outletAt(l, 0, inletPa, domePa)+l.LockUpPa)
}

// opensPa is the inlet pressure at which a relief device opens, with what stands behind
// it while it is shut: the highest over the cases. False where it is shut for good.
func (s *System) opensPa(d *compiler.Device) (pa float64, ok bool) {
	pa = math.NaN()
	for c := range s.each() {
		l := c.balance(d)
		if l == nil || l.Up <= 0 {
			continue
		}
		back := c.Site.AtmospherePa
		if c.solved() {
			if c.Result.Elements[d.Element].FlowKgS > 0 || c.Result.Nodes[d.Out].State == solver.Trapped {
				continue
			}
			back = c.Result.Nodes[d.Out].PressurePa
		}
		if p := inletAt(l, 0, back, 0); !(p <= pa) {
			pa = p
		}
	}
	if !math.IsNaN(pa) {
		return pa, true
	}
	for c := range s.each() { // it passes in every case: as with its outlet at the atmosphere
		if l := c.balance(d); l != nil && l.Up > 0 {
			return inletAt(l, 0, c.Site.AtmospherePa, 0), true
		}
	}
	return 0, false
}

// each gives the cases of a system one by one.
func (s *System) each() func(yield func(*Case) bool) {
	return func(yield func(*Case) bool) {
		for i := range s.Cases {
			if !yield(s.at(i)) {
				return
			}
		}
	}
}

// at gives one case of a system.
func (s *System) at(i int) *Case { return &s.cases[i] }

// text gives a choice of a block as written or by default.
func text(b *lang.Block, name string) string {
	if v := b.Get(name); v != nil {
		return v.Text
	}
	return ""
}

// says reports whether an attribute is true.
func says(b *lang.Block, name string) bool {
	v := b.Get(name)
	return v != nil && !v.Null && v.Flag
}

// atMost holds a value of a rule against the highest it may have, and reports whether
// it holds.
func (c *Case) atMost(code, at, quantity string, value, highest float64) bool {
	return c.hold(compiler.CheckOutcome{Name: code, At: at, Quantity: quantity, Max: c.Put(highest), Value: c.Put(value), Margin: c.Known(highest - value)}, value <= highest)
}

// atLeast holds a value of a rule against the lowest it may have.
func (c *Case) atLeast(code, at, quantity string, value, lowest float64) bool {
	return c.hold(compiler.CheckOutcome{Name: code, At: at, Quantity: quantity, Min: c.Put(lowest), Value: c.Put(value), Margin: c.Known(value - lowest)}, value >= lowest)
}

func (c *Case) hold(o compiler.CheckOutcome, holds bool) bool {
	o.Source, o.Case, o.Status = "rule", c.Name, "pass"
	if !holds {
		o.Status = "fail"
	}
	c.checks = append(c.checks, o)
	return holds
}
