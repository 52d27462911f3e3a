package rule

import (
	"fmt"
	"math"

	"tapline/compiler"
	"tapline/lang"
	"tapline/lang/diag"
	"tapline/lang/quantity"
	"tapline/solver"
	"tapline/solver/device"
)

var aboveRated = &Rule{
	Codes:   []string{"above-rated"},
	Means:   "the pressure at an end of a part is above what it is rated for, or below its rating where that is a range; upset cases count too. A caution where the part is shut in and only the highest pressure around it is known",
	Basis:   "the parts' ratings; while a relief device passes next to the part it may exceed its gauge rating by 10 % or 3 psi, the greater (ASME BPVC VIII-1 UG-125, one device)",
	perCase: judgeRatings,
}

func judgeRatings(c *Case) {
	c.eachBody(func(d *compiler.Device, b *lang.Block) {
		eachRating(d, b, func(attribute string, v *lang.Value, nodes []int) { c.rating(d, v, attribute, nodes) })
	})
}

// eachRating calls f for every rating that a part states, with the nodes it holds for.
func eachRating(d *compiler.Device, b *lang.Block, f func(attribute string, v *lang.Value, nodes []int)) {
	if v := stated(b, "rated"); v != nil {
		f("rated", v, d.Nodes())
	}
	if v := stated(b, "rated_inlet"); v != nil {
		f("rated_inlet", v, []int{d.In})
	}
	if v := stated(b, "rated_outlet"); v != nil {
		f("rated_outlet", v, []int{d.Out})
	}
}

// stated gives a quantity that a block states, nil where it does not.
func stated(b *lang.Block, name string) *lang.Value {
	if v := b.Attrs[name]; v != nil && !v.Null && v.Quantity != nil {
		return v
	}
	return nil
}

// rating holds the worst of a part's nodes against one rating.
func (c *Case) rating(d *compiler.Device, v *lang.Value, attribute string, nodes []int) {
	l := limit{low: math.NaN(), high: math.NaN()}
	switch q := v.Quantity; q.Form {
	case quantity.Single:
		l.high = q.Nominal.PressurePa(c.Site)
	default:
		l, _ = c.limitOf(q, spot{})
	}
	value, at := math.NaN(), -1
	for _, n := range nodes {
		p := c.highest(n)
		if !math.IsNaN(p) && (math.IsNaN(value) || l.margin(p) < l.margin(value)) {
			value, at = p, n
		}
	}
	o := compiler.CheckOutcome{
		Name: d.Tag, Source: "rated", Case: c.Name, At: d.Tag, Quantity: attribute, Min: c.Known(l.low), Max: c.Known(l.high), Status: "unjudged",
	}
	if c.solved() && at >= 0 {
		allowed := l
		if gauge := l.high - c.Site.AtmospherePa; gauge > 0 && c.relieved()[at] {
			allowed.high += device.AllowedOverpressurePa(gauge, false)
		}
		o.Value, o.Margin, o.Status = c.Put(value), c.Known(allowed.margin(value)), "pass"
		if ok, end := allowed.holds(value); !ok {
			o.Status = "fail"
			word := "above"
			if value < end {
				word = "below"
			}
			level, sees := diag.Alarm, "sees"
			if c.Result.Nodes[at].State == solver.Trapped {
				level, sees = diag.Caution, "is shut in and may hold up to"
			}
			c.flag(diag.Diagnostic{
				Code: "above-rated", Level: level, Range: v.Range, At: d.Tag, Value: c.Put(value), Limit: c.Put(end), Unit: "Pa",
				Message: fmt.Sprintf("%s %s %s at %s, %s the %s it is rated for", d.Tag, sees, c.show(value, "pressure"), c.Program.Nodes[at].Name, word, c.show(end, "pressure")),
			})
		}
	}
	c.checks = append(c.checks, o)
}

// highest is the highest pressure a node may have: where it is trapped, the
// upper bound.
func (c *Case) highest(n int) float64 {
	r := c.Result.Nodes[n]
	if r.State == solver.Trapped {
		return r.HighPa
	}
	return r.PressurePa
}

// relieved marks the nodes at relief devices that pass and those joined to them by what
// is open and holds no pressure back; found once.
func (c *Case) relieved() []bool {
	if c.relief != nil {
		return c.relief
	}
	c.relief = make([]bool, len(c.Program.Nodes))
	var queue []int
	mark := func(n int) {
		if !c.relief[n] {
			c.relief[n] = true
			queue = append(queue, n)
		}
	}
	for i := range c.Program.Devices {
		if d := &c.Program.Devices[i]; d.Kind == "relief" && d.Element >= 0 && c.Result.Elements[d.Element].FlowKgS > 0 {
			mark(d.In)
		}
	}
	for q := 0; q < len(queue); q++ {
		for _, i := range c.touching(queue[q]) {
			d := &c.Program.Devices[i]
			switch d.Kind {
			case "relief", "reducer", "holder", "check_valve", "flow_controller":
				continue
			}
			if c.Result.Elements[d.Element].State != solver.Shut {
				mark(d.In + d.Out - queue[q])
			}
		}
	}
	return c.relief
}
