package fluid

import (
	"errors"
	"fmt"
	"math"
	"testing"
)

// testdata/fluid/pure-fluid-check.csv: the liquid rows, also those above the critical
// pressure (CoolProp 8.0; correlations in testdata/fluid/README.md). Where a value is
// given, the reference must lie within the error given with it.
func TestLiquidViscosityAgainstReferenceCorrelations(t *testing.T) {
	var tables errorTables
	for _, r := range readCSV(t, "pure-fluid-check.csv") {
		if r["viscosity_uPa_s"] == "" || r["phase"] != "liquid" && r["phase"] != "supercritical_liquid" {
			continue
		}
		i := substanceOf(t, r["fluid"])
		where := r["T_K"] + " K, " + r["p_kPa"] + " kPa"
		v, bound, err := pureTransport(i).liquidViscosity(r.num(t, "T_K"), 1e3*r.num(t, "p_kPa"))
		if err != nil {
			t.Logf("%s %s: %v", r["fluid"], where, err)
			continue
		}
		off := v/(1e-6*r.num(t, "viscosity_uPa_s")) - 1
		tables.take(i, off, fmt.Sprintf("%s (said %.1f %%)", where, 100*bound))
		if math.Abs(off) > bound {
			t.Errorf("%s %s: off by %.1f %%, said %.1f %%", r["fluid"], where, 100*off, 100*bound)
		}
	}
	if n := tables.print(t, "liquid"); n < 17 {
		t.Errorf("tested %d liquids", n)
	}
}

// Pure liquids at 20 degC (ammonia 25 degC), handbook values in mPa s: D. R. Lide, CRC
// Handbook of Chemistry and Physics, from memory to two digits; and mixtures of the
// same kind at 25 degC. Water with methanol or ethanol is there to hold the error that
// is given, not the value.
func TestLiquidViscosityHandbook(t *testing.T) {
	for _, c := range []struct {
		parts []part
		tK    float64
		mPas  float64
	}{
		{[]part{{water, 1}}, 293.15, 1.002},
		{[]part{{methanol, 1}}, 293.15, 0.59},
		{[]part{{ethanol, 1}}, 293.15, 1.20},
		{[]part{{acetone, 1}}, 293.15, 0.32},
		{[]part{{benzene, 1}}, 293.15, 0.65},
		{[]part{{toluene, 1}}, 293.15, 0.59},
		{[]part{{cyclohexane, 1}}, 293.15, 0.98},
		{[]part{{orthoXylene, 1}}, 293.15, 0.81},
		{[]part{{styrene, 1}}, 293.15, 0.75},
		{[]part{{carbonDisulfide, 1}}, 293.15, 0.36},
		{[]part{{nPentane, 1}}, 293.15, 0.23},
		{[]part{{nHexane, 1}}, 293.15, 0.31},
		{[]part{{nHeptane, 1}}, 293.15, 0.41},
		{[]part{{nOctane, 1}}, 293.15, 0.54},
		{[]part{{nNonane, 1}}, 293.15, 0.71},
		{[]part{{nDecane, 1}}, 293.15, 0.92},
		{[]part{{benzene, 0.5}, {toluene, 0.5}}, 298.15, 0.58},
		{[]part{{nHexane, 0.5}, {nDecane, 0.5}}, 298.15, 0.51},
		{[]part{{water, 0.7}, {methanol, 0.3}}, 298.15, 1.6},
		{[]part{{water, 0.75}, {ethanol, 0.25}}, 298.15, 2.3},
	} {
		tr := mixTransport(c.parts)
		v, bound, err := tr.liquidViscosity(c.tK, 2e5)
		if err != nil {
			t.Fatal(err)
		}
		off := v/(1e-3*c.mPas) - 1
		name := ""
		for _, p := range c.parts {
			name += fmt.Sprintf("%g %s ", p.x, substances[p.i].name)
		}
		t.Logf("%-30s %+5.1f %%, said %.1f %%", name, 100*off, 100*bound)
		if math.Abs(off) > bound+0.02 {
			t.Errorf("%s: off by %.1f %%", name, 100*off)
		}
	}
}

// The viscosity of every saturated liquid falls with temperature without a step, that
// of a compressed one rises with pressure, and outside its range there is none.
func TestLiquidViscosityProperties(t *testing.T) {
	count := 0
	for i := range substances {
		name, tr := substances[i].name, pureTransport(i)
		if liquidViscosities[i].form == noCurve {
			if _, _, err := tr.liquidViscosity(300, 1e5); err == nil {
				t.Errorf("%s: viscosity from nowhere", name)
			}
			continue
		}
		count++
		_, _, lowK, highK := saturatedViscosity(i, 300)
		last := math.Inf(1)
		const steps = 300
		for k := range steps + 1 {
			tK := lowK + (highK-lowK)*float64(k)/steps
			v, e, _, _ := saturatedViscosity(i, tK)
			if !(v > 0 && v < last && e > 0) || k > 0 && v < 0.7*last {
				t.Errorf("%s %.1f K: %g after %g", name, tK, v, last)
				break
			}
			last = v
			lastP := 0.0
			for _, pPa := range []float64{1e5, 1e6, 5e6, 20e6, 70e6} {
				p, e, err := tr.liquidViscosity(tK, pPa)
				if err != nil || !(p >= lastP && e > 0) && i != water {
					t.Errorf("%s %.1f K %g Pa: %g after %g, %v", name, tK, pPa, p, lastP, err)
				}
				lastP = p
			}
		}
		for _, tK := range []float64{lowK - 0.1, highK + 0.1} {
			var state *StateError
			if _, _, err := tr.liquidViscosity(tK, 1e5); !errors.As(err, &state) {
				t.Errorf("%s %g K: not refused", name, tK)
			}
		}
	}
	if count < 60 {
		t.Errorf("%d liquids", count)
	}
}

// A mixture is symmetric, meets the pure liquids at its ends, and takes a little of a
// dissolved gas.
func TestLiquidViscosityOfMixtures(t *testing.T) {
	one := mixTransport([]part{{nHexane, 0.3}, {toluene, 0.7}})
	two := mixTransport([]part{{toluene, 0.7}, {nHexane, 0.3}})
	a, ea, _ := one.liquidViscosity(300, 5e5)
	b, eb, _ := two.liquidViscosity(300, 5e5)
	near(t, "order", a, b, b, 1e-14)
	near(t, "error", ea, eb, eb, 1e-13)
	near0 := mixTransport([]part{{nHexane, 1 - 1e-9}, {toluene, 1e-9}})
	c, _, _ := near0.liquidViscosity(300, 5e5)
	pure, _, _ := pureTransport(nHexane).liquidViscosity(300, 5e5)
	near(t, "trace", c, pure, pure, 1e-8)
	wet := mixTransport([]part{{water, 0.99}, {nitrogen, 0.01}})
	d, e, err := wet.liquidViscosity(300, 5e5)
	w, ew, _ := pureTransport(water).liquidViscosity(300, 5e5)
	if err != nil || !(e > ew) {
		t.Errorf("nitrogen in water: error %g, %v", e, err)
	}
	near(t, "nitrogen in water", d, w, w, 1e-12)
	gassy := mixTransport([]part{{water, 0.9}, {nitrogen, 0.1}})
	if _, _, err := gassy.liquidViscosity(300, 5e5); err == nil {
		t.Error("a tenth of nitrogen taken for liquid")
	}
}

// Saturated liquid water: IAPWS SR1-86(1992), table 1: 273.16, 373.1243 and 647.096 K
// and density 999.789, 958.365 and 322 kg/m3.
func TestLiquidWaterDensity(t *testing.T) {
	for _, c := range []struct{ tK, rhoKgM3 float64 }{{273.16, 999.789}, {373.1243, 958.365}, {647.096, 322}} {
		near(t, fmt.Sprintf("%g K", c.tK), 18.01528e-3*liquidWaterDensity(c.tK, 0), c.rhoKgM3, 1, 6e-4)
	}
}
