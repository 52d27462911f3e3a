package draw

import (
	"fmt"
	"slices"
	"strings"

	"tapline/cmd/internal/draw/place"
	"tapline/lang/diag"
	"tapline/lang/quantity"
)

// minWidth leaves room for the title block under a small diagram.
const minWidth = 620

// SVG draws the diagram. The same diagram gives the same bytes. The caution is
// the sentence that stands under all results.
func (d *Diagram) SVG(ask Placer, cautionText string) ([]byte, error) {
	p, err := d.place(ask)
	if err != nil {
		return nil, err
	}
	c := &canvas{}
	return p.paint(c, cautionText), nil
}

func (p *plan) paint(c *canvas, cautionText string) []byte {
	p.width = max(p.width, minWidth)
	for _, r := range p.runs {
		c.run(r)
	}
	for _, j := range p.joints {
		c.dot(j.X, j.Y)
	}
	for i := range p.cells {
		p.cell(c, &p.cells[i])
	}
	bottom := p.legend(c, p.height+20)
	bottom = p.title(c, bottom+8, cautionText)
	var b strings.Builder
	fmt.Fprintf(&b, "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"%s\" height=\"%s\" viewBox=\"0 0 %[1]s %[2]s\" role=\"img\">\n", f1(p.width), f1(bottom+margin))
	fmt.Fprintf(&b, "<title>%s</title>\n", escape.Replace(visible(p.heading())))
	fmt.Fprintf(&b, "<style>text{font-family:%s;font-size:%spx;fill:%s}.tag{font-weight:bold}.quiet{fill:%s}.inside{font-weight:bold}"+
		"path,circle,rect{stroke:%[3]s;stroke-width:1.1;fill:none;stroke-linejoin:round}.pipe{stroke-width:1.4}.part{stroke-width:1.4}"+
		".sense,.impulse{stroke-dasharray:4 2.5;stroke-width:1}.symbol{fill:%[5]s}.shut,.arrow,.dot{fill:%[3]s;stroke:%[3]s}"+
		".alarm{fill:%[6]s;stroke:%[6]s}.caution{fill:%[5]s;stroke:%[7]s}text.alarm{stroke:none;font-weight:bold}text.caution{stroke:none;fill:%[7]s;font-weight:bold}</style>\n",
		fontNames, f1(fontSize), ink, quiet, paper, alarm, caution)
	fmt.Fprintf(&b, "<rect x=\"0\" y=\"0\" width=\"%s\" height=\"%s\" style=\"fill:%s;stroke:none\"/>\n", f1(p.width), f1(bottom+margin), paper)
	b.WriteString(c.svg.String())
	b.WriteString("</svg>\n")
	p.height = bottom + margin
	return []byte(b.String())
}

// cell paints a symbol with its text.
func (p *plan) cell(c *canvas, v *cell) {
	s := symbolOf(v.kind)
	b := &brush{c, v.x, v.y, 1, s.up}
	if v.mirrored {
		b.sign = -1
	}
	s.paint(b, v)
	if v.kind == "vessel" || v.kind == "equipment" {
		b.gauges(v)
	}
	if v.direction != 0 {
		arrow(c, v.x+float64(v.direction)*(s.reach+10), v.y, float64(v.direction), v)
	}
	for i, t := range v.above {
		class := "quiet"
		if i == 0 {
			class = "tag"
		}
		c.text(v.x, v.y-v.up()-textGap-descent*fontSize-float64(len(v.above)-1-i)*lineSkip, "middle", class, t)
	}
	y := v.y + s.down + textGap + ascent*fontSize
	for _, t := range v.below {
		c.text(v.x, y, "middle", "value", t)
		y += lineSkip
	}
	for i, t := range v.flagLines() {
		flag(c, v.x-(textWidth(t)+flagMark)/2, y, v.flags[i].Level, t)
		y += lineSkip
	}
}

// arrow shows which way gas flows, on the side that it leaves by; where a cell
// has no line on that side, on the other.
func arrow(c *canvas, x, y, sign float64, v *cell) {
	if sign > 0 && !v.right || sign < 0 && !v.left {
		x = 2*v.x - x
	}
	c.shape("arrow", true, place.Point{X: x - sign*3, Y: y - 3}, place.Point{X: x + sign*4, Y: y}, place.Point{X: x - sign*3, Y: y + 3})
}

// flag writes a finding behind its shape: a full triangle for an alarm, an empty
// diamond for a caution.
func flag(c *canvas, x, y float64, level diag.Level, t string) {
	class := "caution"
	if level >= diag.Alarm {
		class = "alarm"
		c.shape(class, true, place.Point{X: x, Y: y}, place.Point{X: x + 4, Y: y - 7}, place.Point{X: x + 8, Y: y})
	} else {
		c.shape(class, true, place.Point{X: x, Y: y - 3.5}, place.Point{X: x + 4, Y: y - 7}, place.Point{X: x + 8, Y: y - 3.5}, place.Point{X: x + 4, Y: y})
	}
	c.text(x+flagMark, y, "start", class, t)
}

// legend explains the symbols that occur, and gives where it ends.
func (p *plan) legend(c *canvas, y float64) float64 {
	const height, symbolRoom = 60.0, 50.0
	type entry struct {
		word  string
		paint func(x, y float64)
		width float64
	}
	var entries []entry
	add := func(word string, paint func(x, y float64)) {
		entries = append(entries, entry{word, paint, symbolRoom + textWidth(word) + 20})
	}
	sample := func(word string, v cell) {
		add(word, func(x, y float64) {
			s := symbolOf(v.kind)
			s.paint(&brush{c, x, y, 1, s.up}, &v)
		})
	}
	var seen []string
	levels := map[diag.Level]bool{}
	for _, f := range p.listed() {
		levels[f.Level] = true
	}
	sensing := false
	for i := range p.cells {
		v := &p.cells[i]
		sensing = sensing || v.dome >= 0
		for _, f := range v.flags {
			levels[f.Level] = true
		}
		name := symbolOf(v.kind).word
		switch {
		case v.kind == "":
			continue
		case v.throttled:
			name += ", throttled"
		case v.domed:
			name += ", dome-loaded"
		}
		if !slices.Contains(seen, name) {
			seen = append(seen, name)
			sample(name, cell{kind: v.kind, throttled: v.throttled, domed: v.domed, left: true, right: true})
		}
	}
	slices.SortStableFunc(entries, func(a, b entry) int { return strings.Compare(a.word, b.word) })
	for _, level := range []diag.Level{diag.Alarm, diag.Caution} {
		if levels[level] {
			add(level.String(), func(x, y float64) { flag(c, x-4, y+3, level, "") })
		}
	}
	add("line, arrow: flow", func(x, y float64) {
		c.run(run{x - 18, y, x + 18, y, false})
		c.shape("arrow", true, place.Point{X: x - 3, Y: y - 3}, place.Point{X: x + 4, Y: y}, place.Point{X: x - 3, Y: y + 3})
	})
	shut := func(v cell) bool { return v.stopped }
	if slices.ContainsFunc(p.cells, shut) {
		sample("shut", cell{kind: "valve", stopped: true})
	}
	if sensing {
		add("sensing line", func(x, y float64) { c.run(run{x - 18, y, x + 18, y, true}) })
	}
	x := float64(margin)
	for _, e := range entries {
		if x > margin && x+e.width > p.width-margin {
			x, y = margin, y+height
		}
		e.paint(x+symbolRoom/2, y+36)
		c.text(x+symbolRoom, y+36+3, "start", "quiet", e.word)
		x += e.width
	}
	return y + height
}

func (d *Diagram) heading() string {
	if d.System.Title == "" {
		return d.System.Name
	}
	return d.System.Title
}

// title writes the title block: what is drawn, in which case, above which
// atmosphere, what is flagged, and the caution.
func (p *plan) title(c *canvas, y float64, cautionText string) float64 {
	y += 4
	line := func(class, t string) {
		for _, part := range wrap(t, p.width-2*margin-16) {
			y += lineSkip
			c.text(margin+8, y, "start", class, part)
		}
	}
	top := y - 4
	line("tag", p.heading())
	kind := ""
	if p.Case.Kind != "" {
		kind = " (" + p.Case.Kind + ")"
	}
	line("value", "System "+p.System.Name+", case "+p.Case.Name+kind+", "+p.Case.Status)
	state := "Atmosphere " + p.units.show(p.Case.AtmospherePa, "bara", "Pa", quantity.Stream{})
	if r := p.System.ReferenceState; r != nil {
		state += fmt.Sprintf("; standard volumes at %s degC and %s bara", number(r.TemperatureK-273.15), number(r.PressurePa/1e5))
	}
	line("value", state)
	for i, f := range p.listed() {
		if i == 20 {
			line("value", fmt.Sprintf("and %d more", len(p.listed())-i))
			break
		}
		for k, part := range wrap(word(f)+": "+f.Message, p.width-2*margin-16-flagMark) {
			y += lineSkip
			if k == 0 {
				flag(c, margin+8, y, f.Level, part)
			} else {
				c.text(margin+8+flagMark, y, "start", "value", part)
			}
		}
	}
	line("quiet", cautionText)
	y += 8
	fmt.Fprintf(&c.svg, "<rect x=\"%s\" y=\"%s\" width=\"%s\" height=\"%s\"/>\n", f1(margin), f1(top), f1(p.width-2*margin), f1(y-top))
	return y
}

// listed are the flags written out in the title block: those that no cell shows,
// and those of cells that have too many.
func (p *plan) listed() []diag.Diagnostic {
	out := slices.Clone(p.loose)
	for i := range p.cells {
		if len(p.cells[i].flags) > maxFlags {
			out = append(out, p.cells[i].flags[maxFlags-1:]...)
		}
	}
	return out
}

// wrap cuts a sentence into lines no wider than width; a word that is wider is
// cut.
func wrap(t string, width float64) (lines []string) {
	line := ""
	for _, w := range strings.Fields(t) {
		for textWidth(w) > width {
			if line != "" {
				lines, line = append(lines, line), ""
			}
			r := []rune(w)
			k := max(1, int(width/(fontSize*advance)))
			lines, w = append(lines, string(r[:k])), string(r[k:])
		}
		switch {
		case line == "":
			line = w
		case textWidth(line+" "+w) > width:
			lines, line = append(lines, line), w
		default:
			line += " " + w
		}
	}
	if line != "" {
		lines = append(lines, line)
	}
	return lines
}
