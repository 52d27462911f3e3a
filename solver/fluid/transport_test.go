package fluid

import (
	"fmt"
	"math"
	"testing"
)

// worst keeps the largest relative error and where it was.
type worst struct {
	off   float64
	where string
}

func (w *worst) take(off float64, where string) {
	if math.Abs(off) > math.Abs(w.off) {
		*w = worst{off, where}
	}
}

func (w worst) String() string {
	if w.where == "" {
		return "no reference"
	}
	return fmt.Sprintf("%+.1f %% at %s", 100*w.off, w.where)
}

// testdata/fluid/pure-fluid-check.csv: reference transport correlations of single
// fluids (CoolProp 8.0; the correlations are named in testdata/fluid/README.md).
// Every value must lie within the error that is given with it. The density is the
// file's own.
func TestTransportAgainstReferenceCorrelations(t *testing.T) {
	type errors struct{ to100, all worst }
	eta, lambda := map[string]*errors{}, map[string]*errors{}
	for _, r := range readCSV(t, "pure-fluid-check.csv") {
		name, phase := r["fluid"], r["phase"]
		if !IsComponent(name) || phase == "liquid" || phase == "supercritical_liquid" {
			continue
		}
		m := pureOf(t, name)
		tK, rho := r.num(t, "T_K"), 1e3*r.num(t, "rho_mol_per_L")*m.MolarMass()
		where := r["T_K"] + " K, " + r["p_kPa"] + " kPa"
		check := func(what, column string, unit, got, bound float64, into map[string]*errors) {
			if r[column] == "" {
				return
			}
			off := got/(unit*r.num(t, column)) - 1
			if into[name] == nil {
				into[name] = &errors{}
			}
			into[name].all.take(off, where)
			if r.num(t, "p_kPa") <= 10000 {
				into[name].to100.take(off, where)
			}
			if math.Abs(off) > bound {
				t.Errorf("%s %s: %s off by %.1f %%, said %.1f %%", name, where, what, 100*off, 100*bound)
			}
		}
		v, bound := m.Viscosity(tK, rho)
		check("viscosity", "viscosity_uPa_s", 1e-6, v, bound, eta)
		c, bound := m.Conductivity(tK, rho)
		check("conductivity", "conductivity_mW_per_mK", 1e-3, c, bound, lambda)
	}
	for _, name := range Components() {
		if e := eta[name]; e != nil {
			t.Logf("%-18s viscosity to 100 bar %-32v above %v", name, e.to100, e.all)
		}
		if e := lambda[name]; e != nil {
			t.Logf("%-18s conductivity to 100 bar %-29v above %v", name, e.to100, e.all)
		}
	}
	if len(eta) < 12 || len(lambda) < 11 {
		t.Errorf("tested %d viscosities and %d conductivities", len(eta), len(lambda))
	}
}

// testdata/fluid/gas-viscosity-handbook.csv: carbon monoxide at 300 K, 17.8 uPa s
// within 2 % (handbook, from memory).
func TestViscosityHandbook(t *testing.T) {
	for _, r := range readCSV(t, "gas-viscosity-handbook.csv") {
		if !IsComponent(r["fluid"]) {
			continue
		}
		got, _ := pureOf(t, r["fluid"]).Viscosity(r.num(t, "T_K"), 1.1)
		want := 1e-6 * r.num(t, "viscosity_uPa_s")
		near(t, r["fluid"], got, want, want, r.num(t, "uncertainty_percent")/100)
	}
}

// Air at 300 K and 1 bar: 18.54 uPa s and 26.4 mW/(m K), E. W. Lemmon, R. T
// Jacobsen, Int. J. Thermophys. 25 (2004) 21-69 (the values from memory): a mixture
// against a correlation of the mixture itself.
func TestTransportOfAir(t *testing.T) {
	air := mustNew(t, map[string]float64{"nitrogen": 0.7812, "oxygen": 0.2095, "argon": 0.0093})
	v, _ := air.Viscosity(300, 1.16)
	near(t, "viscosity", v, 18.54e-6, 18.54e-6, 0.015)
	c, _ := air.Conductivity(300, 1.16)
	near(t, "conductivity", c, 26.4e-3, 26.4e-3, 0.03)
}

// A mixture of one fluid with a trace of another is nearly that fluid, and both
// properties rise with density.
func TestTransportProperties(t *testing.T) {
	for _, name := range Components() {
		other := "nitrogen"
		if name == other {
			other = "argon"
		}
		m, trace := pureOf(t, name), mustNew(t, map[string]float64{name: 1 - 1e-9, other: 1e-9})
		for _, tK := range []float64{100, 300, 600} {
			var lastV, lastC float64
			for k := range 8 {
				rho := float64(k) * 0.25 * components[indexByName[name]].rhoC * m.MolarMass()
				v, ev := m.Viscosity(tK, rho)
				c, ec := m.Conductivity(tK, rho)
				v2, _ := trace.Viscosity(tK, rho)
				c2, _ := trace.Conductivity(tK, rho)
				near(t, name+" trace viscosity", v2, v, v, 1e-6)
				near(t, name+" trace conductivity", c2, c, c, 1e-6)
				if !(v > lastV && c > lastC && ev > 0 && ec > 0) {
					t.Errorf("%s %g K: viscosity %g after %g, conductivity %g after %g", name, tK, v, lastV, c, lastC)
				}
				lastV, lastC = v, c
			}
		}
	}
}
