package device

import (
	"fmt"
	"testing"
)

func BenchmarkFlow(b *testing.B) {
	cases := []struct {
		name   string
		law    Law
		pUp    float64
		pDown  float64
		gasIdx int
	}{
		{"coefficient", Coefficient{Cv: 0.02, XT: 0.7, FL: 0.9}, 5.1e5, 4e5, 1},
		{"coefficient real gas", Coefficient{Cv: 0.02, XT: 0.7, FL: 0.9}, 5.1e5, 4e5, 2},
		{"coefficient choked", Coefficient{Cv: 0.02, XT: 0.7, FL: 0.9}, 5.1e5, 1e5, 1},
		{"small trim", Coefficient{Cv: 0.002, XT: 0.8, FL: 0.98, SeatM: 0.8e-3}, 5.1e5, 4e5, 1},
		{"nozzle", Nozzle{AreaM2: 12e-6, K: 0.8}, 5.1e5, 4e5, 1},
		{"nozzle choked", Nozzle{AreaM2: 12e-6, K: 0.8}, 5.1e5, 1e5, 1},
		{"tube turbulent", Tube{BoreM: 4e-3, LengthM: 45, RoughnessM: 1.5e-6}, 5.1e5, 4e5, 1},
		{"tube turbulent real gas", Tube{BoreM: 4e-3, LengthM: 45, RoughnessM: 1.5e-6}, 5.1e5, 4e5, 2},
		{"tube laminar", Tube{BoreM: 4e-3, LengthM: 45, RoughnessM: 1.5e-6}, 5.1e5, 5.09e5, 1},
		{"tube sonic exit", Tube{BoreM: 4e-3, LengthM: 3, RoughnessM: 1.5e-6, K: 2}, 9e5, 1e5, 1},
		{"tube sonic exit real gas", Tube{BoreM: 4e-3, LengthM: 3, RoughnessM: 1.5e-6, K: 2}, 9e5, 1e5, 2},
		{"tube adiabatic", Tube{BoreM: 4e-3, LengthM: 0.5, RoughnessM: 1.5e-6}, 5.1e5, 4.9e5, 1},
		{"tube adiabatic real gas", Tube{BoreM: 4e-3, LengthM: 0.5, RoughnessM: 1.5e-6}, 5.1e5, 4.9e5, 2},
		{"tube adiabatic sonic", Tube{BoreM: 4e-3, LengthM: 0.5, RoughnessM: 1.5e-6}, 5.1e5, 1e5, 1},
	}
	gs := gases()
	for _, c := range cases {
		b.Run(c.name, func(b *testing.B) {
			b.ReportAllocs()
			g := &gs[c.gasIdx]
			var sum float64
			for b.Loop() {
				sum += c.law.Flow(c.pUp, c.pDown, g).W
			}
			if !(sum > 0) {
				b.Fatal("no flow")
			}
		})
		// As the solver asks, from the flow before, with an inlet that moves by that share
		// of the drop.
		for _, by := range []float64{1e-6, 1e-2} {
			b.Run(fmt.Sprintf("%s/from %g away", c.name, by), func(b *testing.B) {
				g := &gs[c.gasIdx]
				var from Start
				var f Flow
				var sum float64
				for k := 0; b.Loop(); k++ {
					Pass(&f, c.law, c.pUp+by*(c.pUp-c.pDown)*float64(k&3), c.pDown, g, &from)
					sum += f.W
				}
				if !(sum > 0) {
					b.Fatal("no flow")
				}
			})
		}
	}
}
