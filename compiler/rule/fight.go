package rule

import (
	"fmt"
	"math"

	"tapline/compiler"
	"tapline/lang/diag"
)

var noRestriction = &Rule{
	Codes:     []string{"no-restriction"},
	Means:     "between a reducer and a holder behind it less pressure is lost than their two bands are wide: they fight over one pressure",
	Basis:     "common practice: one pressure, one regulator. The loss between them against the sum of droop and accumulation, at its least over the operating cases",
	perSystem: judgeFights,
}

func judgeFights(s *System) {
	for i := range s.Program.Devices {
		r := &s.Program.Devices[i]
		if r.Kind != "reducer" || r.Element < 0 {
			continue
		}
		behind := s.quiet(r.Out)
		for k := range s.Program.Devices {
			if h := &s.Program.Devices[k]; h.Kind == "holder" && h.Element >= 0 && behind[h.In] {
				s.fight(r, h)
			}
		}
	}
}

// fight judges one reducer and one holder behind it in the operating cases in which
// both have something to do.
func (s *System) fight(r, h *compiler.Device) {
	var at *Case
	least, droop, accumulation := math.Inf(1), 0.0, 0.0
	for c := range s.each() {
		if !c.solved() || c.Kind != "operating" {
			continue
		}
		lr, lh := c.balance(r), c.balance(h)
		if lr == nil || lh == nil || lr.Down >= 0 || lh.Up <= 0 || !c.reduces(r) || !c.holds(h) {
			continue
		}
		drop := c.Result.Nodes[r.Out].PressurePa - c.Result.Nodes[h.In].PressurePa
		if over := drop - 1/lh.Up + 1/lr.Down; over < least {
			least, droop, accumulation, at = over, -1/lr.Down, 1/lh.Up, c
		}
	}
	if at == nil {
		return
	}
	drop, sum := least+droop+accumulation, droop+accumulation
	if at.atLeast("no-restriction", r.Tag, "drop to "+h.Tag, drop, sum) {
		return
	}
	s.flag(diag.Diagnostic{
		Code: "no-restriction", Level: diag.Caution, Range: at.Blocks[r.Number].TagRange, At: r.Tag, Value: &drop, Limit: &sum, Unit: "Pa",
		Message: fmt.Sprintf("%s and %s work on one pressure: %s lies between them (case %q), and their bands, %s and %s, are wider", r.Tag, h.Tag, at.show(drop, "drop"), at.Name, at.show(droop, "drop"), at.show(accumulation, "drop")),
		Hint:    "put a needle valve or orifice between them and their sets further apart, or leave one of them out",
		Related: []diag.Related{{Range: at.Blocks[h.Number].TagRange, Message: h.Tag}},
	})
}

// reduces reports whether a reducer passes something and has more before it than it is
// to let through.
func (c *Case) reduces(d *compiler.Device) bool {
	l := c.balance(d)
	in := c.Result.Nodes[d.In].PressurePa
	return l != nil && l.Down < 0 && c.Result.Elements[d.Element].FlowKgS > leastReverse && in > outletAt(l, 0, in, c.domePa(d))
}

// holds reports whether a holder passes something, and what stands behind it is below
// what it is to hold: else that holds the pressure.
func (c *Case) holds(d *compiler.Device) bool {
	l := c.balance(d)
	out := c.Result.Nodes[d.Out].PressurePa
	return l != nil && l.Up > 0 && c.Result.Elements[d.Element].FlowKgS > leastReverse && out < inletAt(l, 0, out, c.domePa(d))
}
