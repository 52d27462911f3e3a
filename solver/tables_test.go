package solver

import (
	"flag"
	"math"
	"testing"

	"tapline/solver/fluid"
)

var tablesFlag = flag.Int("tables", 150, "number of random networks solved with tables and with the equation")

// tableGases are gases that the random networks are solved with: light, heavy, near
// their critical point or saturation at some of the pressures, under both equations.
var tableGases = []struct {
	equation string
	x        map[string]float64
}{
	{"gerg-2008", map[string]float64{"methane": 0.85, "nitrogen": 0.1, "hydrogen": 0.05}},
	{"gerg-2008", map[string]float64{"nitrogen": 1}},
	{"gerg-2008", map[string]float64{"methane": 0.8, "ethane": 0.12, "propane": 0.06, "carbon_dioxide": 0.02}},
	{"gerg-2008", map[string]float64{"hydrogen": 1}},
	{"gerg-2008", map[string]float64{"carbon_dioxide": 0.3, "nitrogen": 0.7}},
	{"gerg-2008", map[string]float64{"argon": 0.2, "oxygen": 0.2, "water": 0.003, "nitrogen": 0.597}},
	{"peng-robinson", map[string]float64{"ethylene": 0.4, "nitrogen": 0.6}},
	{"peng-robinson", map[string]float64{"ammonia": 0.1, "hydrogen": 0.7, "nitrogen": 0.2}},
}

// Tables change no answer by more than a millionth: pressures relative, flows against
// the greatest through both ends, temperatures relative; and no case is solved by one
// of the two alone.
func TestTablesChangeNoAnswer(t *testing.T) {
	gases := make([]fluid.Fluid, len(tableGases))
	for k, g := range tableGases {
		f, err := fluid.Make(g.x, g.equation)
		if err != nil {
			t.Fatal(err)
		}
		gases[k] = f
	}
	solved := 0
	var worst struct {
		p, flow, tK float64
		seed        [3]uint64
	}
	for k := range *tablesFlag {
		seed := *seedFlag + 8_000_000 + uint64(k)
		n, c, class := generate(seed, gases[k/len(classes)%len(gases)])
		with := *c
		with.Tables = true
		a, err := NewWorkspace(n).Solve(c)
		if err != nil {
			t.Fatal(err)
		}
		b, err := NewWorkspace(n).Solve(&with)
		if err != nil {
			t.Fatal(err)
		}
		if a.Status != b.Status {
			t.Errorf("seed %d (%s): %v by the equation (%s), %v with tables (%s)", seed, class, a.Status, a.Reason, b.Status, b.Reason)
			continue
		}
		if a.Status != Solved {
			continue
		}
		solved++
		through, all := make([]float64, len(n.Nodes)), 0.0
		for i, e := range n.Elements {
			w := math.Abs(a.Elements[i].FlowKgS)
			through[e.From], through[e.To] = max(through[e.From], w), max(through[e.To], w)
			all = max(all, w)
		}
		most := func(at *float64, of int, off float64) {
			if off > *at {
				*at, worst.seed[of] = off, seed
			}
		}
		var p, flow, tK float64
		for i := range a.Nodes {
			x, y := &a.Nodes[i], &b.Nodes[i]
			if x.State != y.State {
				t.Errorf("seed %d (%s): %s is %v, with tables %v", seed, class, n.Nodes[i], x.State, y.State)
			}
			if x.State == Trapped {
				continue
			}
			p = max(p, math.Abs(y.PressurePa/x.PressurePa-1))
			if through[i] > 1e-7*all { // else rounding decides where what passes comes from
				tK = max(tK, math.Abs(y.TemperatureK/x.TemperatureK-1))
			}
		}
		for i, e := range n.Elements {
			if w := min(through[e.From], through[e.To]); w > 1e-9 {
				flow = max(flow, math.Abs(b.Elements[i].FlowKgS-a.Elements[i].FlowKgS)/w)
			}
		}
		if off := max(p, flow, tK); off > 1e-6 {
			t.Errorf("seed %d (%s): pressures differ by %.2g, flows by %.2g, temperatures by %.2g", seed, class, p, flow, tK)
			continue
		}
		most(&worst.p, 0, p)
		most(&worst.flow, 1, flow)
		most(&worst.tK, 2, tK)
	}
	t.Logf("%d of %d solved; largest relative differences: pressure %.1e (seed %d), flow %.1e (seed %d), temperature %.1e (seed %d)",
		solved, *tablesFlag, worst.p, worst.seed[0], worst.flow, worst.seed[1], worst.tK, worst.seed[2])
	if solved < *tablesFlag/2 {
		t.Errorf("only %d solved", solved)
	}
}
