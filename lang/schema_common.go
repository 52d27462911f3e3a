package lang

import (
	"slices"

	"tapline/lang/quantity"
)

// Rows that several kinds of device share, the same ones in all of them.

// describing is what everything with a tag may say of itself.
var describing = []*Attribute{
	text("service", "what it is there for; printed in the report"),
	text("note", "a remark; printed in the report"),
	{Name: "data", Type: TypeData, Fixed: true, Help: "free facts such as order numbers; never computed on"},
	refer("like", ToNothing, "the model it is one of").planned(),
	onOff("spare", "it is not connected, on purpose").fixed(),
}

// rating is what a pressure-holding part says of its strength and volume.
var rating = []*Attribute{
	measure("rated", quantity.Pressure, "pressure it is rated for, everywhere in it").forms(ratedValue),
	measure("rated_inlet", quantity.Pressure, "pressure its inlet side is rated for").forms(ratedValue),
	measure("rated_outlet", quantity.Pressure, "pressure its outlet side is rated for").forms(ratedValue),
	innerVolume("inner volume, for transport lag; a tube's follows from bore and length")[0],
}

func innerVolume(help string) []*Attribute {
	return []*Attribute{measure("volume", quantity.Volume, help).in(from0)}
}

// exchange is the mixing and the heat exchange of a body with the given
// defaults.
func exchange(mixing, ua string) []*Attribute {
	return []*Attribute{
		measure("mixing", quantity.Ratio, "part of its volume that is stirred").in(fraction).standing(mixing),
		measure("ua", quantity.Conductance, "heat exchange with the ambient").in(from0).standing(ua),
	}
}

// eitherWay is for what lets flow pass both ways.
var eitherWay = []*Attribute{onOff("either_way", "flow against the path is intended")}

// coefficient is the flow coefficient of a resistance.
var coefficient = []*Attribute{
	number("cv", "flow coefficient, US gallons of water a minute at 1 psi").in(above0).term("flow coefficient C (IEC 60534-1)"),
	number("kv", "flow coefficient, m3 of water an hour at 1 bar").in(above0).term("flow coefficient C (IEC 60534-1)"),
	number("xt", "pressure drop ratio at which gas flow chokes").in(upTo1).standing("0.7").
		term("pressure differential ratio factor xT (IEC 60534-2-1)"),
	number("fl", "recovery of pressure in liquid flow").in(upTo1).standing("0.9").
		term("liquid pressure recovery factor FL (IEC 60534-2-1)"),
}

// faults are the ways a kind of device may fail, with what these need.
func faults(names ...string) []*Attribute {
	a := choice("fault", "how it has failed; in cases only", names...)
	out := []*Attribute{a}
	past := "past the seat"
	if slices.Contains(a.Choices, "diaphragm leak") {
		past = "past the seat or the diaphragm"
	}
	for _, n := range a.Choices {
		switch n {
		case "wide open":
			out = append(out, number("fail_cv", "flow coefficient when failed wide open, if not its own").in(above0))
		case "seat leak":
			out = append(out,
				number("leak_cv", "flow coefficient of the leak "+past).in(above0),
				measure("leak", quantity.AnyFlow, "leak "+past+" as a flow at a pressure difference").
					forms(quantity.FlowAtDrop).in(above0))
		case "fails":
			out = append(out, choice("on_failure", "where it goes without air or current", "open", "shut", "stay"))
		}
	}
	return out
}

// one row for each kind of nested block that several devices take.

var allow = &BlockType{
	Kind: "allow", Group: "limits", Help: "what may happen at this device, in every case its bands would be held in",
	InCase: true,
	Attributes: []*Attribute{
		measure("inlet_pressure", quantity.Pressure, "at its inlet").forms(judged),
		measure("outlet_pressure", quantity.Pressure, "at its outlet").forms(judged),
		measure("flow", quantity.AnyFlow, "through it").forms(judged).in(nil),
		measure("drop", quantity.PressureDifference, "across it").forms(judged),
		measure("lift", quantity.Ratio, "how far it is open").forms(judged),
		measure("temperature", quantity.Temperature, "at its outlet").forms(judged),
	},
}

var cylinder = &BlockType{
	Kind: "cylinder", Group: "boundary", Help: "cylinders behind a source, for the hours they last", NotBuilt: true,
}

var (
	coefficients   = OneOf{Names: []string{"cv", "kv"}}
	needed         = OneOf{Names: []string{"cv", "kv"}, Needed: true}
	resistance     = OneOf{Names: []string{"cv", "kv", "drop"}}
	leaks          = OneOf{Names: []string{"leak_cv", "leak"}}
	dropAtFlow     = []string{"drop", "flow"}
	inOut          = []string{"in", "out"}
	nestedInDevice = []*BlockType{allow}
)

// dropAt is a resistance given as its drop at a flow.
var dropAt = []*Attribute{
	measure("drop", quantity.PressureDifference, "its pressure drop at flow").in(above0),
	measure("flow", quantity.AnyFlow, "the flow at which drop holds").in(above0),
}
