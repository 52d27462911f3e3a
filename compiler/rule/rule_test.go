package rule

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"tapline/compiler"
	"tapline/lang"
	"tapline/lang/diag"
)

// Values of all systems here are invented.
const preamble = `
system "bench" {}
site { reference_state = "15 degC, 101.325 kPaa" }
fluid "n2" {
  mole_percent = { nitrogen = 100 }
}
source "S" {
  fluid       = "n2"
  pressure    = "6 barg"
  temperature = "20 degC"
}
vent "ATM" { pressure = "0 barg" }
`

func judged(t *testing.T, text string) (*compiler.Run, []diag.Diagnostic) {
	t.Helper()
	return judgedWith(t, preamble, text)
}

func judgedWith(t *testing.T, preamble, text string) (*compiler.Run, []diag.Diagnostic) {
	t.Helper()
	d, found := lang.ReadFiles("bench", map[string][]byte{"x.tap.hcl": []byte(preamble + text)})
	if diag.HasErrors(found) {
		t.Fatalf("the test's own text: %v", found)
	}
	run, err := compiler.Solve(d, compiler.Options{})
	if err != nil || diag.HasErrors(run.Found) {
		t.Fatal(err, run.Found)
	}
	return run, Judge(run)
}

// gasInto is a gas that passes a valve into a vent.
func gasInto(percent, pressure, temperature string) string {
	return fmt.Sprintf(`
valve "V-1" { cv = 0.04 }
line "a" { path = "S -> V-1 -> ATM" }
fluid "gas" {
  mole_percent = { %s }
}
source "C" {
  fluid       = "gas"
  pressure    = "%s"
  temperature = "%s"
}
vent "F" { pressure = "0 barg" }
valve "V-9" { cv = 0.01 }
line "c" { path = "C -> V-9 -> F" }
`, percent, pressure, temperature)
}

func dewBand(at string) string {
	return "band \"dry\" {\n at = \"" + at + "\"\n dew_margin = \">= 15 K\"\n}\n"
}

// Every rule trips on one system and stays silent on one mended by a little.
func TestRulesTripAndStaySilent(t *testing.T) {
	const valves = `
valve "V-1" { cv = 0.04 }
valve "V-2" { cv = 0.02 }
line "a" { path = "S -> V-1 -> (P1) -> V-2 -> ATM" }
`
	const relieved = `
reducer "R" {
  set   = "3 barg"
  cv    = 0.1
  droop = "0.2 bar"
}
valve "V-2" {
  cv    = 0.02
  rated = "%s"
}
relief "PSV" {
  set     = "4 barg"
  orifice = "40 mm2"
  kd      = 0.8
}
line "a" { path = "S -> R -> (P1) -> V-2 -> ATM" }
line "b" { path = "(P1) -> PSV -> ATM" }
case "open" {
  kind = "upset"
  reducer "R" { fault = "wide open" }
}
`
	for _, tc := range []struct {
		code  string
		level diag.Level
		at    string
		words string
		trips string
		quiet string
	}{
		{"band-high", diag.Alarm, "P1", "above 5 barg",
			valves + "band \"b\" {\n at = \"(P1)\"\n pressure = \"2 .. 5 barg\"\n}",
			valves + "band \"b\" {\n at = \"(P1)\"\n pressure = \"2 .. 5.6 barg\"\n}"},
		{"band-low", diag.Caution, "V-2", "below 30 slpm",
			valves + "band \"b\" {\n at = \"V-2\"\n flow = \">= 30 slpm\"\n level = \"caution\"\n}",
			valves + "band \"b\" {\n at = \"V-2\"\n flow = \">= 28 slpm\"\n level = \"caution\"\n}"},
		{"band-high", diag.Alarm, "V-2", "the drop at V-2",
			strings.Replace(valves, "valve \"V-2\" { cv = 0.02 }", "valve \"V-2\" {\n cv = 0.02\n allow {\n drop = \"<= 5 bar\"\n }\n}", 1),
			strings.Replace(valves, "valve \"V-2\" { cv = 0.02 }", "valve \"V-2\" {\n cv = 0.02\n allow {\n drop = \"<= 6 bar\"\n }\n}", 1)},
		{"band-high", diag.Alarm, "P1", "the share of S in the gas at P1 is 100 %, above 90 %",
			valves + "band \"b\" {\n at = \"(P1)\"\n share = { S = \"<= 90 %\" }\n}",
			valves + "band \"b\" {\n at = \"(P1)\"\n share = { S = \">= 90 %\" }\n}"},
		{"above-rated", diag.Alarm, "V-1", "above the 5 barg it is rated for",
			strings.Replace(valves, "cv = 0.04 }", "\n cv = 0.04\n rated = \"5 barg\"\n}", 1),
			strings.Replace(valves, "cv = 0.04 }", "\n cv = 0.04\n rated = \"6 barg\"\n}", 1)},
		// While the relief passes, 10 % above the rating are allowed: 4.2 barg on
		// a rating of 3.8 trips only beyond 4.18.
		{"above-rated", diag.Alarm, "V-2", "rated for", fmt.Sprintf(relieved, "3 barg"), fmt.Sprintf(relieved, "4 barg")},
		{"outside-range", diag.Alarm, "R", "above the 5 barg of its range",
			"reducer \"R\" {\n set = \"5.5 barg\"\n cv = 0.1\n droop = \"0.2 bar\"\n range = \"0 .. 5 barg\"\n}\nvalve \"V\" { cv = 0.01 }\nline \"a\" { path = \"S -> R -> (P1) -> V -> ATM\" }",
			"reducer \"R\" {\n set = \"5 barg\"\n cv = 0.1\n droop = \"0.2 bar\"\n range = \"0 .. 5 barg\"\n}\nvalve \"V\" { cv = 0.01 }\nline \"a\" { path = \"S -> R -> (P1) -> V -> ATM\" }"},
		{"outside-range", diag.Caution, "P1", "above the 5 barg of its range",
			valves + "gauge \"P1\" { range = \"0 .. 5 barg\" }", valves + "gauge \"P1\" { range = \"0 .. 6 barg\" }"},
		{"reverse-flow", diag.Alarm, "V-2", "back to P1",
			strings.Replace(valves, "-> V-2 -> ATM", "-> V-3 -> ATM", 1) + "vent \"B\" { pressure = \"5.9 barg\" }\nvalve \"V-3\" { cv = 0.04 }\nline \"b\" { path = \"(P1) -> V-2 -> B\" }",
			strings.Replace(valves, "-> V-2 -> ATM", "-> V-3 -> ATM", 1) + "vent \"B\" { pressure = \"1 barg\" }\nvalve \"V-3\" { cv = 0.04 }\nline \"b\" { path = \"(P1) -> V-2 -> B\" }"},
		{"reverse-flow", diag.Caution, "R", "the pressure stands reversed across R",
			valves + "vent \"B\" { pressure = \"5.9 barg\" }\nreducer \"R\" {\n set = \"6 barg\"\n cv = 0.1\n droop = \"0.2 bar\"\n}\nline \"b\" { path = \"(P1) -> R -> B\" }",
			valves + "vent \"B\" { pressure = \"5 barg\" }\nreducer \"R\" {\n set = \"6 barg\"\n cv = 0.1\n droop = \"0.2 bar\"\n}\nline \"b\" { path = \"(P1) -> R -> B\" }"},
		{"trapped", diag.Note, "P2", "shut off by V-3, V-4",
			valves + "valve \"V-3\" {\n cv = 1\n state = \"shut\"\n}\nvalve \"V-4\" {\n cv = 1\n state = \"shut\"\n}\nline \"b\" { path = \"(P1) -> V-3 -> (P2) -> V-4 -> ATM\" }",
			valves + "valve \"V-3\" { cv = 1 }\nvalve \"V-4\" {\n cv = 1\n state = \"shut\"\n}\nline \"b\" { path = \"(P1) -> V-3 -> (P2) -> V-4 -> ATM\" }"},
		{"small-valve", diag.Note, "V-2", "nearly laminar",
			strings.Replace(valves, "cv = 0.02 }", "cv = 0.000001 }", 1),
			strings.Replace(valves, "cv = 0.02 }", "\n cv = 0.000001\n seat = \"1 mm\"\n}", 1)},
		{"not-computed", diag.Note, "R", "what R vents",
			"reducer \"R\" {\n set = \"5 barg\"\n cv = 0.1\n droop = \"0.2 bar\"\n relieving = true\n}\nvalve \"V\" { cv = 0.01 }\nline \"a\" { path = \"S -> R -> (P1) -> V -> ATM\" }",
			"reducer \"R\" {\n set = \"5 barg\"\n cv = 0.1\n droop = \"0.2 bar\"\n}\nvalve \"V\" { cv = 0.01 }\nline \"a\" { path = \"S -> R -> (P1) -> V -> ATM\" }"},
		// Dew points of the first, by the curves of testdata/fluid, 24 degC and -11 degC;
		// carbon dioxide from 50 bara and 20 degC is wet at 30 bara and dry at 1 bara.
		{"condensing", diag.Alarm, "C", "below its dew point of", gasInto("propane = 60, n_butane = 40", "3.5 barg", "20 degC"), gasInto("propane = 60, n_butane = 40", "0.5 barg", "40 degC")},
		{"condensing", diag.Alarm, "C", "its water dew point of", gasInto("nitrogen = 99, water = 1", "10 barg", "30 degC"), gasInto("nitrogen = 99, water = 1", "10 barg", "80 degC")},
		{"condensing", diag.Alarm, "C", "its frost point of", gasInto("nitrogen = 99.9, water = 0.1", "5 barg", "-12 degC"), gasInto("nitrogen = 99.9, water = 0.1", "5 barg", "10 degC")},
		{"condensing", diag.Alarm, "V-9", "it is at its dew point of", gasInto("carbon_dioxide = 100", "50 bara", "20 degC"), gasInto("carbon_dioxide = 100", "20 bara", "20 degC")},
		{"hydrate", diag.Caution, "C", "hydrates may form at C", gasInto("methane = 99.9, water = 0.1", "60 barg", "8 degC"), gasInto("methane = 99.9, water = 0.1", "5 barg", "-10 degC")},
		{"band-low", diag.Alarm, "C", "the dew margin at C is", gasInto("carbon_dioxide = 100", "45 bara", "20 degC") + dewBand("C"), gasInto("carbon_dioxide = 100", "20 bara", "20 degC") + dewBand("C")},
		{"band-low", diag.Alarm, "F", "the dew margin at F is", gasInto("carbon_dioxide = 100", "45 bara", "20 degC") + dewBand("F"), gasInto("carbon_dioxide = 100", "10 bara", "20 degC") + dewBand("F")},
		{"unsolved", diag.Alarm, "", "is liquid", gasInto("propane = 100", "12 barg", "20 degC"), gasInto("propane = 100", "2 barg", "20 degC")},
		{"cycling", diag.Alarm, "PSV", "opens and shuts without end", popping("100 mm2", "10 %"), popping("3 mm2", "10 %")},
		{"path-dependent", diag.Caution, "P1", "once PSV has opened it does not close again", strings.Replace(popping("0.3 mm2", "30 %"), "4 barg", "5.9 barg", 1), strings.Replace(popping("0.3 mm2", "1 %"), "4 barg", "5.9 barg", 1)},
	} {
		t.Run(tc.code+" "+tc.words, func(t *testing.T) {
			_, flags := judged(t, tc.trips)
			i := slices.IndexFunc(flags, func(f diag.Diagnostic) bool { return f.Code == tc.code })
			if i < 0 {
				t.Fatalf("stays silent; flags %v", flags)
			}
			f := flags[i]
			if f.Level != tc.level || tc.at != "" && f.At != tc.at || !strings.Contains(f.Message, tc.words) {
				t.Errorf("level %v at %q: %s", f.Level, f.At, f.Message)
			}
			if f.Range.IsZero() {
				t.Error("the flag has no place")
			}
			_, flags = judged(t, tc.quiet)
			for _, f := range flags {
				if f.Code == tc.code && (tc.at == "" || f.At == tc.at) {
					t.Errorf("mended, it still says: %s", f.Message)
				}
			}
		})
	}
}

// A band holds in the kinds of cases and the cases it names, and not in others.
func TestBandsHoldWhereTheySay(t *testing.T) {
	run, _ := judged(t, `
valve "V-1" { cv = 0.04 }
valve "V-2" { cv = 0.02 }
line "a" { path = "S -> V-1 -> (P1) -> V-2 -> ATM" }
band "default" {
  at       = "(P1)"
  pressure = "0 .. 9 barg"
}
band "upsets" {
  at       = "(P1)"
  pressure = "0 .. 9 barg"
  kinds    = ["operating", "upset"]
  except   = ["base"]
}
band "one" {
  at       = "V-1.out"
  pressure = "0 .. 9 barg"
  cases    = ["purge"]
}
case "purge" { kind = "service" }
case "bad" { kind = "upset" }
case "low" {
  source "S" { pressure = "3 barg" }
}`)
	got := map[string][]string{}
	for _, c := range run.Outcome.Checks {
		got[c.Name] = append(got[c.Name], c.Case)
	}
	want := map[string]string{"default": "base low", "upsets": "bad low", "one": "purge"}
	for name, cases := range want {
		if strings.Join(got[name], " ") != cases {
			t.Errorf("band %s holds in %v, want %s", name, got[name], cases)
		}
	}
}

// Codes are unique, and every rule says what it means and what it rests on.
func TestRulesExplainThemselves(t *testing.T) {
	seen := map[string]bool{}
	for _, r := range Rules() {
		for _, c := range r.Codes {
			if seen[c] {
				t.Errorf("two rules raise %s", c)
			}
			seen[c] = true
		}
		if r.Means == "" || r.Basis == "" || (r.perCase == nil && r.perSystem == nil) {
			t.Errorf("rule %v is incomplete", r.Codes)
		}
	}
}

// popping is a node at nearly the set of a pop relief.
func popping(orifice, blowdown string) string {
	return "valve \"V\" { cv = 0.2 }\nvalve \"N\" { cv = 0.1 }\nrelief \"PSV\" {\n set = \"4 barg\"\n action = \"pop\"\n blowdown = \"" +
		blowdown + "\"\n orifice = \"" + orifice + "\"\n kd = 0.8\n}\nline \"a\" { path = \"S -> V -> (P1) -> N -> ATM\" }\nline \"b\" { path = \"(P1) -> PSV -> ATM\" }"
}
