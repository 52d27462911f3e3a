package rule

import (
	"strings"
	"testing"

	"tapline/lang"
	"tapline/lang/diag"

	"tapline/compiler"
)

// Water that flows from S to Q; values are invented.
const watered = `
system "bench" {}
site {
  reference_state = "15 degC, 101.325 kPaa"
  ambient         = "20 degC"
}
fluid "water" {
  mole_percent = { water = 100 }
  phase        = "liquid"
}
fluid "n2" {
  mole_percent = { nitrogen = 100 }
}
source "S" {
  fluid       = "water"
  pressure    = "6 barg"
  temperature = "20 degC"
}
valve "Z" { cv = 0.1 }
vent "Q" { pressure = "5 barg" }
line "z" { path = "S -> Z -> Q" }
`

const open = `
vent "ATM" { pressure = "0 barg" }
`

// vented adds the vent ATM to a text that leads to it.
func vented(text string) string {
	if strings.Contains(text, "ATM") {
		return open + text
	}
	return text
}

func TestLiquidFlags(t *testing.T) {
	for _, tc := range []struct {
		name, text, code string
		level            diag.Level
		words            []string
	}{
		{"cavitates", "valve \"V\" { cv = 0.1 }\nline \"a\" { path = \"S -> V -> ATM\" }\n", "cavitating", diag.Alarm, []string{"V takes 0.86", "choked", "6 barg before it", "boiling at -0.989"}},
		{"does not", "valve \"V\" { cv = 0.1 }\nvent \"H\" { pressure = \"3 barg\" }\nline \"a\" { path = \"S -> V -> H\" }\n", "", 0, nil},
		{"an orifice cavitates", "orifice \"O\" {\n bore = \"1 mm\"\n edge = \"thick\"\n cd = 0.8\n}\nline \"a\" { path = \"S -> O -> ATM\" }\n", "cavitating", diag.Alarm, []string{"O takes 0.86"}},
		{"flashes", "valve \"V\" { cv = 0.1 }\nvent \"H\" { pressure = \"-1 barg\" }\nline \"a\" { path = \"S -> V -> H\" }\n", "flashing", diag.Alarm, []string{"at H is not all liquid", "it boils below -0.989"}},
		{"nothing behind a shut relief", "relief \"V\" {\n set = \"9 barg\"\n orifice = \"3 mm2\"\n kd = 0.6\n}\nvent \"H\" { pressure = \"-1 barg\" }\nline \"a\" { path = \"S -> V -> tube(6 mm x 1 mm, 4 m) -> H\" }\n", "", 0, nil},
		{"but behind an open one", "relief \"V\" {\n set = \"5 barg\"\n orifice = \"3 mm2\"\n kd = 0.6\n}\nvent \"H\" { pressure = \"-1 barg\" }\nline \"a\" { path = \"S -> V -> tube(6 mm x 1 mm, 4 m) -> H\" }\n", "flashing", diag.Alarm, []string{"at H is not all liquid"}},
		{"blocked in", "valve \"V\" {\n cv = 0.1\n state = \"shut\"\n}\nvalve \"W\" {\n cv = 0.1\n state = \"shut\"\n}\nline \"a\" { path = \"S -> V -> (P) -> W -> ATM\" }\n", "blocked-in-liquid", diag.Caution, []string{"P can be full of liquid", "shut off by V, W", "for every kelvin"}},
		{"a check valve lets it out", "valve \"V\" {\n cv = 0.1\n state = \"shut\"\n}\ncheck_valve \"W\" {\n cv = 0.1\n cracks_at = \"0.1 bar\"\n}\nline \"a\" { path = \"S -> V -> (P) -> W -> ATM\" }\n", "", 0, nil},
		{"shut in behind a check valve", "valve \"V\" {\n cv = 0.1\n state = \"shut\"\n}\ncheck_valve \"W\" {\n cv = 0.1\n cracks_at = \"0.1 bar\"\n}\nvalve \"X\" {\n cv = 0.1\n state = \"shut\"\n}\nline \"a\" { path = \"S -> V -> (P) -> W -> (R) -> X -> ATM\" }\n", "blocked-in-liquid", diag.Caution, []string{"R can be full of liquid", "shut off by W, X"}},
		{"gas shut in", "source \"G\" {\n fluid = \"n2\"\n pressure = \"6 barg\"\n temperature = \"20 degC\"\n}\nvalve \"V\" {\n cv = 0.1\n state = \"shut\"\n}\nvalve \"W\" {\n cv = 0.1\n state = \"shut\"\n}\nvent \"H\" { pressure = \"0 barg\" }\nline \"a\" { path = \"G -> V -> (P) -> W -> H\" }\n", "", 0, nil},
	} {
		t.Run(tc.name, func(t *testing.T) {
			_, flags := judgedWith(t, watered, vented(tc.text))
			var found *diag.Diagnostic
			for i, f := range flags {
				switch f.Code {
				case tc.code:
					found = &flags[i]
				case "cavitating", "flashing", "blocked-in-liquid", "condensing":
					t.Errorf("it says: %s", f.Message)
				}
			}
			if tc.code == "" {
				return
			}
			if found == nil {
				t.Fatalf("stays silent; flags %v", flags)
			}
			if found.Level != tc.level || found.Range.IsZero() {
				t.Errorf("level %v at %v", found.Level, found.Range)
			}
			for _, w := range tc.words {
				if !strings.Contains(found.Message, w) {
					t.Errorf("%q lacks %q", found.Message, w)
				}
			}
		})
	}
}

// Flows of liquid are volumes at hand or masses; a float made for water reads a
// lighter liquid low; no volume at a reference state is given.
func TestLiquidFlowsAndReadings(t *testing.T) {
	run, flags := judgedWith(t, watered, `
fluid "hexane" {
  mole_percent = { n_hexane = 100 }
  phase        = "liquid"
}
source "F" {
  fluid       = "hexane"
  flow        = "30 L/h"
  temperature = "20 degC"
}
meter "FI" {
  drop  = "0.2 bar"
  flow  = "60 L/h"
  scale = "5 .. 28 L/h"
  calibrated_for {
    fluid       = "water"
    pressure    = "0 barg"
    temperature = "20 degC"
  }
}
band "b" {
  at   = "FI"
  flow = "<= 20 kg/h"
}
vent "H" { pressure = "2 barg" }
line "a" { path = "F -> FI -> H" }
`)
	c := run.Outcome.Cases[0]
	for _, d := range c.Devices {
		if d.Tag != "FI" {
			continue
		}
		// n-hexane of 659.4 kg/m3 at 20 degC (handbooks): 30 L/h.
		if w := *d.MassFlowKgS * 3600; w < 19.75 || w > 19.82 {
			t.Errorf("it passes %g kg/h", w)
		}
		// 30 sqrt(0.6594/0.9982 (7950 - 998.2)/(7950 - 659.4)) = 23.81 L/h.
		if r := *d.Reads * 3.6e6; r < 23.77 || r > 23.86 {
			t.Errorf("it reads %g L/h", r)
		}
		if d.ReferenceFlowM3S != nil {
			t.Errorf("a volume of gas: %g", *d.ReferenceFlowM3S)
		}
		// A quarter of the drop at 60 L/h, whatever the liquid.
		if drop := *d.Ports[0].PressurePa - *d.Ports[1].PressurePa; drop < 4980 || drop > 5020 {
			t.Errorf("its drop is %g Pa", drop)
		}
	}
	for _, n := range c.Nodes {
		if n.Name == "H" && (n.Phase == nil || *n.Phase != "liquid" || n.DewK != nil) {
			t.Errorf("H: %+v", n)
		}
	}
	for _, f := range flags {
		if f.Code != "not-computed" && f.Level > diag.Note {
			t.Errorf("it says: %v", f)
		}
	}
}

func TestLiquidErrors(t *testing.T) {
	for _, tc := range []struct{ name, text, code, words string }{
		{"gas counted", "flow_controller \"FC\" { set = \"2 slpm\" }\nline \"a\" { path = \"S -> FC -> ATM\" }\n", "wrong-flow", "slpm counts gas, and this is a liquid"},
		{"liquid counted of a gas", "source \"G\" {\n fluid = \"n2\"\n flow = \"2 L/h\"\n temperature = \"20 degC\"\n}\nvalve \"V\" { cv = 0.1 }\nline \"a\" { path = \"G -> V -> ATM\" }\n", "wrong-flow", "reference state"},
		{"phases meet", "source \"G\" {\n fluid = \"n2\"\n pressure = \"6 barg\"\n temperature = \"20 degC\"\n}\nvalve \"V\" { cv = 0.1 }\nvalve \"W\" { cv = 0.1 }\nvalve \"X\" { cv = 0.1 }\nline \"a\" { path = \"S -> V -> (P) -> X -> ATM\" }\nline \"b\" { path = \"G -> W -> (P)\" }\n", "phases-meet", "the liquid of S and the gas of G can meet at"},
		{"two liquids", "fluid \"oil\" {\n mole_percent = { n_octane = 60, water = 40 }\n phase = \"liquid\"\n}\nsource \"G\" {\n fluid = \"oil\"\n pressure = \"6 barg\"\n temperature = \"20 degC\"\n}\nvalve \"V\" { cv = 0.1 }\nline \"a\" { path = \"G -> V -> ATM\" }\n", "unsupported-composition", "two liquids"},
	} {
		t.Run(tc.name, func(t *testing.T) {
			d, found := lang.ReadFiles("bench", map[string][]byte{"x.tap.hcl": []byte(watered + vented(tc.text))})
			if !diag.HasErrors(found) {
				run, err := compiler.Solve(d, compiler.Options{})
				if err != nil {
					t.Fatal(err)
				}
				found = run.Found
			}
			for _, f := range found {
				if f.Code == tc.code && strings.Contains(f.Message, tc.words) && f.Level == diag.Error {
					return
				}
			}
			t.Errorf("it says %v", found)
		})
	}
}

// A limit in litres is that many litres of the liquid wherever it comes from; one in
// litres of gas is none of a liquid.
func TestLimitsOfLiquidFlow(t *testing.T) {
	run, flags := judgedWith(t, watered, `
valve "V" { cv = 0.01 }
vent "H" { pressure = "9 barg" }
line "a" { path = "S -> V -> tube(6 mm x 1 mm, 2 m) -> H" }
band "litres" {
  at   = "V"
  flow = ">= 10 L/h"
}
band "gas" {
  at   = "V"
  flow = ">= 10 slpm"
}
band "dew" {
  at         = "V.in"
  dew_margin = ">= 5 K"
}
`)
	var said []string
	for _, f := range flags {
		if f.Code == "band-low" || f.Code == "not-computed" {
			said = append(said, f.Code+" "+f.Message)
		}
	}
	all := strings.Join(said, "\n")
	for _, want := range []string{"below 10 L/h", "slpm counts gas, and this is a liquid", "the dew_margin at V.in is not judged"} {
		if len(said) != 3 || !strings.Contains(all, want) {
			t.Errorf("no %q in %q", want, said)
		}
	}
	for _, k := range run.Outcome.Checks {
		if k.Name == "gas" && (k.Status != "unjudged" || k.Min != nil) {
			t.Errorf("%s from %v", k.Status, k.Min)
		}
	}
}
