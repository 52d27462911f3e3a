package compiler

import (
	"fmt"
	"math"
	"slices"

	"tapline/lang"
	"tapline/lang/diag"
	"tapline/solver"
	"tapline/solver/device"
)

// Measured flow curves. A curve was measured with some fluid at some pressure of
// the other side (a reducer's inlet, a holder's outlet). What it says of the device
// itself is how far that was open at each held pressure: its flow over that of the
// open flow coefficient at the same state, by the valve law. With the openings the
// curve holds for any gas and any pressures.
//
// The held pressures at no flow give the set and, over a family, the effect of the
// other side: the straight line through them (least squares). The stroke is the
// distance from that line over the farthest measured one; over the stroke stand the
// openings. So all points with flow are met as measured, those without as nearly as
// a line meets them.

// offLine is the distance of a no-flow point from the line, as a share of the band,
// from which it is told.
const offLine = 0.02

// A reading is what curves give of a regulator, where they stand in its spec.
type reading struct {
	reducer                          bool
	setPa, referencePa, effect, band *float64
}

// A curve is one measured curve, as absolute pressures and mass flows.
type curve struct {
	block   *lang.Block
	otherPa float64
	heldPa  []float64
	opening []float64
}

func (r *reading) other() string {
	if r.reducer {
		return "inlet"
	}
	return "outlet"
}

// opens gives the distance by which a held pressure has opened the device from
// onset.
func (r *reading) opens(onsetPa, heldPa float64) float64 {
	if r.reducer {
		return onsetPa - heldPa
	}
	return heldPa - onsetPa
}

// measured puts what the block's curves say into to and gives their openings; nil
// where there are none, or wrong ones.
func (l *law) measured(c device.Coefficient, to *reading) *device.Trim {
	var all []curve
	before := len(l.found)
	for _, n := range l.b.Blocks {
		if n.Kind == "curve" {
			all = append(all, l.curve(n, c, to))
		}
	}
	if len(all) == 0 || len(l.found) > before {
		return nil
	}
	reference := all[0].otherPa
	if x, stated := l.nominal(l.b, "reference_"+to.other()); stated && !l.b.Get("reference_"+to.other()).Default {
		reference = x
	}
	slices.SortStableFunc(all, func(a, b curve) int {
		switch {
		case a.otherPa < b.otherPa:
			return -1
		case a.otherPa > b.otherPa:
			return 1
		}
		return 0
	})
	for i := 1; i < len(all); i++ {
		if a, b := &all[i-1], &all[i]; b.otherPa-a.otherPa < 1e-3*b.otherPa {
			l.errorf("curve-twice", b.block.Range, "put their points into one curve, or leave one out",
				fmt.Sprintf("two curves of %s are measured at the same %s pressure", l.b.Tag, to.other()))
			l.found[len(l.found)-1].Related = []diag.Related{{Range: a.block.Range, Message: "the other one"}}
			return nil
		}
	}
	return l.family(all, reference, to)
}

// family makes one device of curves that are sorted by the pressure of the other
// side.
func (l *law) family(all []curve, reference float64, to *reading) *device.Trim {
	x, y := make([]float64, len(all)), make([]float64, len(all))
	for i, k := range all {
		x[i], y[i] = k.otherPa, k.heldPa[0]
	}
	slope := -*to.effect
	if len(all) > 1 {
		slope = slopeOf(x, y)
		l.assumeEffect(to, -slope)
	} else {
		l.assume(fmt.Sprintf("%s has a curve at one %s pressure; at others its held pressure is taken to move by %.3g %% of the difference",
			l.b.Tag, to.other(), 100*math.Abs(slope)))
	}
	mx, my := mean(x), mean(y)
	line := func(otherPa float64) float64 { return my + slope*(otherPa-mx) }
	band, off := 0.0, 0.0
	for _, k := range all {
		band = max(band, to.opens(line(k.otherPa), k.heldPa[len(k.heldPa)-1]))
		off = max(off, math.Abs(line(k.otherPa)-k.heldPa[0]))
	}
	if off > offLine*band {
		l.assume(fmt.Sprintf("the no-flow points of the curves of %s lie up to %.3g bar off a straight line over the %s pressure, which is taken for them",
			l.b.Tag, off/1e5, to.other()))
	}
	trim := &device.Trim{ByOutlet: !to.reducer}
	for _, k := range all {
		zs, os := []float64{0}, []float64{0}
		for j := 1; j < len(k.heldPa); j++ {
			if z := to.opens(line(k.otherPa), k.heldPa[j]) / band; z > zs[len(zs)-1] {
				zs, os = append(zs, z), append(os, k.opening[j])
			}
		}
		if len(zs) < 2 {
			l.errorf("curve-family", k.block.Range, "measure it again, or leave it out",
				fmt.Sprintf("all of this curve of %s lies beyond the onset of flow that the others give for its %s pressure", l.b.Tag, to.other()))
			return nil
		}
		trim.FamilyPa = append(trim.FamilyPa, k.otherPa)
		trim.Curves = append(trim.Curves, device.NewRising(zs, os))
	}
	if at := line(reference); l.b.Has("set") {
		l.assume(fmt.Sprintf("the curves of %s are moved by %.4g bar to its set", l.b.Tag, (*to.setPa-at)/1e5))
	} else {
		*to.setPa = at
		l.settings["set_Pa"] = at
	}
	*to.referencePa, *to.effect, *to.band = reference, -slope, band
	names := [2]string{"accumulation_Pa", "outlet_effect"}
	if to.reducer {
		names = [2]string{"droop_Pa", "supply_effect"}
	}
	l.settings[names[0]], l.settings[names[1]] = band, -slope
	l.settings["reference_"+to.other()+"_Pa"] = reference
	return trim
}

// assumeEffect says so where a family gives another effect than is stated.
func (l *law) assumeEffect(to *reading, effect float64) {
	if name := map[bool]string{true: "supply_effect", false: "outlet_effect"}[to.reducer]; l.b.Has(name) {
		l.assume(fmt.Sprintf("the curves of %s give it a %s of %.3g %%, whatever it states", l.b.Tag, name, 100*effect))
	}
}

func mean(x []float64) (m float64) {
	for _, v := range x {
		m += v / float64(len(x))
	}
	return m
}

// slopeOf is the slope of the straight line through points, by least squares.
func slopeOf(x, y []float64) float64 {
	mx, my, xx, xy := mean(x), mean(y), 0.0, 0.0
	for i := range x {
		xx += (x[i] - mx) * (x[i] - mx)
		xy += (x[i] - mx) * (y[i] - my)
	}
	return xy / xx
}

// curve reads one curve. A point that cannot be one is reported at its place.
func (l *law) curve(n *lang.Block, c device.Coefficient, to *reading) (k curve) {
	k.block = n
	if !n.Has(to.other()) {
		wrong := n.Get(map[bool]string{true: "outlet", false: "inlet"}[to.reducer])
		l.errorf("curve-side", wrong.NameRange, to.other()+` = "..."`,
			fmt.Sprintf("a curve of a %s is measured at an %s pressure", l.b.Kind, to.other()))
		return k
	}
	k.otherPa = l.value(n, to.other())
	f := l.fluid(text(n, "fluid"))
	if f == nil {
		return k
	}
	t := l.value(n, "temperature")
	of := countedAs(f, t, k.otherPa)
	last := 0.0
	for j, p := range n.Points() {
		w, ok := l.mass(p.List[0], p.List[0].Quantity.Nominal, of)
		if !ok {
			return k
		}
		held := p.List[1].Quantity.Nominal.PressurePa(l.site)
		in, out := k.otherPa, held
		if !to.reducer {
			in, out = held, k.otherPa
		}
		switch {
		case j == 0 && w != 0:
			l.errorf("curve-start", p.List[0].Range, `begin with ["0 slpm", ...], the pressure at which it shuts`,
				"the first point of a curve is the one at no flow; where the flow begins is not extrapolated")
			return k
		case !(in > out):
			l.errorf("curve-no-drop", p.List[1].Range, "look at the units: gauge or absolute?",
				fmt.Sprintf("at this point the outlet of %s would not be below its inlet", l.b.Tag))
			return k
		case j > 0 && !(w > last):
			l.errorf("curve-not-monotone", p.List[0].Range, "put the points in the order of flow, or leave this one out",
				"the flow does not rise from the point before to this one")
			return k
		case j > 0 && !(to.opens(k.heldPa[j-1], held) > 0):
			turns := "fall"
			if !to.reducer {
				turns = "rise"
			}
			l.errorf("curve-not-monotone", p.List[1].Range, "leave the point out, or measure it again",
				fmt.Sprintf("the held pressure of a %s has to %s from point to point as the flow rises, and does not to this one", l.b.Kind, turns))
			return k
		}
		o := 0.0
		if w > 0 {
			g, _, err := solver.GasAt(f, t, in)
			if err != nil {
				l.errorf("curve-state", p.Range, "look at the pressure, the temperature and the fluid of the curve",
					fmt.Sprintf("the fluid of this curve has no state at the inlet of this point: %v", err))
				return k
			}
			o = w / c.Flow(in, out, &g).W
		}
		switch {
		case !(o <= 1):
			l.errorf("curve-above-cv", p.Range, "raise cv, or mend the point",
				fmt.Sprintf("fully open, %s passes %.3g of the flow of this point: its cv is too small for it", l.b.Tag, 1/o))
			return k
		case j > 0 && !(o > k.opening[j-1]):
			l.errorf("curve-not-monotone", p.Range, "leave the point out, or measure it again",
				fmt.Sprintf("by the valve law %s is %.3g %% open at this point and %.3g %% at the one before; with the held pressure it has to open further", l.b.Tag, 100*o, 100*k.opening[j-1]))
			return k
		}
		last = w
		k.heldPa, k.opening = append(k.heldPa, held), append(k.opening, o)
	}
	return k
}

// LiftAt is the lift of a device as its pressures make it, not held between shut
// and open; false where it has none or is at rest at pressures that are not known.
func (p *Program) LiftAt(c *Case, r *solver.Result, d *Device) (float64, bool) {
	if d.Element < 0 || c.Solver.Devices[d.Element].Lift == nil {
		return 0, false
	}
	l, ref := c.Solver.Devices[d.Element].Lift, 0.0
	if l.Ref != 0 {
		ref = r.Nodes[p.Network.Elements[d.Element].Sense].PressurePa
	}
	z := l.At(r.Nodes[d.In].PressurePa, r.Nodes[d.Out].PressurePa, ref)
	return z, !math.IsNaN(z)
}
