package draw

import (
	"fmt"
	"strings"
)

// DOT writes the diagram in the DOT language, with a box for every symbol and an
// edge for every connection, for readers who lay out graphs themselves.
func (d *Diagram) DOT() []byte {
	var b strings.Builder
	fmt.Fprintf(&b, "digraph %s {\n\trankdir=LR;\n\tnode [shape=box];\n", quote(d.System.Name))
	fmt.Fprintf(&b, "\tlabel=%s;\n", quote(d.heading()+", case "+d.Case.Name))
	for i := range d.cells {
		c := &d.cells[i]
		fmt.Fprintf(&b, "\tc%d [label=%s];\n", i, quote(strings.Join(c.words(), "\n")))
	}
	for _, n := range d.nets {
		for _, i := range n.left {
			for _, j := range n.right {
				fmt.Fprintf(&b, "\tc%d -> c%d;\n", i, j)
			}
		}
	}
	for i := range d.cells {
		if j := d.cells[i].dome; j >= 0 {
			fmt.Fprintf(&b, "\tc%d -> c%d [style=dashed, constraint=false];\n", j, i)
		}
	}
	b.WriteString("}\n")
	return []byte(b.String())
}

// words is all the text of a cell, from top to bottom.
func (c *cell) words() []string {
	out := []string{c.kind}
	out = append(out, c.gauges...)
	out = append(out, c.above...)
	out = append(out, c.below...)
	for _, f := range c.flags {
		out = append(out, word(f))
	}
	return out
}

// quote writes a DOT string: only the quotation mark and the backslash need care.
func quote(s string) string {
	s = strings.NewReplacer(`\`, `\\`, `"`, `\"`, "\n", `\n`).Replace(s)
	return `"` + visible(s) + `"`
}
