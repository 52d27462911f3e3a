package quantity

import (
	"errors"
	"slices"
	"testing"
)

// Formatted results: arithmetic by hand, rounding as documented at Format.
func TestFormat(t *testing.T) {
	site := Site{AtmospherePa: 101_325, Reference: &Reference{TemperatureK: 288.15, PressurePa: 101_325}}
	for _, c := range []struct {
		si         float64
		unit, want string
	}{
		{421_325, "barg", "3.2 barg"},
		{422_721.4, "barg", "3.214 barg"},
		{101_325, "barg", "0 barg"},
		{101_325 + 1e-9, "barg", "0 barg"},
		{101_325 - 1e-9, "barg", "0 barg"},
		{101_315, "mbarg", "-0.1 mbarg"},
		{8_101_325, "barg", "80 barg"},
		{12_445_678, "kPag", "12344 kPag"},
		{101_325, "bara", "1.013 bara"},
		{98_765.4, "Paa", "98765 Paa"},
		{25_000, "bar", "0.25 bar"},
		{288.15, "degC", "15 degC"},
		{288.1567, "degC", "15.01 degC"},
		{273.149, "degC", "0 degC"},
		{255.15, "degC", "-18 degC"},
		{10.04, "K", "10.04 K"},
		{0.00390625, "K", "0.003906 K"}, // not "0 K", which no temperature is
		{0.0254, "in", "1 in"},
		{0.012, "%", "1.2 %"},
		{1.23456e-9, "m", "1.235e-09 m"},
		{0, "m", "0 m"},
		{1. / 3600, "kg/h", "1 kg/h"},
	} {
		got, err := Format(c.si, c.unit, site, Stream{})
		if err != nil || got != c.want {
			t.Errorf("%v in %s: got %q %v, want %q", c.si, c.unit, got, err, c.want)
		}
	}
}

func TestConversionsThatLackSomething(t *testing.T) {
	for unit, known := range map[string]Stream{
		"slpm":   {DensityKgM3: 1},
		"NL/min": {DensityKgM3: 1},
		"mol/s":  {DensityKgM3: 1},
		"aL/min": {MolarMass: 0.028},
		"L/min":  {MolarMass: 0.028},
	} {
		if _, err := Convert(1, unit, Site{Reference: &Reference{288.15, 101_325}}, known); err == nil {
			t.Errorf("%s converts without what it needs", unit)
		}
	}
	if _, err := Convert(1, "slpm", Site{}, Stream{MolarMass: 0.028}); !errors.Is(err, ErrNoReference) {
		t.Errorf("slpm without a reference state: %v", err)
	}
	if _, err := Format(1, "furlong", Site{}, Stream{}); err == nil {
		t.Error("a unit that is none")
	}
	if _, err := (Quantity{SI: 1}).MassFlowKgS(Site{}, 1, 1); err == nil {
		t.Error("a length as a flow")
	}
	v, err := Parse("1 slpm", GasFlow, Single)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := v.Nominal.MassFlowKgS(Site{}, 0.028, 1); !errors.Is(err, ErrNoReference) {
		t.Errorf("slpm without a reference state: %v", err)
	}
}

// Gauge is relative to the site: the same text, two elevations.
func TestGaugeFollowsTheSite(t *testing.T) {
	v, err := Parse("2 barg", Pressure, Single)
	if err != nil {
		t.Fatal(err)
	}
	for _, z := range []float64{0, 410, 3000} {
		atmosphere := StandardAtmospherePa(z)
		if got := v.Nominal.PressurePa(Site{AtmospherePa: atmosphere}); got != 200_000+atmosphere {
			t.Errorf("at %v m: %v", z, got)
		}
	}
	v, err = Parse("2 bara", Pressure, Single)
	if err != nil || v.Nominal.PressurePa(Site{AtmospherePa: 1}) != 200_000 {
		t.Errorf("absolute: %+v %v", v, err)
	}
}

// The table: no spelling twice for one dimension, every row usable.
func TestTable(t *testing.T) {
	type key struct {
		spelling string
		d        Dimension
	}
	seen := map[key]bool{}
	for _, u := range Table() {
		for _, s := range append([]string{u.Name}, u.Also...) {
			k := key{s, u.Dimension}
			if seen[k] {
				t.Errorf("%q stands twice for %s", s, u.Dimension)
			}
			seen[k] = true
			v, err := Parse("300 "+s, u.Dimension, Single)
			if err != nil || v.Nominal.Basis != u.Basis || v.Nominal.Unit != s {
				t.Errorf("300 %s as %s: %+v %v", s, u.Dimension, v.Nominal, err)
			}
		}
		if !(u.Factor > 0) {
			t.Errorf("%s has factor %v", u.Name, u.Factor)
		}
		if !slices.Contains(u.Dimension.Units(), u.Name) {
			t.Errorf("%s is not among the units of %s", u.Name, u.Dimension)
		}
	}
	for d := Pressure; d <= Density; d++ {
		if (len(d.Units()) == 0) != (d == Number) {
			t.Errorf("%s has the units %v", d, d.Units())
		}
	}
	// A gas flow shows units of gas, a liquid flow those of liquids.
	if gas := GasFlow.Units(); slices.Contains(gas, "L/min") || !slices.Contains(gas, "slpm") || !slices.Contains(gas, "kg/h") {
		t.Errorf("gas: %v", gas)
	}
	if liquid := LiquidFlow.Units(); slices.Contains(liquid, "slpm") || !slices.Contains(liquid, "L/h") || !slices.Contains(liquid, "kg/h") {
		t.Errorf("liquid: %v", liquid)
	}
}
