package solver

import (
	"math"
	"math/rand/v2"
	"testing"

	"tapline/solver/device"
	"tapline/solver/fluid"
)

// Very long chains at rest, with their elements listed from the far end, so that
// what goes round all elements until nothing changes would go round as often as
// there are nodes. The pressures follow from the devices alone.
func TestLongChainsAtRest(t *testing.T) {
	const length = 20_000
	open := Device{Passage: device.Coefficient{Cv: 0.1, XT: 0.7, FL: 0.9}}
	shut := Device{}
	oneWay := open
	oneWay.OneWay = true
	reducer := device.ReducerSpec{SetPa: 4e5, DroopPa: 2e4, LockUpPa: 3e4, ReferenceInletPa: 9e5, AtmospherePa: 101325}.Lift()
	relief := device.ReliefSpec{SetPa: 4.1e5, OverpressurePa: 4e4, Beta: 1, AtmospherePa: 101325}.Lift()
	controlled, guarded := oneWay, oneWay
	controlled.Lift, guarded.Lift = &reducer, &relief
	for _, c := range []struct {
		name               string
		first, along, last Device // source - first - chain - last - vent
		state              NodeState
		pressure           float64
		low, high          float64
	}{
		{"filled to its end", open, open, shut, DeadEnd, 9e5, 0, 0},
		{"filled one way", open, oneWay, shut, DeadEnd, 9e5, 0, 0},
		{"drained", shut, oneWay, open, DeadEnd, 1e5, 0, 0},
		{"trapped", shut, open, shut, Trapped, 0, 1e5, 9e5},
		{"locked up", controlled, open, shut, DeadEnd, 4e5 + 3e4, 0, 0},
		{"locked up as far as a relief lets it", controlled, open, guarded, DeadEnd, 4.1e5 - 101325 + 1e5, 0, 0},
	} {
		t.Run(c.name, func(t *testing.T) {
			b := &builder{r: rand.New(rand.NewPCG(1, 1))}
			b.c.Fluids = []fluid.Fluid{fluid.Ideal(0.0289652, 1.4, 1.8e-5)}
			b.c.AmbientK = 293.15
			source, vent := b.source(9e5), b.vent(1e5)
			from := len(b.nodes)
			for range length {
				b.free()
			}
			for i := from + length - 2; i >= from; i-- {
				b.add(i, i+1, c.along)
			}
			b.add(source, from, c.first)
			b.add(from+length-1, vent, c.last)
			n, err := New(b.nodes, b.elements)
			if err != nil {
				t.Fatal(err)
			}
			r, err := NewWorkspace(n).Solve(&b.c)
			if err != nil || r.Status != Solved {
				t.Fatal(err, r.Reason)
			}
			for i := from; i < from+length; i++ {
				o := &r.Nodes[i]
				if o.State != c.state {
					t.Fatalf("node %d is %v, want %v", i-from, o.State, c.state)
				}
				if c.state == Trapped {
					if o.LowPa != c.low || o.HighPa != c.high {
						t.Fatalf("node %d is trapped between %g and %g, want %g and %g", i-from, o.LowPa, o.HighPa, c.low, c.high)
					}
				} else if math.Abs(o.PressurePa/c.pressure-1) > 1e-9 {
					t.Fatalf("node %d rests at %.9g, want %.9g", i-from, o.PressurePa, c.pressure)
				}
			}
		})
	}
}
