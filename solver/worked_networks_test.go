package solver

import (
	"encoding/json"
	"math"
	"os"
	"testing"

	"tapline/solver/device"
	"tapline/solver/fluid"
)

// Networks of water pipes out of books: the flows and heads of
// testdata/worked-examples/networks.json. The pipes' laws are the books' own
// (h = k Q^n with the books' k), so what is held against them is the network:
// balance, loops, and which way water goes.

const (
	bookWaterKgM3 = 1000.0
	bookGravity   = 9.80665
	offsetPa      = 1e6 // heads may be negative, pressures not
)

func headPa(m float64) float64 { return offsetPa + bookWaterKgM3*bookGravity*m }
func headM(p float64) float64  { return (p - offsetPa) / (bookWaterKgM3 * bookGravity) }

// pipe is h = k Q^n, h in m and Q in m3/s.
type pipe struct{ k, n float64 }

func (l pipe) Flow(pUp, pDown float64, _ *device.Gas) device.Flow {
	h := (pUp - pDown) / (bookWaterKgM3 * bookGravity)
	a := 1 / l.n
	if h < 1e-9 { // straight through zero
		w := bookWaterKgM3 * math.Pow(1e-9/l.k, a)
		slope := w / 1e-9 / (bookWaterKgM3 * bookGravity)
		return device.Flow{W: w * h / 1e-9, Up: slope, Down: -slope, Exponent: 1, Root: w * h / 1e-9}
	}
	w := bookWaterKgM3 * math.Pow(h/l.k, a)
	slope := a * w / (pUp - pDown)
	return device.Flow{W: w, Up: slope, Down: -slope, Exponent: a, Root: w}
}

// demand takes what it takes, whatever the pressures.
type demand float64

func (d demand) Flow(_, _ float64, _ *device.Gas) device.Flow {
	return device.Flow{W: float64(d), Exponent: 1, Root: float64(d)}
}

type bookRow struct {
	ID       string
	Expected map[string]struct{ Value float64 }
	// A book's tolerance, relative, and absolute where stated.
	Tolerance struct{ Rel, Abs float64 }
	Source    string `json:"provenance"`
}

func bookRows(t *testing.T) map[string]bookRow {
	t.Helper()
	text, err := os.ReadFile("../testdata/worked-examples/networks.json")
	if err != nil {
		t.Fatal(err)
	}
	var rows []bookRow
	if err := json.Unmarshal(text, &rows); err != nil {
		t.Fatal(err)
	}
	out := map[string]bookRow{}
	for _, r := range rows {
		out[r.ID] = r
	}
	return out
}

func (r *bookRow) holds(t *testing.T, name string, got float64) {
	t.Helper()
	want, ok := r.Expected[name]
	if !ok {
		t.Fatalf("%s has no %s", r.ID, name)
	}
	if miss := math.Abs(got - want.Value); !(miss <= r.Tolerance.Rel*math.Abs(want.Value)+r.Tolerance.Abs) {
		t.Errorf("%s %s: %.6g, the book has %.6g (%s)", r.ID, name, got, want.Value, r.Source)
	}
	t.Logf("%s %s: %.6g, the book has %.6g", r.ID, name, got, want.Value)
}

// pipesOf solves a network of pipes.
func pipesOf(t *testing.T, b *builder) *Result {
	t.Helper()
	b.c.Fluids = []fluid.Fluid{fluid.Ideal(0.0289652, 1.4, 1.8e-5)} // no law here asks it
	b.c.AmbientK, b.c.Thermal = 293.15, Isothermal
	n, err := New(b.nodes, b.elements)
	if err != nil {
		t.Fatal(err)
	}
	r, err := NewWorkspace(n).Solve(&b.c)
	if err != nil || r.Status != Solved {
		t.Fatal(err, r.Reason)
	}
	return r
}

func reservoir(b *builder, head float64) int {
	return b.node(Condition{Kind: Pressure, PressurePa: headPa(head), TemperatureK: 293.15})
}

func TestThreeReservoirs(t *testing.T) {
	row, b := bookRows(t)["NW-01"], &builder{}
	j := b.free()
	k := []float64{0.7594, 36.33, 8.168}
	for i, level := range []float64{135, 120, 112} {
		from, to := j, reservoir(b, level)
		if i == 0 {
			from, to = to, j
		}
		b.add(from, to, Device{Passage: pipe{k[i], 2}})
	}
	r := pipesOf(t, b)
	row.holds(t, "junction_head", headM(r.Nodes[j].PressurePa))
	for i, q := range []string{"Q1", "Q2", "Q3"} {
		row.holds(t, q, r.Elements[i].FlowKgS/bookWaterKgM3)
	}
}

func TestThreeParallelPipes(t *testing.T) {
	row, b := bookRows(t)["NW-03"], &builder{}
	in := b.node(Condition{Kind: Inflow, InflowKgS: 2 * bookWaterKgM3, TemperatureK: 293.15})
	out := reservoir(b, 0)
	length, bore := []float64{500, 200, 300}, []float64{0.5, 0.3, 0.15}
	for i := range length { // h = f L/D v^2/2g
		area := math.Pi / 4 * bore[i] * bore[i]
		b.add(in, out, Device{Passage: pipe{0.018 * length[i] / bore[i] / (2 * 9.81 * area * area), 2}})
	}
	r := pipesOf(t, b)
	row.holds(t, "Q1", r.Elements[0].FlowKgS/bookWaterKgM3)
	row.holds(t, "Q2", r.Elements[1].FlowKgS/bookWaterKgM3)
	row.holds(t, "hf", headM(r.Nodes[in].PressurePa))
}

func TestTwoLoopBenchmark(t *testing.T) {
	row, b := bookRows(t)["NW-04"], &builder{}
	nodes := []int{reservoir(b, 210)}
	drain := reservoir(b, 0)
	for _, m3h := range []float64{100, 100, 120, 270, 330, 200} {
		n := b.free()
		nodes = append(nodes, n)
		b.add(n, drain, Device{Passage: demand(m3h / 3600 * bookWaterKgM3)})
	}
	for _, p := range []struct {
		from, to int
		inch     float64
	}{{1, 2, 18}, {2, 3, 10}, {2, 4, 16}, {4, 5, 4}, {4, 6, 16}, {6, 7, 10}, {3, 5, 10}, {7, 5, 1}} {
		d := 0.0254 * p.inch // h = 10.667 L Q^1.852/(C^1.852 D^4.871), Hazen and Williams
		k := 10.667 * 1000 / (math.Pow(130, 1.852) * math.Pow(d, 4.871))
		b.add(nodes[p.from-1], nodes[p.to-1], Device{Passage: pipe{k, 1.852}})
	}
	r := pipesOf(t, b)
	for i, elevation := range []float64{150, 160, 155, 150, 165, 160} {
		row.holds(t, "p"+string(rune('2'+i)), headM(r.Nodes[nodes[i+1]].PressurePa)-elevation)
	}
}

// Two equal nozzles in series into a vacuum: only the second chokes. An own
// calculation: it says that the value has not moved.
func TestTwoNozzlesIntoAVacuum(t *testing.T) {
	row, b := bookRows(t)["NW-05"], &builder{}
	in := b.node(Condition{Kind: Pressure, PressurePa: 10e5, TemperatureK: 293.15})
	mid := b.free()
	for _, ends := range [2][2]int{{in, mid}, {mid, b.vent(10)}} {
		b.add(ends[0], ends[1], Device{Passage: device.Nozzle{AreaM2: 1e-5, K: 1}})
	}
	r := pipesOf(t, b)
	row.holds(t, "p_mid", r.Nodes[mid].PressurePa/1e5)
	if r.Elements[0].Choked || !r.Elements[1].Choked {
		t.Errorf("choked: %v, %v", r.Elements[0].Choked, r.Elements[1].Choked)
	}
}
