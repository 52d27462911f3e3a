package rule

import (
	"fmt"

	"tapline/compiler"
	"tapline/lang"
	"tapline/lang/diag"
)

var holderSnaps = &Rule{
	Codes:   []string{"holder-snaps"},
	Means:   "the outlet pressure acts on this holder's lift more than the inlet it holds: as it opens it helps itself, and it snaps",
	Basis:   "the balance of forces on the moving parts: an outlet effect above 1, as with the inlet in the centre of the seat",
	perCase: judgeSnaps,
}

func judgeSnaps(c *Case) {
	c.each(func(d *compiler.Device, b *lang.Block) {
		effect, ok := c.Settings[d.Number]["outlet_effect"].(float64)
		if !ok || d.Kind != "holder" || effect <= 1 {
			return
		}
		at, hint := b.TagRange, "state an outlet effect below 100 %"
		if n := b.Nested("balance"); n != nil {
			at, hint = n.KindRange, `lead its inlet around the seat: flow_to = "annulus"`
		}
		limit := 1.0
		c.flag(diag.Diagnostic{
			Code: "holder-snaps", Level: diag.Caution, Range: at, At: d.Tag, Value: c.Put(effect), Limit: c.Put(limit), Unit: "1", Hint: hint,
			Message: fmt.Sprintf("the outlet pressure acts on %s %.3g times as strongly as the inlet it holds: it snaps open and shut", d.Tag, effect),
		})
	})
}

var springPulls = &Rule{
	Codes:   []string{"spring-pulls"},
	Means:   "the forces balance at this set only if the spring pulls: with one that pushes, the device cannot be set so",
	Basis:   "the balance of forces on the moving parts at the reference state",
	perCase: judgePulls,
}

func judgePulls(c *Case) {
	c.each(func(d *compiler.Device, b *lang.Block) {
		force, ok := c.Settings[d.Number]["preload_N"].(float64)
		if !ok || force >= 0 {
			return
		}
		limit := 0.0
		c.flag(diag.Diagnostic{
			Code: "spring-pulls", Level: diag.Caution, Range: b.Nested("balance").KindRange, At: d.Tag, Value: c.Put(force), Limit: c.Put(limit), Unit: "N",
			Hint:    "look at the set, the preload of the poppet and the side that the flow comes to",
			Message: fmt.Sprintf("the spring of %s has to pull with %.3g N to give its set", d.Tag, -force),
		})
	})
}
