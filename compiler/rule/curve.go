package rule

import (
	"fmt"

	"tapline/compiler"
	"tapline/lang"
	"tapline/lang/diag"
	"tapline/solver"
)

var beyondCurve = &Rule{
	Codes: []string{"beyond-curve"},
	Means: "the state of a regulator lies beyond what its curves were measured for",
	Basis: "the measured curves of the device, which are not extrapolated",

	perCase: judgeCurves,
}

// beyondTol is the relative distance that counts as nothing.
const beyondTol = 1e-6

func judgeCurves(c *Case) {
	if !c.solved() {
		return
	}
	c.each(func(d *compiler.Device, b *lang.Block) {
		if d.Element < 0 {
			return
		}
		s := &c.Solver.Devices[d.Element]
		if s.Trim == nil || s.Lift == nil || s.Passage == nil || c.Result.Elements[d.Element].FlowKgS == 0 {
			return
		}
		in, out := c.Result.Nodes[d.In].PressurePa, c.Result.Nodes[d.Out].PressurePa
		c.beyondFamily(d, b, s, in, out)
		c.beyondEnd(d, b, s, in, out)
	})
}

// beyondFamily judges the pressure of the side that a family's curves differ by.
func (c *Case) beyondFamily(d *compiler.Device, b *lang.Block, s *solver.Device, in, out float64) {
	f, p, side := s.Trim.FamilyPa, in, "inlet"
	if s.Trim.ByOutlet {
		p, side = out, "outlet"
	}
	if len(f) < 2 {
		return
	}
	limit, word, which := f[0], "below", "lowest"
	switch last := f[len(f)-1]; {
	case p < f[0]*(1-beyondTol):
	case p > last*(1+beyondTol):
		limit, word, which = last, "above", "highest"
	default:
		return
	}
	c.flag(diag.Diagnostic{
		Code: "beyond-curve", Level: diag.Caution, Range: b.TagRange, At: d.Tag, Value: c.Put(p), Limit: c.Put(limit), Unit: "Pa",
		Message: fmt.Sprintf("the %s of %s is at %s, %s the %s of its %s curve; that curve is taken, and nothing was measured there",
			side, d.Tag, c.show(p, "pressure"), word, c.show(limit, "pressure"), which),
		Hint: "measure a curve there",
	})
}

// beyondEnd judges the held pressure against the last point of the curves.
func (c *Case) beyondEnd(d *compiler.Device, b *lang.Block, s *solver.Device, in, out float64) {
	z, ok := c.Program.LiftAt(c.Case, c.Result, d)
	end := s.Trim.EndAt(in, out)
	if !ok || z <= end*(1+beyondTol) {
		return
	}
	held, way, word, slope := out, s.Lift.Down, "below", -1.0
	if s.Trim.ByOutlet {
		held, way, word, slope = in, s.Lift.Up, "above", 1.0
	}
	limit := held - slope*(z-end)/max(way, -way)
	c.flag(diag.Diagnostic{
		Code: "beyond-curve", Level: diag.Caution, Range: b.TagRange, At: d.Tag, Value: c.Put(held), Limit: c.Put(limit), Unit: "Pa",
		Message: fmt.Sprintf("%s holds %s and passes %s, %s the %s at which its measured curve ends; the opening of its last point is kept, and nothing was measured there",
			d.Tag, c.show(held, "pressure"), c.showFlow(c.flowAt(spot{device: d}), d), word, c.show(limit, "pressure")),
		Hint: "measure further points",
	})
}
