package draw

import (
	"fmt"
	"sync"

	"tapline/cmd/internal/draw/place"
)

// A symbol is one kind's drawing around the point (0, 0) on the axis of the
// line, inlet on the left. Reach is how far it goes along the line, up and down
// how far above and below.
type symbol struct {
	word            string // in the legend
	reach, up, down float64
	paint           func(b *brush, c *cell)
}

// symbols by kind; see symbolOf for the rest.
var symbols = sync.OnceValue(func() map[string]symbol {
	return map[string]symbol{
		"source":          {"source", 14, 9, 9, (*brush).source},
		"vent":            {"vent", 0, 4, 20, (*brush).vent},
		"tube":            {"tube", 20, 5, 5, (*brush).tube},
		"valve":           {"valve", 12, 13, 12, (*brush).valve},
		"multiway":        {"way through a multiway valve", 14, 9, 9, (*brush).multiway},
		"orifice":         {"orifice", 6, 10, 10, (*brush).orifice},
		"filter":          {"filter", 13, 12, 12, (*brush).filter},
		"check_valve":     {"check valve", 9, 9, 9, (*brush).check},
		"meter":           {"flow meter", 13, 14, 14, (*brush).meter},
		"flow_controller": {"flow controller", 12, 34, 9, (*brush).controller},
		"analyzer":        {"analyzer", 13, 14, 14, (*brush).analyzer},
		"equipment":       {"equipment", 16, 13, 13, (*brush).equipment},
		"vessel":          {"vessel", 13, 20, 20, (*brush).vessel},
		"reducer":         {"reducer", 20, 35, 9, (*brush).reducer},
		"holder":          {"holder", 20, 35, 9, (*brush).holder},
		"relief":          {"relief valve", 20, 35, 17, (*brush).relief},
		"node":            {"node", 4, 14, 4, (*brush).node},
		"":                {"", 0, 0, 0, func(b *brush, _ *cell) { b.line(-passSize/2, 0, passSize/2, 0) }},
	}
})

// symbolOf gives the symbol of a kind; a kind without one is a box.
func symbolOf(kind string) symbol {
	s, ok := symbols()[kind]
	if !ok {
		s = symbols()["equipment"]
		s.word = kind
	}
	return s
}

func (c *cell) reach() float64 {
	if c.kind == "" {
		return passSize / 2
	}
	return symbolOf(c.kind).reach
}

// A brush paints around a centre, turned round where the cell is.
type brush struct {
	*canvas
	x, y, sign float64
	up         float64 // of the symbol
}

func (b *brush) at(x, y float64) place.Point { return place.Point{X: b.x + b.sign*x, Y: b.y + y} }

func (b *brush) points(xy []float64) (ps []place.Point) {
	for i := 0; i+1 < len(xy); i += 2 {
		ps = append(ps, b.at(xy[i], xy[i+1]))
	}
	return ps
}

func (b *brush) line(xy ...float64)               { b.shape("part", false, b.points(xy)...) }
func (b *brush) impulse(xy ...float64)            { b.shape("impulse", false, b.points(xy)...) }
func (b *brush) area(class string, xy ...float64) { b.shape(class, true, b.points(xy)...) }

// fill is how a body looks: a shut valve is black.
func fill(c *cell) string {
	if c.stopped {
		return "shut"
	}
	return "symbol"
}

func (b *brush) source(*cell) { b.area("symbol", -14, -8, 6, -8, 14, 0, 6, 8, -14, 8) }

// vent turns downwards to an arrow, whatever the direction of the line.
func (b *brush) vent(*cell) {
	b.line(0, 0, 0, 10)
	b.area("shut", -5, 10, 5, 10, 0, 19)
}

func (b *brush) tube(*cell) {
	b.line(-20, 0, 20, 0)
	b.line(-16, -4, -16, 4)
	b.line(16, -4, 16, 4)
}

func (b *brush) bowtie(c *cell) { b.area(fill(c), -12, -7, 12, 7, 12, -7, -12, 7) }

// valve has a slanted arrow where it is set to throttle.
func (b *brush) valve(c *cell) {
	b.bowtie(c)
	if c.throttled {
		b.line(-9, 11, 9, -11)
		b.area("shut", 9, -11, 3.5, -9, 7.5, -5)
		return
	}
	b.line(0, 0, 0, -11)
	b.line(-5, -11, 5, -11)
}

// multiway is one way through a valve with several: two triangles and a plug between
// them, its bore along the way where that is open and across it where it is shut.
func (b *brush) multiway(c *cell) {
	b.area(fill(c), -14, -7, -4, 0, -14, 7)
	b.area(fill(c), 14, -7, 4, 0, 14, 7)
	b.bubble(b.x, b.y, 6)
	if c.stopped {
		b.line(0, -6, 0, 6)
		return
	}
	b.line(-6, 0, 6, 0)
}

func (b *brush) orifice(*cell) {
	b.line(-6, 0, 6, 0)
	b.line(-2, -9, -2, 9)
	b.line(2, -9, 2, 9)
}

func (b *brush) filter(*cell) {
	b.area("symbol", -13, 0, 0, -11, 13, 0, 0, 11)
	b.impulse(0, -11, 0, 11)
}

func (b *brush) check(c *cell) {
	b.area(fill(c), -9, -7, 7, 0, -9, 7)
	b.line(8, -8, 8, 8)
	b.line(7, 0, 9, 0)
}

func (b *brush) meter(*cell)    { b.bubble(b.x, b.y, 13, "FI") }
func (b *brush) analyzer(*cell) { b.bubble(b.x, b.y, 13, "AE") }

func (b *brush) controller(c *cell) {
	b.bowtie(c)
	b.line(0, 0, 0, -13)
	b.bubble(b.x, b.y-23, 10, "FC")
}

func (b *brush) equipment(*cell) { b.area("symbol", -16, -12, 16, -12, 16, 12, -16, 12) }

func (b *brush) vessel(*cell) {
	d := fmt.Sprintf("M%s %sv-20a13 8 0 0 1 26 0v20a13 8 0 0 1 -26 0Z", f1(b.x-13), f1(b.y+10))
	b.curve("symbol", d, extent{x1: b.x - 13, y1: b.y - 18, x2: b.x + 13, y2: b.y + 18})
}

// load draws what loads a regulator: a spring, or a dome with gas above it.
func (b *brush) load(c *cell) {
	b.line(0, 0, 0, -14)
	d := fmt.Sprintf("M%s %sa9 10 0 0 1 18 0Z", f1(b.x-bonnet), f1(b.y-14))
	b.curve("symbol", d, extent{x1: b.x - bonnet, y1: b.y - 24, x2: b.x + bonnet, y2: b.y - 14})
	if c.domed {
		b.line(5.5, -domeHeight, bonnet, -domeHeight)
		return
	}
	b.line(0, -24, 4, -25.5, -4, -28, 4, -30.5, -4, -33, 0, -34)
}

// reducer has its sensing line on the outlet, holder on the inlet.
func (b *brush) reducer(c *cell) { b.regulator(c, 1) }
func (b *brush) holder(c *cell)  { b.regulator(c, -1) }

func (b *brush) regulator(c *cell, side float64) {
	b.line(-20, 0, -12, 0)
	b.line(12, 0, 20, 0)
	b.bowtie(c)
	b.load(c)
	b.impulse(side*bonnet, -15, side*17, -15, side*17, 0)
}

// relief is an angle valve: in from the side, out downwards and round.
func (b *brush) relief(c *cell) {
	b.line(-20, 0, -13, 0)
	b.area(fill(c), -13, -7, 0, 0, -13, 7)
	b.area(fill(c), -7, 13, 0, 0, 7, 13)
	b.line(0, 13, 0, 16, 20, 16, 20, 0)
	b.load(c)
	b.impulse(-bonnet, -15, -17, -15, -17, 0)
}

// node is a dot; its gauges stand above it on a stem.
func (b *brush) node(c *cell) {
	b.line(-4, 0, 4, 0)
	b.dot(b.x, b.y)
	if c.tapped && !c.left {
		b.line(-tapDistance, 0, -4, 0)
	}
	if c.ending {
		side := 4.0
		if !c.left {
			side = -4
		}
		b.line(side, -5, side, 5)
	}
	b.gauges(c)
}

const stem = 14.0

func (b *brush) gauges(c *cell) {
	up := b.up
	r := gaugeRadius(c)
	for i, tag := range c.gauges {
		x := b.x + float64(i)*(2*r+8)
		if i == 0 {
			from := b.y
			if c.kind != "node" {
				from -= up
			}
			b.shape("part", false, place.Point{X: x, Y: from}, place.Point{X: x, Y: b.y - up - stem + 10})
		} else {
			b.shape("part", false, place.Point{X: x - r - 8, Y: b.y - up - 4 - r}, place.Point{X: x - r, Y: b.y - up - 4 - r})
		}
		b.bubble(x, b.y-up-4-r, r, splitTag(tag)...)
	}
}
