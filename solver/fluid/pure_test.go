package fluid

import (
	"math"
	"testing"
)

// densityWithin are the largest differences of density [%] between GERG-2008 and
// the reference equations, from 250 K, as testdata/fluid/README.md has them; where
// it has none, 0.3 %, the sort of tolerance the authors of GERG-2008 give.
var densityWithin = map[string]float64{
	"nitrogen": 0.006, "methane": 0.03, "carbon_dioxide": 0.04, "hydrogen": 0.06, "ethane": 0.02,
	"helium": 0.14, "oxygen": 0.17, "argon": 0.18, "propane": 0.25, "water": 0.46,
}

// testdata/fluid/pure-fluid-check.csv: reference equations of single fluids
// (CoolProp 8.0), an equation of state other than the one under test.
func TestPureFluidsAgainstReferenceEquations(t *testing.T) {
	tested := map[string]float64{}
	for _, r := range readCSV(t, "pure-fluid-check.csv") {
		name := r["fluid"]
		phase := r["phase"]
		if !covered(name) || phase == "liquid" || phase == "supercritical_liquid" {
			continue
		}
		m := pureOf(t, name)
		tK, pPa := r.num(t, "T_K"), 1e3*r.num(t, "p_kPa")
		label := name + " " + r["T_K"] + " K " + r["p_kPa"] + " kPa"
		s, err := m.At(tK, pPa)
		if err != nil {
			t.Errorf("%s: %v", label, err)
			continue
		}
		within := densityWithin[name]
		if within == 0 {
			within = 0.3
		}
		if tK >= 250 {
			off := 100 * (s.DensityMol/(1e3*r.num(t, "rho_mol_per_L")) - 1)
			tested[name] = max(tested[name], math.Abs(off))
			if math.Abs(off) > 1.2*within { // two digits are given
				t.Errorf("%s: density off by %.3f %%", label, off)
			}
		}
		cpWithin := 1.0
		if name == "water" {
			cpWithin = 6.5
		}
		if off := 100 * (s.Cp*m.MolarMass()/r.num(t, "cp_J_per_molK") - 1); math.Abs(off) > cpWithin {
			t.Errorf("%s: cp off by %.2f %%", label, off)
		}
		if off := 100 * (s.Sound/r.num(t, "w_m_per_s") - 1); math.Abs(off) > 1 {
			t.Errorf("%s: speed of sound off by %.2f %%", label, off)
		}
	}
	for _, name := range gergNames() {
		if off, ok := tested[name]; ok {
			t.Logf("%-18s density within %.3f %%", name, off)
		}
	}
	if len(tested) < 12 {
		t.Errorf("only %d fluids tested", len(tested))
	}
}

// testdata/fluid/pure-saturation-check.csv: saturation pressures of the reference
// equations. GERG-2008 meets them within 0.25 % (observed), water and n-hexane at
// low temperature within 1 %.
func TestSaturationAgainstReferenceEquations(t *testing.T) {
	count := 0
	for _, r := range readCSV(t, "pure-saturation-check.csv") {
		i, ok := substanceByName()[r["fluid"]]
		tK := r.num(t, "T_K")
		if !ok || tK < lowestK {
			continue
		}
		count++
		within := 0.25
		if i == water || i == nHexane {
			within = 1
		}
		if off := 100 * (saturationPa(i, tK)/(1e3*r.num(t, "p_sat_kPa")) - 1); math.Abs(off) > within {
			t.Errorf("%s %g K: saturation pressure off by %.3f %%", r["fluid"], tK, off)
		}
	}
	if count < 30 {
		t.Errorf("only %d rows tested", count)
	}
}

// Between its nodes the table must agree with the equation solved there.
func TestSaturationTable(t *testing.T) {
	compared := 0
	for i := range components {
		table := satTableOf(i)
		e := pureOf(t, components[i].name).Evaluator()
		for k := 0; k+1 < len(table.nodes); k += 7 {
			a := table.nodes[k]
			x := a.x + satStep/2
			tK := table.tC / x
			e.setTemperature(table.tC / a.x)
			y := 1 - 1/x
			liquid, gas := 1+0.75*y+1.75*math.Cbrt(y), math.Exp(a.lnP)/(e.m.rhoR*gasConstant*tK)
			_, _, n, ok := e.saturate(x, liquid, gas)
			if !ok {
				continue // so far from the neighbours not every start converges
			}
			compared++
			near(t, components[i].name+" saturation pressure", saturationPa(i, tK), math.Exp(n.lnP), math.Exp(n.lnP), 2e-5)
		}
	}
	if compared < 10*componentCount {
		t.Errorf("only %d points compared", compared)
	}
}

// Published points of the sublimation curves: water 230 K from the check table of
// IAPWS R14-08; carbon dioxide at its normal sublimation point, 194.6857 K (ITS-90
// secondary point). At the triple point each meets its triple pressure.
func TestSublimation(t *testing.T) {
	near(t, "water 230 K", gasLimitPa(water, 230), 8.94735, 8.94735, 1e-6)
	near(t, "carbon dioxide 194.6857 K", gasLimitPa(carbonDioxide, 194.6857), 101325, 101325, 1e-4)
	near(t, "water 273.1599 K", gasLimitPa(water, 273.1599), 611.657, 611.657, 1e-4)
	near(t, "carbon dioxide 216.5919 K", gasLimitPa(carbonDioxide, 216.5919), 517950, 517950, 1e-4)
}
