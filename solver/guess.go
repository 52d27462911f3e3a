package solver

import "math"

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
// Regulators hold the node they sense at its setting; what else has a lift enters
// with a tenth of its conductance.

const (
	mostGuesses = 12
	guessTol    = 0.02 // change of all flows in a round, as a share of them
	leastFlow   = 1e-6 // of what passes wide open: below, an element is taken to be linear
	// pinned is the conductance to a setting, as a multiple of all that is next to it
	// wide open; an element has at most 1/(2 leastFlow) of that.
	pinned = 1e3 / leastFlow
)

// guess sets the pressures and flows to start from.
func (w *Workspace) guess() {
	hi := w.highest / highestShare
	mean := 0.25 * (hi*hi + w.lowest/lowestShare*w.lowest/lowestShare)
	if w.highest >= 1e9 {
		hi = 2 * w.lowest
		mean = hi * hi
	}
	clear(w.linear)
	for round := range mostGuesses {
		w.guessed(hi, mean, round > 0)
		if w.guessFlows(hi, round > 0) {
			break
		}
	}
	for i := range w.p {
		if w.fixed[i] {
			w.p[i] = w.c.Conditions[i].PressurePa
			continue
		}
		w.p[i] = min(max(math.Sqrt(max(w.f.rhs[w.f.pos[i]], 0)), w.lowest), w.highest)
	}
	for i := range w.linear {
		if w.c.Devices[i].Lift != nil {
			w.linear[i] = 0.3 * w.nominal[i] * w.p[w.net.Elements[i].From]
		}
	}
}

// conducts gives the linear law of element i about the flow of the round before: a
// conductance against p^2 and a flow beside it.
func (w *Workspace) conducts(i int, hi float64, about bool) (g, beside float64) {
	c := w.nominal[i]
	switch {
	case w.c.Devices[i].Lift != nil:
		return 0.1 * c / hi, 0
	case !about:
		return c / hi, 0
	}
	m, least := w.linear[i], leastFlow*c*hi
	if math.Abs(m) <= least {
		return c * c / least, 0
	}
	return c * c / (2 * math.Abs(m)), m / 2
}

// guessed solves one round for p^2.
func (w *Workspace) guessed(hi, mean float64, about bool) {
	f := w.f
	f.clear()
	for i := range w.net.Elements {
		e := &w.net.Elements[i]
		if w.nominal[i] == 0 || w.fixed[e.From] && w.fixed[e.To] {
			continue
		}
		if w.c.Devices[i].Lift != nil {
			if node, p, ok := w.holds(i); ok && !w.fixed[node] {
				k := f.pos[node]
				big := pinned * w.scale[node] / hi
				f.excess[k] += big
				f.rhs[k] += big * p * p
				continue
			}
		}
		g, beside := w.conducts(i, hi, about)
		switch {
		case w.fixed[e.From]:
			f.excess[f.pos[e.To]] += g
			f.rhs[f.pos[e.To]] += g*w.squared(e.From) + beside
		case w.fixed[e.To]:
			f.excess[f.pos[e.From]] += g
			f.rhs[f.pos[e.From]] += g*w.squared(e.To) - beside
		default:
			f.add(w.slots[i].ab, true, g)
			f.add(w.slots[i].ab, false, g)
			f.rhs[f.pos[e.From]] -= beside
			f.rhs[f.pos[e.To]] += beside
		}
	}
	for k, i := range f.order {
		tie := 1e-12*w.scale[i]/hi + 1e-30
		f.excess[k] += tie
		f.rhs[k] += tie * mean
		if c := &w.c.Conditions[i]; c.Kind == Inflow {
			f.rhs[k] += c.InflowKgS
		}
	}
	f.solve()
}

// squared is p^2 at node i: as given, or as the last round has it.
func (w *Workspace) squared(i int) float64 {
	if w.fixed[i] {
		p := w.c.Conditions[i].PressurePa
		return p * p
	}
	return w.f.rhs[w.f.pos[i]]
}

// guessFlows takes the flows of a round and reports whether they have settled.
func (w *Workspace) guessFlows(hi float64, about bool) bool {
	moved, sum := 0.0, 0.0
	for i := range w.net.Elements {
		e := &w.net.Elements[i]
		g, m := w.conducts(i, hi, about)
		m += g * (w.squared(e.From) - w.squared(e.To))
		moved += math.Abs(m - w.linear[i])
		sum += math.Abs(m)
		w.linear[i] = m
	}
	return moved <= guessTol*sum
}

// holds gives the node that a lifting device controls and the pressure at which
// it begins to open, as far as that can be told before anything is solved.
func (w *Workspace) holds(i int) (node int, p float64, ok bool) {
	e, l := &w.net.Elements[i], w.c.Devices[i].Lift
	if w.floor[i] > 0 || l.Bias == 0 && l.Ref == 0 {
		return 0, 0, false // opens on a drop
	}
	pr := 0.0
	if l.Ref != 0 {
		if e.Sense < 0 || !w.fixed[e.Sense] {
			return 0, 0, false
		}
		pr = w.c.Conditions[e.Sense].PressurePa
	}
	if l.Down < 0 && l.Up <= 0 {
		node = e.To
		p = -(l.Bias + l.Ref*pr + l.Up*w.highest/highestShare) / l.Down
	} else {
		node = e.From
		p = -(l.Bias + l.Ref*pr + l.Down*w.lowest/lowestShare) / l.Up
	}
	return node, min(max(p, w.lowest), w.highest), finite(p)
}
