package lang

// schema is the table. What is not yet built stands in it too, so that using
// it says so instead of asking whether it was misspelt.
var schema = []*BlockType{
	systemBlock, siteBlock, givenBlock, fluidBlock,
	sourceBlock, ventBlock,
	tubeBlock, valveBlock, multiwayBlock,
	orificeBlock, filterBlock, checkBlock, meterBlock, controllerBlock,
	reducerBlock, holderBlock, reliefBlock,
	analyzerBlock, equipmentBlock, vesselBlock, gaugeBlock,
	planned("heater", "device", Inline, "vaporiser, heated line"),
	planned("cooler", "device", Inline, "chiller"),
	planned("booster", "device", Inline, "pump, compressor, eductor"),
	lineBlock, caseBlock, spreadBlock, bandBlock,
	planned("adjust", "case", Aside, "a setting that is found"),
	planned("waive", "limits", Aside, "a flag that is accepted"),
	planned("model", "reuse", Aside, "a device without its tag"),
	planned("panel", "reuse", Inline, "a sub-system placed as a device"),
	planned("port", "reuse", Aside, "a port of a panel"),
}

func planned(kind, group string, role Role, help string) *BlockType {
	return &BlockType{Kind: kind, Group: group, Role: role, Help: help, Tagged: true, InCase: role == Inline, NotBuilt: true}
}
