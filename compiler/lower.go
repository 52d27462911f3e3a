package compiler

import (
	"tapline/lang"
	"tapline/lang/diag"
	"tapline/lang/quantity"
	"tapline/solver"
	"tapline/solver/fluid"
)

// A Case is one operating case, lowered: the merged blocks it rests on and the
// parameters the solver takes.
type Case struct {
	Name, Kind string
	After      []string
	Generated  bool
	Spread     string // the spread it is of, or ""
	Site       quantity.Site
	AmbientK   float64
	Blocks     []*lang.Block    // per Program.Devices
	Settings   []map[string]any // per Program.Devices: what its law was made from
	Resolved   *lang.Resolved
	Solver     *solver.Case

	like    *Case                  // a case without mistakes, lowered before; see alike.go
	gases   []gas                  // per node: what is meant to be there
	waiting map[int]func(float64)  // settings that need an inlet pressure, by index of the device
	fluids  map[string]*lang.Block // by name
	network *solver.Network
	made    *fluids
	dews    *Dews // of its answer
}

// base is what the base's answer lends to other cases.
type base struct {
	inlet map[string]float64 // inlet pressure [Pa] by tag of a reducer
	dome  map[string]float64 // pressure [Pa] at the node that loads a regulator, by its tag
	// answer gives the base and its answer, nil where it has none. The function is
	// nil in the base itself.
	answer func() (*Case, *solver.Result)
}

// lower makes the solver's parameters of a case; like is one lowered before, or nil.
// assume may be called with the same sentence more than once.
func (p *Program) lower(name string, made *fluids, from base, like *Case, assume func(string)) (*Case, []diag.Diagnostic) {
	res, found := p.Description.Resolve(name)
	c := p.caseOf(res, made)
	c.like = like
	if diag.HasErrors(found) {
		return c, found
	}
	return c, p.lowerCase(c, found, from, assume)
}

func (p *Program) caseOf(res *lang.Resolved, made *fluids) *Case {
	return &Case{Name: res.Name, Kind: res.Kind, After: res.After, Generated: res.Generated, Resolved: res, made: made, network: p.Network}
}

// lowerCase makes the parameters of a case from its resolved blocks, and gives what
// was found wrong until then.
func (p *Program) lowerCase(c *Case, found []diag.Diagnostic, from base, assume func(string)) []diag.Diagnostic {
	res := c.Resolved
	c.Site, c.AmbientK = siteOf(res.Site)
	r := &reader{site: c.Site, found: found}
	c.Blocks = make([]*lang.Block, len(p.Devices))
	for i := range p.Devices {
		if d := &p.Devices[i]; d.inline {
			c.Blocks[i] = res.Inline[d.index]
		} else {
			c.Blocks[i] = res.Blocks[d.index]
		}
	}
	p.hold(c)
	p.turn(c)
	c.Solver = &solver.Case{AmbientK: c.AmbientK, Devices: make([]solver.Device, len(p.Network.Elements))}
	if s := p.Description.System; s != nil && text(s, "thermal") == "isenthalpic" {
		c.Solver.Thermal = solver.Isenthalpic
	}
	r.plausible(c.changed())
	gases := p.gases(c, c.made, r)
	if diag.HasErrors(r.found) {
		return r.found
	}
	var meet *diag.Diagnostic
	c.gases, meet = p.intended(gases,
		func(i int) bool { return shutOff(c.Blocks[i]) },
		func(i int) bool { return faultOf(c.Blocks[i]) == "seat leak" || standsOpen(c.Blocks[i]) })
	if meet != nil {
		r.found = append(r.found, *meet)
		return r.found
	}
	p.conditions(c, gases, r)
	p.lawsOf(c, r, from, assume)
	return r.found
}

// gases makes every source's gas.
func (p *Program) gases(c *Case, made *fluids, r *reader) map[int]fluid.Composed {
	byName := map[string]*lang.Block{}
	for _, b := range c.Resolved.Blocks {
		if b.Kind == "fluid" {
			byName[b.Tag] = b
		}
	}
	c.fluids = byName
	out := map[int]fluid.Composed{}
	for _, i := range p.sources {
		if b := byName[text(c.Blocks[i], "fluid")]; b != nil && p.Devices[i].In >= 0 {
			out[i] = made.get(b, r)
		}
	}
	return out
}

// shutOff reports whether nothing can pass a device, by its block alone.
func shutOff(b *lang.Block) bool {
	switch faultOf(b) {
	case "shut", "plugged":
		return true
	case "seat leak", "wide open":
		return false
	}
	if b.Kind != "valve" {
		return false
	}
	r := reader{}
	return text(b, "state") == "shut" || r.value(b, "opening") == 0
}

// conditions tells the solver what is known at the nodes.
func (p *Program) conditions(c *Case, gases map[int]fluid.Composed, r *reader) {
	index := map[fluid.Composed]int{}
	c.Solver.Tables = true // for one case as for a thousand, so that the answers are the same
	c.Solver.Conditions = make([]solver.Condition, len(p.Nodes))
	c.Settings = make([]map[string]any, len(p.Devices))
	for i := range c.Solver.Conditions {
		k := &c.Solver.Conditions[i]
		k.Fluid = -1
		m := gases[p.Nodes[i].Boundary]
		if m != nil {
			at, ok := index[m]
			if !ok {
				at = len(c.Solver.Fluids)
				index[m] = at
				c.Solver.Fluids = append(c.Solver.Fluids, m)
			}
			k.Fluid = at
		}
		p.condition(i, c, m, r)
	}
}

// condition tells the solver what is known at node i, which m enters; nil for a vent.
func (p *Program) condition(i int, c *Case, m fluid.Composed, r *reader) {
	k := &c.Solver.Conditions[i]
	if p.Nodes[i].Atmosphere {
		k.Kind, k.PressurePa, k.TemperatureK = solver.Pressure, c.Site.AtmospherePa, c.AmbientK
		return
	}
	d := p.Nodes[i].Boundary
	if d < 0 {
		return
	}
	b := c.Blocks[d]
	k.TemperatureK = c.AmbientK
	c.Settings[d] = map[string]any{}
	if m != nil {
		k.TemperatureK = r.value(b, "temperature")
		if b.Has("flow") {
			k.Kind = solver.Inflow
			k.InflowKgS, _ = r.flow(b, "flow", countedAs(m, k.TemperatureK, c.Site.AtmospherePa))
			c.Settings[d]["flow_kg_s"] = k.InflowKgS
			return
		}
	}
	k.Kind = solver.Pressure
	k.PressurePa = r.value(b, "pressure")
	c.Settings[d]["pressure_Pa"] = k.PressurePa
}

// lawsOf gives every element its law.
func (p *Program) lawsOf(c *Case, r *reader, from base, assume func(string)) {
	for i := range p.Devices {
		if p.Devices[i].Kind == "multiway" {
			c.Settings[i] = standing(c.Blocks[i])
		}
		if p.Devices[i].Element >= 0 && !p.takeOver(i, c) {
			p.lawOf(i, c, r, from, assume)
		}
	}
}

// lawOf gives device i its law.
func (p *Program) lawOf(i int, c *Case, r *reader, from base, assume func(string)) {
	d := &p.Devices[i]
	b := c.Blocks[i]
	c.Settings[i] = map[string]any{}
	l := &law{reader: r, b: b, gas: c.gases[d.In].mixture, ambientK: c.AmbientK, settings: c.Settings[i], assume: assume,
		referenceInletPa: from.inlet[d.Tag], domePa: from.dome[d.Tag], from: from, element: d.Element, nodes: [2]int{d.In, d.Out}}
	l.home = p.home
	l.fluid = func(name string) fluid.Composed { return c.made.get(c.fluids[name], r) }
	if g := c.gases[d.In]; g.unlike {
		l.oneOfSeveral = p.Devices[g.source].Tag
	}
	c.Solver.Devices[d.Element] = laws[d.Kind](l)
	if delete(c.waiting, i); l.solved != nil {
		if c.waiting == nil {
			c.waiting = map[int]func(float64){}
		}
		c.waiting[i] = l.solved
	}
	p.diaphragm(c, d, l)
	p.vent(c, d, l)
	if n := domeNode(b); n != "" {
		if at, ok := p.NodeAt(n); !ok || at != p.Network.Elements[d.Element].Sense {
			r.errorf("not-yet-built", b.Nested("loading").Get("dome").Range, "", "the dome of "+d.Tag+" follows another node in another case; this version takes one node for all cases")
		}
	}
}
