package report

import (
	"cmp"
	"math"
	"strings"

	"tapline/compiler"
	"tapline/lang/quantity"
)

// A scale turns an SI value into what people are shown.
type scale struct {
	unit string
	show func(si float64) float64
}

func (s scale) all(vs ...*float64) []float64 {
	var out []float64
	for _, v := range vs {
		if v != nil {
			out = append(out, s.show(*v))
		}
	}
	return out
}

func (s scale) pointer(v *float64) *float64 {
	if v == nil {
		return nil
	}
	x := s.show(*v)
	return &x
}

// units are what a system wants its results shown in, by name.
type units struct {
	pressure, difference, temperature, gasFlow, liquidFlow string
	reference                                              *quantity.Reference
}

// unitsOf reads shown_in. What it leaves out is barg, degC, slpm (g/h without a
// reference state) and L/h.
func unitsOf(s *compiler.SystemOutcome) units {
	u := units{
		pressure:    cmp.Or(s.ShownIn["pressure"], "barg"),
		temperature: cmp.Or(s.ShownIn["temperature"], "degC"),
		gasFlow:     s.ShownIn["gas_flow"],
		liquidFlow:  cmp.Or(s.ShownIn["liquid_flow"], "L/h"),
	}
	if r := s.ReferenceState; r != nil {
		u.reference = &quantity.Reference{TemperatureK: r.TemperatureK, PressurePa: r.PressurePa}
		u.gasFlow = cmp.Or(u.gasFlow, "slpm")
	}
	u.gasFlow = cmp.Or(u.gasFlow, massFlow)
	// A difference is neither gauge nor absolute: the bare unit.
	u.difference = u.pressure
	if n := len(u.pressure); n > 0 && (u.pressure[n-1] == 'g' || u.pressure[n-1] == 'a') {
		u.difference = u.pressure[:n-1]
	}
	return u
}

// massFlow is what a flow is shown in where nothing better can be.
const massFlow = "g/h"

// in gives the scale of a unit, or of the fallback where the unit needs what is
// not known of the site or the stream.
func (u units) in(unit, fallback string, atmospherePa float64, s quantity.Stream) scale {
	site := quantity.Site{AtmospherePa: atmospherePa, Reference: u.reference}
	if _, err := quantity.Convert(1, unit, site, s); err != nil {
		unit = fallback
	}
	return scale{unit, func(si float64) float64 {
		v, err := quantity.Convert(si, unit, site, s)
		if err != nil {
			return math.NaN() // printed as a dash
		}
		return v
	}}
}

// pressureIn gives the scale of pressures in a case: gauge ones are above the
// atmosphere of that case.
func (u units) pressureIn(atmospherePa float64) scale {
	return u.in(u.pressure, "barg", atmospherePa, quantity.Stream{})
}

func (u units) temperatures() scale {
	return u.in(u.temperature, "degC", 0, quantity.Stream{})
}

// A stream is what turns a mass flow into the flow people read.
type stream struct {
	quantity.Stream
	liquid bool
}

// known tells whether volumes at a reference state can be given.
func (s stream) known() bool { return s.MolarMass > 0 || s.liquid }

// flow gives the scale of mass flows [kg/s] of a stream.
func (u units) flow(s stream) scale {
	if s.liquid {
		return u.in(u.liquidFlow, massFlow, 0, s.Stream)
	}
	return u.in(u.gasFlow, massFlow, 0, s.Stream)
}

// flowsOf names the units of flows that a system needs: of gas, unless it holds
// liquid alone, and of liquid, where it holds some.
func (u units) flowsOf(s *compiler.SystemOutcome) (names []string) {
	gas, liquid := false, false
	for i := range s.Cases {
		for j := range s.Cases[i].Devices {
			d := &s.Cases[i].Devices[j]
			liquid = liquid || d.LiquidKgM3 > 0
			gas = gas || d.LiquidKgM3 == 0 && d.MassFlowKgS != nil && *d.MassFlowKgS != 0
		}
	}
	if gas || !liquid {
		names = append(names, u.gasFlow)
	}
	if liquid {
		names = append(names, u.liquidFlow)
	}
	return names
}

// plain is the scale of what is shown as it is.
func plain(unit string) scale {
	return scale{unit, func(si float64) float64 { return si }}
}

func percent() scale {
	return scale{"%", func(si float64) float64 { return si * 100 }}
}

// of gives the scale of a judged quantity by its name in the language.
func (u units) of(name string, atmospherePa float64, s stream) scale {
	first, _, _ := strings.Cut(name, " ")
	switch first {
	case "pressure_set", "pressure", "inlet_pressure", "outlet_pressure", "rated", "rated_inlet", "rated_outlet", "pressure_reading":
		return u.pressureIn(atmospherePa)
	case "drop":
		return u.in(u.difference, "bar", 0, quantity.Stream{})
	case "temperature", "temperature_reading":
		return u.temperatures()
	case "dew_margin":
		return plain("K")
	case "flow", "flow_set":
		return u.flow(s)
	case "lag":
		return plain("s")
	case "lift", "share", "opening":
		return percent()
	}
	return plain("")
}

// streamThrough gives what is known of the flow through a device in a case. Where
// the outcome does not hold the molar mass, it follows from the two ways in which
// one flow is given.
func (u units) streamThrough(c *compiler.CaseOutcome, d *compiler.DeviceOutcome) stream {
	var s stream
	s.MolarMass = d.MolarMass
	if d.LiquidKgM3 > 0 {
		s.liquid, s.DensityKgM3 = true, d.LiquidKgM3
		return s
	}
	if s.MolarMass == 0 && u.reference != nil && d.MassFlowKgS != nil && d.ReferenceFlowM3S != nil && *d.ReferenceFlowM3S != 0 {
		s.MolarMass = *d.MassFlowKgS / *d.ReferenceFlowM3S * u.reference.MolarVolume()
	}
	if len(d.Ports) == 0 {
		return s
	}
	for i := range c.Nodes {
		if n := &c.Nodes[i]; n.Name == d.Ports[0].Node {
			if n.DensityKgM3 != nil {
				s.DensityKgM3 = *n.DensityKgM3
				s.liquid = n.Phase != nil && *n.Phase == "liquid"
			}
			break
		}
	}
	return s
}
