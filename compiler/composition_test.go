package compiler

import (
	"math"
	"strings"
	"testing"

	"tapline/lang"
	"tapline/lang/diag"
	"tapline/lang/quantity"
	"tapline/solver/fluid"
)

// The mole fractions that fluid blocks come to. Those by mass are worked out by
// hand from the molar masses of the pure gases [g/mol] in ISO 20765-2: methane
// 16.04246, ethane 30.06904, water 18.01528.
// Cases whose compositions rest on the same equation print one line of a fluid, with all
// that is to be known of any.
func TestOneLineOfAFluid(t *testing.T) {
	f := newFluids()
	f.use(FluidBasis{Name: "x", Equation: "e", DensityError: 0.01, Plain: true})
	f.use(FluidBasis{Name: "x", Equation: "e", DensityError: 0.03, Note: "b; c"})
	f.use(FluidBasis{Name: "x", Equation: "e", DensityError: 0.02, Note: "a; b"})
	f.use(FluidBasis{Name: "x", Equation: "other"})
	if len(f.used) != 2 || f.used[0] != (FluidBasis{Name: "x", Equation: "e", DensityError: 0.03, Note: "a; b; c"}) {
		t.Errorf("%+v", f.used)
	}
}

func TestFractions(t *testing.T) {
	const methane, ethane, water = 16.04246, 30.06904, 18.01528
	byMass := func(m, e float64) map[string]float64 {
		n := m/methane + e/ethane
		return map[string]float64{"methane": m / methane / n, "ethane": e / ethane / n}
	}
	// Densities of the saturated liquids at 15 degC [kg/m3]: relative densities at
	// 60 degF of 0.507 and 0.584 (GPA 2145, from memory), to their three digits.
	const propane, butane = 507 / 44.0956, 584 / 58.1222
	liquids := map[string]float64{"propane": propane / (propane + butane), "n_butane": butane / (propane + butane)}
	for _, c := range []struct {
		name, body string
		want       map[string]float64
	}{
		{"numbers", `mole_percent = { methane = 90, ethane = 10 }`, map[string]float64{"methane": 0.9, "ethane": 0.1}},
		{"texts", `mole_percent = { methane = "rest", ethane = "0.5 %", water = "1000 ppm" }`, map[string]float64{"methane": 0.994, "ethane": 0.005, "water": 0.001}},
		{"scaled", `mole_percent = { methane = 89.7, ethane = 10 }`, map[string]float64{"methane": 0.897 / 0.997, "ethane": 0.1 / 0.997}},
		{"nothing left", `mole_percent = { methane = "rest", ethane = 100 }`, map[string]float64{"methane": 0, "ethane": 1}},
		{"names of the trade", `mole_percent = { C1 = 90, "C2H6" = "rest", "Carbon Dioxide" = 1 }`, map[string]float64{"methane": 0.9, "ethane": 0.09, "carbon_dioxide": 0.01}},
		{"volume of gases", `volume_percent = { methane = 90, ethane = 10 }`, map[string]float64{"methane": 0.9, "ethane": 0.1}},
		{"volume of liquids", "phase = \"liquid\"\nvolume_percent = { propane = 50, n-butane = 50 }", liquids},
		{"mass", `mass_percent = { methane = 60, ethane = "rest" }`, byMass(60, 40)},
		{"mass, scaled", `mass_percent = { methane = 60, ethane = 40.4 }`, byMass(60, 40.4)},
		{"dry", "basis = \"dry\"\nmole_percent = { methane = 90, ethane = 10, water = 1 }", map[string]float64{"methane": 0.9 * 0.99, "ethane": 0.1 * 0.99, "water": 0.01}},
		{"dry with rest", "basis = \"dry\"\nmole_percent = { methane = \"rest\", ethane = 10, water = 1 }", map[string]float64{"methane": 0.9 * 0.99, "ethane": 0.1 * 0.99, "water": 0.01}},
		{"dry without water", "basis = \"dry\"\nmole_percent = { methane = 90, ethane = 10 }", map[string]float64{"methane": 0.9, "ethane": 0.1}},
		{"dry by mass", "basis = \"dry\"\nmass_percent = { methane = 100, water = 50 }",
			map[string]float64{"methane": water / (water + methane), "water": methane / (water + methane)}},
	} {
		t.Run(c.name, func(t *testing.T) {
			d, found := lang.ReadFiles("", map[string][]byte{"x.tap.hcl": []byte("system \"s\" {}\nfluid \"gas\" {\n" + c.body + "\n}\n")})
			if diag.HasErrors(found) {
				t.Fatal(found)
			}
			x, ok := fractions(d.Blocks[0], &reader{})
			if !ok || len(x) != len(c.want) {
				t.Fatal(x)
			}
			sum := 0.0
			for name, want := range c.want {
				sum += x[name]
				within := 1e-12
				if strings.HasPrefix(c.name, "volume of liquids") {
					within = 1e-3
				}
				if !(math.Abs(x[name]-want) <= within) {
					t.Errorf("%s %.15g, want %.15g", name, x[name], want)
				}
			}
			if !(math.Abs(sum-1) <= 1e-15) {
				t.Errorf("they sum to %.17g", sum)
			}
		})
	}
}

// A case that states a composition of another kind replaces that of the base.
func TestFractionsOfCases(t *testing.T) {
	const text = `
system "s" {}
fluid "gas" {
  mole_percent = { methane = 90, ethane = 10 }
}
case "by mass" {
  fluid "gas" { mass_percent = { methane = 100 } }
}
case "by mole again" {
  after = ["by mass"]
  fluid "gas" { mole_percent = { ethane = 100 } }
}
case "wet" {
  fluid "gas" {
    basis        = "dry"
    mole_percent = { ethane = 100, water = 1 }
  }
}
`
	d, found := lang.ReadFiles("", map[string][]byte{"x.tap.hcl": []byte(text)})
	if diag.HasErrors(found) {
		t.Fatal(found)
	}
	for name, want := range map[string]float64{"base": 0.1, "by mass": 0, "by mole again": 1, "wet": 0.99} {
		res, found := d.Resolve(name)
		if len(found) > 0 {
			t.Fatal(name, found)
		}
		if x, ok := fractions(res.Blocks[0], &reader{}); !ok || math.Abs(x["ethane"]-want) > 1e-15 {
			t.Errorf("%s: %v, want ethane %g", name, x, want)
		}
	}
}

// The water that a dew point stands for gives that dew point back.
func TestWaterDewPoint(t *testing.T) {
	for _, c := range []struct {
		body    string
		dewK    float64
		dewPa   float64
		atmosPa float64
	}{
		{"mole_percent = { methane = \"rest\", ethane = 5, CO2 = 2 }\nwater_dew_point = \"-8 degC at 70 bara\"", 265.15, 70e5, 1e5},
		{"mole_percent = { nitrogen = 100 }\nwater_dew_point = \"10 degC at 9 barg\"", 283.15, 9.9e5, 0.9e5},
		{"mass_percent = { methane = 80, ethane = 20 }\nbasis = \"dry\"\nwater_dew_point = \"-40 degC at 1 bara\"", 233.15, 1e5, 1e5},
	} {
		d, found := lang.ReadFiles("", map[string][]byte{"x.tap.hcl": []byte("system \"s\" {}\nfluid \"gas\" {\n" + c.body + "\n}\n")})
		if diag.HasErrors(found) {
			t.Fatal(found)
		}
		r := &reader{site: quantity.Site{AtmospherePa: c.atmosPa}}
		rc, ok := recipeOf(d.Blocks[0], r)
		if !ok {
			t.Fatal(r.found)
		}
		m := rc.fluid(r)
		if m == nil {
			t.Fatal(r.found)
		}
		if got := fluid.DewsOf(m).At(c.dewPa).WaterK; math.Abs(got-c.dewK) > 1e-3 {
			t.Errorf("%s: dew point %.5g K, want %.5g", c.body, got, c.dewK)
		}
		names, x := m.Fractions()
		dry := 0.0
		for i, name := range names {
			if name != "water" {
				dry += x[i]
			}
		}
		for i, name := range names {
			if want := rc.x[name]; name != "water" && math.Abs(x[i]/dry-want) > 1e-12 {
				t.Errorf("%s: %s is %g of the dry gas, want %g", c.body, name, x[i]/dry, want)
			}
		}
	}
}

// A dew point that no gas can have is an error at its place.
func TestNoSuchDewPoint(t *testing.T) {
	const body = "mole_percent = { nitrogen = 100 }\nwater_dew_point = \"120 degC at 1 bara\""
	d, found := lang.ReadFiles("", map[string][]byte{"x.tap.hcl": []byte("system \"s\" {}\nfluid \"gas\" {\n" + body + "\n}\n")})
	if diag.HasErrors(found) {
		t.Fatal(found)
	}
	made, _, found := FluidIn(d, "base", "gas", nil)
	if made != nil || len(found) != 1 || found[0].Code != "no-such-dew-point" || found[0].Range.Start.Line != 4 {
		t.Errorf("%v %v", made, found)
	}
}

// What a fluid rests on is said once for all cases that differ in the expected error
// alone.
func TestFluidsUsed(t *testing.T) {
	run := solve(t, `
fluid "mixed" {
  mole_percent = { nitrogen = "rest", krypton = 5 }
}
source "K" {
  fluid       = "mixed"
  pressure    = "5 barg"
  temperature = "20 degC"
}
valve "V-1" { cv = 0.1 }
valve "V-2" { cv = 0.1 }
vent "B" { pressure = "0 barg" }
line "a" { path = "S -> V-1 -> ATM" }
line "b" { path = "K -> V-2 -> B" }
case "more" {
  fluid "mixed" { mole_percent = { nitrogen = "rest", krypton = 50 } }
}
case "none" {
  fluid "mixed" { mole_percent = { nitrogen = 100 } }
}`)
	good(t, run)
	var said []string
	for _, f := range run.Outcome.Fluids {
		said = append(said, f.Name+" "+f.Equation)
		if f.Plain != (f.Equation == "GERG-2008") || !(f.DensityError > 0) {
			t.Errorf("%+v", f)
		}
	}
	if got := strings.Join(said, ", "); got != "mixed Peng-Robinson, mixed GERG-2008, n2 GERG-2008" {
		t.Error(got)
	}
}
