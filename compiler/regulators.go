package compiler

import (
	"tapline/lang"
	"tapline/solver"
	"tapline/solver/device"
)

// dome reads a loading block: nil for the plain spring of the set.
func (l *law) dome() (dome *device.DomeSpec, spring float64) {
	n := l.b.Nested("loading")
	if n == nil {
		return nil, l.number("set", "set_Pa")
	}
	if !n.Has("dome") {
		spring = l.value(n, "set") + l.value(n, "bias")
		l.settings["set_Pa"] = spring
		return nil, spring
	}
	dome = &device.DomeSpec{Ratio: l.value(n, "ratio"), BiasPa: l.value(n, "bias")}
	l.settings["ratio"], l.settings["bias_Pa"] = dome.Ratio, dome.BiasPa
	if v := n.Get("dome"); v.Quantity != nil {
		l.charged = dome
		dome.FixedPa = v.Quantity.Nominal.PressurePa(l.site)
		l.settings["dome_Pa"] = dome.FixedPa
	}
	return dome, 0
}

func (l *law) reducer() solver.Device {
	dome, set := l.dome()
	s := device.ReducerSpec{
		SetPa: set, Dome: dome, AtmospherePa: l.site.AtmospherePa,
		DroopPa: l.number("droop", "droop_Pa"), SupplyEffect: l.number("supply_effect", "supply_effect"),
		LockUpPa: l.number("lock_up", "lock_up_Pa"),
	}
	switch reference, stated := l.nominal(l.b, "reference_inlet"); {
	case stated:
		s.ReferenceInletPa = reference
	case s.SupplyEffect == 0:
	case l.referenceInletPa > 0:
		s.ReferenceInletPa = l.referenceInletPa
	default:
		s.SupplyEffect = 0 // in the base itself the inlet is the reference
	}
	if s.ReferenceInletPa > 0 {
		l.settings["reference_inlet_Pa"] = s.ReferenceInletPa
	}
	lift := s.Lift()
	if text(l.b, "fault") == "loading lost" {
		lift = s.Lost()
	}
	c := l.coefficient(1)
	return l.fail(l.body(solver.Device{Passage: c, Lift: &lift, OneWay: true, DeadBandZ: l.rubs(s.DroopPa)}), c)
}

// rubs is half the dead band as a lift, on a ramp bandPa wide.
func (l *law) rubs(bandPa float64) float64 {
	return 0.5 * l.number("dead_band", "dead_band_Pa") / max(bandPa, 1)
}

// wantsBase reports whether a reducer's set holds at the base's inlet pressure
// and that matters.
func wantsBase(b *lang.Block) bool {
	if b.Kind != "reducer" || b.Has("reference_inlet") {
		return false
	}
	r := reader{}
	return r.value(b, "supply_effect") != 0
}

func (l *law) holder() solver.Device {
	dome, set := l.dome()
	s := device.HolderSpec{
		SetPa: set, Dome: dome, AtmospherePa: l.site.AtmospherePa,
		AccumulationPa: l.number("accumulation", "accumulation_Pa"), OutletEffect: l.number("outlet_effect", "outlet_effect"),
		ReferenceOutletPa: l.number("reference_outlet", "reference_outlet_Pa"),
	}
	lift := s.Lift()
	var closing *device.Lift
	if reseat := l.number("reseat", "reseat_Pa"); reseat > 0 {
		down := s.Closing(reseat)
		closing = &down
	}
	if text(l.b, "fault") == "loading lost" {
		lift, closing = s.Lost(), nil
	}
	c := l.coefficient(1)
	d := solver.Device{Passage: c, Lift: &lift, OneWay: true, Closing: closing, DeadBandZ: l.rubs(s.AccumulationPa)}
	return l.fail(l.body(d), c)
}
