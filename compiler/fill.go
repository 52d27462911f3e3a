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

func (run *Run) fill(trace bool) {
	f := run.Program.filler()
	f.traced = trace
	run.Outcome.Cases = make([]CaseOutcome, 0, len(run.Cases))
	for i, c := range run.Cases {
		c.dews = run.Program.dewsOf(c, run.Results[i])
		run.Outcome.Cases = append(run.Outcome.Cases, f.outcome(c, run.Results[i]))
	}
}

// A filler makes the outcomes of one case after the other, and what they share only
// once. It belongs to one goroutine. Nothing in an outcome points into the filler, a
// result or a block, so that none of these lives as long as the outcome does.
type filler struct {
	p       *Program
	lags    *lagMaker
	byName  []int // nodes, sorted by name
	traced  bool  // how a case was solved is told
	numbers Numbers
	words   map[string]*string
	no, yes *bool
	ports   []PortOutcome                         // of one case, with room for all
	parts   map[fluid.Composed]map[string]float64 // compositions
	scales  map[int]scaleState                    // what meters are made for, by device
}

func (p *Program) filler() *filler {
	f := &filler{p: p, lags: p.lagMaker(), words: map[string]*string{}, no: new(bool), yes: new(true), parts: map[fluid.Composed]map[string]float64{}, scales: map[int]scaleState{}}
	for i := range p.Nodes {
		f.byName = append(f.byName, i)
	}
	slices.SortFunc(f.byName, func(a, b int) int { return strings.Compare(p.Nodes[a].Name, p.Nodes[b].Name) })
	return f
}

// Numbers gives pointers to numbers: an outcome has hundreds, and one by one they cost
// more than what they hold. The zero value is ready; it belongs to one goroutine.
type Numbers struct {
	room []float64
	used int
}

// Known turns what is no number into null.
func (n *Numbers) Known(x float64) *float64 {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return nil
	}
	return n.Put(x)
}

// Put takes any number.
func (n *Numbers) Put(x float64) *float64 {
	if n.used == len(n.room) {
		n.room, n.used = make([]float64, min(max(64, 2*len(n.room)), 1024)), 0
	}
	at := &n.room[n.used]
	n.used++
	*at = x
	return at
}

// Reuse gives the room of all numbers so far to others.
func (n *Numbers) Reuse() { n.used = 0 }

// word gives the pointer to a word, the same whenever it is asked for.
func (f *filler) word(s string) *string {
	if at := f.words[s]; at != nil {
		return at
	}
	at := new(s)
	f.words[s] = at
	return at
}

func (f *filler) whether(is bool) *bool {
	if is {
		return f.yes
	}
	return f.no
}

func (f *filler) outcome(c *Case, r *solver.Result) CaseOutcome {
	p := f.p
	o := CaseOutcome{
		Name: c.Name, Kind: c.Kind, After: slices.Clone(c.After), Generated: c.Generated, Status: "solved",
		Residual: f.numbers.Put(r.Residual), SeveralAnswers: f.whether(r.Several), Lags: f.lags.lags([]LagOutcome{}, c, r, true), Answers: p.answers(r), AtmospherePa: c.Site.AtmospherePa,
	}
	if f.traced {
		o.Trace = p.trace(r)
	}
	if o.After == nil {
		o.After = []string{}
	}
	if r.Status != solver.Solved {
		o.Status = "unsolved"
	}
	o.Nodes = make([]NodeOutcome, len(p.Nodes))
	for k, i := range f.byName {
		f.node(&o.Nodes[k], c, r, i)
	}
	f.share(o.Nodes, r)
	ports := 0
	for i := range p.Devices {
		ports += len(p.Devices[i].Ports)
	}
	f.ports = make([]PortOutcome, 0, ports)
	o.Devices = make([]DeviceOutcome, 0, len(p.Devices))
	for i := range p.Devices {
		if d := &p.Devices[i]; len(d.Ports) > 0 && d.Way == nil {
			o.Devices = append(o.Devices, f.device(c, r, i))
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

// node fills one node, but for its shares.
func (f *filler) node(o *NodeOutcome, c *Case, r *solver.Result, i int) {
	n := &r.Nodes[i]
	o.Name, o.Aliases, o.State = f.p.Nodes[i].Name, f.p.Nodes[i].Aliases, n.State.String()
	if o.Aliases == nil {
		o.Aliases = []string{}
	}
	if r.Status != solver.Solved {
		return
	}
	o.PressurePa, o.PressureLowPa, o.PressureHighPa = f.numbers.Known(n.PressurePa), f.numbers.Known(n.LowPa), f.numbers.Known(n.HighPa)
	if n.Gas == nil {
		return
	}
	o.TemperatureK, o.DensityKgM3 = f.numbers.Known(n.TemperatureK), f.numbers.Known(n.DensityKgM3)
	if m, ok := n.Gas.(fluid.Composed); ok {
		o.Composition = f.composition(m)
	}
	phase, dewK := c.phase(i)
	if o.DewK = f.numbers.Known(dewK); phase != "" {
		o.Phase = f.word(phase)
	}
}

// composition gives the mole fractions of a fluid by component.
func (f *filler) composition(m fluid.Composed) map[string]float64 {
	of := f.parts[m]
	if of == nil {
		names, x := m.Fractions()
		of = make(map[string]float64, len(names))
		for k, name := range names {
			of[name] = x[k]
		}
		f.parts[m] = of
	}
	return of
}

// share gives nodes their shares, those that are alike one after the other the same.
func (f *filler) share(nodes []NodeOutcome, r *solver.Result) {
	if r.Status != solver.Solved {
		return
	}
	at := make([]int, len(nodes)) // in the outcome, per node
	for k, i := range f.byName {
		at[i] = k
	}
	var last []solver.Share
	var made map[string]float64
	for i := range r.Nodes {
		n := &r.Nodes[i]
		if n.Gas == nil {
			continue
		}
		if made == nil || !slices.Equal(n.Shares, last) {
			last, made = n.Shares, make(map[string]float64, len(n.Shares))
			for _, s := range n.Shares {
				made[f.p.Devices[f.p.Nodes[s.Entry].Boundary].Tag] = s.Mole
			}
		}
		nodes[at[i]].Shares = made
	}
}

// device fills one device.
func (f *filler) device(c *Case, r *solver.Result, i int) DeviceOutcome {
	d := &f.p.Devices[i]
	solved := r.Status == solver.Solved
	if d.ToVent >= 0 && solved && c.Settings[i] != nil && c.Settings[i]["relieves_at_Pa"] != nil {
		c.Settings[i]["vents_kg_s"] = r.Elements[d.ToVent].FlowKgS
	}
	o := f.judged(c, r, i)
	if o.Settings == nil {
		o.Settings = map[string]any{}
	}
	if d.Kind == "multiway" {
		f.p.valveOutcome(c, r, d, &o)
	}
	if fault := text(c.Blocks[i], "fault"); fault != "" {
		o.Fault = f.word(fault)
	}
	if d.Kind == "relief" && d.Element >= 0 && solved {
		f.capacity(c, r, d, o.Settings)
	}
	first := len(f.ports)
	for _, port := range d.Ports {
		n, po := &r.Nodes[port.Node], PortOutcome{Name: port.Name, Node: f.p.Nodes[port.Node].Name}
		if solved {
			po.PressurePa = f.numbers.Known(n.PressurePa)
			if n.State != solver.Trapped {
				po.TemperatureK = f.numbers.Known(n.TemperatureK)
			}
			if d.Element >= 0 {
				if e := &r.Elements[d.Element]; e.FlowKgS != 0 && (port.Name == "out") == (e.FlowKgS > 0) {
					po.TemperatureK = f.numbers.Known(e.OutletK)
				}
			}
		}
		f.ports = append(f.ports, po)
	}
	o.Ports = f.ports[first:len(f.ports):len(f.ports)]
	if !solved {
		return o
	}
	switch role := d.Block.Type().Role; {
	case d.Kind == "multiway":
	case role == lang.Inline:
		f.stands(r, d, &o)
	case role == lang.Boundary, role == lang.Pot:
		o.State, o.Choked = f.word("open"), f.no
	case role == lang.AtNode:
		o.Settings["reads"] = text(c.Blocks[i], "reads")
	}
	return o
}

// judged fills what the rules ask of a device, in spreads too: what flows, of what, and
// what it reads.
func (f *filler) judged(c *Case, r *solver.Result, i int) DeviceOutcome {
	p, d := f.p, &f.p.Devices[i]
	o := DeviceOutcome{Tag: d.Tag, Kind: d.Kind, Settings: c.Settings[i]}
	if r.Status == solver.Solved {
		if wait := c.waiting[i]; wait != nil && r.Nodes[d.In].State != solver.Trapped {
			wait(r.Nodes[d.In].PressurePa)
		}
	}
	if d.Kind == "multiway" {
		return o
	}
	o.MolarMass, o.LiquidKgM3 = c.stream(r, d)
	if r.Status != solver.Solved {
		return o
	}
	switch role := d.Block.Type().Role; {
	case role == lang.AtNode:
		o.Reads = p.gauge(c, r, d, c.Blocks[i])
	case d.Element >= 0:
		o.MassFlowKgS = f.numbers.Known(r.Elements[d.Element].FlowKgS)
	case role == lang.Inline, role == lang.Boundary, role == lang.Pot: // equipment may be one node
		o.MassFlowKgS = f.numbers.Known(p.through(r, d))
	}
	if o.MassFlowKgS == nil {
		return o
	}
	if o.LiquidKgM3 == 0 && c.Site.Reference != nil && o.MolarMass != 0 {
		o.ReferenceFlowM3S = f.numbers.Known(*o.MassFlowKgS / o.MolarMass * c.Site.Reference.MolarVolume())
	}
	if d.Kind == "meter" {
		o.Reads = f.reading(c, r, d, c.Blocks[i], *o.MassFlowKgS)
	}
	return o
}

// stands says how a device in a path stands.
func (f *filler) stands(r *solver.Result, d *Device, o *DeviceOutcome) {
	if d.Element < 0 { // equipment that is one node
		o.State = f.word("open")
		return
	}
	e := &r.Elements[d.Element]
	o.State, o.Choked, o.Lift = f.word(e.State.String()), f.whether(e.Choked), f.numbers.Known(e.Lift)
	if o.Fault != nil && *o.Fault == "wide open" && oneWay(d.Kind) && e.State == solver.Open {
		o.State, o.Lift = f.word(solver.WideOpen.String()), f.numbers.Known(1)
	}
	if lift, ok := o.Settings["stuck_at_lift"].(float64); ok {
		o.Lift = f.numbers.Put(lift)
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
	molarMass, _ := c.stream(r, d)
	return molarMass
}

// LiquidKgM3 is the density of the liquid that passes a device, or stands before it,
// or behind it; 0 where that is a gas, or nothing.
func (c *Case) LiquidKgM3(r *solver.Result, d *Device) float64 {
	_, liquidKgM3 := c.stream(r, d)
	return liquidKgM3
}

func (c *Case) stream(r *solver.Result, d *Device) (molarMass, liquidKgM3 float64) {
	ends := c.ends(r, d)
	for _, n := range ends {
		node := &r.Nodes[n]
		if node.Gas != nil && molarMass == 0 {
			molarMass = node.Gas.MolarMass()
		}
		if node.DensityKgM3 > 0 && isLiquid(node.Gas) && liquidKgM3 == 0 {
			liquidKgM3 = node.DensityKgM3
		}
	}
	for _, n := range ends {
		if m := c.gases[n].mixture; m != nil && molarMass == 0 {
			molarMass = m.MolarMass()
		}
	}
	return molarMass, liquidKgM3
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

// A scaleState is what the scale of a meter is made for.
type scaleState struct {
	of      fluid.Composed
	pPa, tK float64
	kgM3    float64 // its density there
}

// reading is what a float meter shows [m3/s at the scale's reference state, or of
// liquid]: the true flow where its fluid is the one it was made for, else corrected
// for the density, and for a liquid's buoyancy.
func (f *filler) reading(c *Case, r *solver.Result, d *Device, b *lang.Block, w float64) *float64 {
	cal := b.Nested("calibrated_for")
	n := &r.Nodes[d.In]
	liquid := isLiquid(n.Gas)
	if cal == nil || n.Gas == nil || c.Site.Reference == nil && !liquid || w < 0 {
		return nil
	}
	rd := &reader{site: c.Site}
	cm := c.made.get(c.fluids[text(cal, "fluid")], rd)
	if cm == nil || isLiquid(cm) != liquid {
		return nil
	}
	at, was := scaleState{of: cm, pPa: rd.value(cal, "pressure"), tK: rd.value(cal, "temperature")}, f.scales[d.Number]
	if at.kgM3 = was.kgM3; at != was {
		var err error
		if at.kgM3, _, err = cm.Density(at.tK, at.pPa); err != nil {
			return nil
		}
		f.scales[d.Number] = at
	}
	rho0 := at.kgM3
	if !(n.DensityKgM3 > 0) {
		return nil
	}
	if liquid {
		return f.numbers.Known(device.LiquidFloatReading(w/n.DensityKgM3, n.DensityKgM3, rho0))
	}
	q := device.FloatReading(w/n.DensityKgM3, n.DensityKgM3, rho0)
	return f.numbers.Known(q * rho0 / cm.MolarMass() * c.Site.Reference.MolarVolume())
}
