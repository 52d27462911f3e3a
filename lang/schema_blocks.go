package lang

import (
	"slices"

	"tapline/lang/quantity"
)

// Rows of the blocks that stand in no path.

var shownIn = []Key{
	{"pressure", quantity.Pressure},
	{"gas_flow", quantity.GasFlow},
	{"liquid_flow", quantity.LiquidFlow},
	{"temperature", quantity.Temperature},
}

var kinds = []string{"operating", "service", "upset"}

var systemBlock = &BlockType{
	Kind: "system", Group: "system", Tagged: true, Help: "the system these files describe; exactly one",
	Attributes: []*Attribute{
		text("title", "one line for the head of the report").fixed(),
		choice("thermal", "isenthalpic switches off all heat exchange", "isenthalpic").fixed(),
		choice("upsets", "adds one upset case for each device and fault", "each device alone").fixed(),
		refers("use", ToNothing, "folders whose models are read too").planned(),
	},
}

var siteBlock = &BlockType{
	Kind: "site", Group: "system", Help: "where the system stands", InCase: true,
	Attributes: []*Attribute{
		measure("elevation", quantity.Length, "height above sea level, gives the atmosphere").in(altitude).standing("0 m"),
		measure("atmosphere", quantity.Pressure, "pressure of the air, in place of that from the elevation"),
		measure("ambient", quantity.Temperature, "temperature of the air").standing("20 degC"),
		{Name: "reference_state", Type: TypeReference, Fixed: true,
			Help: "what slpm, sccm, scfh and Sm3/h refer to", Term: "standard reference conditions (ISO 13443)"},
		{Name: "shown_in", Type: TypeUnits, Keys: shownIn, Fixed: true, Help: "units that results are printed in"},
	},
}

var givenBlock = &BlockType{
	Kind: "given", Group: "system", Open: true, InCase: true, Help: "values by name, used as given.NAME",
}

var fluidBlock = &BlockType{
	Kind: "fluid", Group: "fluid", Tagged: true, InCase: true, Help: "a gas or liquid and what it is made of",
	Attributes: []*Attribute{
		composition("mole_percent", "components in mole per cent").term("mole fraction (ISO 80000-9)"),
		composition("mass_percent", "components in mass per cent, in place of mole_percent").term("mass fraction (ISO 80000-9)"),
		composition("volume_percent", "components in volume per cent: of ideal gases, which is mole per cent, and of a liquid those of its components alone at 15 degC"),
		choice("basis", "whether the components are parts of the dry gas, with water on top, or of the whole; dry where "+
			"water_dew_point is stated, else wet", "dry", "wet"),
		measure("water_dew_point", quantity.Temperature, "temperature at which water begins to condense at a pressure; "+
			"sets how much water there is on top of the components").forms(quantity.AtPressure),
		choice("equation", "the equation of state of a gas; auto takes GERG-2008 where it covers all components, a single substance's own "+
			"multiparameter equation where it has one, else peng-robinson", "auto", "gerg-2008", "multiparameter", "peng-robinson").
			standing("auto").term("ISO 20765-2 for gerg-2008"),
		choice("phase", "what it is in the whole network; a liquid that boils there is flagged", "gas", "liquid").standing("gas"),
	},
	OneOf: []OneOf{{Names: compositions, Needed: true, Replaces: true}},
}

var lineBlock = &BlockType{
	Kind: "line", Group: "line", Tagged: true, Help: "which devices stand one after the other",
	Attributes: []*Attribute{
		{Name: "path", Type: TypePath, Required: true, Fixed: true, Help: "devices, nodes and tubes in the direction of intended flow"},
		measure("tube", quantity.Length, "size of its tubes that state none").forms(quantity.Tube).fixed(),
		text("service", "what it is there for; printed in the report").fixed(),
		text("note", "a remark; printed in the report").fixed(),
	},
}

var caseBlock = &BlockType{
	Kind: "case", Group: "case", Tagged: true, Help: "an operating case: what differs from the base",
	Attributes: []*Attribute{
		choice("kind", "what the case is for", kinds...).standing("operating").fixed(),
		refers("after", ToCase, "cases it starts from, in order"),
		onOff("each", "one case for each match of a pattern").planned(),
	},
}

var spreadBlock = &BlockType{
	Kind: "spread", Group: "case", Tagged: true,
	Help: "many cases at once: all combinations of listed values, or draws of tolerances",
	Attributes: []*Attribute{
		choice("kind", "what its cases are for", kinds...).standing("operating").fixed(),
		refers("after", ToCase, "cases it starts from, in order"),
		number("draws", "how many times all tolerances are drawn, in place of combinations: each uniform over its width, independent of the others").
			forms(quantity.Single).in(drawCount).fixed(),
		number("seed", "which draws these are; the same seed draws the same").forms(quantity.Single).in(seeds).standing("1").fixed(),
	},
}

var bandBlock = &BlockType{
	Kind: "band", Group: "limits", Tagged: true, InCase: true, Help: "limits that an answer is held against",
	Attributes: []*Attribute{
		refers("at", ToPlace, "nodes, ports or devices it is about").needed(),
		measure("pressure", quantity.Pressure, "at a node or port").forms(judged),
		measure("flow", quantity.AnyFlow, "through a device, positive along its path").forms(judged).in(nil),
		measure("drop", quantity.PressureDifference, "across a device").forms(judged),
		measure("lift", quantity.Ratio, "how far a device is open").forms(judged),
		measure("temperature", quantity.Temperature, "at a node or port").forms(judged),
		measure("dew_margin", quantity.TemperatureDifference, "distance from the dew point").forms(judged),
		measure("lag", quantity.Time, "mean transport time to here, or until the analyzer named shows it").forms(judged),
		refer("from", ToSource, "the source that lag is counted from, where several flow"),
		{Name: "share", Type: TypeShares, Dimension: quantity.Ratio, Forms: judged, Limits: fraction, Help: "where the gas here comes from, by source"},
		{Name: "kinds", Type: TypeChoices, Choices: kinds, Default: "operating", Help: "kinds of cases it holds in"},
		refers("cases", ToCase, "the cases it holds in, in place of kinds"),
		refers("except", ToCase, "cases it does not hold in"),
		choice("level", "how much it matters", "alarm", "caution").standing("alarm"),
	},
}

var gaugeBlock = &BlockType{
	Kind: "gauge", Group: "instrument", Role: AtNode, Tagged: true, InCase: true, Help: "an instrument at the node of the same name",
	Attributes: slices.Concat([]*Attribute{
		choice("reads", "what it reads", "pressure", "temperature", "flow").standing("pressure").fixed(),
		byReads("range", "its scale", quantity.Range),
		measure("accuracy", quantity.Ratio, "its error, of full scale").forms(quantity.Single).in(share),
		byReads("trips", "where it trips", judged),
	}, describing),
}

// byReads is an attribute whose dimension is that of what the gauge reads.
func byReads(name, help string, forms quantity.Form) *Attribute {
	return &Attribute{Name: name, Type: TypeQuantity, Forms: forms, Help: help, By: &By{
		Attribute: "reads",
		Dimensions: []Key{
			{"pressure", quantity.Pressure}, {"temperature", quantity.Temperature}, {"flow", quantity.AnyFlow},
		},
	}}
}
