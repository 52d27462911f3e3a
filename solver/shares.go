package solver

import (
	"math"
	"slices"

	"tapline/solver/fluid"
)

// Compositions follow from the flows as temperatures do: what arrives at a node
// mixes mole by mole, and everything leaves it with that mixture. Every node
// whose pressure or inflow is given is an entry of its own: a source, or a vent
// where it gives back more than it takes. Most nodes have the gas of one other
// node unchanged; that node is their origin: an entry, or a junction where unlike
// gases meet. So shares and fluids are held at origins only, and a network of one
// gas costs a single sweep, when its answer is reported.
//
// What rests has the gas it was filled with, which is that of the flowing node at
// the root of its filling. Where nothing flows though it could, the nearest source
// that can reach the node stands in.

const (
	shareTol = 1e-10 // move of a mole fraction between passes
	// sameShare is the move below which a blend is kept as it was made, and the mole
	// fraction below which a fluid is left out of one: it is worth less than the
	// equations of state are good to.
	sameShare, traceShare = 1e-13, 1e-12
	// leastShare is the flow, as a share of the largest, below which the gas of a
	// node is not waited for: rounding decides which way it goes.
	leastShare = 1e-12
	mostSweeps = 1000 // of a network in which flow goes round in a ring
)

// A Share is the part of a gas that entered the network at one node.
type Share struct {
	Entry int     // the node: a source, or a vent that gives back
	Mole  float64 // mole fraction
}

// composition holds the gases of all nodes.
type composition struct {
	unlike bool      // the case has sources of different fluids
	entry  []int     // per node: the nearest source that can reach it, -1 none
	origin []int     // per node: whose gas it has, -1 none
	mixed  [][]Share // per origin, by entry; empty where it is that entry's own gas
	molar  []float64 // per junction: molar mass [kg/mol]
	blends []blend   // per junction
	waits  []int     // flows that have not yet arrived
	leaves []float64 // per node: what flows out of it [kg/s]
	most   float64   // the largest of them
	amount []float64 // per entry: what a junction gets of it [mol/s], zero between uses
	met    []int     // the entries met there
	parts  []fluid.Fluid
	moles  []float64
	listed [][]Share     // per origin: its list while reporting
	tables []fluid.Fluid // per fluid of the case: what gives its properties
}

// blend is the fluid of a junction and what it was made from.
type blend struct {
	fluid fluid.Fluid
	parts []fluid.Fluid
	moles []float64
}

func newComposition(nodes int) *composition {
	return &composition{
		entry: make([]int, nodes), origin: make([]int, nodes), mixed: make([][]Share, nodes),
		molar: make([]float64, nodes), blends: make([]blend, nodes),
		waits: make([]int, nodes), leaves: make([]float64, nodes), amount: make([]float64, nodes), listed: make([][]Share, nodes),
	}
}

// spread gives every node the nearest source that can reach it: through whatever
// can pass gas, backwards too unless the device is one-way, up to the next known
// pressure.
func (w *Workspace) spread() {
	m := w.gases
	m.unlike = false
	m.tables = m.tables[:0]
	for _, f := range w.c.Fluids {
		if w.c.Tables {
			f = fluid.Tabled(f)
		}
		m.tables = append(m.tables, f)
	}
	first := -1
	w.queue = w.queue[:0]
	for i := range m.entry {
		m.entry[i] = -1
		m.mixed[i] = m.mixed[i][:0]
		m.blends[i].parts = m.blends[i].parts[:0] // what was made for another case is not kept: it may be near, but not the same
		if c := &w.c.Conditions[i]; c.Kind != Free && c.Fluid >= 0 {
			m.entry[i] = i
			w.queue = append(w.queue, i)
			if first < 0 {
				first = c.Fluid
			}
			m.unlike = m.unlike || w.c.Fluids[c.Fluid] != w.c.Fluids[first]
		}
	}
	for q := 0; q < len(w.queue); q++ {
		i := w.queue[q]
		if w.c.Conditions[i].Kind == Pressure && m.entry[i] != i {
			continue // a vent or a source reached from inside sends nothing on
		}
		for _, at := range w.net.at[i] {
			u := at.other
			if m.entry[u] < 0 && w.c.Devices[at.element].passable(w.net.Elements[at.element].From == i) {
				m.entry[u] = m.entry[i]
				w.queue = append(w.queue, u)
			}
		}
	}
	copy(m.origin, m.entry)
}

// kind gives the index of the fluid that enters at node e. What a vent gives back is
// taken to be the gas of the nearest source that can reach it; -1 where none can.
func (w *Workspace) kind(e int) int {
	if c := &w.c.Conditions[e]; c.Fluid >= 0 && c.Kind != Free {
		return c.Fluid
	}
	if e = w.gases.entry[e]; e >= 0 {
		return w.c.Conditions[e].Fluid
	}
	return -1
}

// own is the fluid that enters at node e; nil where none does.
func (w *Workspace) own(e int) fluid.Fluid {
	if k := w.kind(e); k >= 0 {
		return w.c.Fluids[k]
	}
	return nil
}

// reached is the fluid of node i, nil where no source reaches.
func (w *Workspace) reached(i int) fluid.Fluid {
	o := w.gases.origin[i]
	switch {
	case o < 0:
		return nil
	case len(w.gases.mixed[o]) > 0:
		return w.gases.blends[o].fluid
	}
	return w.own(o)
}

// standIn is f or, where no source reaches, the first fluid: such a node carries
// no flow, or what a vent gives back.
func (w *Workspace) standIn(f fluid.Fluid) fluid.Fluid {
	if f == nil {
		return w.c.Fluids[0]
	}
	return f
}

// fluidAt gives what the properties at node i come from: the equation of a blend,
// and of another fluid its table where the case says so.
func (w *Workspace) fluidAt(i int) fluid.Fluid {
	o := w.gases.origin[i]
	if o >= 0 && len(w.gases.mixed[o]) > 0 {
		return w.gases.blends[o].fluid
	}
	k := -1
	if o >= 0 {
		k = w.kind(o)
	}
	return w.gases.tables[max(k, 0)] // where no source reaches, the first
}

// compose follows the gases through the present flows and gives the largest move
// of a mole fraction.
func (w *Workspace) compose() (largest float64) {
	m := w.gases
	for range mostSweeps {
		ring, moved := w.sweepShares()
		largest = max(largest, moved)
		if !ring || moved <= 0.01*shareTol {
			break
		}
	}
	for i, place := range w.sites.place {
		if place == stub || place == filled {
			m.origin[i] = m.origin[w.sites.root[i]]
		}
	}
	for i, o := range m.origin {
		if o == i && len(m.mixed[i]) > 0 {
			w.blend(i)
		}
	}
	return largest
}

// sweepShares goes through all nodes downstream. A ring that flow follows round
// is cut where it is met first.
func (w *Workspace) sweepShares() (ring bool, largest float64) {
	m := w.gases
	w.count(m.waits)
	w.queue = w.queue[:0]
	for i, k := range m.waits {
		if k == 0 && w.sites.place[i] == moving {
			w.queue = append(w.queue, i)
		}
	}
	for q := 0; q < len(w.queue); q++ {
		largest = max(largest, w.meet(w.queue[q]))
	}
	for i, k := range m.waits {
		if k <= 0 {
			continue
		}
		ring = true
		m.waits[i] = 0
		w.queue = append(w.queue, i)
		for q := len(w.queue) - 1; q < len(w.queue); q++ {
			largest = max(largest, w.meet(w.queue[q]))
		}
	}
	return ring, largest
}

// count gives the number of flows that arrive at every node, and notes the legs and
// what leaves every node.
func (w *Workspace) count(arrive []int) {
	m := w.gases
	clear(arrive)
	clear(m.leaves)
	m.most = 0
	for i := range w.net.Elements {
		from, to, mass, ok := w.flows(i)
		w.legs[i] = leg{from, to, mass}
		if ok {
			arrive[to]++
			m.leaves[from] += mass
			m.most = max(m.most, m.leaves[from])
		}
	}
}

// meet finds the gas of node i, at which all flows have arrived, and tells the
// nodes that wait for it. It gives the largest move of a mole fraction there.
func (w *Workspace) meet(i int) (moved float64) {
	m, c := w.gases, &w.c.Conditions[i]
	reservoir := c.Kind == Pressure && c.Fluid >= 0 // takes what arrives and gives its own
	origin, several, arrives := -1, false, 0.0
	for _, at := range w.net.at[i] {
		from, to, mass, ok := w.flows(at.element)
		switch {
		case !ok:
		case from == i:
			if m.waits[to]--; m.waits[to] == 0 {
				w.queue = append(w.queue, to)
			}
		case !reservoir && m.origin[from] >= 0:
			several = several || origin >= 0 && origin != m.origin[from]
			origin = m.origin[from]
			arrives += mass
		}
	}
	enters := w.enters(i, arrives)
	switch {
	case enters > 0 && origin >= 0, several:
		return w.mix(i, enters)
	case enters > 0 || reservoir:
		origin = i
	case origin < 0: // nothing flows here
		origin = m.entry[i]
	}
	if origin == i {
		if c.Kind == Free {
			return 0 // a junction whose gas now goes round in a ring
		}
		m.mixed[i] = m.mixed[i][:0]
	}
	if m.leaves[i] > leastShare*m.most {
		moved = w.apart(m.origin[i], origin)
	}
	m.origin[i] = origin
	return moved
}

// enters is what comes into the network at node i [kg/s] besides what arrives
// there. A vent gives back what it gives beyond what it takes.
func (w *Workspace) enters(i int, arrives float64) float64 {
	switch c := &w.c.Conditions[i]; c.Kind {
	case Inflow:
		return c.InflowKgS
	case Pressure:
		if more := w.gases.leaves[i] - arrives; c.Fluid < 0 && more > 1e-12*arrives {
			return more
		}
	}
	return 0
}

// mix makes node i a junction of what arrives and what enters there [kg/s].
func (w *Workspace) mix(i int, enters float64) (moved float64) {
	m := w.gases
	m.met = m.met[:0]
	sum := 0.0
	for _, at := range w.net.at[i] {
		from, to, mass, ok := w.flows(at.element)
		if !ok || to != i || m.origin[from] < 0 {
			continue
		}
		o := m.origin[from]
		if len(m.mixed[o]) == 0 {
			n := mass / w.entryMolar(o)
			m.meets(o, n)
			sum += n
			continue
		}
		n := mass / m.molar[o]
		for _, s := range m.mixed[o] {
			m.meets(s.Entry, n*s.Mole)
		}
		sum += n
	}
	if enters > 0 {
		n := enters / w.entryMolar(i)
		m.meets(i, n)
		sum += n
	}
	slices.Sort(m.met)
	list := m.mixed[i]
	same := m.origin[i] == i && len(list) == len(m.met)
	list = slices.Grow(list[:0], len(m.met))[:len(m.met)]
	molar := 0.0
	for k, e := range m.met {
		x := m.amount[e] / sum
		m.amount[e] = 0
		molar += x * w.entryMolar(e)
		same = same && list[k].Entry == e
		moved = max(moved, math.Abs(x-list[k].Mole))
		list[k] = Share{e, x}
	}
	m.origin[i], m.mixed[i], m.molar[i] = i, list, molar
	switch {
	case m.leaves[i] <= leastShare*m.most:
		return 0
	case !same:
		return 1
	}
	return moved
}

// meets adds n mol/s of an entry's gas to what a junction gets. What is washed out
// of a ring dwindles from pass to pass until it is nil, and is then left out.
func (m *composition) meets(entry int, n float64) {
	if n == 0 {
		return
	}
	if m.amount[entry] == 0 {
		m.met = append(m.met, entry)
	}
	m.amount[entry] += n
}

func (w *Workspace) entryMolar(e int) float64 { return w.standIn(w.own(e)).MolarMass() }

// apart is the largest difference between the shares of two origins.
func (w *Workspace) apart(a, b int) (largest float64) {
	if a == b {
		return 0
	}
	if a < 0 || b < 0 {
		return 1
	}
	var one, other [1]Share
	p, q := w.gases.shares(a, &one), w.gases.shares(b, &other)
	for len(p) > 0 || len(q) > 0 {
		switch {
		case len(q) == 0 || len(p) > 0 && p[0].Entry < q[0].Entry:
			largest = max(largest, p[0].Mole)
			p = p[1:]
		case len(p) == 0 || q[0].Entry < p[0].Entry:
			largest = max(largest, q[0].Mole)
			q = q[1:]
		default:
			largest = max(largest, math.Abs(p[0].Mole-q[0].Mole))
			p, q = p[1:], q[1:]
		}
	}
	return largest
}

// shares lists the shares of an origin; one is room for a list of one.
func (m *composition) shares(origin int, one *[1]Share) []Share {
	if list := m.mixed[origin]; len(list) > 0 {
		return list
	}
	one[0] = Share{origin, 1}
	return one[:]
}

// blend makes the fluid of junction i, unless it has not changed.
func (w *Workspace) blend(i int) {
	m := w.gases
	m.parts, m.moles = m.parts[:0], m.moles[:0]
	for _, s := range m.mixed[i] {
		f := w.standIn(w.own(s.Entry))
		k := slices.Index(m.parts, f)
		if k < 0 {
			k = len(m.parts)
			m.parts, m.moles = append(m.parts, f), append(m.moles, 0)
		}
		m.moles[k] += s.Mole
	}
	for k, x := range m.moles {
		if x < traceShare {
			m.moles[k] = 0
		}
	}
	b := &m.blends[i]
	if slices.Equal(b.parts, m.parts) && slices.EqualFunc(b.moles, m.moles, func(x, y float64) bool { return math.Abs(x-y) <= sameShare }) {
		return
	}
	made, err := fluid.Blend(m.parts, m.moles)
	if err != nil {
		w.problem[i] = err
		b.fluid, b.parts = m.parts[0], b.parts[:0] // tried again next time
		return
	}
	b.fluid = made
	b.parts, b.moles = append(b.parts[:0], m.parts...), append(b.moles[:0], m.moles...)
}

// reportShares gives every node the list of its shares; nodes of one origin
// share one list. A list that says what one is to say is kept.
func (w *Workspace) reportShares(nodes []NodeResult) {
	m := w.gases
	clear(m.listed)
	for i := range nodes {
		o, n := m.origin[i], &nodes[i]
		if o < 0 || n.State == Trapped {
			n.Shares, n.Gas = nil, nil
			continue
		}
		if m.listed[o] == nil {
			var one [1]Share
			m.listed[o] = n.Shares
			if now := m.shares(o, &one); !slices.Equal(n.Shares, now) {
				m.listed[o] = slices.Clone(now)
			}
		}
		n.Shares, n.Gas = m.listed[o], w.reached(i)
	}
	clear(m.listed)
}
