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
)

// What the answers themselves say aloud: flow the wrong way, trapped sections,
// several answers, none.

var reverseFlow = &Rule{
	Codes:   []string{"reverse-flow"},
	Means:   "gas flows against the direction of its path, or the pressure stands reversed across a regulator or flow controller, which is then taken to be tight",
	Basis:   "the direction in which paths are written; either_way = true says that both are intended. A regulator is no check valve (common practice)",
	perCase: judgeDirection,
}

// leastReverse is the flow [kg/s] below which a direction is rounding.
const leastReverse = 1e-12

func judgeDirection(c *Case) {
	if !c.solved() {
		return
	}
	c.each(func(d *compiler.Device, b *lang.Block) {
		if v := b.Get("either_way"); v != nil && v.Flag {
			return
		}
		if d.Kind == "source" || d.Kind == "vent" {
			c.boundaryDirection(d, b)
			return
		}
		e, ok := c.element(d)
		if !ok {
			return
		}
		switch {
		case e.FlowKgS < -leastReverse:
			w, zero := e.FlowKgS, 0.0
			hint := "put a check valve into its path, or write either_way = true where both directions are intended"
			if d.Kind == "check_valve" {
				hint = "the check valve has failed; what stops the flow then is a second one, or a shut valve"
			}
			c.flag(diag.Diagnostic{
				Code: "reverse-flow", Level: diag.Alarm, Range: b.TagRange, At: d.Tag, Value: c.Put(w), Limit: c.Put(zero), Unit: "kg/s",
				Message: fmt.Sprintf("%s passes %s from %s back to %s", d.Tag, c.showFlow(-w, d), c.Program.Nodes[d.Out].Name, c.Program.Nodes[d.In].Name),
				Hint:    hint,
			})
		case e.State == solver.Reversed && d.Kind != "check_valve" && d.Kind != "relief":
			in, out := c.Result.Nodes[d.In].PressurePa, c.Result.Nodes[d.Out].PressurePa
			c.flag(diag.Diagnostic{
				Code: "reverse-flow", Level: diag.Caution, Range: b.TagRange, At: d.Tag, Value: c.Put(in), Limit: c.Put(out), Unit: "Pa",
				Message: fmt.Sprintf("the pressure stands reversed across %s: %s before it, %s after; it is taken to be tight", d.Tag, c.show(in, "pressure"), c.show(out, "pressure")),
				Hint:    "a regulator or controller is no check valve; put one into its path",
			})
		}
	})
}

// boundaryDirection flags gas that flows into a source, or out of a vent.
func (c *Case) boundaryDirection(d *compiler.Device, b *lang.Block) {
	w := c.flowAt(spot{device: d})
	if !(w < -leastReverse) {
		return
	}
	zero := 0.0
	message := fmt.Sprintf("%s flows back into %s", c.showFlow(-w, d), d.Tag)
	if d.Kind == "vent" {
		message = fmt.Sprintf("%s flows out of %s into the system; it is taken to be the system's own gas at ambient temperature", c.showFlow(-w, d), d.Tag)
	}
	c.flag(diag.Diagnostic{
		Code: "reverse-flow", Level: diag.Alarm, Range: b.TagRange, At: d.Tag, Value: c.Put(w), Limit: c.Put(zero), Unit: "kg/s",
		Message: message, Hint: "put a check valve before it",
	})
}

var trapped = &Rule{
	Codes:   []string{"trapped", "dome-trapped"},
	Means:   "a section is shut off on all sides: its pressure is whatever it was, between the bounds given (trapped); or such a section loads the dome of a regulator, which is then taken to stand at the lower bound (dome-trapped)",
	Basis:   "the graph of what is open; the bounds are the pressures across the devices that shut it off. Gas that warms in a shut section rises in pressure, and opening a fitting there vents it",
	perCase: judgeTrapped,
}

func judgeTrapped(c *Case) {
	if !c.solved() {
		return
	}
	c.eachSection(func(i int, nodes, by []string) {
		r := c.Result.Nodes[i]
		bounds := "nothing bounds its pressure"
		if r.HighPa > 0 {
			bounds = fmt.Sprintf("its pressure may be anything from %s to %s", c.show(r.LowPa, "pressure"), c.show(r.HighPa, "pressure"))
		}
		who := "shut off"
		if len(by) > 0 {
			who = "shut off by " + strings.Join(by, ", ")
		}
		c.flag(diag.Diagnostic{
			Code: "trapped", Level: diag.Note, Range: c.Program.Nodes[i].Range, At: c.Program.Nodes[i].Name, Limit: c.Known(r.HighPa), Unit: "Pa",
			Message: fmt.Sprintf("%s is %s; %s", strings.Join(nodes, ", "), who, bounds),
		})
	})
	c.trappedDomes()
}

// eachSection visits every shut section once: its first node, the names of its
// nodes, and the devices that shut it off.
func (c *Case) eachSection(visit func(i int, nodes, by []string)) {
	seen := make([]bool, len(c.Program.Nodes))
	for i := range c.Program.Nodes {
		if c.Result.Nodes[i].State == solver.Trapped && !seen[i] {
			nodes, by := c.section(i, seen)
			visit(i, nodes, by)
		}
	}
}

// trappedDomes tells of regulators that are loaded by a section of unknown pressure.
func (c *Case) trappedDomes() {
	c.each(func(d *compiler.Device, b *lang.Block) {
		n := c.domeAt(d)
		if n < 0 || c.Result.Nodes[n].State != solver.Trapped {
			return
		}
		r := c.Result.Nodes[n]
		c.flag(diag.Diagnostic{
			Code: "dome-trapped", Level: diag.Note, Range: b.TagRange, At: d.Tag, Value: c.Known(r.LowPa), Limit: c.Known(r.HighPa), Unit: "Pa",
			Message: fmt.Sprintf("the dome of %s follows %s, which is shut off and may stand at anything from %s to %s; the answer is that of the lowest", d.Tag, c.Program.Nodes[n].Name, c.show(r.LowPa, "pressure"), c.show(r.HighPa, "pressure")),
			Hint:    "give the dome a bleed, or state in a case what it was shut in at",
		})
	})
}

// section gives the names of all trapped nodes that are openly joined to node i,
// and the devices that shut them off, both sorted; it marks the nodes as seen.
func (c *Case) section(i int, seen []bool) (nodes, by []string) {
	seen[i] = true
	queue := []int{i}
	for q := 0; q < len(queue); q++ {
		n := queue[q]
		nodes = append(nodes, c.Program.Nodes[n].Name)
		for k := range c.Program.Devices {
			d := &c.Program.Devices[k]
			if d.Element < 0 || d.In != n && d.Out != n {
				continue
			}
			if c.Result.Elements[d.Element].State != solver.Open {
				by = append(by, d.Tag)
				continue
			}
			if other := d.In + d.Out - n; !seen[other] && c.Result.Nodes[other].State == solver.Trapped {
				seen[other] = true
				queue = append(queue, other)
			}
		}
	}
	slices.Sort(nodes)
	slices.Sort(by)
	return nodes, slices.Compact(by)
}

var severalAnswers = &Rule{
	Codes:   []string{"several-answers", "path-dependent"},
	Means:   "the same settings allow more than one steady state; which one the system is in depends on how it got there",
	Basis:   "the case solved again from all-low and all-high pressures, and with the relief devices lifted; effects of inlet or outlet on a seat, domes in a loop, and blowdown allow it",
	perCase: judgeSeveral,
}

func judgeSeveral(c *Case) {
	if !c.solved() {
		return
	}
	for _, other := range c.Result.Others {
		worst, at := 0.0, -1
		for i := range other.Nodes {
			// Of nodes that move alike the first is named, whatever their last digits.
			if d := math.Abs(other.Nodes[i].PressurePa - c.Result.Nodes[i].PressurePa); d > worst*(1+1e-6) {
				worst, at = d, i
			}
		}
		if at < 0 {
			continue
		}
		here, there := c.Result.Nodes[at].PressurePa, other.Nodes[at].PressurePa
		d := diag.Diagnostic{
			Code: "several-answers", Level: diag.Caution, Range: c.Program.Nodes[at].Range, At: c.Program.Nodes[at].Name,
			Value: c.Put(here), Limit: c.Known(there), Unit: "Pa",
			Message: fmt.Sprintf("there is another steady state: %s is at %s in the one shown and at %s in the other", c.Program.Nodes[at].Name, c.show(here, "pressure"), c.show(there, "pressure")),
		}
		if other.Start == "after lifting" {
			who, lifted := c.stayedOpen(other)
			d.Code = "path-dependent"
			d.Message = fmt.Sprintf("once %s has opened it does not close again: %s is then at %s, not at %s",
				who, c.Program.Nodes[at].Name, c.show(there, "pressure"), c.show(here, "pressure"))
			if lifted { // it is open as shown, and further so on its way down
				d.Level = diag.Note
				d.Message = fmt.Sprintf("if %s has been open wider before, its blowdown keeps %s at %s, not at %s",
					who, c.Program.Nodes[at].Name, c.show(there, "pressure"), c.show(here, "pressure"))
			}
		}
		c.flag(d)
	}
}

// stayedOpen names the devices that are further open in another answer, and says
// whether all of them are open in the one shown too.
func (c *Case) stayedOpen(other solver.Answer) (names string, lifted bool) {
	var tags []string
	lifted = true
	for i := range c.Program.Devices {
		d := &c.Program.Devices[i]
		if d.Element < 0 || d.Kind != "relief" && d.Kind != "holder" {
			continue
		}
		if other.Elements[d.Element].Lift > c.Result.Elements[d.Element].Lift+1e-9 {
			tags = append(tags, d.Tag)
			lifted = lifted && c.Result.Elements[d.Element].Lift > 0
		}
	}
	if len(tags) == 0 {
		return "a relief device", false
	}
	return strings.Join(tags, ", "), lifted
}

var cycling = &Rule{
	Codes:   []string{"cycling"},
	Means:   "a relief device finds no steady position: it opens at its set, blows down to its reseat pressure, shuts, and opens again",
	Basis:   "no set of open and shut positions is consistent with the pressures it makes; the flow shown is the mean over a cycle, which does not depend on the volumes, the lift is the share of the time it stands open",
	perCase: judgeCycling,
}

func judgeCycling(c *Case) {
	if !c.solved() || !c.Result.Cycling {
		return
	}
	c.each(func(d *compiler.Device, b *lang.Block) {
		if d.Element < 0 || c.Result.Elements[d.Element].State != solver.Cycling {
			return
		}
		level := diag.Alarm
		if c.Kind == "upset" {
			level = diag.Caution
		}
		e, n := c.Result.Elements[d.Element], c.Result.Nodes[d.In]
		c.flag(diag.Diagnostic{
			Code: "cycling", Level: level, Range: b.TagRange, At: d.Tag, Value: c.Known(e.FlowKgS), Unit: "kg/s",
			Message: fmt.Sprintf("%s opens and shuts without end: its inlet swings between %s and %s, it stands open %.2g %% of the time and passes %s on average",
				d.Tag, c.show(n.LowPa, "pressure"), c.show(n.HighPa, "pressure"), 100*e.Lift, c.showFlow(e.FlowKgS, d)),
		})
	})
}

var unsolved = &Rule{
	Codes:   []string{"unsolved"},
	Means:   "no pressures were found that balance in this case, or its gas has no gas state there; nothing of it is to be trusted",
	Basis:   "the solver's own test: every flow equals its law and balances at its node",
	perCase: judgeUnsolved,
}

func judgeUnsolved(c *Case) {
	if c.solved() {
		return
	}
	d := diag.Diagnostic{Code: "unsolved", Level: diag.Alarm, Message: fmt.Sprintf("case %q is not solved: %s", c.Name, c.Result.Reason)}
	var names []string
	for _, n := range c.Result.Unbalanced {
		names = append(names, c.Program.Nodes[n].Name)
	}
	if len(names) > 0 {
		d.At = names[0]
		d.Range = c.Program.Nodes[c.Result.Unbalanced[0]].Range
		d.Message += "; look at " + strings.Join(names, ", ")
	}
	c.flag(d)
}
