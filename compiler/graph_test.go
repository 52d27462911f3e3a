package compiler

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"tapline/lang"
	"tapline/lang/diag"
)

// head of every small system below; values are invented.
const preamble = `
system "bench" {}
site { reference_state = "15 degC, 101.325 kPaa" }
fluid "n2" {
  mole_percent = { nitrogen = 100 }
}
fluid "air" {
  mole_percent = { nitrogen = 79, oxygen = 21 }
}
source "S" {
  fluid       = "n2"
  pressure    = "6 barg"
  temperature = "20 degC"
}
vent "ATM" { pressure = "0 barg" }
`

func read(t *testing.T, text string) *lang.Description {
	t.Helper()
	d, found := lang.ReadFiles("bench", map[string][]byte{"x.tap.hcl": []byte(preamble + text)})
	if diag.HasErrors(found) {
		t.Fatalf("the test's own text: %v", found)
	}
	return d
}

func solve(t *testing.T, text string) *Run {
	t.Helper()
	run, err := Solve(read(t, text), Options{})
	if err != nil {
		t.Fatal(err)
	}
	return run
}

// What only the graph, or a whole case, can tell: the code, the characters
// underlined, and words of the message.
func TestErrorsOfTheGraph(t *testing.T) {
	for _, tc := range []struct{ name, text, code, at, words string }{
		{"nothing resists in a ring", `
valve "V-1" { cv = 0.1 }
analyzer "A-1" {}
analyzer "A-2" {}
line "a" { path = "S -> V-1 -> (P1) -> A-1 -> (P2) -> ATM" }
line "b" { path = "(P1) -> A-2 -> (P2)" }`,
			"loop-without-resistance", `"A-2"`, "A-2 closes a loop"},
		{"nothing resists between source and vent", `
analyzer "A-1" {}
line "a" { path = "S -> A-1 -> ATM" }`,
			"loop-without-resistance", `"A-1"`, "joins two known pressures"},
		{"two boundaries at one node", `
vent "B" { pressure = "0 barg" }
valve "V-1" { cv = 0.1 }
line "a" { path = "S -> V-1 -> (P1)" }
line "b" { path = "(P1) -> ATM" }
line "c" { path = "(P1) -> B" }`,
			"boundaries-joined", `"B"`, "ATM and B meet at P1"},
		{"a part that nothing feeds", `
vent "B" { pressure = "1 barg" }
valve "V-1" { cv = 0.1 }
valve "V-2" { cv = 0.1 }
line "a" { path = "S -> V-1 -> ATM" }
line "b" { path = "B -> V-2 -> (P9) -> cap" }`,
			"no-source", "B", "no source feeds"},
		{"a reducer the wrong way round", `
valve "V-1" { cv = 0.1 }
reducer "R-1" {
  set   = "3 barg"
  cv    = 0.1
  droop = "0.2 bar"
}
line "a" { path = "S -> V-1 -> (P1)" }
line "b" { path = "(P2) -> R-1 -> (P1)" }
valve "V-2" { cv = 0.1 }
line "c" { path = "(P2) -> V-2 -> ATM" }`,
			"cannot-pass", `"R-1"`, "nothing can reach P2"},
		{"both ends at one node", `
valve "V-1" { cv = 0.1 }
valve "V-2" { cv = 0.1 }
line "a" { path = "S -> V-1 -> (P1) -> V-2 -> (P1)" }
valve "V-3" { cv = 0.1 }
line "b" { path = "(P1) -> V-3 -> ATM" }`,
			"joined-to-itself", `"V-2"`, "both ends of V-2 are at P1"},
		{"a flow at the local state", `
flow_controller "FC" { set = "1 aL/min" }
line "a" { path = "S -> FC -> ATM" }`,
			"wrong-flow", `"1 aL/min"`, "a gas flow needs its reference state"},
		{"a gauge pressure below vacuum", `
valve "V-1" { cv = 0.1 }
vent "B" { pressure = "-1.2 barg" }
line "a" { path = "S -> V-1 -> B" }
valve "V-2" { cv = 0.1 }
line "b" { path = "S -> V-2 -> ATM" }`,
			"below-vacuum", `"-1.2 barg"`, "not above absolute zero"},
	} {
		t.Run(tc.name, func(t *testing.T) {
			run := solve(t, tc.text)
			src := preamble + tc.text
			for _, f := range run.Found {
				if f.Code != tc.code {
					continue
				}
				if !strings.Contains(f.Message, tc.words) {
					t.Errorf("says %q, want words %q", f.Message, tc.words)
				}
				if got := src[f.Range.Start.Byte:f.Range.End.Byte]; tc.at != "" && got != tc.at {
					t.Errorf("underlines %q, want %q", got, tc.at)
				}
				if f.Level != diag.Error || f.Range.IsZero() {
					t.Errorf("level %v at %v", f.Level, f.Range)
				}
				return
			}
			t.Errorf("no %s among %v", tc.code, run.Found)
		})
	}
}

// A shut valve keeps gases apart; open, the shares say what meets. The flow of a
// device set by volume is counted for the gas that comes along its path.
func TestGasesMeet(t *testing.T) {
	run := solve(t, `
source "C" {
  fluid       = "air"
  pressure    = "6 barg"
  temperature = "20 degC"
}
valve "V-1" { cv = 0.1 }
valve "V-2" {
  cv    = 0.1
  state = "shut"
}
flow_controller "FC" { set = "1 NL/min" }
valve "V-3" { cv = 0.1 }
line "a" { path = "S -> V-1 -> (P1) -> FC -> (P2) -> V-3 -> ATM" }
line "b" { path = "C -> V-2 -> (P1)" }
case "both" {
  valve "V-2" { state = "open" }
}`)
	if diag.HasErrors(run.Found) {
		t.Fatal(run.Found)
	}
	for k, want := range []int{1, 2} {
		for _, n := range run.Outcome.Cases[k].Nodes {
			if n.Name != "P1" && n.Name != "P2" {
				continue
			}
			sum, x := 0.0, 0.0
			for _, s := range n.Shares {
				sum += s
			}
			for _, s := range n.Composition {
				x += s
			}
			if len(n.Shares) != want || math.Abs(sum-1) > 1e-12 || math.Abs(x-1) > 1e-12 {
				t.Errorf("case %d, %s: shares %v, composition %v", k, n.Name, n.Shares, n.Composition)
			}
		}
	}
	const assumed = "the flow stated of FC is taken to be one of the gas of S"
	if !slices.Contains(run.Assumptions, assumed) {
		t.Errorf("%q is not among %q", assumed, run.Assumptions)
	}
}

// Names of nodes, in the order of language section "Paths and names".
func TestNodeNames(t *testing.T) {
	run := solve(t, `
valve "V-1" { cv = 0.1 }
vessel "D-1" {}
valve "V-2" { cv = 0.1 }
valve "V-3" { cv = 0.1 }
line "a" { path = "S -> V-1 -> (Z) -> D-1 -> V-2 -> V-3 -> ATM" }
line "b" { path = "(A) -> D-1" }
line "c" { path = "(A) -> V-4 -> ATM" }
valve "V-4" { cv = 0.1 }`)
	if diag.HasErrors(run.Found) {
		t.Fatal(run.Found)
	}
	var got []string
	for _, n := range run.Outcome.Cases[0].Nodes {
		got = append(got, fmt.Sprintf("%s%v", n.Name, n.Aliases))
	}
	if want := "A[Z D-1] ATM[] S[] V-2.out[]"; strings.Join(got, " ") != want {
		t.Errorf("%s, want %s", strings.Join(got, " "), want)
	}
}
