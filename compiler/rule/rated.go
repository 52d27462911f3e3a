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
		for _, r := range []struct {
			attribute string
			nodes     []int
		}{
			{"rated", d.Nodes()}, {"rated_inlet", []int{d.In}}, {"rated_outlet", []int{d.Out}},
		} {
			if v := b.Attrs[r.attribute]; v != nil && !v.Null && v.Quantity != nil {
				c.rating(d, v, r.attribute, r.nodes)
			}
		}
	})
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
		Name: d.Tag, Source: "rated", Case: c.Name, At: d.Tag, Quantity: attribute, Min: compiler.Known(l.low), Max: compiler.Known(l.high), Status: "unjudged",
	}
	if c.solved() && at >= 0 {
		allowed := l
		if gauge := l.high - c.Site.AtmospherePa; gauge > 0 && c.relieved(at) {
			allowed.high += device.AllowedOverpressurePa(gauge, false)
		}
		o.Value, o.Margin, o.Status = &value, compiler.Known(allowed.margin(value)), "pass"
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
				Code: "above-rated", Level: level, Range: v.Range, At: d.Tag, Value: &value, Limit: &end, Unit: "Pa",
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

// relieved reports whether a relief device that passes stands at a node or is
// joined to it by what is open and holds no pressure back.
func (c *Case) relieved(node int) bool {
	seen := map[int]bool{node: true}
	queue := []int{node}
	for len(queue) > 0 {
		n := queue[0]
		queue = queue[1:]
		for i := range c.Program.Devices {
			d := &c.Program.Devices[i]
			if d.Element < 0 || d.In != n && d.Out != n {
				continue
			}
			e := c.Result.Elements[d.Element]
			if d.Kind == "relief" && d.In == n && e.FlowKgS > 0 {
				return true
			}
			other := d.In + d.Out - n
			switch d.Kind {
			case "relief", "reducer", "holder", "check_valve", "flow_controller":
				continue
			}
			if e.State != solver.Shut && !seen[other] {
				seen[other] = true
				queue = append(queue, other)
			}
		}
	}
	return false
}
