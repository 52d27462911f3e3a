package rule

import (
	"fmt"

	"tapline/compiler"
	"tapline/lang/diag"
	"tapline/solver/device"
)

var lockupAgainstRelief = &Rule{
	Codes:     []string{"lockup-against-relief"},
	Means:     "a reducer that locks up at the lowest inlet of the cases comes to 90 % of what a relief device behind it opens at, or to its reseat pressure (caution), or opens it (alarm)",
	Basis:     "set, supply effect and lock-up of the reducer: the outlet rises as the inlet falls. The 90 % are common practice (95 % with a pilot); a relief device that has opened closes at its reseat pressure only",
	perSystem: judgeLockup,
}

func judgeLockup(s *System) {
	s.againstReliefs("reducer", (*Case).lockedUp, (*Case).lockup)
}

// lockedUp is where a reducer locks up, mostly the highest at the lowest inlet.
func (c *Case) lockedUp(d *compiler.Device, l *device.Lift) float64 {
	if l.Down >= 0 {
		return 0
	}
	return lockedUpPa(l, c.highest(d.In), c.domePa(d))
}

// lockup holds the lock-up of a reducer against one relief device.
func (c *Case) lockup(d, r *compiler.Device) {
	lockedUp, inlet := c.lockedUp(d, c.balance(d)), c.highest(d.In)
	opens, ok := c.opensPa(r)
	b := c.Blocks[r.Number]
	if !ok || !(opens > c.Site.AtmospherePa) {
		return
	}
	share := restShare
	if text(b, "bonnet") == "pilot" {
		share = restSharePilot
	}
	limit := c.Site.AtmospherePa + share*(opens-c.Site.AtmospherePa)
	what := fmt.Sprintf("%.2g %% of the %s at which %s opens", 100*share, c.show(opens, "pressure"), r.Tag)
	if reseat := opens - c.blowdownPa(r); reseat < limit {
		limit = reseat
		what = fmt.Sprintf("the reseat pressure of %s, which opens at %s", r.Tag, c.show(opens, "pressure"))
	}
	// A check may stand exactly at its limit only by rounding.
	if c.atMost("lockup-against-relief", d.Tag, "lock_up against "+r.Tag, lockedUp, limit) {
		return
	}
	level, reaches := diag.Caution, "comes to more than "+c.show(limit, "pressure")+", "+what
	if lockedUp >= opens {
		level, reaches = diag.Alarm, fmt.Sprintf("opens %s at %s", r.Tag, c.show(opens, "pressure"))
	}
	c.System.flag(diag.Diagnostic{
		Code: "lockup-against-relief", Level: level, Range: c.Blocks[d.Number].TagRange, At: d.Tag, Value: &lockedUp, Limit: &limit, Unit: "Pa",
		Message: fmt.Sprintf("%s locks up at %s with %s before it (case %q) and %s", d.Tag, c.show(lockedUp, "pressure"), c.show(inlet, "pressure"), c.Name, reaches),
		Hint:    "a lower set, a reducer with less supply effect (or a second stage), or a higher relief if the ratings allow",
		Related: []diag.Related{{Range: b.Get("set").Range, Message: r.Tag + " is set here"}},
	})
}

// blowdownPa is how far below its opening a relief device closes; 0 where its block
// does not say, or where it never does.
func (c *Case) blowdownPa(r *compiler.Device) float64 {
	b := c.Blocks[r.Number]
	v := b.Get("blowdown")
	if v == nil || v.Null || v.Quantity == nil || text(b, "action") == "disc" {
		return 0
	}
	return v.Quantity.Nominal.SI * (b.Get("set").Quantity.Nominal.PressurePa(c.Site) - c.Site.AtmospherePa)
}
