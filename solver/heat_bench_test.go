package solver

import "testing"

// BenchmarkHeat is one sweep of temperatures through the panel of 40 devices and, apart,
// the renewal of what gases the sweep leaves: with the flows and pressures of two cases
// in turn, and of one that it has followed already.
func BenchmarkHeat(b *testing.B) {
	n, cs := forty(natural(b), 0, 2)
	w := NewWorkspace(n)
	var r Result
	var p, flow [2][]float64
	for k := range 4 {
		if err := w.SolveInto(&r, cs[k%2], true); err != nil || r.Status != Solved {
			b.Fatal(err, r.Reason)
		}
		p[k%2], flow[k%2] = append(p[k%2][:0], w.p...), append(flow[k%2][:0], w.linear...)
	}
	for _, v := range []struct {
		name     string
		flows    int
		tangents bool
	}{{"sweep/moved", 2, false}, {"sweep/still", 1, false}, {"with-gases/moved", 2, true}, {"with-gases/still", 1, true}} {
		b.Run(v.name, func(b *testing.B) {
			k := 0
			for b.Loop() {
				copy(w.p, p[k%v.flows])
				copy(w.linear, flow[k%v.flows])
				w.temperatures()
				if v.tangents {
					w.tangents()
				}
				k++
			}
		})
	}
}
