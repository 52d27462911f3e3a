package rule

import (
	"fmt"

	"tapline/compiler"
	"tapline/lang"
	"tapline/lang/diag"
	"tapline/solver"
)

var liftEdge = &Rule{
	Codes:   []string{"lift-edge"},
	Means:   "a regulator works above 90 % of its lift in an operating case, or below 10 % with a liquid or where a least flow is stated for it",
	Basis:   "common practice: near fully open it has no more to give, near its seat it hunts and wears, most of all with liquids. An allow block that states lift takes the place of this rule",
	perCase: judgeLift,
}

const (
	highLift = 0.90
	lowLift  = 0.10
)

func judgeLift(c *Case) {
	if !c.solved() || c.Kind != "operating" {
		return
	}
	c.each(func(d *compiler.Device, b *lang.Block) {
		if d.Kind != "reducer" && d.Kind != "holder" || text(b, "fault") != "" {
			return
		}
		if n := b.Nested("allow"); n != nil && n.Has("lift") {
			return
		}
		e, ok := c.element(d)
		if !ok || !(e.FlowKgS > leastReverse) || !(e.Lift > 0) {
			return
		}
		if d.Kind == "holder" && !c.holds(d) && c.balance(d) != nil {
			return // held from behind: it is meant to stand open
		}
		f := diag.Diagnostic{Code: "lift-edge", Level: diag.Caution, Range: b.TagRange, At: d.Tag, Value: c.Put(e.Lift), Unit: "1"}
		switch {
		case !c.atMost("lift-edge", d.Tag, "lift", e.Lift, highLift):
			limit := highLift
			f.Limit, f.Hint = c.Put(limit), "a larger flow coefficient, or less flow"
			f.Message = fmt.Sprintf("%s stands at %s of its lift: it has little left to give", d.Tag, c.show(e.Lift, "ratio"))
			if e.State == solver.WideOpen {
				f.Message = d.Tag + " stands wide open: it does not control"
			}
			if l := c.balance(d); d.Kind == "reducer" && l != nil && !c.reduces(d) {
				in := c.Result.Nodes[d.In].PressurePa
				f.Message = fmt.Sprintf("%s stands wide open: with %s before it, it cannot give the %s it is set to", d.Tag, c.show(in, "pressure"), c.show(outletAt(l, 0, in, c.domePa(d)), "pressure"))
				f.Hint = "more pressure before it, or a lower set"
			}
		case c.wantsMore(d) && !c.atLeast("lift-edge", d.Tag, "least lift", e.Lift, lowLift):
			limit := lowLift
			f.Limit, f.Hint = c.Put(limit), "a smaller flow coefficient, or a bypass that keeps more flow"
			f.Message = fmt.Sprintf("%s stands at %s of its lift, near its seat: it may hunt and wear", d.Tag, c.show(e.Lift, "ratio"))
		default:
			return
		}
		c.flag(f)
	})
}

// wantsMore reports whether a low lift matters: the flow is liquid, or a band or allow
// block states a least flow for the device.
func (c *Case) wantsMore(d *compiler.Device) bool {
	if isLiquid(c.Result.Nodes[d.In].Gas) {
		return true
	}
	least := func(b *lang.Block) bool {
		v := b.Attrs["flow"]
		return v != nil && !v.Null && v.Quantity != nil && v.Quantity.HasLow && v.Quantity.Low.SI > 0
	}
	if n := c.Blocks[d.Number].Nested("allow"); n != nil && least(n) {
		return true
	}
	for _, b := range c.Resolved.Blocks {
		if b.Kind != "band" || !applies(b, c) || !least(b) {
			continue
		}
		for _, at := range b.Get("at").Texts() {
			if at == d.Tag {
				return true
			}
		}
	}
	return false
}
