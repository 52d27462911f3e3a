package compiler

import (
	"crypto/sha256"
	"encoding/hex"
	"math"
	"path/filepath"
	"slices"
	"strings"

	"tapline/lang"
	"tapline/solver"
	"tapline/solver/device"
	"tapline/solver/fluid"
)

// Filling the outcome: results by index become results by name, sorted.

// Head is what an outcome says before anything is solved.
func Head(d *lang.Description) *SystemOutcome {
	o := &SystemOutcome{Dir: filepath.ToSlash(d.Dir), InputsSHA256: hash(d), Cases: []CaseOutcome{}, Checks: []CheckOutcome{}}
	if d.System != nil {
		o.Name = d.System.Tag
		o.Title = text(d.System, "title")
	}
	b := d.Site
	if b == nil {
		if r, _ := d.Resolve("base"); r != nil && r.Site != nil {
			b = r.Site
		}
	}
	if b == nil {
		return o
	}
	site, _ := siteOf(b)
	o.AtmospherePa = site.AtmospherePa
	if site.Reference != nil {
		o.ReferenceState = &Reference{site.Reference.TemperatureK, site.Reference.PressurePa}
	}
	o.ShownIn = shownIn(b, site.Reference != nil)
	return o
}

// shownIn gives the units that results are printed in.
func shownIn(site *lang.Block, reference bool) map[string]string {
	units := map[string]string{"pressure": "barg", "temperature": "degC", "gas_flow": "g/h", "liquid_flow": "L/h"}
	if reference {
		units["gas_flow"] = "slpm"
	}
	if v := site.Get("shown_in"); v != nil {
		for _, e := range v.Map {
			units[e.Key] = e.Value.Text
		}
	}
	return units
}

// hash is the digest of all files read, names included.
func hash(d *lang.Description) string {
	h := sha256.New()
	for _, f := range d.Files {
		h.Write([]byte(filepath.Base(f.Name)))
		h.Write([]byte{0})
		h.Write(f.Bytes)
		h.Write([]byte{0})
	}
	return hex.EncodeToString(h.Sum(nil))
}

func (run *Run) fill() {
	run.Outcome.Cases = make([]CaseOutcome, 0, len(run.Cases))
	for i, c := range run.Cases {
		c.dews = run.Program.dewsOf(run.Results[i])
		run.Outcome.Cases = append(run.Outcome.Cases, run.Program.outcome(c, run.Results[i]))
	}
}

func (p *Program) outcome(c *Case, r *solver.Result) CaseOutcome {
	o := CaseOutcome{
		Name: c.Name, Kind: c.Kind, After: slices.Clone(c.After), Generated: c.Generated, Status: "solved",
		Residual: &r.Residual, SeveralAnswers: &r.Several, Lags: p.lags(c, r, true), Answers: p.answers(r), Trace: p.trace(r), AtmospherePa: c.Site.AtmospherePa,
	}
	if o.After == nil {
		o.After = []string{}
	}
	if r.Status != solver.Solved {
		o.Status = "unsolved"
	}
	parts := map[fluid.Composed]map[string]float64{}
	o.Nodes = make([]NodeOutcome, 0, len(p.Nodes))
	for i := range p.Nodes {
		o.Nodes = append(o.Nodes, p.nodeOutcome(c, r, i, parts))
	}
	slices.SortFunc(o.Nodes, func(a, b NodeOutcome) int { return strings.Compare(a.Name, b.Name) })
	o.Devices = make([]DeviceOutcome, 0, len(p.Devices))
	for i := range p.Devices {
		if d := &p.Devices[i]; len(d.Ports) > 0 && d.Way == nil {
			o.Devices = append(o.Devices, p.deviceOutcome(c, r, i))
		}
	}
	return o
}

// Known turns what is no number into null.
func Known(x float64) *float64 {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return nil
	}
	return &x
}

// nodeOutcome fills one node; parts are the compositions met before in this case.
func (p *Program) nodeOutcome(c *Case, r *solver.Result, i int, parts map[fluid.Composed]map[string]float64) NodeOutcome {
	n := r.Nodes[i]
	o := NodeOutcome{Name: p.Nodes[i].Name, Aliases: slices.Clone(p.Nodes[i].Aliases), State: n.State.String()}
	if o.Aliases == nil {
		o.Aliases = []string{}
	}
	if r.Status != solver.Solved {
		return o
	}
	o.PressurePa, o.PressureLowPa, o.PressureHighPa = Known(n.PressurePa), Known(n.LowPa), Known(n.HighPa)
	if n.Gas == nil {
		return o
	}
	o.TemperatureK, o.DensityKgM3 = Known(n.TemperatureK), Known(n.DensityKgM3)
	if m, ok := n.Gas.(fluid.Composed); ok {
		o.Composition = parts[m]
		if o.Composition == nil {
			names, x := m.Fractions()
			o.Composition = make(map[string]float64, len(names))
			for k, name := range names {
				o.Composition[name] = x[k]
			}
			parts[m] = o.Composition
		}
	}
	o.Shares = make(map[string]float64, len(n.Shares))
	for _, s := range n.Shares {
		o.Shares[p.Devices[p.Nodes[s.Entry].Boundary].Tag] = s.Mole
	}
	o.Phase, o.DewK = c.phase(i)
	return o
}

func (p *Program) deviceOutcome(c *Case, r *solver.Result, i int) DeviceOutcome {
	d := &p.Devices[i]
	if d.ToVent >= 0 && r.Status == solver.Solved && c.Settings[i] != nil && c.Settings[i]["relieves_at_Pa"] != nil {
		c.Settings[i]["vents_kg_s"] = r.Elements[d.ToVent].FlowKgS
	}
	o := DeviceOutcome{Tag: d.Tag, Kind: d.Kind, Settings: c.Settings[i]}
	if d.Kind == "multiway" {
		p.valveOutcome(c, r, d, &o)
	} else {
		o.MolarMass, o.LiquidKgM3 = c.MolarMass(r, d), c.LiquidKgM3(r, d)
	}
	if o.Settings == nil {
		o.Settings = map[string]any{}
	}
	if f := text(c.Blocks[i], "fault"); f != "" {
		o.Fault = &f
	}
	solved := r.Status == solver.Solved
	if wait := c.waiting[i]; wait != nil && solved && r.Nodes[d.In].State != solver.Trapped {
		wait(r.Nodes[d.In].PressurePa)
	}
	if d.Kind == "relief" && d.Element >= 0 && solved {
		p.capacity(c, r, d, o.Settings)
	}
	for _, port := range d.Ports {
		n := r.Nodes[port.Node]
		po := PortOutcome{Name: port.Name, Node: p.Nodes[port.Node].Name}
		if solved {
			po.PressurePa = Known(n.PressurePa)
			if n.State != solver.Trapped {
				po.TemperatureK = Known(n.TemperatureK)
			}
			if d.Element >= 0 {
				if e := r.Elements[d.Element]; e.FlowKgS != 0 && (port.Name == "out") == (e.FlowKgS > 0) {
					po.TemperatureK = Known(e.OutletK)
				}
			}
		}
		o.Ports = append(o.Ports, po)
	}
	if o.Ports == nil {
		o.Ports = []PortOutcome{}
	}
	if !solved {
		return o
	}
	switch role := d.Block.Type().Role; {
	case d.Kind == "multiway":
	case role == lang.Inline:
		p.flowing(c, r, d, &o)
	case role == lang.Boundary, role == lang.Pot:
		open, no := "open", false
		o.State, o.Choked = &open, &no
		o.MassFlowKgS = Known(p.through(r, d))
	case role == lang.AtNode:
		o.Reads = p.gauge(c, r, d, c.Blocks[i])
		o.Settings["reads"] = text(c.Blocks[i], "reads")
	}
	if o.MassFlowKgS != nil && o.LiquidKgM3 == 0 && d.Kind != "multiway" {
		o.ReferenceFlowM3S = referenceFlow(c, o.MolarMass, *o.MassFlowKgS)
	}
	if d.Kind == "meter" {
		o.Reads = p.reading(c, r, d, c.Blocks[i], *o.MassFlowKgS)
	}
	return o
}

func (p *Program) flowing(c *Case, r *solver.Result, d *Device, o *DeviceOutcome) {
	if d.Element < 0 { // equipment that is one node
		open := "open"
		o.State, o.MassFlowKgS = &open, Known(p.through(r, d))
		return
	}
	e := r.Elements[d.Element]
	state, choked := e.State.String(), e.Choked
	o.State, o.Choked, o.Lift, o.MassFlowKgS = &state, &choked, Known(e.Lift), Known(e.FlowKgS)
	if o.Fault != nil && *o.Fault == "wide open" && oneWay(d.Kind) && e.State == solver.Open {
		wide, one := solver.WideOpen.String(), 1.0
		o.State, o.Lift = &wide, &one
	}
	if lift, ok := o.Settings["stuck_at_lift"].(float64); ok {
		o.Lift = &lift
	}
}

// through is the flow into a vent, out of a source, or through a vessel [kg/s].
func (p *Program) through(r *solver.Result, d *Device) float64 {
	in, out := 0.0, 0.0
	for i, e := range p.Network.Elements {
		q := r.Elements[i].FlowKgS
		switch {
		case e.To == d.In && q > 0, e.From == d.In && q < 0:
			in += math.Abs(q)
		case e.To == d.In || e.From == d.In:
			out += math.Abs(q)
		}
	}
	switch d.Kind {
	case "vent":
		return in - out
	case "source":
		return out - in
	}
	return in
}

// referenceFlow is a mass flow as volume at the site's reference state.
func referenceFlow(c *Case, molarMass, w float64) *float64 {
	if c.Site.Reference == nil || molarMass == 0 {
		return nil
	}
	return Known(w / molarMass * c.Site.Reference.MolarVolume())
}

// isLiquid reports whether a fluid is one.
func isLiquid(f fluid.Fluid) bool {
	c, ok := f.(fluid.Composed)
	return ok && c.Basis().Phase == fluid.Liquid
}

// ends are the nodes at a device, the one that its flow comes from first. What flows
// back into a source comes from the node with most of it.
func (c *Case) ends(r *solver.Result, d *Device) [2]int {
	switch {
	case d.Element >= 0 && r.Elements[d.Element].FlowKgS < 0:
		return [2]int{d.Out, d.In}
	case d.Kind != "source":
		return [2]int{d.In, d.Out}
	}
	from, most, net := d.In, 0.0, 0.0
	for i, e := range c.network.Elements {
		into, other := r.Elements[i].FlowKgS, e.From
		if e.From == d.In {
			into, other = -into, e.To
		} else if e.To != d.In {
			continue
		}
		net += into
		if into > most {
			from, most = other, into
		}
	}
	if !(net > 0) {
		from = d.In
	}
	return [2]int{from, d.Out}
}

// MolarMass is that of the gas that passes a device, or stands before it, or
// behind it [kg/mol]; where there is none, that of the gas meant to; 0 where no
// gas can.
func (c *Case) MolarMass(r *solver.Result, d *Device) float64 {
	for _, n := range c.ends(r, d) {
		if g := r.Nodes[n].Gas; g != nil {
			return g.MolarMass()
		}
	}
	for _, n := range c.ends(r, d) {
		if m := c.gases[n].mixture; m != nil {
			return m.MolarMass()
		}
	}
	return 0
}

// FluidAt is the fluid at a node, or where none has come the one that is meant to be
// there; nil where none can.
func (c *Case) FluidAt(r *solver.Result, node int) fluid.Fluid {
	if g := r.Nodes[node].Gas; g != nil {
		return g
	}
	if m := c.gases[node].mixture; m != nil {
		return m
	}
	return nil
}

// LiquidKgM3 is the density of the liquid that passes a device, or stands before it,
// or behind it; 0 where that is a gas, or nothing.
func (c *Case) LiquidKgM3(r *solver.Result, d *Device) float64 {
	for _, n := range c.ends(r, d) {
		if node := &r.Nodes[n]; isLiquid(node.Gas) && node.DensityKgM3 > 0 {
			return node.DensityKgM3
		}
	}
	return 0
}

// gauge is what a gauge shows: pressure [Pa absolute] or temperature [K].
func (p *Program) gauge(c *Case, r *solver.Result, d *Device, b *lang.Block) *float64 {
	n := r.Nodes[d.In]
	switch {
	case n.State == solver.Trapped:
		return nil
	case text(b, "reads") == "pressure":
		return Known(n.PressurePa)
	case text(b, "reads") == "temperature":
		return Known(n.TemperatureK)
	}
	return nil
}

// reading is what a float meter shows [m3/s at the scale's reference state, or of
// liquid]: the true flow where its fluid is the one it was made for, else corrected
// for the density, and for a liquid's buoyancy.
func (p *Program) reading(c *Case, r *solver.Result, d *Device, b *lang.Block, w float64) *float64 {
	cal := b.Nested("calibrated_for")
	liquid := isLiquid(r.Nodes[d.In].Gas)
	if cal == nil || r.Nodes[d.In].Gas == nil || c.Site.Reference == nil && !liquid || w < 0 {
		return nil
	}
	var scale *lang.Block
	for _, f := range c.Resolved.Blocks {
		if f.Kind == "fluid" && f.Tag == text(cal, "fluid") {
			scale = f
		}
	}
	rd := &reader{site: c.Site}
	cm := c.made.get(scale, rd)
	if cm == nil || isLiquid(cm) != liquid {
		return nil
	}
	p0, t0 := rd.value(cal, "pressure"), rd.value(cal, "temperature")
	rho0, _, err := cm.Density(t0, p0)
	n := r.Nodes[d.In]
	if err != nil || !(n.DensityKgM3 > 0) {
		return nil
	}
	if liquid {
		return Known(device.LiquidFloatReading(w/n.DensityKgM3, n.DensityKgM3, rho0))
	}
	q := device.FloatReading(w/n.DensityKgM3, n.DensityKgM3, rho0)
	return Known(q * rho0 / cm.MolarMass() * c.Site.Reference.MolarVolume())
}
