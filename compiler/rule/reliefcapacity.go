package rule

import (
	"fmt"
	"math"
	"slices"

	"tapline/compiler"
	"tapline/lang"
	"tapline/lang/diag"
	"tapline/lang/quantity"
	"tapline/solver"
	"tapline/solver/device"
)

var reliefCapacity = &Rule{
	Codes:   []string{"relief-capacity"},
	Means:   "a relief device passes, and with no more than its certified capacity (0.9 of its coefficient of discharge, 0.81 behind a disc) and its set at the top of its tolerance a part that it protects comes above its rating by more than 10 % or 3 psi, the greater (16 % or 4 psi where several devices pass)",
	Basis:   "ASME BPVC VIII-1 UG-125; certified coefficient of discharge of ISO 4126-1",
	perCase: judgeCapacity,
}

func judgeCapacity(c *Case) {
	p := c.Protected
	if p == nil {
		return
	}
	c.each(func(d *compiler.Device, b *lang.Block) {
		if e, ok := c.element(d); ok && d.Kind == "relief" && e.FlowKgS > 0 && !c.underRelief(d) {
			c.capacityOf(d, b, p)
		}
	})
}

// capacityOf holds the parts that a relief device protects against their ratings.
func (c *Case) capacityOf(d *compiler.Device, b *lang.Block, p *solver.Result) {
	guarded, passing := c.guardedBy(d)
	var worst struct {
		part            *compiler.Device
		node            int
		pa, allowed, at float64 // the pressure, what is allowed and the rating
	}
	margin := math.Inf(1)
	judge := func(part *compiler.Device, v *lang.Value, nodes []int) {
		rated := v.Quantity.Nominal.PressurePa(c.Site)
		if v.Quantity.Form != quantity.Single {
			l, _ := c.limitOf(v.Quantity, spot{})
			rated = l.high
		}
		gauge := rated - c.Site.AtmospherePa
		if !(gauge > 0) {
			return
		}
		allowed := rated + device.AllowedOverpressurePa(gauge, passing > 1)
		for _, n := range nodes {
			x := p.Nodes[n].PressurePa
			if !guarded[n] || p.Nodes[n].State == solver.Trapped || math.IsNaN(x) {
				continue
			}
			if m := allowed - x; m < margin {
				margin = m
				worst.part, worst.node, worst.pa, worst.allowed, worst.at = part, n, x, allowed, rated
			}
		}
	}
	named := b.Get("protects").Texts()
	c.eachBody(func(part *compiler.Device, pb *lang.Block) {
		if slices.Contains(named, part.Tag) {
			for _, n := range part.Nodes() {
				guarded[n] = true
			}
		}
		eachRating(part, pb, func(_ string, v *lang.Value, nodes []int) { judge(part, v, nodes) })
	})
	if worst.part == nil {
		return
	}
	o := compiler.CheckOutcome{
		Name: "relief-capacity", Source: "rule", Case: c.Name, At: d.Tag,
		Quantity: "pressure", Max: c.Known(worst.allowed), Status: "unjudged",
	}
	if p.Status == solver.Solved {
		o.Value, o.Margin, o.Status = c.Known(worst.pa), c.Known(margin), "pass"
	}
	if p.Status == solver.Solved && margin < 0 {
		o.Status = "fail"
		c.flag(diag.Diagnostic{
			Code: "relief-capacity", Level: diag.Alarm, Range: b.TagRange, At: d.Tag, Value: &worst.pa, Limit: &worst.allowed, Unit: "Pa",
			Message: fmt.Sprintf("with its certified capacity %s lets %s come to %s at %s; with the allowance over its rating of %s it may see %s", d.Tag,
				worst.part.Tag, c.show(worst.pa, "pressure"), c.Program.Nodes[worst.node].Name, c.show(worst.at, "pressure"), c.show(worst.allowed, "pressure")),
			Hint: "a larger orifice, a second device, or less that can come in: a smaller passage before it",
		})
	}
	c.checks = append(c.checks, o)
}

// underRelief reports whether a device is a disc in the line to another relief device,
// which then stands for both.
func (c *Case) underRelief(d *compiler.Device) bool {
	if text(c.Blocks[d.Number], "action") != "disc" {
		return false
	}
	for i := range c.Program.Devices {
		if r := &c.Program.Devices[i]; r.Kind == "relief" && r.Element >= 0 && r != d {
			if line, _ := c.reliefLine(r, true); slices.Contains(line, d) {
				return true
			}
		}
	}
	return false
}

// guardedBy marks the nodes at a relief device, a disc before it let aside, and those
// joined to it by what is open and holds no pressure back, and counts the relief
// devices that pass there.
func (c *Case) guardedBy(d *compiler.Device) (nodes map[int]bool, passing int) {
	nodes = map[int]bool{d.In: true}
	queue := []int{d.In}
	line, end := c.reliefLine(d, true)
	if slices.ContainsFunc(line, func(o *compiler.Device) bool { return o.Kind == "relief" }) && !nodes[end] {
		nodes[end] = true
		queue = append(queue, end)
	}
	for q := 0; q < len(queue); q++ {
		n := queue[q]
		c.each(func(o *compiler.Device, _ *lang.Block) {
			e, ok := c.element(o)
			if !ok || o.In != n && o.Out != n {
				return
			}
			switch o.Kind {
			case "relief":
				if o.In == n && e.FlowKgS > 0 && !c.underRelief(o) {
					passing++
				}
				return
			case "reducer", "holder", "check_valve", "flow_controller":
				return
			}
			if other := o.In + o.Out - n; e.State != solver.Shut && !nodes[other] {
				nodes[other] = true
				queue = append(queue, other)
			}
		})
	}
	return nodes, passing
}
