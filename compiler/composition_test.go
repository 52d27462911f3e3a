package compiler

import (
	"math"
	"testing"

	"tapline/lang"
	"tapline/lang/diag"
)

// The mole fractions that fluid blocks come to. Those by mass are worked out by
// hand from the molar masses of the pure gases [g/mol] in ISO 20765-2: methane
// 16.04246, ethane 30.06904, water 18.01528.
func TestFractions(t *testing.T) {
	const methane, ethane, water = 16.04246, 30.06904, 18.01528
	byMass := func(m, e float64) map[string]float64 {
		n := m/methane + e/ethane
		return map[string]float64{"methane": m / methane / n, "ethane": e / ethane / n}
	}
	for _, c := range []struct {
		name, body string
		want       map[string]float64
	}{
		{"numbers", `mole_percent = { methane = 90, ethane = 10 }`, map[string]float64{"methane": 0.9, "ethane": 0.1}},
		{"texts", `mole_percent = { methane = "rest", ethane = "0.5 %", water = "1000 ppm" }`, map[string]float64{"methane": 0.994, "ethane": 0.005, "water": 0.001}},
		{"scaled", `mole_percent = { methane = 89.7, ethane = 10 }`, map[string]float64{"methane": 0.897 / 0.997, "ethane": 0.1 / 0.997}},
		{"nothing left", `mole_percent = { methane = "rest", ethane = 100 }`, map[string]float64{"methane": 0, "ethane": 1}},
		{"volume of gases", `volume_percent = { methane = 90, ethane = 10 }`, map[string]float64{"methane": 0.9, "ethane": 0.1}},
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
			r := &reader{}
			x, ok := fractions(d.Blocks[0], r)
			if !ok || len(r.found) > 0 || len(x) != len(c.want) {
				t.Fatal(x, r.found)
			}
			sum := 0.0
			for name, want := range c.want {
				sum += x[name]
				if !(math.Abs(x[name]-want) <= 1e-12) {
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
