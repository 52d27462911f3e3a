package solver

import (
	"encoding/json"
	"math"
	"os"
	"slices"
	"testing"

	"tapline/solver/device"
	"tapline/solver/fluid"
)

// Networks of valves solved as circuits by a general circuit simulator; how, and
// what is shared with it, is said in testdata/networks/circuit.

type circuits struct {
	Gas struct {
		MolarMass    float64 `json:"molar_mass_kg_mol"`
		TemperatureK float64 `json:"temperature_K"`
		Gamma        float64 `json:"gamma"`
	} `json:"gas"`
	Networks map[string]struct {
		Fixed    map[string]float64 `json:"fixed_bar"`
		Elements []struct {
			From, To string
			Cv       float64
			XT       float64
			Set      float64 `json:"set_bar"`
			Droop    float64 `json:"droop_bar"`
		} `json:"elements"`
		Pressure map[string]float64 `json:"pressure_bar"`
	} `json:"networks"`
}

func TestCircuits(t *testing.T) {
	data, err := os.ReadFile("../testdata/networks/circuit/answers.json")
	if err != nil {
		t.Fatal(err)
	}
	var all circuits
	if err := json.Unmarshal(data, &all); err != nil {
		t.Fatal(err)
	}
	if len(all.Networks) != 4 {
		t.Fatalf("%d networks", len(all.Networks))
	}
	for name, k := range all.Networks {
		t.Run(name, func(t *testing.T) {
			c := &Case{
				Fluids:   []fluid.Fluid{fluid.Ideal(all.Gas.MolarMass, all.Gas.Gamma, 1.8e-5)},
				AmbientK: all.Gas.TemperatureK, Thermal: Isothermal,
			}
			var nodes []string
			at := func(node string) int {
				if i := slices.Index(nodes, node); i >= 0 {
					return i
				}
				nodes = append(nodes, node)
				condition := Condition{Fluid: -1}
				if p, ok := k.Fixed[node]; ok {
					condition = Condition{Kind: Pressure, PressurePa: p * 1e5, TemperatureK: all.Gas.TemperatureK}
				}
				c.Conditions = append(c.Conditions, condition)
				return len(nodes) - 1
			}
			var elements []Element
			for _, e := range k.Elements {
				elements = append(elements, Element{Name: e.From + "-" + e.To, From: at(e.From), To: at(e.To), Sense: -1})
				d := Device{Passage: device.Coefficient{Cv: e.Cv, XT: e.XT}}
				if e.Set > 0 {
					l := device.ReducerSpec{SetPa: e.Set * 1e5, DroopPa: e.Droop * 1e5, AtmospherePa: 101325}.Lift()
					d.Lift, d.OneWay = &l, true
				}
				c.Devices = append(c.Devices, d)
			}
			n, err := New(nodes, elements)
			if err != nil {
				t.Fatal(err)
			}
			r, err := NewWorkspace(n).Solve(c)
			if err != nil || r.Status != Solved {
				t.Fatalf("%v %v", err, r)
			}
			worst := 0.0
			for i, node := range nodes {
				want, ok := k.Pressure[node]
				if !ok {
					continue
				}
				miss := math.Abs(r.Nodes[i].PressurePa/1e5/want - 1)
				worst = max(worst, miss)
				if !(miss <= 1e-10) {
					t.Errorf("%s: %.13g bar, the circuit has %.13g", node, r.Nodes[i].PressurePa/1e5, want)
				}
			}
			if free := len(nodes) - len(k.Fixed); free != len(k.Pressure) {
				t.Errorf("%d answers for %d nodes", len(k.Pressure), free)
			}
			choked := 0
			for _, e := range r.Elements {
				if e.Choked {
					choked++
				}
			}
			t.Logf("%d unknown pressures, %d choked: worst relative difference %.1e, %v, %d iterations", len(k.Pressure), choked, worst, r.Stage, r.Iterations)
		})
	}
}
