package lang

import (
	"fmt"
	"slices"
	"strings"

	"tapline/lang/diag"
	"tapline/lang/path"
)

// uses is how the paths use one device: where each port is joined, and where
// its tag stands bare.
type uses struct {
	ports []joint
	bare  diag.Range
	ended bool // bare at the end of a path: only one side is joined
}

// A joint is a port that is joined, and where.
type joint struct {
	port string
	at   diag.Range
}

// joint gives where a port is joined, nil where it is not.
func (u *uses) joint(port string) *joint {
	for i := range u.ports {
		if u.ports[i].port == port {
			return &u.ports[i]
		}
	}
	return nil
}

// PortsOf gives the names of a device's ports.
func (b *Block) PortsOf() []string {
	if b.Has("ports") {
		return b.Attrs["ports"].Texts()
	}
	return b.typ.Ports
}

// placeStops walks all paths: every stop must name something, and every port
// is joined once.
func (d *Description) placeStops(found *collector) {
	for _, l := range d.Lines {
		for _, stops := range l.Stops {
			d.placePath(stops, found)
		}
	}
	n := d.names
	if n.torn {
		return
	}
	for _, name := range n.nodes {
		at, ends := n.ends[name]
		if ends && n.labelN[name] == 1 && !n.capped[name] {
			found.errorf(openEnd, at, fmt.Sprintf("(%s) -> cap closes it", name), "the path ends at (%s), which stands nowhere else", name)
		}
		if b := n.devices[name]; b != nil && b.typ.Role != AtNode {
			found.errorf(repeatedName, n.labels[name], "give the node another name", "(%s) has the name of the %s %s", name, b.Kind, show(name)).
				relate(b.Range, "the "+b.Kind)
		}
	}
	for _, b := range d.Blocks {
		switch {
		case b.typ.InPath():
			d.joined(b, found)
		case b.typ.Role == AtNode:
			if _, ok := n.labels[b.Tag]; !ok && !spare(b) {
				found.errorf(loneGauge, b.TagRange, found.meant(b.Tag, n.nodes), "no path holds the node (%s) that this gauge is at", b.Tag)
			}
		}
	}
}

func spare(b *Block) bool { v := b.Get("spare"); return v != nil && v.Flag }

func (d *Description) placePath(stops []Stop, found *collector) {
	n := d.names
	for i := range stops {
		s := &stops[i]
		first, last := i == 0, i == len(stops)-1
		switch s.Kind {
		case path.Label:
			n.addLabel(s.Name, s.Range)
			if first || last {
				n.ends[s.Name] = s.Range
			}
			if !last && stops[i+1].Kind == path.Cap || !first && stops[i-1].Kind == path.Cap {
				n.capped[s.Name] = true
			}
		case path.Tube:
			if len(stops) > 1 && (first || last) {
				found.errorf(openEnd, s.Range, "name a node there: (P1)", "a tube at the end of a path leads nowhere")
			}
		case path.Cap:
			if !first && !last {
				found.errorf(openEnd, s.Range, "begin a new path after it", "a cap ends a path")
			}
		case path.Device:
			d.placeDevice(s, first, last, found)
		}
	}
}

func (d *Description) placeDevice(s *Stop, first, last bool, found *collector) {
	n := d.names
	b := n.devices[s.Name]
	if b == nil {
		d.unknownStop(s, found)
		return
	}
	if b.typ.NotBuilt {
		return
	}
	u := n.usesOf[b]
	if u == nil {
		u = &uses{}
		n.usesOf[b] = u
	}
	switch b.typ.Role {
	case AtNode:
		found.errorf(unknownTag, s.Range, fmt.Sprintf("(%s)", s.Name), "%s is a gauge; it stands at the node of its name", show(s.Name))
	case Boundary:
		if s.Port != "" {
			found.errorf(unknownPort, s.Range, s.Name, "%s has no ports", article(b.Kind))
		}
		if !first && !last {
			found.errorf(midBoundary, s.Range, "begin a new path there", "the %s %s ends a path; nothing flows through it", b.Kind, show(s.Name))
		}
	case Pot:
		if s.Port != "" {
			d.joinPort(b, u, s, s.Port, found)
		}
	default:
		d.placeInline(b, u, s, first, last, found)
	}
}

// placeInline places a device that stands between two nodes.
func (d *Description) placeInline(b *Block, u *uses, s *Stop, first, last bool, found *collector) {
	if s.Port != "" {
		d.joinPort(b, u, s, s.Port, found)
		return
	}
	if !u.bare.IsZero() {
		found.errorf(deviceTwice, s.Range, "name the node between: (P1)", "%s stands in a path already", show(s.Name)).relate(u.bare, "there")
		return
	}
	u.bare = s.Range
	u.ended = first || last
	if own := b.PortsOf(); !slices.Contains(own, "in") || !slices.Contains(own, "out") {
		found.errorf(unknownPort, s.Range, fmt.Sprintf("%s.%s", s.Name, own[0]), "%s has the ports %s; say which", show(s.Name), strings.Join(own, ", "))
		return
	}
	if !first {
		d.joinPort(b, u, s, "in", found)
	}
	if !last {
		d.joinPort(b, u, s, "out", found)
	}
}

func (d *Description) joinPort(b *Block, u *uses, s *Stop, port string, found *collector) {
	if own := b.PortsOf(); !slices.Contains(own, port) {
		found.errorf(unknownPort, s.Range, found.meant(port, own), "%s has no port %s", show(s.Name), show(port))
		return
	}
	if first := u.joint(port); first != nil {
		found.errorf(portTwice, s.Range, "join both at a node: (P1)", "%s.%s is joined already", s.Name, port).relate(first.at, "there")
		return
	}
	u.ports = append(u.ports, joint{port, s.Range})
}

// joined reports a device that nothing, or only one side, is joined to.
func (d *Description) joined(b *Block, found *collector) {
	u := d.names.usesOf[b]
	if u == nil {
		if !spare(b) {
			found.errorf(unusedDevice, b.Range, "put it into the path of a line, or say spare = true", "%s stands in no path", b.what())
		}
		return
	}
	if b.typ == multiwayBlock && !spare(b) {
		whole := slices.Contains(b.PortsOf(), "in") && slices.Contains(b.PortsOf(), "out")
		if !u.bare.IsZero() && !whole {
			return // reported where it stands
		}
		for _, e := range b.Get("ports").List {
			if u.joint(e.Text) == nil {
				found.errorf(openEnd, e.Range, fmt.Sprintf("%s.%s -> ..., or %[1]s.%[2]s -> (P1) -> cap", b.Tag, e.Text), "nothing is joined to %s.%s", b.Tag, e.Text)
			}
		}
		return
	}
	if b.typ.Role != Inline || b.Has("ports") || spare(b) {
		return
	}
	for _, side := range []string{"in", "out"} {
		if u.joint(side) != nil || len(u.ports) == 0 {
			continue
		}
		at := u.bare
		for _, p := range b.PortsOf() {
			if j := u.joint(p); j != nil && at.IsZero() {
				at = j.at
			}
		}
		hint := fmt.Sprintf("%s -> ...", b.Tag)
		if side == "in" {
			hint = fmt.Sprintf("... -> %s", b.Tag)
		}
		found.errorf(openEnd, at, hint, "nothing is joined to %s.%s", b.Tag, side)
	}
}

// unknownStop reports a tag in a path that no block has.
func (d *Description) unknownStop(s *Stop, found *collector) {
	if strings.Contains(s.Name, "/") {
		found.errorf(notYetBuilt, s.Range, "", "panels are part of the language and not yet built in this version")
		return
	}
	hint := fmt.Sprintf(`valve "%s" { ... }, or (%s) for a node`, s.Name, s.Name)
	if near := found.nearest(s.Name, d.names.tags); near != "" {
		hint = fmt.Sprintf("did you mean %q?", near)
	}
	if _, ok := d.names.labels[s.Name]; ok {
		hint = fmt.Sprintf("(%s), the node", s.Name)
	}
	found.errorf(unknownTag, s.Range, hint, "no device, source or vent is called %s", show(s.Name))
}
