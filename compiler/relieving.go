package compiler

import (
	"tapline/solver"
	"tapline/solver/device"
)

// A relieving reducer vents its outlet: where that is above the pressure at which the
// seat is shut, the diaphragm lifts off the stem and lets the gas through itself into
// the bonnet, which is open to the atmosphere. The same springs carry the diaphragm, so
// the vent opens over another droop:
//
//	z = (p_out - P_o - relieves_at)/droop
//
// with the onset P_o of the reducer and all that moves it (common practice; the vent's
// own flow forces are left out). relieves_at is the lock-up at least: below it the
// seat is not tight yet. With a dome that follows a node the vent does not feel the
// inlet, whose effect is taken at the reference inlet.

// vents reports whether a reducer relieves its outlet in some case.
func (p *Program) vents(d *Device) bool {
	if d.Kind != "reducer" {
		return false
	}
	if v := d.Block.Get("relieving"); v != nil && v.Flag {
		return true
	}
	for _, c := range p.Description.Overlays() {
		for _, b := range c.Blocks {
			if b.Kind == d.Kind && b.Tag == d.Tag && b.Has("relieving") && b.Get("relieving").Flag {
				return true
			}
		}
	}
	return false
}

// vent opens the vent of a reducer that relieves in this case, to what the lift of its
// seat says.
func (p *Program) vent(c *Case, d *Device, l *law) {
	if d.ToVent < 0 || l.seat == nil || !l.b.Get("relieving").Flag || !l.has("relief_cv") {
		return
	}
	seat := *l.seat
	rise := l.value(l.b, "relieves_at")
	if !l.has("relieves_at") {
		rise = seat.LockUpPa
	}
	if rise < seat.LockUpPa {
		l.errorf("vents-below-lock-up", l.b.Get("relieves_at").Range, "at least its lock-up",
			l.b.Tag+" would vent before its seat is tight: it would never be at rest")
		return
	}
	lift := seat
	lift.LockUpPa = 0
	lift.Bias, lift.Up, lift.Down = -seat.Bias+rise*seat.Down, -seat.Down, 0
	switch {
	case p.Network.Elements[d.ToVent].Sense == d.In:
		lift.Ref = -seat.Up
	case l.b.Nested("balance") != nil && seat.Up != 0:
		l.errorf("not-yet-built", l.b.Get("relief_cv").NameRange, "state droop and supply_effect in place of the balance",
			"the vent of a reducer that is known by its balance and whose dome follows a node is not computed in this version")
		return
	default:
		lift.Ref = -seat.Ref
		lift.Bias -= seat.Up * l.seatInletPa
		if seat.Up != 0 {
			l.assume("the vent of " + l.b.Tag + " is taken not to feel its inlet")
		}
	}
	l.settings["relieves_at_Pa"] = rise
	open := device.Coefficient{Cv: l.number("relief_cv", "relief_cv"), XT: l.value(l.b, "xt"), FL: l.value(l.b, "fl")}
	c.Solver.Devices[d.ToVent] = solver.Device{Passage: open, Lift: &lift, OneWay: true}
}
