package rule

import (
	"fmt"

	"tapline/compiler"
	"tapline/lang"
	"tapline/lang/diag"
)

var reliefBlocked = &Rule{
	Codes:     []string{"relief-blocked"},
	Means:     "between a relief device and what it protects, or on its only way out, stands something that can shut, plug or check: a valve that is not locked open, a filter, an orifice, a meter, a check valve, a regulator",
	Basis:     "no stop valve before or after a relief device except locked open (ASME BPVC VIII-1 UG-135 and appendix M; from memory)",
	perSystem: judgeBlocked,
}

func judgeBlocked(s *System) {
	s.reliefs(func(c *Case, d *compiler.Device, b *lang.Block) {
		before, _ := s.reliefLine(d, true)
		for _, o := range before {
			if c.mayBlock(o) {
				c.blockedBy(d, b, o, "before")
				return
			}
		}
		if o := c.blocksOut(d); o != nil {
			c.blockedBy(d, b, o, "after")
			return
		}
		c.checks = append(c.checks, compiler.CheckOutcome{
			Name: "relief-blocked", Source: "rule", Case: c.Name, At: d.Tag, Quantity: "way", Status: "pass",
		})
	})
}

func (c *Case) blockedBy(d *compiler.Device, b *lang.Block, o *compiler.Device, where string) {
	c.checks = append(c.checks, compiler.CheckOutcome{
		Name: "relief-blocked", Source: "rule", Case: c.Name, At: d.Tag, Quantity: "way", Status: "fail",
	})
	hint := "take it out of this line"
	if o.Kind == "valve" {
		hint = "take it out, or lock it open: locked = true"
	}
	c.flag(diag.Diagnostic{
		Code: "relief-blocked", Level: diag.Alarm, Range: b.TagRange, At: d.Tag,
		Message: fmt.Sprintf("%s stands %s %s and can shut it off", o.Tag, where, d.Tag), Hint: hint,
		Related: []diag.Related{{Range: o.Block.TagRange, Message: o.Tag}},
	})
}

// mayBlock reports whether a device can shut, plug or check. A disc before a valve is
// a relief device itself.
func (c *Case) mayBlock(d *compiler.Device) bool {
	switch d.Kind {
	case "tube", "equipment", "relief":
		return false
	case "valve":
		b := c.Blocks[d.Number]
		locked, state := b.Get("locked"), b.Get("state")
		return locked == nil || !locked.Flag || state != nil && state.Text == "shut"
	}
	return true
}

// blocksOut gives the first device that can shut off every way from a relief device
// to a boundary; nil where a way is free.
func (c *Case) blocksOut(d *compiler.Device) (first *compiler.Device) {
	seen := map[int]bool{d.Out: true}
	queue := []int{d.Out}
	for q := 0; q < len(queue); q++ {
		n := queue[q]
		if c.Program.Nodes[n].Boundary >= 0 {
			return nil
		}
		for i := range c.Program.Devices {
			o := &c.Program.Devices[i]
			if o.Element < 0 || o == d || o.In != n && (o.Out != n || o.Kind == "relief") {
				continue
			}
			if c.mayBlock(o) {
				if first == nil {
					first = o
				}
				continue
			}
			if other := o.In + o.Out - n; !seen[other] {
				seen[other] = true
				queue = append(queue, other)
			}
		}
	}
	return first
}
