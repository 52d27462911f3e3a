package rule

import (
	"fmt"

	"tapline/compiler"
	"tapline/lang"
	"tapline/lang/diag"
)

var reliefSimmer = &Rule{
	Codes:   []string{"relief-simmer"},
	Means:   "a relief device stands above 90 % of the gauge pressure it opens at in an operating case (95 % with a pilot)",
	Basis:   "common practice: above that a seat begins to weep, and a small upset opens the device",
	perCase: judgeSimmer,
}

// Of the gauge pressure a relief device opens at, what it may stand at in operation.
const (
	restShare      = 0.90
	restSharePilot = 0.95
)

func judgeSimmer(c *Case) {
	if !c.solved() || c.Kind != "operating" {
		return
	}
	c.each(func(d *compiler.Device, b *lang.Block) {
		if d.Kind != "relief" {
			return
		}
		l := c.balance(d)
		if l == nil || l.Up <= 0 {
			return
		}
		share := restShare
		if text(b, "bonnet") == "pilot" {
			share = restSharePilot
		}
		atmosphere := c.Site.AtmospherePa
		opens := inletAt(l, 0, c.highest(d.Out), 0)
		gauge := opens - atmosphere
		p := c.highest(d.In)
		if !(gauge > 0) || !(p > 0) {
			return
		}
		limit := atmosphere + share*gauge
		if c.atMost("relief-simmer", d.Tag, "inlet_pressure", p, limit) {
			return
		}
		c.flag(diag.Diagnostic{
			Code: "relief-simmer", Level: diag.Caution, Range: b.Get("set").Range, At: d.Tag, Value: c.Put(p), Limit: c.Put(limit), Unit: "Pa",
			Message: fmt.Sprintf("%s stands at %s, %.3g %% of the %s at which it opens; it may weep from %.2g %% on", d.Tag, c.show(p, "pressure"), 100*(p-atmosphere)/gauge, c.show(opens, "pressure"), 100*share),
			Hint:    "operate lower, set it higher if the ratings allow, or take a pilot-operated device",
		})
	})
}
