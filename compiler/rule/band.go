package rule

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"tapline/compiler"
	"tapline/lang"
	"tapline/lang/diag"
	"tapline/lang/quantity"
	"tapline/solver"
)

// Bands and allow blocks: the limits that the files state themselves.

var band = &Rule{
	Codes:   []string{"band-high", "band-low"},
	Means:   "a pressure, flow, drop, lift, temperature, lag, margin over the dew points or share of the gas lies above or below the band that the files state for it",
	Basis:   "the system's own band and allow blocks",
	perCase: judgeBands,
}

// a measure is one quantity that bands may limit.
type measure struct {
	name  string // attribute
	shown string // kind of unit
	unit  string // SI
	of    func(c *Case, at spot) float64
}

var measures = []measure{
	{"pressure", "pressure", "Pa", (*Case).pressureAt},
	{"inlet_pressure", "pressure", "Pa", (*Case).inletPressure},
	{"outlet_pressure", "pressure", "Pa", (*Case).outletPressure},
	{"flow", "gas_flow", "kg/s", (*Case).flowAt},
	{"drop", "drop", "Pa", (*Case).dropAt},
	{"lift", "ratio", "1", (*Case).liftAt},
	{"temperature", "temperature", "K", (*Case).temperatureAt},
	{"dew_margin", "kelvin", "K", (*Case).dewMarginAt},
}

// a spot is what a band is about: a node, or a device, or one end of one.
type spot struct {
	text   string // as reported
	node   int    // -1 for a device
	device *compiler.Device
	port   string
	// valve is the multiway valve whose port this is; device is then the way there that
	// passes most.
	valve *compiler.Device
}

func (c *Case) spot(text string) (spot, bool) {
	name := strings.TrimSuffix(strings.TrimPrefix(text, "("), ")")
	s := spot{text: name, node: -1}
	if d, ok := c.Program.Device(name); ok {
		s.device = d
		if d.Element < 0 {
			s.node = d.In
		}
		return s, d.In >= 0
	}
	n, ok := c.Program.NodeAt(name)
	if !ok {
		return s, false
	}
	s.node = n
	if tag, port, isPort := strings.Cut(name, "."); isPort {
		s.device, _ = c.Program.Device(tag)
		s.port = port
		if s.device.Kind == "multiway" {
			valve := s.device
			if s.device = c.Program.PassageAt(c.Result, valve, port); s.device != nil {
				s.valve = valve
			}
		}
	}
	return s, true
}

func judgeBands(c *Case) {
	for _, b := range c.Resolved.Blocks {
		if b.Kind != "band" || !applies(b, c) {
			continue
		}
		level := diag.Alarm
		if v := b.Get("level"); v != nil && v.Text == "caution" {
			level = diag.Caution
		}
		for _, at := range b.Get("at").Texts() {
			if s, ok := c.spot(at); ok {
				c.limits(b, b.Tag, "band", s, level)
				c.lag(b, s, level)
				c.shares(b, s, level)
			}
		}
	}
	c.each(func(d *compiler.Device, b *lang.Block) {
		if n := b.Nested("allow"); n != nil && c.Kind == "operating" {
			s, _ := c.spot(d.Tag)
			c.limits(n, d.Tag, "allow", s, diag.Alarm)
		}
	})
}

// applies reports whether a band holds in a case.
func applies(b *lang.Block, c *Case) bool {
	among := func(names []string) bool {
		return slices.Contains(names, c.Name) || c.Spread != "" && slices.Contains(names, c.Spread)
	}
	if v := b.Get("except"); v != nil && among(v.Texts()) {
		return false
	}
	if b.Has("cases") {
		return among(b.Get("cases").Texts())
	}
	return slices.Contains(b.Get("kinds").Texts(), c.Kind)
}

// limits holds everything that a band or allow block states against its spot.
func (c *Case) limits(b *lang.Block, name, source string, s spot, level diag.Level) {
	for _, m := range measures {
		v := b.Attrs[m.name]
		if v == nil || v.Null || v.Quantity == nil {
			continue
		}
		value := math.NaN()
		if c.solved() {
			value = m.of(c, s)
		}
		l, ok := c.limitOf(v.Quantity, s)
		if c.countsGas(v, s) {
			l, ok = limit{low: math.NaN(), high: math.NaN()}, false
		}
		if m.name == "dew_margin" && c.solved() && s.node >= 0 && isLiquid(c.Result.Nodes[s.node].Gas) {
			c.flag(diag.Diagnostic{
				Code: "not-computed", Level: diag.Note, Range: v.Range, At: s.text,
				Message: fmt.Sprintf("the dew_margin at %s is not judged: this is a liquid and has no dew point; state a pressure above the one it boils at", s.place()),
			})
		}
		o := compiler.CheckOutcome{
			Name: name, Source: source, Case: c.Name, At: s.text, Quantity: m.name,
			Min: c.Known(l.low), Max: c.Known(l.high), Status: "unjudged",
		}
		if ok && !math.IsNaN(value) {
			value = c.worst(m, s, value, l)
			o.Value, o.Margin, o.Status = c.Known(value), c.Known(l.margin(value)), "pass"
			if holds, end := l.holds(value); !holds {
				o.Status = "fail"
				c.outside(v, m, s, value, end, level)
			}
		}
		c.checks = append(c.checks, o)
	}
}

// worst gives the end of an interval that is nearer to a limit or further beyond
// it: friction or a cycle may have the place anywhere between.
func (c *Case) worst(m measure, s spot, value float64, l limit) float64 {
	low, high := math.NaN(), math.NaN()
	at := -1
	switch m.name {
	case "pressure":
		at = s.node
	case "inlet_pressure":
		at = s.device.In
	case "outlet_pressure":
		at = s.device.Out
	case "flow":
		if s.device != nil && s.device.Element >= 0 && s.valve == nil {
			e := c.Result.Elements[s.device.Element]
			low, high = e.LowKgS, e.HighKgS
		}
	}
	if at >= 0 && c.Result.Nodes[at].State != solver.Trapped {
		low, high = c.Result.Nodes[at].LowPa, c.Result.Nodes[at].HighPa
	}
	for _, x := range []float64{low, high} {
		if !math.IsNaN(x) && l.margin(x) < l.margin(value) {
			value = x
		}
	}
	return value
}

func (c *Case) outside(v *lang.Value, m measure, s spot, value, end float64, level diag.Level) {
	code, word := "band-high", "above"
	if value < end || value == end && v.Quantity.LowOpen && !v.Quantity.HasHigh {
		code, word = "band-low", "below"
	}
	write := func(x float64) string { return c.show(x, m.shown) }
	if m.name == "flow" {
		write = func(x float64) string { return c.showFlow(x, s.device) }
	}
	c.flag(diag.Diagnostic{
		Code: code, Level: level, Range: v.Range, At: s.text, Value: c.Put(value), Limit: c.Put(end), Unit: m.unit,
		Message: fmt.Sprintf("the %s at %s is %s, %s %s", strings.ReplaceAll(m.name, "_", " "), s.place(), write(value), word, write(end)),
	})
}

// place writes a spot as a band would name it.
func (s spot) place() string {
	if s.node >= 0 && s.port == "" && s.device == nil {
		return "(" + s.text + ")"
	}
	return s.text
}

// airKgMol is the molar mass of air [kg/mol].
const airKgMol = 0.0289652

// limitOf gives the ends of a stated limit in SI. ok is false where a flow
// cannot be converted.
func (c *Case) limitOf(q *quantity.Value, s spot) (l limit, ok bool) {
	l = limit{math.NaN(), math.NaN(), q.LowOpen, q.HighOpen}
	ok = true
	end := func(x quantity.Quantity) float64 {
		if x.Basis == quantity.Plain || x.Basis == quantity.Gauge {
			return x.PressurePa(c.Site)
		}
		rho, m := math.NaN(), 0.0
		if s.device != nil {
			rho, m = c.Result.Nodes[s.device.In].DensityKgM3, c.molarMass(s.device)
			if liquid := c.LiquidKgM3(c.Result, s.device); liquid > 0 {
				rho = liquid // the one it is shown by
			}
		}
		if m == 0 {
			m = airKgMol // no gas reaches it: nothing flows, whatever it would weigh
		}
		w, err := x.MassFlowKgS(c.Site, m, rho)
		ok = ok && err == nil && !math.IsNaN(w)
		return w
	}
	if q.HasLow {
		l.low = end(q.Low)
	}
	if q.HasHigh {
		l.high = end(q.High)
	}
	return l, ok
}

// countsGas reports, and says, that a limit is a volume of gas at a reference state
// where a liquid flows.
func (c *Case) countsGas(v *lang.Value, s spot) bool {
	q := v.Quantity
	of := q.Low
	if !q.HasLow {
		of = q.High
	}
	if of.Basis != quantity.SiteReference && of.Basis != quantity.OwnReference || s.device == nil || !(c.LiquidKgM3(c.Result, s.device) > 0) {
		return false
	}
	c.flag(diag.Diagnostic{
		Code: "not-computed", Level: diag.Note, Range: v.Range, At: s.text,
		Message: fmt.Sprintf("the flow at %s is not judged: %s counts gas, and this is a liquid; write a volume (\"2 L/h\") or a mass (\"3 kg/h\")", s.place(), of.Unit),
	})
	return true
}

func (c *Case) pressureAt(s spot) float64 {
	if s.node < 0 {
		return math.NaN()
	}
	return c.Result.Nodes[s.node].PressurePa
}

func (c *Case) inletPressure(s spot) float64  { return c.Result.Nodes[s.device.In].PressurePa }
func (c *Case) outletPressure(s spot) float64 { return c.Result.Nodes[s.device.Out].PressurePa }

func (c *Case) flowAt(s spot) float64 {
	switch {
	case s.valve != nil:
		return c.Program.PortFlow(c.Result, s.valve, s.port)
	case s.device == nil:
		return math.NaN()
	}
	if e, ok := c.element(s.device); ok {
		return e.FlowKgS
	}
	if o := c.Outcome.Device(s.device.Tag); o != nil && o.MassFlowKgS != nil {
		return *o.MassFlowKgS
	}
	return math.NaN()
}

func (c *Case) dropAt(s spot) float64 { return c.inletPressure(s) - c.outletPressure(s) }

func (c *Case) liftAt(s spot) float64 {
	if e, ok := c.element(s.device); ok {
		return e.Lift
	}
	return math.NaN()
}

// temperatureAt is that of a node; at the outlet of a device, and for a device
// itself, that of what leaves it.
func (c *Case) temperatureAt(s spot) float64 {
	if s.device != nil && s.valve == nil && (s.port == "out" || s.node < 0) {
		if e, ok := c.element(s.device); ok && e.FlowKgS > 0 {
			return e.OutletK
		}
		return c.atRestK(s.device.Out)
	}
	return c.atRestK(s.node)
}

func (c *Case) atRestK(node int) float64 {
	if c.Result.Nodes[node].State == solver.Trapped {
		return math.NaN()
	}
	return c.Result.Nodes[node].TemperatureK
}
