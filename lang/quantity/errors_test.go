package quantity

import (
	"strings"
	"testing"
)

// Each bad text: the characters underlined, a part of the message, a part of
// the hint.
func TestBad(t *testing.T) {
	digits := strings.Repeat("9", 65)
	for _, c := range []struct {
		text                 string
		d                    Dimension
		under, message, hint string
	}{
		// Gauge, absolute and difference, every way round.
		{"3 bar", Pressure, "bar", "neither gauge nor absolute", `"3 barg" (gauge) or "3 bara" (absolute)`},
		{"3 psi", Pressure, "psi", "neither gauge nor absolute", `"3 psig" (gauge) or "3 psia" (absolute)`},
		{"3 psid", Pressure, "psid", "neither gauge nor absolute", `"3 psig" (gauge) or "3 psia" (absolute)`},
		{"0.9 .. 1.1 bar", Pressure, "bar", "neither", `"0.9 .. 1.1 barg" (gauge) or "0.9 .. 1.1 bara" (absolute)`},
		{">= 2 kPa", Pressure, "kPa", "neither", `">= 2 kPag" (gauge) or ">= 2 kPaa" (absolute)`},
		{"0.3 barg", PressureDifference, "barg", "a difference of pressure", `"0.3 bar"`},
		{"0.3 bara", PressureDifference, "bara", "a difference of pressure", `"0.3 bar"`},
		{"5 psia", PressureDifference, "psia", "a difference of pressure", `"5 psi"`},
		{"1 barg .. 2 bara", Pressure, "1 barg .. 2 bara", "one is gauge", "both in gauge"},
		{"1 barg, 2 bara", Pressure, "1 barg, 2 bara", "one is gauge", "both"},
		{"25 psig +/- 0.5 psig", Pressure, "psig", "a difference of pressure", `"25 psig +/- 0.5 psi"`},
		{"25 psig +/- 0.5", Pressure, "0.5", "no unit", `"0.5 psi"`},
		{"60 .. 110 barg by 5 barg", Pressure, "barg", "a difference", `"60 .. 110 barg by 5 bar"`},
		{"60 .. 110 barg by 5", Pressure, "5", "no unit", `"5 bar"`},
		{"3", Pressure, "3", "no unit", `"3 barg" (gauge) or "3 bara" (absolute)`},
		{"-1 bara", Pressure, "-1 bara", "below zero", `"-1 barg"`},
		{"0.1 bara +/- 0.2 bar", Pressure, "0.2 bar", "below zero", ""},
		{"3 barq", Pressure, "barq", "not a unit of pressure", `"3 barg" (gauge) or "3 bara" (absolute)`},
		{"3 BARG", Pressure, "BARG", "not a unit of pressure", `"3 barg"`},
		{"3 bar g", Pressure, "bar g", "one word", `"3 barg"`},
		{"3 bar(g)", Pressure, "bar(g)", "not a unit", `"3 barg"`},
		{"3 brag", PressureDifference, "brag", "", ""},
		{"3 atm", Pressure, "atm", "not a unit of pressure", "barg"},

		// Temperatures.
		{"5 degC", TemperatureDifference, "degC", "given in K", `"5 K"`},
		{"5 degF", TemperatureDifference, "degF", "given in K", "9 degF"},
		{"5 °C", Temperature, "°C", "not a unit of temperature", `"5 degC"`},
		{"5 C", Temperature, "C", "not a unit of temperature", `"5 degC"`},
		{"-300 degC", Temperature, "-300 degC", "absolute zero", ""},
		{"0 K", Temperature, "0 K", "absolute zero", ""},
		{"20 degC +/- 2 degC", Temperature, "degC", "given in K", `"20 degC +/- 2 K"`},
		{"20 degC +/- 10 %", Temperature, "10 %", "depends on the scale", "2 K"},

		// Flows.
		{"3 L/min", GasFlow, "L/min", "at what state", `"3 NL/min" (0 degC, 101.325 kPa), "3 slpm" (the site's reference state), "3 aL/min" (actual), "3 L/min at 15 degC, 101.325 kPaa"`},
		{"3 slpm", LiquidFlow, "slpm", "a flow of gas", `"3 L/min"`},
		{"3 SLPM", GasFlow, "SLPM", "not a unit of gas flow", `"3 slpm"`},
		{"3 l/min", LiquidFlow, "l/min", "not a unit of liquid flow", `"3 L/min"`},
		{"3 m³/h", LiquidFlow, "m³/h", "not a unit", `"3 m3/h"`},
		{"3 lpm", LiquidFlow, "lpm", "not a unit", `"3 L/min"`},
		{"2 slpm at 0 degC, 1 bara", GasFlow, "slpm", "says already", `"2 L/min at 0 degC, 1 bara"`},
		{"2 kg/h at 0 degC, 1 bara", GasFlow, "kg/h", "says already", "leave"},
		{"2 L/min at 0 degC", GasFlow, "at 0 degC", "reference state", "21.1 degC"},
		{"2 L/min at 0 degC, 1 barg", GasFlow, "barg", "absolute", "bara"},
		{"2 L/min at 1 bara, 0 degC", GasFlow, "1 bara, 0 degC", "temperature comes first", `"0 degC, 1 bara"`},
		{"2 L/min at 0 degC, 1 bara", LiquidFlow, "at 0 degC, 1 bara", "no reference state", ""},
		{"2 m at 0 degC, 1 bara", Length, "at 0 degC, 1 bara", "no reference state", ""},
		{"1 slpm .. 2 NL/min", GasFlow, "1 slpm .. 2 NL/min", "not counted at the same state", "same kind"},
		{"1 slpm +/- 1 NL/min", GasFlow, "NL/min", "not counted at the same state", "slpm"},

		// Units of another kind, none, or unheard of.
		{"3 kg", Pressure, "kg", "a unit of mass", "barg"},
		{"3 barg", Length, "barg", "a unit of pressure", "m, cm, mm"},
		{"3 mmm", Length, "mmm", "not a unit of length", `"3 mm"`},
		{"3 micron", Length, "micron", "not a unit of length", `"3 um"`},
		{"3 hr", Time, "hr", "not a unit of time", `"3 h"`},
		{"3 foo", Mass, "foo", "not a unit of mass", "kg, g"},
		{"0.7 %", Number, "%", "a bare number", `"0.7"`},
		{"0.7 m", Number, "m", "a bare number", `"0.7"`},
		{"6 mm", Pressure, "mm", "a unit of length", ""},
		{"1.2 % +/- 0.1", Ratio, "0.1", "no unit", `"0.1 %"`},
		{"0.12 +/- 10 %", Ratio, "0.12 +/- 10 %", "share of it or points", `"0.12 +/- 0.012" (of the value)`},
		{"12 % +/- 1 %", Ratio, "12 % +/- 1 %", "share of it or points", `"0.12 +/- 0.0012" (of the value) or "0.12 +/- 0.01" (points)`},

		// Numbers.
		{"", Pressure, "", "empty", `"3.2 barg"`},
		{"  \n", Pressure, "  \n", "empty", `"3.2 barg"`},
		{"barg", Pressure, "barg", "no number before", "3.2 barg"},
		{"3,5 barg", Pressure, "3,5", "comma inside a number", `"3.5" for a decimal, "3, 5" for a list`},
		{"1,000,000 Pag", Pressure, "1,000,000", "comma inside a number", ""},
		{"1_000 barg", Pressure, "1_000", "underscore", `"1000 barg"`},
		{".5 barg", Pressure, ".5", "no digit before", `"0.5 barg"`},
		{"5. barg", Pressure, "5.", "no digit behind", `"5 barg"`},
		{"+5 barg", Pressure, "+", "no sign", `"5 barg"`},
		{"--5 barg", Pressure, "-", "two signs", `"-5 barg"`},
		{"−5 barg", Pressure, "−", "typographic", `"-5 barg"`},
		{"5\u00a0barg", Pressure, "\u00a0", "plain space", `"5 barg"`},
		{"NaN barg", Pressure, "NaN", "not a number", ""},
		{"inf", Number, "inf", "not a number", ""},
		{"Infinity barg", Pressure, "Infinity", "not a number", ""},
		{"1e400 barg", Pressure, "1e400", "exponent", ""},
		{"1e-31 barg", Pressure, "1e-31", "exponent", ""},
		{"0e99999999999999999999 barg", Pressure, "0e99999999999999999999", "exponent", ""},
		{digits + " barg", Pressure, digits, "64 digits", ""},
		{strings.Repeat("9", 64) + " barg", Pressure, strings.Repeat("9", 64), "out of all reason", ""},
		{"0x10 barg", Pressure, "barg", "follows a unit", "3.2 barg"},
		{"1/0 in", Length, "1/0", "divides by zero", "1/4 in"},
		{"1.5 1/2 in", Length, "1/2", "nothing between", ""},
		{"3 barg 4", Pressure, "4", "nothing between", ".."},
		{"3 barg!", Pressure, "!", "no meaning", ""},
		{"1/4\"", Length, "\"", "inch sign", `"1/4 in"`},
		{"3'", Length, "'", "foot sign", `"3 ft"`},
		{"3 barg\x00", Pressure, "\x00", "no meaning", ""},
		{"3 \xff", Pressure, "3 \xff", "UTF-8", ""},
		{strings.Repeat("1", 401), Number, strings.Repeat("1", 401), "at most 400", ""},

		// Forms.
		{"1 ..", Pressure, "..", "no upper end", ""},
		{".. 2 barg", Pressure, "..", "does not begin", ""},
		{"1 ... 2 barg", Pressure, "...", "two points", `"1 .. 2 barg"`},
		{"1 … 2 barg", Pressure, "…", "two points", `"1 .. 2 barg"`},
		{"1 - 2 barg", Pressure, "-", "does not make a range", `"1 .. 2 barg"`},
		{"1 ~ 2 barg", Pressure, "~", "range", `"1 .. 2 barg"`},
		{"5 .. 3 barg", Pressure, "5 .. 3 barg", "high to low", `"3 barg .. 5 barg"`},
		{"1 barg .. 2", Pressure, "2", "no unit", `"1 barg .. 2 barg" (gauge)`},
		{"1 .. barg", Pressure, "barg", "no number before", ""},
		{"≥ 1 barg", Pressure, "≥", "not a comparison", `">= 1 barg"`},
		{"=> 1 barg", Pressure, "=>", "not a comparison", `">= 1 barg"`},
		{"1 barg > 2 barg", Pressure, ">", "only at the beginning", ".."},
		{">=", Pressure, ">=", "no number follows", ""},
		{"5 +- 1 barg", Pressure, "+-", "tolerance", `"5 +/- 1 barg"`},
		{"5 +/- -1 barg", Pressure, "-1 barg", "below zero", ""},
		{"5 +/-", Pressure, "+/-", "no tolerance follows", ""},
		{"5 barg,", Pressure, ",", "", ""},
		{"60 .. 110 barg, 11", Pressure, "11", "does not end", "11 values"},
		{"60 .. 110 barg, 1 values", Pressure, "1", "at least 2", ""},
		{"60 .. 110 barg, 2.5 values", Pressure, "2.5", "whole number", ""},
		{"60 .. 110 barg, 1000001 values", Pressure, "1000001", "at most 1000000", ""},
		{"60 .. 110 barg by 1e-9 bar", Pressure, "1e-9 bar", "so small", ""},
		{"60 .. 110 barg by 0 bar", Pressure, "0 bar", "above zero", ""},
		{"60 .. 110 barg by -5 bar", Pressure, "-5 bar", "above zero", ""},
		{"60 .. 110 barg by 7 bar", Pressure, "7 bar", "do not end", `"60 .. 110 barg, 8 values"`},
		{"60 .. 110 barg by 70 bar", Pressure, "70 bar", "do not end", ""},
		{"5 barg by 1 bar", Pressure, "by", "goes with a range", ""},
		{"5 barg values", Pressure, "values", "number of values", ""},
		{"6 mm × 1 mm", Length, "×", "outside diameter", `"6 mm x 1 mm"`},
		{"6 mm x 3 mm", Length, "3 mm", "no bore", "first"},
		{"0 mm x 1 mm", Length, "0 mm", "above zero", ""},
		{"6 mm x -1 mm", Length, "-1 mm", "above zero", ""},
		{"6 mm x 1 mm at 0 degC, 1 bara", Length, "at 0 degC, 1 bara", "no reference state", ""},
	} {
		_, err := Parse(c.text, c.d, every)
		e, ok := err.(*Error)
		if !ok {
			t.Errorf("%q as %s: %v", c.text, c.d, err)
			continue
		}
		if under := c.text[e.Start:e.End]; under != c.under || !strings.Contains(e.Message, c.message) || !strings.Contains(e.Hint, c.hint) {
			t.Errorf("%q as %s: %q %q, hint %s", c.text, c.d, under, e.Message, e.Hint)
		}
		leaks(t, c.text, e)
	}
}

// Messages must not speak of the parser's insides.
func leaks(t *testing.T, text string, e *Error) {
	t.Helper()
	for _, word := range []string{"token", "expected", "grammar", "<EOF>", "Keyword", "PlusMinus", "Compare"} {
		if strings.Contains(e.Message, word) || strings.Contains(e.Hint, word) {
			t.Errorf("%q: %q, hint %q", text, e.Message, e.Hint)
		}
	}
}

func TestFormsThatDoNotFit(t *testing.T) {
	texts := map[Form]string{
		Single: "1 m", Range: "1 .. 2 m", Bound: ">= 1 m", Tolerance: "1 +/- 0.1 m",
		Series: "1, 2 m", Tube: "6 mm x 1 mm",
	}
	for form, text := range texts {
		for allowed, other := range texts {
			v, err := Parse(text, Length, allowed)
			if form == allowed {
				if err != nil || v.Form != form {
					t.Errorf("%q: %v", text, err)
				}
				continue
			}
			e, ok := err.(*Error)
			if !ok || !strings.Contains(e.Message, "does not fit here; what fits is "+allowed.describe()) {
				t.Errorf("%q where %q fits: %v", text, other, err)
				continue
			}
			// The hint shows something that fits.
			example := strings.TrimSuffix(strings.TrimPrefix(e.Hint, `such as "`), `"`)
			if _, err := Parse(example, Length, allowed); err != nil {
				t.Errorf("the hint %q does not parse: %v", example, err)
			}
		}
	}
}

// The example of every dimension and form must itself be right.
func TestExamplesParse(t *testing.T) {
	for d := Pressure; d <= Density; d++ {
		for _, f := range []Form{Single, Range, Bound, Tolerance, Series} {
			if d == Ratio && f == Tolerance {
				continue // "2 % +/- 2 %" reads two ways and has hints of its own
			}
			r := &reader{d: d, allowed: f}
			text := strings.TrimSuffix(strings.TrimPrefix(r.example(), `such as "`), `"`)
			if v, err := Parse(text, d, f); err != nil || v.Form != f {
				t.Errorf("%s: %q: %v", d, text, err)
			}
		}
	}
	for s, u := range habits() {
		if len(spellings()[u]) == 0 {
			t.Errorf("the habit %q leads to %q, which is no unit", s, u)
		}
		if len(spellings()[s]) > 0 {
			t.Errorf("%q is a unit, not a habit", s)
		}
	}
}
