package lang

import "tapline/lang/quantity"

// balance is the dimensions of a regulator's moving parts, from which its droop
// or accumulation, its effects and its dead band are computed.
var balance = &BlockType{
	Kind: "balance", Group: "regulator", InCase: true,
	Help: "the dimensions of the parts that move, from which droop or accumulation, effects and dead band are computed",
	Attributes: []*Attribute{
		choice("sensing", "what senses the held pressure; a piston rubs", "diaphragm", "piston").standing("diaphragm"),
		measure("sensing_diameter", quantity.Length, "effective diameter of the diaphragm, or of the piston").needed(),
		measure("seat_diameter", quantity.Length, "bore of the seat").needed(),
		choice("flow_to", "which side of the seat the held pressure fills; by default the seat of a reducer and the annulus of a holder",
			"seat", "annulus"),
		{Name: "poppet", Type: TypeFlag,
			Help: "a poppet seals. By default it does in a reducer and not in a holder, which then seals on its sensing element"},
		choice("bonnet", "what stands behind the sensing element with a spring: the atmosphere, or (holders) the outlet pressure",
			"vented", "outlet").standing("vented"),
		measure("balancing_diameter", quantity.Length,
			"of the sealed stem that takes the pressure back off the poppet (balanced trim)"),
		measure("rate", quantity.Stiffness, "stiffness of the loading spring; needed where there is one").in(above0),
		measure("poppet_rate", quantity.Stiffness, "stiffness of the poppet's spring").in(from0),
		measure("poppet_preload", quantity.Force, "of the poppet's spring when shut").in(from0),
		measure("bias_force", quantity.Force,
			"of a spring beside a dome when shut, in place of the loading's bias; negative where it works against the dome"),
		measure("travel", quantity.Length, "from shut to fully open").needed(),
		measure("friction", quantity.Force, "what holds the parts wherever they are: gives the dead band").in(from0).standing("0 N"),
		measure("seat_force", quantity.Force, "what makes the seat tight: gives the lock-up of a reducer, the reseat of a holder").in(from0),
		measure("dome_diameter", quantity.Length,
			"of the area the dome acts on, in place of the loading's ratio"),
		measure("dome_volume", quantity.Volume, "of a charged dome that is shut in: its gas is a spring"),
	},
}
