package quantity

import "fmt"

// value gives the meaning of the tree; with expand false the points of a
// series are counted but not made.
func (r *reader) value(v *value, expand bool) (Value, *Error) {
	var out Value
	var err *Error
	switch {
	case v.Bound != nil:
		out, err = r.bound(v.Bound)
	case v.Plain.Range != nil && (v.Plain.Range.Count != nil || v.Plain.Range.Step != nil):
		out, err = r.spaced(v.Plain, expand)
	case v.Plain.Range != nil:
		out, err = r.limits(v.Plain)
	case v.Plain.Tolerance != nil:
		out, err = r.tolerance(v.Plain)
	case v.Plain.Wall != nil:
		out, err = r.tube(v.Plain)
	case len(v.Plain.Rest) > 0:
		out, err = r.list(v.Plain)
	default:
		out, err = r.single(v.Plain)
	}
	if err != nil {
		return Value{}, err
	}
	out.Text = r.text
	return out, nil
}

// want refuses a form that the place does not take.
func (r *reader) want(f Form, p place) *Error {
	if r.allowed&f != 0 {
		return nil
	}
	return r.fail(p, fmt.Sprintf("%s does not fit here; what fits is %s", f.describe(), r.allowed.describe()), r.example())
}

func (r *reader) single(p *plain) (Value, *Error) {
	if r.allowed&AtPressure != 0 && r.d == Temperature {
		return r.atPressure(p)
	}
	if r.allowed&DropAtFlow != 0 && r.d == PressureDifference && p.At != nil {
		return r.dropAtFlow(p)
	}
	if p.At != nil && p.At.Second == nil && !isUnitOf(p.At.First.Unit, Temperature) &&
		(r.allowed&FlowAtDrop != 0 || isUnitOf(p.At.First.Unit, PressureDifference)) {
		return r.flowAtDrop(p)
	}
	if err := r.want(Single, r.all()); err != nil {
		return Value{}, err
	}
	q, err := r.quantity(&p.First, p.First.Unit, p.At)
	return Value{Form: Single, Nominal: q}, err
}

func (r *reader) flowAtDrop(p *plain) (Value, *Error) {
	if err := r.want(FlowAtDrop, r.all()); err != nil {
		return Value{}, err
	}
	// A leak is measured as plain volume at its outlet, so plain volume is right here for a gas too.
	d := r.d
	if d == GasFlow {
		d = AnyFlow
	}
	flow, err := r.as(d).quantity(&p.First, p.First.Unit, nil)
	if err != nil {
		return Value{}, err
	}
	drop, err := r.as(PressureDifference).quantity(&p.At.First, p.At.First.Unit, nil)
	return Value{Form: FlowAtDrop, Nominal: flow, Drop: drop}, err
}

func (r *reader) dropAtFlow(p *plain) (Value, *Error) {
	if p.At.Second != nil {
		return Value{}, r.fail(p.At.Second.place(), "one flow follows the difference of pressure, and nothing more", `"0.3 bar at 60 slpm"`)
	}
	drop, err := r.quantity(&p.First, p.First.Unit, nil)
	if err != nil {
		return Value{}, err
	}
	flow, err := r.as(AnyFlow).quantity(&p.At.First, p.At.First.Unit, nil)
	return Value{Form: DropAtFlow, Nominal: drop, At: flow}, err
}

func (r *reader) atPressure(p *plain) (Value, *Error) {
	const sample = `"-8 degC at 70 bara"`
	switch {
	case isUnitOf(p.First.Unit, Pressure) && p.At != nil && isUnitOf(p.At.First.Unit, Temperature):
		return Value{}, r.fail(r.all(), "the temperature comes first", fmt.Sprintf("%q", r.at(p.At.First.place())+" at "+r.at(p.First.place())))
	case p.At != nil && p.At.Second != nil:
		return Value{}, r.fail(p.At.Second.place(), "one pressure follows the temperature, and nothing more", sample)
	}
	t, err := r.quantity(&p.First, p.First.Unit, nil)
	if err != nil {
		return Value{}, err
	}
	if p.At == nil {
		if r.allowed&Single != 0 {
			return Value{Form: Single, Nominal: t}, nil
		}
		return Value{}, r.fail(r.all(), "the temperature belongs to a pressure, and none is stated", sample)
	}
	at, err := r.as(Pressure).quantity(&p.At.First, p.At.First.Unit, nil)
	return Value{Form: AtPressure, Nominal: t, At: at}, err
}

func (r *reader) bound(b *bound) (Value, *Error) {
	if err := r.want(Bound, r.all()); err != nil {
		return Value{}, err
	}
	q, err := r.quantity(&b.Measure, b.Measure.Unit, b.At)
	if err != nil {
		return Value{}, err
	}
	open := len(b.Operator.Value) == 1
	if b.Operator.Value[0] == '>' {
		return Value{Form: Bound, Low: q, HasLow: true, LowOpen: open}, nil
	}
	return Value{Form: Bound, High: q, HasHigh: true, HighOpen: open}, nil
}

func (r *reader) limits(p *plain) (Value, *Error) {
	if err := r.want(Range, r.all()); err != nil {
		return Value{}, err
	}
	low, high, err := r.ends(p)
	return Value{Form: Range, Low: low, High: high, HasLow: true, HasHigh: true}, err
}

// ends reads both sides of "a .. b".
func (r *reader) ends(p *plain) (low, high Quantity, err *Error) {
	m := &p.Range.High
	unit := p.First.Unit
	if unit == nil {
		unit = m.Unit
	}
	if high, err = r.quantity(m, m.Unit, p.At); err != nil {
		return
	}
	if low, err = r.quantity(&p.First, unit, p.At); err != nil {
		return
	}
	both := p.First.place().to(m.place())
	if err = r.comparable(low, high, both); err != nil {
		return
	}
	if low.SI > high.SI {
		err = r.fail(both, "the range runs from high to low", r.quoted(both, r.at(m.place())+" .. "+r.at(p.First.place())+r.missingUnit(&p.First, m)))
	}
	return
}

// missingUnit is what the left end of a range needs behind it when the two
// change places.
func (r *reader) missingUnit(left, right *measure) string {
	if left.Unit == nil && right.Unit != nil {
		return " " + right.Unit.Value
	}
	return ""
}

// comparable refuses two quantities that are not measured from the same thing.
func (r *reader) comparable(a, b Quantity, p place) *Error {
	if a.Basis == b.Basis && a.Ref == b.Ref {
		return nil
	}
	if r.d == Pressure {
		return r.fail(p, fmt.Sprintf("%q and %q do not compare: one is gauge, the other absolute", a.Unit, b.Unit), "write both in gauge or both in absolute pressure")
	}
	return r.fail(p, fmt.Sprintf("%q and %q do not compare: they are not counted at the same state", a.Unit, b.Unit), "write both with units of the same kind")
}

func (r *reader) tube(p *plain) (Value, *Error) {
	if err := r.want(Tube, r.all()); err != nil {
		return Value{}, err
	}
	if p.At != nil {
		return Value{}, r.noReference(p.At)
	}
	unit := p.First.Unit
	if unit == nil {
		unit = p.Wall.Unit
	}
	wall, err := r.quantity(p.Wall, p.Wall.Unit, nil)
	if err != nil {
		return Value{}, err
	}
	outside, err := r.quantity(&p.First, unit, nil)
	if err != nil {
		return Value{}, err
	}
	switch {
	case outside.SI <= 0:
		return Value{}, r.fail(p.First.place(), "the outside diameter must be above zero", `"6 mm x 1 mm"`)
	case wall.SI <= 0:
		return Value{}, r.fail(p.Wall.place(), "the wall must be above zero", `"6 mm x 1 mm"`)
	case 2*wall.SI >= outside.SI:
		return Value{}, r.fail(p.Wall.place(), "the wall leaves no bore: twice the wall must be less than the outside diameter", `outside diameter first, then wall: "6 mm x 1 mm"`)
	}
	return Value{Form: Tube, Nominal: outside, Wall: wall}, nil
}
