package fluid

import (
	"math"
	"strings"
	"testing"
)

// testdata/fluid/mixture-dew-check.csv: on the warm side of a dew temperature the gas
// is stable, on the cold side it is not. For GERG-2008 the dew points are another
// solver's of the same equation; for Peng-Robinson another program's, all
// interaction parameters 0, whose critical constants differ slightly. Water is held
// against the same tangent plane here.
func TestStabilityAgainstDewPoints(t *testing.T) {
	all := compositions(t, "mixture-dew-compositions.csv", "mixture")
	for name, m := range compositions(t, "gerg2008-compositions.csv", "composition") {
		all[name] = m
	}
	plain := map[string]*Cubic{}
	for name, m := range all {
		names, x := m.Fractions()
		fractions := map[string]float64{}
		for k := range names {
			fractions[names[k]] = x[k]
		}
		c := cubicOf(t, fractions)
		for k := range c.kind.weight {
			c.kind.weight[k] = 1
		}
		plain[name] = newCubic(c.kind, c.x)
	}
	count := map[string]int{}
	for _, r := range readCSV(t, "mixture-dew-check.csv") {
		name, dewK, pPa := r["mixture"], r.num(t, "T_dew_K"), 1e3*r.num(t, "p_kPa")
		var f Composed
		within := 0.05
		switch r["method"] {
		case "gerg2008_independent":
			f = all[name]
		case "coolprop_pr":
			f = plain[name]
			within = 0.3
		default:
			continue
		}
		if dewK < 1.1*lowestK {
			continue
		}
		count[r["method"]]++
		u := makeupOf(f)
		index := make([]int, len(u.names))
		dry := true
		for k, n := range u.names {
			index[k] = substanceByName()[n]
			dry = dry && index[k] != water
		}
		for _, off := range []float64{within, -within} {
			s, ok := splits(u.f, index, u.z, dewK+off, pPa, Gas)
			if ok && (s == nil) != (off > 0) || !ok && off > 0 {
				t.Errorf("%s %s at %g bar, %g K above its dew temperature %g K: split %v, gas %v", r["method"], name, pPa/1e5, off, dewK, s, ok)
			}
			// Water has a dew point of its own, not the equation's.
			if err := f.Stable(dewK+off, pPa); dry && (err == nil) != (off > 0) {
				t.Errorf("%s %s at %g bar, %g K above its dew temperature %g K: %v", r["method"], name, pPa/1e5, off, dewK, err)
			}
		}
	}
	t.Logf("dew points: %v", count)
	if count["gerg2008_independent"] < 60 || count["coolprop_pr"] < 60 {
		t.Errorf("dew points: %v", count)
	}
}

// Two components that one cannot mistake: by Raoult's and Dalton's laws, which hold
// at these low pressures, the gas condenses at x p = saturation pressure.
func TestStabilityOfVapourInGas(t *testing.T) {
	for _, c := range []struct {
		vapour, gas string
		tK          float64
	}{
		{"benzene", "nitrogen", 300},
		{"toluene", "helium", 320},
		{"ethylene_oxide", "argon", 270},
		{"acetone", "hydrogen", 290},
	} {
		pure := cubicOf(t, map[string]float64{c.vapour: 1})
		own, ok := pure.equalFugacityPa(c.tK)
		if !ok {
			t.Fatal(c.vapour)
		}
		const pPa = 2e5
		for _, share := range []float64{0.9, 1.1} {
			y := share * own / pPa
			m := cubicOf(t, map[string]float64{c.vapour: y, c.gas: 1 - y})
			err := m.Stable(c.tK, pPa)
			if (err == nil) != (share < 1) {
				t.Errorf("%s of %.2g times its saturation pressure in %s: %v", c.vapour, share, c.gas, err)
			}
			if err != nil && !strings.Contains(err.Error(), Spoken(c.vapour)) {
				t.Errorf("%v does not name %s", err, c.vapour)
			}
		}
	}
}

// A split is a real one: both its ends have lower Gibbs energy together than the feed.
func TestSplitsLowerGibbsEnergy(t *testing.T) {
	found := 0
	cubicStates(t, 400, func(c *Cubic, tK, pPa float64, _ State) {
		if c.only >= 0 {
			return
		}
		s, ok := splits(c.kind, c.kind.index, c.x, tK, pPa, Gas)
		if !ok || s == nil {
			return
		}
		found++
		gibbs := func(x []float64, ph Phase) float64 {
			ln := make([]float64, len(x))
			if !c.kind.lnPhi(ln, x, tK, pPa, ph) {
				t.Fatalf("%s: no root", c.label())
			}
			sum := 0.0
			for i := range x {
				if x[i] > 0 {
					sum += x[i] * (ln[i] + math.Log(x[i]))
				}
			}
			return sum
		}
		const part = 1e-4 // of the feed goes into the new phase
		rest := make([]float64, len(c.x))
		for i := range rest {
			rest[i] = (c.x[i] - part*s.w[i]) / (1 - part)
			if rest[i] < 0 {
				return
			}
		}
		before, after := gibbs(c.x, Gas), (1-part)*gibbs(rest, Gas)+part*gibbs(s.w, s.phase)
		if !(after < before) {
			t.Errorf("%s %g K %g Pa: splitting raises the Gibbs energy by %g", c.label(), tK, pPa, after-before)
		}
	})
	if found < 30 {
		t.Errorf("only %d splits", found)
	}
}
