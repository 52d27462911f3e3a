package solver

import (
	"testing"

	"tapline/solver/fluid"
)

// BenchmarkGERG is density and all properties by GERG-2008, at a new temperature each
// time: of nitrogen, of four components and of all twenty-one.
func BenchmarkGERG(b *testing.B) {
	all := map[string]float64{"methane": 1}
	for _, name := range fluid.Components() {
		if _, err := fluid.New(map[string]float64{name: 1}); err == nil && name != "methane" {
			all[name] = 0.0015
			all["methane"] -= 0.0015
		}
	}
	if len(all) != 21 {
		b.Fatal(len(all), " components")
	}
	for _, gas := range []struct {
		name string
		x    map[string]float64
	}{
		{"nitrogen", map[string]float64{"nitrogen": 1}},
		{"four", map[string]float64{"methane": 0.9, "nitrogen": 0.05, "carbon_dioxide": 0.03, "ethane": 0.02}},
		{"twentyone", all},
	} {
		b.Run(gas.name, func(b *testing.B) {
			f, err := fluid.New(gas.x)
			if err != nil {
				b.Fatal(err)
			}
			b.ReportAllocs()
			tK := 300.0
			for b.Loop() {
				if _, err := f.At(tK, 50e5); err != nil {
					b.Fatal(err)
				}
				if tK += 0.37; tK > 400 {
					tK = 300
				}
			}
		})
	}
}

// BenchmarkCase solves one generated case of each class, cold, with the ideal
// gas and with a real one.
func BenchmarkCase(b *testing.B) {
	real, err := fluid.New(map[string]float64{"methane": 0.85, "nitrogen": 0.1, "hydrogen": 0.05})
	if err != nil {
		b.Fatal(err)
	}
	for _, gas := range []struct {
		name string
		f    fluid.Fluid
	}{{"ideal", fluid.Ideal(0.0289652, 1.4, 1.8e-5)}, {"real", real}} {
		for k, class := range classes {
			n, c, _ := generate(uint64(70+k), gas.f)
			b.Run(gas.name+"/"+class, func(b *testing.B) {
				w := NewWorkspace(n)
				b.ReportAllocs()
				var r *Result
				for b.Loop() {
					if r, err = w.Solve(c); err != nil || r.Status != Solved {
						b.Fatal(err, r.Reason)
					}
				}
				b.ReportMetric(float64(r.Iterations), "iterations")
				b.ReportMetric(float64(len(n.Nodes)), "nodes")
			})
		}
	}
}
