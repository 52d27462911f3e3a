package compiler

import (
	"math"

	"tapline/lang"
	"tapline/lang/quantity"
	"tapline/solver"
	"tapline/solver/device"
	"tapline/solver/fluid"
)

// Every kind of device gets its law here: attributes in, solver.Device out,
// with the numbers the law was made from as settings of the result.

const (
	// benchK is the temperature at which drops, least drops and leaks are taken to
	// be stated.
	benchK = 293.15
	// freeCv stands for a passage without resistance: at the flows of instrument
	// tubing it costs less than a ten-millionth of the pressure.
	freeCv = 1e4
	// checkBandPa is what a check valve needs above its cracking pressure to be
	// fully open; makers do not state it (common practice).
	checkBandPa = 2000
	// bendK is the loss of one bend of instrument tube, bent to about three
	// diameters, in velocity heads (handbooks give 0.2 to 0.4; from memory).
	bendK = 0.3
	// drawnRoughnessM is that of drawn tube, as the language's default for tubes has it
	// (common practice).
	drawnRoughnessM = 1.5e-6
	// stillAirWM2K and windWM2K are film coefficients outside a tube (common
	// practice); insulationWMK is the conductivity of lagging.
	stillAirWM2K, windWM2K, insulationWMK = 10.0, 25.0, 0.04
	// leastOverpressurePa is 3 psi, the least overpressure (UG-125).
	leastOverpressurePa = 3 * 6894.757293168361
)

// law makes the law of one device in one case.
type law struct {
	*reader
	b        *lang.Block
	gas      fluid.Composed // meant to be at its inlet; nil where none reaches
	ambientK float64
	settings map[string]any
	assume   func(sentence string)
	// referenceInletPa is the base's inlet pressure of a reducer that states no
	// reference inlet; 0 while the base itself is being solved.
	referenceInletPa float64
	// domePa is the base's pressure at the node that loads a regulator known by its
	// balance; 0 while it is not known.
	domePa float64
	// fluid makes the fluid of a name; nil where it is wrong, which is then said.
	fluid func(name string) fluid.Composed
	// oneOfSeveral is the tag of the source of gas, where unlike ones can come.
	oneOfSeveral string
	// from is what the base's answer lends; element and nodes find the device in it.
	from    base
	element int
	nodes   [2]int
	// charged is the dome of a regulator that is charged to a pressure, nil for
	// another loading.
	charged *device.DomeSpec
	// seat is the lift of a reducer's seat, before any fault but a lost loading, and the
	// inlet pressure at which its supply effect is nothing.
	seat        *device.Lift
	seatInletPa float64
	// solved is told the inlet pressure of the base's answer, where settings wait for it.
	solved func(inletPa float64)
	// home gives the site and the ambient temperature of the base.
	home func() (quantity.Site, float64)
}

// laws by kind of block.
var laws = map[string]func(*law) solver.Device{
	"tube": (*law).tube, "valve": (*law).valve, "orifice": (*law).orifice, "filter": (*law).filter,
	"check_valve": (*law).check, "meter": (*law).passage, "flow_controller": (*law).controller,
	"reducer": (*law).reducer, "holder": (*law).holder, "relief": (*law).relief,
	"analyzer": (*law).passage, "equipment": (*law).passage,
}

// number is a setting: read, noted under name, returned.
func (l *law) number(attribute, name string) float64 {
	x := l.value(l.b, attribute)
	l.settings[name] = x
	return x
}

func (l *law) has(name string) bool { return l.b.Has(name) }

// cv reads the flow coefficient; without one nothing resists.
func (l *law) cv() float64 {
	switch {
	case l.has("cv"):
		return l.number("cv", "cv")
	case l.has("kv"):
		l.settings["cv"] = l.value(l.b, "kv") / device.KvPerCv
		return l.settings["cv"].(float64)
	case l.has("drop"):
		return l.cvFromDrop()
	}
	l.assume(l.b.Tag + " states no resistance and is given none")
	return freeCv
}

// counted is what the block's flows count by, volumes of liquid at the atmosphere
// and 20 degC.
func (l *law) counted() counted {
	if l.oneOfSeveral != "" {
		l.assume("the flow stated of " + l.b.Tag + " is taken to be one of the gas of " + l.oneOfSeveral)
	}
	return countedAs(l.gas, benchK, l.site.AtmospherePa)
}

// coefficient is the Cv law of the block times share.
func (l *law) coefficient(share float64) device.Coefficient {
	c := device.Coefficient{Cv: l.cv() * share, XT: l.number("xt", "xt"), FL: l.value(l.b, "fl")}
	if l.has("seat") {
		c.SeatM = l.number("seat", "seat_m")
	}
	if l.has("fd") {
		c.Fd = l.number("fd", "fd")
	}
	return c
}

// cvFromDrop turns a drop at a flow into a Cv: at the state the scale is made
// for, else with its outlet at the atmosphere and at 20 degC.
func (l *law) cvFromDrop() float64 {
	if l.gas == nil {
		return freeCv
	}
	drop := l.number("drop", "drop_Pa")
	w, ok := l.flow(l.b, "flow", l.counted())
	if !ok {
		return freeCv
	}
	l.settings["drop_at_kg_s"] = w
	out, t := l.site.AtmospherePa, benchK
	if c := l.b.Nested("calibrated_for"); c != nil {
		out, t = l.value(c, "pressure"), l.value(c, "temperature")
	} else {
		l.assume("the drop of " + l.b.Tag + " is taken to hold with its outlet at the atmosphere and at 20 degC")
	}
	cv := l.cvFor(w, drop, out, t, l.value(l.b, "xt"))
	l.settings["cv"] = cv
	return cv
}

// cvFor is the Cv that passes w at a drop, with its outlet at outPa and at tK. A
// liquid is taken not to choke there: a bench is not run like that.
func (l *law) cvFor(w, drop, outPa, tK, xt float64) float64 {
	g := l.gasAt(tK, outPa+drop)
	if g.Liquid {
		g.VapourPressurePa = 0
		outPa = max(outPa, 9*drop)
	}
	return device.CvFor(w, outPa+drop, outPa, xt, g)
}

// gasAt is the law's gas at a state. Where it is none there, an ideal one of
// its mass stands in, or a plain liquid: the states asked for are benches, not answers.
func (l *law) gasAt(tK, pPa float64) *device.Gas {
	g, _, err := solver.GasAt(l.gas, tK, pPa)
	if err != nil && l.gas.Basis().Phase == fluid.Liquid {
		g = device.Gas{Liquid: true, PressurePa: pPa, TemperatureK: tK, DensityKgM3: 800, MolarMass: l.gas.MolarMass(), ViscosityPaS: 5e-4}
	} else if err != nil {
		m := l.gas.MolarMass()
		g = device.Gas{PressurePa: pPa, TemperatureK: tK, DensityKgM3: pPa * m / (quantity.GasConstant * tK), Exponent: 1,
			MolarMass: m, GammaIdeal: l.gas.GammaIdeal(tK), Kappa: l.gas.GammaIdeal(tK), ViscosityPaS: 1e-5}
	}
	return &g
}

// body is the heat exchange of a device.
func (l *law) body(d solver.Device) solver.Device {
	d.Heat = solver.Heat{UAWK: l.value(l.b, "ua")}
	return d
}

// fail lays the block's fault over its healthy law; open is its open passage.
func (l *law) fail(d solver.Device, open device.Law) solver.Device {
	switch faultOf(l.b) {
	case "wide open":
		d.Lift, d.Trim, d.Snap, d.Closing = nil, nil, false, nil
		d.Passage = open
		if l.has("fail_cv") {
			c, ok := open.(device.Coefficient)
			if !ok {
				c = device.Coefficient{XT: 0.7, FL: 0.9}
			}
			c.Cv = l.number("fail_cv", "fail_cv")
			d.Passage = c
		}
	case "shut", "plugged":
		d.Passage = nil
	case "stuck":
		d = l.stuck(d, open)
	case "seat leak":
		d.Leak = l.leak()
	case "diaphragm leak":
		d = l.ruptured(d, open)
	}
	return d
}

// leak is the passage past a leaking seat. A leak stated as a volume is counted
// at the atmosphere, where seats are tested (common practice).
func (l *law) leak() device.Law {
	if l.has("leak_cv") {
		return device.Coefficient{Cv: l.number("leak_cv", "leak_cv"), XT: 0.7, FL: 0.9}
	}
	v := l.b.Get("leak")
	if v == nil || l.gas == nil {
		return nil
	}
	out := l.site.AtmospherePa
	in := out + v.Quantity.Drop.SI
	of := l.counted()
	w, err := v.Quantity.Nominal.MassFlowKgS(l.site, of.molarMass, l.gasAt(benchK, out).DensityKgM3)
	if err != nil {
		w, _ = l.mass(v, v.Quantity.Nominal, of)
	}
	cv := l.cvFor(w, in-out, out, benchK, 0.7)
	l.settings["leak_cv"] = cv
	return device.Coefficient{Cv: cv, XT: 0.7, FL: 0.9}
}

func (l *law) tube() solver.Device {
	t := device.Tube{
		LengthM: l.number("length", "length_m"), RoughnessM: l.number("roughness", "roughness_m"),
		K: l.value(l.b, "k") + bendK*l.value(l.b, "bends"), RiseM: l.number("rise", "rise_m"),
	}
	var outer float64
	if size := l.b.Get("size"); size != nil && !size.Null {
		outer = size.Quantity.Nominal.SI
		t.BoreM = outer - 2*size.Quantity.Wall.SI
	} else {
		t.BoreM = l.value(l.b, "bore")
		outer = t.BoreM
	}
	l.settings["bore_m"] = t.BoreM
	l.tubeFittings(&t)
	film := stillAirWM2K
	if v := l.b.Get("wind"); v != nil && v.Flag {
		film = windWM2K
	}
	if thick := l.value(l.b, "insulation"); thick > 0 {
		r := outer / 2
		film = 1 / (1/film*r/(r+thick) + r*math.Log(1+thick/r)/insulationWMK)
	}
	heat := solver.Heat{LengthM: l.value(l.b, "length"), BoreM: t.BoreM, OuterM: outer, OutsideWM2K: film}
	if v, ok := l.nominal(l.b, "traced_to"); ok {
		heat.WallK = max(v, l.ambientK)
		if v < l.ambientK {
			l.assume("the tracing of " + l.b.Tag + " is below ambient in some case and is taken to be off there: tracing only heats")
		}
	}
	return l.fail(solver.Device{Passage: t, Mean: true, Heat: heat}, t)
}

func (l *law) valve() solver.Device {
	opening := l.number("opening", "opening")
	state := text(l.b, "state")
	if faultOf(l.b) == "wide open" {
		opening, state = 1, "open"
	}
	c := l.coefficient(1)
	c.Cv *= device.Opening(text(l.b, "characteristic"), opening)
	d := l.body(solver.Device{Passage: c})
	d = l.fail(d, c)
	if open, ok := d.Passage.(device.Coefficient); ok {
		d.Passage = l.fitted(open)
	}
	if state == "shut" || c.Cv == 0 {
		d.Passage = nil
	}
	return d
}

func (l *law) orifice() solver.Device {
	bore := l.number("bore", "bore_m")
	var p device.Law
	switch {
	case l.has("length"):
		p = device.Capillary{BoreM: bore, LengthM: l.number("length", "length_m")}
	case text(l.b, "edge") == "thick":
		p = device.ThickOrifice{BoreM: bore, Cd: l.number("cd", "cd")}
	default:
		p = device.SharpOrifice{BoreM: bore, Cd: l.number("cd", "cd")}
	}
	_, capillary := p.(device.Capillary)
	return l.fail(l.body(solver.Device{Passage: p, Mean: capillary}), p)
}

func (l *law) filter() solver.Device {
	c := l.coefficient(1 - l.number("fouled", "fouled"))
	return l.fail(l.body(solver.Device{Passage: c}), c)
}

func (l *law) passage() solver.Device {
	c := l.coefficient(1)
	return l.fail(l.body(solver.Device{Passage: c}), c)
}

func (l *law) check() solver.Device {
	c := l.coefficient(1)
	lift := device.CheckSpec{CracksAtPa: l.number("cracks_at", "cracks_at_Pa"), BandPa: checkBandPa}.Lift()
	d := l.fail(l.body(solver.Device{Passage: c, Lift: &lift, OneWay: true}), c)
	d.OneWay = !standsOpen(l.b)
	return d
}

// standsOpen reports whether a check valve has failed open: it then passes both
// ways.
func standsOpen(b *lang.Block) bool {
	return b.Kind == "check_valve" && faultOf(b) == "wide open"
}

// controller holds its set flow where its open passage can pass more: that
// passage gives full scale at the least drop, its outlet at the atmosphere.
func (l *law) controller() solver.Device {
	open := device.Coefficient{Cv: freeCv, XT: 0.7, FL: 0.9}
	d := l.body(solver.Device{OneWay: true})
	if l.gas != nil {
		set, ok := l.flow(l.b, "set", l.counted())
		if !ok {
			return d
		}
		l.settings["set_kg_s"] = set
		if drop, ok := l.nominal(l.b, "least_drop"); ok {
			full := set
			if v := l.b.Get("range"); v != nil && !v.Null && v.Quantity.HasHigh {
				if w, ok := l.mass(v, v.Quantity.High, countedAs(l.gas, benchK, l.site.AtmospherePa)); ok {
					full = w
				}
			}
			out := l.site.AtmospherePa
			open.Cv = l.cvFor(full, drop, out, benchK, open.XT)
			l.settings["least_drop_Pa"], l.settings["cv"] = drop, open.Cv
			l.assume("the least drop of " + l.b.Tag + " is taken to hold at full scale with its outlet at the atmosphere and at 20 degC")
		} else {
			l.assume(l.b.Tag + " states no least drop and holds its flow down to none")
		}
		if set > 0 {
			d.Passage = device.FlowController{SetKgS: set, Open: open}
		}
	}
	return l.fail(d, open)
}

// beta is what the back pressure adds to the set of a relief device. With the bonnet
// open to the atmosphere the inlet lifts the disc over the nozzle's area and the back
// pressure over what the disc is larger by: a disc larger than its nozzle opens
// earlier, the lower its set.
func (l *law) beta() float64 {
	switch text(l.b, "bonnet") {
	case "discharge":
		return 1
	case "atmosphere":
		r := l.number("disc_diameter", "disc_diameter_m") / l.number("nozzle_diameter", "nozzle_diameter_m")
		return 1 - r*r
	}
	return 0 // balanced bellows and pilots do not feel it
}

func (l *law) relief() solver.Device {
	set := l.number("set", "set_Pa")
	gauge := set - l.site.AtmospherePa
	over := max(l.value(l.b, "overpressure")*gauge, leastOverpressurePa)
	beta := l.beta()
	n := device.Nozzle{AreaM2: l.number("orifice", "orifice_m2"), K: l.number("kd", "kd")}
	spec := device.ReliefSpec{SetPa: set, OverpressurePa: over, Beta: beta, AtmospherePa: l.site.AtmospherePa}
	lift := spec.Lift()
	l.settings["overpressure_Pa"], l.settings["beta"] = over, beta
	d := l.body(solver.Device{Passage: n, Lift: &lift, OneWay: true})
	blowdown := l.value(l.b, "blowdown") * gauge
	switch text(l.b, "action") {
	case "pop":
		d.Snap, d.ReseatZ = true, -blowdown/over
	case "disc":
		d.Snap, d.ReseatZ = true, math.Inf(-1)
	default:
		if blowdown > 0 {
			closing := spec.Closing(blowdown)
			d.Closing = &closing
		}
	}
	return l.fail(d, n)
}
