package rule

import (
	"fmt"
	"math"

	"tapline/compiler"
	"tapline/lang"
	"tapline/lang/diag"
	"tapline/solver"
)

// The inlet loss and the back pressure of relief devices. By what flow they are judged
// follows the practice of API 520 Part II and ISO 4126-9 (both from memory): what opens
// fully at once, a pop device or a disc, by its rated capacity, whatever is required
// of it; what opens only as far as it must by the flow required, which is here the most
// that it passes in a case in which it has not failed itself. Where no case makes it
// pass, nothing says that less than its capacity is required, and that is taken.

var reliefInletLoss = &Rule{
	Codes:     []string{"relief-inlet-loss"},
	Means:     "the line to a relief device takes more than 3 % of its gauge set: of a pop device or disc at what it passes fully open at its relieving pressure, of a proportional one at the most it passes in a case, and at its capacity where no case makes it pass. The device may close and open in quick turns",
	Basis:     "non-recoverable inlet loss of at most 3 % of set at the rated capacity; where the device modulates at the capacity required (API 520 Part II, ISO 4126-9; both from memory). The line reaches to the next branch, vessel or regulator",
	perSystem: judgeInletLosses,
}

const mostInletLoss = 0.03

func judgeInletLosses(s *System) {
	s.eachRelief(func(c *Case, d *compiler.Device, b *lang.Block, r relieving) {
		devices, end := s.reliefLine(d, true)
		loss := math.NaN()
		if s.atCapacity(d, b) {
			loss = c.lineLoss(devices, r.atPa, r, d)
		}
		for i, res := range s.Results {
			loss = s.raised(loss, i, d, res.Nodes[end].PressurePa-res.Nodes[d.In].PressurePa)
		}
		c.reliefLoss("relief-inlet-loss", d, b, loss, mostInletLoss*r.gaugePa,
			"the line to %s takes %s, more than 3 %% of its set: %s", "a shorter or wider line to it, with fewer bends")
	})
}

// reliefs goes through the relief devices of the base.
func (s *System) reliefs(judge func(c *Case, d *compiler.Device, b *lang.Block)) {
	c := s.base()
	if c == nil {
		return
	}
	c.each(func(d *compiler.Device, b *lang.Block) {
		if d.Kind == "relief" && d.Element >= 0 {
			judge(c, d, b)
		}
	})
}

// eachRelief goes through those whose capacity is known there.
func (s *System) eachRelief(judge func(c *Case, d *compiler.Device, b *lang.Block, r relieving)) {
	s.reliefs(func(c *Case, d *compiler.Device, b *lang.Block) {
		if r, ok := c.relieving(d); ok {
			judge(c, d, b, r)
		}
	})
}

// atCapacity reports whether a device is judged by what it passes fully open: one that
// opens in proportion only where no case makes it pass, which is known only where no
// case was left out.
func (s *System) atCapacity(d *compiler.Device, b *lang.Block) bool {
	return text(b, "action") != "proportional" || s.whole() && !s.lifts(d)
}

// lifts reports whether a relief device passes in any case.
func (s *System) lifts(d *compiler.Device) bool {
	for i := range s.Results {
		if s.relieves(i, d) {
			return true
		}
	}
	return false
}

// relieves reports whether a relief device passes in a case without having failed
// itself.
func (s *System) relieves(i int, d *compiler.Device) bool {
	r := s.Results[i]
	return r.Status == solver.Solved && r.Elements[d.Element].FlowKgS > 0 && text(s.Cases[i].Blocks[d.Number], "fault") == ""
}

// raised is the greater of two losses, the second where the device passes in that
// case.
func (s *System) raised(loss float64, i int, d *compiler.Device, by float64) float64 {
	if !s.relieves(i, d) || math.IsNaN(by) || by <= loss {
		return loss
	}
	return by
}

func (c *Case) reliefLoss(code string, d *compiler.Device, b *lang.Block, loss, most float64, words, hint string) {
	o := compiler.CheckOutcome{
		Name: code, Source: "rule", Case: c.Name, At: d.Tag,
		Quantity: "drop", Max: c.Known(most), Status: "unjudged",
	}
	if !math.IsNaN(loss) {
		o.Value, o.Margin, o.Status = c.Known(loss), c.Known(most-loss), "pass"
		if loss > most {
			o.Status = "fail"
			c.flag(diag.Diagnostic{
				Code: code, Level: diag.Caution, Range: b.TagRange, At: d.Tag, Value: &loss, Limit: &most, Unit: "Pa",
				Message: fmt.Sprintf(words, d.Tag, c.show(loss, "drop"), c.show(most, "drop")), Hint: hint,
			})
		}
	}
	c.checks = append(c.checks, o)
}
