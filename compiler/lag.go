package compiler

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"tapline/lang"
	"tapline/solver"
)

// Transport lags of a case: to every place that a band limits the lag of, and to
// every analyzer from each source that feeds it. An analyzer's own tag stands for
// what it shows: through its cell, plus its cycle.

// Spot gives what a band's place names: a node, or a device by its bare tag (node
// is then -1), and the place without parentheses.
func (p *Program) spot(place string) (name string, node int, d *Device, ok bool) {
	name = strings.TrimSuffix(strings.TrimPrefix(place, "("), ")")
	if d, ok = p.Device(name); ok {
		if d.Element < 0 {
			return name, d.In, d, d.In >= 0
		}
		return name, -1, d, true
	}
	node, ok = p.place[name]
	return name, node, nil, ok
}

// lags gives the lags to all places that bands limit it of and, where shown is set, to
// all analyzers.
func (p *Program) lags(c *Case, r *solver.Result, shown bool) []LagOutcome {
	made := &lagMaker{p: p, c: c, r: r, from: make([]*solver.Arrival, len(p.Devices)), out: []LagOutcome{}, seen: map[[2]string]bool{}}
	for _, b := range c.Resolved.Blocks {
		if b.Kind != "band" || !b.Has("lag") || !b.Has("at") {
			continue
		}
		sources := p.sources
		if b.Has("from") {
			if i, ok := p.byTag[text(b, "from")]; ok {
				sources = []int{i}
			}
		}
		for _, at := range b.Get("at").Texts() {
			made.to(at, sources, true)
		}
	}
	for i := range p.Devices {
		if d := &p.Devices[i]; shown && d.Kind == "analyzer" && d.Element >= 0 {
			made.to(d.Tag, p.sources, false)
		}
	}
	slices.SortFunc(made.out, func(a, b LagOutcome) int {
		return cmp.Or(cmp.Compare(a.From, b.From), cmp.Compare(a.To, b.To))
	})
	return made.out
}

// lagMaker collects the lags of one case. What moves is worked out once, and
// followed once from each source.
type lagMaker struct {
	p    *Program
	c    *Case
	r    *solver.Result
	t    *solver.Transport
	from []*solver.Arrival // per device
	out  []LagOutcome
	seen map[[2]string]bool
}

// to adds the lags to a place from those of the sources that feed it; where none
// does and the lag is wanted all the same, the one that is missing from each.
func (m *lagMaker) to(at string, sources []int, wanted bool) {
	name, node, d, ok := m.p.spot(at)
	if !ok {
		return
	}
	var fed, missing []LagOutcome
	for _, s := range sources {
		source := &m.p.Devices[s]
		if source.In < 0 {
			continue
		}
		o := LagOutcome{From: source.Tag, To: name}
		var l solver.Lag
		if node >= 0 {
			l = m.arrival(s).At(node)
		} else {
			l = m.arrival(s).Through(d.Element)
		}
		if o.Reason = l.Reason; l.Reason != "" {
			missing = append(missing, o)
			continue
		}
		o.Seconds, o.Seconds95, o.Part = Known(l.Seconds), Known(l.Seconds95), l.Part
		o.Segments, o.Ways = m.p.segments(m.c, &l), len(l.Ways)
		if node < 0 {
			if cycle := (&reader{}).value(m.c.Blocks[m.p.byTag[d.Tag]], "cycle"); cycle > 0 {
				*o.Seconds += cycle
				*o.Seconds95 += cycle
				o.Segments = append(o.Segments, LagSegment{Name: d.Tag + "'s cycle", Seconds: cycle})
			}
		}
		fed = append(fed, o)
	}
	if wanted && len(fed) == 0 {
		fed = missing
	}
	for _, o := range fed {
		if k := [2]string{o.From, o.To}; !m.seen[k] {
			m.seen[k] = true
			m.out = append(m.out, o)
		}
	}
}

func (m *lagMaker) arrival(source int) *solver.Arrival {
	if m.t == nil {
		m.t = m.p.Network.Transport(m.c.Solver, m.r, m.p.inside(m.c))
	}
	if m.from[source] == nil {
		m.from[source] = m.t.From(m.p.Devices[source].In)
	}
	return m.from[source]
}

// segments adds up, over all ways, what each part takes of the mean: every part
// once, in the order of the elements and then of the vessels.
func (p *Program) segments(c *Case, l *solver.Lag) []LagSegment {
	elements, nodes := make(map[int]*LagSegment), make(map[int]*LagSegment)
	for _, w := range l.Ways {
		for _, s := range w.Segments {
			of, i := elements, s.Element
			if i < 0 {
				of, i = nodes, s.Node
			}
			o := of[i]
			if o == nil {
				o = &LagSegment{}
				of[i] = o
			}
			o.Seconds += w.Part * (s.PlugS + s.TankS)
			o.StirredS += w.Part * s.TankS
		}
	}
	var out []LagSegment
	for i := range p.Devices {
		d := &p.Devices[i]
		if o := elements[d.Element]; d.Element >= 0 && o != nil {
			o.Name, o.Bare = d.Tag, bare(d, c.Blocks[i])
			out = append(out, *o)
		}
	}
	for i := range p.Devices {
		d := &p.Devices[i]
		if o := nodes[d.In]; o != nil && d.holds() && d.Element < 0 {
			o.Name, o.Bare = d.Tag, bare(d, c.Blocks[i])
			out = append(out, *o)
			*o = LagSegment{} // of two at one node the first stands for both
		}
	}
	return out
}

// holds reports whether a device has an inside: it is neither an end of the system
// nor an instrument at a node, and it is in a path.
func (d *Device) holds() bool {
	role := d.Block.Type().Role
	return d.In >= 0 && (role == lang.Inline || role == lang.Pot)
}

// bare reports whether nothing says how much a device holds.
func bare(d *Device, b *lang.Block) bool {
	return d.Kind != "tube" && !b.Has("volume") && !(d.Kind == "orifice" && b.Has("length"))
}

// inside gives the volumes of a case. A tube and a capillary follow from bore and
// length unless a volume is stated; where nothing is, there is none. A reducer's
// volume is that of its outlet side and a holder's or relief's that of its inlet
// side, where their sensing chambers are (common practice); other devices are
// filled with the mean of what enters and what leaves.
func (p *Program) inside(c *Case) solver.Inside {
	in := solver.Inside{Elements: make([]solver.Inner, len(p.Network.Elements)), Nodes: make([]solver.Inner, len(p.Nodes))}
	r := &reader{}
	for i := range p.Devices {
		d, b := &p.Devices[i], c.Blocks[i]
		if !d.holds() {
			continue
		}
		v := solver.Inner{VolumeM3: r.value(b, "volume"), Mixing: r.value(b, "mixing")}
		if d.Element < 0 { // two at one node are counted as one
			n := &in.Nodes[d.In]
			if all := n.VolumeM3 + v.VolumeM3; all > 0 {
				v.Mixing = (n.VolumeM3*n.Mixing + v.VolumeM3*v.Mixing) / all
				v.VolumeM3 = all
			}
			*n = v
			continue
		}
		bore, okBore := c.Settings[i]["bore_m"].(float64)
		length, okLength := c.Settings[i]["length_m"].(float64)
		if okBore && okLength {
			v.LengthM = length
			if !b.Has("volume") {
				v.VolumeM3 = math.Pi / 4 * bore * bore * length
			}
		}
		switch d.Kind {
		case "reducer":
			v.Side = solver.Downstream
		case "holder", "relief":
			v.Side = solver.Upstream
		}
		in.Elements[d.Element] = v
	}
	return in
}
