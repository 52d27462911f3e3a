package quantity

import (
	"encoding/json"
	"math"
	"os"
	"testing"
)

// A row of testdata/flow-units-and-atmosphere.json, with where it comes from.
type row struct {
	ID         string
	Quantity   string
	Kind       string
	Inputs     map[string]json.RawMessage
	Expected   map[string]struct{ Value float64 }
	Tolerance  struct{ Rel float64 }
	Provenance string
}

func rows(t *testing.T) map[string]row {
	t.Helper()
	data, err := os.ReadFile("testdata/flow-units-and-atmosphere.json")
	if err != nil {
		t.Fatal(err)
	}
	var list []row
	if err := json.Unmarshal(data, &list); err != nil {
		t.Fatal(err)
	}
	m := map[string]row{}
	for _, r := range list {
		m[r.ID] = r
	}
	return m
}

func (r row) check(t *testing.T, key string, got float64) {
	t.Helper()
	want, ok := r.Expected[key]
	if !ok {
		t.Fatalf("%s has no %q", r.ID, key)
	}
	if !(math.Abs(got-want.Value) <= r.Tolerance.Rel*math.Abs(want.Value)) {
		t.Errorf("%s %s: got %.7g, want %.7g within %g (%s)", r.ID, key, got, want.Value, r.Tolerance.Rel, r.Provenance)
	}
}

func (r row) print(t *testing.T) {
	t.Logf("%s %s [%s] %s", r.ID, r.Quantity, r.Kind, r.Provenance)
}

func mustReference(t *testing.T, text string) Reference {
	t.Helper()
	ref, err := ParseReference(text)
	if err != nil {
		t.Fatalf("%s: %v", text, err)
	}
	return ref
}

func mustMass(t *testing.T, text string, s Site, molarMass float64) float64 {
	t.Helper()
	v, err := Parse(text, GasFlow, Single)
	if err != nil {
		t.Fatalf("%s: %v", text, err)
	}
	w, err := v.Nominal.MassFlowKgS(s, molarMass, 0)
	if err != nil {
		t.Fatalf("%s: %v", text, err)
	}
	return w
}

func TestMolarVolumeAtReferenceStates(t *testing.T) {
	r := rows(t)["UN-01"]
	r.print(t)
	for key, text := range map[string]string{
		"0C_101.325":  "0 degC, 101.325 kPaa",
		"15C_101.325": "15 degC, 101.325 kPaa",
		"20C_101.325": "20 degC, 101.325 kPaa",
		"25C_101.325": "25 degC, 101.325 kPaa",
		"0C_100":      "0 degC, 1 bara",
	} {
		r.check(t, key, mustReference(t, text).MolarVolume()*1000)
	}
	for key, text := range map[string]string{
		"60F_14.696psia": "60 degF, 14.696 psia",
		"70F_14.696psia": "70 degF, 14.696 psia",
	} {
		r.check(t, key, mustReference(t, text).MolarVolume()/cubicFootM3*1000*poundKg)
	}
}

func TestStandardLitreOfNitrogen(t *testing.T) {
	r := rows(t)["UN-02"]
	r.print(t)
	for key, text := range map[string]string{
		"0C":         "0 degC, 101.325 kPaa",
		"15C":        "15 degC, 101.325 kPaa",
		"20C":        "20 degC, 101.325 kPaa",
		"21.11C_70F": "70 degF, 101.325 kPaa",
		"25C":        "25 degC, 101.325 kPaa",
	} {
		ref := mustReference(t, text)
		site := Site{Reference: &ref}
		const gPerMin = 1000 * 60
		r.check(t, key, mustMass(t, "1 slpm", site, 0.0280134)*gPerMin)
		r.check(t, key, mustMass(t, "1000 sccm", site, 0.0280134)*gPerMin)
		r.check(t, key, mustMass(t, "1 L/min at "+text, Site{}, 0.0280134)*gPerMin)
		back, err := Convert(mustMass(t, "1 slpm", site, 0.0280134), "g/min", site, Stream{})
		if err != nil {
			t.Fatal(err)
		}
		r.check(t, key, back)
	}
	r.check(t, "0C", mustMass(t, "1 NL/min", Site{}, 0.0280134)*1000*60)
}

func TestCubicFeetAndCubicMetres(t *testing.T) {
	r := rows(t)["UN-03"]
	r.print(t)
	us, metric := mustReference(t, "60 degF, 14.696 psia"), mustReference(t, "15 degC, 101.325 kPaa")
	nm3 := mustMass(t, "1 Nm3/h", Site{}, 1)
	r.check(t, "Nm3_per_scf", mustMass(t, "1 scfh", Site{Reference: &us}, 1)/nm3)
	r.check(t, "Sm3_per_scf", mustMass(t, "1 scfh", Site{Reference: &us}, 1)/mustMass(t, "1 Sm3/h", Site{Reference: &metric}, 1))
	r.check(t, "Nm3_per_Sm3", mustMass(t, "1 Sm3/h", Site{Reference: &metric}, 1)/nm3)
	r.check(t, "Nm3_h_per_MMscfd", mustMass(t, "1 MMscfd", Site{Reference: &us}, 1)/nm3)
}

func TestMassToMolarFlow(t *testing.T) {
	r := rows(t)["UN-05"]
	r.print(t)
	w := mustMass(t, "17.2683 kg/min", Site{}, 0)
	n, err := Convert(w, "mol/s", Site{}, Stream{MolarMass: 0.0287805})
	if err != nil {
		t.Fatal(err)
	}
	r.check(t, "n", n)
}

func TestStandardAtmosphere(t *testing.T) {
	all := rows(t)
	for id, elevation := range map[string]float64{
		"UN-07_-2000": -2000, "UN-07_2000": 2000, "UN-07_6000": 6000, "UN-07_10000": 10000,
		"UN-08_500": 500, "UN-08_1000": 1000, "UN-08_1500": 1500,
	} {
		r := all[id]
		r.print(t)
		r.check(t, "p", StandardAtmospherePa(elevation))
	}
	// Sea level is exact by definition of the standard.
	if p := StandardAtmospherePa(0); p != 101325 {
		t.Errorf("sea level: %v", p)
	}
	for _, z := range []float64{-5001, 11001, math.NaN(), math.Inf(1), math.Inf(-1)} {
		if p := StandardAtmospherePa(z); !math.IsNaN(p) {
			t.Errorf("%v m: %v, outside the layer there is no answer", z, p)
		}
	}
	for z := -5000.0; z < 11000; z += 100 {
		if !(StandardAtmospherePa(z+100) < StandardAtmospherePa(z)) {
			t.Errorf("the pressure does not fall at %v m", z)
		}
	}
}

// Conversion factors as printed in NIST SP 811 (2008), appendix B.8, to the
// digits printed there (the values are from memory, as is the page). Bold
// (exact) factors of that table are checked to 1e-12.
func TestFactorsOfNIST(t *testing.T) {
	for _, c := range []struct {
		text   string
		d      Dimension
		want   float64
		digits float64 // relative
	}{
		{"1 psi", PressureDifference, 6.894757e3, 1e-7},
		{"1 inH2O", PressureDifference, 2.490889e2, 2e-7},
		{"1 inHg", PressureDifference, 3.386389e3, 2e-7},
		{"1 mmHg", PressureDifference, 1.333224e2, 2e-7},
		{"1 mmH2O", PressureDifference, 9.80665, 1e-12},
		{"1 bar", PressureDifference, 1e5, 0},
		{"1 in", Length, 2.54e-2, 1e-12},
		{"1 ft", Length, 3.048e-1, 1e-12},
		{"1 in2", Area, 6.4516e-4, 1e-12},
		{"1 in3", Volume, 1.6387064e-5, 1e-12},
		{"1 ft3", Volume, 2.831685e-2, 2e-7},
		{"1 gal", Volume, 3.785412e-3, 2e-7},
		{"1 gal/min", LiquidFlow, 6.309020e-5, 1e-7},
		{"1 lb", Mass, 4.5359237e-1, 1e-12},
		{"1 lbf", Force, 4.448222, 2e-7},
		{"1 lbf/in", Stiffness, 1.751268e2, 4e-7},
		{"1 Btu/h", Power, 2.930711e-1, 2e-7},
		{"1 lb/ft3", Density, 1.601846e1, 4e-7},
		{"1 lb/h", AnyFlow, 1.259979e-4, 2e-7},
		{"1 degR", Temperature, 5. / 9, 1e-9},
		{"32 degF", Temperature, 273.15, 1e-12},
		{"212 degF", Temperature, 373.15, 1e-12},
		{"100 degC", Temperature, 373.15, 1e-12},
		{"1 km/h", Speed, 2.777778e-1, 2e-7},
		{"1 d", Time, 86400, 0},
	} {
		v, err := Parse(c.text, c.d, Single)
		if err != nil {
			t.Errorf("%s: %v", c.text, err)
			continue
		}
		if got := v.Nominal.SI; math.Abs(got-c.want) > c.digits*c.want {
			t.Errorf("%s: got %.10g, want %.10g", c.text, got, c.want)
		}
	}
}
