package rule

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"tapline/compiler"
	"tapline/lang"
	"tapline/lang/diag"
	"tapline/solver"
	"tapline/solver/device"
	"tapline/solver/fluid"
)

// Liquids that boil, and liquids that cannot expand.

// liquidFluid is a liquid that can say where it boils.
type liquidFluid interface {
	LiquidAt(tK, pPa float64) (bubblePa, criticalPa, viscosityPaS float64, err error)
}

func isLiquid(f fluid.Fluid) bool {
	_, ok := f.(liquidFluid)
	return ok
}

// boiling gives the bubble pressure [Pa] of the liquid at a node; false where that is
// a gas, or has none.
func (c *Case) boiling(node int) (bubblePa float64, ok bool) {
	n := &c.Result.Nodes[node]
	l, ok := n.Gas.(liquidFluid)
	if !ok {
		return 0, false
	}
	bubblePa, _, _, err := l.LiquidAt(n.TemperatureK, n.PressurePa)
	return bubblePa, err == nil
}

var flashing = &Rule{
	Codes:   []string{"flashing"},
	Means:   "a liquid is below its bubble pressure at a node: part of it is vapour there, and flows and drops behind are those of a liquid that has not boiled",
	Basis:   "the bubble pressure of the fluid at the temperature there",
	perCase: judgeFlashing,
}

func judgeFlashing(c *Case) {
	if !c.solved() {
		return
	}
	drained := c.drained()
	for i := range c.Program.Nodes {
		n, r := &c.Program.Nodes[i], c.Result.Nodes[i]
		words := r.Problem
		if words == "" {
			words = r.Doubt
		}
		if !isLiquid(r.Gas) || words == "" || drained[i] {
			continue
		}
		bubble, known := c.boiling(i)
		p := r.PressurePa
		if known && p < bubble {
			words = c.boils(r, bubble)
		}
		c.flag(diag.Diagnostic{
			Code: "flashing", Level: diag.Alarm, Range: n.Range, At: n.Name, Value: c.Known(p), Limit: c.Known(bubble), Unit: "Pa",
			Message: fmt.Sprintf("the liquid at %s is not all liquid: %s", n.Name, words),
			Hint:    "keep the pressure up with a restriction or holder behind it, or cool the liquid",
		})
	}
}

// drained finds the nodes that hold none of the liquid that could come there: a vent
// that nothing flows into, too low for the liquid, and what is open to it and at
// rest, such as the outlet of a relief valve that is shut.
func (c *Case) drained() []bool {
	at := make([]bool, len(c.Program.Nodes))
	var queue []int
	for i := range c.Program.Nodes {
		at[i] = c.Program.Nodes[i].Boundary >= 0 && c.Result.Nodes[i].Doubt+c.Result.Nodes[i].Problem != ""
	}
	c.each(func(d *compiler.Device, _ *lang.Block) {
		if e, ok := c.element(d); ok && e.FlowKgS != 0 {
			at[d.In], at[d.Out] = false, false
		}
	})
	for i := range at {
		if at[i] {
			queue = append(queue, i)
		}
	}
	for q := 0; q < len(queue); q++ {
		c.each(func(d *compiler.Device, _ *lang.Block) {
			e, ok := c.element(d)
			if !ok || e.State != solver.Open || d.In != queue[q] && d.Out != queue[q] {
				return
			}
			if to := d.In + d.Out - queue[q]; !at[to] && c.Result.Nodes[to].State == solver.DeadEnd {
				at[to] = true
				queue = append(queue, to)
			}
		})
	}
	return at
}

// boils says how far a node is from being liquid.
func (c *Case) boils(r solver.NodeResult, bubblePa float64) string {
	return fmt.Sprintf("at %s it boils below %s, and it is at %s", c.show(r.TemperatureK, "temperature"), c.show(bubblePa, "pressure"), c.show(r.PressurePa, "pressure"))
}

var cavitating = &Rule{
	Codes:   []string{"cavitating"},
	Means:   "in the narrowest place of a device the liquid boils for a moment and collapses again behind it",
	Basis:   "the ratio (p1 - p2)/(p1 - pv) against x_Fz as IEC 60534-8-4 estimates it and against FL^2, where IEC 60534-2-1 has the flow choked",
	perCase: judgeCavitation,
}

func judgeCavitation(c *Case) {
	if !c.solved() {
		return
	}
	c.each(func(d *compiler.Device, b *lang.Block) {
		e, ok := c.element(d)
		if !ok || !(math.Abs(e.FlowKgS) > 0) {
			return
		}
		in, out := d.In, d.Out
		if e.FlowKgS < 0 {
			in, out = out, in
		}
		p1, p2 := c.Result.Nodes[in].PressurePa, c.Result.Nodes[out].PressurePa
		pv, liquid := c.boiling(in)
		if !liquid || !(p1 > pv) || p2 < pv {
			return // below its bubble pressure behind the device it is flashing
		}
		begins, ok := incipient(c.Solver.Devices[d.Element].Passage)
		if !ok {
			return
		}
		ratio := (p1 - p2) / (p1 - pv)
		o := compiler.CheckOutcome{
			Name: "cavitating", Source: "rule", Case: c.Name, At: d.Tag, Quantity: "cavitation_ratio",
			Max: c.Put(begins), Value: c.Put(ratio), Margin: c.Known(begins - ratio), Status: "pass",
		}
		if ratio >= begins {
			o.Status = "fail"
			level, more := diag.Caution, "it begins to cavitate"
			if e.Choked {
				level, more = diag.Alarm, "it is choked and cavitates"
			}
			c.flag(diag.Diagnostic{
				Code: "cavitating", Level: level, Range: b.TagRange, At: d.Tag, Value: c.Put(ratio), Limit: c.Put(begins),
				Message: fmt.Sprintf("%s takes %.2g of what lies between its inlet pressure and boiling, at %.2g or more %s: %s before it, %s behind, boiling at %s",
					d.Tag, ratio, begins, more, c.show(p1, "pressure"), c.show(p2, "pressure"), c.show(pv, "pressure")),
				Hint: "take the drop in two steps, or raise the pressure behind it",
			})
		}
		c.checks = append(c.checks, o)
	})
}

// incipient is the ratio of drops from which a passage cavitates; false where there
// is none to tell.
func incipient(p device.Law) (ratio float64, ok bool) {
	switch l := p.(type) {
	case device.Coefficient:
		return l.IncipientRatio(), l.Cv < freely
	case device.FlowController:
		return incipient(l.Open)
	case device.ThickOrifice:
		return device.JetRatio(l.Cd), true
	case device.SharpOrifice:
		return device.JetRatio(l.Cd), true
	}
	return 0, false
}

// freely is the Cv from which a passage stands for one without resistance.
const freely = 1e3

var blockedIn = &Rule{
	Codes:   []string{"blocked-in-liquid"},
	Means:   "a section full of liquid is shut off on all sides and nothing on it opens when its pressure rises",
	Basis:   "expansion by heat against compressibility of the liquid itself; API Standard 521 counts hydraulic expansion among the causes of overpressure (from memory)",
	perCase: judgeBlockedIn,
}

func judgeBlockedIn(c *Case) {
	if !c.solved() {
		return
	}
	c.eachSection(func(i int, nodes, by []string) {
		l, relieved := c.lockedIn(nodes)
		if l == nil || relieved {
			return
		}
		n := &c.Program.Nodes[i]
		rise := "its pressure rises by bars for every kelvin that it warms"
		if perK := risePerK(l, c.AmbientK); perK > 0 {
			rise = fmt.Sprintf("its pressure rises by some %s for every kelvin that it warms, as far as walls do not give", c.show(perK, "drop"))
		}
		c.flag(diag.Diagnostic{
			Code: "blocked-in-liquid", Level: diag.Caution, Range: n.Range, At: n.Name,
			Message: fmt.Sprintf("%s can be full of liquid and is shut off by %s: %s", strings.Join(nodes, ", "), strings.Join(by, ", "), rise),
			Hint:    "give the section a thermal relief device, leave it an open way, or drain it before it is shut",
		})
	})
}

// lockedIn gives a liquid that stands before the devices around a section, or before
// those around sections shut off next to it, nil where there is none, and whether the
// section has a device that opens outwards by itself.
func (c *Case) lockedIn(nodes []string) (l fluid.Fluid, relieved bool) {
	inside := make([]bool, len(c.Program.Nodes))
	for i := range inside {
		inside[i] = slices.Contains(nodes, c.Program.Nodes[i].Name)
	}
	seen := slices.Clone(inside)
	for grown := true; grown; {
		grown = false
		for k := range c.Program.Devices {
			d := &c.Program.Devices[k]
			if d.Element < 0 || seen[d.In] == seen[d.Out] {
				continue
			}
			lift := c.Solver.Devices[d.Element].Lift
			opens := lift != nil && lift.Up > 0 && c.Solver.Devices[d.Element].Passage != nil
			if inside[d.In] && opens {
				relieved = true
			}
			other := d.In
			if seen[other] {
				other = d.Out
			}
			if _, liquid := c.boiling(other); liquid && l == nil {
				l = c.Result.Nodes[other].Gas
			}
			if c.Result.Nodes[other].State == solver.Trapped && !(seen[d.In] && opens) {
				seen[other], grown = true, true
			}
		}
	}
	return l, relieved
}

// risePerK is (dp/dT) at constant density [Pa/K] at 10 bara; 0 where it is not known.
func risePerK(l fluid.Fluid, tK float64) float64 {
	const p, dT = 1e6, 0.1
	rho, exponent, err := l.Density(tK, p)
	warm, _, errWarm := l.Density(tK+dT, p)
	if err != nil || errWarm != nil || !(exponent > 0) {
		return 0
	}
	return (rho - warm) / dT / (rho * exponent / p)
}
