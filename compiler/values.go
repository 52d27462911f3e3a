package compiler

import (
	"slices"

	"tapline/lang"
	"tapline/lang/diag"
	"tapline/lang/quantity"
	"tapline/solver/fluid"
)

// Reading merged blocks: every number in SI, every complaint at its place.

// reader reads the blocks of one case at one site.
type reader struct {
	site  quantity.Site
	found []diag.Diagnostic
}

func (r *reader) errorf(code string, at diag.Range, hint, message string) {
	r.found = append(r.found, diag.Diagnostic{Code: code, Level: diag.Error, Range: at, Message: message, Hint: hint})
}

// nominal gives the SI number of an attribute as written or by default, and
// whether there is one. Gauge pressures are made absolute.
func (r *reader) nominal(b *lang.Block, name string) (float64, bool) {
	v := b.Get(name)
	switch {
	case v == nil || v.Null:
		return 0, false
	case v.Quantity == nil:
		return v.Number, true
	}
	return v.Quantity.Nominal.PressurePa(r.site), true
}

// value is nominal with 0 where there is none.
func (r *reader) value(b *lang.Block, name string) float64 {
	x, _ := r.nominal(b, name)
	return x
}

// text gives a choice or a name.
func text(b *lang.Block, name string) string {
	if v := b.Get(name); v != nil {
		return v.Text
	}
	return ""
}

// counted is what turns a stated flow into mass.
type counted struct {
	molarMass  float64
	liquidKgM3 float64 // density of a liquid where the flow is stated; 0 for gas
	unmeasured error   // why a liquid has none
}

// countedAs is what flows of f count by, a liquid's at tK and at pPa or, where it
// would boil there, at its bubble pressure.
func countedAs(f fluid.Composed, tK, pPa float64) (c counted) {
	c.molarMass = f.MolarMass()
	if f.Basis().Phase == fluid.Liquid {
		c.liquidKgM3, _, c.unmeasured = f.Density(tK, pPa)
	}
	return c
}

// flow gives an attribute that is a flow as mass [kg/s]. Volumes of gas at the
// local state are refused: what the local state is depends on the answer.
func (r *reader) flow(b *lang.Block, name string, of counted) (float64, bool) {
	v := b.Get(name)
	if v == nil || v.Null || v.Quantity == nil {
		return 0, false
	}
	w, err := r.mass(v, v.Quantity.Nominal, of)
	return w, err
}

// mass converts one flow of a value to kg/s.
func (r *reader) mass(v *lang.Value, q quantity.Quantity, of counted) (float64, bool) {
	liquid := of.liquidKgM3 > 0 || of.unmeasured != nil
	switch q.Basis {
	case quantity.Actual, quantity.LiquidVolume:
		if of.unmeasured != nil {
			r.errorf("wrong-flow", v.Range, "", "this volume has no mass: "+of.unmeasured.Error())
			return 0, false
		}
		if !liquid {
			r.errorf("wrong-flow", v.Range, `a volume at a reference state ("2 slpm", "2 NL/min") or a mass ("3 g/min")`,
				"a gas flow needs its reference state; "+q.Unit+" counts the volume at the local pressure")
			return 0, false
		}
	case quantity.SiteReference, quantity.OwnReference:
		if liquid {
			r.errorf("wrong-flow", v.Range, `a volume ("2 L/h") or a mass ("3 kg/h")`, q.Unit+" counts gas, and this is a liquid")
			return 0, false
		}
	}
	w, err := q.MassFlowKgS(r.site, of.molarMass, of.liquidKgM3)
	if err != nil {
		r.noReference(v, q.Unit)
		return 0, false
	}
	return w, true
}

// plausible refuses, anywhere in the blocks of a case, gas counted at a reference
// state that the site does not state, and single pressures below absolute zero.
func (r *reader) plausible(blocks []*lang.Block) {
	for _, b := range blocks {
		var wrong []string
		for name, v := range b.Attrs {
			if v == nil || v.Null || v.Quantity == nil {
				continue
			}
			if unit, below := r.unmeasurable(v.Quantity); unit != "" || below {
				wrong = append(wrong, name)
			}
		}
		slices.Sort(wrong)
		for _, name := range wrong {
			r.measurable(b.Attrs[name])
		}
		for _, point := range b.Points() {
			r.measurable(point.List[0])
			r.measurable(point.List[1])
		}
		r.plausible(b.Blocks)
	}
}

// measurable is plausible for one value.
func (r *reader) measurable(v *lang.Value) {
	unit, vacuum := r.unmeasurable(v.Quantity)
	if unit != "" {
		r.noReference(v, unit)
	}
	if vacuum {
		r.errorf("below-vacuum", v.Range, "", "this pressure is not above absolute zero at the site's atmosphere")
	}
}

// unmeasurable gives the unit, if any, that wants a reference state which the site does
// not state, and whether q is a pressure below absolute zero.
func (r *reader) unmeasurable(q *quantity.Value) (unit string, vacuum bool) {
	for _, x := range []*quantity.Quantity{&q.Nominal, &q.Low, &q.High, &q.At} {
		if x.Basis == quantity.SiteReference && r.site.Reference == nil {
			unit = x.Unit
			break
		}
	}
	return unit, below(&q.Nominal, r.site) || below(&q.At, r.site)
}

// below tells a gauge pressure that is not above absolute zero.
func below(q *quantity.Quantity, s quantity.Site) bool {
	return q.Basis == quantity.Gauge && !(q.PressurePa(s) > 0)
}

func (r *reader) noReference(v *lang.Value, unit string) {
	r.errorf("no-reference-state", v.Range, `site { reference_state = "15 degC, 101.325 kPaa" }`,
		unit+" counts gas at the site's reference state, and the site states none")
}
