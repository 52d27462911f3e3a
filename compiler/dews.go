package compiler

import (
	"math"

	"tapline/solver"
	"tapline/solver/fluid"
)

// Dews says how far the gas of one solved case is from its dew points, at nodes and
// along throttlings. Answers are worked out when they are asked for, and kept. It
// belongs to one goroutine.
type Dews struct {
	p     *Program
	c     *solver.Case
	r     *solver.Result
	nodes map[int]DewAt // made where one is asked for: most gases are clear of everything
	paths map[int]DewAt
	clear []asked // per device, see ClearAlong
}

// asked is what is known of a question.
type asked uint8

const (
	yes asked = iota + 1
	no
)

// DewAt is one place where a gas is held against its dew points.
type DewAt struct {
	fluid.Dew
	PressurePa, TemperatureK float64
	// MarginK is the temperature over the higher dew point: 0 or less where something
	// condenses, +Inf where nothing can, NaN where that is not known.
	MarginK float64
	// HydrateK is the temperature below which hydrates of the gas are stable where water
	// stands with it; 0 where that is not known.
	HydrateK float64
}

func dewAt(g fluid.Composed, dew fluid.Dew, pPa, tK, marginK float64) DewAt {
	at := DewAt{Dew: dew, PressurePa: pPa, TemperatureK: tK, MarginK: marginK}
	if h, ok := fluid.HydrateK(g, pPa); ok {
		at.HydrateK = h
	}
	return at
}

// clearK is how far above every dew point the quick bound must show a gas to be for
// its dew points not to be looked at.
const clearK = 25.0

// dewsOf prepares the dew points of a case; they are asked for by node and device.
func (p *Program) dewsOf(c *Case, r *solver.Result) *Dews {
	return &Dews{p: p, c: c.Solver, r: r}
}

// Dews are the dew points of the case's answer.
func (c *Case) Dews() *Dews { return c.dews }

// phase says what is at a node, "" where that is not known, and gives the higher dew
// temperature [K] of its gas, which is not looked for where the gas is clear of everything
// that might condense; NaN where there is none.
func (c *Case) phase(node int) (phase string, dewK float64) {
	n := &c.dews.r.Nodes[node]
	if isLiquid(n.Gas) {
		if n.Problem != "" || n.Doubt != "" {
			return "", math.NaN()
		}
		return fluid.Liquid.String(), math.NaN()
	}
	phase, dewK = "gas", math.NaN()
	at, ok := DewAt{}, false
	if !c.dews.Clear(node) {
		at, ok = c.dews.At(node)
	}
	switch {
	case ok && at.MarginK <= 0:
		phase = "two-phase"
		if names, _ := c.dews.gas(node).Fractions(); len(names) == 1 {
			phase = "liquid"
		}
	case n.Problem != "", n.Doubt != "" && at.Unknown():
		return "", at.HighestK()
	}
	if ok {
		dewK = at.HighestK()
	}
	return phase, dewK
}

// Unknown reports whether no curve was found that could say that nothing condenses.
func (a DewAt) Unknown() bool { return math.IsNaN(a.HydrocarbonK) && math.IsNaN(a.CricondenbarPa) }

// gas is the gas at a node that has dew points; nil where there is none or a liquid, or the state
// of the node is not known.
func (d *Dews) gas(node int) fluid.Composed {
	if d.r.Status != solver.Solved {
		return nil
	}
	g, ok := d.r.Nodes[node].Gas.(fluid.Composed)
	if !ok || isLiquid(g) {
		return nil
	}
	return g
}

// Clear reports whether a quick bound shows the gas at a node to be well above
// everything that might condense, or there is none.
func (d *Dews) Clear(node int) bool {
	g := d.gas(node)
	return g == nil || isClear(g, d.r.Nodes[node].TemperatureK, d.r.Nodes[node].PressurePa)
}

func isClear(g fluid.Composed, tK, pPa float64) bool {
	q, ok := g.(interface {
		MaybeTwoPhase(tK, pPa float64) (bool, string)
	})
	if !ok {
		return false
	}
	maybe, _ := q.MaybeTwoPhase(tK-clearK, pPa)
	return !maybe
}

// At holds the gas at a node against its dew points; false where there is no gas or
// its state is not known.
func (d *Dews) At(node int) (DewAt, bool) {
	g := d.gas(node)
	if g == nil {
		return DewAt{}, false
	}
	at, seen := d.nodes[node]
	if !seen {
		n := &d.r.Nodes[node]
		dew := fluid.DewsOf(g).At(n.PressurePa)
		at = dewAt(g, dew, n.PressurePa, n.TemperatureK, dew.Margin(n.TemperatureK))
		if d.nodes == nil {
			d.nodes = map[int]DewAt{}
		}
		d.nodes[node] = at
	}
	return at, true
}

// Unstable says what of the gas at a node is no gas, from the equation of state itself;
// nil where all is, or there is no gas.
func (d *Dews) Unstable(node int) error {
	g := d.gas(node)
	if g == nil {
		return nil
	}
	return g.Stable(d.r.Nodes[node].TemperatureK, d.r.Nodes[node].PressurePa)
}

// inlet gives the node that a device takes gas from and the one it gives it to; false
// where nothing flows or nothing is throttled. A tube is no throttling: its gas takes
// the temperature of its surroundings on the way.
func (d *Dews) inlet(k int) (from, to int, ok bool) {
	v := &d.p.Devices[k]
	if v.Element < 0 || v.Kind == "tube" || d.r.Status != solver.Solved {
		return 0, 0, false
	}
	from, to = v.In, v.Out
	switch w := d.r.Elements[v.Element].FlowKgS; {
	case w == 0 || math.IsNaN(w):
		return 0, 0, false
	case w < 0:
		from, to = to, from
	}
	a, b := d.r.Nodes[from].PressurePa, d.r.Nodes[to].PressurePa
	return from, to, a > b && b > 0 && d.gas(from) != nil
}

// steepestKPa is more than any vapour cools for the pressure it loses in a throttling
// [K/Pa]: gases lose 0.1 to 1 K/bar, saturated vapours of heavy hydrocarbons and steam
// up to about 6 K/bar (handbooks; from memory).
const steepestKPa = 10e-5

// ClearAlong is Clear along the throttling in device k.
func (d *Dews) ClearAlong(k int) bool {
	if d.clear == nil {
		d.clear = make([]asked, len(d.p.Devices))
	}
	if d.clear[k] == 0 {
		d.clear[k] = no
		if d.clearAlong(k) {
			d.clear[k] = yes
		}
	}
	return d.clear[k] == yes
}

func (d *Dews) clearAlong(k int) bool {
	from, to, ok := d.inlet(k)
	if !ok {
		return true
	}
	g, n := d.gas(from), &d.r.Nodes[from]
	// Where little is throttled the bound alone may do, without the end itself.
	if least := n.TemperatureK - steepestKPa*(n.PressurePa-d.r.Nodes[to].PressurePa); least > n.TemperatureK-clearK && isClear(g, least, n.PressurePa) {
		return true
	}
	of := d.c.Tabled(g) // near enough for a bound that lies so far off
	h, _, err := of.Enthalpy(n.TemperatureK, n.PressurePa)
	if err != nil {
		return false
	}
	end, err := of.TemperatureAt(h, d.r.Nodes[to].PressurePa, n.TemperatureK)
	return err == nil && isClear(g, min(end, n.TemperatureK), n.PressurePa)
}

// Along holds the gas against its dew points on its way through device k, at constant
// enthalpy from the pressure before it to the pressure after it, and gives the place
// of the least margin; false where nothing is throttled.
func (d *Dews) Along(k int) (DewAt, bool) {
	from, to, ok := d.inlet(k)
	if !ok {
		return DewAt{}, false
	}
	at, seen := d.paths[k]
	if !seen {
		g, n := d.gas(from), &d.r.Nodes[from]
		h, _, err := g.Enthalpy(n.TemperatureK, n.PressurePa)
		if err != nil { // no gas even before it
			at, _ = d.At(from)
		} else {
			margin, pPa, dew := fluid.DewsOf(g).Throttle(h, n.PressurePa, d.r.Nodes[to].PressurePa)
			at = dewAt(g, dew, pPa, dew.HighestK()+margin, margin)
		}
		if d.paths == nil {
			d.paths = map[int]DewAt{}
		}
		d.paths[k] = at
	}
	return at, true
}

// LeastInto gives the least margin of a node and of all throttlings into it.
func (d *Dews) LeastInto(node int) float64 {
	at, ok := d.At(node)
	if !ok {
		return math.NaN()
	}
	least := at.MarginK
	for k := range d.p.Devices {
		if _, to, ok := d.inlet(k); ok && to == node {
			if path, _ := d.Along(k); path.MarginK < least {
				least = path.MarginK
			}
		}
	}
	return least
}
