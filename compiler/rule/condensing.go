package rule

import (
	"fmt"
	"math"
	"strings"

	"tapline/compiler"
	"tapline/lang/diag"
	"tapline/solver/fluid"
)

// Gas at or below a dew point, at a node or on its way through a throttling. The two
// dew points, that of the water and that of all else, are named apart. Where neither
// could be worked out, what is left is the bound of the saturation pressures, and the
// flag is a caution.

var condensing = &Rule{
	Codes:   []string{"condensing"},
	Means:   "the gas is at or below its hydrocarbon or water dew point at a node, or along a throttling; densities and flows there are those of a gas that has not condensed",
	Basis:   "dew points by equal fugacities in the equation of state, the water dew point by water's own saturation equations; throttling at constant enthalpy. Where they cannot be worked out, the components' saturation pressures (Raoult's law), on the safe side: a caution",
	perCase: judgeCondensing,
}

func judgeCondensing(c *Case) {
	if !c.solved() {
		return
	}
	wet := make([]bool, len(c.Program.Nodes))
	for i := range c.Program.Nodes {
		wet[i] = c.condensesAt(i)
	}
	for k := range c.Program.Devices {
		d := &c.Program.Devices[k]
		if d.Element < 0 || wet[d.In] || wet[d.Out] || c.Dews().ClearAlong(k) {
			continue
		}
		at, ok := c.Dews().Along(k)
		if !ok || !(at.MarginK <= 0) {
			continue
		}
		c.condenses(at, diag.Diagnostic{
			Range: c.Blocks[k].TagRange, At: d.Tag,
			Message: fmt.Sprintf("the gas condenses on its way through %s, though not at either end: at %s and %s it %s", d.Tag, c.show(at.PressurePa, "pressure"), c.show(at.TemperatureK, "temperature"), c.below(at)),
			Hint:    "heat the gas before it, or reduce the pressure in two steps with heating between",
		})
	}
}

// condensesAt flags a node where something condenses, or might.
func (c *Case) condensesAt(i int) bool {
	n, r := &c.Program.Nodes[i], c.Result.Nodes[i]
	if isLiquid(r.Gas) || r.Problem == "" && c.Dews().Clear(i) {
		return false
	}
	where := fmt.Sprintf("%s (%s, %s)", n.Name, c.show(r.PressurePa, "pressure"), c.show(r.TemperatureK, "temperature"))
	at, ok := c.Dews().At(i)
	switch {
	case ok && at.MarginK <= 0:
		c.condenses(at, diag.Diagnostic{
			Range: n.Range, At: n.Name,
			Message: fmt.Sprintf("the gas at %s %s", where, c.below(at)),
			Hint:    "keep it warmer or at a lower pressure, or take out beforehand what condenses",
		})
		return true
	case r.Problem != "":
		c.mayCondense(i, where, r.Problem)
	case r.Doubt != "" && ok && at.Unknown():
		// No curve was found that could clear it; the equation may still say.
		if err := c.Dews().Unstable(i); err != nil {
			c.mayCondense(i, where, err.Error())
		}
	}
	return false
}

func (c *Case) condenses(at compiler.DewAt, d diag.Diagnostic) {
	d.Code, d.Level, d.Unit = "condensing", diag.Alarm, "K"
	if c.Kind != "operating" {
		d.Level = diag.Caution
	}
	d.Value, d.Limit = c.Known(at.TemperatureK), c.Known(at.HighestK())
	c.flag(d)
}

func (c *Case) mayCondense(i int, where, words string) {
	c.flag(diag.Diagnostic{
		Code: "condensing", Level: diag.Caution, Range: c.Program.Nodes[i].Range, At: c.Program.Nodes[i].Name,
		Value: c.Known(c.Result.Nodes[i].PressurePa), Unit: "Pa",
		Message: fmt.Sprintf("the gas at %s may not be all gas: %s", where, words),
	})
}

// below says which dew points a gas has reached.
func (c *Case) below(at compiler.DewAt) string {
	var words []string
	say := func(name string, dewK float64, what string) {
		if !(at.TemperatureK <= dewK) {
			return
		}
		how := "is at"
		if under := dewK - at.TemperatureK; under > 0.05 {
			how = fmt.Sprintf("is %s below", c.show(under, "kelvin"))
		}
		words = append(words, fmt.Sprintf("%s its %s of %s: %s", how, name, c.show(dewK, "temperature"), what))
	}
	mostly := "a liquid forms"
	if at.Mostly != "" {
		mostly += ", mostly " + fluid.Spoken(at.Mostly) + " at first"
	}
	say("dew point", at.HydrocarbonK, mostly)
	if at.Frost {
		say("frost point", at.WaterK, "ice forms")
	} else {
		say("water dew point", at.WaterK, "water condenses")
	}
	return strings.Join(words, ", and ")
}

var hydrate = &Rule{
	Codes:   []string{"hydrate"},
	Means:   "water has condensed out of a natural gas, at a node or along a throttling, and it is cold enough for hydrates",
	Basis:   "M. Motiee, Hydrocarbon Processing 70 (1991) July, 98: from density alone, relative density 0.55 to 1, nine tenths hydrocarbons, 0 to 25 degC; 1 to 3 K on the safe side for methane. Other gases are not judged",
	perCase: judgeHydrate,
}

func judgeHydrate(c *Case) {
	if !c.solved() {
		return
	}
	flagged := make([]bool, len(c.Program.Nodes))
	for i := range c.Program.Nodes {
		if c.Dews().Clear(i) {
			continue
		}
		n := &c.Program.Nodes[i]
		if at, ok := c.Dews().At(i); ok {
			flagged[i] = c.hydrates(at, diag.Diagnostic{Range: n.Range, At: n.Name, Message: "hydrates may form at " + n.Name})
		}
	}
	for k := range c.Program.Devices {
		d := &c.Program.Devices[k]
		if d.Element < 0 || flagged[d.In] || flagged[d.Out] || c.Dews().ClearAlong(k) {
			continue
		}
		if at, ok := c.Dews().Along(k); ok {
			c.hydrates(at, diag.Diagnostic{Range: c.Blocks[k].TagRange, At: d.Tag, Message: "hydrates may form in " + d.Tag})
		}
	}
}

// hydrates flags a place where water has condensed and hydrates are stable.
func (c *Case) hydrates(at compiler.DewAt, d diag.Diagnostic) bool {
	if !(at.TemperatureK <= at.WaterK && at.TemperatureK < at.HydrateK) {
		return false
	}
	d.Code, d.Level, d.Unit = "hydrate", diag.Caution, "K"
	d.Value, d.Limit = c.Known(at.TemperatureK), c.Known(at.HydrateK)
	d.Message += fmt.Sprintf(": water has condensed, and %s at %s is below the %s under which they are stable (a correlation by density, 1 to 3 K on the safe side)", c.show(at.TemperatureK, "temperature"), c.show(at.PressurePa, "pressure"), c.show(at.HydrateK, "temperature"))
	d.Hint = "keep it warmer, reduce the pressure where it is warm, or dry the gas"
	c.flag(d)
	return true
}

// dewMarginAt is the least margin over both dew points: of a node, the one of all
// throttlings into it counted; of a device, what it takes in and gives out on the way.
func (c *Case) dewMarginAt(s spot) float64 {
	if s.node >= 0 {
		return c.Dews().LeastInto(s.node)
	}
	least := math.Inf(1)
	for _, n := range []int{s.device.In, s.device.Out} {
		at, ok := c.Dews().At(n)
		if !ok {
			return math.NaN()
		}
		least = min(least, at.MarginK)
	}
	if at, ok := c.Dews().Along(s.device.Number); ok {
		least = min(least, at.MarginK)
	}
	return least
}
