package compiler

import (
	"slices"
	"strings"
	"testing"
)

// A bypass of 0.002 from 21.01325 bara feeds what a reducer holds; all else is shut. It is
// choked, and so is the vent: 0.002 21.01325 = 0.02 lift p.
const bypassedReducer = `
source "H" {
  fluid       = "n2"
  pressure    = "20 barg"
  temperature = "20 degC"
}
reducer "R" {
  set             = "3 barg"
  reference_inlet = "20 barg"
  cv              = 0.1
  droop           = "0.2 bar"
  lock_up         = "0.1 bar"
  relieving       = true
  MORE
}
valve "B" { cv = 0.002 }
valve "N" {
  cv    = 0.02
  state = "shut"
}
line "a" { path = "H -> R -> (P1) -> N -> ATM" }
line "b" { path = "H -> B -> (P1)" }
valve "V-9" { cv = 0.01 }
line "z" { path = "S -> V-9 -> ATM" }
case "supply low" {
  source "H" { pressure = "15 barg" }
}
case "loading lost" {
  reducer "R" { fault = "loading lost" }
}
case "vents nothing" {
  valve "B" { state = "shut" }
}
case "draws" {
  valve "N" { state = "open" }
}
`

func TestRelievingReducerByHand(t *testing.T) {
	run := func(more string) *Run { return good(t, solve(t, strings.Replace(bypassedReducer, "MORE", more, 1))) }
	for _, tc := range []struct {
		more, name string
		p          float64 // [bara]
	}{
		// p = 4.01325 + 0.1 + 0.2 lift and lift p = 2.101325: lift 0.49877.
		{"relief_cv = 0.02", "base", 4.11325 + 0.2*0.49877},
		{"relief_cv = 0.02\n relieves_at = \"0.3 bar\"", "base", 4.31325 + 0.2*0.47683},
		// The onset is 2 % of 5 bar higher, lift p = 1.601325: lift 0.37345.
		{"relief_cv = 0.02\n supply_effect = \"2 %\"", "supply low", 4.21325 + 0.2*0.37345},
		// Its spring gone, it vents down to the atmosphere: wide open from 1.31325 on.
		{"relief_cv = 0.01", "loading lost", 0.002 / 0.01 * 21.01325},
		// Shut in, it locks up; drawing, it holds.
		{"relief_cv = 0.02", "vents nothing", 4.11325},
		{"relief_cv = 0.02", "draws", 4.01325 - 0.2*(0.02*4.01325/21.01325-0.002)/0.1},
		// With a dome that follows a node: ratio 1, fed from a supply at 4.01325 bara.
		{"relief_cv = 0.02\n set = null\n loading { dome = \"(D)\" }", "base", 4.11325 + 0.2*0.49877},
		// Without a size nothing is vented, and B brings it to the source's pressure.
		{"", "base", 21.01325},
	} {
		more := tc.more
		text := strings.Replace(bypassedReducer, "MORE", more, 1)
		if strings.Contains(more, "(D)") {
			text = strings.NewReplacer("  set             = \"3 barg\"\n", "", " set = null\n", "").Replace(text) + `
source "PILOT" {
  fluid       = "n2"
  pressure    = "3 barg"
  temperature = "20 degC"
}
valve "V-8" { cv = 0.01 }
line "d" { path = "PILOT -> (D) -> V-8 -> ATM" }
`
		}
		r := good(t, solve(t, text))
		near(t, tc.more+", "+tc.name, nodeIn(t, r, tc.name, "P1").PressurePa, tc.p*1e5, 0.004)
		vents, told := deviceIn(t, r, tc.name, "R").Settings["vents_kg_s"].(float64)
		if told != (tc.more != "") || told && (vents > 0) != (tc.name == "base" || tc.name == "supply low" || tc.name == "loading lost") {
			t.Errorf("%s, %s: vents %g kg/s (%v)", tc.more, tc.name, vents, told)
		}
	}
	// What B brings is what is vented, to the last 1e-9.
	r := run("relief_cv = 0.02")
	vents := deviceIn(t, r, "base", "R").Settings["vents_kg_s"].(float64)
	near(t, "vented", &vents, *deviceIn(t, r, "base", "B").MassFlowKgS, 1e-9)
	if !slices.ContainsFunc(r.Outcome.Cases[0].Nodes, func(n NodeOutcome) bool { return n.Name == "R bonnet" }) {
		t.Error("the bonnet is no node")
	}
}
