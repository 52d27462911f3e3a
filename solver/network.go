package solver

import (
	"fmt"
	"slices"
	"sync"

	"tapline/solver/device"
	"tapline/solver/fluid"
)

// A Network is the topology shared by all cases of a system: which element
// joins which nodes. It does not change after New and is safe for concurrent use.
type Network struct {
	Nodes    []string  // names, for messages only
	Elements []Element // in a fixed order; results use the same indices

	at [][]end // the elements at each node

	laying  sync.Mutex
	layouts []*layout // the latest
}

// An Element joins node From to node To in the direction of intended flow.
type Element struct {
	Name     string
	From, To int
	Sense    int // node whose pressure loads the device (a dome), or -1
}

// end is one end of an element as seen from a node.
type end struct{ element, other int }

// New checks the indices of a topology and prepares it.
func New(nodes []string, elements []Element) (*Network, error) {
	n := &Network{Nodes: nodes, Elements: elements, at: make([][]end, len(nodes))}
	meets := make([]int32, len(nodes)) // elements at each node
	for _, e := range elements {
		if e.From < 0 || e.From >= len(nodes) || e.To < 0 || e.To >= len(nodes) || e.Sense < -1 || e.Sense >= len(nodes) {
			return nil, fmt.Errorf("element %q joins a node that does not exist", e.Name)
		}
		if e.From == e.To {
			return nil, fmt.Errorf("element %q joins node %q to itself", e.Name, nodes[e.From])
		}
		meets[e.From]++
		meets[e.To]++
	}
	ends := make([]end, 2*len(elements))
	for i, k := range meets {
		n.at[i], ends = ends[:0:k], ends[k:]
	}
	for i, e := range elements {
		n.at[e.From] = append(n.at[e.From], end{i, e.To})
		n.at[e.To] = append(n.at[e.To], end{i, e.From})
	}
	return n, nil
}

// A Kind says what is known at a node.
type Kind uint8

const (
	Free     Kind = iota // pressure is solved for
	Pressure             // pressure is given
	Inflow               // a mass flow enters, pressure is solved for
)

// A Condition is what a case says of one node.
type Condition struct {
	Kind         Kind
	PressurePa   float64 // Kind Pressure: absolute
	InflowKgS    float64 // Kind Inflow: what enters here, not negative
	TemperatureK float64 // of the gas that enters the network here
	Fluid        int     // index into Case.Fluids of the gas that enters here; -1 for a vent
}

// Thermal says how temperatures follow.
type Thermal uint8

const (
	Exchange    Thermal = iota // throttling at constant enthalpy, then exchange with the surroundings
	Isenthalpic                // throttling only
	Isothermal                 // every node at AmbientK; for studies
)

// A Device is what a case says of one element.
type Device struct {
	// Passage is the law of the fully open device; nil where nothing passes.
	Passage device.Law
	// Lift opens Passage between shut and fully open; nil where it is always open.
	Lift *device.Lift
	// Trim is how far Passage is open at a lift; nil where that is the lift.
	Trim *device.Trim
	// Snap makes the lift jump: full at z >= 0, shut again at z <= ReseatZ.
	Snap    bool
	ReseatZ float64
	// Closing is the lift of a device that has been open before, where it closes
	// along another line than it opens; nil where it does not.
	Closing *device.Lift
	// DeadBandZ is the lift by which friction may hold the device to either side of
	// Lift.
	DeadBandZ float64
	// Leak is a passage in parallel that is always open, both ways; nil where
	// there is none.
	Leak device.Law
	// OneWay devices pass nothing backwards through Passage.
	OneWay bool
	// Mean has the laws evaluated with the gas at the mean pressure and
	// temperature of the two ends instead of the upstream end (tubes).
	Mean bool
	Heat Heat
}

// Heat is how a device exchanges heat with its surroundings under Exchange.
// Either UAWK is set, or the three values of a tube are.
type Heat struct {
	UAWK float64 // conductance to the wall temperature [W/K]

	LengthM, BoreM, OuterM float64
	OutsideWM2K            float64 // film coefficient outside
	WallK                  float64 // wall or trace temperature; 0 means the case's ambient
}

// A Case is one operating case of a network: parameters only.
type Case struct {
	Conditions []Condition // per node
	Devices    []Device    // per element
	Fluids     []fluid.Fluid
	Tables     bool // their properties come from tables (fluid.Tabled), those of blends from the equation
	AmbientK   float64
	Thermal    Thermal
	OneAnswer  bool // further answers are not looked for
}

// Tabled gives a fluid with the properties that the case has of it: those of its table,
// or of the equation for a blend, which has none, and where no tables are used.
func (c *Case) Tabled(f fluid.Fluid) fluid.Fluid {
	if c.Tables && slices.Contains(c.Fluids, f) {
		return fluid.Tabled(f)
	}
	return f
}

// closed reports whether nothing can ever pass d.
func (d *Device) closed() bool { return d.Passage == nil && d.Leak == nil }

// passable reports whether anything can ever pass d in a direction.
func (d *Device) passable(forward bool) bool {
	return !d.closed() && (forward || !d.OneWay || d.Leak != nil)
}

// check reports sizes and values that the solver cannot start from.
func (n *Network) check(c *Case) error {
	if len(c.Conditions) != len(n.Nodes) || len(c.Devices) != len(n.Elements) {
		return fmt.Errorf("case has %d conditions and %d devices for %d nodes and %d elements",
			len(c.Conditions), len(c.Devices), len(n.Nodes), len(n.Elements))
	}
	for i, k := range c.Conditions {
		switch {
		case k.Kind == Pressure && !(k.PressurePa > 0):
			return fmt.Errorf("node %q: pressure %g Pa absolute is not above zero", n.Nodes[i], k.PressurePa)
		case k.Kind == Inflow && !(k.InflowKgS >= 0):
			return fmt.Errorf("node %q: inflow %g kg/s is negative", n.Nodes[i], k.InflowKgS)
		case k.Kind != Free && !(k.TemperatureK > 0):
			return fmt.Errorf("node %q: temperature %g K is not above zero", n.Nodes[i], k.TemperatureK)
		case k.Kind != Free && (k.Fluid < -1 || k.Fluid >= len(c.Fluids)):
			return fmt.Errorf("node %q: no fluid %d", n.Nodes[i], k.Fluid)
		}
	}
	if !(c.AmbientK > 0) {
		return fmt.Errorf("ambient temperature %g K is not above zero", c.AmbientK)
	}
	return nil
}
