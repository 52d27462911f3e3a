package solver

import (
	"fmt"
	"math"
	"slices"

	"tapline/solver/fluid"
)

// Status says whether a case has an answer.
type Status uint8

const (
	Solved Status = iota
	Unsolved
)

// NodeState says what a node's pressure rests on.
type NodeState uint8

const (
	Flowing  NodeState = iota // on a way from outside to outside
	DeadEnd                   // at rest at a pressure that something holds or fills
	Trapped                   // shut off: only bounds are known
	Boundary                  // pressure given
)

func (s NodeState) String() string {
	return [...]string{"flowing", "dead end", "trapped", "boundary"}[s]
}

// ElementState says how a device stands.
type ElementState uint8

const (
	Shut        ElementState = iota
	Controlling              // its lift is between shut and fully open
	Open                     // a plain passage
	WideOpen                 // its lift is at the end
	Cycling                  // jumps between open and shut
	Reversed                 // one-way, with the pressure difference against it
)

func (s ElementState) String() string {
	return [...]string{"shut", "controlling", "open", "wide open", "cycling", "reversed"}[s]
}

// Result is the answer of one case. Slices have the network's order.
type Result struct {
	Status   Status
	Reason   string // why a case is unsolved, in words
	Nodes    []NodeResult
	Elements []ElementResult

	// Residual is the worst mass balance error of any node passing at least
	// 1e-9 kg/s, relative to its throughput.
	Residual float64
	// Unbalanced names the nodes whose flows, by their own laws, do not balance
	// where Status is Unsolved; worst first, at most five.
	Unbalanced []int
	// Cycling is true where devices that jump open find no steady position: the
	// pressures are then means, with their lowest and highest, and such a device's
	// lift is the share of the time it stands open.
	Cycling    bool
	Stage      Stage
	Passes     int // of flow and temperature in turn
	Iterations int // factorisations
	// Several is true where other starts led to other pressures, PathDependent
	// where relief devices that have lifted before would not have closed; Others
	// holds these answers.
	Several, PathDependent bool
	Others                 []Answer
	// History is what the iterations did, in order.
	History []Iteration
}

// NodeResult is one node. Pressures are absolute; PressurePa is NaN where
// Trapped, LowPa and HighPa are NaN where the pressure is one number: they bound
// a trapped section, a cycle, or what friction leaves open.
type NodeResult struct {
	State         NodeState
	PressurePa    float64
	LowPa, HighPa float64
	TemperatureK  float64
	DensityKgM3   float64     // NaN where not known
	Gas           fluid.Fluid // nil where trapped, or where no source reaches
	Shares        []Share     // of Gas by entry, in node order, summing to 1; nil where trapped
	// Doubt says in words why the gas may not be a gas there.
	Doubt string
	// Problem says why the gas has no state there at all.
	Problem string
}

// ElementResult is one element; FlowKgS is positive from From to To.
type ElementResult struct {
	State   ElementState
	FlowKgS float64
	// LowKgS and HighKgS bound the flow that friction leaves open; NaN where it is
	// one number.
	LowKgS, HighKgS float64
	Lift            float64 // 0..1; NaN where the device has no lift
	Choked          bool
	OutletK         float64 // temperature where the flow leaves; NaN at rest
	Viscosity       float64 // Pa s of the gas that enters; 0 at rest
}

// doubter is a fluid that can say where its gas may not be all gas.
type doubter interface {
	MaybeTwoPhase(tK, pPa float64) (maybe bool, why string)
}

// reuse makes a used Result as good as new, but for the room it has.
func (r *Result) reuse() {
	*r = Result{Nodes: r.Nodes[:0], Elements: r.Elements[:0], Others: r.Others[:0], History: r.History[:0]}
}

// size gives r a place for every node and element. What the places held before is
// still there.
func (r *Result) size(n *Network) {
	r.Nodes = slices.Grow(r.Nodes[:0], len(n.Nodes))[:len(n.Nodes)]
	r.Elements = slices.Grow(r.Elements[:0], len(n.Elements))[:len(n.Elements)]
}

// report turns the state of the workspace into a Result.
func (w *Workspace) report(r *Result) {
	r.Iterations = w.iterations
	r.size(w.net)
	r.History = append(r.History[:0], w.history...)
	if r.Stage == NotFound {
		r.Status = Unsolved
		r.Unbalanced = w.unbalanced()
		r.Reason = fmt.Sprintf("no pressures found that balance after %d iterations: full steps, pseudo-time from four starts, loads held", w.iterations)
		if r.Passes > mostPasses {
			r.Reason = fmt.Sprintf("pressures were found %d times, but gases and temperatures did not settle with them", mostPasses)
		}
		if err := w.trouble(); err != nil {
			r.Reason = err.Error() + "; " + r.Reason
		}
		if w.mayBreak() {
			r.Reason += "; a column of liquid weighs more than the pressure below it holds, and may break"
		}
	}
	if r.Status == Solved {
		w.settle(false) // what rests follows the last step too
		w.compose()
	}
	w.atRest(r)
	w.reportShares(r.Nodes)
	for i := range r.Nodes {
		w.reportNode(i, &r.Nodes[i])
		if n := &r.Nodes[i]; n.Problem != "" && n.State != DeadEnd && r.Status == Solved {
			r.Status = Unsolved
			r.Reason = n.Problem
			r.Unbalanced = []int{i}
		}
	}
	for i := range r.Elements {
		w.reportElement(i, r.Nodes, &r.Elements[i])
	}
	r.Residual, _ = w.imbalance()
}

// atRest sets states and resting pressures: regulators locked up, but never
// above what a shut device next to the resting part would open at.
func (w *Workspace) atRest(r *Result) {
	n, s := w.net, w.sites
	locked, low, high := w.locked, w.low, w.high
	if s.resting {
		s.bounds(n, locked, low, high)
	}
	for i := range r.Nodes {
		o := &r.Nodes[i]
		o.PressurePa, o.LowPa, o.HighPa = w.p[i], math.NaN(), math.NaN()
		switch {
		case w.c.Conditions[i].Kind == Pressure:
			o.State = Boundary
		case s.place[i] == moving:
			o.State = Flowing
		case s.place[i] == stub:
			o.State = DeadEnd
			if s.slack == 0 { // no column hangs between: to the last bit that of its root
				o.PressurePa = w.p[s.root[i]]
			}
		case s.place[i] == filled:
			o.State, o.PressurePa = DeadEnd, locked[i]
		default:
			o.State, o.PressurePa = Trapped, math.NaN()
			if !math.IsInf(low[i], 0) {
				o.LowPa, o.HighPa = low[i], high[i]
			}
		}
	}
}

func (w *Workspace) reportNode(i int, o *NodeResult) {
	o.TemperatureK = w.temperature[i]
	o.DensityKgM3, o.Doubt, o.Problem = math.NaN(), "", ""
	if o.Gas == nil {
		return
	}
	rho, err := w.densityAt(i, o)
	switch {
	case err != nil:
		o.Problem = err.Error()
	case w.problem[i] != nil:
		o.Problem = w.problem[i].Error()
	default:
		o.DensityKgM3 = rho
		if d, ok := w.fluidAt(i).(doubter); ok {
			_, o.Doubt = d.MaybeTwoPhase(o.TemperatureK, o.PressurePa)
		}
	}
}

// densityAt is the density at a node: that of the gas there where it was taken at
// this very state, or next to it.
func (w *Workspace) densityAt(i int, o *NodeResult) (rho float64, err error) {
	if g := &w.gas[i]; w.sites.place[i] == moving && w.problem[i] == nil &&
		math.Abs(g.TemperatureK-o.TemperatureK) <= temperatureTol && math.Abs(o.PressurePa-g.PressurePa) <= tangentTol*g.PressurePa {
		rho, _ = g.Density(o.PressurePa)
		return rho, nil
	}
	rho, _, err = w.fluidAt(i).Density(o.TemperatureK, o.PressurePa)
	return rho, err
}

func (w *Workspace) reportElement(i int, nodes []NodeResult, o *ElementResult) {
	e, d := &w.net.Elements[i], &w.c.Devices[i]
	*o = ElementResult{Lift: math.NaN(), OutletK: math.NaN(), LowKgS: math.NaN(), HighKgS: math.NaN()}
	pa, pb := nodes[e.From].PressurePa, nodes[e.To].PressurePa
	from, _, _, flows := w.flows(i)
	if flows {
		o.FlowKgS = w.linear[i]
		o.OutletK = w.outlet[i]
		o.Choked = w.link[i].choked
		o.Viscosity = w.gas[from].ViscosityPaS
	}
	reversed := d.OneWay && pb-pa > restTol*pb && !d.closed()
	if d.Lift != nil && d.Passage != nil {
		pr := 0.0
		if d.Lift.Ref != 0 {
			pr = w.ref[e.Sense]
		}
		z := d.Lift.At(w.level(e.From), w.level(e.To), pr)
		switch {
		case d.Snap:
			o.Lift = 0
			if w.regime[i] == full {
				o.Lift = 1
			}
		case w.regime[i] == shut || !finite(z):
			o.Lift = 0
		default:
			o.Lift = min(max(z, 0), 1)
		}
		if !flows && !d.Snap && o.Lift < 1e-9 {
			o.Lift = 0
		}
	}
	switch {
	case reversed:
		o.State = Reversed
	case d.closed(), d.Passage == nil && !flows:
		o.State = Shut
	case d.Lift == nil && d.OneWay && w.regime[i] == shut:
		o.State = Shut
	case d.Lift == nil || d.Passage == nil:
		o.State = Open
	case o.Lift <= 0:
		o.State = Shut
	case o.Lift >= 1:
		o.State = WideOpen
	default:
		o.State = Controlling
	}
	if d.Trim != nil && o.Lift > 0 {
		o.Lift, _ = w.opening(i, d, o.Lift)
	}
}

// unbalanced lists the nodes whose flows by their own laws balance worst.
func (w *Workspace) unbalanced() []int {
	miss := make([]float64, len(w.p))
	for i, e := range w.net.Elements {
		if w.inPlay(i) {
			w.evaluate(i)
			miss[e.From] -= w.link[i].m
			miss[e.To] += w.link[i].m
		}
	}
	var out []int
	for len(out) < 5 {
		worst, at := 0.0, -1
		for i, m := range miss {
			if c := &w.c.Conditions[i]; c.Kind == Inflow && len(out) == 0 {
				m += c.InflowKgS
			}
			if w.c.Conditions[i].Kind != Pressure && math.Abs(m) > worst {
				worst, at = math.Abs(m), i
			}
		}
		if at < 0 {
			break
		}
		out = append(out, at)
		miss[at] = 0
	}
	return out
}
