package lang

import (
	"slices"

	"tapline/lang/quantity"
)

// Rows of what stands in paths, regulators and relief devices apart.

var sourceBlock = &BlockType{
	Kind: "source", Group: "boundary", Role: Boundary, Tagged: true, InCase: true,
	Help: "header, cylinder pack, process tap, instrument air",
	Attributes: slices.Concat([]*Attribute{
		refer("fluid", ToFluid, "what comes from it").needed(),
		measure("pressure", quantity.Pressure, "the pressure it holds"),
		measure("temperature", quantity.Temperature, "the temperature of what comes from it").needed(),
		measure("flow", quantity.AnyFlow, "the flow it gives, in place of a pressure"),
	}, describing),
	Nested: []*BlockType{cylinder},
	OneOf:  []OneOf{{Names: []string{"pressure", "flow"}, Needed: true}},
}

var ventBlock = &BlockType{
	Kind: "vent", Group: "boundary", Role: Boundary, Tagged: true, InCase: true,
	Help: "atmosphere, flare or vent header, process return",
	Attributes: slices.Concat([]*Attribute{
		measure("pressure", quantity.Pressure, "the pressure it holds").needed(),
	}, describing),
}

var tubeBlock = &BlockType{
	Kind: "tube", Group: "line", Role: Inline, Tagged: true, InCase: true, Ports: inOut,
	Help: "a named run of tube or hose",
	Attributes: slices.Concat([]*Attribute{
		measure("size", quantity.Length, "outside diameter and wall").forms(quantity.Tube),
		measure("bore", quantity.Length, "inside diameter, in place of size"),
		measure("length", quantity.Length, "its length").needed(),
		measure("roughness", quantity.Length, "height of its wall's roughness; the default is drawn tubing (common practice)").
			in(from0).standing("0.0015 mm"),
		number("bends", "how many bends it has").in(from0).standing("0"),
		number("k", "further loss, in velocity heads").in(from0).standing("0").term("resistance coefficient K"),
		number("fittings_cv", "flow coefficient of its fittings, all of them in series").in(above0).term("flow coefficient C (IEC 60534-1)"),
		number("fittings_kv", "the same as m3 of water an hour at 1 bar").in(above0).term("flow coefficient C (IEC 60534-1)"),
		measure("fittings_length", quantity.Length, "length of this tube that costs as much as its fittings; adds no volume").
			in(from0).standing("0 m").term("equivalent length L"),
		measure("rise", quantity.Length, "how much higher its outlet is than its inlet").in(nil).standing("0 m"),
		onOff("wind", "it stands in the wind"),
		measure("traced_to", quantity.Temperature, "temperature its tracing holds"),
		measure("insulation", quantity.Length, "thickness of its insulation"),
	}, rating, eitherWay, describing, faults("plugged")),
	Nested: nestedInDevice,
	OneOf:  []OneOf{{Names: []string{"size", "bore"}, Needed: true}, {Names: []string{"fittings_cv", "fittings_kv"}}},
}

var valveBlock = &BlockType{
	Kind: "valve", Group: "device", Role: Inline, Tagged: true, InCase: true, Ports: inOut,
	Help: "needle, ball, plug, solenoid",
	Attributes: slices.Concat(coefficient, []*Attribute{
		measure("opening", quantity.Ratio, "how far it is open").in(fraction).standing("100 %").term("relative travel h (IEC 60534-1)"),
		choice("state", "whether it is open at all", "open", "shut").standing("open"),
		choice("characteristic", "how the flow coefficient follows the opening", "linear", "equal_percentage", "quick_opening").
			standing("linear").later("table").term("inherent flow characteristic (IEC 60534-1)"),
		measure("seat", quantity.Length, "bore of its seat; adds the laminar end of small trims"),
		number("fd", "shape of its flow passage; adds the laminar end of small trims").in(upTo1).
			term("valve style modifier Fd (IEC 60534-2-1)"),
		measure("bore", quantity.Length, "nominal bore of its body, where reducers beside it begin; also sizes the laminar end of small trims").
			term("nominal valve size d (IEC 60534-2-1)"),
		measure("inlet_line", quantity.Length, "inside diameter of the line before it, where that is wider than bore; the reducer between is computed").
			term("D1 (IEC 60534-2-1)"),
		measure("outlet_line", quantity.Length, "inside diameter of the line behind it, where that is wider than bore; the expander between is computed").
			term("D2 (IEC 60534-2-1)"),
		onOff("locked", "it is locked in its state"),
	}, rating, exchange("0 %", "0.05 W/K"), eitherWay, describing,
		faults("wide open", "shut", "plugged", "seat leak", "stuck", "fails")),
	Nested: nestedInDevice,
	OneOf:  []OneOf{coefficients, leaks},
}

var orificeBlock = &BlockType{
	Kind: "orifice", Group: "device", Role: Inline, Tagged: true, InCase: true, Ports: inOut,
	Help: "sharp plate, thick bore, capillary",
	Attributes: slices.Concat([]*Attribute{
		measure("bore", quantity.Length, "diameter of the hole").needed(),
		number("cd", "discharge coefficient").in(upTo1).term("discharge coefficient C (ISO 5167-1)"),
		choice("edge", "shape of the hole", "sharp", "thick").standing("sharp"),
		measure("length", quantity.Length, "length of a capillary, in place of cd"),
	}, rating, exchange("0 %", "0.05 W/K"), eitherWay, describing, faults("plugged")),
	Nested: nestedInDevice,
	OneOf:  []OneOf{{Names: []string{"cd", "length"}, Needed: true}},
}

var filterBlock = &BlockType{
	Kind: "filter", Group: "device", Role: Inline, Tagged: true, InCase: true, Ports: []string{"in", "out", "bypass", "drain"},
	Help: "particulate, coalescing, membrane; bypass and drain are on the unfiltered side",
	Attributes: slices.Concat(coefficient, []*Attribute{
		measure("fouled", quantity.Ratio, "part of its flow coefficient that dirt has taken").
			in(&Limits{High: 1, HighOpen: true, Text: "from 0 to below 100 %"}).standing("0 %"),
	}, rating, exchange("100 %", "0.05 W/K"), eitherWay, describing, faults("plugged")),
	Nested: nestedInDevice,
	OneOf:  []OneOf{coefficients},
}

var checkBlock = &BlockType{
	Kind: "check_valve", Group: "device", Role: Inline, Tagged: true, InCase: true, Ports: inOut,
	Help: "lets flow pass one way only",
	Attributes: slices.Concat([]*Attribute{
		measure("cracks_at", quantity.PressureDifference, "pressure difference at which it begins to open").in(from0).standing("0 bar"),
	}, coefficient, rating, exchange("0 %", "0.05 W/K"), describing, faults("wide open", "shut", "plugged", "seat leak")),
	Nested: nestedInDevice,
	OneOf:  []OneOf{coefficients, leaks},
}

var meterBlock = &BlockType{
	Kind: "meter", Group: "instrument", Role: Inline, Tagged: true, InCase: true, Ports: inOut,
	Help: "flow indicator, rotameter, totaliser",
	Attributes: slices.Concat(coefficient, dropAt, []*Attribute{
		measure("scale", quantity.AnyFlow, "its scale").forms(quantity.Range),
	}, rating, exchange("0 %", "0.05 W/K"), eitherWay, describing, faults("plugged")),
	Nested: []*BlockType{allow, {
		Kind: "calibrated_for", Group: "instrument", Help: "what its scale is right for", InCase: true,
		Attributes: []*Attribute{
			refer("fluid", ToFluid, "the fluid").needed(),
			measure("pressure", quantity.Pressure, "the pressure").needed(),
			measure("temperature", quantity.Temperature, "the temperature").needed(),
		},
	}},
	OneOf:    []OneOf{resistance},
	Together: [][]string{dropAtFlow},
}

var controllerBlock = &BlockType{
	Kind: "flow_controller", Group: "device", Role: Inline, Tagged: true, InCase: true, Ports: inOut,
	Help: "mass-flow controller",
	Attributes: slices.Concat([]*Attribute{
		measure("set", quantity.AnyFlow, "the flow it holds").needed(),
		measure("least_drop", quantity.PressureDifference, "pressure difference it needs for full scale").in(above0),
		measure("range", quantity.AnyFlow, "what it can be set to").forms(quantity.Range),
	}, rating, exchange("0 %", "0.05 W/K"), describing, faults("wide open", "shut", "plugged", "stuck", "fails")),
	Nested: nestedInDevice,
}

var analyzerBlock = &BlockType{
	Kind: "analyzer", Group: "instrument", Role: Inline, Tagged: true, InCase: true, Ports: inOut,
	Help: "cell, column, probe",
	Attributes: slices.Concat(coefficient, dropAt, []*Attribute{
		measure("cycle", quantity.Time, "time from the sample in its cell to the value shown, added to its lag").in(from0),
	}, rating, exchange("100 %", "0.05 W/K"), eitherWay, describing, faults("plugged")),
	Nested:   nestedInDevice,
	OneOf:    []OneOf{resistance},
	Together: [][]string{dropAtFlow},
}

var equipmentBlock = &BlockType{
	Kind: "equipment", Group: "device", Role: Inline, Tagged: true, InCase: true, Ports: inOut,
	Help: "reactor, test article",
	Attributes: slices.Concat(coefficient, dropAt, []*Attribute{ports()},
		rating, exchange("0 %", "0.05 W/K"), eitherWay, describing, faults("plugged")),
	Nested:   nestedInDevice,
	OneOf:    []OneOf{resistance},
	Together: [][]string{dropAtFlow},
}

var vesselBlock = &BlockType{
	Kind: "vessel", Group: "vessel", Role: Pot, Tagged: true, InCase: true, Ports: inOut,
	Help:       "knock-out pot, separator, buffer; one pressure",
	Attributes: slices.Concat([]*Attribute{ports()}, rating, exchange("100 %", "0.05 W/K"), describing),
	Nested:     nestedInDevice,
}

func ports() *Attribute {
	return &Attribute{Name: "ports", Type: TypePorts, Fixed: true, Help: "names of its ports, in place of in and out"}
}
