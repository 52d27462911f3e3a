package solver

import (
	"math"

	"tapline/solver/device"
)

// The first guess: the pressures and flows of the same network with every passage
// replaced by m = C sqrt(p1^2 - p2^2), which long tubes obey and choked valves nearly;
// C is the flow wide open into half the lowest pressure over the highest. In p^2 and
// m it is solved by Newton's method about the flows (Todini & Pilati, A gradient
// algorithm for the analysis of pipe networks, in: Computer Applications in Water
// Supply 1, Research Studies Press 1988, 1-20): an element is a conductance C^2/2|m|
// beside a flow of m/2. It starts from the linear network in p^2 and costs a linear
// solve a round, but no law. That linear network alone is far off where a drop is
// spread over many elements in series: they pass a small part of what they would
// wide open, and each iteration of the real laws mends that by a factor only.
//
// A device with a lift passes C sqrt(p1^2 - p2^2) of the round before times its lift, a
// straight line in p^2 about where it controls. It shuts where it would pass gas
// backwards, stands open where its lift passes 1, and returns from both where the
// pressures say so: the regimes that the rounds end in are those the iteration with the
// real laws begins with.

const (
	mostGuesses = 30
	freeGuesses = 12   // rounds before they are tied to the pressures of the round before
	guessTol    = 0.02 // change of all flows in a round, as a share of them
	leastFlow   = 1e-6 // of what passes wide open: below, an element is taken to be linear
	// fall is how fast a flow may fall to where it is linear, a round. One that begins
	// from next to none would overshoot, and Newton's method returns from there by halves.
	fall = 0.1
	// leastWide bounds what a device on its ramp passes wide open, and reliefDrop is the
	// drop above which what opens on a drop begins shut, as shares of the highest pressure.
	leastWide, reliefDrop = 0.01, 0.02
	// The tie: a conductance as a share of all that is next to a node wide open, by what
	// it falls in a round in which no regime shifts, and where it is none any more.
	firstTie, tieFall, noTie = 0.1, 0.2, 1e-3
)

// guess sets the pressures, flows and regimes to start from.
func (w *Workspace) guess() {
	hi := w.highest / highestShare
	mean := 0.25 * (hi*hi + w.lowest/lowestShare*w.lowest/lowestShare)
	if w.highest >= 1e9 {
		hi = 2 * w.lowest
		mean = hi * hi
	}
	clear(w.linear)
	for i := range w.active {
		w.active[i] = !w.fixed[i]
	}
	for i := range w.around {
		w.around[i] = hi
		if w.regime[i] == ramp && w.floor[i] > reliefDrop*hi {
			w.regime[i] = shut
		}
	}
	tie := 0.0
	for round := range mostGuesses {
		if round == freeGuesses {
			tie = firstTie
		}
		w.guessed(hi, mean, tie)
		shifted, settled := w.guessFlows(hi)
		for i := range w.p {
			w.p[i] = w.guessAt(i)
		}
		if settled && !shifted && tie < noTie {
			break
		}
		if !shifted {
			tie *= tieFall
		}
	}
}

// guessed solves one round for p^2, tied to the pressures of the round before.
func (w *Workspace) guessed(hi, mean, tie float64) {
	f := w.f
	f.clear()
	for i := range w.net.Elements {
		l, e := &w.link[i], &w.net.Elements[i]
		*l = w.guessLaw(i, hi)
		if w.fixed[e.From] {
			l.m += l.da * w.squared(e.From)
		}
		if w.fixed[e.To] {
			l.m += l.db * w.squared(e.To)
		}
		w.couple(i, l)
	}
	for k, i := range f.order {
		g := w.scale[i] / hi
		toMean := 1e-12*g + 1e-30
		f.excess[k] += toMean + tie*g
		f.rhs[k] += toMean*mean + tie*g*w.p[i]*w.p[i]
		if c := &w.c.Conditions[i]; c.Kind == Inflow {
			f.rhs[k] += c.InflowKgS
		}
	}
	f.solve()
}

// guessLaw gives the straight line in p^2 of element i about the round before: its
// flow where both are 0, and its slopes.
func (w *Workspace) guessLaw(i int, hi float64) link {
	d, c := &w.c.Devices[i], w.nominal[i]
	switch {
	case c == 0 || w.regime[i] == shut && (d.Lift != nil || d.OneWay):
		return link{}
	case d.Lift != nil && w.regime[i] == ramp:
		return w.guessRamp(i, d.Lift, hi)
	}
	m := w.linear[i]
	if around := c * max(w.around[i], leastFlow*hi); math.Abs(m) <= around {
		g := c * c / around
		return link{da: g, db: -g}
	}
	g := c * c / (2 * math.Abs(m))
	return link{m: m / 2, da: g, db: -g}
}

// guessRamp is that of a device on its ramp. Of what acts on the lift, that in the
// wrong sense stays as it was.
func (w *Workspace) guessRamp(i int, l *device.Lift, hi float64) link {
	e := &w.net.Elements[i]
	pa, pb, pr := w.p[e.From], w.p[e.To], follows(e, w.p)
	z := l.At(pa, pb, pr)
	// The line is laid where the pressure that it controls has the lift between its ends.
	to := min(max(z, 0), 1)
	if l.Down < 0 && l.Up <= 0 {
		pb = min(max(pb+(to-z)/l.Down, w.lowest), w.highest)
	} else if l.Up > 0 {
		pa = min(max(pa+(to-z)/l.Up, w.lowest), w.highest)
	}
	c := w.nominal[i]
	wide := c * max(math.Sqrt(max((pa-pb)*(pa+pb), 0)), leastWide*hi)
	by := to * c * c / (2 * wide)
	g := link{m: to*wide/2 + wide*(l.At(pa, pb, pr)-to), da: by, db: -by}
	if l.Up > 0 {
		by = wide * l.Up / (2 * pa)
		g.da += by
		g.m -= by * pa * pa
	}
	if l.Down < 0 {
		by = wide * l.Down / (2 * pb)
		g.db += by
		g.m -= by * pb * pb
	}
	return g
}

// squared is p^2 at node i: as given, or as the last round has it.
func (w *Workspace) squared(i int) float64 {
	if w.fixed[i] {
		p := w.c.Conditions[i].PressurePa
		return p * p
	}
	return w.f.rhs[w.f.pos[i]]
}

// guessAt is the pressure that the last round has at node i.
func (w *Workspace) guessAt(i int) float64 {
	if w.fixed[i] {
		return w.c.Conditions[i].PressurePa
	}
	return min(max(math.Sqrt(max(w.f.rhs[w.f.pos[i]], 0)), w.lowest), w.highest)
}

// guessFlows takes the flows and regimes of a round and reports whether they have
// settled.
func (w *Workspace) guessFlows(hi float64) (shifted, settled bool) {
	moved, sum := 0.0, 0.0
	for i := range w.net.Elements {
		l, e, c := &w.link[i], &w.net.Elements[i], w.nominal[i]
		m := l.m
		if !w.fixed[e.From] {
			m += l.da * w.squared(e.From)
		}
		if !w.fixed[e.To] {
			m += l.db * w.squared(e.To)
		}
		if next := w.guessRegime(i, m); next != w.regime[i] {
			if w.regime[i] = next; next == shut {
				m = 0
			}
			shifted = true
		}
		if c > 0 {
			w.around[i] = fall * max(math.Abs(m)/c, w.around[i])
		}
		moved += math.Abs(m - w.linear[i])
		sum += math.Abs(m)
		w.linear[i] = m
	}
	return shifted, moved <= guessTol*sum
}

// guessRegime is the regime of element i after a round in which it passed m.
func (w *Workspace) guessRegime(i int, m float64) regime {
	d, e, now := &w.c.Devices[i], &w.net.Elements[i], w.regime[i]
	if d.Passage == nil || d.Snap || d.Lift == nil && !d.OneWay {
		return now
	}
	if now != shut && m < -leastFlow*w.nominal[i]*w.highest {
		return shut
	}
	pa, pb := w.guessAt(e.From), w.guessAt(e.To)
	if d.Lift == nil {
		if pa > pb {
			return full
		}
		return now
	}
	z := d.Lift.At(pa, pb, follows(e, w.p))
	switch {
	case now == shut && pa > pb && z > 0, now == full && z < 1:
		return ramp
	case now == ramp && z > 1:
		return full
	}
	return now
}
