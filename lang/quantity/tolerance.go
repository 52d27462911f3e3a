package quantity

import (
	"fmt"
	"math"
)

// tolerance reads a nominal with what it may be off by. The tolerance is
//
//   - in the unit of the nominal, which is then written once: "25 +/- 0.5 psig",
//   - in a unit of differences: "25 psig +/- 0.5 psi", "20 degC +/- 2 K",
//   - or a percentage of the number as written: "25 psig +/- 2 %" is 0.5 psi.
//
// A nominal that is itself a percentage would read two ways with a percentage
// behind it, so that is an error.
func (r *reader) tolerance(p *plain) (Value, *Error) {
	if err := r.want(Tolerance, r.all()); err != nil {
		return Value{}, err
	}
	first, delta := &p.First, &p.Tolerance.Delta
	percent := delta.Unit != nil && delta.Unit.Value == "%"
	if r.d == Ratio && percent {
		return Value{}, r.ambiguous(first, delta)
	}
	unit := first.Unit
	shared := unit == nil && delta.Unit != nil && !percent
	if shared {
		unit = delta.Unit
	}
	nominal, err := r.quantity(first, unit, p.At)
	if err != nil {
		return Value{}, err
	}
	var width float64
	switch {
	case percent && r.d == Temperature:
		return Value{}, r.fail(delta.place(), "a percentage of a temperature depends on the scale", `"20 degC +/- 2 K"`)
	case percent:
		x, err := r.number(delta)
		if err != nil {
			return Value{}, err
		}
		width = x / 100 * math.Abs(nominal.SI)
	case shared:
		x, err := r.number(delta)
		if err != nil {
			return Value{}, err
		}
		width = x
		if u := find(unit.Value, flowOr(r.d)); u != nil {
			width = x * u.Factor // without the offset of a scale
		}
	default:
		if width, err = r.difference(delta, delta.Unit, nominal); err != nil {
			return Value{}, err
		}
	}
	if width < 0 {
		return Value{}, r.fail(delta.place(), "a tolerance cannot be below zero", "")
	}
	low, high := nominal, nominal
	low.SI, high.SI = nominal.SI-width, nominal.SI+width
	u := find(nominal.Unit, flowOr(r.d))
	low.Number, high.Number = shortest(fromSI(low.SI, u)), shortest(fromSI(high.SI, u))
	if err := r.possible(low, delta); err != nil {
		return Value{}, err
	}
	return Value{Form: Tolerance, Nominal: nominal, Low: low, High: high, HasLow: true, HasHigh: true}, nil
}

// flowOr widens a flow to every unit of flow: a gas flow at a reference state
// of its own carries a unit of plain volume.
func flowOr(d Dimension) Dimension {
	if d == GasFlow || d == LiquidFlow {
		return AnyFlow
	}
	return d
}

func (r *reader) ambiguous(first, delta *measure) *Error {
	both := first.place().to(delta.place())
	x, err := r.number(first)
	if err != nil {
		return err
	}
	y, err := r.number(delta)
	if err != nil {
		return err
	}
	scale := 1.0
	if first.Unit != nil {
		u := find(first.Unit.Value, Ratio)
		if u == nil {
			return r.wrongUnit(first.Unit)
		}
		scale = u.Factor
	}
	// Both readings, written without a percentage behind a ratio.
	n := x * scale
	hint := fmt.Sprintf("%q (of the value) or %q (points)", shortest(n)+" +/- "+shortest(math.Abs(n)*y/100), shortest(n)+" +/- "+shortest(y/100))
	if first.Unit == nil {
		hint = fmt.Sprintf("%s, or %q if both are percentages", hint, shortest(x/100)+" +/- "+shortest(y/100))
	}
	return r.fail(both, "a percentage behind a ratio can be a share of it or points added to it", hint)
}
