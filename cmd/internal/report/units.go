package report

import (
	"strings"

	"tapline/compiler"
	"tapline/lang/quantity"
)

// gasConstant is exact by the definition of the SI (BIPM SI Brochure, 9th
// edition, 2019: N_A k) [J/mol/K].
const gasConstant = 8.31446261815324

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

// units are what a system wants its results shown in.
type units struct {
	pressure, difference, temperature, gasFlow, liquidFlow quantity.Unit
	reference                                              *compiler.Reference
}

// unitsOf reads shown_in. What it leaves out, or names in no unit that exists,
// is barg, degC, slpm (g/h without a reference state) and L/h.
func unitsOf(s *compiler.SystemOutcome) units {
	gas := "g/h"
	if s.ReferenceState != nil {
		gas = "slpm"
	}
	u := units{
		pressure:    pick(s.ShownIn["pressure"], "barg", quantity.Pressure),
		temperature: pick(s.ShownIn["temperature"], "degC", quantity.Temperature),
		gasFlow:     pick(s.ShownIn["gas_flow"], gas, quantity.GasFlow),
		liquidFlow:  pick(s.ShownIn["liquid_flow"], "L/h", quantity.LiquidFlow),
		reference:   s.ReferenceState,
	}
	u.difference = pick(strings.TrimRight(u.pressure.Name, "ag"), "bar", quantity.PressureDifference)
	if u.reference == nil && (u.gasFlow.Basis == quantity.SiteReference || u.gasFlow.Basis == quantity.OwnReference || u.gasFlow.Basis == quantity.MoleFlow) {
		u.gasFlow = pick("g/h", "g/h", quantity.GasFlow)
	}
	return u
}

// pick gives the row of the unit table for a name, or for the fallback.
func pick(name, fallback string, d quantity.Dimension) quantity.Unit {
	var found quantity.Unit
	for _, row := range quantity.Table() {
		fits := row.Dimension == d || row.Dimension == quantity.AnyFlow && (d == quantity.GasFlow || d == quantity.LiquidFlow)
		if !fits {
			continue
		}
		if row.Name == name {
			return row
		}
		if row.Name == fallback {
			found = row
		}
	}
	return found
}

func linear(u quantity.Unit, zero float64) scale {
	return scale{u.Name, func(si float64) float64 { return (si-zero)/u.Factor - u.Offset }}
}

// pressureIn gives the scale of pressures in a case: gauge ones are above the
// atmosphere of that case.
func (u units) pressureIn(atmospherePa float64) scale {
	if u.pressure.Basis == quantity.Gauge {
		return linear(u.pressure, atmospherePa)
	}
	return linear(u.pressure, 0)
}

// A stream is what turns a mass flow into a volume.
type stream struct {
	referenceM3Kg float64 // volume at the site's reference state, 0 if not known
	densityKgM3   float64 // where the flow is counted, 0 if not known
	liquid        bool
}

// flow gives the scale of mass flows [kg/s] of a stream. Where the stream does
// not tell enough for the unit wanted, it is g/h.
func (u units) flow(s stream) scale {
	row := u.gasFlow
	if s.liquid {
		row = u.liquidFlow
	}
	perKg := 0.0 // the unit's SI basis per kg
	switch row.Basis {
	case quantity.MassFlow:
		perKg = 1
	case quantity.SiteReference:
		perKg = s.referenceM3Kg
	case quantity.OwnReference: // by the ideal molar volume, as in the language
		if u.reference != nil {
			perKg = s.referenceM3Kg * row.Ref.TemperatureK / u.reference.TemperatureK * u.reference.PressurePa / row.Ref.PressurePa
		}
	case quantity.MoleFlow:
		if u.reference != nil {
			perKg = s.referenceM3Kg * u.reference.PressurePa / (gasConstant * u.reference.TemperatureK)
		}
	case quantity.Actual, quantity.LiquidVolume:
		if s.densityKgM3 > 0 {
			perKg = 1 / s.densityKgM3
		}
	}
	if perKg == 0 {
		return scale{"g/h", func(si float64) float64 { return si * 3.6e6 }}
	}
	return scale{row.Name, func(si float64) float64 { return si * perKg / row.Factor }}
}

// of gives the scale of a judged quantity by its name in the language.
func (u units) of(name string, atmospherePa float64, s stream) scale {
	share, _, _ := strings.Cut(name, " ")
	switch share {
	case "pressure", "inlet_pressure", "outlet_pressure":
		return u.pressureIn(atmospherePa)
	case "drop":
		return linear(u.difference, 0)
	case "temperature":
		return linear(u.temperature, 0)
	case "dew_margin":
		return scale{"K", func(si float64) float64 { return si }}
	case "flow":
		return u.flow(s)
	case "lag":
		return scale{"s", func(si float64) float64 { return si }}
	case "lift", "share", "opening":
		return scale{"%", func(si float64) float64 { return si * 100 }}
	}
	return scale{"", func(si float64) float64 { return si }}
}

// streamThrough gives what is known of the flow through a device in a case.
func streamThrough(c *compiler.CaseOutcome, d *compiler.DeviceOutcome) stream {
	var s stream
	if d.MassFlowKgS != nil && d.ReferenceFlowM3S != nil && *d.MassFlowKgS != 0 {
		s.referenceM3Kg = *d.ReferenceFlowM3S / *d.MassFlowKgS
	}
	if len(d.Ports) == 0 {
		return s
	}
	for i := range c.Nodes {
		n := &c.Nodes[i]
		if n.Name != d.Ports[0].Node {
			continue
		}
		if n.DensityKgM3 != nil {
			s.densityKgM3 = *n.DensityKgM3
		}
		s.liquid = n.Phase != nil && *n.Phase == "liquid"
	}
	return s
}
