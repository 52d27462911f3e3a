package solver

import (
	"flag"
	"fmt"
	"math"
	"math/rand/v2"

	"tapline/solver/device"
	"tapline/solver/fluid"
)

// Random networks of 5 to 60 nodes, one seed each. Seeds below a million are
// for tuning, seeds above for judging.
var (
	seedFlag  = flag.Uint64("seed", 1_000_000, "first seed of the random networks")
	countFlag = flag.Int("count", 2000, "number of random networks")
	classFlag = flag.String("class", "", "only the random networks of this class")
)

var classes = []string{
	"tree", "loops", "ladder", "grid", "series regulators", "panel", "dome", "dead ends",
	"dome in loop", "supply effect", "adversarial",
}

// builder grows a network by hand.
type builder struct {
	r        *rand.Rand
	nodes    []string
	elements []Element
	c        Case
	class    string
}

func (b *builder) node(k Condition) int {
	b.nodes = append(b.nodes, fmt.Sprintf("n%d", len(b.nodes)))
	b.c.Conditions = append(b.c.Conditions, k)
	return len(b.nodes) - 1
}

func (b *builder) free() int { return b.node(Condition{Fluid: -1}) }

func (b *builder) source(p float64) int {
	return b.node(Condition{Kind: Pressure, PressurePa: p, TemperatureK: b.between(270, 320), Fluid: 0})
}

func (b *builder) vent(p float64) int {
	return b.node(Condition{Kind: Pressure, PressurePa: p, TemperatureK: 293.15, Fluid: -1})
}

func (b *builder) add(from, to int, d Device) int {
	b.elements = append(b.elements, Element{Name: fmt.Sprintf("e%d", len(b.elements)), From: from, To: to, Sense: -1})
	b.c.Devices = append(b.c.Devices, d)
	return len(b.elements) - 1
}

func (b *builder) between(lo, hi float64) float64 { return lo + (hi-lo)*b.r.Float64() }

// log draws evenly in the logarithm.
func (b *builder) log(lo, hi float64) float64 { return lo * math.Pow(hi/lo, b.r.Float64()) }

func (b *builder) chance(p float64) bool { return b.r.Float64() < p }

func (b *builder) valve() Device {
	return Device{Passage: device.Coefficient{Cv: b.log(0.002, 1), XT: b.between(0.6, 0.8), FL: 0.9}, Heat: Heat{UAWK: 0.05}}
}

func (b *builder) tube() Device {
	bore := []float64{0.0012, 0.004, 0.0045, 0.01}[b.r.IntN(4)]
	length := b.log(0.3, 60)
	return Device{
		Passage: device.Tube{BoreM: bore, LengthM: length, RoughnessM: 1.5e-6, K: b.between(0, 4)},
		Mean:    true,
		Heat:    Heat{LengthM: length, BoreM: bore, OuterM: bore + 0.002, OutsideWM2K: 10},
	}
}

// passive is a valve or a tube, now and then shut.
func (b *builder) passive(shutChance float64) Device {
	d := b.valve()
	if b.chance(0.4) {
		d = b.tube()
	}
	if b.chance(shutChance) {
		d.Passage = nil
	}
	return d
}

func (b *builder) reducer(set, inlet float64) Device {
	l := device.ReducerSpec{
		SetPa: set, ReferenceInletPa: inlet, DroopPa: b.between(0.03, 0.15) * set,
		LockUpPa: b.between(0, 0.05) * set, AtmospherePa: 101325,
	}.Lift()
	return Device{Passage: device.Coefficient{Cv: b.log(0.02, 0.3), XT: 0.7, FL: 0.9}, Lift: &l, OneWay: true, Heat: Heat{UAWK: 0.2}}
}

func (b *builder) holder(set float64) Device {
	l := device.HolderSpec{SetPa: set, AccumulationPa: b.between(0.02, 0.1) * set, AtmospherePa: 101325}.Lift()
	return Device{Passage: device.Coefficient{Cv: b.log(0.02, 0.5), XT: 0.7, FL: 0.9}, Lift: &l, OneWay: true, Heat: Heat{UAWK: 0.2}}
}

func (b *builder) relief(set float64) Device {
	l := device.ReliefSpec{SetPa: set, OverpressurePa: 0.1 * set, Beta: 1, AtmospherePa: 101325}.Lift()
	return Device{Passage: device.Nozzle{AreaM2: b.log(3e-6, 5e-5), K: 0.8}, Lift: &l, OneWay: true, Heat: Heat{UAWK: 0.2}}
}

func (b *builder) check() Device {
	l := device.CheckSpec{CracksAtPa: b.between(500, 30000), BandPa: b.between(2000, 20000)}.Lift()
	return Device{Passage: device.Coefficient{Cv: b.log(0.05, 0.5), XT: 0.7, FL: 0.9}, Lift: &l, OneWay: true, Heat: Heat{UAWK: 0.05}}
}

func (b *builder) controller() Device {
	return Device{
		Passage: device.FlowController{SetKgS: b.log(2e-6, 2e-4), Open: device.Coefficient{Cv: b.log(0.005, 0.05), XT: 0.7, FL: 0.9}},
		OneWay:  true, Heat: Heat{UAWK: 0.05},
	}
}

// generate makes the network of a seed.
func generate(seed uint64, f fluid.Fluid) (*Network, *Case, string) {
	b := &builder{r: rand.New(rand.NewPCG(seed, 17))}
	b.class = classes[seed%uint64(len(classes))]
	b.c.Fluids = []fluid.Fluid{f}
	b.c.AmbientK = b.between(260, 310)
	b.c.Thermal = Thermal(b.r.IntN(2))
	size := 5 + b.r.IntN(56)
	high := b.log(2e5, 2e7)
	vent := b.between(1e5, min(1.6e5, 0.8*high))
	switch b.class {
	case "tree":
		nodes := []int{b.source(high)}
		for len(b.nodes) < size {
			from := nodes[b.r.IntN(len(nodes))]
			n := b.free()
			b.add(from, n, b.passive(0.03))
			nodes = append(nodes, n)
		}
		for _, n := range nodes[1:] {
			if b.chance(0.4) {
				b.add(n, b.vent(vent*b.between(1, 1.2)), b.passive(0.1))
			}
		}
	case "loops", "dead ends":
		nodes := []int{b.source(high), b.source(high * b.between(0.5, 1.2)), b.vent(vent)}
		extra := size / 2
		if b.class == "dead ends" { // which double the number of nodes
			size, extra = max(5, size/2), 2
		}
		for len(b.nodes) < size {
			n := b.free()
			b.add(nodes[b.r.IntN(len(nodes))], n, b.passive(0.05))
			nodes = append(nodes, n)
		}
		for range extra {
			i, j := nodes[b.r.IntN(len(nodes))], nodes[b.r.IntN(len(nodes))]
			if i != j {
				d := b.passive(0.2)
				if b.chance(0.3) {
					d = b.check()
				}
				b.add(i, j, d)
			}
		}
		if b.class == "dead ends" {
			for range size / 4 {
				n, from := b.free(), nodes[b.r.IntN(len(nodes))]
				b.add(from, n, b.reducer(b.between(1.2, 6)*1e5, high))
				m := b.free()
				b.add(n, m, b.passive(0.5))
				if b.chance(0.3) {
					b.add(m, b.vent(vent), b.relief(b.between(2, 8)*1e5))
				}
				if b.chance(0.2) {
					b.add(m, b.vent(vent), b.holder(b.between(1.5, 8)*1e5))
				}
			}
		}
	case "ladder":
		a, c := b.source(high), b.vent(vent)
		for len(b.nodes) < size {
			x, y := b.free(), b.free()
			b.add(a, x, b.passive(0))
			b.add(y, c, b.passive(0))
			b.add(x, y, b.passive(0.2))
			a, c = x, y
		}
		b.add(a, c, b.passive(0))
	case "grid":
		b.grid(size, high, vent)
	case "dome in loop":
		b.domeInLoop(max(size, 12), high, vent)
	case "adversarial":
		b.adversarial(size, high, vent)
	case "supply effect":
		if b.chance(0.5) {
			b.series(size, high, vent)
		} else {
			b.panel(size, high, vent)
		}
		b.affected(high)
	case "series regulators":
		b.series(size, high, vent)
	case "panel", "dome":
		b.panel(size, high, vent)
	}
	n, err := New(b.nodes, b.elements)
	if err != nil {
		panic(err)
	}
	return n, &b.c, b.class
}

// series is a chain of regulators, valves and tubes with reliefs beside it.
func (b *builder) series(size int, high, vent float64) {
	at, p := b.source(high), high
	for len(b.nodes) < size-1 {
		n := b.free()
		switch {
		case b.chance(0.3) && p > 1.5*vent:
			p = vent + (p-vent)*b.between(0.3, 0.9)
			b.add(at, n, b.reducer(p, high))
		case b.chance(0.15):
			b.add(at, n, b.holder(p*b.between(0.3, 1.05)))
		default:
			b.add(at, n, b.passive(0.01))
		}
		if b.chance(0.2) {
			b.add(n, b.vent(vent), b.relief(p*b.between(1.05, 1.3)+1e4))
		}
		if b.chance(0.1) {
			b.add(n, b.vent(vent), b.passive(0.3))
		}
		at = n
	}
	b.add(at, b.vent(vent), b.passive(0))
}

// panel is what sample systems look like: a filter, a reducer, a header with
// relief, parallel legs with meters, controllers and checks, and a holder; with
// domes, loadings follow other nodes.
func (b *builder) panel(size int, high, vent float64) {
	src := b.source(high)
	in := b.free()
	b.add(src, in, b.valve())
	set := vent + (high-vent)*b.between(0.15, 0.7)
	header := b.free()
	main := b.add(in, header, b.reducer(set, high))
	b.add(header, b.vent(vent), b.relief(1.2*set+2e4))
	held := vent + (set-vent)*b.between(0.2, 0.7)
	back := b.free()
	hold := b.add(back, b.vent(vent), b.holder(held))
	if b.chance(0.5) {
		b.add(in, b.vent(vent), b.passive(0.1)) // fast loop
	}
	for len(b.nodes) < size-2 {
		at := header
		for k := b.r.IntN(4); k >= 0; k-- {
			n := b.free()
			d := b.passive(0.05)
			switch {
			case b.chance(0.12):
				d = b.check()
			case b.chance(0.12):
				d = b.controller()
			case b.chance(0.08):
				d = b.reducer(held+(set-held)*b.between(0.2, 0.9), set)
			}
			b.add(at, n, d)
			at = n
		}
		switch {
		case b.chance(0.75):
			b.add(at, back, b.passive(0.05))
		case b.chance(0.5):
			b.add(at, b.vent(vent), b.passive(0.05))
		}
	}
	if b.class != "dome" {
		return
	}
	// Pilot regulators from the source load the holder, the reducer or both.
	pilot := b.free()
	b.add(src, pilot, b.reducer(held*b.between(0.8, 1.1), high))
	if b.chance(0.6) {
		b.add(pilot, b.vent(vent), b.passive(0))
	}
	if b.chance(0.7) {
		l := device.HolderSpec{
			AccumulationPa: 0.01 * held, AtmospherePa: 101325,
			Dome: &device.DomeSpec{Ratio: b.between(0.8, 1.2), BiasPa: b.between(-0.2, 0.2) * held},
		}.Lift()
		b.c.Devices[hold].Lift = &l
		b.elements[hold].Sense = pilot
	}
	if b.chance(0.5) {
		load := b.free()
		b.add(src, load, b.reducer(set, high))
		l := device.ReducerSpec{
			DroopPa: 0.03 * set, LockUpPa: 0.01 * set, AtmospherePa: 101325, ReferenceInletPa: high,
			Dome: &device.DomeSpec{Ratio: 1, BiasPa: b.between(-0.1, 0.1) * set},
		}.Lift()
		b.c.Devices[main].Lift = &l
		b.elements[main].Sense = load
	}
}
