package draw

import (
	"cmp"
	"math"
	"slices"
	"strconv"
	"strings"

	"tapline/compiler"
	"tapline/lang/diag"
	"tapline/lang/quantity"
)

// units are what the system wants its results shown in.
type units struct {
	pressure, flow, liquidFlow string
	site                       quantity.Site
}

// unitsOf reads shown_in; what it leaves out is barg and, with a reference
// state, slpm.
func unitsOf(s *compiler.SystemOutcome, c *compiler.CaseOutcome) units {
	u := units{pressure: cmp.Or(s.ShownIn["pressure"], "barg"), flow: s.ShownIn["gas_flow"], liquidFlow: cmp.Or(s.ShownIn["liquid_flow"], "L/h"), site: quantity.Site{AtmospherePa: c.AtmospherePa}}
	if r := s.ReferenceState; r != nil {
		u.site.Reference = &quantity.Reference{TemperatureK: r.TemperatureK, PressurePa: r.PressurePa}
		u.flow = cmp.Or(u.flow, "slpm")
	}
	u.flow = cmp.Or(u.flow, "g/h")
	return u
}

// show writes an SI value in a unit, or in the fallback where the unit needs
// what is not known.
func (u units) show(si float64, unit, fallback string, s quantity.Stream) string {
	v, err := quantity.Convert(si, unit, u.site, s)
	if err != nil {
		if v, err = quantity.Convert(si, fallback, u.site, s); err != nil {
			return "-"
		}
		unit = fallback
	}
	return number(v) + " " + unit
}

// flowOf writes a mass flow through a device.
func (u units) flowOf(w float64, v *compiler.DeviceOutcome) string {
	if v.LiquidKgM3 > 0 {
		return u.show(w, u.liquidFlow, "g/h", quantity.Stream{DensityKgM3: v.LiquidKgM3})
	}
	return u.show(w, u.flow, "g/h", quantity.Stream{MolarMass: v.MolarMass})
}

func (u units) pressureOf(pa float64) string {
	return u.show(pa, u.pressure, "barg", quantity.Stream{})
}

// difference writes a pressure difference, which is neither gauge nor absolute.
func (u units) difference(pa float64) string {
	return u.show(pa, strings.TrimRight(u.pressure, "ga"), "bar", quantity.Stream{})
}

// number writes four significant digits without trailing zeros.
func number(v float64) string {
	if v == 0 || math.IsNaN(v) || math.IsInf(v, 0) {
		return strconv.FormatFloat(v, 'f', -1, 64)
	}
	if a := math.Abs(v); a < 1e-6 || a >= 1e7 {
		return strconv.FormatFloat(v, 'g', 4, 64)
	}
	places := min(max(0, 3-int(math.Floor(math.Log10(math.Abs(v))))), 6)
	s := strconv.FormatFloat(v, 'f', places, 64)
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	if s == "-0" {
		s = "0"
	}
	return s
}

// describe gives a cell its text.
func (d *Diagram) describe(c *cell, v *compiler.DeviceOutcome, nodeCell map[string]int) {
	if c.kind == "node" || v == nil {
		if len(c.gauges) != 1 || c.gauges[0] != c.tag {
			c.above = append(c.above, c.tag)
		}
		d.pressureText(c, c.tag)
		return
	}
	if c.valve != nil {
		c.above = append(c.above, waysOf(c.valve), strings.TrimPrefix(c.tag, c.valve.Tag+"."))
	} else {
		c.above = append(c.above, c.tag)
		if s := d.setting(v); s != "" {
			c.above = append(c.above, s)
		}
	}
	var state []string
	if v.State != nil && *v.State != "open" {
		state = append(state, *v.State)
	}
	if x, ok := v.Settings["opening"].(float64); ok && v.Kind == "valve" {
		c.throttled = x > 0 && x < 1
	}
	c.stopped = v.State != nil && *v.State == "shut"
	if v.Choked != nil && *v.Choked {
		state = append(state, "choked")
	}
	fault := v.Fault
	if c.valve != nil {
		fault = c.valve.Fault
	}
	if fault != nil {
		state = append(state, "fault: "+*fault)
	}
	if len(state) > 0 {
		c.below = append(c.below, strings.Join(state, ", "))
	}
	if v.MassFlowKgS != nil {
		c.direction, c.below = d.flowText(c, v)
	}
	if v.Reads != nil && v.Kind == "meter" {
		c.below = append(c.below, "reads "+d.reading(v))
	}
	// A node with a cell of its own says its pressure itself.
	for _, p := range v.Ports {
		if _, own := nodeCell[p.Node]; own || p.PressurePa == nil || p.Name != "out" || v.Kind == "source" {
			continue
		}
		c.below = append(c.below, "out "+d.units.pressureOf(*p.PressurePa))
	}
	if n, ok := potOf(v); ok {
		d.pressureText(c, n)
	}
}

// waysOf writes the tag of a multiway valve and its position.
func waysOf(v *compiler.DeviceOutcome) string {
	if position, ok := v.Settings["position"].(string); ok {
		return v.Tag + " at " + position
	}
	return v.Tag
}

// reading writes what a meter shows: a volume at the reference state [m3/s], or a
// mass [kg/s] where the system has none.
func (d *Diagram) reading(v *compiler.DeviceOutcome) string {
	x, gas := *v.Reads, quantity.Stream{MolarMass: v.MolarMass}
	if v.LiquidKgM3 > 0 {
		return d.units.flowOf(x*v.LiquidKgM3, v)
	}
	if r := d.units.site.Reference; r != nil {
		if gas.MolarMass <= 0 {
			return number(x*3600) + " m3/h"
		}
		x *= gas.MolarMass / r.MolarVolume()
	}
	return d.units.show(x, d.units.flow, "g/h", gas)
}

// potOf gives the node that a vessel, or equipment with ports of its own, is.
func potOf(v *compiler.DeviceOutcome) (node string, ok bool) {
	if v.Kind != "vessel" && v.Kind != "equipment" || len(v.Ports) == 0 {
		return "", false
	}
	elsewhere := func(p compiler.PortOutcome) bool { return p.Node != v.Ports[0].Node }
	return v.Ports[0].Node, !slices.ContainsFunc(v.Ports, elsewhere)
}

func (d *Diagram) flowText(c *cell, v *compiler.DeviceOutcome) (direction int, below []string) {
	w := *v.MassFlowKgS
	if w == 0 {
		return 0, append(c.below, "no flow")
	}
	direction = 1
	if w < 0 != c.mirrored {
		direction = -1
	}
	return direction, append(c.below, d.units.flowOf(math.Abs(w), v))
}

// pressureText adds the pressure of a node, and its state where nothing flows.
func (d *Diagram) pressureText(c *cell, name string) {
	for i := range d.Case.Nodes {
		n := &d.Case.Nodes[i]
		if n.Name != name {
			continue
		}
		switch {
		case n.PressurePa != nil:
			c.below = append(c.below, d.units.pressureOf(*n.PressurePa))
		case n.PressureLowPa != nil && n.PressureHighPa != nil:
			low, _, _ := strings.Cut(d.units.pressureOf(*n.PressureLowPa), " ")
			c.below = append(c.below, low+" .. "+d.units.pressureOf(*n.PressureHighPa))
		}
		if n.State == "trapped" || n.State == "dead end" {
			c.below = append(c.below, n.State)
		}
	}
}

// setting gives the one setting that a reader looks for first.
func (d *Diagram) setting(v *compiler.DeviceOutcome) string {
	get := func(name string) (float64, bool) {
		switch x := v.Settings[name].(type) {
		case float64:
			return x, true
		case int:
			return float64(x), true
		}
		return 0, false
	}
	if x, ok := get("pressure_Pa"); ok {
		return d.units.pressureOf(x)
	}
	if x, ok := get("flow_kg_s"); ok {
		return "gives " + d.units.flowOf(x, v)
	}
	if x, ok := get("set_Pa"); ok {
		return "set " + d.units.pressureOf(x)
	}
	if x, ok := get("set_kg_s"); ok {
		return "set " + d.units.flowOf(x, v)
	}
	if x, ok := get("ratio"); ok {
		s := "dome x " + number(x)
		if bias, _ := get("bias_Pa"); bias != 0 {
			sign := " + "
			if bias < 0 {
				sign = " - "
			}
			s += sign + d.units.difference(math.Abs(bias))
		}
		return s
	}
	if x, ok := get("cracks_at_Pa"); ok {
		return "cracks " + d.units.difference(x)
	}
	if x, ok := get("length_m"); ok {
		bore, _ := get("bore_m")
		return number(x) + " m, bore " + number(bore*1000) + " mm"
	}
	if x, ok := get("bore_m"); ok && v.Kind != "valve" {
		return "bore " + number(x*1000) + " mm"
	}
	if x, ok := get("fouled"); ok && x > 0 {
		return "fouled " + number(x*100) + " %"
	}
	if x, ok := get("opening"); ok && x < 1 {
		return "opened " + number(x*100) + " %"
	}
	if x, ok := get("cv"); ok && v.Kind != "meter" {
		return "Cv " + number(x)
	}
	return ""
}

// word is how a flag reads on the page.
func word(f diag.Diagnostic) string { return strings.ToUpper(f.Level.String()) + " " + f.Code }
