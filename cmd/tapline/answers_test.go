package main

import (
	"encoding/json"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"testing"

	"tapline/cmd/internal/report"
)

// What check answers, end to end, against answers worked out apart from this
// code: the contract systems (testdata/contract) and an independent solution of
// larger networks (testdata/networks, which shares nothing with this code but
// the published constants).

// run gives what `check DIR --format json` prints and its status.
func run(t *testing.T, dir, failOn string) (doc map[string]any, exit int) {
	t.Helper()
	found, err := compile([]string{dir}, engineOptions{})
	if err != nil {
		t.Fatal(err)
	}
	data, err := encode("json", found.Outcome, rendering{options: report.Options{Width: 80}})
	if err != nil {
		t.Fatal(err)
	}
	if err := json.Unmarshal(data, &doc); err != nil {
		t.Fatal(err)
	}
	return doc, status(found.Outcome, failOn)
}

func load(t *testing.T, name string, into any) {
	t.Helper()
	data, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	if err := json.Unmarshal(data, into); err != nil {
		t.Fatal(err)
	}
}

// expected is the layout of expected.json.
type expected struct {
	Exit  *int `json:"exit_fail_on_alarm"`
	Cases map[string]struct {
		Nodes map[string]struct {
			Pressure    *float64           `json:"pressure_Pa"`
			Low         *float64           `json:"pressure_low_Pa"`
			High        *float64           `json:"pressure_high_Pa"`
			Temperature *float64           `json:"temperature_K"`
			State       string             `json:"state"`
			Composition map[string]float64 `json:"composition"`
		} `json:"nodes"`
		Flows  map[string]float64 `json:"flows"`
		Lift   map[string]float64 `json:"lift"`
		Choked map[string]bool    `json:"choked"`
		Flags  []string           `json:"flags"`
		// Lags are by the place they go to; there is one source.
		Lags map[string]float64 `json:"lag_seconds"`
	} `json:"cases"`
}

type tolerance struct{ pressure, flow, temperature, composition, lag float64 }

// answers holds the cases of a document by name, their nodes and devices too.
func byName(list any, key string) map[string]map[string]any {
	out := map[string]map[string]any{}
	for _, e := range list.([]any) {
		m := e.(map[string]any)
		out[m[key].(string)] = m
	}
	return out
}

func number(v any) float64 {
	if x, ok := v.(float64); ok {
		return x
	}
	return math.NaN()
}

// compare holds a document against an expected.json.
func compare(t *testing.T, doc map[string]any, want expected, tol tolerance, atmosphere bool) {
	t.Helper()
	system := doc["systems"].([]any)[0].(map[string]any)
	floor := 0.0
	if atmosphere {
		floor = system["atmosphere_Pa"].(float64)
	}
	cases := byName(system["cases"], "name")
	near := func(what string, got any, want *float64, rel, off float64) {
		if want == nil {
			return
		}
		if g := number(got); !(math.Abs(g-*want) <= rel*math.Abs(*want-off)) {
			t.Errorf("%s: %v, want %.10g", what, got, *want)
		}
	}
	for name, e := range want.Cases {
		c, ok := cases[name]
		if !ok {
			t.Errorf("there is no case %q", name)
			continue
		}
		nodes, devices := byName(c["nodes"], "name"), byName(c["devices"], "tag")
		for n, v := range e.Nodes {
			got, where := nodes[n], fmt.Sprintf("case %q, node %s", name, n)
			near(where, got["pressure_Pa"], v.Pressure, tol.pressure, floor)
			near(where+", low", got["pressure_low_Pa"], v.Low, tol.pressure, 0)
			near(where+", high", got["pressure_high_Pa"], v.High, tol.pressure, 0)
			near(where+", temperature", got["temperature_K"], v.Temperature, tol.temperature, 0)
			for component, x := range v.Composition {
				composition, _ := got["composition"].(map[string]any)
				near(where+", "+component, composition[component], &x, tol.composition, 0)
			}
			if v.State != "" && got["state"] != v.State {
				t.Errorf("%s is %v, want %v", where, got["state"], v.State)
			}
		}
		for tag, v := range e.Flows {
			near(fmt.Sprintf("case %q, flow of %s", name, tag), devices[tag]["mass_flow_kg_s"], &v, tol.flow, 0)
		}
		lags := byName(c["lags"], "to")
		for to, v := range e.Lags {
			near(fmt.Sprintf("case %q, lag to %s", name, to), lags[to]["seconds"], &v, tol.lag, 0)
			t.Logf("lag to %s: %v s, worked out apart %v s", to, lags[to]["seconds"], v)
		}
		for tag, v := range e.Lift {
			near(fmt.Sprintf("case %q, lift of %s", name, tag), devices[tag]["lift"], &v, tol.flow, 0)
		}
		for tag, v := range e.Choked {
			if devices[tag]["choked"] != v {
				t.Errorf("case %q, %s: choked %v, want %v", name, tag, devices[tag]["choked"], v)
			}
		}
		for _, f := range e.Flags {
			if !flagged(doc, name, f) {
				t.Errorf("case %q lacks the flag %q", name, f)
			}
		}
	}
}

func flagged(doc map[string]any, name, flag string) bool {
	for _, f := range doc["flags"].([]any) {
		m := f.(map[string]any)
		if m["case"] == name && fmt.Sprintf("%v at (%v)", m["code"], m["at"]) == flag {
			return true
		}
	}
	return false
}

const shared = "../../testdata"

func TestContractSystems(t *testing.T) {
	for _, name := range []string{"series", "regulated", "dead-end", "tube-lag"} {
		t.Run(name, func(t *testing.T) {
			dir := filepath.Join(shared, "contract", name)
			var want expected
			load(t, filepath.Join(dir, "expected.json"), &want)
			doc, exit := run(t, dir, "alarm")
			compare(t, doc, want, tolerance{pressure: 1e-3, flow: 2e-3, temperature: 1e-3, lag: 5e-3}, true)
			if exit != *want.Exit {
				t.Errorf("exit status %d, want %d", exit, *want.Exit)
			}
		})
	}
}

func TestContractGolden(t *testing.T) {
	dir := filepath.Join(shared, "contract", "series")
	var want any
	load(t, filepath.Join(dir, "golden.json"), &want)
	doc, _ := run(t, dir, "alarm")
	same(t, "", any(doc), want)
}

// same holds every field against the golden one: "*" takes anything, numbers
// have the contract's tolerance.
func same(t *testing.T, at string, got, want any) {
	switch w := want.(type) {
	case map[string]any:
		g, ok := got.(map[string]any)
		if !ok || len(g) != len(w) {
			t.Errorf("%s: %v, want %v", at, got, want)
			return
		}
		for k := range w {
			if _, ok := g[k]; !ok {
				t.Errorf("%s lacks %q", at, k)
				continue
			}
			same(t, at+"."+k, g[k], w[k])
		}
	case []any:
		g, ok := got.([]any)
		if !ok || len(g) != len(w) {
			t.Errorf("%s: %v, want %v", at, got, want)
			return
		}
		for i := range w {
			same(t, fmt.Sprintf("%s[%d]", at, i), g[i], w[i])
		}
	case float64:
		if g, ok := got.(float64); !ok || math.Abs(g-w) > 1e-3*math.Abs(w) {
			t.Errorf("%s: %v, want %v", at, got, w)
		}
	default:
		if want != "*" && got != want {
			t.Errorf("%s: %v, want %v", at, got, want)
		}
	}
}

func TestIndependentNetworks(t *testing.T) {
	for _, name := range []string{"parallel", "bridge", "dome", "relief", "blend"} {
		t.Run(name, func(t *testing.T) {
			dir := filepath.Join(shared, "networks", name)
			var want expected
			load(t, filepath.Join(dir, "expected.json"), &want)
			doc, _ := run(t, dir, "alarm")
			compare(t, doc, want, tolerance{pressure: 1e-6, flow: 1e-6, temperature: 1e-6, composition: 1e-6}, false)
			t.Logf("%d cases agree to 1e-6 with testdata/networks/solve.py (independent re-derivation)", len(want.Cases))
		})
	}
}
