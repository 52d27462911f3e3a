package rule

import (
	"fmt"
	"math"

	"tapline/compiler"
	"tapline/lang"
	"tapline/lang/diag"
	"tapline/solver/device"
)

var outsideRange = &Rule{
	Codes:   []string{"outside-range"},
	Means:   "a set lies outside what the device can be set to (alarm), or an instrument reads beyond its range or scale (caution)",
	Basis:   "the devices' own ranges and scales",
	perCase: judgeRanges,
}

func judgeRanges(c *Case) {
	c.each(func(d *compiler.Device, b *lang.Block) {
		switch d.Kind {
		case "reducer", "holder":
			if p, ok := c.Settings[d.Number]["set_Pa"].(float64); ok {
				c.within(d, b, "range", "pressure_set", p, "Pa", diag.Alarm)
			}
		case "flow_controller":
			if w, ok := c.Settings[d.Number]["set_kg_s"].(float64); ok {
				c.within(d, b, "range", "flow_set", w, "kg/s", diag.Alarm)
			}
		case "meter":
			if w := c.scaleReading(d); w != 0 { // a float at rest shows nothing
				c.within(d, b, "scale", "flow", w, "kg/s", diag.Caution)
			}
		case "gauge":
			if o := c.Outcome.Device(d.Tag); o != nil && o.Reads != nil {
				unit, what := "Pa", "pressure_reading"
				if text := b.Get("reads"); text != nil && text.Text == "temperature" {
					unit, what = "K", "temperature_reading"
				}
				c.within(d, b, "range", what, *o.Reads, unit, diag.Caution)
			}
		}
	})
}

// worded are the quantities judged here as they read in a sentence.
var worded = map[string]string{
	"pressure_set": "set", "flow_set": "set", "flow": "flow", "pressure_reading": "reading", "temperature_reading": "reading",
}

// scaleReading is what a meter shows, as the mass flow [kg/s] that a scale made
// for its gas would show it for; the true flow where the file does not say what
// the scale is made for. NaN where there is no answer.
func (c *Case) scaleReading(d *compiler.Device) float64 {
	if !c.solved() {
		return math.NaN()
	}
	o := c.Outcome.Device(d.Tag)
	if o != nil && o.Reads != nil && o.LiquidKgM3 > 0 {
		return *o.Reads * o.LiquidKgM3
	}
	if o != nil && o.Reads != nil && c.Site.Reference != nil {
		return *o.Reads / c.Site.Reference.MolarVolume() * c.molarMass(d)
	}
	return c.flowAt(spot{device: d})
}

// within holds a value of a device against its own range attribute.
func (c *Case) within(d *compiler.Device, b *lang.Block, attribute, what string, value float64, unit string, level diag.Level) {
	v := b.Attrs[attribute]
	if v == nil || v.Null || v.Quantity == nil || math.IsNaN(value) {
		return
	}
	l, ok := c.limitOf(v.Quantity, spot{device: d})
	if !ok {
		return
	}
	holds, end := l.holds(value)
	o := compiler.CheckOutcome{
		Name: "outside-range", Source: "rule", Case: c.Name, At: d.Tag, Quantity: what,
		Min: c.Known(l.low), Max: c.Known(l.high), Value: c.Known(value), Margin: c.Known(l.margin(value)), Status: "pass",
	}
	if !holds {
		o.Status = "fail"
		write := func(x float64) string {
			switch unit {
			case "kg/s":
				return c.showFlow(x, d)
			case "K":
				return c.show(x, "temperature")
			}
			return c.show(x, "pressure")
		}
		word := "above"
		if value < end {
			word = "below"
		}
		c.flag(diag.Diagnostic{
			Code: "outside-range", Level: level, Range: v.Range, At: d.Tag, Value: c.Put(value), Limit: c.Put(end), Unit: unit,
			Message: fmt.Sprintf("the %s of %s is %s, %s the %s of its %s", worded[what], d.Tag, write(value), word, write(end), attribute),
		})
	}
	c.checks = append(c.checks, o)
}

var smallValve = &Rule{
	Codes:   []string{"small-valve"},
	Means:   "the flow through this passage is nearly laminar, and the file says neither seat nor fd: whether its flow coefficient contains that effect cannot be known",
	Basis:   "valve Reynolds number below 1,000 with F_d = 1 (IEC 60534-2-1); catalogue coefficients below 0.01 may or may not contain the laminar end (common practice)",
	perCase: judgeSmall,
}

// leastDropShare is the share of the pressure that a passage must take for the
// note to matter.
const leastDropShare = 1e-3

// laminarBelow is the valve Reynolds number under which the note is given.
const laminarBelow = 1000

func judgeSmall(c *Case) {
	if !c.solved() {
		return
	}
	c.each(func(d *compiler.Device, b *lang.Block) {
		if d.Kind != "valve" || b.Has("seat") || b.Has("fd") {
			return
		}
		e, ok := c.element(d)
		if !ok || e.FlowKgS == 0 || e.Viscosity <= 0 {
			return
		}
		k, ok := c.Solver.Devices[d.Element].Passage.(device.Coefficient)
		if !ok {
			return
		}
		in, out := c.Result.Nodes[d.In].PressurePa, c.Result.Nodes[d.Out].PressurePa
		if math.Abs(in-out) < leastDropShare*max(in, out) {
			return // it hardly resists: what it passes is not decided here
		}
		re := k.ValveReynolds(math.Abs(e.FlowKgS), e.Viscosity)
		if re >= laminarBelow {
			return
		}
		limit := float64(laminarBelow)
		c.flag(diag.Diagnostic{
			Code: "small-valve", Level: diag.Note, Range: b.TagRange, At: d.Tag, Value: c.Put(re), Limit: c.Put(limit), Unit: "1",
			Message: fmt.Sprintf("the flow through %s is nearly laminar (valve Reynolds number %.3g); its flow is uncertain", d.Tag, re),
			Hint:    `state the bore of its seat: seat = "1.5 mm"`,
		})
	})
}

var notComputed = &Rule{
	Codes:     []string{"not-computed"},
	Means:     "the files state something of a device that this version does not compute with",
	Basis:     "a relieving reducer that does not state how much it vents",
	perSystem: judgeUncomputed,
}

func judgeUncomputed(s *System) {
	if len(s.Cases) == 0 {
		return
	}
	for i := range s.Program.Devices {
		d, b := &s.Program.Devices[i], s.Cases[0].Blocks[i]
		if v := b.Attrs["relieving"]; v != nil && v.Flag && !b.Has("relief_cv") {
			s.flag(diag.Diagnostic{
				Code: "not-computed", Level: diag.Note, Range: v.NameRange, At: d.Tag, Hint: "relief_cv = 0.02, the flow coefficient of its vent",
				Message: fmt.Sprintf("what %s vents is not computed: it does not say how much its vent passes", d.Tag),
			})
		}
	}
}
