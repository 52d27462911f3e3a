package solver

import (
	"math"

	"tapline/solver/device"
)

// regime is the position of a lift in the active set.
type regime uint8

const (
	shut regime = iota
	ramp        // between its ends; the ramp is extended linearly while iterating
	full
)

// link is an element linearised at the current pressures: the flow from From
// to To and its slopes against the pressures at From, To and Sense.
type link struct {
	m, da, db, dr float64
	gross         float64 // |slopes| times pressures: what rounding of p is worth in flow
	choked        bool
}

// A Workspace holds everything one goroutine needs to solve cases of one
// network, so that solving allocates nothing. Not safe for concurrent use.
type Workspace struct {
	net   *Network
	given *Case // as given
	c     *Case // what is being solved: given, with lifts that may be held or moved
	work  Case
	base  []device.Lift // per element: its lift as given
	lifts []device.Lift // per element: what Device.Lift of c points to
	sites *sites
	f     *factors
	fixed []bool // the set of known pressures f was made for
	slots []slots

	p, rest, saved  []float64 // per node [Pa]
	ref             []float64 // per node: the pressure that a dome there follows
	sensed          []bool    // per node: a dome follows it
	limit, locked   []float64 // per node at rest: lock-up as far as it goes [Pa]
	temperature     []float64 // per node [K]
	active          []bool    // unknowns in play: moving or stubs
	scale           []float64 // per node: sum of nominal conductances [kg/s/Pa]
	lowest, highest float64   // bounds of any pressure [Pa]

	gas     []device.Gas // per node
	mean    []device.Gas // per element, where Device.Mean
	outlet  []float64    // per element: temperature where it leaves [K]
	gases   *composition
	damping damping
	problem []error // per node: why its gas could not be evaluated
	energy  *energy

	regime   []regime
	starting []bool // elements shut in the current classification
	link     []link
	linear   []float64 // flow of the last linear solve, from From to To
	nominal  []float64 // flow wide open into the lowest pressure, per Pa of inlet
	floor    []float64 // least drop at which a lifting passage is evaluated
	queue    []int

	popped     []bool // per element: a jumping device stands open
	history    []Iteration
	pass       int
	held       bool // loads are held
	search     bool // the answer is known, more is asked
	classified bool
	asLeft     bool // what rests keeps the pressure that pseudo-time left there
	iterations int
}

// slots says where the couplings of one element live in the factors.
type slots struct{ ab, ar, br slot }

type slot struct {
	at    int32
	upper bool // the first node's row is in upper
	ok    bool
}

// NewWorkspace makes the scratch space for solving cases of n.
func NewWorkspace(n *Network) *Workspace {
	k, m := len(n.Nodes), len(n.Elements)
	w := &Workspace{
		net: n, sites: newSites(n), slots: make([]slots, m), fixed: make([]bool, k),
		p: make([]float64, k), rest: make([]float64, k), ref: make([]float64, k), saved: make([]float64, k),
		sensed: make([]bool, k), base: make([]device.Lift, m), lifts: make([]device.Lift, m),
		limit: make([]float64, k), locked: make([]float64, k),
		temperature: make([]float64, k), active: make([]bool, k), scale: make([]float64, k),
		gas: make([]device.Gas, k), mean: make([]device.Gas, m), outlet: make([]float64, m),
		gases: newComposition(k), problem: make([]error, k),
		regime: make([]regime, m), popped: make([]bool, m), starting: make([]bool, m),
		energy: newEnergy(k), damping: newDamping(k, m),
		link: make([]link, m), linear: make([]float64, m), nominal: make([]float64, m), floor: make([]float64, m),
	}
	for _, e := range n.Elements {
		if e.Sense >= 0 {
			w.sensed[e.Sense] = true
		}
	}
	return w
}

// lay makes the factors for the case's set of known pressures, or keeps those
// of the case before.
func (w *Workspace) lay() {
	same := w.f != nil
	for i := range w.fixed {
		is := w.c.Conditions[i].Kind == Pressure
		same = same && is == w.fixed[i]
		w.fixed[i] = is
	}
	if same {
		return
	}
	unknown := make([]bool, len(w.fixed))
	for i, is := range w.fixed {
		unknown[i] = !is
	}
	var couplings [][2]int
	for _, e := range w.net.Elements {
		couplings = append(couplings, [2]int{e.From, e.To})
		if e.Sense >= 0 {
			couplings = append(couplings, [2]int{e.From, e.Sense}, [2]int{e.To, e.Sense})
		}
	}
	w.f = newFactors(unknown, couplings)
	at := func(i, j int) slot {
		if i < 0 || j < 0 || i == j {
			return slot{}
		}
		s, upper, ok := w.f.slot(i, j)
		return slot{int32(s), upper, ok}
	}
	for i, e := range w.net.Elements {
		w.slots[i] = slots{at(e.From, e.To), at(e.From, e.Sense), at(e.To, e.Sense)}
	}
}

// add puts v into the row of the slot's first node (first true) or second.
func (f *factors) add(s slot, first bool, v float64) {
	if !s.ok {
		return
	}
	if first == s.upper {
		f.upper[s.at] += v
	} else {
		f.lower[s.at] += v
	}
}

// isShut reports whether element i passes nothing in its present state.
func (w *Workspace) isShut(i int) bool {
	d := &w.c.Devices[i]
	switch {
	case d.Leak != nil:
		return false
	case d.Passage == nil:
		return true
	case d.Lift != nil || d.OneWay:
		return w.regime[i] == shut
	}
	return false
}

// settle brings classification, resting pressures and dome pressures up to the
// present states and pressures, and reports whether the pressure of a dome at
// rest moved. In pseudo-time every node has an equation of its own, shut off or
// not, and nothing is classified.
func (w *Workspace) settle(inTime bool) (moved bool) {
	ref := w.ref
	changed := !w.classified || inTime
	for i := range w.net.Elements {
		s := w.isShut(i)
		changed = changed || s != w.starting[i]
		w.starting[i] = s
	}
	if inTime {
		w.classified = false
		for i := range w.p {
			w.active[i] = !w.fixed[i]
		}
		copy(w.rest, w.p)
		copy(ref, w.p)
		return false
	}
	if changed {
		w.sites.classify(w.net, w.c, w.starting)
		w.classified = true
	}
	if w.sites.resting {
		w.sites.slack = 1e-3 * w.columns()
		// The lifts of the resting part are judged at the point of shutting;
		// domes fed by a regulator at rest follow it locked up. Chains of domes at
		// rest settle over the iterations.
		w.sites.fill(w.net, w.c, w.starting, w.p, w.ref, w.rest, nil, w.lowest)
		w.lockUp()
		if w.asLeft {
			w.keep()
		}
	} else {
		copy(w.rest, w.p)
		copy(w.locked, w.p)
	}
	for i := range w.p {
		pl := w.sites.place[i]
		was := w.active[i]
		w.active[i] = !w.fixed[i] && (pl == moving || pl == stub)
		p := w.p[i]
		switch {
		case pl == filled, pl == stub && !was:
			w.p[i] = min(max(w.rest[i], w.lowest), w.highest)
			p = w.locked[i]
			moved = moved || w.sensed[i] && math.Abs(ref[i]-p) > restTol*p
		case pl == stub:
			w.rest[i], w.locked[i] = p, p
		case pl == trapped && !w.asLeft:
			p = w.lowest
		}
		ref[i] = p
	}
	return moved
}

// columned is a law with a rise, of which a fluid at rest hangs.
type columned interface {
	HeadPa(g *device.Gas) float64
}

// columns brings the heads of all rises up to date, and gives their sum.
func (w *Workspace) columns() (sum float64) {
	for i := range w.net.Elements {
		w.sites.head[i] = 0
		if c, ok := w.c.Devices[i].Passage.(columned); ok {
			w.sites.head[i] = c.HeadPa(&w.mean[i])
			sum += math.Abs(w.sites.head[i])
		}
	}
	return sum
}

// lockUp lets the regulators of the resting part lock up, as far as nothing next
// to them would open. What would open is judged with the pressures after it as
// they are when locked up, so a few rounds may be needed; where they do not
// agree, nothing locks up.
func (w *Workspace) lockUp() {
	copy(w.locked, w.rest)
	for range 4 {
		w.sites.opening(w.net, w.c, w.starting, w.ref, w.rest, w.locked, w.limit, w.lowest)
		w.sites.fill(w.net, w.c, w.starting, w.p, w.ref, w.locked, w.limit, w.lowest)
		if !w.bursts() {
			return
		}
	}
	copy(w.locked, w.rest)
}

// bursts reports whether a device that is shut would open at the locked-up
// pressures.
func (w *Workspace) bursts() bool {
	for i := range w.net.Elements {
		e, d := &w.net.Elements[i], &w.c.Devices[i]
		if d.Passage == nil || d.Lift == nil || d.Snap || w.regime[i] != shut {
			continue
		}
		pa, pb := w.locked[e.From], w.locked[e.To]
		if z := d.Lift.At(pa, pb, follows(e, w.ref)); pa > pb && finite(pb) && z > shutsAt {
			return true
		}
	}
	return false
}

// keep gives what rests the pressures that are there.
func (w *Workspace) keep() {
	copy(w.rest, w.p)
	copy(w.locked, w.p)
	for i := range w.rest {
		if w.sites.place[i] == trapped {
			w.rest[i], w.locked[i] = math.Inf(-1), math.Inf(-1)
		}
	}
}

// inPlay reports whether element i enters the equations: both ends known or
// solved for, and not shut.
func (w *Workspace) inPlay(i int) bool {
	e := &w.net.Elements[i]
	return !w.starting[i] && w.touches(e)
}

func finite(x float64) bool { return !math.IsNaN(x) && !math.IsInf(x, 0) }
