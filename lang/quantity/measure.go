package quantity

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"github.com/alecthomas/participle/v2/lexer"
)

// as gives a reader of the same text for another dimension.
func (r *reader) as(d Dimension) *reader {
	other := *r
	other.d = d
	return &other
}

func isUnitOf(t *lexer.Token, d Dimension) bool {
	return t != nil && find(t.Value, d) != nil
}

// number reads the digits of a measure.
func (r *reader) number(m *measure) (float64, *Error) { return r.scaled(m, nil) }

// scaled reads the digits of a measure and converts them to SI by u. Decimals
// with a decimal factor are shifted, not multiplied, so that "1.1 barg" is
// 110000 Pa and no neighbour of it.
func (r *reader) scaled(m *measure, u *Unit) (float64, *Error) {
	text := m.Number.Value
	here := tokenPlace(&m.Number)
	if len(text) > MaxDigits {
		return 0, r.fail(here, fmt.Sprintf("the number has more than %d digits", MaxDigits), "")
	}
	sign := 1.0
	if m.Sign != nil {
		sign = -1
	}
	if m.Number.Type == kindFraction {
		x, ok := fraction(text)
		if !ok {
			return 0, r.fail(here, "the fraction divides by zero", `"1/4 in"`)
		}
		return toSI(sign*x, u), r.reasonable(x, here)
	}
	digits, exponent, _ := strings.Cut(strings.ToLower(text), "e")
	power := 0
	if exponent != "" {
		var err error
		if power, err = strconv.Atoi(exponent); err != nil || power > 30 || power < -30 {
			return 0, r.fail(here, "the exponent is out of all reason; at most 30 either way", "")
		}
	}
	x, _ := strconv.ParseFloat(text, 64) // at most 64 digits and 30 powers: always finite
	if err := r.reasonable(x, here); err != nil {
		return 0, err
	}
	if u != nil && u.decimal {
		x, _ = strconv.ParseFloat(digits+"e"+strconv.Itoa(power+u.tens), 64)
		return sign*x + 0, nil
	}
	return toSI(sign*x, u), nil
}

func (r *reader) reasonable(x float64, here place) *Error {
	if x > 1e30 || x != 0 && x < 1e-30 {
		return r.fail(here, "the number is out of all reason", "")
	}
	return nil
}

// fraction reads "1/4" and "1 1/2"; false if it divides by zero.
func fraction(text string) (float64, bool) {
	whole, part := 0.0, text
	if fields := strings.Fields(text); len(fields) == 2 {
		whole, _ = strconv.ParseFloat(fields[0], 64)
		part = fields[1]
	}
	top, bottom, _ := strings.Cut(part, "/")
	a, _ := strconv.ParseFloat(top, 64)
	b, _ := strconv.ParseFloat(bottom, 64)
	return whole + a/b, b != 0
}

// toSI converts a number in a unit. Temperatures are rounded to 1e-10 K, so
// that "-18 degC" is 255.15 K.
func toSI(x float64, u *Unit) float64 {
	switch {
	case u == nil:
		return x + 0
	case u.Offset != 0:
		return math.Round((x+u.Offset)*u.Factor*1e10) / 1e10
	case u.decimal:
		return shift(x, u.tens)
	}
	return x*u.Factor + 0 // + 0 makes a negative zero a plain one
}

// shift multiplies by a power of ten with one rounding.
func shift(x float64, tens int) float64 {
	if tens < 0 {
		return x/math.Pow10(-tens) + 0
	}
	return x*math.Pow10(tens) + 0
}

// quantity reads one measure with the unit that counts for it.
func (r *reader) quantity(m *measure, unit *lexer.Token, at *state) (Quantity, *Error) {
	var err *Error
	start, _ := m.span()
	q := Quantity{Number: r.text[start:tokenPlace(&m.Number).end]}
	if unit == nil {
		if at != nil {
			return q, r.noReference(at)
		}
		if r.d != Ratio && r.d != Number {
			return q, r.fail(m.place(), fmt.Sprintf("%q has no unit; a %s needs one", q.Number, r.d), r.withUnits(m))
		}
		q.SI, err = r.number(m)
		return q, err
	}
	q.Unit = unit.Value
	u := find(unit.Value, r.d)
	if at != nil {
		if u, q.Ref, err = r.stated(unit, at); err != nil {
			return q, err
		}
		q.Basis = OwnReference
	} else if u == nil {
		return q, r.wrongUnit(unit)
	} else {
		q.Basis, q.Ref = u.Basis, u.Ref
	}
	if q.SI, err = r.scaled(m, u); err != nil {
		return q, err
	}
	return q, r.possible(q, m)
}

// possible refuses what no gas can have.
func (r *reader) possible(q Quantity, m *measure) *Error {
	switch {
	case r.d == Pressure && q.Basis == Plain && q.SI < 0:
		u := find(q.Unit, Pressure)
		hint := ""
		if g := sibling(u.stem, Pressure, Gauge); g != nil {
			hint = fmt.Sprintf("%q is measured from the atmosphere", q.Number+" "+g.Name)
		}
		return r.fail(m.place(), "an absolute pressure cannot be below zero", hint)
	case r.d == Temperature && q.SI <= 0:
		return r.fail(m.place(), "the temperature is not above absolute zero", "")
	}
	return nil
}

// stated gives the plain volume unit of a flow that brings its own reference
// state, and that state.
func (r *reader) stated(unit *lexer.Token, at *state) (*Unit, Reference, *Error) {
	if r.d != GasFlow && r.d != AnyFlow {
		return nil, Reference{}, r.noReference(at)
	}
	u := find(unit.Value, AnyFlow)
	if u == nil {
		return nil, Reference{}, r.wrongUnit(unit)
	}
	if u.Basis != LiquidVolume {
		hint := "leave the reference state out"
		if p := sibling(u.stem, LiquidFlow, LiquidVolume); p != nil {
			hint = r.quoted(tokenPlace(unit), p.Name)
		}
		return nil, Reference{}, r.fail(tokenPlace(unit), fmt.Sprintf("%q says already how it is counted; a reference state goes with a plain volume", unit.Value), hint)
	}
	if at.Second == nil {
		return nil, Reference{}, r.fail(at.place(), "a reference state is a temperature and an absolute pressure", `"200 L/min at 21.1 degC, 1.01325 bara"`)
	}
	ref, err := r.reference(&at.First, at.Second)
	return u, ref, err
}

func (at *state) place() place {
	p := at.First.place()
	if at.Second != nil {
		p = p.to(at.Second.place())
	}
	p.start = at.At.Pos.Offset
	return p
}

func (r *reader) noReference(at *state) *Error {
	return r.fail(at.place(), fmt.Sprintf("a %s takes no reference state", r.d), r.example())
}

// reference reads a temperature and an absolute pressure.
func (r *reader) reference(t, p *measure) (Reference, *Error) {
	if isUnitOf(t.Unit, Pressure) && isUnitOf(p.Unit, Temperature) {
		return Reference{}, r.fail(t.place().to(p.place()), "the temperature comes first in a reference state", fmt.Sprintf("%q", r.at(p.place())+", "+r.at(t.place())))
	}
	temperature, err := r.as(Temperature).quantity(t, t.Unit, nil)
	if err != nil {
		return Reference{}, err
	}
	pressure, err := r.as(Pressure).quantity(p, p.Unit, nil)
	if err != nil {
		return Reference{}, err
	}
	if pressure.Basis == Gauge {
		absolute := sibling(find(pressure.Unit, Pressure).stem, Pressure, Plain)
		return Reference{}, r.fail(tokenPlace(p.Unit), "the pressure of a reference state must be absolute", fmt.Sprintf("in %s, such as \"15 degC, 101.325 kPaa\"", absolute.Name))
	}
	if pressure.SI <= 0 {
		return Reference{}, r.fail(p.place(), "the pressure of a reference state must be above zero", `"15 degC, 101.325 kPaa"`)
	}
	return Reference{TemperatureK: temperature.SI, PressurePa: pressure.SI}, nil
}

// differenceDimension is what a step or a tolerance of d is measured in.
func (d Dimension) differenceDimension() Dimension {
	switch d {
	case Pressure:
		return PressureDifference
	case Temperature:
		return TemperatureDifference
	}
	return d
}

// difference reads a step or a tolerance about a quantity, in SI. The unit is
// that of a difference: "5 bar" about "60 barg".
func (r *reader) difference(m *measure, unit *lexer.Token, about Quantity) (float64, *Error) {
	d := r.as(r.d.differenceDimension())
	if unit == nil {
		if about.Unit != "" {
			base := find(about.Unit, r.d)
			return 0, r.fail(m.place(), fmt.Sprintf("%q has no unit", r.at(m.place())), fmt.Sprintf("%q", r.at(m.place())+" "+differenceUnit(base, d.d)))
		}
		return r.number(m)
	}
	u := find(unit.Value, flowOr(d.d))
	if u == nil {
		return 0, d.wrongUnit(unit)
	}
	if about.Unit == "" {
		return 0, r.fail(tokenPlace(unit), fmt.Sprintf("%q stands on one side only", unit.Value), "write both with the unit, or both without")
	}
	if r.isFlow() && (u.Basis != find(about.Unit, AnyFlow).Basis) {
		return 0, r.fail(tokenPlace(unit), fmt.Sprintf("%q and %q do not compare: they are not counted at the same state", about.Unit, unit.Value), fmt.Sprintf("in %s", about.Unit))
	}
	return r.scaled(m, u)
}

func (r *reader) isFlow() bool { return r.d == GasFlow || r.d == LiquidFlow || r.d == AnyFlow }

// differenceUnit names the unit for a difference of values given in u.
func differenceUnit(u *Unit, d Dimension) string {
	switch {
	case d == TemperatureDifference:
		return "K"
	case d == PressureDifference:
		return u.stem
	}
	return u.Name
}

func fromSI(si float64, u *Unit) float64 {
	if u == nil {
		return si
	}
	return si/u.Factor - u.Offset
}

// shortest writes a number in at most 12 digits, so that 0.1 + 0.2 reads 0.3.
func shortest(x float64) string {
	s := strconv.FormatFloat(x, 'g', 12, 64)
	if strings.Contains(s, "e") {
		return s
	}
	if y, err := strconv.ParseFloat(s, 64); err == nil {
		return strconv.FormatFloat(y, 'f', -1, 64)
	}
	return s
}
