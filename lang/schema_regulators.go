package lang

import (
	"slices"

	"tapline/lang/quantity"
)

// Rows of regulators and relief devices.

var regulatorFaults = []string{"wide open", "shut", "plugged", "seat leak", "loading lost", "stuck", "diaphragm leak"}

// loading is what a regulator's diaphragm works against, in place of a spring
// with its set.
var loading = &BlockType{
	Kind: "loading", Group: "regulator", InCase: true, Help: "what loads the diaphragm: a dome, a spring, or both",
	Attributes: []*Attribute{
		{Name: "dome", Type: TypeDome, Dimension: quantity.Pressure, Forms: deviceValue, Limits: above0,
			Help: "the node its dome follows, or the pressure it is charged to and shut off at"},
		measure("charged_at", quantity.Temperature, "temperature at which the dome was charged, by default the base's ambient; its pressure follows the ambient of each case").forms(quantity.Single),
		refer("charged_with", ToFluid, "the gas a dome is charged with, by default an ideal one"),
		measure("set", quantity.Pressure, "set of a spring alone"),
		number("ratio", "dome area over sensing area").in(above0).standing("1"),
		measure("bias", quantity.PressureDifference, "what a spring adds; negative where it works against the dome").standing("0 bar"),
	},
	OneOf: []OneOf{{Names: []string{"dome", "set"}, Needed: true}},
}

var regulatorNested = []*BlockType{
	allow, loading, balance,
	measuredCurve,
}

// effects of a pressure on the set: negative and above one are possible.
func effect(name, help string) *Attribute {
	return measure(name, quantity.Ratio, help).standing("0 %").without("balance")
}

// band is what the held pressure moves by as the device opens.
func band(name, help string) *Attribute {
	return measure(name, quantity.PressureDifference, help).forms(deviceValue|quantity.DropAtFlow).in(above0).
		unless("balance", "curve").without("balance")
}

var reducerBlock = &BlockType{
	Kind: "reducer", Group: "regulator", Role: Inline, Tagged: true, InCase: true, Ports: inOut,
	Help: "pressure-reducing regulator: holds the pressure after it",
	Attributes: slices.Concat([]*Attribute{
		measure("set", quantity.Pressure, "outlet pressure at the onset of flow, at the reference inlet").unless("loading", "curve").without("loading"),
		measure("reference_inlet", quantity.Pressure, "inlet pressure at which set holds; by default that of the base case"),
		measure("range", quantity.Pressure, "what its loading can be set to").forms(quantity.Range),
	}, coefficient, []*Attribute{
		band("droop", "fall of outlet pressure from onset to full lift, or to a flow").term("droop, offset"),
		effect("supply_effect", "rise of outlet pressure per fall of inlet pressure"),
		measure("lock_up", quantity.PressureDifference, "rise of outlet pressure above onset at no flow").in(from0).standing("0 bar").
			term("lock-up"),
		measure("dead_band", quantity.PressureDifference, "width in which friction holds it").in(from0).standing("0 bar").without("balance"),
		onOff("relieving", "it vents its outlet to its bonnet when that is above set: needs relief_cv"),
		number("relief_cv", "flow coefficient of the vent through its diaphragm, fully open").in(above0),
		measure("relieves_at", quantity.PressureDifference, "rise of outlet pressure above onset at which it begins to vent; by default its lock-up").in(from0),
		choice("set_at", "where set holds: at the onset of flow, at a tight seat, or at a flow, at the reference inlet", "onset", "no flow").
			orValue(quantity.AnyFlow, above0).standing("onset"),
	}, rating, exchange("0 %", "0.2 W/K"), describing, faults(regulatorFaults...)),
	Nested: regulatorNested,
	OneOf:  []OneOf{needed, leaks},
}

var holderBlock = &BlockType{
	Kind: "holder", Group: "regulator", Role: Inline, Tagged: true, InCase: true, Ports: inOut,
	Help: "back-pressure regulator: holds the pressure before it",
	Attributes: slices.Concat([]*Attribute{
		measure("set", quantity.Pressure, "inlet pressure at which it begins to open, at the reference outlet").unless("loading", "curve").without("loading"),
		measure("reference_outlet", quantity.Pressure, "outlet pressure at which set holds").standing("0 barg"),
		measure("range", quantity.Pressure, "what its loading can be set to").forms(quantity.Range),
	}, coefficient, []*Attribute{
		band("accumulation", "rise of inlet pressure from onset to full lift, or to a flow"),
		effect("outlet_effect", "fall of the held pressure per rise of outlet pressure"),
		measure("reseat", quantity.PressureDifference, "fall of inlet pressure below onset at which it is tight").in(from0).standing("0 bar"),
		measure("dead_band", quantity.PressureDifference, "width in which friction holds it").in(from0).standing("0 bar").without("balance"),
		choice("set_at", "where set holds: at the onset of flow, or at a flow, at the reference outlet", "onset").
			orValue(quantity.AnyFlow, above0).standing("onset"),
	}, rating, exchange("0 %", "0.2 W/K"), describing, faults(regulatorFaults...)),
	Nested: regulatorNested,
	OneOf:  []OneOf{needed, leaks},
}

var reliefBlock = &BlockType{
	Kind: "relief", Group: "safety", Role: Inline, Tagged: true, InCase: true, Ports: inOut,
	Help: "proportional relief valve, pop safety valve, rupture disc",
	Attributes: slices.Concat([]*Attribute{
		measure("set", quantity.Pressure, "pressure at which it opens").needed().term("set pressure (ISO 4126-1)"),
		choice("action", "how it opens", "proportional", "pop", "disc").standing("proportional"),
		measure("overpressure", quantity.Ratio, "rise above set at full lift, of gauge set").in(above0).standing("10 %").
			term("overpressure (ISO 4126-1)"),
		measure("blowdown", quantity.Ratio, "fall below set at which it closes, of gauge set").
			in(&Limits{High: 1, HighOpen: true, Text: "from 0 to below 100 %"}).term("blowdown (ISO 4126-1)"),
		measure("orifice", quantity.Area, "flow area").needed().term("flow area (ISO 4126-1)"),
		number("kd", "coefficient of discharge").in(upTo1).needed().term("coefficient of discharge Kd (ISO 4126-1)"),
		choice("bonnet", "where its bonnet is open to", "discharge", "atmosphere", "balanced", "pilot").standing("discharge"),
		measure("disc_diameter", quantity.Length, "of the disc that the back pressure acts on, with the bonnet open to the atmosphere"),
		measure("nozzle_diameter", quantity.Length, "of the seat that the inlet pressure acts on, with the bonnet open to the atmosphere"),
		refers("protects", ToDevice, "what it protects besides what is found"),
	}, rating, exchange("0 %", "0.2 W/K"), describing, faults("wide open", "shut", "plugged", "seat leak", "stuck")),
	Nested: nestedInDevice,
	OneOf:  []OneOf{leaks},
}
