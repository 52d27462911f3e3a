package rule

import (
	"fmt"
	"math"
	"slices"

	"tapline/compiler"
	"tapline/lang"
	"tapline/lang/diag"
	"tapline/solver"
)

var reliefInletLoss = &Rule{
	Codes:     []string{"relief-inlet-loss"},
	Means:     "the line to a relief device takes more than 3 % of its gauge set: of a pop device or disc at what it passes fully open at its relieving pressure, of a proportional one at what it passes in a case. The device may close and open in quick turns",
	Basis:     "non-recoverable inlet loss of at most 3 % of set at the device's capacity (API 520 Part II; from memory). The line reaches to the next branch, vessel or regulator. A proportional device opens no further than it must (common practice)",
	perSystem: func(s *System) { s.reliefLosses(true) },
}

var reliefBackPressure = &Rule{
	Codes:     []string{"relief-back-pressure"},
	Means:     "while a conventional relief device (bonnet open to the discharge) passes, the pressure after it rises by more than 10 % of its gauge set: in a case by whatever is behind it, and of a pop device or disc at its capacity by the line to the next branch or vent",
	Basis:     "built-up back pressure of at most the allowable overpressure of 10 % for conventional devices (API 520 Part I; from memory)",
	perSystem: func(s *System) { s.reliefLosses(false) },
}

const (
	mostInletLoss = 0.03
	mostBuiltUp   = 0.10
)

func (s *System) reliefLosses(inlet bool) {
	c := s.base()
	if c == nil {
		return
	}
	c.each(func(d *compiler.Device, b *lang.Block) {
		gauge, at, tK, w, ok := c.relieving(d)
		if d.Kind != "relief" || d.Element < 0 || !ok {
			return
		}
		devices, end := s.reliefLine(d, inlet)
		n := &c.Result.Nodes[d.In]
		atCapacity := text(b, "action") != "proportional"
		loss := math.NaN()
		if inlet {
			if atCapacity {
				loss = c.lineLoss(devices, at, w, tK, n)
			}
			for _, r := range s.Results {
				loss = raised(loss, r, d, r.Nodes[end].PressurePa-r.Nodes[d.In].PressurePa)
			}
			c.reliefLoss("relief-inlet-loss", d, b, loss, mostInletLoss*gauge,
				"the line to %s takes %s, more than 3 %% of its set: %s", "a shorter or wider line to it, with fewer bends")
			return
		}
		if text(b, "bonnet") != "discharge" {
			return
		}
		if atCapacity {
			slices.Reverse(devices) // from the vent back to the device
			loss = c.lineLoss(devices, c.Result.Nodes[end].PressurePa, w, tK, n)
		}
		for i, r := range s.Results { // also what flows besides, behind the next branch
			if s.Cases[i].Site.AtmospherePa == c.Site.AtmospherePa {
				loss = raised(loss, r, d, r.Nodes[d.Out].PressurePa-c.Result.Nodes[d.Out].PressurePa)
			}
		}
		c.reliefLoss("relief-back-pressure", d, b, loss, mostBuiltUp*gauge,
			"the pressure after %s builds up by %s while it passes, more than 10 %% of its set: %s", `a wider discharge line, or bonnet = "balanced" where it is`)
	})
}

// raised is the greater of two losses, the second where the device passes.
func raised(loss float64, r *solver.Result, d *compiler.Device, by float64) float64 {
	if r.Status != solver.Solved || !(r.Elements[d.Element].FlowKgS > 0) || math.IsNaN(by) || by <= loss {
		return loss
	}
	return by
}

func (c *Case) reliefLoss(code string, d *compiler.Device, b *lang.Block, loss, most float64, words, hint string) {
	o := compiler.CheckOutcome{
		ID: fmt.Sprintf("rule/%s/%s/%s", code, c.Name, d.Tag), Name: code, Source: "rule", Case: c.Name, At: d.Tag,
		Quantity: "drop", Max: compiler.Known(most), Status: "unjudged",
	}
	if !math.IsNaN(loss) {
		o.Value, o.Margin, o.Status = compiler.Known(loss), compiler.Known(most-loss), "pass"
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
