// Package draw makes a diagram of one solved case of a system: symbols after the
// practice of ISA-5.1 (instrument bubbles, sensing lines) and ISO 10628-2 (valves,
// restrictions, vessels), gas flowing from left to right.
//
// A picture is made in four steps, each with a file of its own:
//
//   - model: every device, boundary and named node becomes a cell, every
//     connection a net that joins the right sides of some cells to the left side
//     of others;
//   - columns: cells get a column each, and a net that spans several columns gets
//     a cell of passage in each column between, so that every connection is
//     between neighbours; what the helper adds is the height of each cell;
//   - route: between two columns every net has one vertical track of its own, so
//     lines are straight, meet only where they are joined, and never enter a cell;
//   - paint: all text stands inside a cell, above or below its symbol. Lines stay
//     outside the cells or on their axes, so no text can lie on another or on a
//     line.
package draw

import (
	"slices"
	"strings"

	"tapline/compiler"
	"tapline/lang/diag"
)

// A Diagram is what is known of one case before anything has a place.
type Diagram struct {
	System  *compiler.SystemOutcome
	Case    *compiler.CaseOutcome
	Network *compiler.NetworkDocument
	Flags   []diag.Diagnostic // of this case, cautions and alarms that are not waived

	cells []cell
	nets  []net
	units units
	loose []diag.Diagnostic // flags that belong to no cell
}

// A cell is one symbol with its text. Its kind is that of the device, or "node"
// for a place where lines meet, or "" for a line passing through a column.
type cell struct {
	kind, tag    string
	above, below []string                // text, outwards from the symbol
	valve        *compiler.DeviceOutcome // of a way through a multiway valve
	gauges       []string
	flags        []diag.Diagnostic
	direction    int  // of flow: 1 to the right, -1 to the left, 0 none
	mirrored     bool // inlet on the right
	stopped      bool // shut
	throttled    bool // a valve set between shut and open
	tapped       bool // a sensing line starts here
	domed        bool
	left, right  bool // has a line on that side
	ending       bool // a node with nothing beyond
	dome         int  // cell whose pressure loads the dome, -1 for none

	column int
	width  float64
	height float64
	x, y   float64 // of the symbol's centre
}

// A net joins the right sides of cells to the left sides of others; one of the
// two lists has one cell.
type net struct{ left, right []int }

// New makes the diagram of a case. The network must be that of the system.
func New(s *compiler.SystemOutcome, c *compiler.CaseOutcome, n *compiler.NetworkDocument, flags []diag.Diagnostic) *Diagram {
	d := &Diagram{System: s, Case: c, Network: n, units: unitsOf(s, c)}
	for _, f := range flags {
		if f.System == s.Name && (f.Case == "" || f.Case == c.Name) && f.Level >= diag.Caution && !f.Waived {
			d.Flags = append(d.Flags, f)
		}
	}
	d.build()
	return d
}

// ends are the cells on the two sides of a node.
type ends struct{ left, right []int }

func (d *Diagram) build() {
	mirrored := backward(d.Network)
	at := map[string]*ends{}
	for _, n := range d.Network.Nodes {
		at[n.Name] = &ends{}
	}
	outcome := map[string]*compiler.DeviceOutcome{}
	for i := range d.Case.Devices {
		v := &d.Case.Devices[i]
		outcome[v.Tag] = v
		for _, way := range v.Ways() {
			outcome[way.Tag] = &way
		}
	}
	loaded := map[string]bool{}
	cellOf := map[string]int{}
	for i, e := range d.Network.Elements {
		c := cell{kind: e.Kind, tag: e.Tag, valve: outcome[e.Valve], mirrored: mirrored[i], left: true, right: true, dome: -1}
		if e.Loaded != nil {
			c.domed, loaded[*e.Loaded] = true, true
		}
		from, to := at[e.From], at[e.To]
		if c.mirrored {
			from, to = to, from
		}
		from.right = append(from.right, len(d.cells))
		to.left = append(to.left, len(d.cells))
		cellOf[e.Tag] = len(d.cells)
		if _, first := cellOf[e.Valve]; e.Valve != "" && !first {
			cellOf[e.Valve] = len(d.cells) // where what is said of all of it stands
		}
		d.cells = append(d.cells, c)
	}
	pot := map[string]string{} // node -> the device that is all of it
	gauges := map[string][]string{}
	for i := range d.Case.Devices {
		v := &d.Case.Devices[i]
		if _, isElement := cellOf[v.Tag]; isElement || v.Passages != nil || len(v.Ports) == 0 || at[v.Ports[0].Node] == nil {
			continue
		}
		n := v.Ports[0].Node
		switch v.Kind {
		case "gauge":
			gauges[n] = append(gauges[n], v.Tag)
			continue
		case "source":
			at[n].left = append(at[n].left, len(d.cells))
			d.cells = append(d.cells, cell{kind: v.Kind, tag: v.Tag, right: true, dome: -1})
		case "vent":
			at[n].right = append(at[n].right, len(d.cells))
			d.cells = append(d.cells, cell{kind: v.Kind, tag: v.Tag, left: true, dome: -1})
		default:
			pot[n] = v.Tag
			continue
		}
		cellOf[v.Tag] = len(d.cells) - 1
	}
	nodeCell := map[string]int{}
	for _, n := range d.Network.Nodes {
		e := at[n.Name]
		plain := strings.Contains(n.Name, ".") || n.Boundary != nil
		direct := min(len(e.left), len(e.right)) == 1
		if plain && direct && len(gauges[n.Name]) == 0 && !loaded[n.Name] && pot[n.Name] == "" {
			d.nets = append(d.nets, net(*e))
			continue
		}
		c := cell{kind: "node", tag: n.Name, gauges: gauges[n.Name], left: len(e.left) > 0, right: len(e.right) > 0, dome: -1,
			ending: len(e.left)+len(e.right) == 1 && pot[n.Name] == ""}
		if tag := pot[n.Name]; tag != "" {
			c.kind, c.tag = outcome[tag].Kind, tag
			cellOf[tag] = len(d.cells)
		}
		me := len(d.cells)
		d.cells = append(d.cells, c)
		nodeCell[n.Name] = me
		if c.left {
			d.nets = append(d.nets, net{e.left, []int{me}})
		}
		if c.right {
			d.nets = append(d.nets, net{[]int{me}, e.right})
		}
	}
	for _, e := range d.Network.Elements {
		if e.Loaded != nil {
			if n, ok := nodeCell[*e.Loaded]; ok {
				d.cells[cellOf[e.Tag]].dome = n
				d.cells[n].tapped = true
			}
		}
	}
	d.assign(cellOf, nodeCell)
	for i := range d.cells {
		d.describe(&d.cells[i], outcome[d.cells[i].tag], nodeCell)
	}
}

// assign puts every flag at the cell it is about.
func (d *Diagram) assign(cellOf, nodeCell map[string]int) {
	for _, n := range d.Network.Nodes {
		if i, ok := nodeCell[n.Name]; ok {
			for _, a := range n.Aliases {
				if _, taken := nodeCell[a]; !taken {
					nodeCell[a] = i
				}
			}
		}
	}
	for _, f := range d.Flags {
		place := strings.TrimSuffix(strings.TrimPrefix(f.At, "("), ")")
		tag, _, _ := strings.Cut(place, ".")
		i, ok := cellOf[place]
		if !ok {
			i, ok = nodeCell[place]
		}
		if !ok {
			i, ok = cellOf[tag]
		}
		if !ok {
			d.loose = append(d.loose, f)
			continue
		}
		same := func(g diag.Diagnostic) bool { return g.Code == f.Code && g.Level == f.Level }
		if !slices.ContainsFunc(d.cells[i].flags, same) {
			d.cells[i].flags = append(d.cells[i].flags, f)
		}
	}
}

// backward tells which elements must be drawn against their path, so that what
// is left runs from left to right without a ring.
func backward(n *compiler.NetworkDocument) []bool {
	back := make([]bool, len(n.Elements))
	out := map[string][]int{}
	for i, e := range n.Elements {
		out[e.From] = append(out[e.From], i)
	}
	const open, done = 1, 2
	state := map[string]int{}
	var visit func(string)
	visit = func(name string) {
		state[name] = open
		for _, i := range out[name] {
			switch to := n.Elements[i].To; state[to] {
			case open:
				back[i] = true
			case 0:
				visit(to)
			}
		}
		state[name] = done
	}
	for _, node := range n.Nodes { // in the order of the paths, so from the sources as written
		if node.Boundary != nil && state[node.Name] == 0 {
			visit(node.Name)
		}
	}
	for _, node := range n.Nodes {
		if state[node.Name] == 0 {
			visit(node.Name)
		}
	}
	return back
}
