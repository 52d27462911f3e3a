package solver

// The active set: whether each lift is shut, on its ramp or full.

// move shifts the regimes by at most one place and reports whether any did.
func (w *Workspace) move() (moved bool) {
	for i := range w.net.Elements {
		d := &w.c.Devices[i]
		if d.Passage == nil || d.Lift == nil && !d.OneWay {
			continue
		}
		now := w.regime[i]
		next := w.nextRegime(i, d, now)
		if next != now {
			w.regime[i] = next
			moved = true
		}
	}
	return moved
}

func (w *Workspace) nextRegime(i int, d *Device, now regime) regime {
	e := &w.net.Elements[i]
	pa, pb := w.level(e.From), w.level(e.To)
	if !finite(pa) || !finite(pb) {
		return now
	}
	// Behind a device at rest the pressure may have filled to that before it.
	carries := w.inPlay(i)
	drives := pa > pb || pa == pb && !w.touches(e)
	if d.OneWay && carries && now != shut && w.linear[i] < 0 {
		return shut
	}
	if d.Lift == nil { // one-way without a lift: open or shut
		if now == shut && drives {
			return full
		}
		return now
	}
	if d.Snap {
		return now // flipped from outside, see snap.go
	}
	pr := 0.0
	if e.Sense >= 0 {
		pr = w.ref[e.Sense]
		if w.active[e.Sense] || w.fixed[e.Sense] {
			pr = w.p[e.Sense]
		}
	}
	z := d.Lift.At(pa, pb, pr)
	switch {
	case !finite(z):
		return now
	case now == shut && z > opensAt && (!d.OneWay || drives):
		return ramp
	case now == ramp && (z < 0 && carries || z < -shutsAt):
		return shut
	case now == ramp && z > 1:
		return full
	case now == full && z < 1:
		return ramp
	}
	return now
}

// rouse opens what is shut around trapped sections and stands open in a cold
// start, and reports whether there was any. A reducer or check valve shut on the
// way to the answer has no pressure there that would open it again, but standing
// open it joins the section to what it drains to: without this it would depend on
// the way whether a section counts as trapped. Cases with domes are let be: they
// are solved from cold only.
func (w *Workspace) rouse() (any bool) {
	if !w.sites.resting || w.domes {
		return false
	}
	for i := range w.net.Elements {
		e := &w.net.Elements[i]
		if w.regime[i] != shut || w.sites.place[e.From] != trapped && w.sites.place[e.To] != trapped {
			continue
		}
		if open := w.first(i); open != shut {
			w.regime[i] = open
			any = true
		}
	}
	return any
}

// touches reports whether the equations hold both ends of an element.
func (w *Workspace) touches(e *Element) bool {
	return (w.active[e.From] || w.fixed[e.From]) && (w.active[e.To] || w.fixed[e.To])
}

// level is the pressure of a node as far as it is known.
func (w *Workspace) level(i int) float64 {
	if w.active[i] || w.fixed[i] {
		return w.p[i]
	}
	return w.rest[i]
}
