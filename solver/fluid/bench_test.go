package fluid

import "testing"

// fourGas is an invented gas of four components.
var fourGas = map[string]float64{"methane": 0.9, "nitrogen": 0.05, "carbon_dioxide": 0.03, "ethane": 0.02}

// allGas has every component.
func allGas() map[string]float64 {
	x := map[string]float64{}
	for _, name := range gergNames() {
		x[name] = 0.0015
	}
	x["methane"] = 1 - 0.0015*float64(len(x)-1)
	return x
}

var benchGases = []struct {
	name string
	x    map[string]float64
}{{"nitrogen", map[string]float64{"nitrogen": 1}}, {"four", fourGas}, {"twentyone", allGas()}}

// BenchmarkAt is density and all properties at a new temperature each time.
func BenchmarkAt(b *testing.B) {
	for _, g := range benchGases {
		b.Run(g.name, func(b *testing.B) {
			e := mustNew(b, g.x).Evaluator()
			b.ReportAllocs()
			tK := 300.0
			for b.Loop() {
				if _, err := e.At(tK, 50e5); err != nil {
					b.Fatal(err)
				}
				if tK += 0.37; tK > 400 {
					tK = 300
				}
			}
		})
	}
}

// BenchmarkDensity is density alone: at a new temperature, and at the last one.
func BenchmarkDensity(b *testing.B) {
	for _, g := range benchGases {
		for _, c := range []struct {
			name    string
			dT, dPa float64
		}{{"new temperature", 0.37, 0}, {"same temperature", 0, 1e4}} {
			b.Run(g.name+"/"+c.name, func(b *testing.B) {
				e := mustNew(b, g.x).Evaluator()
				b.ReportAllocs()
				tK, pPa := 300.0, 50e5
				for b.Loop() {
					if _, _, err := e.Density(tK, pPa); err != nil {
						b.Fatal(err)
					}
					if tK += c.dT; tK > 400 {
						tK = 300
					}
					if pPa += c.dPa; pPa > 60e5 {
						pPa = 50e5
					}
				}
			})
		}
	}
}

func BenchmarkViscosity(b *testing.B) {
	for _, g := range benchGases {
		b.Run(g.name, func(b *testing.B) {
			m := mustNew(b, g.x)
			b.ReportAllocs()
			for b.Loop() {
				m.Viscosity(300, 40)
			}
		})
	}
}
