package draw

import (
	"fmt"
	"strconv"
	"strings"
	"unicode/utf8"

	"tapline/cmd/internal/draw/place"
)

// A canvas collects what is painted, as SVG and as the extents that the tests
// hold against one another.
type canvas struct {
	svg   strings.Builder
	texts []extent
	lines []extent // runs
	marks []extent // symbols
}

// An extent is a rectangle on the page.
type extent struct {
	x1, y1, x2, y2 float64
	what           string
}

// Text is set in a fixed-width face, so that its width is known here as well as
// where it is shown. The face's own advance is 0.602 of its size (DejaVu Sans
// Mono, Liberation Mono: 1233/2048, 1229/2048); 0.62 leaves a little to faces of
// the reader's own.
const (
	fontSize  = 9.0
	advance   = 0.62
	lineSkip  = 11.0
	ascent    = 0.78
	descent   = 0.24
	fontNames = "'DejaVu Sans Mono','Liberation Mono',monospace"
)

func textWidth(s string) float64 { return float64(utf8.RuneCountInString(s)) * fontSize * advance }

// Colours; every meaning they carry is carried by a shape or a word as well.
const (
	ink     = "#1c1c1c"
	paper   = "#ffffff"
	quiet   = "#5c5c5c"
	alarm   = "#a4001c"
	caution = "#8a5200"
)

// f1 rounds to tenths, which is finer than any screen.
func f1(v float64) string {
	s := strconv.FormatFloat(v, 'f', 1, 64)
	return strings.TrimSuffix(s, ".0")
}

var escape = strings.NewReplacer("&", "&amp;", "<", "&lt;", ">", "&gt;", `"`, "&quot;")

// visible replaces what XML cannot hold.
func visible(s string) string {
	return strings.Map(func(r rune) rune {
		if r < ' ' || r == 0xFFFE || r == 0xFFFF || r == utf8.RuneError {
			return '?'
		}
		return r
	}, s)
}

// text writes a line; anchor is "start" or "middle", y is the base line.
func (c *canvas) text(x, y float64, anchor, class, s string) {
	if s == "" {
		return
	}
	left := x
	if anchor == "middle" {
		left = x - textWidth(s)/2
	}
	c.texts = append(c.texts, extent{left, y - ascent*fontSize, left + textWidth(s), y + descent*fontSize, s})
	fmt.Fprintf(&c.svg, "<text x=\"%s\" y=\"%s\" text-anchor=\"%s\" class=\"%s\">%s</text>\n", f1(x), f1(y), anchor, class, escape.Replace(visible(s)))
}

// run draws one of the lines between symbols.
func (c *canvas) run(r run) {
	class := "pipe"
	if r.dashed {
		class = "sense"
	}
	c.lines = append(c.lines, extent{min(r.x1, r.x2), min(r.y1, r.y2), max(r.x1, r.x2), max(r.y1, r.y2), class})
	fmt.Fprintf(&c.svg, "<path class=\"%s\" d=\"M%s %sL%s %s\"/>\n", class, f1(r.x1), f1(r.y1), f1(r.x2), f1(r.y2))
}

// shape draws a polygon (closed) or a broken line, as part of a symbol.
func (c *canvas) shape(class string, closed bool, points ...place.Point) {
	e := extent{points[0].X, points[0].Y, points[0].X, points[0].Y, class}
	var d strings.Builder
	for i, p := range points {
		e.x1, e.y1, e.x2, e.y2 = min(e.x1, p.X), min(e.y1, p.Y), max(e.x2, p.X), max(e.y2, p.Y)
		d.WriteString(map[bool]string{true: "M", false: "L"}[i == 0] + f1(p.X) + " " + f1(p.Y))
	}
	if closed {
		d.WriteString("Z")
	}
	c.marks = append(c.marks, e)
	fmt.Fprintf(&c.svg, "<path class=\"%s\" d=\"%s\"/>\n", class, d.String())
}

// curve draws a path that is given whole, with its extent.
func (c *canvas) curve(class, d string, e extent) {
	e.what = class
	c.marks = append(c.marks, e)
	fmt.Fprintf(&c.svg, "<path class=\"%s\" d=\"%s\"/>\n", class, d)
}

// bubble draws a circle with up to two lines of text inside.
func (c *canvas) bubble(x, y, r float64, inside ...string) {
	c.marks = append(c.marks, extent{x - r, y - r, x + r, y + r, "bubble"})
	fmt.Fprintf(&c.svg, "<circle class=\"symbol\" cx=\"%s\" cy=\"%s\" r=\"%s\"/>\n", f1(x), f1(y), f1(r))
	for i, s := range inside {
		base := y + fontSize*0.36 + (float64(i)-float64(len(inside)-1)/2)*lineSkip
		c.text(x, base, "middle", "inside", s)
	}
}

func (c *canvas) dot(x, y float64) {
	c.marks = append(c.marks, extent{x - 2, y - 2, x + 2, y + 2, "dot"})
	fmt.Fprintf(&c.svg, "<circle class=\"dot\" cx=\"%s\" cy=\"%s\" r=\"2.2\"/>\n", f1(x), f1(y))
}
