package fluid

import (
	"math"
	"math/rand/v2"
	"sync"
	"testing"
)

// tableGases are light, heavy, polar and of many components, under both equations.
var tableGases = []struct {
	name string
	x    map[string]float64
}{
	{"nitrogen", map[string]float64{"nitrogen": 1}},
	{"hydrogen", map[string]float64{"hydrogen": 1}},
	{"four", fourGas},
	{"all", allGas()},
	{"carbon dioxide", map[string]float64{"carbon_dioxide": 1}},
	{"propane", map[string]float64{"propane": 1}},
	{"damp nitrogen", map[string]float64{"nitrogen": 0.98, "water": 0.02}},
	{"rich", map[string]float64{"methane": 0.8, "ethane": 0.12, "propane": 0.08}},
	{"ammonia", map[string]float64{"ammonia": 1}},
	{"ethylene and nitrogen", map[string]float64{"ethylene": 0.6, "nitrogen": 0.4}},
	{"R134a", map[string]float64{"r134a": 1}},
}

func tableOf(t testing.TB, x map[string]float64) *Table {
	t.Helper()
	f, err := Make(x, "auto")
	if err != nil {
		t.Fatal(err)
	}
	return newTable(f.(tabled))
}

func randomState(rng *rand.Rand) (tK, pPa float64) {
	return 230 + 200*rng.Float64(), math.Exp(math.Log(500) + rng.Float64()*math.Log(1e5))
}

// Every answer of the table is the equation's, to what Table promises, or the
// equation's very own; where that refuses a state so does the table.
func TestTableAgainstEquation(t *testing.T) {
	for _, g := range tableGases {
		table := tableOf(t, g.x)
		f := table.Equation()
		rng := rand.New(rand.NewPCG(11, 12))
		var volume, exponent, enthalpy, cp, kappa, viscosity, conductivity, back float64
		states, outside, conducting := 0, 0, 0
		for range 1500 {
			tK, pPa := randomState(rng)
			s, err := f.At(tK, pPa)
			var q Point
			inside := table.Point(&q, tK, pPa)
			if err != nil {
				if inside {
					t.Errorf("%s at %g K, %g Pa: a state, where the equation says %v", g.name, tK, pPa, err)
				}
				if _, _, tableErr := table.Density(tK, pPa); tableErr == nil || tableErr.Error() != err.Error() {
					t.Errorf("%s at %g K, %g Pa: error %v, not %v", g.name, tK, pPa, tableErr, err)
				}
				continue
			}
			states++
			rho, e, err := table.Density(tK, pPa)
			h, c, err2 := table.Enthalpy(tK, pPa)
			end, err3 := table.TemperatureAt(s.H, pPa, tK+40*rng.Float64()-20)
			if err != nil || err2 != nil || err3 != nil {
				t.Errorf("%s at %g K, %g Pa: %v %v %v", g.name, tK, pPa, err, err2, err3)
				continue
			}
			back = max(back, math.Abs(end/tK-1))
			if !inside {
				outside++
				if alone, _, _ := f.Density(tK, pPa); rho != alone || h != s.H {
					t.Errorf("%s at %g K, %g Pa: neither the table nor the equation", g.name, tK, pPa)
				}
				continue
			}
			if rho != q.DensityKgM3 || e != q.Exponent || math.Abs(h-q.H) > 1e-14*(math.Abs(h)+c*tK) {
				t.Errorf("%s at %g K, %g Pa: the table disagrees with itself: %g and %g kg/m3, %g and %g J/kg", g.name, tK, pPa, rho, q.DensityKgM3, h, q.H)
			}
			eta, _ := f.Viscosity(tK, s.DensityKgM3)
			volume = max(volume, math.Abs(q.DensityKgM3/s.DensityKgM3-1))
			exponent = max(exponent, math.Abs(q.Exponent-s.DensityExponent))
			enthalpy = max(enthalpy, math.Abs(q.H-s.H)/(s.Cp*tK))
			cp = max(cp, math.Abs(c/s.Cp-1))
			kappa = max(kappa, math.Abs(q.Kappa/s.Kappa-1), math.Abs(q.GammaIdeal/s.GammaIdeal-1))
			viscosity = max(viscosity, math.Abs(q.ViscosityPaS/eta-1))
			if k, ok := table.ConductivityAt(tK, pPa); ok {
				lambda, _ := f.Conductivity(tK, s.DensityKgM3)
				conductivity = max(conductivity, math.Abs(k/lambda-1))
				conducting++
			}
		}
		t.Logf("%-14s %d of %d states in the table; density %.1e exponent %.1e enthalpy %.1e cp %.1e kappa %.1e viscosity %.1e conductivity %.1e (%d); back to T %.1e",
			g.name, states-outside, states, volume, exponent, enthalpy, cp, kappa, viscosity, conductivity, conducting, back)
		if !(max(volume, enthalpy) <= 1e-7 && max(kappa, viscosity, conductivity) <= 5e-7 && max(exponent, cp) <= 1e-5 && back <= 1e-7) {
			t.Errorf("%s: further off than promised", g.name)
		}
		if states < 500 || outside > states/4 {
			t.Errorf("%s: %d states, %d of them outside the table", g.name, states, outside)
		}
	}
}

// Slopes are those of what the table itself answers, by central differences, and across
// the edges of cells it answers without a jump.
func TestTableSlopesAndEdges(t *testing.T) {
	table := tableOf(t, fourGas)
	rng := rand.New(rand.NewPCG(3, 5))
	for range 2000 {
		tK, pPa := 250+150*rng.Float64(), math.Exp(math.Log(2e3)+rng.Float64()*math.Log(2e3))
		c := table.cellAt(tK, pPa)
		if c == nil || !c.good || math.Abs(c.x(pPa)) > 0.99 || math.Abs(c.y(tK)) > 0.99 {
			continue
		}
		const step = 1e-5
		rho, exponent, _ := table.Density(tK, pPa)
		high, _, _ := table.Density(tK, pPa*(1+step))
		low, _, _ := table.Density(tK, pPa*(1-step))
		near(t, "exponent", (high-low)/(2*step*rho), exponent, 1, 1e-9)
		h, cp, _ := table.Enthalpy(tK, pPa)
		up, _, _ := table.Enthalpy(tK*(1+step), pPa)
		down, _, _ := table.Enthalpy(tK*(1-step), pPa)
		near(t, "cp", (up-down)/(2*step*tK), cp, cp, 1e-8)

		edge := c.midPa + 1/c.perPa
		if next := table.cellAt(tK, edge); next.good && next.midK == c.midK {
			if next == c {
				t.Fatalf("%g Pa is still in the cell around %g Pa", edge, c.midPa)
			}
			var p, q Point
			c.point(&p, tK, edge)
			next.point(&q, tK, edge)
			near(t, "density at an edge", p.DensityKgM3, q.DensityKgM3, q.DensityKgM3, 1e-14)
			near(t, "enthalpy at an edge", p.H, q.H, cp*tK, 1e-14)
			near(t, "viscosity at an edge", p.ViscosityPaS, q.ViscosityPaS, q.ViscosityPaS, 1e-14)
			near(t, "slope at an edge", p.Exponent, q.Exponent, 1, 1e-5)
		}
		if edge := c.midK + 1/c.perK; true {
			if next := table.cellAt(edge, pPa); next.good && next.midPa == c.midPa && next.perPa == c.perPa {
				var p, q Point
				c.point(&p, edge, pPa)
				next.point(&q, edge, pPa)
				near(t, "density at an edge", p.DensityKgM3, q.DensityKgM3, q.DensityKgM3, 1e-14)
				near(t, "enthalpy at an edge", p.H, q.H, cp*tK, 1e-14)
			}
		}
		near(t, "inverse", must(table.TemperatureAt(h, pPa, tK*1.1)), tK, tK, 1e-13)
	}
}

// An isobar found on the way to a temperature answers as the table does, in its cell, and
// the temperature is that of the enthalpy and has the table's heat capacity, from far away
// and from next to it.
func TestIsobar(t *testing.T) {
	table := tableOf(t, fourGas)
	rng := rand.New(rand.NewPCG(13, 14))
	found := 0
	for range 2000 {
		tK, pPa := 250+150*rng.Float64(), math.Exp(math.Log(2e3)+rng.Float64()*math.Log(2e3))
		h, cp, _ := table.Enthalpy(tK, pPa)
		for _, guess := range []float64{tK * 1.05, tK + 0.01, tK} {
			var b Isobar
			if _, ok := b.Enthalpy(tK); ok {
				t.Fatal("the zero isobar answers")
			}
			end, slope, ok := table.Isenthalpic(&b, h, pPa, guess)
			if !ok {
				continue
			}
			near(t, "temperature", end, tK, tK, 1e-13)
			near(t, "cp", slope, cp, cp, 1e-9)
			for _, at := range []float64{tK, tK + 3, tK - 20} {
				want, _, _ := table.Enthalpy(at, pPa)
				if got, ok := b.Enthalpy(at); ok {
					near(t, "enthalpy", got, want, cp*at, 1e-14)
					found++
				}
			}
		}
	}
	if found < 6000 {
		t.Errorf("only %d enthalpies", found)
	}
}

// The table has a doubt about a gas where the equation has one, in the same words.
func TestTableDoubts(t *testing.T) {
	for _, g := range tableGases {
		table := tableOf(t, g.x)
		d, doubts := table.Equation().(interface {
			MaybeTwoPhase(tK, pPa float64) (bool, string)
		})
		rng := rand.New(rand.NewPCG(17, 18))
		said := 0
		for range 800 {
			tK, pPa := 150+300*rng.Float64(), math.Exp(math.Log(2e3)+rng.Float64()*math.Log(1e4))
			var q Point
			table.Point(&q, tK, pPa)
			maybe, why := table.MaybeTwoPhase(tK, pPa)
			if doubts {
				if want, words := d.MaybeTwoPhase(tK, pPa); maybe != want || why != words {
					t.Fatalf("%s at %g K, %g Pa: %v %q, not %v %q", g.name, tK, pPa, maybe, why, want, words)
				}
			}
			if maybe {
				said++
			}
		}
		if doubts && g.name != "hydrogen" && g.name != "nitrogen" && said == 0 || !doubts && said > 0 {
			t.Errorf("%s: %d doubts", g.name, said)
		}
	}
}

func must(x float64, err error) float64 {
	if err != nil {
		return math.NaN()
	}
	return x
}

// A table answers with the same bits whatever was asked of it before, and by however
// many at once.
func TestTableForgets(t *testing.T) {
	type state struct{ tK, pPa float64 }
	var states []state
	rng := rand.New(rand.NewPCG(7, 8))
	for range 600 {
		tK, pPa := randomState(rng)
		states = append(states, state{tK, pPa})
	}
	type answer struct {
		point  Point
		endK   float64
		lambda float64
	}
	ask := func(table *Table, s state) (a answer) {
		if table.Point(&a.point, s.tK, s.pPa) {
			a.endK, _ = table.TemperatureAt(a.point.H, s.pPa/3, s.tK)
			a.lambda, _ = table.ConductivityAt(s.tK, s.pPa)
		}
		return a
	}
	for _, g := range tableGases[2:6] {
		forward, shared := tableOf(t, g.x), tableOf(t, g.x)
		var answers []answer
		for _, s := range states {
			answers = append(answers, ask(forward, s))
		}
		var group sync.WaitGroup
		for n := range 4 {
			group.Go(func() {
				for k := range states {
					at := (2*len(states) - 1 - k + n*37) % len(states)
					if a := ask(shared, states[at]); a != answers[at] {
						t.Errorf("%s at %v: %v, not %v", g.name, states[at], a, answers[at])
					}
				}
			})
		}
		group.Wait()
	}
}

// What is asked of a filled cell allocates nothing; a table that is full holds no more
// than its comment says.
func TestTableMemory(t *testing.T) {
	table := tableOf(t, fourGas)
	h, _, err := table.Enthalpy(300, 20e5)
	if err != nil {
		t.Fatal(err)
	}
	_, _ = table.TemperatureAt(h, 10e5, 300)
	var q Point
	if n := testing.AllocsPerRun(100, func() {
		table.Point(&q, 300, 20e5)
		_, _, _ = table.Density(300, 20e5)
		_, _, _ = table.Enthalpy(300, 20e5)
		_, _ = table.TemperatureAt(h, 10e5, 300)
		_, _ = table.ConductivityAt(300, 20e5)
	}); n > 0 {
		t.Errorf("%g allocations", n)
	}
	for _, p := range []float64{1, 1e4, 1e9} {
		if n := len(newRow(p, p).cells); n > octaves<<mostBits {
			t.Errorf("a row of %d cells", n)
		}
	}
}

// States that are none reach the equation's words, not a cell.
func TestTableOutside(t *testing.T) {
	table := tableOf(t, fourGas)
	for _, s := range [][2]float64{
		{300, 0}, {300, -1e5}, {300, math.NaN()}, {300, math.Inf(1)}, {0, 1e5}, {-300, 1e5}, {math.NaN(), 1e5}, {math.Inf(1), 1e5},
		{59, 1e5}, {701, 1e5}, {300, 71e6}, {5e-324, 5e-324}, {math.MaxFloat64, math.MaxFloat64},
	} {
		_, want := table.Equation().At(s[0], s[1])
		if _, _, err := table.Density(s[0], s[1]); err == nil || err.Error() != want.Error() {
			t.Errorf("%v: %v, not %v", s, err, want)
		}
	}
	for _, s := range [][2]float64{{300, 1}, {300, 1000}, {62, 2e4}, {695, 1e5}, {300, 69e6}} {
		want, _, err := table.Equation().Density(s[0], s[1])
		if got, _, err2 := table.Density(s[0], s[1]); got != want || (err == nil) != (err2 == nil) {
			t.Errorf("%v: %g %v, not %g %v", s, got, err2, want, err)
		}
	}
	if _, err := table.TemperatureAt(math.NaN(), 1e5, 300); err == nil {
		t.Error("a temperature of no enthalpy")
	}
	if g := Ideal(0.029, 1.4, 1e-5); Tabled(g) != Fluid(g) {
		t.Error("an ideal gas with a table")
	}
}

func BenchmarkTable(b *testing.B) {
	for _, g := range benchGases {
		table := tableOf(b, g.x)
		h, _, _ := table.Enthalpy(300, 50e5)
		run := func(name string, f func(tK float64)) {
			b.Run(name+"/"+g.name, func(b *testing.B) {
				b.ReportAllocs()
				tK := 300.0
				for b.Loop() {
					f(tK)
					if tK += 0.37; tK > 320 {
						tK = 300
					}
				}
			})
		}
		var q Point
		run("point", func(tK float64) { table.Point(&q, tK, 50e5) })
		run("enthalpy", func(tK float64) { _, _, _ = table.Enthalpy(tK, 50e5) })
		run("temperature", func(tK float64) { _, _ = table.TemperatureAt(h, 40e5, tK) })
		run("fill", func(tK float64) { newTable(table.tabled).cellAt(tK, 50e5) })
	}
}
