// Package chart draws lines over two axes, with marked points and a shaded band:
// as SVG to look at and as a table to read. The same chart gives the same bytes.
package chart

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"unicode/utf8"
)

// A Chart is what is drawn, in the units that its axes name.
type Chart struct {
	Title, Subtitle string
	XAxis, YAxis    string
	Lines           []Line
	Marks           []Mark
	Low, High       float64 // the band allowed on y; NaN where it has no end
	Levels          []Level
	Notes           []string // sentences under it
	Below           string   // text that stands under the tables, as it is
	Lifts           bool     // the first line is marked with how far it is open
}

// A Line is drawn through its points.
type Line struct {
	Name   string
	Points []Point
}

// A Point is one of a line. Lift is in per cent, NaN for none.
type Point struct{ X, Y, Lift float64 }

// A Mark is a single point with a name.
type Mark struct {
	Name  string
	State string
	Point
}

// A Level is a marked value of y.
type Level struct {
	Y    float64
	Name string
}

const (
	width, height           = 860.0, 520.0
	left, right, top, below = 78.0, 250.0, 52.0, 58.0
	lineSkip                = 14.0
	columns                 = 120 // of notes in a drawing
)

// dashes tell the lines apart without colour.
var dashes = []string{"", "7 3", "2 3", "9 3 2 3", "12 4", "4 2"}

var colours = []string{"#1c1c1c", "#0b5394", "#7a3e00", "#2e6b2e", "#6a2e7a", "#555555"}

var escape = strings.NewReplacer("&", "&amp;", "<", "&lt;", ">", "&gt;", `"`, "&quot;")

func visible(s string) string {
	return escape.Replace(strings.Map(func(r rune) rune {
		if r < ' ' || r == 0xFFFE || r == 0xFFFF || r == utf8.RuneError {
			return '?'
		}
		return r
	}, s))
}

func f1(v float64) string { return strings.TrimSuffix(strconv.FormatFloat(v, 'f', 1, 64), ".0") }

// ticks gives round values from low to high, about n of them, and their decimals.
func ticks(low, high float64, n int) (at []float64, decimals int) {
	raw := (high - low) / float64(n)
	power := math.Pow(10, math.Floor(math.Log10(raw)))
	step := power * 10
	for _, m := range []float64{1, 2, 5} {
		if raw <= m*power {
			step = m * power
			break
		}
	}
	decimals = max(0, int(math.Ceil(-math.Log10(step)-1e-9)))
	for k := math.Ceil(low/step - 1e-9); k*step <= high+1e-9*step; k++ {
		at = append(at, k*step+0) // no minus before 0
	}
	return at, decimals
}

// extent is what the axes have to show.
func (c *Chart) extent() (x1, y0, y1 float64) {
	y0, y1 = math.Inf(1), math.Inf(-1)
	see := func(x, y float64) {
		x1 = math.Max(x1, x)
		y0, y1 = math.Min(y0, y), math.Max(y1, y)
	}
	for _, l := range c.Lines {
		for _, p := range l.Points {
			see(p.X, p.Y)
		}
	}
	for _, m := range c.Marks {
		see(m.X, m.Y)
	}
	for _, l := range c.Levels {
		see(0, l.Y)
	}
	for _, y := range []float64{c.Low, c.High} {
		if !math.IsNaN(y) {
			see(0, y)
		}
	}
	if !(x1 > 0) {
		x1 = 1
	}
	pad := 0.06 * (y1 - y0)
	if !(pad > 0) {
		pad = math.Max(0.05*math.Abs(y1), 1e-3)
	}
	return 1.05 * x1, y0 - pad, y1 + pad
}

// SVG draws the chart.
func (c *Chart) SVG() []byte {
	var b strings.Builder
	x1, y0, y1 := c.extent()
	sx := func(x float64) float64 { return left + (width-left-right)*math.Max(x, 0)/x1 }
	sy := func(y float64) float64 { return height - below - (height-top-below)*(y-y0)/(y1-y0) }
	text := func(x, y float64, anchor, class, s string) {
		fmt.Fprintf(&b, "<text x=\"%s\" y=\"%s\" text-anchor=\"%s\" class=\"%s\">%s</text>\n", f1(x), f1(y), anchor, class, visible(s))
	}
	bottom, end := height-below, width-right
	notes := []string{}
	for _, n := range c.Notes {
		notes = append(notes, wrap(n, columns)...)
	}
	all := height + 12 + float64(len(notes))*lineSkip
	fmt.Fprintf(&b, "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"%s\" height=\"%s\" viewBox=\"0 0 %[1]s %[2]s\" role=\"img\">\n<title>%s</title>\n", f1(width), f1(all), visible(c.Title))
	b.WriteString("<style>text{font-family:'DejaVu Sans Mono','Liberation Mono',monospace;font-size:10.5px;fill:#1c1c1c}.title{font-size:13px;font-weight:bold}.quiet{fill:#5c5c5c}" +
		".axis{stroke:#1c1c1c;fill:none}.grid{stroke:#dddddd;fill:none}.band{fill:#dcebd8;stroke:none}.edge,.level{stroke:#5c5c5c;stroke-dasharray:3 3;fill:none}.line{fill:none;stroke-width:1.7}.mark{fill:#ffffff;stroke:#1c1c1c;stroke-width:1.4}</style>\n")
	fmt.Fprintf(&b, "<rect x=\"0\" y=\"0\" width=\"%s\" height=\"%s\" style=\"fill:#ffffff\"/>\n", f1(width), f1(all))
	text(left, 22, "start", "title", c.Title)
	text(left, 38, "start", "quiet", c.Subtitle)
	if !math.IsNaN(c.Low) || !math.IsNaN(c.High) {
		lo, hi := y0, y1
		if !math.IsNaN(c.Low) {
			lo = c.Low
		}
		if !math.IsNaN(c.High) {
			hi = c.High
		}
		fmt.Fprintf(&b, "<rect class=\"band\" x=\"%s\" y=\"%s\" width=\"%s\" height=\"%s\"/>\n", f1(left), f1(sy(hi)), f1(end-left), f1(sy(lo)-sy(hi)))
		for _, y := range []float64{c.Low, c.High} {
			if !math.IsNaN(y) {
				fmt.Fprintf(&b, "<path class=\"edge\" d=\"M%s %sH%s\"/>\n", f1(left), f1(sy(y)), f1(end))
			}
		}
	}
	at, digits := ticks(0, x1, 8)
	for _, x := range at {
		fmt.Fprintf(&b, "<path class=\"grid\" d=\"M%s %sV%s\"/>\n", f1(sx(x)), f1(top), f1(bottom))
		text(sx(x), bottom+16, "middle", "quiet", strconv.FormatFloat(x, 'f', digits, 64))
	}
	at, digits = ticks(y0, y1, 8)
	for _, y := range at {
		fmt.Fprintf(&b, "<path class=\"grid\" d=\"M%s %sH%s\"/>\n", f1(left), f1(sy(y)), f1(end))
		text(left-6, sy(y)+4, "end", "quiet", strconv.FormatFloat(y, 'f', digits, 64))
	}
	fmt.Fprintf(&b, "<path class=\"axis\" d=\"M%s %sV%sH%s\"/>\n", f1(left), f1(top), f1(bottom), f1(end))
	text((left+end)/2, bottom+38, "middle", "quiet", c.XAxis)
	fmt.Fprintf(&b, "<text transform=\"translate(18 %s) rotate(-90)\" text-anchor=\"middle\" class=\"quiet\">%s</text>\n", f1((top+bottom)/2), visible(c.YAxis))
	key, reach := top+8, left+(end-left)*0.3
	if c.Lifts {
		reach = left + (end-left)*0.03 // the marks of the lift stand behind
	}
	for _, l := range c.Levels {
		fmt.Fprintf(&b, "<path class=\"level\" d=\"M%s %sH%s\"/>\n", f1(left), f1(sy(l.Y)), f1(reach))
		text(reach+4, sy(l.Y)+map[bool]float64{true: 14, false: 4}[c.Lifts], "start", "quiet", l.Name)
	}
	for i, l := range c.Lines {
		style := "stroke:" + colours[i%len(colours)]
		if d := dashes[i%len(dashes)]; d != "" {
			style += ";stroke-dasharray:" + d
		}
		var d strings.Builder
		for k, p := range l.Points {
			d.WriteString(map[bool]string{true: "M", false: "L"}[k == 0] + f1(sx(p.X)) + " " + f1(sy(p.Y)))
		}
		fmt.Fprintf(&b, "<path class=\"line\" style=\"%s\" d=\"%s\"/>\n<path class=\"line\" style=\"%[1]s\" d=\"M%[3]s %[4]sh30\"/>\n", style, d.String(), f1(end+14), f1(key))
		text(end+50, key+4, "start", "key", cut(l.Name, 30))
		key += lineSkip + 2
		for _, p := range l.quarters() {
			if c.Lifts && i == 0 {
				fmt.Fprintf(&b, "<path class=\"axis\" d=\"M%s %sv8\"/>\n", f1(sx(p.X)), f1(sy(p.Y)-4))
				text(sx(p.X), sy(p.Y)+18, "middle", "quiet", strconv.FormatFloat(p.Lift, 'f', 0, 64)+" % open")
			}
		}
	}
	if !math.IsNaN(c.Low) || !math.IsNaN(c.High) {
		fmt.Fprintf(&b, "<rect class=\"band\" x=\"%s\" y=\"%s\" width=\"30\" height=\"10\"/>\n", f1(end+14), f1(key-4))
		text(end+50, key+4, "start", "key", "allowed band")
		key += lineSkip + 2
	}
	key += 6
	for i, m := range c.Marks {
		n := strconv.Itoa(i + 1)
		x, y := sx(m.X), sy(m.Y)
		fmt.Fprintf(&b, "<circle class=\"mark\" cx=\"%s\" cy=\"%s\" r=\"7\"/>\n", f1(x), f1(y))
		text(x, y+4, "middle", "key", n)
		if key < all-below {
			text(end+14, key+4, "start", "key", cut(n+" "+m.Name, 36))
			key += lineSkip
		}
	}
	for i, n := range notes {
		text(left, height+6+float64(i)*lineSkip, "start", "quiet", n)
	}
	b.WriteString("</svg>\n")
	return []byte(b.String())
}

// quarters are the points of a line nearest to 25, 50, 75 and 100 % open, those that
// it comes to.
func (l *Line) quarters() (at []Point) {
	for _, want := range []float64{25, 50, 75, 100} {
		for _, p := range l.Points {
			if math.Abs(p.Lift-want) < 0.5 {
				at = append(at, p)
				break
			}
		}
	}
	return at
}

// cut shortens a text to so many characters.
func cut(s string, most int) string {
	if utf8.RuneCountInString(s) <= most {
		return s
	}
	return string([]rune(s)[:most-3]) + "..."
}

// wrap breaks a sentence at so many columns.
func wrap(s string, most int) (lines []string) {
	line := ""
	for word := range strings.FieldsSeq(s) {
		if line != "" && utf8.RuneCountInString(line)+1+utf8.RuneCountInString(word) > most {
			lines, line = append(lines, line), ""
		}
		if line != "" {
			line += " "
		}
		line += word
	}
	return append(lines, line)
}

// Text writes the chart as tables, and sentences broken at so many columns.
func (c *Chart) Text(width int) string {
	var b strings.Builder
	fmt.Fprintf(&b, "%s\n%s\n", plain(c.Title), plain(c.Subtitle))
	for _, l := range c.Lines {
		fmt.Fprintf(&b, "\n%s\n%14s  %14s  %8s\n", plain(l.Name), unitOf(c.XAxis), unitOf(c.YAxis), "open %")
		for k, p := range l.Points {
			if k%2 == 0 || k == len(l.Points)-1 {
				fmt.Fprintf(&b, "%14s  %14s  %8s\n", number(p.X), number(p.Y), number(p.Lift))
			}
		}
	}
	if len(c.Marks) > 0 {
		fmt.Fprintf(&b, "\ncases\n%4s  %14s  %14s  %8s  %s\n", "", unitOf(c.XAxis), unitOf(c.YAxis), "open %", "case")
		for i, m := range c.Marks {
			fmt.Fprintf(&b, "%4d  %14s  %14s  %8s  %s\n", i+1, number(m.X), number(m.Y), number(m.Lift), plain(m.Name))
		}
	}
	b.WriteByte('\n')
	for _, l := range c.Levels {
		fmt.Fprintf(&b, "%s: %s %s\n", plain(l.Name), number(l.Y), unitOf(c.YAxis))
	}
	switch lo, hi := !math.IsNaN(c.Low), !math.IsNaN(c.High); {
	case lo && hi:
		fmt.Fprintf(&b, "allowed band: %s to %s %s\n", number(c.Low), number(c.High), unitOf(c.YAxis))
	case lo:
		fmt.Fprintf(&b, "allowed band: from %s %s\n", number(c.Low), unitOf(c.YAxis))
	case hi:
		fmt.Fprintf(&b, "allowed band: up to %s %s\n", number(c.High), unitOf(c.YAxis))
	}
	if c.Below != "" {
		b.WriteString("\n" + c.Below)
	}
	for _, n := range c.Notes {
		b.WriteString(strings.Join(wrap(plain(n), width), "\n") + "\n")
	}
	return b.String()
}

func plain(s string) string {
	return strings.Map(func(r rune) rune {
		if r < ' ' || r == 0x7f {
			return '?'
		}
		return r
	}, s)
}

// unitOf gives the unit at the end of an axis's words.
func unitOf(axis string) string {
	if i := strings.LastIndex(axis, ", "); i >= 0 {
		return axis[i+2:]
	}
	return axis
}

func number(v float64) string {
	switch a := math.Abs(v); {
	case math.IsNaN(v):
		return "-"
	case a < 5e-5:
		return "0"
	case a < 0.01:
		return strconv.FormatFloat(v, 'g', 3, 64)
	case a < 10:
		return strconv.FormatFloat(v, 'f', 3, 64)
	case a < 1000:
		return strconv.FormatFloat(v, 'f', 2, 64)
	}
	return strconv.FormatFloat(v, 'f', 0, 64)
}
