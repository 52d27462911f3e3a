package rule

import (
	"fmt"

	"tapline/compiler"
	"tapline/lang/diag"
)

var holderAgainstRelief = &Rule{
	Codes:     []string{"holder-against-relief"},
	Means:     "a holder that stands fully open holds as much as a relief device in the same section opens at (caution), or begins to open there only (alarm)",
	Basis:     "set, loading, accumulation and outlet effect of the holder in the operating and service cases",
	perSystem: judgeHolders,
}

func judgeHolders(s *System) {
	for i := range s.Program.Devices {
		d := &s.Program.Devices[i]
		if d.Kind != "holder" || d.Element < 0 {
			continue
		}
		var at *Case
		onset, full := 0.0, 0.0
		for c := range s.each() {
			l := c.balance(d)
			if l == nil || l.Up <= 0 || !c.solved() || c.Kind == "upset" {
				continue
			}
			out, dome := c.highest(d.Out), c.domePa(d)
			if p := inletAt(l, 1, out, dome); p > full {
				onset, full, at = inletAt(l, 0, out, dome), p, c
			}
		}
		if at == nil {
			continue
		}
		section := s.quiet(d.In)
		for k := range s.Program.Devices {
			if r := &s.Program.Devices[k]; r.Kind == "relief" && r.Element >= 0 && section[r.In] {
				at.holderSet(d, r, onset, full)
			}
		}
	}
}

// holderSet holds what a holder holds against one relief device.
func (c *Case) holderSet(d, r *compiler.Device, onset, full float64) {
	opens, ok := c.opensPa(r)
	if !ok || c.atMost("holder-against-relief", d.Tag, "held against "+r.Tag, full, opens) {
		return
	}
	level := diag.Caution
	if onset >= opens {
		level = diag.Alarm
	}
	c.System.flag(diag.Diagnostic{
		Code: "holder-against-relief", Level: level, Range: c.Blocks[c.index(d)].TagRange, At: d.Tag, Value: &full, Limit: &opens, Unit: "Pa",
		Message: fmt.Sprintf("%s begins to open at %s and is fully open at %s (case %q); %s in the same section opens at %s", d.Tag, c.show(onset, "pressure"), c.show(full, "pressure"), c.Name, r.Tag, c.show(opens, "pressure")),
		Hint:    "set the holder lower, or the relief device higher if the ratings allow",
		Related: []diag.Related{{Range: c.Blocks[c.index(r)].Get("set").Range, Message: r.Tag + " is set here"}},
	})
}
