package draw

import (
	"strings"
)

const (
	textGap  = 3.0 // between a symbol and its text
	flagMark = 11.0
	maxFlags = 4
)

// splitTag puts a tag into a bubble: letters above, number below, as ISA-5.1
// has it.
func splitTag(tag string) []string {
	if letters, number, ok := strings.Cut(tag, "-"); ok && letters != "" && number != "" {
		return []string{letters, number}
	}
	return []string{tag}
}

// gaugeRadius is that of the bubbles of a cell.
func gaugeRadius(c *cell) float64 {
	r := 14.0
	for _, tag := range c.gauges {
		for _, s := range splitTag(tag) {
			r = max(r, textWidth(s)/2+4)
		}
	}
	return r
}

// up gives how far the symbol and its gauges go above the axis.
func (c *cell) up() float64 {
	up := symbolOf(c.kind).up
	if len(c.gauges) > 0 {
		up += 2*gaugeRadius(c) + 5
	}
	return up
}

// flagLines gives the flags as they are written, the last one counting the rest.
func (c *cell) flagLines() (lines []string) {
	for i, f := range c.flags {
		if i == maxFlags-1 && len(c.flags) > maxFlags {
			return append(lines, "and more, see the list")
		}
		lines = append(lines, word(f))
	}
	return lines
}

// size makes room for the symbol and all its text. The axis is in the middle, so
// that cells in a row share it.
func (c *cell) size() {
	s := symbolOf(c.kind)
	above := c.up() + textGap + float64(len(c.above))*lineSkip
	flags := c.flagLines()
	below := s.down + textGap + float64(len(c.below)+len(flags))*lineSkip
	c.height = 2 * max(above, below)
	c.width = 2 * (s.reach + 14)
	if k := len(c.gauges); k > 0 {
		r := gaugeRadius(c)
		c.width = max(c.width, 2*(r+float64(k-1)*(2*r+8)))
	}
	for _, t := range c.above {
		c.width = max(c.width, textWidth(t))
	}
	for _, t := range c.below {
		c.width = max(c.width, textWidth(t))
	}
	for _, t := range flags {
		c.width = max(c.width, textWidth(t)+flagMark)
	}
	c.width += 8
}
