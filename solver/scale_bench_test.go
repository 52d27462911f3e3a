package solver

import (
	"math"
	"math/rand/v2"
	"runtime"
	"testing"

	"tapline/solver/device"
	"tapline/solver/fluid"
)

// Large networks, to see that the time per node does not grow with their size. Cold
// solves of air as an ideal gas with exchange of heat, into a result that is used
// again; the topology, its ordering and the workspace are made before. Where the
// memory of a large network no longer fits the caches, that costs its share.

var sizes = []struct {
	name  string
	nodes int
}{{"1e3", 1e3}, {"1e4", 1e4}, {"1e5", 1e5}, {"1e6", 1e6}}

func BenchmarkTree(b *testing.B)   { benchmarkSizes(b, 4, largeTree) }
func BenchmarkLadder(b *testing.B) { benchmarkSizes(b, 4, largeLadder) }
func BenchmarkGrid(b *testing.B)   { benchmarkSizes(b, 3, largeGrid) }

func benchmarkSizes(b *testing.B, most int, grow func(nodes int) *builder) {
	for _, size := range sizes[:most] {
		b.Run(size.name, func(b *testing.B) {
			before := heap()
			t := grow(size.nodes)
			n, err := New(t.nodes, t.elements)
			if err != nil {
				b.Fatal(err)
			}
			made := heap()
			w := NewWorkspace(n)
			var r Result
			if err = w.SolveInto(&r, &t.c, false); err != nil || r.Status != Solved {
				b.Fatal(err, r.Reason)
			}
			held := heap()
			for b.Loop() {
				if err = w.SolveInto(&r, &t.c, false); err != nil || r.Status != Solved {
					b.Fatal(err, r.Reason)
				}
			}
			nodes := float64(len(t.nodes))
			b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/nodes, "ns/node")
			b.ReportMetric(float64(r.Iterations), "iterations")
			b.ReportMetric(float64(r.Passes), "passes")
			b.ReportMetric(float64(len(w.f.nbr))/nodes, "fill/node")
			b.ReportMetric((made-before)/nodes, "B/node-network")
			b.ReportMetric((held-made)/nodes, "B/node-solver")
			runtime.KeepAlive(w)
			runtime.KeepAlive(&r)
		})
	}
}

// heap is what is in use now [bytes].
func heap() float64 {
	runtime.GC()
	var m runtime.MemStats
	runtime.ReadMemStats(&m)
	return float64(m.HeapAlloc)
}

const (
	largeHighPa = 8e5
	largeVentPa = 101325
	largeGasK   = 293.15
)

func large(seed uint64) *builder {
	b := &builder{r: rand.New(rand.NewPCG(seed, 23)), class: "large"}
	b.c.Fluids = []fluid.Fluid{fluid.Ideal(0.0289652, 1.4, 1.8e-5)}
	b.c.AmbientK = largeGasK
	return b
}

// largeTree is a distribution tree: each node hangs on one drawn among all before
// it, the ends are vents behind valves that choke at 2e-6 to 2e-5 kg/s, and each
// tube is sized for what goes through it, all of them together taking about half
// of the pressure. Nodes are numbered along their runs, as a description lists them.
func largeTree(nodes int) *builder {
	b := large(1)
	drawn, below := make([]int, nodes), make([]int, nodes) // where it hangs; what hangs on it, and itself
	for i := 1; i < nodes; i++ {
		drawn[i] = b.r.IntN(i)
	}
	for i := nodes - 1; i > 0; i-- {
		below[i]++
		below[drawn[i]] += below[i]
	}
	number, next := make([]int, nodes), make([]int, nodes)
	parent, depth, flow := make([]int, nodes), make([]int, nodes), make([]float64, nodes)
	next[0] = 1
	deepest := 0
	for i := 1; i < nodes; i++ {
		on := drawn[i]
		k := next[on]
		next[on] += below[i]
		number[i], next[i] = k, k+1
		parent[k] = number[on]
		depth[k] = depth[parent[k]] + 1
		deepest = max(deepest, depth[k])
	}
	end := func(k int) bool { return k+1 == nodes || parent[k+1] != k }
	for k := nodes - 1; k > 0; k-- {
		if end(k) {
			flow[k] = b.log(2e-6, 2e-5)
		}
		flow[parent[k]] += flow[k]
	}
	b.source(largeHighPa)
	for k := 1; k < nodes; k++ {
		if end(k) {
			b.vent(largeVentPa)
			b.add(parent[k], k, orificeFor(flow[k]))
			continue
		}
		b.free()
		b.add(parent[k], k, tubeFor(flow[k], b.between(0.5, 5), 0.75*largeHighPa*largeHighPa/float64(deepest)))
	}
	return b
}

// largeLadder is a supply and a return line with a valve between them at every
// step; each step of both is a tube sized for what still goes on.
func largeLadder(nodes int) *builder {
	b := large(2)
	steps := nodes/2 - 1
	supply, back := b.source(largeHighPa), b.vent(largeVentPa)
	each := 0.4 * largeHighPa * largeHighPa / float64(steps)
	for k := range steps {
		x, y := b.free(), b.free()
		through := 1e-5 * float64(steps-k)
		length := b.between(0.5, 2)
		b.add(supply, x, tubeFor(through, length, each))
		b.add(y, back, tubeFor(through, length, 0.1*each))
		b.add(x, y, orificeFor(1e-5*b.between(0.5, 1.5)))
		supply, back = x, y
	}
	return b
}

// largeGrid is a square of valves and tubes fed along one side and vented along the
// opposite one.
func largeGrid(nodes int) *builder {
	b := large(3)
	side := int(math.Round(math.Sqrt(float64(nodes))))
	for y := range side {
		for range side {
			switch y {
			case 0:
				b.source(largeHighPa * b.between(0.9, 1))
			case side - 1:
				b.vent(largeVentPa)
			default:
				b.free()
			}
		}
	}
	for y := range side {
		for x := range side {
			at := y*side + x
			if x+1 < side && y > 0 && y < side-1 {
				b.add(at, at+1, b.passive(0))
			}
			if y+1 < side {
				b.add(at, at+side, b.passive(0))
			}
		}
	}
	return b
}

// orificeFor is a valve that chokes at a flow of air [kg/s] from half the supply
// pressure (IEC 60534-2-1, N6 = 27.3 with kg/h, kPa and kg/m3; from memory).
func orificeFor(flow float64) Device {
	const xT = 0.7
	rho := 0.5 * largeHighPa * 0.0289652 / (8.314462618 * largeGasK)
	cv := flow * 3600 / (27.3 * 0.667 * math.Sqrt(xT*0.5*largeHighPa/1e3*rho))
	return Device{Passage: device.Coefficient{Cv: cv, XT: xT, FL: 0.9}, Heat: Heat{UAWK: 0.05}}
}

// tubeFor is a tube that takes p1^2-p2^2 [Pa2] at a flow of air [kg/s], with a
// friction factor of 0.02.
func tubeFor(flow, length, squares float64) Device {
	rs := 8.314462618 / 0.0289652
	bore := math.Pow(16*flow*flow*0.02*length*rs*largeGasK/(math.Pi*math.Pi*squares), 0.2)
	return Device{
		Passage: device.Tube{BoreM: bore, LengthM: length, RoughnessM: 1.5e-6},
		Mean:    true,
		Heat:    Heat{LengthM: length, BoreM: bore, OuterM: bore * 1.2, OutsideWM2K: 10},
	}
}
