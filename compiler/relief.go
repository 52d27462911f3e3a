package compiler

import (
	"math"

	"tapline/lang"
	"tapline/solver"
	"tapline/solver/device"
	"tapline/solver/fluid"
)

// What a relief device can pass, and how a case ends if it passes no more than it
// is certified for.
//
// The capacity is that of the device fully open at its relieving pressure (set plus
// overpressure, absolute) against the pressure behind it, with the gas that stands
// before it, at the temperature there: k the ideal-gas ratio, Z, T and the molar
// mass. It stands among the device's settings with all that it was made from: once
// with K_d, which is what happens, and once with the certified K_dr = 0.9 K_d (ISO
// 4126-1), with which protection is judged.

//
// K_b stands there as ISO 4126-1 has it, the flow against this back pressure over
// the critical one, and is part of the flow; API's K_b, for the lift of bellows, is
// another number and not used. K_c is API's: 0.9 with a rupture disc right before
// the device whose combination is not certified, else 1 (API 520 Part I; UG-127 of
// ASME BPVC VIII-1 has the same 0.9). It makes the certified capacity smaller; what
// happens is the flow through both.

// certified is K_dr over K_d.
const certified = 0.9

// behindDisc is K_c of a device behind a rupture disc.
const behindDisc = 0.9

// perKgH is one kg/h, mm2 and bar in ISO 4126-1's Q = C A K_dr p sqrt(M/(Z T)), M in
// kg/kmol: C is so much times psi at the critical ratio, 3.948 in the standard.
var perKgH = 3600 * 1e-6 * 1e5 * math.Sqrt(1e-3/device.GasConstant)

// capacity fills in the settings of a relief device of one case.
func (f *filler) capacity(c *Case, r *solver.Result, d *Device, s map[string]any) {
	set, ok := s["set_Pa"].(float64)
	over, _ := s["overpressure_Pa"].(float64)
	n := r.Nodes[d.In]
	of := n.Gas
	if of == nil {
		of = c.gases[d.In].mixture
	}
	if m, isFluid := of.(fluid.Composed); !ok || !isFluid || m == nil {
		return
	}
	at, t := set+over, n.TemperatureK
	if !(t > 0) || n.State == solver.Trapped {
		t = c.AmbientK
	}
	behind := r.Nodes[d.Out].PressurePa
	if !(behind > 0) || r.Nodes[d.Out].State == solver.Trapped {
		behind = c.Site.AtmospherePa
	}
	area, _ := s["orifice_m2"].(float64)
	kd, _ := s["kd"].(float64)
	beta, _ := s["beta"].(float64)
	kc := f.p.discFactor(c, d)
	nozzle := device.Nozzle{AreaM2: area, K: kd}
	s["relieving_Pa"], s["relieving_K"], s["back_Pa"] = at, t, behind
	s["opens_Pa"] = set + beta*(behind-c.Site.AtmospherePa)
	s["kdr"], s["kc"] = certified*kd, kc
	s["molar_mass_kg_mol"] = of.MolarMass()
	g, _, err := solver.GasAt(of, t, at)
	if err != nil {
		return // no capacity where the equation has no state
	}
	w := nozzle.Flow(at, min(behind, at), &g).W
	switch standard := "ISO 4126-1, API 520 Part I (gas)"; {
	case g.Liquid:
		s["standard"], s["density_kg_m3"] = "API 520 Part I (certified liquid)", g.DensityKgM3
		thin := g
		thin.ViscosityPaS = 0
		if full := nozzle.Flow(at, min(behind, at), &thin).W; full > 0 {
			s["kv"] = w / full
		}
	case f.saturatedSteam(of.(fluid.Composed), t, at):
		standard = "API 520 Part I (saturated steam)"
		w = device.SteamFlow(kd, area, at)
		s["kn"] = device.NapierCorrection(at)
		fallthrough
	default:
		s["standard"], s["k"] = standard, g.GammaIdeal
		s["Z"] = at * g.MolarMass / (g.DensityKgM3 * device.GasConstant * t)
		critical := nozzle.Flow(at, 0, &g).W
		if s["kn"] == nil {
			s["kb"] = w / critical
			s["C"] = perKgH * critical / (kd * area * at) * math.Sqrt(device.GasConstant*t*s["Z"].(float64)/g.MolarMass)
		}
	}
	s["capacity_kg_s"], s["certified_capacity_kg_s"] = w, certified*kc*w
	if c.Site.Reference != nil && !g.Liquid {
		s["certified_capacity_reference_m3_s"] = certified * kc * w / g.MolarMass * c.Site.Reference.MolarVolume()
	}
}

// discFactor is K_c of a relief device: whether a rupture disc stands right before
// it, with nothing but tube between.
func (p *Program) discFactor(c *Case, d *Device) float64 {
	last, at := d, d.In
	for range p.Devices {
		var next *Device
		for i := range p.Devices {
			o := &p.Devices[i]
			switch {
			case o == last || o.In != at && o.Out != at || o.Block.Type().Role == lang.AtNode:
			case next != nil || o.Element < 0:
				return 1 // a branch, a vessel
			default:
				next = o
			}
		}
		switch {
		case next == nil:
			return 1
		case next.Kind == "relief" && next.Out == at && text(c.Blocks[p.byTag[next.Tag]], "action") == "disc":
			return behindDisc
		case next.Kind != "tube":
			return 1
		}
		last, at = next, next.In+next.Out-at
	}
	return 1
}

// steamWithinK is how far above its dew point steam counts as saturated.
const steamWithinK = 5

// saturatedSteam reports whether a gas is water vapour near its dew point, in the
// range of the formula for steam.
func (f *filler) saturatedSteam(m fluid.Composed, tK, pPa float64) bool {
	if m.Basis().Phase == fluid.Liquid || pPa > device.MostSteamPa || !(f.composition(m)[lang.Water] > 0.999) {
		return false
	}
	_, _, err := m.Density(tK-steamWithinK, pPa)
	return err != nil // no gas there: within so much of its dew point
}

// protection is a case in which the relief devices pass what they are certified for
// and open at the top of their set tolerance; nil where none passes anything.
func (p *Program) protection(c *Case, r *solver.Result) *solver.Case {
	if r.Status != solver.Solved {
		return nil
	}
	var out *solver.Case
	for i := range p.Devices {
		d := &p.Devices[i]
		if d.Kind != "relief" || d.Element < 0 || !(r.Elements[d.Element].FlowKgS > 0) {
			continue
		}
		if out == nil {
			copied := *c.Solver
			copied.Devices = append([]solver.Device(nil), c.Solver.Devices...)
			copied.OneAnswer = true
			out = &copied
		}
		k := &out.Devices[d.Element]
		if k.Passage != nil {
			k.Passage = device.Part{Open: k.Passage, Share: certified * p.discFactor(c, d)}
		}
		if v := c.Blocks[i].Get("set"); v != nil && v.Quantity != nil && v.Quantity.HasHigh {
			if by := v.Quantity.High.PressurePa(c.Site) - v.Quantity.Nominal.PressurePa(c.Site); by > 0 && !math.IsInf(by, 0) {
				k.Lift, k.Closing = later(k.Lift, by), later(k.Closing, by)
			}
		}
	}
	return out
}

// later is a lift that begins at a pressure higher by so much.
func later(l *device.Lift, byPa float64) *device.Lift {
	if l == nil {
		return nil
	}
	out := *l
	out.Bias -= out.Up * byPa
	return &out
}
