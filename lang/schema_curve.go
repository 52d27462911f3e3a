package lang

import "tapline/lang/quantity"

// measuredCurve is a measured flow curve of a regulator. What it was measured with is part of it:
// from that and the valve law follows how far the device was open at each point.

var measuredCurve = &BlockType{
	Kind: "curve", Group: "regulator", InCase: true, Repeats: true,
	Help: "a measured flow curve: held pressures over the flow, at one inlet (reducer) or outlet pressure (holder); several make a family",
	Attributes: []*Attribute{
		refer("fluid", ToFluid, "the fluid it was measured with").needed(),
		measure("inlet", quantity.Pressure, "of a reducer: the inlet pressure it was measured at").forms(quantity.Single),
		measure("outlet", quantity.Pressure, "of a holder: the outlet pressure it was measured at").forms(quantity.Single),
		measure("temperature", quantity.Temperature, "temperature at its inlet").forms(quantity.Single).standing("20 degC"),
		{
			Name: "points", Type: TypePoints, Dimension: quantity.Pressure, Forms: quantity.Single, Limits: above0,
			Help: "flow and held pressure of each point, from no flow on",
		},
		{
			Name: "from", Type: TypeCurveFile,
			Help: "a file beside the system's that holds the points instead",
		},
	},
	OneOf: []OneOf{{Names: []string{"inlet", "outlet"}, Needed: true}, {Names: []string{"points", "from"}, Needed: true}},
}
