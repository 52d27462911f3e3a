package compiler

import (
	"fmt"
	"slices"
	"strings"
	"testing"
)

// charged is a reducer with a charged dome over a shut valve: P1 stands at what the dome
// gives, P_L = r p_dome + (1 - r) p_atm + bias.
const charged = `
fluid "co2" { mole_percent = { "carbon dioxide" = 100 } }
source "H" {
  fluid       = "n2"
  pressure    = "40 barg"
  temperature = "20 degC"
}
reducer "R" {
  cv    = 0.1
  droop = "0.2 bar"
  loading {
    %s
  }
}
valve "V" {
  cv    = 0.02
  state = "shut"
}
line "a" { path = "H -> R -> (P1) -> V -> ATM" }
valve "V-9" { cv = 0.01 }
line "b" { path = "S -> V-9 -> ATM" }
case "frost" {
  site { ambient = "-18 degC" }
}
case "heat" {
  site { ambient = "40 degC" }
}
case "low glass" {
  site { atmosphere = "950 mbara" }
}
`

func TestChargedDomeFollowsTemperature(t *testing.T) {
	for _, tc := range []struct {
		name, loading string
		bara          map[string]float64 // at P1, by case
		rel           float64
	}{
		// 12 barg are 13.01325 bara at 293.15 K: 13.01325 255.15/293.15 = 11.326388 and
		// 13.01325 313.15/293.15 = 13.90107 bara. The gas shut in knows no barometer.
		{"charged at the base's ambient", `dome = "12 barg"`,
			map[string]float64{"base": 13.01325, "frost": 11.326388, "heat": 13.90107, "low glass": 13.01325}, 1e-6},
		// 13.01325 293.15/313.15 = 12.18213.
		{"charged warm", "dome = \"12 barg\"\n charged_at = \"40 degC\"",
			map[string]float64{"base": 12.18213, "frost": 10.603004, "heat": 13.01325}, 1e-6},
		// Half of each, and 0.5 + 1 bar; the atmosphere acts on the other half.
		{"half the area and a spring", "dome = \"12 barg\"\n ratio = 0.5\n bias = \"1 bar\"",
			map[string]float64{"base": 6.506625 + 0.506625 + 1, "frost": 5.663194 + 0.506625 + 1, "low glass": 6.506625 + 0.475 + 1}, 1e-6},
		// Second virial coefficients of nitrogen, -5.9 and -14.9 cm3/mol at 293 and 255 K (from
		// memory of a handbook): rho = p/(R T (1 + B rho)) = 535.6 mol/m3, and
		// rho R T (1 + B rho) at 255.15 K = 11.362 (1 - 0.00798) = 11.272 bara.
		{"a real gas", "dome = \"12 barg\"\n charged_with = \"n2\"", map[string]float64{"base": 13.01325, "frost": 11.272}, 5e-4},
	} {
		run := good(t, solve(t, fmt.Sprintf(charged, tc.loading)))
		for c, bara := range tc.bara {
			near(t, tc.name+", "+c, nodeIn(t, run, c, "P1").PressurePa, bara*1e5, tc.rel)
		}
		s := deviceIn(t, run, "frost", "R").Settings
		if s["charge_Pa"] != 1301325.0 || s["dome_K"] != 255.15 || s["dome_Pa"] == s["charge_Pa"] {
			t.Errorf("%s: the settings say %v", tc.name, s)
		}
		said := slices.ContainsFunc(run.Assumptions, func(s string) bool {
			return strings.Contains(s, "dome of R is taken to have been charged at the ambient temperature of the base case, 20 degC")
		})
		if said == strings.Contains(tc.loading, "charged_at") {
			t.Errorf("%s: %q", tc.name, run.Assumptions)
		}
	}
}

// A holder's dome lets its inlet down with the cold; one that follows a node is not
// charged, whatever stands beside it.
func TestDomesOfHolders(t *testing.T) {
	holder := func(loading string) *Run {
		return good(t, solve(t, strings.NewReplacer(`reducer "R"`, `holder "R"`, "droop", "accumulation", "H -> R -> (P1) -> V -> ATM", "H -> V -> (P1) -> R -> ATM",
			"state = \"shut\"", "").Replace(fmt.Sprintf(charged, loading))))
	}
	run := holder(`dome = "12 barg"`)
	for c, onset := range map[string]float64{"base": 13.01325e5, "frost": 11.326388e5} {
		d := deviceIn(t, run, c, "R")
		near(t, c, nodeIn(t, run, c, "P1").PressurePa, onset+2e4**d.Lift, 1e-6)
	}
	run = holder("dome = \"(P1)\"\n bias = \"-1 bar\"\n charged_at = \"20 degC\"")
	if !slices.Contains(run.Assumptions, "the charged_at of R is not used where its dome is not charged to a pressure") {
		t.Errorf("%q", run.Assumptions)
	}
}

// A charge that would condense is refused, at its fluid.
func TestChargeThatCondenses(t *testing.T) {
	run := solve(t, fmt.Sprintf(charged, "dome = \"45 barg\"\n charged_with = \"co2\""))
	if len(run.Found) != 1 || run.Found[0].Code != "charge-state" || !strings.Contains(run.Found[0].Message, "from 20 to -18 degC") {
		t.Fatalf("%v", run.Found)
	}
}
