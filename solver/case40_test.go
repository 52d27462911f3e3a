package solver

import (
	"fmt"
	"math/rand/v2"
	"runtime"
	"sync"
	"sync/atomic"
	"testing"

	"tapline/solver/device"
	"tapline/solver/fluid"
)

// forty is a sample panel of 40 devices in cases of its own: supply, flare and
// ambient differ a little from one to the next. effect is the supply effect of
// its reducers.
func forty(f fluid.Fluid, effect float64, cases int) (*Network, []*Case) {
	b := &builder{r: rand.New(rand.NewPCG(40, 40)), class: "panel"}
	b.c.Fluids, b.c.AmbientK, b.c.Tables = []fluid.Fluid{f}, 293.15, true
	valve := func(cv float64) Device {
		return Device{Passage: device.Coefficient{Cv: cv, XT: 0.7, FL: 0.9}, Heat: Heat{UAWK: 0.05}}
	}
	tube := func(lengthM float64) Device {
		return Device{
			Passage: device.Tube{BoreM: 0.0045, LengthM: lengthM, RoughnessM: 1.5e-6, K: 1}, Mean: true,
			Heat: Heat{LengthM: lengthM, BoreM: 0.0045, OuterM: 0.00635, OutsideWM2K: 10},
		}
	}
	lifting := func(l device.Lift, cv float64) Device {
		d := valve(cv)
		d.Lift, d.OneWay, d.Heat = &l, true, Heat{UAWK: 0.2}
		return d
	}
	reducer := func(set, inlet, cv float64) Device {
		return lifting(device.ReducerSpec{SetPa: set, ReferenceInletPa: inlet, DroopPa: 0.08 * set, LockUpPa: 0.02 * set,
			SupplyEffect: effect, AtmospherePa: 101325}.Lift(), cv)
	}
	holder := func(set, cv float64) Device {
		return lifting(device.HolderSpec{SetPa: set, AccumulationPa: 0.05 * set, AtmospherePa: 101325}.Lift(), cv)
	}
	check := func() Device {
		return lifting(device.CheckSpec{CracksAtPa: 3000, BandPa: 4000}.Lift(), 0.3)
	}
	relief := func(at int, set float64) {
		l := device.ReliefSpec{SetPa: set, OverpressurePa: 0.1 * set, Beta: 1, AtmospherePa: 101325}.Lift()
		b.add(at, b.vent(1.2e5), Device{Passage: device.Nozzle{AreaM2: 2e-5, K: 0.8}, Lift: &l, OneWay: true, Heat: Heat{UAWK: 0.2}})
	}
	then := func(at int, ds ...Device) int {
		for _, d := range ds {
			n := b.free()
			b.add(at, n, d)
			at = n
		}
		return at
	}
	flare := b.vent(1.2e5)
	inlet := then(b.source(60e5), valve(0.5), valve(0.8))
	b.add(then(inlet, valve(0.02), tube(20)), flare, check()) // fast loop
	first := then(inlet, tube(3), reducer(12e5, 60e5, 0.06))
	relief(first, 16e5)
	second := then(first, tube(12), reducer(4e5, 12e5, 0.1))
	relief(second, 6e5)
	back := b.free()
	for k := range 6 {
		b.add(then(second, valve(0.006+0.002*float64(k)), valve(0.2), tube(2)), back, check())
	}
	b.add(then(back, holder(2e5, 0.3)), flare, tube(8))
	b.add(then(second, valve(0.02), holder(3e5, 0.1)), flare, tube(5))
	n, err := New(b.nodes, b.elements)
	if err != nil {
		panic(err)
	}
	if len(b.elements) != 40 {
		panic(fmt.Sprint(len(b.elements), " devices"))
	}
	cs := make([]*Case, cases)
	for i := range cs {
		c := b.c
		c.Conditions = append([]Condition(nil), b.c.Conditions...)
		for k := range c.Conditions {
			switch q := &c.Conditions[k]; {
			case k == flare:
				q.PressurePa = b.between(1.05e5, 1.5e5)
			case q.Fluid == 0:
				q.PressurePa, q.TemperatureK = b.between(40e5, 70e5), 290
			}
		}
		c.AmbientK = b.between(280, 300)
		cs[i] = &c
	}
	return n, cs
}

func natural(tb testing.TB) fluid.Fluid {
	f, err := fluid.New(map[string]float64{"methane": 0.9, "ethane": 0.06, "nitrogen": 0.03, "carbon_dioxide": 0.01})
	if err != nil {
		tb.Fatal(err)
	}
	return f
}

// BenchmarkCase40 solves the panel of 40 devices with a real gas, 64 cases in
// turn: cold, from the case before, and cold with a supply effect, where every
// answer is asked for.
func BenchmarkCase40(b *testing.B) {
	for _, v := range []struct {
		name   string
		effect float64
		warm   bool
	}{{"cold", 0, false}, {"warm", 0, true}, {"supply_effect", 0.01, false}} {
		b.Run(v.name, func(b *testing.B) {
			n, cs := forty(natural(b), v.effect, 64)
			w := NewWorkspace(n)
			b.ReportAllocs()
			k, iterations, passes := 0, 0, 0
			var r Result
			for b.Loop() {
				err := w.SolveInto(&r, cs[k%len(cs)], v.warm)
				if err != nil || r.Status != Solved {
					b.Fatal(err, r.Reason)
				}
				k++
				iterations += len(r.History)
				passes += r.Passes
			}
			b.ReportMetric(float64(iterations)/float64(k), "iterations")
			b.ReportMetric(float64(passes)/float64(k), "passes")
		})
	}
}

// BenchmarkSweep40 solves 10,000 cases of the panel on all cores, in chunks of 64:
// the first of each cold, the others from the one before.
func BenchmarkSweep40(b *testing.B) {
	const cases, chunk = 10_000, 64
	n, cs := forty(natural(b), 0, cases)
	for b.Loop() {
		var next atomic.Int64
		var group sync.WaitGroup
		for range runtime.GOMAXPROCS(0) {
			group.Go(func() {
				w := NewWorkspace(n)
				var r Result
				for {
					from := int(next.Add(chunk)) - chunk
					if from >= cases {
						return
					}
					for i, c := range cs[from:min(from+chunk, cases)] {
						if err := w.SolveInto(&r, c, i > 0); err != nil || r.Status != Solved {
							b.Error(err, r.Reason)
							return
						}
					}
				}
			})
		}
		group.Wait()
	}
	b.ReportMetric(float64(cases*b.N)/b.Elapsed().Seconds(), "cases/s")
}
