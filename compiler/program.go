package compiler

import (
	"slices"
	"strings"
	"sync"

	"tapline/lang"
	"tapline/lang/diag"
	"tapline/lang/path"
	"tapline/lang/quantity"
	"tapline/solver"
)

// A Program is one system, compiled. It does not change after Compile.
type Program struct {
	Description *lang.Description
	Nodes       []Node   // in the order in which the paths name them
	Devices     []Device // sorted by tag
	Network     *solver.Network

	byTag   map[string]int  // index into Devices
	place   map[string]int  // node of a terminal, see terminal
	fed     map[string]bool // terminals of multiway valves to which a way leads
	sources []int           // devices of kind source
	hops    [][]hop         // per node

	home func() (quantity.Site, float64) // site and ambient temperature of the base
}

// A Node is a place of one pressure.
type Node struct {
	Name    string
	Aliases []string // further labels, sorted
	// Boundary is the device whose pressure or flow is given here, -1 for none.
	Boundary int
	// Atmosphere says that the pressure here is that of the site: the bonnet of a
	// regulator whose diaphragm leaks in some case.
	Atmosphere bool
	// Gauges are the devices of kind gauge at this node.
	Gauges []int
	Range  diag.Range // where a path first names it
}

// A Device is one tag of the system: a block, or a tube written in a path.
type Device struct {
	Tag, Kind string
	Block     *lang.Block // as written; see Case.Block for a case's
	Ports     []Port      // sorted by name
	// ToBonnet and ToDome are the elements through which a leaking diaphragm passes,
	// where it does in some case; -1 elsewhere.
	ToBonnet, ToDome int
	// ToVent is the element through which a relieving reducer vents its outlet, -1
	// elsewhere.
	ToVent  int
	Element int // index into Network.Elements, -1 where it is none
	In, Out int // nodes of the element, or the one node of other devices

	// Passages are the devices that stand for the ways through a multiway valve, by
	// index; of such a device Way says which one it is and Of which valve's.
	Passages  []int
	Way       *lang.Passage
	Of        int
	positions []lang.Position // of a multiway valve

	Number int // its place in Program.Devices

	nodes  []int
	inline bool // a tube written in place
	index  int  // into Resolved.Blocks or Resolved.Inline
}

// Nodes gives the nodes at a device, each once: of its two ends, or of the ports of a
// multiway valve. The list is the device's own: do not change it.
func (d *Device) Nodes() []int { return d.nodes }

func (d *Device) findNodes() {
	if d.Kind != "multiway" {
		d.nodes = append(d.nodes, d.In, d.Out)
	}
	for _, p := range d.Ports {
		d.nodes = append(d.nodes, p.Node)
	}
	slices.Sort(d.nodes)
	d.nodes = slices.Compact(d.nodes)
}

// A Port is one end of a device.
type Port struct {
	Name string
	Node int
}

// Device gives the device with that tag.
func (p *Program) Device(tag string) (*Device, bool) {
	i, ok := p.byTag[tag]
	if !ok {
		return nil, false
	}
	return &p.Devices[i], true
}

// NodeAt gives the node of "(P1)", "P1", "TAG.port", or the tag of a source,
// vent or vessel.
func (p *Program) NodeAt(place string) (int, bool) {
	place = strings.TrimSuffix(strings.TrimPrefix(place, "("), ")")
	n, ok := p.place[place]
	return n, ok
}

// Compile lowers a description that was read without errors. Errors found are
// those of the graph.
func Compile(d *lang.Description) (*Program, []diag.Diagnostic) {
	p := &Program{Description: d, byTag: map[string]int{}, place: map[string]int{}, fed: map[string]bool{}}
	p.home = sync.OnceValues(func() (quantity.Site, float64) { return homeOf(d) })
	j := newJoiner()
	walk(d, j)
	p.devices(j)
	p.nodes(j)
	var found []diag.Diagnostic
	found = append(found, p.boundaries()...)
	found = append(found, p.elements()...)
	if !diag.HasErrors(found) {
		p.findHops()
		found = append(found, p.checkGraph()...)
	}
	for i := range p.Devices {
		p.Devices[i].findNodes()
	}
	return p, found
}

// devices lists every tag.
func (p *Program) devices(j *joiner) {
	p.Devices = make([]Device, 0, len(p.Description.Blocks)+8)
	for i, b := range p.Description.Blocks {
		if t := b.Type(); t.InPath() || t.Role == lang.AtNode {
			p.Devices = append(p.Devices, Device{Tag: b.Tag, Kind: b.Kind, Block: b, Element: -1, ToBonnet: -1, ToDome: -1, ToVent: -1, In: -1, Out: -1, index: i})
		}
		if b.Kind == "multiway" {
			p.Devices[len(p.Devices)-1].positions = b.Positions()
			p.Devices = append(p.Devices, p.passages(b, i)...)
		}
	}
	k := 0
	for _, l := range p.Description.Lines {
		for _, stops := range l.Stops {
			for _, s := range stops {
				if s.Kind == path.Tube {
					p.Devices = append(p.Devices, Device{Tag: s.Inline.Tag, Kind: "tube", Block: s.Inline, Element: -1, ToBonnet: -1, ToDome: -1, ToVent: -1, In: -1, Out: -1, inline: true, index: k})
					k++
				}
			}
		}
	}
	slices.SortFunc(p.Devices, func(a, b Device) int { return strings.Compare(a.Tag, b.Tag) })
	for i := range p.Devices {
		p.byTag[p.Devices[i].Tag] = i
		p.Devices[i].Number = i
		if p.Devices[i].Kind == "source" {
			p.sources = append(p.sources, i)
		}
	}
	for i := range p.Devices {
		if d := &p.Devices[i]; d.Way != nil {
			d.Of = p.byTag[p.Description.Blocks[d.index].Tag]
			p.Devices[d.Of].Passages = append(p.Devices[d.Of].Passages, i)
			p.fed[p.Devices[d.Of].Tag+"."+d.Way.To] = true
		}
	}
}

// nodes makes a node of every set of joined terminals, and names it.
func (p *Program) nodes(j *joiner) {
	index := make([]int, len(j.terminals)) // by root; 0 for none, 1 for node 0
	var members [][]string
	for i, t := range j.terminals {
		r := j.joined.root(i)
		if index[r] == 0 {
			p.Nodes = append(p.Nodes, Node{Boundary: -1, Range: t.at})
			members = append(members, nil)
			index[r] = len(p.Nodes)
		}
		n := index[r] - 1
		p.place[t.name] = n
		members[n] = append(members[n], t.name)
	}
	for i := range p.Nodes {
		p.Nodes[i].Name, p.Nodes[i].Aliases = p.name(members[i], j)
	}
	for i := range p.Devices {
		d := &p.Devices[i]
		if d.Kind == "gauge" {
			if n, ok := p.place[d.Tag]; ok {
				d.In, d.Out = n, n
				p.Nodes[n].Gauges = append(p.Nodes[n].Gauges, i)
				d.Ports = []Port{{"at", n}}
			}
			continue
		}
		p.ports(d)
	}
}

// ports finds the nodes of a device's ports.
func (p *Program) ports(d *Device) {
	names := d.Block.PortsOf()
	switch {
	case d.Kind == "source":
		names = []string{"out"}
	case d.Kind == "vent":
		names = []string{"in"}
	}
	names = slices.Sorted(slices.Values(names))
	if d.Kind == "multiway" {
		for _, name := range names {
			if n, ok := p.place[d.Tag+"."+name]; ok {
				d.Ports = append(d.Ports, Port{name, n})
			}
		}
		return
	}
	if n, ok := p.place[d.Tag]; ok && d.Block.Type().Role != lang.AtNode {
		d.In, d.Out = n, n
		for _, name := range names {
			d.Ports = append(d.Ports, Port{name, n})
			p.alias(d.Tag+"."+name, n)
		}
		return
	}
	from, to := d.Tag+".in", d.Tag+".out"
	if d.Way != nil {
		tag := p.Devices[d.Of].Tag
		from, to = tag+"."+d.Way.From, tag+"."+d.Way.To
	}
	in, okIn := p.place[from]
	out, okOut := p.place[to]
	if !okIn || !okOut {
		return // spare
	}
	d.In, d.Out = in, out
	for _, name := range names {
		n := in
		if name == "out" {
			n = out
		}
		d.Ports = append(d.Ports, Port{name, n})
		p.alias(d.Tag+"."+name, n)
	}
}

func (p *Program) alias(place string, n int) {
	if _, ok := p.place[place]; !ok {
		p.place[place] = n
	}
}

// boundaries notes which device fixes each node; two at one node are an error.
func (p *Program) boundaries() (found []diag.Diagnostic) {
	for i := range p.Devices {
		d := &p.Devices[i]
		if d.Block.Type().Role != lang.Boundary || d.In < 0 {
			continue
		}
		n := &p.Nodes[d.In]
		if n.Boundary < 0 {
			n.Boundary = i
			continue
		}
		first := &p.Devices[n.Boundary]
		found = append(found, diag.Diagnostic{
			Code: "boundaries-joined", Level: diag.Error, Range: d.Block.TagRange,
			Message: first.Tag + " and " + d.Tag + " meet at " + n.Name + " with nothing between them",
			Hint:    "put a device between them, or leave one out",
			Related: []diag.Related{{Range: first.Block.TagRange, Message: first.Tag}},
		})
	}
	return found
}

// elements makes the flow network.
func (p *Program) elements() (found []diag.Diagnostic) {
	names := make([]string, len(p.Nodes))
	for i := range p.Nodes {
		names[i] = p.Nodes[i].Name
	}
	var elements []solver.Element
	for i := range p.Devices {
		d := &p.Devices[i]
		if d.Block.Type().Role != lang.Inline || d.In < 0 || p.oneNode(d) {
			continue
		}
		if d.In == d.Out {
			found = append(found, diag.Diagnostic{
				Code: "joined-to-itself", Level: diag.Error, Range: d.Block.TagRange,
				Message: "both ends of " + d.Tag + " are at " + p.Nodes[d.In].Name,
				Hint:    "take it out, or give one end a node of its own",
			})
			continue
		}
		d.Element = len(elements)
		elements = append(elements, solver.Element{Name: d.Tag, From: d.In, To: d.Out, Sense: p.sense(d)})
	}
	if len(found) > 0 {
		return found
	}
	elements = p.bonnets(elements)
	for _, n := range p.Nodes[len(names):] {
		names = append(names, n.Name)
	}
	var err error
	if p.Network, err = solver.New(names, elements); err != nil {
		panic(err) // the indices above are made here
	}
	return nil
}

// oneNode reports whether an inline device is a single node (equipment with
// ports of its own).
func (p *Program) oneNode(d *Device) bool {
	_, ok := p.place[d.Tag]
	return ok
}

// sense gives the node that loads a regulator's dome in the base or in any
// case, or -1. All cases share one pattern, so there can be one such node only;
// lowering refuses another.
func (p *Program) sense(d *Device) int {
	blocks := []*lang.Block{d.Block}
	for _, c := range p.Description.Overlays() {
		for _, b := range c.Blocks {
			if b.Kind == d.Kind && b.Tag == d.Tag {
				blocks = append(blocks, b)
			}
		}
	}
	for _, b := range blocks {
		if i, ok := p.NodeAt(domeNode(b)); ok {
			return i
		}
	}
	return -1
}

// domeNode gives the node that a block's dome follows, as written, or "".
func domeNode(b *lang.Block) string {
	l := b.Nested("loading")
	if l == nil || !l.Has("dome") {
		return ""
	}
	if v := l.Get("dome"); v.Quantity == nil {
		return v.Text
	}
	return ""
}
