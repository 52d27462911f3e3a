package compiler

import (
	"math"
	"testing"
)

// A valve between reducers and a tube with fittings, against the standard's factors
// and series resistances worked out by hand.

const wide = `
valve "V" {
  kv          = 3.46
  bore        = "12 mm"
  inlet_line  = "24 mm"
  outlet_line = "20 mm"
}
valve "N" { kv = 1 }
line "a" { path = "S -> V -> (P1) -> N -> ATM" }
case "no reducers" {
  valve "V" {
    inlet_line  = null
    outlet_line = null
  }
}
case "half open" {
  valve "V" { opening = "50 %" }
}
case "fails to another trim" {
  valve "V" {
    opening = "50 %"
    fault   = "wide open"
    fail_cv = 4
  }
}`

func TestValveBetweenReducers(t *testing.T) {
	run := good(t, solve(t, wide))
	// b1 = (12/24)^2 = 0.25, b2 = (12/20)^2 = 0.36.
	before := 0.5*0.75*0.75 + 1 - 0.25*0.25
	sum := before + 0.64*0.64 - (1 - 0.36*0.36)
	for _, c := range []struct {
		name   string
		kv, fp float64
	}{
		{"base", 3.46, 1 / math.Sqrt(1+sum*math.Pow(3.46/144, 2)/0.0016)},
		{"half open", 1.73, 1 / math.Sqrt(1+sum*math.Pow(1.73/144, 2)/0.0016)},
		{"fails to another trim", 3.46, 1 / math.Sqrt(1+sum*math.Pow(3.46/144, 2)/0.0016)},
	} {
		set := deviceIn(t, run, c.name, "V").Settings
		number := func(name string) *float64 {
			x, ok := set[name].(float64)
			if !ok {
				t.Fatalf("%s: no %s in %v", c.name, name, set)
			}
			return &x
		}
		near(t, c.name+": sum of zetas", number("sum_zeta"), sum, 1e-12)
		near(t, c.name+": F_P", number("piping_factor"), c.fp, 1e-12)
		q := math.Pow(c.kv/144, 2)
		near(t, c.name+": x_TP", number("x_tp"), 0.7/(c.fp*c.fp)/(1+0.7*before*q/0.0018), 1e-12)
		near(t, c.name+": F_LP", number("f_lp"), 0.9/math.Sqrt(1+0.81*before*q/0.0016), 1e-12)
		// K in the wider line before it, 0.0016 D^4/Kv^2, and its length at
		// f_T = 1/(2 log10(3.7 D/eps))^2.
		k := 0.0016 * math.Pow(24, 4) / (c.kv * c.kv)
		near(t, c.name+": K", number("resistance_k"), k, 1e-12)
		near(t, c.name+": L", number("equivalent_length_m"), k*0.024*math.Pow(2*math.Log10(3.7*24/0.0015), 2), 1e-9)
	}
	// The smaller F_P of the wider opening counts: F_P Kv passes what both pass.
	w := *deviceIn(t, run, "base", "V").MassFlowKgS
	if bare := *deviceIn(t, run, "no reducers", "V").MassFlowKgS; !(bare > w) {
		t.Errorf("with reducers %g kg/s, without %g", w, bare)
	}
	if _, ok := deviceIn(t, run, "no reducers", "V").Settings["piping_factor"]; ok {
		t.Error("a valve without reducers has a piping factor")
	}
	near(t, "as open as the base", deviceIn(t, run, "fails to another trim", "V").MassFlowKgS, w, 1e-9)
}

func TestFittingsOfATube(t *testing.T) {
	run := good(t, solve(t, `
tube "T" {
  bore   = "4 mm"
  length = "2 m"
}
valve "N" { cv = 0.1 }
line "a" { path = "S -> N -> (P1) -> T -> ATM" }
case "valves in it" {
  tube "T" { fittings_kv = 0.5 }
}
case "as velocity heads" {
  tube "T" { k = 1.6384 }
}
case "as a length" {
  tube "T" { fittings_length = "1 m" }
}
case "longer" {
  tube "T" { length = "3 m" }
}`))
	flow := func(name string) *float64 { return deviceIn(t, run, name, "T").MassFlowKgS }
	// 0.0016 x 4^4/0.5^2 = 1.6384.
	near(t, "a Kv of 0.5", flow("valves in it"), *flow("as velocity heads"), 1e-9)
	// The longer tube takes up a little more heat.
	near(t, "an equivalent length", flow("as a length"), *flow("longer"), 2e-5)
	if !(*flow("as a length") < *flow("base") && *flow("valves in it") < *flow("base")) {
		t.Error("fittings cost nothing")
	}
	if l := deviceIn(t, run, "as a length", "T").Settings["length_m"]; l != 2.0 {
		t.Errorf("the tube is %v m long, want 2", l)
	}
}
