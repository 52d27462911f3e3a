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
	low, high       []float64 // per trapped node: bounds of its pressure [Pa]
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
	legs    []leg // per element, as last counted

	regime   []regime
	drains   []bool // per node: what enters there has a way out
	starting []bool // elements shut in the current classification
	link     []link
	linear   []float64 // flow of the last linear solve, from From to To
	nominal  []float64 // flow wide open into the lowest pressure, per Pa of inlet
	changed  []bool    // per element: its law is not that of the case before
	entered  []float64 // per node: what entered there in the case before [kg/s]
	around   []float64 // what the first guess takes to be next to no flow, by what passes wide open per Pa
	floor    []float64 // least drop at which a lifting passage is evaluated
	queue    []int

	start []device.Start // per element: where the search begins for its flow
	anew  device.Start   // that of a search that has nothing to begin from
	flow  device.Flow    // the last that a law gave

	popped     []bool // per element: a jumping device stands open
	history    []Iteration
	several    bool    // the case may have several answers
	domes      bool    // a dome follows a pressure that is solved for
	warm       bool    // begun at the answer of the case before: a cold start is better than pseudo-time
	ready      bool    // the case before had an answer, which is still here
	assembled  bool    // the equations at that answer are still in f
	lastStep   float64 // the largest relative move of a pressure in the last full or implicit step
	final      terminus
	known      loads  // those of the answer that is known
	ends       loads  // those that are moved
	began      stance // of the full steps
	stepped    stance // of the last step in pseudo-time
	pass       int
	held       bool // loads are held
	search     bool // the answer is known, more is asked
	classified bool
	asLeft     bool // what rests keeps the pressure that pseudo-time left there
	iterations int
}

// NewWorkspace makes the scratch space for solving cases of n.
func NewWorkspace(n *Network) *Workspace {
	k, m := len(n.Nodes), len(n.Elements)
	w := &Workspace{
		net: n, sites: newSites(n), fixed: make([]bool, k),
		p: make([]float64, k), rest: make([]float64, k), ref: make([]float64, k), saved: make([]float64, k),
		sensed: make([]bool, k), base: make([]device.Lift, m), lifts: make([]device.Lift, m),
		limit: make([]float64, k), locked: make([]float64, k), low: make([]float64, k), high: make([]float64, k),
		temperature: make([]float64, k), active: make([]bool, k), scale: make([]float64, k),
		gas: make([]device.Gas, k), mean: make([]device.Gas, m), outlet: make([]float64, m),
		gases: newComposition(k), problem: make([]error, k),
		regime: make([]regime, m), popped: make([]bool, m), starting: make([]bool, m),
		energy: newEnergy(k, m), legs: make([]leg, m), damping: newDamping(k, m),
		link: make([]link, m), linear: make([]float64, m), nominal: make([]float64, m), around: make([]float64, m), changed: make([]bool, m), entered: make([]float64, k), floor: make([]float64, m),
		start: make([]device.Start, m),
	}
	w.drains = make([]bool, k)
	for _, e := range n.Elements {
		if e.Sense >= 0 {
			w.sensed[e.Sense] = true
		}
	}
	return w
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

// inPlay reports whether element i enters the equations: both ends known or
// solved for, and not shut.
func (w *Workspace) inPlay(i int) bool {
	e := &w.net.Elements[i]
	return !w.starting[i] && w.touches(e)
}

func finite(x float64) bool { return !math.IsNaN(x) && !math.IsInf(x, 0) }
