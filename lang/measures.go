package lang

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"tapline/lang/quantity"
)

// The attributes that hold an engineering value, and what is said where one
// cannot be read.

func (in *interpreter) reference(v *Value) bool {
	ref, err := quantity.ParseReference(v.Text)
	if err != nil {
		in.quantityError(v, quantity.Pressure, err)
		return false
	}
	v.Reference = &ref
	return true
}

// number takes a bare number, or a text where it has a tolerance.
func (in *interpreter) number(a *Attribute, v *Value) bool {
	switch v.shape {
	case isNumber:
		q := quantity.Quantity{SI: v.Number, Number: strconv.FormatFloat(v.Number, 'g', -1, 64)}
		v.Quantity = &quantity.Value{Form: quantity.Single, Nominal: q, Text: q.Number}
	case isText:
		q, err := in.parse(v.Text, quantity.Number, in.forms(a.Forms))
		if err != nil {
			in.quantityError(v, quantity.Number, err)
			return false
		}
		v.Quantity, v.Number = q, q.Nominal.SI
		if q.Form&several != 0 {
			return in.several(a, v, quantity.Number)
		}
	default:
		in.wrong(v, a.example(), "%s takes a number, not %s", a.Name, v.shape.words())
		return false
	}
	return in.limits(a, v)
}

func (in *interpreter) quantity(a *Attribute, v *Value, sibling func(string) *Value) bool {
	dim := a.Dimension
	if a.By != nil {
		s := sibling(a.By.Attribute)
		if s == nil {
			return false
		}
		i := slices.IndexFunc(a.By.Dimensions, func(k Key) bool { return k.Name == s.Text })
		if i < 0 {
			return false // the sibling's own mistake is reported
		}
		dim = a.By.Dimensions[i].Dimension
	}
	switch {
	case v.shape == isNumber:
		in.found.errorf(wrongUnit, v.Range, withUnit(strconv.FormatFloat(v.Number, 'g', -1, 64), dim),
			"%s needs its unit, in a text", a.Name)
		return false
	case v.shape != isText:
		in.wrong(v, a.example(), "%s takes a %s in quotes, not %s", a.Name, dim, v.shape.words())
		return false
	case v.Text == "adjusted":
		in.found.errorf(notYetBuilt, v.Range, "state a value", `%s = "adjusted" is part of the language and not yet built in this version`, a.Name)
		return false
	}
	q, err := in.parse(v.Text, dim, in.forms(a.Forms))
	if err != nil {
		in.quantityError(v, dim, err)
		return false
	}
	if dim == quantity.Ratio && q.Nominal.Unit == "" && q.Low.Unit == "" && q.High.Unit == "" && (q.Form != quantity.Series || q.Points[0].Unit == "") {
		in.found.errorf(wrongUnit, v.Range, withUnit(strings.TrimSpace(v.Text), dim), "%s needs its unit", a.Name)
		return false
	}
	v.Quantity = q
	if q.Form&several != 0 && a.Forms&several == 0 {
		return in.several(a, v, dim)
	}
	return in.limits(a, v)
}

// withUnit shows a number with the units it may have been meant in.
func withUnit(number string, dim quantity.Dimension) string {
	switch dim {
	case quantity.Pressure:
		return fmt.Sprintf("%q (gauge) or %q (absolute)", number+" barg", number+" bara")
	case quantity.PressureDifference:
		return strconv.Quote(number + " bar")
	case quantity.Ratio:
		if n, err := strconv.ParseFloat(number, 64); err == nil && math.Abs(n) <= 1 {
			return fmt.Sprintf("%q or %q", strconv.FormatFloat(n*100, 'g', 12, 64)+" %", number+" %")
		}
		return strconv.Quote(number + " %")
	}
	if us := dim.Units(); len(us) > 0 {
		return strconv.Quote(number + " " + us[0])
	}
	return ""
}

// anyForm is every way to write a value that cannot grow large.
const anyForm = quantity.Single | quantity.Range | quantity.Bound | quantity.Tolerance

// quantityError reports what the grammar of quantities found, at the very
// characters, under a code that says what kind of mistake it is.
func (in *interpreter) quantityError(v *Value, dim quantity.Dimension, err error) {
	if in.found.full(v.Range.File) {
		in.found.errorf(badValue, v.Range, "", "")
		return
	}
	qe := &quantity.Error{Message: err.Error(), End: len(v.Text)}
	errors.As(err, &qe)
	in.found.errorf(mistake(v.Text, dim, qe), v.Within(qe.Start, qe.End), qe.Hint, "%s", qe.Message)
}

// mistake tells a wrong unit, and the one wrong unit that matters most, from a
// value that cannot be read at all.
func mistake(text string, dim quantity.Dimension, e *quantity.Error) string {
	fits := func(text string, d quantity.Dimension) bool {
		_, err := quantity.Parse(text, d, anyForm)
		return err == nil
	}
	at := text[min(max(e.Start, 0), len(text)):min(max(e.End, 0), len(text))]
	first, _ := utf8.DecodeRuneInString(at)
	switch {
	case fits(text, dim):
		return badValue // the form is wrong, not the unit
	case dim == quantity.Pressure && fits("1 "+at, quantity.PressureDifference),
		dim == quantity.PressureDifference && fits("1 "+at, quantity.Pressure):
		return gaugeAbsolute
	case unicode.IsLetter(first) || first == '%' || first == '°':
		return wrongUnit
	}
	for d := quantity.Pressure; d <= quantity.Density; d++ {
		if d != dim && fits(text, d) {
			return wrongUnit
		}
	}
	return badValue
}

// limits holds every number of v against what the schema allows.
func (in *interpreter) limits(a *Attribute, v *Value) bool {
	l := a.Limits
	if l == nil {
		return true
	}
	q := v.Quantity
	ok := true
	hold := func(n *quantity.Quantity) { ok = ok && (n.Basis == quantity.Gauge || l.holds(n.SI)) }
	switch q.Form {
	case quantity.Tube:
		return in.tube(a, v)
	case quantity.Single, quantity.FlowAtDrop:
		hold(&q.Nominal)
	case quantity.AtPressure, quantity.DropAtFlow:
		hold(&q.Nominal)
		hold(&q.At)
	case quantity.Series:
		for i := range q.Points {
			hold(&q.Points[i])
		}
	default:
		if q.HasLow || q.Form == quantity.Tolerance {
			hold(&q.Low)
		}
		if q.HasHigh || q.Form == quantity.Tolerance {
			hold(&q.High)
		}
	}
	if !ok {
		in.found.errorf(outsideLimits, v.Range, "", "%s must be %s", a.Name, l.Text)
	}
	return ok
}

func (l *Limits) holds(x float64) bool {
	return !math.IsNaN(x) && (x > l.Low || x == l.Low && !l.LowOpen) && (x < l.High || x == l.High && !l.HighOpen)
}

// tube sees to it that something is left of the bore.
func (in *interpreter) tube(a *Attribute, v *Value) bool {
	q := v.Quantity
	if q.Wall.SI > 0 && q.Nominal.SI > 2*q.Wall.SI {
		return true
	}
	in.found.errorf(outsideLimits, v.Range, `"6 mm x 1 mm" has a bore of 4 mm`, "%s leaves no bore: outside diameter x wall", a.Name)
	return false
}

// parseDefault reads the default of a row, once.
func (a *Attribute) parseDefault() *Value {
	v := &Value{shape: isText, Text: a.Default}
	switch a.Type {
	case TypeFlag:
		v = &Value{shape: isFlag, Flag: a.Default == "true"}
	case TypeNumber:
		n, err := strconv.ParseFloat(a.Default, 64)
		if err != nil {
			panic("schema: " + a.Name + ": " + err.Error())
		}
		v = &Value{shape: isNumber, Number: n}
	}
	found := newCollector()
	if !newInterpreter(found).value(a, v, func(string) *Value { return nil }) || len(found.list) > 0 {
		panic(fmt.Sprintf("schema: default of %s: %v", a.Name, found.list))
	}
	v.Default = true
	return v
}
