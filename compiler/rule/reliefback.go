package rule

import (
	"math"
	"slices"

	"tapline/compiler"
	"tapline/lang"
)

var reliefBackPressure = &Rule{
	Codes:     []string{"relief-back-pressure"},
	Means:     "while a conventional relief valve (bonnet open to the discharge) passes, the pressure after it rises by more than 10 % of its gauge set: in a case by whatever is behind it, and, of a pop device or of one that no case makes pass, at its capacity by the line to the next branch or vent. A disc that has burst stays open and is not judged",
	Basis:     "built-up back pressure of at most the allowable overpressure of 10 % for conventional devices (API 520 Part I; from memory), by the flow that the inlet loss is judged by",
	perSystem: judgeBackPressures,
}

const mostBuiltUp = 0.10

func judgeBackPressures(s *System) {
	s.eachRelief(func(c *Case, d *compiler.Device, b *lang.Block, r relieving) {
		if text(b, "bonnet") != "discharge" || text(b, "action") == "disc" {
			return
		}
		devices, end := s.reliefLine(d, false)
		loss := math.NaN()
		if s.atCapacity(d, b) {
			slices.Reverse(devices) // from the vent back to the device
			loss = c.lineLoss(devices, c.Result.Nodes[end].PressurePa, r, d)
		}
		for i, res := range s.Results { // also what flows besides, behind the next branch
			if s.Cases[i].Site.AtmospherePa == c.Site.AtmospherePa {
				loss = s.raised(loss, i, d, res.Nodes[d.Out].PressurePa-c.Result.Nodes[d.Out].PressurePa)
			}
		}
		c.reliefLoss("relief-back-pressure", d, b, loss, mostBuiltUp*r.gaugePa,
			"the pressure after %s builds up by %s while it passes, more than 10 %% of its set: %s", `a wider discharge line, or bonnet = "balanced" where it is`)
	})
}
