package compiler

import (
	"math"
	"slices"

	"tapline/lang"
	"tapline/solver"
)

// A multiway valve is lowered as one valve for each way that any of its positions
// joins, or that a seat leak passes, in any case: a device of its own in the network,
// shut unless the position of the case joins it. Everything that asks what can be open
// thus knows of it. The valve itself is in Program.Devices for its ports and what is
// stated of it; it is no element and has neither In nor Out.

// passages makes the devices for the ways through a multiway valve, the block of index
// i of the description.
func (p *Program) passages(b *lang.Block, i int) (out []Device) {
	ways := p.ways(b)
	for k, v := range b.Valves(ways) {
		out = append(out, Device{Tag: v.Tag, Kind: v.Kind, Block: v, Element: -1, ToBonnet: -1, ToDome: -1, ToVent: -1, In: -1, Out: -1, Way: &ways[k], index: i})
	}
	return out
}

// ways gives all ways through a multiway valve: those of its positions, then those that
// its leaks take in some case.
func (p *Program) ways(b *lang.Block) (out []lang.Passage) {
	seen := map[lang.Passage]bool{}
	add := func(ways []lang.Passage) {
		for _, w := range ways {
			if !seen[w] {
				seen[w] = true
				out = append(out, w)
			}
		}
	}
	for _, at := range b.Positions() {
		add(at.Open)
	}
	for _, s := range p.said(b) {
		if s.Has("leaks") {
			add(s.Leaks(""))
		}
	}
	return out
}

// said gives a block and all that cases lay over it.
func (p *Program) said(b *lang.Block) []*lang.Block {
	all := []*lang.Block{b}
	for _, c := range p.Description.Overlays() {
		for _, o := range c.Blocks {
			if o.Kind == b.Kind && o.Tag == b.Tag {
				all = append(all, o)
			}
		}
	}
	return all
}

// Together reports whether two ways can be open at once: those of one multiway valve
// only where one of its positions joins both.
func (p *Program) Together(a, b *Device) bool {
	if a.Way == nil || b.Way == nil || a.Of != b.Of {
		return true
	}
	return slices.ContainsFunc(p.Devices[a.Of].positions, func(at lang.Position) bool {
		return slices.Contains(at.Open, *a.Way) && slices.Contains(at.Open, *b.Way)
	})
}

// turn puts the ways through every multiway valve where its position has them.
func (p *Program) turn(c *Case) {
	for i := range p.Devices {
		d := &p.Devices[i]
		if d.Kind != "multiway" {
			continue
		}
		ways := make([]lang.Passage, len(d.Passages))
		for k, w := range d.Passages {
			ways[k] = *p.Devices[w].Way
		}
		for k, v := range c.Blocks[i].Valves(ways) {
			c.Blocks[d.Passages[k]] = v
		}
	}
}

// standing are the settings of a multiway valve. Its position is null where it is
// plugged.
func standing(b *lang.Block) map[string]any {
	position, _ := b.Stands()
	s := map[string]any{"position": position}
	if text(b, "fault") == "plugged" {
		s["position"] = nil
	}
	return s
}

// valveOutcome adds up what the ways of a multiway valve do. Its flow is that of all of
// them, each counted in its own direction.
func (p *Program) valveOutcome(c *Case, r *solver.Result, d *Device, o *DeviceOutcome) {
	o.Passages = []PassageOutcome{}
	state, choked, all := "shut", false, 0.0
	volume := new(float64)
	for _, k := range d.Passages {
		w := &p.Devices[k]
		if w.Element < 0 {
			continue // spare, and not all of its ports are joined
		}
		e := PassageOutcome{From: w.Way.From, To: w.Way.To, Settings: c.Settings[k], MolarMass: c.MolarMass(r, w), LiquidKgM3: c.LiquidKgM3(r, w)}
		if r.Status == solver.Solved {
			at := r.Elements[w.Element]
			is := at.State.String()
			if text(c.Blocks[k], "state") == "shut" {
				is = solver.Shut.String() // also where its seat leaks
			}
			e.State, e.Choked, e.MassFlowKgS = &is, &at.Choked, Known(at.FlowKgS)
			if e.LiquidKgM3 == 0 {
				e.ReferenceFlowM3S = referenceFlow(c, e.MolarMass, at.FlowKgS)
			}
			if is != solver.Shut.String() {
				state = is
			}
			choked = choked || at.Choked
			all += at.FlowKgS
			if volume != nil && e.ReferenceFlowM3S != nil {
				*volume += *e.ReferenceFlowM3S
			} else {
				volume = nil
			}
			if o.MolarMass == 0 || at.FlowKgS != 0 {
				o.MolarMass, o.LiquidKgM3 = e.MolarMass, e.LiquidKgM3
			}
		}
		o.Passages = append(o.Passages, e)
	}
	if r.Status == solver.Solved {
		o.State, o.Choked, o.MassFlowKgS = &state, &choked, Known(all)
		o.ReferenceFlowM3S = volume
	}
}

// PortFlow is what flows out of a port of a multiway valve into the system [kg/s], less
// what flows in there where ways lead both to it and from it; where they only lead from
// it, what flows in.
func (p *Program) PortFlow(r *solver.Result, d *Device, port string) float64 {
	in, out, leads := 0.0, 0.0, false
	for _, k := range d.Passages {
		w := &p.Devices[k]
		switch q := r.Elements[w.Element].FlowKgS; port {
		case w.Way.To:
			out += q
			leads = true
		case w.Way.From:
			in += q
		}
	}
	if !leads {
		return in
	}
	return out - in
}

// PassageAt gives the way at a port of a multiway valve that passes most, or the first;
// nil where none leads there.
func (p *Program) PassageAt(r *solver.Result, d *Device, port string) *Device {
	var most *Device
	for _, k := range d.Passages {
		w := &p.Devices[k]
		if w.Way.To != port && w.Way.From != port || w.Element < 0 {
			continue
		}
		if most == nil || r.Status == solver.Solved && math.Abs(r.Elements[w.Element].FlowKgS) > math.Abs(r.Elements[most.Element].FlowKgS) {
			most = w
		}
	}
	return most
}

// Ways gives the ways through a multiway valve as devices of their own, each with an
// inlet and an outlet and the tag "TAG.from > to"; none for other devices.
func (d *DeviceOutcome) Ways() (out []DeviceOutcome) {
	for i := range d.Passages {
		w := &d.Passages[i]
		way := DeviceOutcome{
			Tag: d.Tag + "." + lang.Passage{From: w.From, To: w.To}.String(), Kind: d.Kind, State: w.State, Choked: w.Choked, Settings: w.Settings,
			MassFlowKgS: w.MassFlowKgS, ReferenceFlowM3S: w.ReferenceFlowM3S, MolarMass: w.MolarMass, LiquidKgM3: w.LiquidKgM3,
		}
		for _, p := range d.Ports {
			switch p.Name {
			case w.From:
				p.Name = "in"
			case w.To:
				p.Name = "out"
			default:
				continue
			}
			way.Ports = append(way.Ports, p)
		}
		out = append(out, way)
	}
	return out
}
