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

// A lagMaker makes the lags of one case after the other. What moves in a case is worked
// out once, and followed once from each source. It belongs to one goroutine.
type lagMaker struct {
	p         *Program
	c         *Case
	r         *solver.Result
	transport *solver.Transport
	prepared  bool              // the transport is that of c
	from      []*solver.Arrival // per device
	inside    solver.Inside
	out       []LagOutcome
	seen      map[[2]string]bool // source and place, and whether anything arrives
	segments  []LagSegment       // per element and then per node
	passed    []bool             // of them
}

func (p *Program) lagMaker() *lagMaker {
	e, n := len(p.Network.Elements), len(p.Nodes)
	return &lagMaker{
		p: p, from: make([]*solver.Arrival, len(p.Devices)), seen: map[[2]string]bool{},
		inside:   solver.Inside{Elements: make([]solver.Inner, e), Nodes: make([]solver.Inner, n)},
		segments: make([]LagSegment, e+n), passed: make([]bool, e+n),
	}
}

// lags appends the lags of a case to all places that bands limit it of and, where shown
// is set, to all analyzers.
func (m *lagMaker) lags(into []LagOutcome, c *Case, r *solver.Result, shown bool) []LagOutcome {
	m.c, m.r, m.prepared, m.out = c, r, false, into
	clear(m.seen)
	clear(m.from)
	for _, b := range c.Resolved.Blocks {
		if b.Kind != "band" || !b.Has("lag") || !b.Has("at") {
			continue
		}
		sources := m.p.sources
		if b.Has("from") {
			if i, ok := m.p.byTag[text(b, "from")]; ok {
				sources = []int{i}
			}
		}
		for _, at := range b.Get("at").Texts() {
			m.to(at, sources, true)
		}
	}
	for i := range m.p.Devices {
		if d := &m.p.Devices[i]; shown && d.Kind == "analyzer" && d.Element >= 0 {
			m.to(d.Tag, m.p.sources, false)
		}
	}
	slices.SortFunc(m.out, func(a, b LagOutcome) int {
		return cmp.Or(cmp.Compare(a.From, b.From), cmp.Compare(a.To, b.To))
	})
	return m.out
}

// to adds the lags to a place from those of the sources that feed it; where none
// does and the lag is wanted all the same, the one that is missing from each.
func (m *lagMaker) to(at string, sources []int, wanted bool) {
	name, node, d, ok := m.p.spot(at)
	if !ok {
		return
	}
	first := len(m.out) // what is missing goes there too, as long as nothing arrives
	fed := false
	for _, s := range sources {
		source := &m.p.Devices[s]
		if source.In < 0 {
			continue
		}
		if arrives, seen := m.seen[[2]string{source.Tag, name}]; seen {
			if arrives && !fed {
				m.out, fed = m.out[:first], true
			}
			continue
		}
		var l solver.Lag
		if node >= 0 {
			l = m.arrival(s).At(node)
		} else {
			l = m.arrival(s).Through(d.Element)
		}
		o := LagOutcome{From: source.Tag, To: name, Reason: l.Reason}
		if l.Reason != "" {
			if wanted && !fed {
				m.out = append(m.out, o)
			}
			continue
		}
		if !fed {
			m.out, fed = m.out[:first], true
		}
		o.Part, o.Segments, o.Ways = l.Part, m.parts(&l), len(l.Ways)
		if node < 0 {
			if cycle := (&reader{}).value(m.c.Blocks[m.p.byTag[d.Tag]], "cycle"); cycle > 0 {
				l.Seconds += cycle
				l.Seconds95 += cycle
				o.Segments = append(o.Segments, LagSegment{Name: d.Tag + "'s cycle", Seconds: cycle})
			}
		}
		o.Seconds, o.Seconds95 = Known(l.Seconds), Known(l.Seconds95)
		m.out = append(m.out, o)
	}
	for _, o := range m.out[first:] {
		m.seen[[2]string{o.From, o.To}] = o.Reason == ""
	}
}

func (m *lagMaker) arrival(source int) *solver.Arrival {
	if !m.prepared {
		m.fill()
		if m.transport == nil {
			m.transport = m.p.Network.Transport(m.c.Solver, m.r, m.inside)
		} else {
			m.transport.Set(m.c.Solver, m.r, m.inside)
		}
		m.prepared = true
	}
	if m.from[source] == nil {
		m.from[source] = m.transport.From(m.p.Devices[source].In)
	}
	return m.from[source]
}

// parts adds up, over all ways, what each part takes of the mean: every part
// once, in the order of the elements and then of the vessels.
func (m *lagMaker) parts(l *solver.Lag) []LagSegment {
	clear(m.segments)
	clear(m.passed)
	elements, n := len(m.inside.Elements), 0
	for _, w := range l.Ways {
		for _, s := range w.Segments {
			i := s.Element
			if i < 0 {
				i = elements + s.Node
			}
			if !m.passed[i] {
				m.passed[i] = true
				n++
			}
			m.segments[i].Seconds += w.Part * (s.PlugS + s.TankS)
			m.segments[i].StirredS += w.Part * s.TankS
		}
	}
	out := make([]LagSegment, 0, n+1) // and a cycle
	add := func(d *Device, b *lang.Block, i int) {
		if m.passed[i] {
			out = append(out, LagSegment{Name: d.Tag, Seconds: m.segments[i].Seconds, StirredS: m.segments[i].StirredS, Bare: bare(d, b)})
		}
	}
	for i := range m.p.Devices {
		if d := &m.p.Devices[i]; d.Element >= 0 {
			add(d, m.c.Blocks[i], d.Element)
		}
	}
	for i := range m.p.Devices {
		if d := &m.p.Devices[i]; d.holds() && d.Element < 0 {
			add(d, m.c.Blocks[i], elements+d.In)
			m.segments[elements+d.In] = LagSegment{} // of two at one node the first stands for both
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

// fill gives the volumes of a case. A tube and a capillary follow from bore and
// length unless a volume is stated; where nothing is, there is none. A reducer's
// volume is that of its outlet side and a holder's or relief's that of its inlet
// side, where their sensing chambers are (common practice); other devices are
// filled with the mean of what enters and what leaves.
func (m *lagMaker) fill() {
	clear(m.inside.Elements)
	clear(m.inside.Nodes)
	r := &reader{}
	for i := range m.p.Devices {
		d, b := &m.p.Devices[i], m.c.Blocks[i]
		if !d.holds() {
			continue
		}
		volume, stated := r.nominal(b, "volume")
		v := solver.Inner{VolumeM3: volume, Mixing: r.value(b, "mixing")}
		if d.Element < 0 { // two at one node are counted as one
			n := &m.inside.Nodes[d.In]
			if all := n.VolumeM3 + v.VolumeM3; all > 0 {
				v.Mixing = (n.VolumeM3*n.Mixing + v.VolumeM3*v.Mixing) / all
				v.VolumeM3 = all
			}
			*n = v
			continue
		}
		bore, okBore := m.c.Settings[i]["bore_m"].(float64)
		length, okLength := m.c.Settings[i]["length_m"].(float64)
		if okBore && okLength {
			v.LengthM = length
			if !stated {
				v.VolumeM3 = math.Pi / 4 * bore * bore * length
			}
		}
		switch d.Kind {
		case "reducer":
			v.Side = solver.Downstream
		case "holder", "relief":
			v.Side = solver.Upstream
		}
		m.inside.Elements[d.Element] = v
	}
}
