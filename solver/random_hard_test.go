package solver

import "tapline/solver/device"

// The classes outside the monotone one: effects of the wrong sign, domes that
// follow what their own device acts on, and anything joined to anything.

// effect draws a seat effect of either sign.
func (b *builder) effect(most float64) float64 {
	s := b.between(0.1, 1) * most
	if b.chance(0.3) {
		s = -s
	}
	return s
}

// affected gives some lifts of the network an effect of the other side.
func (b *builder) affected(high float64) {
	for i := range b.c.Devices {
		l := b.c.Devices[i].Lift
		switch {
		case l == nil || l.Up == -l.Down:
		case l.Down < 0 && l.Up == 0: // reducer, its set stated at the highest inlet
			s := b.effect(0.06)
			l.Up = s * l.Down
			l.Bias -= l.Up * high
		case l.Up > 0 && l.Down == 0: // holder, its set stated at the atmosphere
			s := b.effect(0.3)
			l.Down = s * l.Up
			l.Bias -= l.Down * 101325
		}
	}
}

// grid is a square of tubes and valves, fed at corners and vented at others.
func (b *builder) grid(size int, high, vent float64) {
	side := 2
	for (side+1)*(side+1) <= size {
		side++
	}
	at := make([]int, side*side)
	for k := range at {
		at[k] = b.free()
	}
	for k := range at {
		if k%side+1 < side {
			b.add(at[k], at[k+1], b.passive(0.1))
		}
		if k+side < len(at) {
			b.add(at[k], at[k+side], b.passive(0.1))
		}
	}
	b.add(b.source(high), at[0], b.passive(0))
	if b.chance(0.5) {
		b.add(b.source(high*b.between(0.5, 1.1)), at[side-1], b.passive(0))
	}
	b.add(at[len(at)-1], b.vent(vent), b.passive(0))
	for range 1 + side/3 {
		b.add(at[b.r.IntN(len(at))], b.vent(vent*b.between(1, 1.2)), b.passive(0.2))
	}
}

// domed loads a device with the pressure of a node.
func (b *builder) domed(element, node int, set, inlet float64) {
	d := &b.c.Devices[element]
	dome := &device.DomeSpec{Ratio: b.between(0.7, 1.3), BiasPa: b.between(-0.3, 0.3) * set}
	var l device.Lift
	if d.Lift.Down < 0 {
		l = device.ReducerSpec{DroopPa: b.log(0.005, 0.1) * set, LockUpPa: b.between(0, 0.02) * set, AtmospherePa: 101325, ReferenceInletPa: inlet, Dome: dome}.Lift()
	} else {
		l = device.HolderSpec{AccumulationPa: b.log(0.002, 0.1) * set, AtmospherePa: 101325, Dome: dome}.Lift()
	}
	d.Lift = &l
	b.elements[element].Sense = node
}

// domeInLoop is a panel whose pilots are fed from, or bleed into, what the
// devices they load control.
func (b *builder) domeInLoop(size int, high, vent float64) {
	b.class = "panel"
	b.panel(size-5, high, vent)
	b.class = "dome in loop"
	var main, hold int
	for i := range b.elements {
		switch l := b.c.Devices[i].Lift; {
		case l == nil || l.Up == -l.Down:
		case l.Down < 0 && main == 0:
			main = i
		case l.Up > 0 && l.Down == 0:
			hold = i
		}
	}
	set := -b.c.Devices[main].Lift.Bias / b.c.Devices[main].Lift.Down
	held := -b.c.Devices[hold].Lift.Bias / b.c.Devices[hold].Lift.Up
	header, back := b.elements[main].To, b.elements[hold].From
	feed := []int{header, back, b.elements[main].From}
	for range 1 + b.r.IntN(3) {
		pilot := b.free()
		b.add(feed[b.r.IntN(len(feed))], pilot, b.reducer(b.between(0.5, 1.2)*held, set))
		switch b.r.IntN(4) {
		case 0:
			b.add(pilot, b.vent(vent), b.passive(0))
		case 1:
			b.add(pilot, back, b.passive(0.1))
		case 2: // a restriction to what is held, so that the pilot follows it
			b.add(pilot, header, b.passive(0))
		}
		if b.chance(0.5) {
			b.domed(hold, pilot, held, high)
		} else {
			b.domed(main, pilot, set, high)
		}
	}
}

// adversarial joins anything to anything.
func (b *builder) adversarial(size int, high, vent float64) {
	nodes := []int{b.source(high), b.source(high * b.log(0.05, 1.2)), b.vent(vent)}
	level := func() float64 { return b.log(vent, 1.2*high) }
	device := func() Device {
		switch b.r.IntN(9) {
		case 0, 1:
			return b.passive(0.1)
		case 2:
			d := b.valve()
			d.Passage = device.Coefficient{Cv: b.log(1e-6, 10), XT: b.between(0.3, 0.8), FL: 0.9}
			return d
		case 3:
			return b.reducer(level(), high)
		case 4:
			return b.holder(level())
		case 5:
			return b.relief(level())
		case 6:
			return b.check()
		case 7:
			return b.controller()
		}
		d := b.check()
		d.Leak = b.valve().Passage
		return d
	}
	for len(b.nodes) < size {
		n := b.free()
		at := nodes[b.r.IntN(len(nodes))]
		if b.chance(0.3) {
			b.add(n, at, device())
		} else {
			b.add(at, n, device())
		}
		nodes = append(nodes, n)
	}
	for range size / 2 {
		if i, j := nodes[b.r.IntN(len(nodes))], nodes[b.r.IntN(len(nodes))]; i != j {
			b.add(i, j, device())
		}
	}
	b.affected(high)
	for i := range b.elements {
		l := b.c.Devices[i].Lift
		if l == nil || l.Up == -l.Down || l.Bias == 0 || !b.chance(0.15) {
			continue
		}
		b.domed(i, nodes[b.r.IntN(len(nodes))], level(), high)
	}
}

// outsideMonotone tells the classes in which a law may have a slope of the wrong
// sign.
func outsideMonotone(class string) bool {
	switch class {
	case "dome", "dome in loop", "supply effect", "adversarial":
		return true
	}
	return false
}
