package rule

import (
	"fmt"

	"tapline/compiler"
	"tapline/lang/diag"
	"tapline/solver/device"
)

var holderAgainstRelief = &Rule{
	Codes:     []string{"holder-against-relief"},
	Means:     "a holder that stands fully open holds as much as a relief device in the same section opens at (caution), or begins to open there only (alarm)",
	Basis:     "set, loading, accumulation and outlet effect of the holder in the operating and service cases",
	perSystem: judgeHolders,
}

func judgeHolders(s *System) {
	s.againstReliefs("holder", func(c *Case, d *compiler.Device, l *device.Lift) float64 { return c.heldAt(d, l, 1) }, (*Case).holderSet)
}

// heldAt is the inlet pressure at which a holder stands open by a lift.
func (c *Case) heldAt(d *compiler.Device, l *device.Lift, lift float64) float64 {
	if l.Up <= 0 {
		return 0
	}
	return inletAt(l, lift, c.highest(d.Out), c.domePa(d))
}

// holderSet holds what a holder holds against one relief device.
func (c *Case) holderSet(d, r *compiler.Device) {
	l := c.balance(d)
	onset, full := c.heldAt(d, l, 0), c.heldAt(d, l, 1)
	opens, ok := c.opensPa(r)
	if !ok || c.atMost("holder-against-relief", d.Tag, "held against "+r.Tag, full, opens) {
		return
	}
	level := diag.Caution
	if onset >= opens {
		level = diag.Alarm
	}
	c.System.flag(diag.Diagnostic{
		Code: "holder-against-relief", Level: level, Range: c.Blocks[d.Number].TagRange, At: d.Tag, Value: &full, Limit: &opens, Unit: "Pa",
		Message: fmt.Sprintf("%s begins to open at %s and is fully open at %s (case %q); %s in the same section opens at %s", d.Tag, c.show(onset, "pressure"), c.show(full, "pressure"), c.Name, r.Tag, c.show(opens, "pressure")),
		Hint:    "set the holder lower, or the relief device higher if the ratings allow",
		Related: []diag.Related{{Range: c.Blocks[r.Number].Get("set").Range, Message: r.Tag + " is set here"}},
	})
}
