package quantity

import (
	"errors"
	"math"
	"strings"
	"testing"
)

const every = ^Form(0)

func close12(a, b float64) bool { return a == b || math.Abs(a-b) <= 1e-12*math.Abs(b) }

// Good values; the numbers are conversions by hand.
func TestSingle(t *testing.T) {
	for _, c := range []struct {
		text  string
		d     Dimension
		si    float64
		basis Basis
		unit  string
	}{
		{"3.2 barg", Pressure, 3.2e5, Gauge, "barg"},
		{"3.2barg", Pressure, 3.2e5, Gauge, "barg"},
		{"  3.2\tbarg\n", Pressure, 3.2e5, Gauge, "barg"},
		{"1.1 barg", Pressure, 110000, Gauge, "barg"},
		{"3.2 bara", Pressure, 3.2e5, Plain, "bara"},
		{"500 mbarg", Pressure, 5e4, Gauge, "mbarg"},
		{"-200 mbarg", Pressure, -2e4, Gauge, "mbarg"},
		{"0 bara", Pressure, 0, Plain, "bara"},
		{"101.325 kPaa", Pressure, 101325, Plain, "kPaa"},
		{"1.5 MPag", Pressure, 1.5e6, Gauge, "MPag"},
		{"14.5 psia", Pressure, 14.5 * 6894.757293168361, Plain, "psia"},
		{"10 inH2Og", Pressure, 2490.8891, Gauge, "inH2Og"},
		{"760 mmHga", Pressure, 760 * 133.322387415, Plain, "mmHga"},
		{"1e-3 barg", Pressure, 100, Gauge, "barg"},
		{"2.5E2 mbarg", Pressure, 25000, Gauge, "mbarg"},
		{"0.25 bar", PressureDifference, 25000, Plain, "bar"},
		{"-0.8 bar", PressureDifference, -80000, Plain, "bar"},
		{"5 psid", PressureDifference, 5 * 6894.757293168361, Plain, "psid"},
		{"0.3 bard", PressureDifference, 30000, Plain, "bard"},
		{"-18 degC", Temperature, 255.15, Plain, "degC"},
		{"21.1 degC", Temperature, 294.25, Plain, "degC"},
		{"-40 degF", Temperature, 233.15, Plain, "degF"},
		{"300 K", Temperature, 300, Plain, "K"},
		{"540 degR", Temperature, 300, Plain, "degR"},
		{"10 K", TemperatureDifference, 10, Plain, "K"},
		{"60 slpm", GasFlow, 1e-3, SiteReference, "slpm"},
		{"1 sccm", GasFlow, 1e-6 / 60, SiteReference, "sccm"},
		{"36 Sm3/h", GasFlow, 0.01, SiteReference, "Sm3/h"},
		{"36 Nm3/h", GasFlow, 0.01, OwnReference, "Nm3/h"},
		{"36 am3/h", GasFlow, 0.01, Actual, "am3/h"},
		{"3.6 kg/h", GasFlow, 1e-3, MassFlow, "kg/h"},
		{"3.6 kg/h", LiquidFlow, 1e-3, MassFlow, "kg/h"},
		{"60 mol/min", GasFlow, 1, MoleFlow, "mol/min"},
		{"6 L/min", LiquidFlow, 1e-4, LiquidVolume, "L/min"},
		{"6 L/min", AnyFlow, 1e-4, LiquidVolume, "L/min"},
		{"60 slpm", AnyFlow, 1e-3, SiteReference, "slpm"},
		{"6 mm", Length, 6e-3, Plain, "mm"},
		{"-2 m", Length, -2, Plain, "m"},
		{"1/4 in", Length, 0.00635, Plain, "in"},
		{"1 1/2 in", Length, 0.0381, Plain, "in"},
		{"-1 1/2 in", Length, -0.0381, Plain, "in"},
		{"12 mm2", Area, 12e-6, Plain, "mm2"},
		{"50 L", Volume, 0.05, Plain, "L"},
		{"48 N/mm", Stiffness, 48000, Plain, "N/mm"},
		{"6 N", Force, 6, Plain, "N"},
		{"2 h", Time, 7200, Plain, "h"},
		{"1.2 %", Ratio, 0.012, Plain, "%"},
		{"1000 ppm", Ratio, 1e-3, Plain, "ppm"},
		{"0.7", Ratio, 0.7, Plain, ""},
		{"0.12", Number, 0.12, Plain, ""},
		{"-0", Number, 0, Plain, ""},
		{"5 W/m2K", HeatTransfer, 5, Plain, "W/m2K"},
		{"0.5 W/K", Conductance, 0.5, Plain, "W/K"},
	} {
		v, err := Parse(c.text, c.d, every)
		if err != nil {
			t.Errorf("%q: %v (hint %s)", c.text, err, err.(*Error).Hint)
			continue
		}
		q := v.Nominal
		if v.Form != Single || !close12(q.SI, c.si) || q.Basis != c.basis || q.Unit != c.unit || v.Text != c.text {
			t.Errorf("%q: got %v %+v", c.text, v.Form, q)
		}
		if c.basis == OwnReference && q.Ref != (Reference{TemperatureK: 273.15, PressurePa: 101325}) {
			t.Errorf("%q: an N unit is at 0 degC and 101.325 kPa (DIN 1343), not %+v", c.text, q.Ref)
		}
		if math.Signbit(q.SI) && q.SI == 0 {
			t.Errorf("%q is a negative zero", c.text)
		}
	}
}

func TestOwnReference(t *testing.T) {
	v, err := Parse("200 L/min at 21.1 degC, 1.01325 bara", GasFlow, Single)
	if err != nil {
		t.Fatal(err)
	}
	q := v.Nominal
	if !close12(q.SI, 0.2/60) || q.Basis != OwnReference || q.Ref != (Reference{294.25, 101325}) || q.Unit != "L/min" || q.Number != "200" {
		t.Errorf("got %+v", q)
	}
	v, err = Parse("1 .. 2 m3/h at 15 degC, 101.325 kPaa", AnyFlow, Range)
	if err != nil {
		t.Fatal(err)
	}
	if want := (Reference{288.15, 101325}); v.Low.Ref != want || v.High.Ref != want || v.Low.Basis != OwnReference {
		t.Errorf("got %+v", v)
	}
}

// Ranges, bounds and tolerances by the numbers at their ends.
func TestLimits(t *testing.T) {
	inf := math.Inf(1)
	for _, c := range []struct {
		text      string
		d         Dimension
		form      Form
		low, high float64
		open      bool
	}{
		{"0.9 .. 1.1 barg", Pressure, Range, 9e4, 11e4, false},
		{"0.9..1.1barg", Pressure, Range, 9e4, 11e4, false},
		{"10..20 %", Ratio, Range, 0.1, 0.2, false},
		{"500 mbarg .. 2 barg", Pressure, Range, 5e4, 2e5, false},
		{"-0.5 .. 2 barg", Pressure, Range, -5e4, 2e5, false},
		{"5 .. 5 barg", Pressure, Range, 5e5, 5e5, false},
		{"-20 .. 40 degC", Temperature, Range, 253.15, 313.15, false},
		{"0.1 .. 0.5", Number, Range, 0.1, 0.5, false},
		{">= 1 slpm", GasFlow, Bound, 1e-3 / 60, inf, false},
		{"> 1 slpm", GasFlow, Bound, 1e-3 / 60, inf, true},
		{"<= 60 s", Time, Bound, -inf, 60, false},
		{"<60 s", Time, Bound, -inf, 60, true},
		{"25 +/- 0.5 barg", Pressure, Tolerance, 24.5e5, 25.5e5, false},
		{"25 ± 0.5 barg", Pressure, Tolerance, 24.5e5, 25.5e5, false},
		{"25 barg +/- 0.5 bar", Pressure, Tolerance, 24.5e5, 25.5e5, false},
		{"25 barg +/- 500 mbar", Pressure, Tolerance, 24.5e5, 25.5e5, false},
		{"25 barg +/- 2 %", Pressure, Tolerance, 24.5e5, 25.5e5, false},
		{"-20 barg +/- 10 %", Pressure, Tolerance, -22e5, -18e5, false},
		{"0.12 +/- 10 %", Number, Tolerance, 0.108, 0.132, false},
		{"0.12 +/- 0.01", Number, Tolerance, 0.11, 0.13, false},
		{"20 degC +/- 2 K", Temperature, Tolerance, 291.15, 295.15, false},
		{"20 +/- 2 degC", Temperature, Tolerance, 291.15, 295.15, false},
		{"68 +/- 9 degF", Temperature, Tolerance, 288.15, 298.15, false},
		{"60 slpm +/- 6000 sccm", GasFlow, Tolerance, 0.9e-3, 1.1e-3, false},
		{"60 +/- 6 L/min at 0 degC, 1 bara", GasFlow, Tolerance, 0.9e-3, 1.1e-3, false},
		{"60 L/min +/- 10 % at 0 degC, 1 bara", GasFlow, Tolerance, 0.9e-3, 1.1e-3, false},
		{"1.2 % +/- 0.1", Ratio, 0, 0, 0, false}, // refused: see TestBad
		{"1.2 +/- 0.1 ppm", Ratio, Tolerance, 1.1e-6, 1.3e-6, false},
	} {
		v, err := Parse(c.text, c.d, every)
		if c.form == 0 {
			if err == nil {
				t.Errorf("%q passes", c.text)
			}
			continue
		}
		if err != nil {
			t.Errorf("%q: %v (hint %s)", c.text, err, err.(*Error).Hint)
			continue
		}
		low, high := math.Inf(-1), inf
		if v.HasLow {
			low = v.Low.SI
		}
		if v.HasHigh {
			high = v.High.SI
		}
		if v.Form != c.form || !close12(low, c.low) || !close12(high, c.high) || (v.LowOpen || v.HighOpen) != c.open {
			t.Errorf("%q: got %+v", c.text, v)
		}
	}
	v, err := Parse("25 psig +/- 0.5 psi", Pressure, Tolerance)
	if err != nil {
		t.Fatal(err)
	}
	if v.Nominal.Number != "25" || v.Low.Number != "24.5" || v.High.Number != "25.5" || v.Low.Unit != "psig" {
		t.Errorf("numbers as written: %+v", v)
	}
}

func TestSeries(t *testing.T) {
	for _, c := range []struct {
		text string
		d    Dimension
		want string
	}{
		{"60 .. 110 barg, 11 values", Pressure, "60 65 70 75 80 85 90 95 100 105 110 barg"},
		{"60 .. 110 barg by 25 bar", Pressure, "60 85 110 barg"},
		{"60 .. 110 barg by 25000 mbar", Pressure, "60 85 110 barg"},
		{"0 .. 0.45 barg, 4 values", Pressure, "0 0.15 0.3 0.45 barg"},
		{"0 .. 0.6 barg by 0.1 bar", Pressure, "0 0.1 0.2 0.3 0.4 0.5 0.6 barg"},
		{"500 mbarg .. 2 barg, 4 values", Pressure, "0.5 1 1.5 2 barg"},
		{"-20 .. 40 degC by 20 K", Temperature, "-20 0 20 40 degC"},
		{"5 .. 95 %, 3 values", Ratio, "5 50 95 %"},
		{"0 .. 1 by 0.25", Number, "0 0.25 0.5 0.75 1 "},
		{"16, 25, 60 barg", Pressure, "16 25 60 barg"},
		{"60 barg, 16 barg", Pressure, "60 16 barg"},
		{"1, 2 L/min at 0 degC, 1 bara", GasFlow, "1 2 L/min"},
		{"1 .. 3 L/min, 3 values at 0 degC, 1 bara", GasFlow, "1 2 3 L/min"},
	} {
		v, err := Parse(c.text, c.d, Series)
		if err != nil {
			t.Errorf("%q: %v (hint %s)", c.text, err, err.(*Error).Hint)
			continue
		}
		var words []string
		for _, q := range v.Points {
			words = append(words, q.Number)
			// Every point is what its own text would be.
			if q.Basis != OwnReference {
				one, err := Parse(strings.TrimSpace(q.Number+" "+q.Unit), c.d, Single)
				if err != nil || math.Abs(one.Nominal.SI-q.SI) > 1e-11*math.Max(1, math.Abs(q.SI)) {
					t.Errorf("%q: point %s %s is %v, alone %v %v", c.text, q.Number, q.Unit, q.SI, one.Nominal.SI, err)
				}
			}
		}
		if got := strings.Join(words, " ") + " " + v.Points[0].Unit; got != c.want {
			t.Errorf("%q: got %q", c.text, got)
		}
		if n := SeriesLen(c.text, c.d); n != len(v.Points) {
			t.Errorf("%q: SeriesLen %d, %d points", c.text, n, len(v.Points))
		}
	}
	if n := SeriesLen("1 .. 2 barg, 1000000 values", Pressure); n != MaxPoints {
		t.Errorf("a million values: %d", n)
	}
	if SeriesLen("3 barg", Pressure) != 1 || SeriesLen("3 bar", Pressure) != 0 {
		t.Error("SeriesLen of what is no series")
	}
}

func TestTube(t *testing.T) {
	for text, want := range map[string][2]float64{
		"6 mm x 1 mm":       {0.006, 0.001},
		"6 x 1 mm":          {0.006, 0.001},
		"1/4 in x 0.035 in": {0.00635, 0.000889},
		"1/4 in x 0.9 mm":   {0.00635, 0.0009},
	} {
		v, err := Parse(text, Length, Tube|Single)
		if err != nil {
			t.Errorf("%q: %v", text, err)
		} else if v.Form != Tube || !close12(v.Nominal.SI, want[0]) || !close12(v.Wall.SI, want[1]) {
			t.Errorf("%q: got %+v", text, v)
		}
	}
}

func TestFlowAtDrop(t *testing.T) {
	v, err := Parse("5 mL/min at 10 bar", GasFlow, FlowAtDrop)
	if err != nil {
		t.Fatal(err)
	}
	if v.Form != FlowAtDrop || !close12(v.Nominal.SI, 5e-6/60) || v.Nominal.Basis != LiquidVolume || v.Drop.SI != 1e6 {
		t.Errorf("got %+v", v)
	}
	if _, err := Parse("5 mL/min at 10 bar", GasFlow, Single); err == nil {
		t.Error("passes where no leak is asked for")
	}
}

func TestReferenceStates(t *testing.T) {
	ref, err := ParseReference("15 degC, 101.325 kPaa")
	if err != nil || ref != (Reference{288.15, 101325}) {
		t.Errorf("%+v %v", ref, err)
	}
	for text, part := range map[string]string{
		"15 degC":                       "temperature and an absolute pressure",
		"15 degC, 1 barg":               "must be absolute",
		"15 degC, 1 bar":                "neither gauge nor absolute",
		"1.01325 bara, 15 degC":         "temperature comes first",
		"15, 20 degC":                   "has no unit",
		"15 degC, 0 bara":               "above zero",
		"-300 degC, 1 bara":             "absolute zero",
		"15 degC, 1 bara, 2 bara":       "temperature and an absolute pressure",
		"15 degC .. 20 degC":            "temperature and an absolute pressure",
		"15 degC, 20 degC":              "is a unit of temperature",
		"15 degC, 1 bara at 1 K, 1 Paa": "temperature and an absolute pressure",
		"":                              "empty",
	} {
		_, err := ParseReference(text)
		var e *Error
		if !errors.As(err, &e) || !strings.Contains(e.Message, part) {
			t.Errorf("%q: %v", text, err)
		}
	}
}

func TestAtPressure(t *testing.T) {
	v, err := Parse("-8 degC at 70 bara", Temperature, AtPressure)
	if err != nil {
		t.Fatal(err)
	}
	if v.Form != AtPressure || v.Nominal.SI != 265.15 || v.At.SI != 70e5 || v.At.Basis != Plain {
		t.Errorf("got %+v", v)
	}
	for text, want := range map[string]string{
		"-8 degC":                  "the temperature belongs to a pressure, and none is stated",
		"70 bara at -8 degC":       "the temperature comes first",
		"-8 degC at 70 bar":        `"bar" says neither gauge nor absolute`,
		"-8 degC at 70 bara, 5 m":  "one pressure follows the temperature, and nothing more",
		"-8 .. 2 degC at 70 bara":  "a range does not fit here; what fits is a temperature at a pressure",
		"-8 K at 70 bara":          "the temperature is not above absolute zero",
		"-8 degC at 70 degC":       `"degC" is a unit of temperature; a pressure is asked for`,
		"-8 degC, 5 degC at 2 bar": "a series of values does not fit here; what fits is a temperature at a pressure",
	} {
		if _, err := Parse(text, Temperature, AtPressure); err == nil || err.Error() != want {
			t.Errorf("%q: %v, want %s", text, err, want)
		}
	}
}
