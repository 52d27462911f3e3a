package solver

import (
	"testing"

	"tapline/solver/fluid"
)

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
