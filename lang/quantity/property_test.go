package quantity

import (
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"
	"testing"
	"unicode/utf8"

	"pgregory.net/rapid"
)

func near(a, b, rel float64) bool {
	return math.Abs(a-b) <= rel*math.Max(math.Abs(a), math.Abs(b))+1e-300
}

// site and stream stand for any place and gas in the round trips.
var (
	siteForTest   = Site{AtmospherePa: 98_000, Reference: &Reference{TemperatureK: 288.15, PressurePa: 101_325}}
	streamForTest = Stream{MolarMass: 0.028, DensityKgM3: 3.5}
)

// solverValue is what the solver would answer for a quantity: what Convert and
// Format start from.
func solverValue(t *rapid.T, q Quantity, u Unit) float64 {
	switch u.Dimension {
	case Pressure:
		return q.PressurePa(siteForTest)
	case GasFlow, LiquidFlow, AnyFlow:
		w, err := q.MassFlowKgS(siteForTest, streamForTest.MolarMass, streamForTest.DensityKgM3)
		if err != nil {
			t.Fatal(err)
		}
		return w
	}
	return q.SI
}

// number in a unit -> text -> SI -> the same number.
func TestRoundTripThroughEveryUnit(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		u := rapid.SampledFrom(table()).Draw(t, "unit")
		if u.Dimension == TemperatureDifference {
			return // "K" converts as a temperature: the same number
		}
		x := rapid.Float64Range(0.001, 10_000).Draw(t, "number")
		text := strconv.FormatFloat(x, 'g', -1, 64) + " " + u.Name
		v, err := Parse(text, u.Dimension, Single)
		if err != nil {
			t.Fatalf("%s: %v", text, err)
		}
		si := solverValue(t, v.Nominal, u)
		back, err := Convert(si, u.Name, siteForTest, streamForTest)
		if err != nil {
			t.Fatal(err)
		}
		// A gauge value or a Celsius one loses what its zero takes.
		lost := 1e-13 * math.Abs(si) / u.Factor
		if u.Dimension != Pressure && u.Dimension != Temperature {
			lost = 0
		}
		if math.Abs(back-x) > 1e-12*x+2*lost+1e-9*u.Offset*1e-1 {
			t.Fatalf("%s: back %v", text, back)
		}
	})
}

// What Format writes, Parse reads, and it is the same to the digits shown.
func TestFormatIsRead(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		u := rapid.SampledFrom(table()).Draw(t, "unit")
		x := rapid.Float64Range(0.001, 1e8).Draw(t, "number")
		v, err := Parse(strconv.FormatFloat(x, 'g', -1, 64)+" "+u.Name, u.Dimension, Single)
		if err != nil {
			t.Fatal(err)
		}
		text, err := Format(solverValue(t, v.Nominal, u), u.Name, siteForTest, streamForTest)
		if err != nil {
			t.Fatal(err)
		}
		again, err := Parse(text, u.Dimension, Single)
		if err != nil {
			t.Fatalf("%q: %v", text, err)
		}
		y, _ := strconv.ParseFloat(again.Nominal.Number, 64)
		finest := 0.0
		if u.Dimension == Temperature || u.Dimension == TemperatureDifference {
			finest = 0.00501
		}
		if u.Basis == Gauge {
			finest = 0.51 / u.Factor
		}
		if math.Abs(y-x) > 0.5e-3*x+finest {
			t.Fatalf("%v %s shows as %s", x, u.Name, text)
		}
	})
}

// A range written with one unit or two is the same range, and its ends are in
// order.
func TestRangeProperty(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		u := rapid.SampledFrom(table()).Draw(t, "unit")
		a := rapid.Float64Range(0.001, 1000).Draw(t, "a")
		b := rapid.Float64Range(0.001, 1000).Draw(t, "b")
		a, b = min(a, b), max(a, b)
		one, err := Parse(fmt.Sprintf("%v .. %v %s", a, b, u.Name), u.Dimension, Range)
		if err != nil {
			t.Fatal(err)
		}
		two, err := Parse(fmt.Sprintf("%v %s .. %v %s", a, u.Name, b, u.Name), u.Dimension, Range)
		if err != nil {
			t.Fatal(err)
		}
		if one.Low != two.Low || one.High != two.High || one.Low.SI > one.High.SI {
			t.Fatalf("%+v\n%+v", one, two)
		}
	})
}

// A tolerance lies evenly around its nominal, in every unit.
func TestToleranceProperty(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		u := rapid.SampledFrom(table()).Draw(t, "unit")
		a := rapid.Float64Range(10, 1000).Draw(t, "nominal")
		b := rapid.Float64Range(0.001, 1).Draw(t, "tolerance")
		v, err := Parse(fmt.Sprintf("%v +/- %v %s", a, b, u.Name), u.Dimension, Tolerance)
		if u.Name == "%" {
			if err == nil {
				t.Fatal("a percentage behind a percentage passes")
			}
			return
		}
		if err != nil {
			t.Fatal(err)
		}
		if up, down := v.High.SI-v.Nominal.SI, v.Nominal.SI-v.Low.SI; math.Abs(up-down) > 1e-12*math.Abs(v.Nominal.SI) || !near(up+down, 2*b*u.Factor, 1e-9) && math.Abs(up+down-2*b*u.Factor) > 1e-12*math.Abs(v.Nominal.SI) {
			t.Fatalf("%+v", v)
		}
	})
}

// The points of a series are evenly spaced from one end to the other.
func TestSeriesProperty(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(2, 200).Draw(t, "n")
		a := rapid.Float64Range(1, 50).Draw(t, "a")
		b := a + rapid.Float64Range(0.1, 50).Draw(t, "width")
		v, err := Parse(fmt.Sprintf("%v .. %v barg, %d values", a, b, n), Pressure, Series)
		if err != nil {
			t.Fatal(err)
		}
		if len(v.Points) != n || !near(v.Points[0].SI, a*1e5, 1e-14) || !near(v.Points[n-1].SI, b*1e5, 1e-14) {
			t.Fatalf("%d points from %v to %v", len(v.Points), v.Points[0], v.Points[n-1])
		}
		step := (b - a) * 1e5 / float64(n-1)
		for i := 1; i < n; i++ {
			if math.Abs(v.Points[i].SI-v.Points[i-1].SI-step) > 1e-7 {
				t.Fatalf("point %d: %v after %v", i, v.Points[i], v.Points[i-1])
			}
		}
	})
}

// Whatever the text, Parse answers with a value or with an error that has a
// place in the text.
func checkAnything(t *testing.T, text string, d Dimension, allowed Form) {
	t.Helper()
	v, err := Parse(text, d, allowed)
	if err == nil {
		if v.Form&allowed == 0 || v.Form&(v.Form-1) != 0 {
			t.Errorf("%q: form %b", text, v.Form)
		}
		for _, q := range append([]Quantity{v.Nominal, v.Low, v.High, v.Wall, v.Drop}, v.Points...) {
			if math.IsNaN(q.SI) || math.IsInf(q.SI, 0) {
				t.Errorf("%q: %+v", text, q)
			}
		}
		return
	}
	var e *Error
	if !errors.As(err, &e) {
		t.Fatalf("%q: %T", text, err)
	}
	if e.Message == "" || e.Start < 0 || e.End > len(text) || e.Start >= e.End && text != "" {
		t.Errorf("%q: %+v", text, e)
	}
	if utf8.ValidString(text) && !utf8.ValidString(e.Message+e.Hint) || len(e.Message)+len(e.Hint) > 1200 {
		t.Errorf("%q: %q %q", text, e.Message, e.Hint)
	}
}

func TestPiecesInAnyOrder(t *testing.T) {
	pieces := []string{"1", "2.5", "1/4", "1 1/2", "-", "+", "barg", "bara", "bar", "degC", "K", "%", "L/min", "slpm", "mm", "..", "...", "+/-", "±", ",", ">=", "<", "at", "by", "x", "values", "1e9", ".", "(", ")", "'", "µ", "\x00", " ", "\n"}
	rapid.Check(t, func(t2 *rapid.T) {
		text := strings.Join(rapid.SliceOfN(rapid.SampledFrom(pieces), 0, 12).Draw(t2, "pieces"), rapid.SampledFrom([]string{"", " "}).Draw(t2, "between"))
		d := Dimension(rapid.IntRange(int(Pressure), int(Density)).Draw(t2, "dimension"))
		checkAnything(t, text, d, Form(rapid.IntRange(1, 127).Draw(t2, "allowed")))
		if t.Failed() {
			t2.FailNow()
		}
	})
}

func FuzzParse(f *testing.F) {
	for _, text := range []string{"3.2 barg", "0.9 .. 1.1 barg", ">= 1 slpm", "25 psig +/- 0.5 psi", "60 .. 110 barg, 11 values", "60 .. 110 barg by 5 bar", "16, 25, 60 barg", "6 mm x 1 mm", "1 1/2 in", "200 L/min at 21.1 degC, 1.01325 bara", "3,5 barg", "1e99", "3 bar(g)"} {
		f.Add(text, uint8(Pressure), uint16(every))
		f.Add(text, uint8(GasFlow), uint16(Single))
	}
	f.Fuzz(func(t *testing.T, text string, d uint8, allowed uint16) {
		// A million points a run would measure the allocator.
		if SeriesLen(text, Dimension(d)) > 1000 {
			return
		}
		checkAnything(t, text, Dimension(d), Form(allowed))
	})
}

func BenchmarkParse(b *testing.B) {
	for _, c := range []struct {
		name, text string
		d          Dimension
	}{
		{"single", "3.2 barg", Pressure},
		{"range", "0.9 .. 1.1 barg", Pressure},
		{"tolerance", "25 psig +/- 0.5 psi", Pressure},
		{"reference", "200 L/min at 21.1 degC, 1.01325 bara", GasFlow},
		{"wrong", "3 bar", Pressure},
	} {
		b.Run(c.name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				Parse(c.text, c.d, every)
			}
		})
	}
}
