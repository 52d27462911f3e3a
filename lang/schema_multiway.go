package lang

import (
	"slices"

	"tapline/lang/quantity"
)

// The row of valves with more than two ports. Of the attributes that valves have, each
// of its passages takes those of passageAttributes.

var multiwayBlock = &BlockType{
	Kind: "multiway", Group: "device", Role: Inline, Tagged: true, InCase: true,
	Help: "three-way valve, selector, double block and bleed: its position says which of its ports are joined",
	Attributes: slices.Concat([]*Attribute{
		{Name: "ports", Type: TypePorts, Fixed: true, Required: true, Help: "names of its ports; each stands in a path as `TAG.port`"},
		{Name: "positions", Type: TypePositions, Fixed: true, Required: true,
			Help: "what each of its positions joins, each way in the direction of intended flow; what it does not name is shut"},
		text("position", "the position it is in, by name").needed(),
	}, coefficient, []*Attribute{
		measure("seat", quantity.Length, "bore of its seat; adds the laminar end of small trims"),
		number("fd", "shape of its flow passage; adds the laminar end of small trims").in(upTo1).
			term("valve style modifier Fd (IEC 60534-2-1)"),
		onOff("locked", "it is locked in its position"),
	}, rating[:1], innerVolume("inner volume of each way through it, for transport lag"),
		exchange("0 %", "0.05 W/K"), eitherWay, describing,
		withoutAir(faults("plugged", "seat leak", "stuck", "fails")), []*Attribute{
			text("on_failure", "the position it goes to without air or current, by name, or `stay`"),
			{Name: "leaks", Type: TypePassages,
				Help: "from which port to which a seat leak passes; the default is every way that some position joins and the one it is in does not"},
		}),
	OneOf: []OneOf{needed, leaks},
}

// withoutAir leaves out on_failure as valves have it, which names no position.
func withoutAir(rows []*Attribute) []*Attribute {
	return slices.DeleteFunc(rows, func(a *Attribute) bool { return a.Name == "on_failure" })
}

// passageAttributes are what a passage has of its valve.
var passageAttributes = []string{"cv", "kv", "xt", "fl", "seat", "fd", "locked", "volume", "mixing", "ua", "either_way", "spare", "leak_cv", "leak"}

// stay is what on_failure says where a valve keeps its position.
const stay = "stay"
