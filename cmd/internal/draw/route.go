package draw

import (
	"cmp"
	"slices"

	"tapline/cmd/internal/draw/place"
)

// A run is a straight line between two points.
type run struct {
	x1, y1, x2, y2 float64
	dashed         bool
}

// A trunk is what one net or one sensing line needs between two columns: a
// vertical line on a track of its own, and a horizontal one to every cell.
type trunk struct {
	left, right []float64 // heights at which it leaves the left and the right column
	lane        float64   // for a sensing line: the height above the diagram it goes to, else 0
	x           float64
}

func (t *trunk) straight() bool {
	return t.lane == 0 && len(t.left) == 1 && len(t.right) == 1 && t.left[0] == t.right[0]
}

func (t *trunk) extent() (top, bottom float64) {
	all := slices.Concat(t.left, t.right)
	top, bottom = slices.Min(all), slices.Max(all)
	if t.lane != 0 {
		top = t.lane
	}
	return top, bottom
}

// Where a sensing line meets a cell, measured upwards from its axis.
const (
	domeHeight  = 20.0
	tapHeight   = 10.0
	tapDistance = 15.0 // left of a node's dot
	bonnet      = 9.0  // half the width of a bonnet
)

// route gives columns and tracks their places and draws all runs.
func (p *plan) route(spans []span) {
	last := 0
	for _, c := range p.cells {
		last = max(last, c.column)
	}
	channels := make([][]*trunk, last+2) // channel k is left of column k
	for _, s := range spans {
		t := &trunk{}
		for _, i := range s.left {
			t.left = append(t.left, p.cells[i].y)
		}
		for _, j := range s.right {
			t.right = append(t.right, p.cells[j].y)
		}
		channels[s.column+1] = append(channels[s.column+1], t)
	}
	type sensing struct{ up, down *trunk }
	lines := map[int]sensing{}
	lane := float64(margin)
	for i := range p.cells {
		c := &p.cells[i]
		if c.dome < 0 {
			continue
		}
		to := &p.cells[c.dome]
		s := sensing{&trunk{left: []float64{c.y - domeHeight}, lane: lane}, &trunk{right: []float64{to.y - tapHeight}, lane: lane}}
		channels[c.column+1] = append(channels[c.column+1], s.up)
		channels[to.column] = append(channels[to.column], s.down)
		lines[i] = s
		lane += laneApart
	}
	edge := p.columnPlaces(channels, last)
	for k, trunks := range channels {
		for _, t := range trunks {
			p.draw(t, edge[k][0], edge[k][1])
		}
	}
	for i := range p.cells {
		s, ok := lines[i]
		if !ok {
			continue
		}
		c, to := &p.cells[i], &p.cells[p.cells[i].dome]
		p.dash(c.x+bonnet, c.y-domeHeight, edge[c.column+1][0], c.y-domeHeight)
		p.dash(s.up.x, s.up.lane, s.down.x, s.up.lane)
		p.dash(edge[to.column][1], to.y-tapHeight, to.x-tapDistance, to.y-tapHeight)
		p.dash(to.x-tapDistance, to.y-tapHeight, to.x-tapDistance, to.y)
	}
	for i := range p.cells { // from the cell to the edge of its column
		c := &p.cells[i]
		if c.left {
			p.solid(edge[c.column][1], c.y, c.x-c.reach(), c.y)
		}
		if c.right {
			p.solid(c.x+c.reach(), c.y, edge[c.column+1][0], c.y)
		}
	}
}

// columnPlaces orders the tracks, and gives the left and right edge of every
// channel.
func (p *plan) columnPlaces(channels [][]*trunk, last int) [][2]float64 {
	widths := make([]float64, last+1)
	for _, c := range p.cells {
		widths[c.column] = max(widths[c.column], c.width)
	}
	edge := make([][2]float64, len(channels))
	x := float64(margin)
	for k, trunks := range channels {
		edge[k][0] = x
		x += channel / 2
		for _, t := range ordered(trunks) {
			t.x = x
			x += track
		}
		x += channel / 2
		edge[k][1] = x
		if k <= last {
			x += widths[k]
		}
	}
	for i := range p.cells {
		c := &p.cells[i]
		c.x = edge[c.column][1] + widths[c.column]/2
	}
	p.width = x + margin
	return edge
}

// near is how close two lines side by side may come.
const near = 4

// ordered gives the trunks that need a track, from left to right. Where one
// leaves the left column at the height at which another enters the right, the
// first must stand left of the second, or the two would lie on one another.
func ordered(trunks []*trunk) []*trunk {
	var rest, out []*trunk
	for _, t := range trunks {
		if !t.straight() {
			rest = append(rest, t)
		}
	}
	slices.SortStableFunc(rest, func(a, b *trunk) int {
		topA, bottomA := a.extent()
		topB, bottomB := b.extent()
		return cmp.Or(cmp.Compare(bottomB-topB, bottomA-topA), cmp.Compare(topA, topB))
	})
	slices.Reverse(rest) // short ones first
	meets := func(a, b *trunk) bool {
		for _, y := range a.left {
			for _, z := range b.right {
				if max(y-z, z-y) < near {
					return true
				}
			}
		}
		return false
	}
	for len(rest) > 0 {
		free := slices.IndexFunc(rest, func(t *trunk) bool {
			return !slices.ContainsFunc(rest, func(o *trunk) bool { return o != t && meets(o, t) })
		})
		free = max(free, 0) // a ring of demands: one of them goes unmet
		out = append(out, rest[free])
		rest = slices.Delete(rest, free, free+1)
	}
	return out
}

// draw draws one trunk between the edges of its channel.
func (p *plan) draw(t *trunk, left, right float64) {
	line := p.solid
	if t.lane != 0 {
		line = p.dash
	}
	if t.straight() {
		line(left, t.left[0], right, t.right[0])
		return
	}
	top, bottom := t.extent()
	line(t.x, top, t.x, bottom)
	for _, y := range t.left {
		line(left, y, t.x, y)
	}
	for _, y := range t.right {
		line(t.x, y, right, y)
	}
	if t.lane == 0 {
		p.branches(t, top, bottom)
	}
}

// branches marks where three or more lines of a trunk meet, which tells a joint
// from a crossing.
func (p *plan) branches(t *trunk, top, bottom float64) {
	ends := slices.Concat(t.left, t.right)
	slices.Sort(ends)
	for _, y := range slices.Compact(ends) {
		n := 0
		for _, meets := range []bool{slices.Contains(t.left, y), slices.Contains(t.right, y), y > top, y < bottom} {
			if meets {
				n++
			}
		}
		if n > 2 {
			p.joints = append(p.joints, place.Point{X: t.x, Y: y})
		}
	}
}

func (p *plan) solid(x1, y1, x2, y2 float64) { p.add(run{x1, y1, x2, y2, false}) }
func (p *plan) dash(x1, y1, x2, y2 float64)  { p.add(run{x1, y1, x2, y2, true}) }

func (p *plan) add(r run) {
	if r.x1 != r.x2 || r.y1 != r.y2 {
		p.runs = append(p.runs, r)
	}
}
