package fluid

import (
	"math"
	"sync"
	"testing"
	"time"
)

// dewMixtures are the compositions of testdata/fluid/mixture-dew-check.csv.
func dewMixtures(t *testing.T) map[string]*Mixture {
	all := compositions(t, "mixture-dew-compositions.csv", "mixture")
	all["nist_test_21"] = compositions(t, "gerg2008-compositions.csv", "composition")["nist_test_21"]
	return all
}

// worstOf collects the worst difference of each mixture, in order of appearance.
type worstOf struct {
	names []string
	worst map[string]float64
	rows  map[string]int
}

func (w *worstOf) add(name string, off float64) {
	if w.worst == nil {
		w.worst, w.rows = map[string]float64{}, map[string]int{}
	}
	if _, seen := w.worst[name]; !seen {
		w.names = append(w.names, name)
	}
	w.rows[name]++
	if math.Abs(off) >= math.Abs(w.worst[name]) {
		w.worst[name] = off
	}
}

func (w *worstOf) log(t *testing.T, title string) {
	t.Helper()
	t.Log(title)
	for _, name := range w.names {
		t.Logf("  %-22s %2d rows, worst %+.4f K", name, w.rows[name], w.worst[name])
	}
}

// testdata/fluid/mixture-dew-check.csv: hydrocarbon dew points by another
// implementation of GERG-2008, within 0.3 K. Both solve the same equations, so
// a thousandth is asked here; nist_test_21 holds 0.01 % of water, which is taken out
// here and not there.
func TestHydrocarbonDewPoints(t *testing.T) {
	all := dewMixtures(t)
	var gerg, heos worstOf
	for _, r := range readCSV(t, "mixture-dew-check.csv") {
		m, name := all[r["mixture"]], r["mixture"]
		if _, y := makeupOf(m).water(); y > 0.001 || r["method"] == "coolprop_pr" {
			continue
		}
		pPa := 1e3 * r.num(t, "p_kPa")
		d := DewsOf(m).At(pPa)
		off := d.HydrocarbonK - r.num(t, "T_dew_K")
		if r["method"] == "coolprop_heos" {
			heos.add(name, off)
			continue
		}
		gerg.add(name, off)
		if !(math.Abs(off) < 0.001) {
			t.Errorf("%s at %g Pa: %g K, want %s (%s)", name, pPa, d.HydrocarbonK, r["T_dew_K"], d.Words)
		}
	}
	gerg.log(t, "against GERG-2008, independent solver")
	heos.log(t, "against CoolProp HEOS, other equations")
	if len(gerg.names) != 8 {
		t.Errorf("%d mixtures", len(gerg.names))
	}
}

// testdata/fluid/mixture-dew-check.csv: water dew points. Up to 1 MPa within 1 K of
// HEOS. GERG-2008's own liquid water has a vapour pressure 0.4 % off, so against it
// the difference is 0.1 K and more; for water in air a correction is made that it
// does not have (waterinair.go). Rows of supercooled liquid are left out: ice is what
// forms.
func TestWaterDewPoints(t *testing.T) {
	all := dewMixtures(t)
	var low, high, gerg worstOf
	for _, r := range readCSV(t, "mixture-dew-check.csv") {
		m, name := all[r["mixture"]], r["mixture"]
		want := r.num(t, "T_dew_K")
		if _, y := makeupOf(m).water(); y < 0.001 || r["method"] == "coolprop_pr" || want < waterTripleK {
			continue
		}
		pPa := 1e3 * r.num(t, "p_kPa")
		d := DewsOf(m).At(pPa)
		off := d.WaterK - want
		switch {
		case r["method"] == "gerg2008_independent":
			gerg.add(name, off)
		case pPa > 1e6:
			high.add(name, off)
			if !(math.Abs(off) < 1.2) {
				t.Errorf("%s at %g Pa: %g K, want %g", name, pPa, d.WaterK, want)
			}
		default:
			low.add(name, off)
			if !(math.Abs(off) < 0.2) {
				t.Errorf("%s at %g Pa: %g K, want %g", name, pPa, d.WaterK, want)
			}
		}
		if d.Frost {
			t.Errorf("%s at %g Pa: frost at %g K", name, pPa, d.WaterK)
		}
	}
	low.log(t, "against HEOS up to 1 MPa")
	high.log(t, "against HEOS above 1 MPa, to 7 MPa")
	gerg.log(t, "against GERG-2008's own liquid water, no correction for air")
	if len(low.names) != 5 {
		t.Errorf("%d mixtures", len(low.names))
	}
}

// What is read off the curve against solving at that very pressure, one pressure
// after the other.
func TestDewCurveAgainstSolution(t *testing.T) {
	all := dewMixtures(t)
	for _, name := range []string{"gas_a_c1_c4", "gas_b_c1_c6", "natural_gas_lean", "natural_gas_rich", "lpg", "n2_hexane", "co2_methane", "nist_test_21"} {
		u := makeupOf(withoutWater(all[name]))
		q := newEquilibrium(u.f, u.z)
		v := DewsOf(all[name]).curve().branches.pieces[0]
		var constants []critical
		for _, n := range u.names {
			c, _ := criticalOf(n)
			constants = append(constants, c)
		}
		first, ok := q.estimate(v.fromPa, constants)
		if !ok {
			t.Fatalf("%s: no first point", name)
		}
		slope, _ := q.tangent(first, q.lnP())
		here := &point{first, slope, q.lnP()}
		worst, at, count := 0.0, 0.0, 0
		end := math.Log(0.995 * v.toPa)
		step := 0.043
		if len(u.z) > 10 {
			step = 0.1
		}
		for here.u[q.lnP()]+step < end {
			if here, _, ok = q.follow(here, step); !ok {
				t.Fatalf("%s: not solved after %d pressures", name, count)
			}
			count++
			lnP := here.u[q.lnP()]
			s := v.find(math.Exp(lnP))
			if off := math.Abs(math.Exp(s.lnT(s.at(lnP))) - math.Exp(here.u[q.lnT()])); off > worst {
				worst, at = off, math.Exp(lnP)
			}
		}
		t.Logf("%-20s %3d pressures from %.3g to %.5g bar: worst %.5f K, at %.4g bar; %d stretches", name, count, v.fromPa/1e5, v.toPa/1e5, worst, at/1e5, len(v.stretches))
		if !(worst <= 0.02) {
			t.Errorf("%s: the curve is %g K off at %g Pa", name, worst, at)
		}
	}
}

// The hydrocarbon curve of a gas is that of its dry part, whatever the water; both
// dew points stand side by side.
func TestDryBasis(t *testing.T) {
	dry := mustNew(t, map[string]float64{"methane": 0.85, "ethane": 0.08, "propane": 0.04, "n_butane": 0.02, "n_hexane": 0.01})
	y := 0.004
	wet := mustNew(t, map[string]float64{"methane": 0.85 * (1 - y), "ethane": 0.08 * (1 - y), "propane": 0.04 * (1 - y), "n_butane": 0.02 * (1 - y), "n_hexane": 0.01 * (1 - y), "water": y})
	for _, pPa := range []float64{1e5, 20e5, 60e5} {
		a, b := DewsOf(dry).At(pPa), DewsOf(wet).At(pPa)
		near(t, "dry and wet", b.HydrocarbonK, a.HydrocarbonK, 1, 1e-4)
		if !math.IsNaN(a.WaterK) || !(b.WaterK > 260) || a.Mostly != "n_hexane" {
			t.Errorf("%v %v", a, b)
		}
		if b.HighestK() != max(b.HydrocarbonK, b.WaterK) {
			t.Errorf("highest %g of %v", b.HighestK(), b)
		}
	}
	above := DewsOf(dry).At(140e5)
	if !math.IsNaN(above.HydrocarbonK) || above.Words == "" || !(above.CricondenbarPa > 110e5 && above.CricondenbarPa < 120e5) {
		t.Errorf("above the cricondenbar: %+v", above)
	}
}

// Pure fluids: the saturation temperature. Carbon dioxide boils at 20 degC under
// 57.3 bara (R. Span, W. Wagner, J. Phys. Chem. Ref. Data 25 (1996) 1509) and
// sublimes at 194.69 K under 1 atm; water boils at 373.12 K under 1 atm.
func TestPureDewPoints(t *testing.T) {
	for _, c := range []struct {
		name      string
		pPa, want float64
	}{
		{"carbon_dioxide", 57.291e5, 293.15}, {"carbon_dioxide", 101325, 194.69},
		{"methane", 101325, 111.667}, {"nitrogen", 101325, 77.355}, {"n_butane", 101325, 272.66},
		{"water", 101325, 373.124}, {"water", 611.657, 273.16}, {"water", 103.26, 253.15},
	} {
		d := DewsOf(pureOf(t, c.name)).At(c.pPa)
		got := d.HydrocarbonK
		if c.name == "water" {
			got = d.WaterK
		}
		near(t, c.name, got, c.want, c.want, 2e-4)
	}
	if d := DewsOf(pureOf(t, "carbon_dioxide")).At(80e5); !math.IsNaN(d.HydrocarbonK) || d.Words == "" {
		t.Errorf("above the critical pressure: %+v", d)
	}
	if d := DewsOf(pureOf(t, "helium")).At(1e5); !math.IsNaN(d.HydrocarbonK) {
		t.Errorf("helium: %+v", d)
	}
}

// Carbon dioxide with a little propane has an azeotrope at 0.3 bar, where the liquid
// equals the gas. The curve is found on both sides of it, near the saturation of pure
// carbon dioxide, and the stability of the gas agrees with it.
func TestDewCurveTakenUpAgain(t *testing.T) {
	m := mustNew(t, map[string]float64{"carbon_dioxide": 0.995, "propane": 0.005})
	for _, c := range []struct {
		pPa    float64
		mostly string
	}{{1e4, "carbon_dioxide"}, {10e5, "carbon_dioxide"}, {40e5, "carbon_dioxide"}} {
		d := DewsOf(m).At(c.pPa)
		if !(d.HydrocarbonK > 100) || d.Mostly != c.mostly {
			t.Errorf("at %g Pa: %+v", c.pPa, d)
			continue
		}
		if above, below := m.Stable(d.HydrocarbonK+0.05, c.pPa), m.Stable(d.HydrocarbonK-0.05, c.pPa); above != nil || below == nil {
			t.Errorf("at %g Pa, %g K: above %v, below %v", c.pPa, d.HydrocarbonK, above, below)
		}
	}
	pure := DewsOf(pureOf(t, "carbon_dioxide")).At(40e5)
	near(t, "near pure", DewsOf(m).At(40e5).HydrocarbonK, pure.HydrocarbonK, pure.HydrocarbonK, 3e-3)
}

// One curve for all who ask, and the same whoever asks first.
func TestDewsShared(t *testing.T) {
	x := map[string]float64{"methane": 0.85, "ethane": 0.08, "propane": 0.04, "n_butane": 0.02, "n_hexane": 0.009, "water": 0.001}
	a, b := mustNew(t, x), mustNew(t, x)
	var pressures []float64
	for pPa := 1e4; pPa < 1e7; pPa *= 1.7 {
		pressures = append(pressures, pPa)
	}
	together := make([]Dew, len(pressures))
	var group sync.WaitGroup
	for k, pPa := range pressures {
		group.Go(func() { together[k] = DewsOf(a).At(pPa) })
	}
	group.Wait()
	for k := len(pressures) - 1; k >= 0; k-- {
		if got := DewsOf(b).At(pressures[k]); got != together[k] {
			t.Errorf("at %g Pa: %v and %v", pressures[k], got, together[k])
		}
	}
}

// Hostile pressures and gases get an answer in words.
func TestDewsRefuse(t *testing.T) {
	gas := mustNew(t, map[string]float64{"hydrogen": 0.5, "helium": 0.5})
	for _, pPa := range []float64{math.NaN(), math.Inf(1), -1, 0, 1e-300, 1e300, 1e5} {
		if d := DewsOf(gas).At(pPa); !math.IsNaN(d.HydrocarbonK) || d.Words == "" {
			t.Errorf("at %g Pa: %+v", pPa, d)
		}
	}
	wet := mustNew(t, map[string]float64{"nitrogen": 0.99, "water": 0.01})
	for _, pPa := range []float64{math.NaN(), math.Inf(1), -1, 0, 1e-300, 1e300} {
		DewsOf(wet).At(pPa)
	}
}

// What a curve and a reading cost, printed.
func TestDewCost(t *testing.T) {
	for _, g := range []struct {
		name string
		x    map[string]float64
	}{
		{"pure", map[string]float64{"carbon_dioxide": 1}},
		{"4 components", map[string]float64{"methane": 0.9, "ethane": 0.06, "propane": 0.03, "n_butane": 0.01}},
		{"9 components, wet", map[string]float64{"methane": 0.85, "ethane": 0.07, "propane": 0.03, "n_butane": 0.02, "n_hexane": 0.005, "nitrogen": 0.01, "carbon_dioxide": 0.01, "n_pentane": 0.004, "water": 0.001}},
		{"21 components", allGas()},
	} {
		m := mustNew(t, g.x)
		start := time.Now()
		DewsOf(m).At(20e5)
		first := time.Since(start)
		const n = 200
		start = time.Now()
		for k := range n {
			DewsOf(m).At(1e5 * float64(1+k%60))
		}
		t.Logf("%-20s curve %v, a reading %v", g.name, first.Round(10*time.Microsecond), (time.Since(start) / n).Round(100*time.Nanosecond))
	}
}
