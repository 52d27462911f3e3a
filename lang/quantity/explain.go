package quantity

import (
	"errors"
	"fmt"
	"strings"

	"github.com/alecthomas/participle/v2"
	"github.com/alecthomas/participle/v2/lexer"
)

// explain turns the parser's complaint, which knows only tokens, into what was
// meant and left out.
func (r *reader) explain(tokens []lexer.Token, err error) *Error {
	offset := len(r.text)
	var perr participle.Error
	if errors.As(err, &perr) {
		offset = min(perr.Position().Offset, len(r.text))
	}
	solid := tokens[:len(tokens)-1] // without the end of text
	bad := len(solid)
	for i := range solid {
		if solid[i].Pos.Offset >= offset {
			bad = i
			break
		}
	}
	if bad == len(solid) {
		return r.unfinished(&solid[len(solid)-1])
	}
	t := &solid[bad]
	here := tokenPlace(t)
	if bad == 0 {
		switch t.Type {
		case kindWord, kindKeyword:
			return r.fail(here, fmt.Sprintf("%q has no number before it", clip(t.Value)), r.example())
		}
		return r.fail(here, fmt.Sprintf("a value does not begin with %q", clip(t.Value)), r.example())
	}
	before := &solid[bad-1]
	both := tokenPlace(before).to(here)
	switch {
	case t.Type == kindWord && before.Type == kindWord:
		joined := before.Value + t.Value
		if u := nearest(joined, r.d); u != "" {
			return r.fail(both, fmt.Sprintf("%q is written in one word", clip(r.at(both))), r.quoted(both, u))
		}
		return r.fail(here, fmt.Sprintf("%q follows a unit", clip(t.Value)), r.example())
	case t.Type == kindWord && (before.Type == kindRange || before.Type == kindPlusMinus || before.Type == kindCompare || before.Type == kindComma || before.Type == kindKeyword || before.Type == kindSign):
		return r.fail(here, fmt.Sprintf("%q has no number before it", clip(t.Value)), r.example())
	case t.Type == kindSign && before.Type == kindWord, t.Type == kindSign && before.Type == kindNumber:
		return r.fail(here, `"-" does not make a range`, r.quoted(here, " .. "))
	case t.Type == kindSign && before.Type == kindSign:
		return r.fail(here, "two signs stand before one number", r.quoted(here, ""))
	case t.Type == kindNumber || t.Type == kindFraction:
		return r.fail(here, fmt.Sprintf("%q follows %q with nothing between them", clip(t.Value), clip(before.Value)), "write \"..\" for a range or \",\" for a list")
	case t.Type == kindKeyword && t.Value == "values":
		return r.fail(here, `"values" goes with the number of values of a range`, `"60 .. 110 barg, 11 values"`)
	case t.Type == kindKeyword && t.Value == "by":
		return r.fail(here, `"by" goes with a range`, `"60 .. 110 barg by 5 bar"`)
	case t.Type == kindCompare:
		return r.fail(here, fmt.Sprintf("%q stands only at the beginning", t.Value), "write \"..\" for a range")
	}
	return r.fail(here, fmt.Sprintf("%q does not belong here", clip(t.Value)), r.example())
}

// unfinished explains a text that stops too early; last is its last token.
func (r *reader) unfinished(last *lexer.Token) *Error {
	here := tokenPlace(last)
	switch {
	case last.Type == kindRange:
		return r.fail(here, "the range has no upper end", r.example())
	case last.Type == kindPlusMinus:
		return r.fail(here, "no tolerance follows", r.example())
	case last.Type == kindComma:
		return r.fail(here, "nothing follows the comma", "leave it out")
	case last.Type == kindNumber:
		return r.fail(here, "the series does not end", `"60 .. 110 barg, 11 values"`)
	}
	return r.fail(here, fmt.Sprintf("no number follows %q", clip(last.Value)), r.example())
}

// wrongUnit explains a unit that does not fit the dimension. Pressures and gas
// flows get the spellings that say what they are measured from.
func (r *reader) wrongUnit(t *lexer.Token) *Error {
	here := tokenPlace(t)
	if r.d == Number {
		return r.fail(here, fmt.Sprintf("a bare number is asked for, without %q", clip(t.Value)), r.quoted(here, ""))
	}
	if rows := spellings()[t.Value]; len(rows) > 0 {
		return r.otherKind(t, rows[0])
	}
	message := fmt.Sprintf("%q is not a unit of %s", clip(t.Value), r.d)
	if u := nearest(t.Value, r.d); u != "" {
		// Which of gauge and absolute a misspelt unit meant is not guessed either.
		if row := find(u, r.d); r.d == Pressure && !strings.EqualFold(plainer.Replace(t.Value), u) {
			return r.fail(here, message, r.gaugeOrAbsolute(here, row.stem))
		}
		return r.fail(here, message, r.quoted(here, u))
	}
	// A misspelt unit of another kind still shows which kind was meant.
	for _, d := range []Dimension{PressureDifference, Pressure} {
		if r.d == Pressure || r.d == PressureDifference {
			if u := nearest(t.Value, d); u != "" {
				return r.otherKind(t, find(u, d))
			}
		}
	}
	return r.fail(here, message, "one of "+r.someUnits())
}

// otherKind explains a unit that exists, but not for this dimension.
func (r *reader) otherKind(t *lexer.Token, u *Unit) *Error {
	here := tokenPlace(t)
	switch {
	case r.d == Pressure && u.Dimension == PressureDifference:
		return r.fail(here, fmt.Sprintf("%q says neither gauge nor absolute", t.Value), r.gaugeOrAbsolute(here, u.stem))
	case r.d == PressureDifference && u.Dimension == Pressure:
		return r.fail(here, fmt.Sprintf("a difference of pressure is neither gauge nor absolute, as %q says", t.Value), r.quoted(here, u.stem))
	case r.d == TemperatureDifference && u.Dimension == Temperature:
		hint := r.quoted(here, "K")
		if u.Factor != 1 {
			hint = "in K; a difference of 9 degF is \"5 K\""
		}
		return r.fail(here, fmt.Sprintf("a difference of temperature is given in K, not %q", t.Value), hint)
	case r.d == GasFlow && u.Basis == LiquidVolume:
		return r.fail(here, fmt.Sprintf("%q does not say at what state the gas is counted", t.Value), r.gasHint(here, u))
	case r.d == LiquidFlow && u.Dimension == GasFlow:
		hint := "one of " + r.someUnits()
		if p := sibling(u.stem, LiquidFlow, LiquidVolume); p != nil {
			hint = r.quoted(here, p.Name)
		}
		return r.fail(here, fmt.Sprintf("%q is a flow of gas; a liquid is asked for", t.Value), hint)
	}
	hint := "one of " + r.someUnits()
	if n := nearest(t.Value, r.d); n != "" {
		hint = r.quoted(here, n)
	}
	return r.fail(here, fmt.Sprintf("%q is a unit of %s; a %s is asked for", t.Value, u.Dimension, r.d), hint)
}

func (r *reader) gaugeOrAbsolute(here place, stem string) string {
	return fmt.Sprintf("%s (gauge) or %s (absolute)", r.quoted(here, stem+"g"), r.quoted(here, stem+"a"))
}

// gasHint lists the ways to say at what state a volume of gas is counted.
func (r *reader) gasHint(here place, u *Unit) string {
	var ways []string
	for _, w := range []struct {
		basis Basis
		what  string
	}{
		{OwnReference, "0 degC, 101.325 kPa"},
		{SiteReference, "the site's reference state"},
		{Actual, "actual"},
	} {
		if s := sibling(u.stem, GasFlow, w.basis); s != nil {
			ways = append(ways, fmt.Sprintf("%s (%s)", r.quoted(here, s.Name), w.what))
		}
	}
	return strings.Join(append(ways, r.quoted(here, u.Name+" at 15 degC, 101.325 kPaa")), ", ")
}

// withUnits shows a measure with the first units that fit.
func (r *reader) withUnits(m *measure) string {
	here := m.place()
	if r.d == Pressure {
		return r.gaugeOrAbsolute(here, r.at(here)+" bar")
	}
	return "such as " + r.quoted(here, r.at(here)+" "+r.d.Units()[0])
}

func (r *reader) someUnits() string {
	units := r.d.Units()
	const most = 10
	if len(units) > most {
		return strings.Join(units[:most], ", ") + " ..."
	}
	return strings.Join(units, ", ")
}

// examples shows one value of each dimension: number, higher number, unit,
// unit of differences.
var examples = [...][4]string{
	Pressure:              {"3.2", "4.5", " barg", " bar"},
	PressureDifference:    {"0.2", "0.5", " bar", " bar"},
	Temperature:           {"5", "40", " degC", " K"},
	TemperatureDifference: {"5", "10", " K", " K"},
	GasFlow:               {"1", "2", " slpm", " slpm"},
	LiquidFlow:            {"1", "2", " L/h", " L/h"},
	AnyFlow:               {"1", "2", " kg/h", " kg/h"},
	Length:                {"3", "5", " m", " m"},
	Area:                  {"12", "20", " mm2", " mm2"},
	Volume:                {"1", "2", " L", " L"},
	Mass:                  {"1", "2", " kg", " kg"},
	Force:                 {"5", "10", " N", " N"},
	Stiffness:             {"20", "50", " N/mm", " N/mm"},
	Time:                  {"30", "60", " s", " s"},
	Ratio:                 {"2", "95", " %", " %"},
	Number:                {"0.1", "0.5", "", ""},
	Power:                 {"100", "500", " W", " W"},
	Conductance:           {"1", "2", " W/K", " W/K"},
	HeatTransfer:          {"5", "20", " W/m2K", " W/m2K"},
	Speed:                 {"5", "10", " m/s", " m/s"},
	Density:               {"1", "2", " kg/m3", " kg/m3"},
}

// example shows what the place takes.
func (r *reader) example() string {
	e := examples[r.d]
	var s string
	switch {
	case r.allowed&Single != 0:
		s = e[0] + e[2]
	case r.allowed&Range != 0:
		s = e[0] + " .. " + e[1] + e[2]
	case r.allowed&Bound != 0:
		s = ">= " + e[0] + e[2]
	case r.allowed&Tolerance != 0:
		s = e[0] + e[2] + " +/- " + e[0] + e[3]
	case r.allowed&Tube != 0:
		s = "6 mm x 1 mm"
	case r.allowed&Series != 0:
		s = e[0] + " .. " + e[1] + e[2] + ", 5 values"
	case r.allowed&AtPressure != 0:
		s = "-8 degC at 70 bara"
	case r.allowed&DropAtFlow != 0:
		s = "0.3 bar at 60 slpm"
	default:
		s = "5 mL/min at 10 bar"
	}
	return fmt.Sprintf("such as %q", s)
}

// describe lists forms in words: "a single value or a range".
func (f Form) describe() string {
	var words []string
	for _, w := range []struct {
		form Form
		name string
	}{
		{Single, "a single value"},
		{Range, "a range"},
		{Bound, "a bound"},
		{Tolerance, "a tolerance"},
		{Series, "a series of values"},
		{Tube, "a tube size"},
		{FlowAtDrop, "a flow at a pressure difference"},
		{AtPressure, "a temperature at a pressure"},
		{DropAtFlow, "a pressure difference at a flow"},
	} {
		if f&w.form != 0 {
			words = append(words, w.name)
		}
	}
	if len(words) > 1 {
		return strings.Join(words[:len(words)-1], ", ") + " or " + words[len(words)-1]
	}
	return strings.Join(words, "")
}
