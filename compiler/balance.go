package compiler

import (
	"tapline/lang"
	"tapline/lang/diag"
	"tapline/solver/device"
)

// A regulator known by the dimensions of its moving parts: the block balance, and
// what it says of the loading beside it.

// balanced computes how the held pressure moves from the block balance, and makes
// a dome one whose bias is a force.
func (l *law) balanced(n names, dome *device.DomeSpec) moved {
	b := l.b.Nested("balance")
	parts := l.parts(b, dome)
	spring := dome == nil || l.hasSpring(b)
	if spring {
		if parts.RateNM = l.value(b, "rate"); parts.RateNM == 0 {
			l.errorf("missing-attribute", b.KindRange, `rate = "48 N/mm"`, "balance needs rate: "+l.b.Tag+" is loaded by a spring")
		}
	} else if b.Has("rate") {
		l.assume("the rate of the spring of " + l.b.Tag + " is not used where it is loaded by its dome alone")
	}
	f := parts.Holder()
	if l.b.Kind == "reducer" {
		f = parts.Reducer()
	}
	if !(f.HeldM2 > 0) {
		return moved{bandPa: 1} // refused
	}
	m := moved{effect: f.Effect, bandPa: f.BandPa, deadBandPa: f.DeadBandPa, tightPa: f.TightPa, poppetPa: f.PoppetN / f.HeldM2, forces: &f}
	if l.has(n.tight) {
		m.tightPa = l.value(l.b, n.tight)
		if b.Has("seat_force") {
			l.excludes(l.b.Get(n.tight), n.tight, b.Get("seat_force"), "seat_force")
		}
	}
	if dome != nil {
		l.forced(b, dome, &f)
		loadPa := dome.Ratio*dome.FixedPa + (1-dome.Ratio)*l.site.AtmospherePa
		if dome.FixedPa == 0 {
			loadPa = dome.Ratio*max(l.domePa, l.site.AtmospherePa) + (1-dome.Ratio)*l.site.AtmospherePa
		}
		var least bool
		if m.bandPa, least = f.DomeBandPa(loadPa); least {
			l.assume("the " + n.band + " of " + l.b.Tag + " is taken to be 0.1 % of its load: its dome has next to no stiffness")
		}
	}
	l.settings[n.bandPa], l.settings[n.effect], l.settings[n.tightPa] = m.bandPa, m.effect, m.tightPa
	l.settings["dead_band_Pa"] = m.deadBandPa
	l.settings["held_area_m2"], l.settings["other_area_m2"] = f.HeldM2, f.OtherM2
	l.leftOut(n, b)
	return m
}

// leftOut says what the balance does not contain.
func (l *law) leftOut(n names, b *lang.Block) {
	what := "the forces of the flow and the change of the diaphragm's area over its travel"
	if text(b, "sensing") == "piston" {
		what = "the forces of the flow"
		if !b.Has("friction") {
			l.assume("the piston of " + l.b.Tag + " is taken to move without friction: none is stated")
		}
	}
	l.assume("the balance of " + l.b.Tag + " leaves out " + what + ": its " + n.band + " is the least there can be")
}

// parts reads the dimensions, and refuses those that cannot be.
func (l *law) parts(b *lang.Block, dome *device.DomeSpec) device.Balance {
	reducer := l.b.Kind == "reducer"
	poppet := reducer
	if v := b.Get("poppet"); v != nil && !v.Null {
		poppet = v.Flag
	}
	inSeat := reducer
	if side := text(b, "flow_to"); side != "" {
		inSeat = side == "seat"
	}
	p := device.Balance{
		SensingM2: device.Circle(l.value(b, "sensing_diameter")), SeatM2: device.Circle(l.value(b, "seat_diameter")),
		BalancingM2:  device.Circle(l.value(b, "balancing_diameter")),
		SensedInSeat: inSeat, OnElement: !reducer && !poppet, OutletBehind: text(b, "bonnet") == "outlet",
		PoppetRateNM: l.value(b, "poppet_rate"), PoppetPreloadN: l.value(b, "poppet_preload"),
		TravelM: l.value(b, "travel"), FrictionN: l.value(b, "friction"), SeatForceN: l.value(b, "seat_force"),
	}
	tooWide := func(name, hint string) {
		l.errorf("impossible-balance", b.Get(name).Range, hint, "the "+l.word(name)+" of "+l.b.Tag+" is not below its sensing diameter")
	}
	if p.SeatM2 > p.SensingM2 || p.SeatM2 == p.SensingM2 && !(p.OnElement && inSeat) {
		tooWide("seat_diameter", "the sensing diameter is that of the diaphragm or piston")
	}
	if p.BalancingM2 >= p.SensingM2 {
		tooWide("balancing_diameter", "it is about that of the seat")
	}
	if !poppet {
		needPoppet := []string{"poppet_rate", "poppet_preload"}
		if !reducer {
			needPoppet = append(needPoppet, "balancing_diameter")
		}
		for _, name := range needPoppet {
			if b.Has(name) {
				l.errorf("conflicting-attributes", b.Get(name).NameRange, "poppet = true, or leave it out", name+" belongs to a poppet, and "+l.b.Tag+" has none")
			}
		}
	}
	if p.OutletBehind && (reducer || dome != nil) {
		why := "its dome"
		if reducer {
			why = "a reducer, which holds its outlet"
		}
		l.errorf("conflicting-attributes", b.Get("bonnet").Range, "leave it out", `bonnet = "outlet" does not go with `+why)
	}
	if dome == nil {
		l.unused(b)
	}
	return p
}

// word is the name of a diameter in a sentence.
func (l *law) word(name string) string {
	if name == "seat_diameter" {
		return "seat diameter"
	}
	return "balancing diameter"
}

// unused says which dimensions of a dome are not used without one: a case may have
// a spring in its place.
func (l *law) unused(b *lang.Block) {
	for _, name := range []string{"bias_force", "dome_diameter", "dome_volume"} {
		if b.Has(name) {
			l.assume("the " + name + " of " + l.b.Tag + " is not used where it is loaded by a spring alone")
		}
	}
}

// hasSpring reports whether a spring stands beside the dome.
func (l *law) hasSpring(b *lang.Block) bool {
	return l.value(b, "bias_force") != 0 || l.value(l.b.Nested("loading"), "bias") != 0
}

// forced puts the areas and forces of the balance into the dome, and the dome's
// stiffness into the forces.
func (l *law) forced(b *lang.Block, dome *device.DomeSpec, f *device.Forces) {
	loading := l.b.Nested("loading")
	sensing := device.Circle(l.value(b, "sensing_diameter"))
	if b.Has("dome_diameter") {
		if loading.Has("ratio") {
			l.excludes(loading.Get("ratio"), "ratio", b.Get("dome_diameter"), "dome_diameter")
		}
		dome.Ratio = device.Circle(l.value(b, "dome_diameter")) / sensing
		l.settings["ratio"] = dome.Ratio
	}
	springN := dome.BiasPa * f.HeldM2
	if b.Has("bias_force") {
		if loading.Has("bias") {
			l.excludes(loading.Get("bias"), "bias", b.Get("bias_force"), "bias_force")
		}
		springN = l.value(b, "bias_force")
	}
	if v := b.Get("dome_volume"); v != nil && !v.Null {
		if dome.FixedPa == 0 {
			l.errorf("conflicting-attributes", v.NameRange, "leave it out", "dome_volume is of a dome that is shut in, and that of "+l.b.Tag+" follows a node")
		} else {
			rate := device.DomeRate(dome.FixedPa, dome.Ratio*sensing, l.value(b, "dome_volume"))
			f.BandPa += rate * l.value(b, "travel") / f.HeldM2
			l.settings["dome_rate_N_m"] = rate
		}
	}
	dome.FromLoad = true
	dome.BiasPa = f.BiasPa(springN)
	l.settings["bias_Pa"], l.settings["bias_force_N"] = dome.BiasPa, springN
}

// preload notes the force of the spring that gives the set: at once where the
// reference state is known, else, for a reducer in the base, which is that state
// itself, when the base's answer has its inlet.
func (l *law) preload(m moved, dome *device.DomeSpec, onsetPa, otherPa float64) {
	if m.forces == nil || dome != nil {
		return
	}
	note := func(otherPa float64) {
		l.settings["preload_N"] = m.forces.PreloadN(onsetPa, otherPa, l.site.AtmospherePa)
	}
	if otherPa > 0 || m.forces.OtherM2 == 0 {
		note(otherPa)
		return
	}
	l.solved = func(inletPa float64) {
		l.settings["reference_inlet_Pa"] = inletPa
		note(inletPa)
	}
}

// excludes reports two attributes of which one is too many.
func (l *law) excludes(v *lang.Value, name string, other *lang.Value, otherName string) {
	l.errorf("conflicting-attributes", v.NameRange, "leave one of them out", name+" and "+otherName+" exclude each other")
	l.found[len(l.found)-1].Related = []diag.Related{{Range: other.NameRange, Message: "the other one"}}
}
