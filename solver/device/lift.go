package device

import "math"

// The lift of a spring- or dome-loaded device is affine in the pressures it
// senses; the specs here say what each number is at the bench, and Lift turns
// them into the coefficients of z. All pressures are absolute and for the
// atmosphere of the case; effects are ratios of areas. The formulas are balances
// of forces with a constant diaphragm area and no flow forces (common practice).

// leastBandPa is the narrowest ramp from shut to fully open; a narrower one, or
// none, counts as this.
const leastBandPa = 1

// perBand is 1 over a band that cannot be nothing.
func perBand(bandPa float64) float64 { return 1 / math.Max(bandPa, leastBandPa) }

// A DomeSpec is a gas loading, with or without a spring beside it:
//
//	P_L = ratio p_dome + (1 - ratio) p_atm
type DomeSpec struct {
	Ratio   float64 // dome area over sensing area
	BiasPa  float64 // of the spring; negative against the dome
	FixedPa float64 // pressure of a charged dome; 0 where it follows a node, which is then pRef of the Lift
	// FromLoad says that BiasPa is a force over an area (balance.go) instead of an
	// offset measured at the reference state: the effect E then acts from the load,
	// P_L + bias + E (P_L - p_other), and the reference pressure is not used.
	FromLoad bool
}

// onset gives the onset with the other pressure, whose effect is given, at zero:
// its constant part and the factor of pRef.
func (d *DomeSpec) onset(effect, referencePa, atmospherePa float64) (constantPa, ref float64) {
	whole, afterPa := 1.0, effect*referencePa
	if d.FromLoad {
		whole, afterPa = 1+effect, 0
	}
	constantPa = whole*(1-d.Ratio)*atmospherePa + d.BiasPa + afterPa
	if d.FixedPa > 0 {
		return constantPa + whole*d.Ratio*d.FixedPa, 0
	}
	return constantPa, whole * d.Ratio
}

// A ReducerSpec is a pressure-reducing regulator. Zero lift is at
//
//	P_o = set + S (p_in,ref - p_in)            spring
//	P_o = P_L + bias + S (p_in,ref - p_in)     dome
//
// and z = (P_o - p_out)/droop.
type ReducerSpec struct {
	SetPa            float64 // outlet at the onset of flow, at the reference inlet; unused with a dome
	ReferenceInletPa float64
	DroopPa          float64 // fall of the outlet from onset to fully open
	SupplyEffect     float64 // S, rise of the outlet per fall of the inlet; negative if the inlet opens the seat
	LockUpPa         float64 // rise above onset at no flow
	PoppetPa         float64 // what the poppet's spring adds to the onset, part of the set or bias; read by Lost
	Dome             *DomeSpec
	AtmospherePa     float64
}

// Lift gives z.
func (s ReducerSpec) Lift() Lift {
	if s.Dome != nil {
		return s.lift(s.Dome.onset(s.SupplyEffect, s.ReferenceInletPa, s.AtmospherePa))
	}
	return s.lift(s.SetPa+s.SupplyEffect*s.ReferenceInletPa, 0)
}

// Lost gives z with the loading lost: no spring, the dome at atmosphere,
// P_o = p_atm + S (p_atm - p_in), and what the poppet's spring adds.
func (s ReducerSpec) Lost() Lift {
	return s.lift(s.AtmospherePa*(1+s.SupplyEffect)+s.PoppetPa, 0)
}

func (s ReducerSpec) lift(onsetPa, ref float64) Lift {
	k := perBand(s.DroopPa)
	return Lift{Bias: onsetPa * k, Up: -s.SupplyEffect * k, Down: -k, Ref: ref * k, LockUpPa: s.LockUpPa}
}

// A HolderSpec is a back-pressure regulator. Zero lift is at
//
//	P_L' = set - B (p_out - p_out,ref)            spring
//	P_L' = P_L + bias - B (p_out - p_out,ref)     dome
//
// and z = (p_in - P_L')/accumulation.
type HolderSpec struct {
	SetPa             float64 // inlet at which it begins to open, at the reference outlet; unused with a dome
	ReferenceOutletPa float64
	AccumulationPa    float64 // rise of the inlet from onset to fully open
	OutletEffect      float64 // B, fall of the held inlet per rise of the outlet
	PoppetPa          float64 // what the poppet's spring adds to the onset, part of the set or bias; read by Lost
	Dome              *DomeSpec
	AtmospherePa      float64
}

// Lift gives z.
func (s HolderSpec) Lift() Lift {
	if s.Dome != nil {
		return s.lift(s.Dome.onset(s.OutletEffect, s.ReferenceOutletPa, s.AtmospherePa))
	}
	return s.lift(s.SetPa+s.OutletEffect*s.ReferenceOutletPa, 0)
}

// Lost gives z with the loading lost: no spring, the dome at atmosphere,
// P_L' = p_atm + B (p_atm - p_out), and what the poppet's spring adds.
func (s HolderSpec) Lost() Lift {
	return s.lift(s.AtmospherePa*(1+s.OutletEffect)+s.PoppetPa, 0)
}

func (s HolderSpec) lift(onsetPa, ref float64) Lift {
	k := perBand(s.AccumulationPa)
	return Lift{Bias: -onsetPa * k, Up: k, Down: s.OutletEffect * k, Ref: -ref * k}
}

// Closing gives z on the way down, of a holder that has been open before and is
// tight again only reseatPa below the inlet at which it opens.
func (s HolderSpec) Closing(reseatPa float64) Lift {
	s.SetPa -= reseatPa
	s.AccumulationPa += reseatPa
	if s.Dome != nil {
		dome := *s.Dome
		dome.BiasPa -= reseatPa
		s.Dome = &dome
	}
	return s.Lift()
}

// A CheckSpec is a check valve: z = (p_in - p_out - cracks_at)/band. It is tight
// backwards.
type CheckSpec struct {
	CracksAtPa float64 // difference at which it begins to open
	BandPa     float64 // further difference to fully open
}

// Lift gives z.
func (s CheckSpec) Lift() Lift {
	k := perBand(s.BandPa)
	return Lift{Bias: -s.CracksAtPa * k, Up: k, Down: -k}
}

// A ReliefSpec is a proportional relief device, which opens on the pressure on
// its seat: z = (p_in - set - beta (p_out - p_atm))/overpressure.
type ReliefSpec struct {
	SetPa          float64 // at which it begins to open with the outlet at atmosphere
	OverpressurePa float64 // above set, to fully open
	// Beta is what the back pressure adds to the set: 1 with the bonnet vented to
	// the discharge, 1 - disc area/nozzle area vented to atmosphere, 0 balanced or
	// pilot-operated.
	Beta         float64
	AtmospherePa float64
}

// Lift gives z.
func (s ReliefSpec) Lift() Lift {
	k := perBand(s.OverpressurePa)
	return Lift{Bias: (s.Beta*s.AtmospherePa - s.SetPa) * k, Up: k, Down: -s.Beta * k}
}

// Closing gives z on the way down, of a device that has been open before and is
// tight again only blowdownPa below its set: lift falls evenly from fully open to
// there.
func (s ReliefSpec) Closing(blowdownPa float64) Lift {
	s.SetPa -= blowdownPa
	s.OverpressurePa += blowdownPa
	return s.Lift()
}
