package rule

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"tapline/compiler"
	"tapline/lang/diag"
)

// What the rules know of valves with several ports. Values are invented.

// streams are a sample at 6 barg and a calibration gas at 2 barg that share a cell, with
// a part of the calibration line and the valve rated as given.
func streams(positions, rated, more string) string {
	return fmt.Sprintf(`
source "CAL" {
  fluid       = "n2"
  pressure    = "2 barg"
  temperature = "20 degC"
}
filter "F-1" {
  cv    = 0.5
  rated = "4 barg"
}
multiway "XV" {
  ports     = ["sample", "cal", "cell"]
  cv        = 0.1
  positions = { %s }
  position  = "measure"
  rated     = "%s"
}
valve "N" { cv = 0.01 }
line "a" { path = ["S -> XV.sample", "CAL -> F-1 -> XV.cal", "XV.cell -> N -> ATM"] }
case "calibration" {
  kind = "service"
  multiway "XV" { position = "calibrate" }
}
`, positions, rated) + more
}

const oneAtATime = `measure = ["sample > cell"], calibrate = ["cal > cell"]`

func TestMultiwayFlags(t *testing.T) {
	for _, tc := range []struct {
		name, text, code, at, words string
	}{
		{"no position joins the two streams", streams(oneAtATime, "10 barg", ""), "", "", ""},
		{"one position joins both",
			streams(oneAtATime+`, purge = ["sample > cell", "cal > cell"]`, "10 barg", ""),
			"unprotected", "F-1", "6 barg of S can reach it"},
		{"another way round to the part", streams(oneAtATime, "10 barg", `
valve "V-9" {
  cv    = 0.01
  state = "shut"
}
line "b" { path = "S -> V-9 -> (P9)" }
line "c" { path = "(P9) -> V-8 -> ATM" }
valve "V-8" { cv = 0.01 }
`), "", "", ""},
		{"the valve itself", streams(oneAtATime, "5 barg", ""), "above-rated", "XV", "XV sees 6 barg at S"},
		{"the valve itself, by what can reach it", streams(oneAtATime, "5 barg", ""), "unprotected", "XV", "6 barg of S can reach it"},
		{"a seat leak from the sample into the other", streams(oneAtATime, "10 barg", `
case "leak" {
  kind = "upset"
  multiway "XV" {
    fault   = "seat leak"
    leak_cv = 0.001
  }
}`), "reverse-flow", "XV.cal > cell", "XV.cal > cell passes"},
		{"a relief device behind a way", streams(oneAtATime, "10 barg", `
relief "PSV" {
  set     = "8 barg"
  orifice = "10 mm2"
  kd      = 0.8
}
multiway "XV-2" {
  ports     = ["in", "a", "b"]
  cv        = 5
  positions = { a = ["in > a"], b = ["in > b"] }
  position  = "a"
}
line "d" { path = ["XV-2.a -> PSV -> ATM", "XV-2.b -> (P8) -> cap", "S -> V-7 -> (P7) -> XV-2.in", "(P7) -> V-6 -> ATM"] }
valve "V-7" { cv = 0.1 }
valve "V-6" { cv = 0.1 }
`), "relief-blocked", "PSV", "XV-2.in > a stands before PSV"},
		{"a way that is open and never passes", streams(oneAtATime, "10 barg", `
multiway "XV-3" {
  ports     = ["a", "b"]
  cv        = 0.1
  positions = { on = ["a > b"] }
  position  = "on"
}
vent "V" { pressure = "6 barg" }
line "e" { path = "S -> XV-3.a" }
line "f" { path = "XV-3.b -> V" }
`), "never-flows", "XV-3.a > b", "nothing flows through XV-3.a > b in any case"},
	} {
		_, found := judged(t, tc.text)
		at := slices.IndexFunc(found, func(d diag.Diagnostic) bool {
			return d.Code == tc.code && d.At == tc.at && strings.Contains(d.Message, tc.words)
		})
		if tc.code != "" && at < 0 {
			t.Errorf("%s: no %s at %s in %v", tc.name, tc.code, tc.at, found)
		}
		for _, d := range found {
			if tc.code == "" && d.Level >= diag.Caution {
				t.Errorf("%s: %v", tc.name, d)
			}
		}
	}
}

// A band at a port holds the flow of all ways there against its limits.
func TestFlowAtAPort(t *testing.T) {
	run, found := judged(t, streams(oneAtATime+`, purge = ["sample > cell", "cal > cell"]`, "10 barg", `
case "purge" {
  multiway "XV" { position = "purge" }
  source "CAL" { pressure = "6 barg" }
}
band "cell" {
  at   = ["XV.cell", "XV.sample"]
  flow = ">= 20 slpm"
}
`))
	value := func(c, at string) float64 {
		i := slices.IndexFunc(run.Outcome.Checks, func(o compiler.CheckOutcome) bool { return o.Name == "cell" && o.Case == c && o.At == at })
		if i < 0 || run.Outcome.Checks[i].Value == nil {
			t.Fatalf("%s, %s is not judged", c, at)
		}
		return *run.Outcome.Checks[i].Value
	}
	if a, b := value("base", "XV.cell"), value("base", "XV.sample"); math.Abs(a/b-1) > 1e-9 || !(a > 0) {
		t.Errorf("%g kg/s leave, %g enter", a, b)
	}
	// Both sources alike: half from each.
	if a, b := value("purge", "XV.cell"), value("purge", "XV.sample"); !(a > 1.5*b) {
		t.Errorf("%g kg/s leave, %g of it from the sample", a, b)
	}
	if !slices.ContainsFunc(found, func(d diag.Diagnostic) bool { return d.Code == "band-low" && d.At == "XV.sample" }) {
		t.Errorf("no flag in %v", found)
	}
}
