package compiler

import (
	"maps"

	"tapline/lang"
	"tapline/lang/diag"
	"tapline/solver"
	"tapline/solver/device"
)

// What a failed device does:
//
//	wide open        its passage, or one of fail_cv, whatever the pressures
//	shut, plugged    nothing passes
//	stuck            it stands where the base's answer has it, whatever the pressures
//	seat leak        a passage beside its own that is always open
//	loading lost     no spring, and the dome at the atmosphere (regulators.go)
//	diaphragm leak   the controlled side leaks into the bonnet and so to the
//	                 atmosphere, or into the dome and what feeds it; a dome that is
//	                 charged and shut off takes on the controlled pressure
//	fails            one of the first three and "stuck", as on_failure says
//
// A regulator, relief device or controller that stands open still passes nothing
// backwards; a check valve does.

// faultOf is the fault of a block, "fails" as what it comes to; what it comes to for a
// multiway valve its passages know (multiway.go).
func faultOf(b *lang.Block) string {
	f := text(b, "fault")
	if f != "fails" || b.Kind == "multiway" {
		return f
	}
	switch text(b, "on_failure") {
	case "open":
		return "wide open"
	case "shut":
		return "shut"
	}
	return "stuck"
}

// hold puts the valves that are stuck where the base has them.
func (p *Program) hold(c *Case) {
	var at *lang.Resolved
	for i, b := range c.Blocks {
		stuck := b.Kind == "valve" && faultOf(b) == "stuck"
		if b.Kind == "multiway" {
			_, stuck = b.Stands()
		}
		if !stuck {
			continue
		}
		if at == nil {
			at, _ = p.Description.Unset().Resolve("base")
		}
		stays := at.Blocks[p.Devices[i].index]
		held := *b
		held.Attrs = maps.Clone(b.Attrs)
		for _, name := range []string{"state", "opening", "position"} {
			delete(held.Attrs, name)
			if stays.Has(name) {
				held.Attrs[name] = stays.Attrs[name]
			}
		}
		c.Blocks[i] = &held
	}
}

// stuck holds a device at the lift that the base's answer gives it.
func (l *law) stuck(d solver.Device, open device.Law) solver.Device {
	if d.Lift == nil && l.b.Kind != "flow_controller" {
		return d // a valve: see hold
	}
	d.Lift, d.Snap, d.Closing, d.DeadBandZ = nil, false, nil, 0
	d.Passage = nil
	lift, ok := l.baseLift()
	if !ok {
		l.found = append(l.found, diag.Diagnostic{
			Code: "unsolved", Level: diag.Error, Range: l.b.TagRange,
			Message: "where " + l.b.Tag + " is stuck is not known: the base case has no answer",
		})
		return d
	}
	l.settings["stuck_at_lift"] = lift
	if lift > 0 {
		d.Passage = device.Part{Open: open, Share: lift}
	}
	return d
}

// baseLift is the lift in the base's answer; of a flow controller, the part of its
// fully open flow.
func (l *law) baseLift() (float64, bool) {
	if l.from.answer == nil {
		return 0, false
	}
	c, r := l.from.answer()
	if r == nil || r.Status != solver.Solved {
		return 0, false
	}
	e := r.Elements[l.element]
	if l.b.Kind != "flow_controller" {
		return e.Lift, true
	}
	k, isOne := c.Solver.Devices[l.element].Passage.(device.FlowController)
	in, out := r.Nodes[l.nodes[0]], r.Nodes[l.nodes[1]]
	if !isOne || in.Gas == nil || !(e.FlowKgS > 0) {
		return 0, true
	}
	g, _, err := solver.GasAt(in.Gas, in.TemperatureK, in.PressurePa)
	if err != nil {
		return 0, false
	}
	full := k.Open.Flow(in.PressurePa, out.PressurePa, &g).W
	return min(e.FlowKgS/full, 1), full > 0
}

// ruptured is a regulator whose diaphragm leaks where the dome is charged and shut
// off: it takes on the controlled pressure p, so that
//
//	P_L + bias - p = (ratio - 1) (p - p_atm) + bias
//
// is what opens a reducer and closes a holder. Below a ratio of 1 that still
// controls; at 1 and above what the bias leaves decides, and a dome larger than the
// diaphragm drives it to its end. Other loadings: see diaphragm.
func (l *law) ruptured(d solver.Device, open device.Law) solver.Device {
	dome := l.charged
	if dome == nil || d.Lift == nil {
		return d
	}
	lift := *d.Lift
	reducer := l.b.Kind == "reducer"
	loaded := dome.Ratio > 1 || dome.Ratio == 1 && dome.BiasPa > 0
	switch {
	case dome.Ratio < 1 && reducer:
		k := -lift.Down
		if dome.FromLoad { // which weighs the dome by 1 + S
			k -= lift.Up
		}
		lift.Bias -= k * dome.Ratio * dome.FixedPa
		lift.Down += k * dome.Ratio
		d.Lift = &lift
	case dome.Ratio < 1:
		k := lift.Up
		if dome.FromLoad {
			k += lift.Down
		}
		lift.Bias += k * dome.Ratio * dome.FixedPa
		lift.Up -= k * dome.Ratio
		d.Lift, d.Closing = &lift, nil
	case loaded == reducer:
		d.Lift, d.Closing, d.Passage = nil, nil, open
	default:
		d.Passage = nil
	}
	return d
}

// leaksOut reports whether the diaphragm of a device leaks in some case.
func (p *Program) leaksOut(d *Device) bool {
	if d.Kind != "reducer" && d.Kind != "holder" {
		return false
	}
	for _, c := range p.Description.Overlays() {
		for _, b := range c.Blocks {
			if b.Kind == d.Kind && b.Tag == d.Tag && text(b, "fault") == "diaphragm leak" {
				return true
			}
		}
	}
	return false
}

// controlled is the node whose pressure a regulator controls.
func (d *Device) controlled() int {
	if d.Kind == "reducer" {
		return d.Out
	}
	return d.In
}

// bonnets adds the passages of diaphragms that leak in some case: to a node at the
// atmosphere of the site and, where the dome follows a node, to that; and the vents of
// relieving reducers.
func (p *Program) bonnets(elements []solver.Element) []solver.Element {
	for i := range p.Devices {
		d := &p.Devices[i]
		leaks, vents := p.leaksOut(d), p.vents(d)
		if d.Element < 0 || !leaks && !vents {
			continue
		}
		add := func(name string, to int) int {
			elements = append(elements, solver.Element{Name: name, From: d.controlled(), To: to, Sense: -1})
			return len(elements) - 1
		}
		if n := p.sense(d); leaks && n >= 0 && n != d.controlled() {
			d.ToDome = add(d.Tag+" diaphragm", n)
		}
		p.Nodes = append(p.Nodes, Node{Name: d.Tag + " bonnet", Boundary: -1, Atmosphere: true, Range: d.Block.TagRange})
		if leaks {
			d.ToBonnet = add(d.Tag+" bonnet", len(p.Nodes)-1)
		}
		if vents {
			d.ToVent = add(d.Tag+" vent", len(p.Nodes)-1)
			if elements[d.ToVent].Sense = p.sense(d); elements[d.ToVent].Sense < 0 {
				elements[d.ToVent].Sense = d.In
			}
		}
	}
	return elements
}

// diaphragm opens the passage of a diaphragm that leaks in this case.
func (p *Program) diaphragm(c *Case, d *Device, l *law) {
	if faultOf(l.b) != "diaphragm leak" || l.charged != nil {
		return
	}
	at, oneWay := d.ToBonnet, true // a bonnet holds air, which is none of the system's gases
	if domeNode(l.b) != "" && d.ToDome >= 0 {
		at, oneWay = d.ToDome, false
	}
	controlled := *l
	controlled.gas = c.gases[d.controlled()].mixture
	if leak := controlled.leak(); leak != nil {
		c.Solver.Devices[at] = solver.Device{Passage: leak, OneWay: oneWay}
	}
}
