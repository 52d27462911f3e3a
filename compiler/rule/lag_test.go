package rule

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"tapline/compiler"
	"tapline/lang/diag"
)

// A filter of half a litre, stirred, and a metre of tube before P1: at V-2's
// 28.6 slpm about six seconds.
const slow = `
valve "V-1" { cv = 0.04 }
filter "F-1" {
  cv     = 1
  volume = "0.5 L"
}
valve "V-2" { cv = 0.02 }
valve "V-9" {
  cv    = 0.1
  state = "shut"
}
analyzer "AE" {
  cv     = 1
  volume = "20 mL"
  cycle  = "3 min"
}
line "a" { path = "S -> V-1 -> F-1 -> tube T-1(6 mm x 1 mm, 1 m) -> (P1) -> V-2 -> AE -> ATM" }
line "b" { path = "(P1) -> V-9 -> (P9) -> cap" }
`

// diluted has a second source of the same gas at P1.
const diluted = slow + `
source "S-2" {
  fluid       = "n2"
  pressure    = "6 barg"
  temperature = "20 degC"
}
valve "V-3" { cv = 0.04 }
line "c" { path = "S-2 -> V-3 -> (P1)" }
`

func lagBand(at, lag, more string) string {
	return fmt.Sprintf("band \"b\" {\n at = %q\n lag = %q\n %s\n}\n", at, lag, more)
}

func TestLagFlags(t *testing.T) {
	wet := strings.NewReplacer("nitrogen = 100", "nitrogen = 99.9, water = 0.1")
	for _, tc := range []struct {
		name, text string
		code       string // "" for none of those below
		level      diag.Level
		words      []string
		status     string // of the check
	}{
		{"late", slow + lagBand("(P1)", "<= 5 s", ""), "band-high", diag.Alarm,
			[]string{"the lag at (P1) from S is 6.", "above 5 s", "95 % of a change is there after 1", "of it F-1 6."}, "fail"},
		{"late, a caution", slow + lagBand("(P1)", "<= 5 s", "level = \"caution\""), "band-high", diag.Caution, nil, "fail"},
		{"in time", slow + lagBand("(P1)", "<= 8 s", ""), "", 0, nil, "pass"},
		{"early", slow + lagBand("(P1)", ">= 8 s", ""), "band-low", diag.Alarm, []string{"below 8 s"}, "fail"},
		{"the analyzer's own", slow + lagBand("AE", "<= 180 s", ""), "band-high", diag.Alarm, []string{"at AE from S is 18", "AE's cycle 180 s"}, "fail"},
		{"its inlet", slow + lagBand("AE.in", "<= 180 s", ""), "", 0, nil, "pass"},
		{"dead end", slow + "case \"o\" {\n valve \"V-9\" { state = \"open\" }\n}\n" + lagBand("(P9)", "<= 5 s", "cases = [\"o\"]"), "no-lag", diag.Alarm, []string{"no change at S arrives at (P9)", "dead end"}, "fail"},
		{"shut off", slow + lagBand("(P9)", "<= 5 s", "level = \"caution\""), "no-lag", diag.Caution, []string{"shut off"}, "fail"},
		{"not early, and never", slow + lagBand("(P9)", ">= 5 s", ""), "no-lag", diag.Alarm, nil, "unjudged"},
		{"two sources", diluted + lagBand("(P1)", "<= 60 s", ""), "lag-source", diag.Caution, []string{"S (", "S-2 (", "names none"}, "unjudged"},
		{"two sources, one named", diluted + lagBand("(P1)", "<= 60 s", "from = \"S-2\""), "", 0, nil, "pass"},
		{"two sources, one shut", diluted + "case \"o\" {\n valve \"V-3\" { opening = \"0 %\" }\n}\n" + lagBand("(P1)", "<= 60 s", "cases = [\"o\"]"), "", 0, nil, "pass"},
		{"two sources, one a leak", strings.Replace(diluted, "valve \"V-3\" { cv = 0.04 }", "valve \"V-3\" { cv = 0.000001 }", 1) + lagBand("(P1)", "<= 60 s", ""), "", 0, nil, "pass"},
		{"the named one does not flow", diluted + "case \"o\" {\n valve \"V-3\" { opening = \"0 %\" }\n}\n" + lagBand("(P1)", "<= 60 s", "cases = [\"o\"]\n from = \"S-2\""), "no-lag", diag.Alarm,
			[]string{"no change at S-2", "nothing that comes from there"}, "fail"},
		{"volumes not stated", slow + lagBand("AE", "<= 1 h", ""), "no-volume", diag.Note, []string{"no volume of V-1, V-2: they state none"}, "pass"},
		{"no sorbing component", slow + lagBand("(P1)", "<= 1 h", ""), "", 0, nil, "pass"},
		{"water", "wet" + slow + lagBand("(P1)", "<= 1 h", ""), "sorption", diag.Note, []string{"hold back water"}, "pass"},
	} {
		t.Run(tc.name, func(t *testing.T) {
			text, pre := tc.text, preamble
			if strings.HasPrefix(text, "wet") {
				text, pre = text[3:], wet.Replace(preamble)
			}
			run, flags := judgedWith(t, pre, text)
			var found *diag.Diagnostic
			for i, f := range flags {
				switch f.Code {
				case tc.code:
					found = &flags[i]
				case "band-high", "band-low", "no-lag", "lag-source", "sorption":
					t.Errorf("it says: %s", f.Message)
				}
			}
			if tc.code != "" && found == nil {
				t.Fatalf("stays silent; flags %v", flags)
			}
			if found != nil {
				if found.Level != tc.level || found.Range.IsZero() {
					t.Errorf("level %v at %v", found.Level, found.Range)
				}
				for _, w := range tc.words {
					if !strings.Contains(found.Message, w) {
						t.Errorf("%q lacks %q", found.Message, w)
					}
				}
			}
			checks := 0
			for _, c := range run.Outcome.Checks {
				if c.Name != "b" {
					continue
				}
				checks++
				if c.Status != tc.status || c.Quantity != "lag" || (c.Value == nil) != (c.Margin == nil) {
					t.Errorf("check %+v, want %s", c, tc.status)
				}
				if c.Value != nil && c.Max != nil && math.Abs(*c.Margin-(*c.Max-*c.Value)) > 1e-9 {
					t.Errorf("margin %g of %g below %g", *c.Margin, *c.Value, *c.Max)
				}
			}
			if checks != 1 {
				t.Errorf("%d checks", checks)
			}
		})
	}
}

// A vessel that states no volume is named before a valve that states none.
func TestVolumesNotStated(t *testing.T) {
	_, flags := judged(t, `
valve "A-1" { cv = 0.04 }
vessel "Z-1" {}
valve "V-2" { cv = 0.02 }
line "a" { path = "S -> A-1 -> Z-1 -> V-2 -> (P2) -> tube(6 mm x 1 mm, 1 m) -> ATM" }
`+lagBand("(P2)", "<= 5 s", ""))
	for _, f := range flags {
		if f.Code == "no-volume" && strings.Contains(f.Message, "of Z-1, A-1, V-2:") {
			return
		}
	}
	t.Errorf("flags %v", flags)
}

// Every lag of a band and of an analyzer is in the outcome, sorted; the stirred
// half litre by hand: V rho/w with the mean density of its ends.
func TestLagOutcomes(t *testing.T) {
	run, _ := judged(t, diluted+lagBand("(P1)", "<= 60 s", "from = \"S\""))
	var got []string
	for _, l := range run.Outcome.Cases[0].Lags {
		got = append(got, l.From+" "+l.To)
		if l.Seconds == nil || l.Seconds95 == nil || *l.Seconds95 < *l.Seconds {
			t.Errorf("%+v", l)
		}
	}
	if want := "S AE, S P1, S-2 AE"; strings.Join(got, ", ") != want {
		t.Errorf("lags %v, want %s", got, want)
	}
	run, _ = judged(t, slow+lagBand("(P1)", "<= 60 s", ""))
	l := run.Outcome.Cases[0].Lags[1]
	var filter compiler.LagSegment
	for _, s := range l.Segments {
		if s.Name == "F-1" {
			filter = s
		}
	}
	f, _ := run.Program.Device("F-1")
	r := run.Results[0]
	want := 0.5e-3 * (r.Nodes[f.In].DensityKgM3 + r.Nodes[f.Out].DensityKgM3) / 2 / r.Elements[f.Element].FlowKgS
	if math.Abs(filter.Seconds-want) > 1e-6*want || filter.StirredS != filter.Seconds {
		t.Errorf("filter %+v, by hand %g s", filter, want)
	}
}
