package compiler

import (
	"tapline/lang"
	"tapline/solver"
	"tapline/solver/device"
)

// moved is how the held pressure of a regulator moves, stated or from its balance.
type moved struct {
	effect     float64 // fall of the held pressure per rise of the other one
	bandPa     float64 // from onset to fully open; to a flow where it is stated so
	deadBandPa float64
	tightPa    float64 // from onset to a tight seat
	poppetPa   float64 // what a poppet's spring adds to the onset
	forces     *device.Forces
}

// names are the attributes and settings of a kind of regulator.
type names struct{ band, bandPa, effect, tight, tightPa, other, otherPa string }

var (
	ofReducer = names{"droop", "droop_Pa", "supply_effect", "lock_up", "lock_up_Pa", "reference_inlet", "reference_inlet_Pa"}
	ofHolder  = names{"accumulation", "accumulation_Pa", "outlet_effect", "reseat", "reseat_Pa", "reference_outlet", "reference_outlet_Pa"}
)

// moves reads how the held pressure moves.
func (l *law) moves(n names, dome *device.DomeSpec) moved {
	if l.b.Nested("balance") != nil {
		return l.balanced(n, dome)
	}
	return moved{
		effect: l.number(n.effect, n.effect), bandPa: l.number(n.band, n.bandPa),
		deadBandPa: l.number("dead_band", "dead_band_Pa"), tightPa: l.number(n.tight, n.tightPa),
	}
}

// rubs is half the dead band as a lift.
func (m moved) rubs() float64 { return 0.5 * m.deadBandPa / max(m.bandPa, 1) }

func (l *law) reducer() solver.Device {
	dome, set := l.dome()
	m := l.moves(ofReducer, dome)
	c := l.coefficient(1)
	reference, stated := l.nominal(l.b, "reference_inlet")
	set, m.bandPa = l.onset(ofReducer, c, m, dome, set, reference)
	s := device.ReducerSpec{
		SetPa: set, Dome: dome, AtmospherePa: l.site.AtmospherePa,
		DroopPa: m.bandPa, SupplyEffect: m.effect, LockUpPa: m.tightPa, PoppetPa: m.poppetPa,
	}
	switch {
	case stated:
		s.ReferenceInletPa = reference
	case s.SupplyEffect == 0 || l.b.Nested("curve") != nil || dome != nil && dome.FromLoad:
	case l.referenceInletPa > 0:
		s.ReferenceInletPa = l.referenceInletPa
	default:
		s.SupplyEffect = 0 // in the base itself the inlet is the reference
	}
	trim := l.measured(c, &reading{true, &s.SetPa, &s.ReferenceInletPa, &s.SupplyEffect, &s.DroopPa})
	m.bandPa = s.DroopPa
	if s.ReferenceInletPa > 0 {
		l.settings["reference_inlet_Pa"] = s.ReferenceInletPa
	}
	l.preload(m, dome, set, s.ReferenceInletPa)
	lift := s.Lift()
	if text(l.b, "fault") == "loading lost" {
		lift = s.Lost()
	}
	l.seat, l.seatInletPa = &lift, s.ReferenceInletPa
	return l.fail(l.body(solver.Device{Passage: c, Lift: &lift, Trim: trim, OneWay: true, DeadBandZ: m.rubs()}), c)
}

// wantsBase reports whether a reducer's set holds at the base's inlet pressure
// and that matters.
func wantsBase(b *lang.Block) bool {
	if b.Kind != "reducer" || b.Has("reference_inlet") || b.Nested("curve") != nil {
		return false
	}
	if b.Nested("balance") != nil { // under a dome the forces need no reference
		loading := b.Nested("loading")
		return loading == nil || !loading.Has("dome")
	}
	r := reader{}
	return r.value(b, "supply_effect") != 0
}

func (l *law) holder() solver.Device {
	dome, set := l.dome()
	m := l.moves(ofHolder, dome)
	c := l.coefficient(1)
	reference := l.number("reference_outlet", "reference_outlet_Pa")
	set, m.bandPa = l.onset(ofHolder, c, m, dome, set, reference)
	s := device.HolderSpec{
		SetPa: set, Dome: dome, AtmospherePa: l.site.AtmospherePa,
		AccumulationPa: m.bandPa, OutletEffect: m.effect, ReferenceOutletPa: reference, PoppetPa: m.poppetPa,
	}
	trim := l.measured(c, &reading{false, &s.SetPa, &s.ReferenceOutletPa, &s.OutletEffect, &s.AccumulationPa})
	m.bandPa = s.AccumulationPa
	l.preload(m, dome, set, reference)
	lift := s.Lift()
	var closing *device.Lift
	if m.tightPa > 0 {
		down := s.Closing(m.tightPa)
		closing = &down
	}
	if text(l.b, "fault") == "loading lost" {
		lift, closing = s.Lost(), nil
	}
	d := solver.Device{Passage: c, Lift: &lift, Trim: trim, OneWay: true, Closing: closing, DeadBandZ: m.rubs()}
	return l.fail(l.body(d), c)
}
