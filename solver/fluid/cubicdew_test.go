package fluid

import (
	"math"
	"testing"
)

// testdata/fluid/mixture-dew-check.csv, method coolprop_pr: another program's dew
// points by plain Peng-Robinson with all k_ij = 0, within 0.3 K. Its constants are
// those of peng-robinson-compositions.csv where they stand there, else ours, which
// are the same to four digits.
func TestPengRobinsonDewPoints(t *testing.T) {
	constants := map[string]critical{}
	for _, r := range readCSV(t, "peng-robinson-compositions.csv") {
		constants[r["component"]] = critical{r.num(t, "T_c_K"), 1e3 * r.num(t, "p_c_kPa"), r.num(t, "acentric_factor")}
	}
	curves := map[string]*envelope{}
	var found worstOf
	all := dewMixtures(t)
	for _, r := range readCSV(t, "mixture-dew-check.csv") {
		m, name := all[r["mixture"]], r["mixture"]
		if _, y := makeupOf(m).water(); y > 0 || r["method"] != "coolprop_pr" {
			continue
		}
		if curves[name] == nil {
			names, z := m.Fractions()
			kind := &cubicKind{weight: make([]float64, len(z)*len(z))}
			for k := range kind.weight {
				kind.weight[k] = 1
			}
			var wilson []critical
			for _, component := range names {
				c, ok := constants[component]
				if !ok {
					c, _ = criticalOf(component)
				}
				wilson = append(wilson, c)
				kind.parts = append(kind.parts, newAttraction(c.tC, c.pC, kappaOf(c.acentric)))
			}
			q := newEquilibrium(kind, z)
			u, ok := q.lowest(wilson)
			if !ok {
				t.Fatalf("%s: no curve", name)
			}
			curves[name] = q.pursue(u, true, never)
		}
		v, pPa := curves[name], 1e3*r.num(t, "p_kPa")
		if pPa < v.fromPa || pPa > v.toPa {
			t.Errorf("%s: the curve ends at %g Pa", name, v.toPa)
			continue
		}
		s := v.find(pPa)
		off := math.Exp(s.lnT(s.at(math.Log(pPa)))) - r.num(t, "T_dew_K")
		found.add(name, off)
		if !(math.Abs(off) < 0.3) {
			t.Errorf("%s at %g Pa: off by %g K", name, pPa, off)
		}
	}
	found.log(t, "against Peng-Robinson of another program")
	if len(found.names) != 7 {
		t.Errorf("%d mixtures", len(found.names))
	}
}

// Curves of gases beyond GERG-2008, as a user would make them: each has one, traced up
// to 100 bar at least or to its end, and just above it the gas is stable and just
// below it is not.
func TestDewPointsBeyondGERG(t *testing.T) {
	for _, x := range []map[string]float64{
		{"nitrogen": 0.99, "toluene": 0.01},
		{"ethylene": 0.7, "propylene": 0.2, "hydrogen": 0.1},
		{"ammonia": 0.3, "nitrogen": 0.2, "hydrogen": 0.5},
		{"hydrogen_chloride": 0.05, "nitrogen": 0.95},
		{"methane": 0.8, "ethane": 0.1, "benzene": 0.01, "propane": 0.09},
		{"nitrogen": 0.9, "methanol": 0.05, "acetone": 0.05},
	} {
		f, err := NewCubic(x)
		if err != nil {
			t.Fatal(err)
		}
		b := DewsOf(f).curve().branches
		if b == nil {
			t.Errorf("%v: no curve: %s", x, DewsOf(f).At(1e5).Words)
			continue
		}
		v := b.highest()
		t.Logf("%v: from %.3g to %.4g bar, end %d, %d stretches; at 1 bar %.2f K", x, v.fromPa/1e5, v.toPa/1e5, v.end, len(v.stretches), DewsOf(f).At(1e5).HydrocarbonK)
		if v.end == endUnsolved && v.toPa < 100e5 {
			t.Errorf("%v: the curve is given up at %g Pa", x, v.toPa)
		}
		for _, pPa := range []float64{1e5, 5e5, 20e5} {
			d := DewsOf(f).At(pPa)
			if math.IsNaN(d.HydrocarbonK) {
				continue
			}
			if above, below := f.Stable(d.HydrocarbonK+0.05, pPa), f.Stable(d.HydrocarbonK-0.05, pPa); above != nil || below == nil {
				t.Errorf("%v at %g Pa, %g K: above %v, below %v", x, pPa, d.HydrocarbonK, above, below)
			}
		}
	}
}
