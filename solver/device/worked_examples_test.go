package device

import (
	"encoding/json"
	"fmt"
	"maps"
	"math"
	"os"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// The rows of testdata/worked-examples/flow-laws.json. Each is checked below, by
// a function from its inputs to its expected values, or stands in leftOut with
// the reason. Rows of kind own-calculation are regression values and tested
// apart.

type row struct {
	ID         string
	Kind       string
	Quantity   string
	Inputs     map[string]any
	Expected   map[string]struct{ Value any }
	Tolerance  float64               `json:"tolerance_relative"`
	Accepted   map[string][2]float64 // intervals that take the place of the tolerance
	Source     string
	Recomputed string
	Note       string
}

// in reads the number of an input.
func (r row) in(name string) float64 {
	v := r.Inputs[name]
	if pair, ok := v.([]any); ok {
		v = pair[0]
	}
	f, ok := v.(float64)
	if !ok {
		panic(fmt.Sprintf("%s: input %q is %v", r.ID, name, r.Inputs[name]))
	}
	return f
}

// each reads every expected key as a number and gives f of it.
func (r row) each(f func(float64) float64) map[string]any {
	got := map[string]any{}
	for key := range r.Expected {
		x, err := strconv.ParseFloat(key, 64)
		if err != nil {
			panic(err)
		}
		got[key] = f(x)
	}
	return got
}

type examples map[string]row

func load(t *testing.T) examples {
	t.Helper()
	text, err := os.ReadFile("../../testdata/worked-examples/flow-laws.json")
	if err != nil {
		t.Fatal(err)
	}
	var rows []row
	if err := json.Unmarshal(text, &rows); err != nil {
		t.Fatal(err)
	}
	all := examples{}
	for _, r := range rows {
		all[r.ID] = r
	}
	if len(all) != len(rows) {
		t.Fatal("an id stands twice")
	}
	return all
}

type check func(r row, all examples) map[string]any

var leftOut = map[string]string{
	"CF-07":     "needs an equation of state: C* of real gases",
	"CF-15":     "its drop is stated in mercury under water",
	"CF-17":     "sonic conductance is not one of the laws",
	"TB-03":     "wall thickness is not a flow law",
	"CV-01/Rev": "the Re_v of the law leaves out the velocity of approach, 0.7 % of it here",
	"RG-03":     "class numbers from memory, to be held against the standard before use",
}

func TestPublishedExamples(t *testing.T) { runExamples(t, published, false) }

// Own calculations repeat an earlier script of ours: they say that a value has not
// moved, not that it is right.
func TestOwnRegressionValues(t *testing.T) { runExamples(t, regression, true) }

func runExamples(t *testing.T, checks map[string]check, own bool) {
	all := load(t)
	for _, id := range slices.Sorted(maps.Keys(checks)) {
		r, ok := all[id]
		if !ok || (r.Kind == "own-calculation") != own {
			t.Errorf("%s: no such row of this kind", id)
			continue
		}
		t.Run(id, func(t *testing.T) {
			t.Logf("%s [%s] %s", r.Quantity, r.Kind, r.Source)
			got := checks[id](r, all)
			for key, want := range r.Expected {
				if leftOut[id+"/"+key] != "" {
					continue
				}
				if in, ok := r.Accepted[key]; ok {
					inInterval(t, key, got[key], in)
					continue
				}
				compare(t, key, got[key], want.Value, r.Tolerance)
			}
		})
	}
}

func compare(t *testing.T, key string, got, want any, tolerance float64) {
	t.Helper()
	w, ok := want.(float64)
	if !ok {
		if got != want {
			t.Errorf("%s: got %v, want %v", key, got, want)
		}
		return
	}
	g, ok := got.(float64)
	if !ok || math.Abs(g-w) > tolerance*math.Abs(w) {
		t.Errorf("%s: got %v, want %v within %g of it", key, got, want, tolerance)
		return
	}
	t.Logf("%s: %.6g, want %.6g: off by %.1e of %.1e", key, g, w, math.Abs(g/w-1), tolerance)
}

func inInterval(t *testing.T, key string, got any, in [2]float64) {
	t.Helper()
	if g, ok := got.(float64); !ok || g < in[0] || g > in[1] {
		t.Errorf("%s: got %v, want %g to %g", key, got, in[0], in[1])
		return
	}
	t.Logf("%s: %.6g, accepted from %g to %g", key, got, in[0], in[1])
}

func TestEveryExampleIsCheckedOrLeftOutForAReason(t *testing.T) {
	for id, r := range load(t) {
		n := 0
		for _, in := range []bool{published[id] != nil, regression[id] != nil, leftOut[id] != ""} {
			if in {
				n++
			}
		}
		if n != 1 {
			t.Errorf("%s (%s) is in %d of the lists", id, r.Quantity, n)
		}
		if strings.HasPrefix(r.Recomputed, "differs") && leftOut[id] == "" && r.Accepted == nil {
			t.Errorf("%s: recomputed says %s", id, r.Recomputed)
		}
	}
}

// ideal is an ideal gas at p [Pa] and t [K].
func ideal(p, t, molarMass, gamma, viscosity float64) *Gas {
	return &Gas{
		PressurePa: p, TemperatureK: t, DensityKgM3: p * molarMass / (GasConstant * t), Exponent: 1,
		MolarMass: molarMass, GammaIdeal: gamma, Kappa: gamma, ViscosityPaS: viscosity,
	}
}

// withZ is the same with a compressibility factor.
func withZ(g *Gas, z float64) *Gas {
	g.DensityKgM3 /= z
	return g
}

const (
	bar         = 1e5
	atm         = 101325.0
	perHour     = 3600.0
	poundKg     = 0.45359237
	footM       = 0.3048
	normalMolM3 = atm / (GasConstant * 273.15) // at 0 degC, 1 atm
	freezing    = 273.15
)

// fahrenheit gives K.
func fahrenheit(f float64) float64 { return (f-32)/1.8 + freezing }

// cubicFootAt60F is the amount [mol] of a standard cubic foot, 60 degF and 14.696 psia.
var cubicFootAt60F = footM * footM * footM * atm / (GasConstant * fahrenheit(60))
