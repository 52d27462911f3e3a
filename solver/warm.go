package solver

// Warm starts. The answer of the case before is led on to the new case along its own
// slopes: the equations that its last iteration assembled are solved once more, for
// what the known pressures, inflows and devices have changed by. This costs a linear
// solve and the laws of the devices that changed, and is right to first order, where
// regulators keep what is behind them from moving at all. Temperatures and gases then
// follow the flows before any law is asked.

// resume begins at the answer of the case before.
func (w *Workspace) resume() {
	w.isothermal()
	for i := range w.regime {
		if d := &w.c.Devices[i]; d.Snap || d.Lift == nil && !d.OneWay {
			w.regime[i] = w.first(i)
		}
	}
	led := w.lead()
	for i := range w.p {
		w.ref[i], w.rest[i] = w.p[i], w.p[i]
	}
	clear(w.problem)
	if led {
		if w.gases.unlike {
			w.compose()
		}
		w.temperatures()
		w.tangents()
	}
	w.clean()
	w.limits(false)
	for i := range w.p {
		if !w.fixed[i] {
			w.p[i] = min(max(w.p[i], w.lowest), w.highest)
		}
	}
	clear(w.problem)
}

// lead takes the known pressures of the new case and leads the others and the flows on
// to them, and reports whether it could.
func (w *Workspace) lead() bool {
	if w.assembled {
		w.change() // at the pressures of the case before
	}
	dp := w.saved
	for i := range dp {
		dp[i] = 0
		if w.fixed[i] {
			dp[i] = w.c.Conditions[i].PressurePa - w.p[i]
			w.p[i] = w.c.Conditions[i].PressurePa
		}
	}
	if !w.assembled {
		return false
	}
	w.assembled = false
	f := w.f
	for i := range w.net.Elements {
		if w.inPlay(i) {
			w.enter(&w.net.Elements[i], w.follow(i, dp))
		}
	}
	f.solve()
	for k, i := range f.order {
		if !w.active[i] {
			continue
		}
		if !finite(f.rhs[k]) {
			return false
		}
		dp[i] = f.rhs[k]
		w.p[i] = min(max(w.p[i]+dp[i], mostFall*w.p[i]), w.p[i]/mostFall)
	}
	for i := range w.net.Elements {
		if w.inPlay(i) {
			w.linear[i] += w.follow(i, dp)
		}
	}
	w.move()
	return true
}

// change begins the right sides with what inflows and devices have changed by.
func (w *Workspace) change() {
	f := w.f
	clear(f.rhs)
	for k, i := range f.order {
		if w.active[i] {
			f.rhs[k] = w.inflow(int(i)) - w.entered[i]
		}
	}
	for i := range w.net.Elements {
		if !w.changed[i] || !w.inPlay(i) {
			continue
		}
		was := w.link[i]
		w.evaluate(i)
		by := w.link[i].m - w.linear[i]
		w.link[i] = was
		w.linear[i] += by
		w.enter(&w.net.Elements[i], by)
	}
}

// follow is what the flow of element i changes by where pressures do by dp, along the
// slopes of the case before.
func (w *Workspace) follow(i int, dp []float64) float64 {
	e, l := &w.net.Elements[i], &w.link[i]
	m := l.da*dp[e.From] + l.db*dp[e.To]
	if e.Sense >= 0 {
		m += l.dr * dp[e.Sense]
	}
	return m
}

// enter puts a flow more through e into the right sides.
func (w *Workspace) enter(e *Element, m float64) {
	f := w.f
	if w.active[e.From] {
		f.rhs[f.pos[e.From]] -= m
	}
	if w.active[e.To] {
		f.rhs[f.pos[e.To]] += m
	}
}

// inflow is what enters at node i [kg/s].
func (w *Workspace) inflow(i int) float64 {
	if c := &w.c.Conditions[i]; c.Kind == Inflow {
		return c.InflowKgS
	}
	return 0
}

// keeps notes what the next case may be led on from.
func (w *Workspace) keeps(assembled bool) {
	w.assembled = assembled
	for i := range w.entered {
		w.entered[i] = w.inflow(i)
	}
}

// differs reports whether a device's laws are other than those of the case before.
func (d *Device) differs(was *Device) bool {
	return d.Passage != was.Passage || d.Leak != was.Leak || d.Trim != was.Trim || d.OneWay != was.OneWay ||
		d.Mean != was.Mean || (d.Lift == nil) != (was.Lift == nil)
}
