package fluid

import (
	"slices"
	"testing"
)

// The tables against the files they were written from (testdata/fluid/gerg2008,
// the constants of the NIST AGA8 program), number by number.
func TestTables(t *testing.T) {
	same := func(what string, got, want float64) {
		t.Helper()
		near(t, what, got, want, want, 1e-15)
	}
	constants := map[string]float64{"R": gasConstant, "R_ideal": idealRatio * gasConstant, "T_ref": referenceK, "p_ref": referencePa / 1e3}
	for _, r := range readCSV(t, "gerg2008/constants.csv") {
		same(r["name"], constants[r["name"]], r.num(t, "value"))
	}
	ideal := readCSV(t, "gerg2008/ideal.csv")
	rows := readCSV(t, "gerg2008/components.csv")
	if len(rows) != componentCount {
		t.Fatalf("%d components", len(rows))
	}
	for i, r := range rows {
		c := &components[i]
		if c.name != r["name"] || c.name != ideal[i]["name"] {
			t.Fatalf("component %d is %s, want %s", i, c.name, r["name"])
		}
		same(c.name+" M", 1e3*c.molarMass, r.num(t, "molar_mass_g_per_mol"))
		same(c.name+" rho_c", c.rhoC/1e3, r.num(t, "rho_c_mol_per_L"))
		same(c.name+" T_c", c.tC, r.num(t, "T_c_K"))
		same(c.name+" s", c.idealEntropy, ideal[i].num(t, "s_const"))
		same(c.name+" h", c.idealEnthalpy, ideal[i].num(t, "h_const_K"))
		same(c.name+" cp0", c.cp0, ideal[i].num(t, "cp0_const"))
		vibrations := func(terms []vibration, numbers ...string) {
			for _, n := range numbers {
				if theta := ideal[i].num(t, "theta"+n+"_K"); theta != 0 {
					if len(terms) == 0 {
						t.Fatalf("%s: term %s is missing", c.name, n)
					}
					same(c.name+" theta"+n, terms[0].theta, theta)
					same(c.name+" v"+n, terms[0].v, ideal[i].num(t, "v"+n))
					terms = terms[1:]
				}
			}
			if len(terms) != 0 {
				t.Errorf("%s has terms too many", c.name)
			}
		}
		vibrations(c.sinh, "1", "3")
		vibrations(c.cosh, "2", "4")
	}

	var seen [componentCount]int
	for _, r := range readCSV(t, "gerg2008/residual.csv") {
		i := substanceByName()[r["name"]]
		k := seen[i]
		seen[i]++
		s := residuals[i].shape[k]
		same(r["name"]+" n", residuals[i].n[k], r.num(t, "n"))
		if float64(s.d) != r.num(t, "d") || s.t != r.num(t, "t") || float64(s.c) != r.num(t, "c") {
			t.Errorf("%s term %s: shape %v", r["name"], r["term"], s)
		}
	}
	for i, n := range seen {
		if n != len(residuals[i].n) || n != len(residuals[i].shape) {
			t.Errorf("%s has %d terms, want %d", components[i].name, len(residuals[i].n), n)
		}
	}

	next := 0
	terms := map[string][]bell{}
	for _, r := range readCSV(t, "gerg2008/binary.csv") {
		i, j := substanceByName()[r["name_i"]], substanceByName()[r["name_j"]]
		p := pairTable(i, j)
		if p.i != i || p.j != j {
			t.Fatalf("pair %d %d holds %d %d", i, j, p.i, p.j)
		}
		same("beta_v", p.betaRho, r.num(t, "beta_v"))
		same("gamma_v", p.gammaRho, r.num(t, "gamma_v"))
		same("beta_T", p.betaT, r.num(t, "beta_T"))
		same("gamma_T", p.gammaT, r.num(t, "gamma_T"))
		if name := r["departure_function"]; name != "" {
			f := departures[next]
			next++
			if f.i != i || f.j != j {
				t.Fatalf("departure %d belongs to %d %d, want %d %d", next, f.i, f.j, i, j)
			}
			same("F", f.f, r.num(t, "F"))
			terms[name] = f.terms
		}
	}
	if next != len(departures) {
		t.Errorf("%d departures, want %d", len(departures), next)
	}
	for _, r := range readCSV(t, "gerg2008/departure.csv") {
		list := terms[r["function"]]
		if len(list) == 0 {
			t.Fatalf("%s is missing a term", r["function"])
		}
		want := bell{r.num(t, "n"), int(r.num(t, "d")), r.num(t, "t"),
			r.num(t, "eta"), r.num(t, "epsilon"), r.num(t, "beta"), r.num(t, "gamma")}
		if list[0] != want {
			t.Errorf("%s term %s = %v, want %v", r["function"], r["term"], list[0], want)
		}
		terms[r["function"]] = list[1:]
	}
	for name, rest := range terms {
		if len(rest) != 0 {
			t.Errorf("%s has %d terms too many", name, len(rest))
		}
	}
}

// The scratch arrays of an Evaluator are sized for a mixture of everything, and hold
// every multiparameter equation.
func TestScratchSizes(t *testing.T) {
	m := &mustNew(t, allGas()).terms
	if len(m.groups) != maxGroups || len(m.t) != maxPowers {
		t.Errorf("%d groups, %d powers; sized for %d, %d", len(m.groups), len(m.t), maxGroups, maxPowers)
	}
	for i := range substanceCount {
		if ownEquation(i) == nil {
			continue
		}
		m := &ownMixture(i).terms
		exponent := slices.Max(append([]int{0}, m.exponents...))
		if len(m.groups) > maxGroups || len(m.t) > maxPowers || len(m.bells) > maxBells || exponent > 7 {
			t.Errorf("%s: %d groups, %d powers, %d bells, exponentials to the %d", substances[i].name, len(m.groups), len(m.t), len(m.bells), exponent)
		}
	}
}
