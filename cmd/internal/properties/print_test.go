package properties

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"math"
	"strconv"
	"strings"
	"testing"

	"tapline/lang"
	"tapline/lang/diag"
	"tapline/solver/fluid"
)

// moist is a natural gas with some water.
func moist(t *testing.T) *Fluid {
	t.Helper()
	m, err := fluid.New(map[string]float64{"methane": 0.8998, "ethane": 0.06, "propane": 0.03, "n_butane": 0.01, "water": 0.0002})
	if err != nil {
		t.Fatal(err)
	}
	return &Fluid{Name: "moist", Composed: m, AtmospherePa: 98_000}
}

func states(t *testing.T, f *Fluid, text string) []State {
	t.Helper()
	points, _, err := Points(text, site)
	if err != nil {
		t.Fatal(err)
	}
	var out []State
	for _, p := range points {
		out = append(out, f.At(p))
	}
	return out
}

// Every key of the table is there, in its order, in JSON and in CSV, and both say
// the same.
func TestKeys(t *testing.T) {
	f := moist(t)
	all := states(t, f, "20, 40 barg; 20 degC")
	data, err := f.JSON(all, "test")
	if err != nil {
		t.Fatal(err)
	}
	var doc struct {
		Composition map[string]float64
		States      []map[string]any
	}
	if err := json.Unmarshal(data, &doc); err != nil {
		t.Fatal(err)
	}
	table, err := f.CSV(all)
	if err != nil {
		t.Fatal(err)
	}
	lines, err := csv.NewReader(bytes.NewReader(table)).ReadAll()
	if err != nil || len(lines) != 3 || len(doc.States) != 2 || len(doc.Composition) != 5 {
		t.Fatal(err, lines, doc)
	}
	at := -1
	for k, p := range lang.Properties() {
		if want := "\"" + p.Key + "\""; bytes.Index(data, []byte(want)) < at {
			t.Errorf("%s is out of order", p.Key)
		} else if at = bytes.Index(data, []byte(want)); at < 0 {
			t.Errorf("no %s in JSON", p.Key)
		}
		if lines[0][3+k] != p.Key {
			t.Errorf("column %d of CSV is %s, not %s", 3+k, lines[0][3+k], p.Key)
		}
		for i, s := range doc.States {
			x, known := s[p.Key].(float64)
			if known == p.Liquids {
				t.Errorf("%s is %v in a gas", p.Key, s[p.Key])
			}
			if cell, err := strconv.ParseFloat(lines[1+i][3+k], 64); known && (err != nil || cell != x) {
				t.Errorf("%s is %v in JSON and %s in CSV", p.Key, x, lines[1+i][3+k])
			}
		}
	}
}

// What belongs together agrees, whatever computed it.
func TestValuesAgree(t *testing.T) {
	f := moist(t)
	for _, s := range states(t, f, "1 .. 60 barg, 4 values; 10 .. 40 degC, 3 values") {
		if s.Refused != "" {
			t.Fatal(s.Refused)
		}
		v := s.Values
		near := func(what string, got, want, rel float64) {
			if !(math.Abs(got-want) <= rel*math.Abs(want)) {
				t.Errorf("%s: %s is %g, not %g", s.Point, what, got, want)
			}
		}
		const r = 8.31446261815324
		near("p = z rho R T", v["z"]*v["density_mol_m3"]*r*s.TemperatureK, s.PressurePa, 2e-6) // GERG-2008 has an older R
		near("density", v["density_mol_m3"]*f.Composed.MolarMass(), v["density_kg_m3"], 1e-12)
		near("kappa p / rho = c^2", v["kappa"]*s.PressurePa/v["density_kg_m3"], v["sound_m_s"]*v["sound_m_s"], 1e-9)
		near("dew margin", s.TemperatureK-math.Max(v["hydrocarbon_dew_K"], v["water_dew_K"]), v["dew_margin_K"], 1e-9)
		if len(s.LnPhi) != 5 || v["cp_J_kg_K"] <= v["cv_J_kg_K"] {
			t.Errorf("%s: %v", s.Point, s)
		}
	}
}

func TestText(t *testing.T) {
	f := moist(t)
	all := states(t, f, "10 .. 60 barg, 6 values; 20 degC")
	for _, width := range []int{80, 160} {
		text := f.Text(all, width)
		for line := range strings.Lines(text) {
			line = strings.TrimSuffix(line, "\n")
			if n := diag.Columns(line); n > width || strings.TrimRight(line, " ") != line {
				t.Errorf("%d columns: %q has %d", width, line, n)
			}
		}
		for _, want := range []string{"10 barg", "60 barg", "n_butane", "C4H10", "hydrocarbon dew point", "molar mass"} {
			if !strings.Contains(text, want) {
				t.Errorf("%d columns: no %q", width, want)
			}
		}
	}
}

// A state outside of the equation is refused with the fluid and the state as
// they were asked for, and prints as such.
func TestRefused(t *testing.T) {
	f := moist(t)
	all := states(t, f, "10 barg; 20, 900 degC")
	const want = "moist at 10 barg, 900 degC "
	if all[0].Refused != "" || !strings.HasPrefix(all[1].Refused, want) {
		t.Fatalf("%q, %q", all[0].Refused, all[1].Refused)
	}
	data, err := f.JSON(all, "test")
	if err != nil || !bytes.Contains(data, []byte(`"refused": "`+want)) || !bytes.Contains(data, []byte(`"refused": null`)) {
		t.Errorf("%v %s", err, data)
	}
	table, err := f.CSV(all)
	if err != nil || !bytes.Contains(table, []byte(want)) {
		t.Errorf("%v %s", err, table)
	}
}

// A viscosity that is not known is left out, with the reason, and never 0: a tenth
// of ethane above its critical temperature is no liquid whose viscosity is tabled.
func TestViscosityNotKnown(t *testing.T) {
	l, err := fluid.LiquidOf(map[string]float64{"ethane": 0.1, "n_hexane": 0.9})
	if err != nil {
		t.Fatal(err)
	}
	f := &Fluid{Name: "live", Composed: l}
	all := states(t, f, "16 bara; 10, 40 degC")
	if v := all[0].Values["viscosity_Pa_s"]; !(v > 1e-4 && v < 1e-3) || all[0].Unviscous != "" {
		t.Errorf("at 10 degC the viscosity is %g: %s", v, all[0].Unviscous)
	}
	if _, known := all[1].Values["viscosity_Pa_s"]; known {
		t.Errorf("at 40 degC the viscosity is %g", all[1].Values["viscosity_Pa_s"])
	}
	if text := f.Text(all[1:], 160); !strings.Contains(text, "No viscosity: ethane has no viscosity as a liquid") {
		t.Errorf("no reason in %s", text)
	}
}
