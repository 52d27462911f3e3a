package solver

import (
	"math"
	"strings"
	"testing"

	"tapline/solver/fluid"
)

func pure(t *testing.T, name string) fluid.Fluid {
	t.Helper()
	f, err := fluid.New(map[string]float64{name: 1})
	if err != nil {
		t.Fatal(err)
	}
	return f
}

// throttled solves a source, two valves with a tube between them and a vent.
func throttled(t *testing.T, thermal Thermal, f fluid.Fluid, p, tK, ratio, ventPa float64) (*Network, *Case, *Result) {
	t.Helper()
	s := newSketch(thermal, f)
	src := s.source(p)
	s.c.Conditions[src].TemperatureK = tK
	mid, end := s.free(), s.free()
	s.open(src, mid, 0.05)
	s.add(mid, end, s.tube())
	s.open(end, s.vent(ventPa), 0.05*ratio)
	n, err := New(s.nodes, s.elements)
	if err != nil {
		t.Fatal(err)
	}
	r, err := NewWorkspace(n).Solve(&s.c)
	if err != nil {
		t.Fatal(err)
	}
	return n, &s.c, r
}

// Light gases warm on throttling. The coefficients at 25 degC are those of common
// tables of physical chemistry (from memory), good to 8 %; the changes over long
// drops are a calculation with GERG-2008 by another program (the public-domain NIST
// code), whole devices included here.
func TestThrottlingPublished(t *testing.T) {
	for _, tc := range []struct {
		gas      string
		fromPa   float64
		fromK    float64
		change   float64 // K
		relative float64
	}{
		{"helium", 2 * 101325, 298.15, 0.062, 0.08}, // -0.062 K/atm
		{"hydrogen", 2 * 101325, 298.15, 0.030, 0.08},
		{"helium", 20e6, 293.15, 12.55, 0.01},
		{"hydrogen", 20e6, 293.15, 6.91, 0.01},
		{"nitrogen", 20e6, 293.15, -32.56, 0.01},
		{"oxygen", 20e6, 293.15, -49.21, 0.01},
		{"argon", 20e6, 293.15, -66.26, 0.01},
		{"methane", 10e6, 293.15, -48.05, 0.01},
	} {
		n, _, r := throttled(t, Isenthalpic, pure(t, tc.gas), tc.fromPa, tc.fromK, 1, 101325)
		if r.Status != Solved {
			t.Errorf("%s: %s", tc.gas, r.Reason)
			continue
		}
		got := r.Nodes[len(n.Nodes)-1].TemperatureK - tc.fromK
		if math.Abs(got-tc.change) > tc.relative*math.Abs(tc.change) {
			t.Errorf("%s from %g bara: %+.4g K, want %+.4g K", tc.gas, tc.fromPa/1e5, got, tc.change)
		}
	}
}

// Near saturation and the critical point a gas throttled through two valves either
// has an answer that holds its laws and its enthalpy, or the case says which gas is
// none where. Carbon dioxide from 50 bara, 20 degC is wet at 20 bara and dry again
// at 2 bara; from 60 bara, 25 degC it makes dry ice at 1 bara.
func TestSteepThrottling(t *testing.T) {
	for _, tc := range []struct {
		gas             string
		bara, tK, ratio float64
		words           string // of the reason, isenthalpic; none where solved
	}{
		{"carbon_dioxide", 60, 298.15, 3, "is liquid"},
		{"carbon_dioxide", 60, 298.15, 0.05, "is solid"},
		{"carbon_dioxide", 60, 298.15, 30, "is solid"},
		{"carbon_dioxide", 50, 293.15, 3, "is liquid"},
		{"carbon_dioxide", 50, 293.15, 60, ""},
		{"carbon_dioxide", 80, 330, 1, ""},
		{"ethane", 120, 341.9, 3, "is liquid"},
		{"ethane", 90, 340, 0.3, ""},
		{"ethane", 67.5, 309.375, 1, "is liquid"},
		{"ethane", 110, 350, 1, ""},
	} {
		for _, thermal := range []Thermal{Isenthalpic, Exchange} {
			n, c, r := throttled(t, thermal, pure(t, tc.gas), tc.bara*1e5, tc.tK, tc.ratio, 1e5)
			at := r.Nodes[1]
			t.Logf("%s %g bara, %g K, ratio %g, thermal %d: %v after %d passes; between %.3g bara, %.4g K; %s",
				tc.gas, tc.bara, tc.tK, tc.ratio, thermal, r.Status, r.Passes, at.PressurePa/1e5, at.TemperatureK, r.Reason)
			switch {
			case thermal == Isenthalpic && (r.Status == Solved) != (tc.words == ""):
				t.Errorf("%s %g bara, %g K, ratio %g: %v", tc.gas, tc.bara, tc.tK, tc.ratio, r.Status)
			case r.Status == Unsolved:
				if !strings.Contains(r.Reason, "is liquid") && !strings.Contains(r.Reason, "is solid") || thermal == Isenthalpic && !strings.Contains(r.Reason, tc.words) {
					t.Errorf("%s %g bara: said %q", tc.gas, tc.bara, r.Reason)
				}
			default:
				if err := verify(n, c, r); err != nil {
					t.Errorf("%s %g bara: %v", tc.gas, tc.bara, err)
				}
				if miss, err := balance(n, c, r); err != nil || miss > 1e-7 {
					t.Errorf("%s %g bara: enthalpy missed by %g, %v", tc.gas, tc.bara, miss, err)
				}
			}
		}
	}
}

// Over a grid of states around the critical point no case ends without words.
func TestSteepGrid(t *testing.T) {
	for _, g := range []struct {
		gas                       string
		lowBara, highBara, t0, t1 float64
	}{{"carbon_dioxide", 40, 120, 285, 340}, {"ethane", 30, 120, 285, 350}} {
		f := pure(t, g.gas)
		cases, solved := 0, 0
		for i := range 5 {
			for j := range 5 {
				for _, ratio := range []float64{0.3, 1, 3} {
					bara, tK := g.lowBara+(g.highBara-g.lowBara)*float64(i)/4, g.t0+(g.t1-g.t0)*float64(j)/4
					if _, err := f.At(tK, bara*1e5); err != nil {
						continue // no gas to begin with
					}
					_, _, r := throttled(t, Isenthalpic, f, bara*1e5, tK, ratio, 1e5)
					cases++
					switch {
					case r.Status == Solved:
						solved++
					case !strings.Contains(r.Reason, "it is not a gas"):
						t.Errorf("%s %g bara, %g K, ratio %g: %s", g.gas, bara, tK, ratio, r.Reason)
					}
				}
			}
		}
		t.Logf("%s: %d cases, %d solved, the others say where it is no gas", g.gas, cases, solved)
		if solved < cases/4 || solved == cases {
			t.Errorf("%s: %d of %d solved", g.gas, solved, cases)
		}
	}
}

// What rests in a traced tube is as warm as its trace; where one end of what meets
// is not traced, as ambient. Isenthalpic cases know no surroundings but ambient.
func TestTracedDeadEnd(t *testing.T) {
	s := newSketch(Exchange, gasA)
	j, corner, cap := s.free(), s.free(), s.free()
	s.open(s.source(3e5), j, 0.1)
	s.open(j, s.vent(1e5), 0.1)
	for _, ends := range [2][2]int{{j, corner}, {corner, cap}} {
		d := s.tube()
		d.Heat.WallK = 323.15
		s.add(ends[0], ends[1], d)
	}
	bare := s.free()
	s.add(j, bare, s.tube())
	got := s.solve(t)
	for n, want := range map[int]float64{corner: 323.15, cap: 323.15, bare: 293.15} {
		if got.Nodes[n].TemperatureK != want {
			t.Errorf("node %d at %g K, want %g", n, got.Nodes[n].TemperatureK, want)
		}
	}
	s.c.Thermal = Isenthalpic
	if got := s.solve(t); got.Nodes[cap].TemperatureK != 293.15 {
		t.Errorf("isenthalpic: %g K", got.Nodes[cap].TemperatureK)
	}
}
