package rule

import (
	"strings"
	"testing"

	"tapline/compiler"
	"tapline/lang/diag"
)

// Calibration gas is kept from the sample by two shut valves with an open bleed
// between them. The first valve leaks: the bleed takes the leak to the vent as long
// as it is open, and what stands behind the second stays clean. Values are invented.
const blockAndBleed = `
fluid "cal gas" {
  mole_percent = { methane = "rest", hydrogen = 5 }
}
source "CAL" {
  fluid       = "cal gas"
  pressure    = "10 barg"
  temperature = "20 degC"
}
valve "V-1" { cv = 0.05 }
valve "V-2" { cv = 0.02 }
valve "BV-1" {
  cv    = 0.2
  state = "shut"
}
valve "BV-2" {
  cv    = 0.2
  state = "shut"
}
valve "BV-3" { cv = 0.2 }
analyzer "AE-1" { cv = 0.1 }
vent "BLEED" { pressure = "0 barg" }
line "sample" { path = "S -> V-1 -> (P1) -> AE-1 -> V-2 -> ATM" }
line "calibration" { path = "CAL -> BV-1 -> (P2) -> BV-2 -> (P1)" }
line "bleed" { path = "(P2) -> BV-3 -> BLEED" }
band "clean" {
  at    = "AE-1.in"
  share = { "S" = ">= 99.9 %", "CAL" = "<= 0.1 %" }
}
case "first seat leaks" {
  valve "BV-1" {
    fault   = "seat leak"
    leak_cv = 0.002
  }
}
`

func shareFlags(found []diag.Diagnostic, in string) (out []diag.Diagnostic) {
	for _, d := range found {
		if d.Case == in && strings.Contains(d.Message, "share") {
			out = append(out, d)
		}
	}
	return out
}

func TestBlockAndBleed(t *testing.T) {
	run, found := judged(t, blockAndBleed+`
case "both seats leak" {
  after = ["first seat leaks"]
  valve "BV-2" {
    fault   = "seat leak"
    leak_cv = 0.002
  }
}
case "both seats leak, bleed shut" {
  after = ["both seats leak"]
  valve "BV-3" { state = "shut" }
}
case "mended" {
  after = ["both seats leak, bleed shut"]
  valve "BV-3" { state = "open" }
}`)
	for _, tc := range []struct {
		in    string
		clean bool
	}{
		{"base", true}, {"first seat leaks", true}, {"both seats leak", true},
		{"both seats leak, bleed shut", false}, {"mended", true},
	} {
		flags := shareFlags(found, tc.in)
		if (len(flags) == 0) != tc.clean {
			t.Errorf("%s: flags %v", tc.in, flags)
		}
		share := shareAt(t, run, tc.in, "P1", "CAL")
		if tc.clean != (share <= 1e-3) {
			t.Errorf("%s: share of CAL %g", tc.in, share)
		}
		t.Logf("%-28s CAL at the analyzer %.4g, between the valves %.4g", tc.in, share, shareAt(t, run, tc.in, "P2", "CAL"))
	}
	flags := shareFlags(found, "both seats leak, bleed shut")
	if len(flags) != 2 || flags[0].Code == flags[1].Code {
		t.Fatalf("%v", flags)
	}
	for _, f := range flags {
		want := map[string]string{"band-low": "the share of S in the gas at AE-1.in is", "band-high": "the share of CAL in the gas at AE-1.in is"}[f.Code]
		if !strings.HasPrefix(f.Message, want) || f.Range.IsZero() {
			t.Errorf("%s says %q at %v", f.Code, f.Message, f.Range)
		}
	}
}

func shareAt(t *testing.T, run *compiler.Run, in, node, source string) float64 {
	t.Helper()
	for _, c := range run.Outcome.Cases {
		for _, n := range c.Nodes {
			if c.Name == in && n.Name == node {
				return n.Shares[source]
			}
		}
	}
	t.Fatalf("no node %s in case %q", node, in)
	return 0
}

func TestShareText(t *testing.T) {
	for x, want := range map[float64]string{1: "100 %", 0: "0 %", 0.999: "99.9 %", 0.9989877: "99.8988 %", 2.5e-5: "25 ppm"} {
		if got := shareText(x); got != want {
			t.Errorf("%g: %q, want %q", x, got, want)
		}
	}
}
