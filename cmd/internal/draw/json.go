package draw

import "encoding/json"

// Document is a diagram as JSON: symbols, and the straight lines between them, in
// points, x to the right and y downwards from the top left corner of the page.
type Document struct {
	Schema  int      `json:"schema"`
	System  string   `json:"system"`
	Case    string   `json:"case"`
	Symbols []Symbol `json:"symbols"`
	Edges   []Join   `json:"edges"`
	Lines   []Line   `json:"lines"`
}

// A Symbol stands with its centre at X, Y; text and symbol lie within Width and
// Height around it. Kind is that of the device, or "node".
type Symbol struct {
	Tag      string   `json:"tag"`
	Kind     string   `json:"kind"`
	X        float64  `json:"x"`
	Y        float64  `json:"y"`
	Width    float64  `json:"width"`
	Height   float64  `json:"height"`
	Mirrored bool     `json:"mirrored"` // inlet on the right
	Gauges   []string `json:"gauges"`
	Text     []string `json:"text"` // from top to bottom
	Flags    []string `json:"flags"`
}

// A Join connects the right side of one symbol to the left side of another, by
// their index in Symbols.
type Join struct {
	From int `json:"from"`
	To   int `json:"to"`
}

// A Line is a straight part of a connection, or of a sensing line.
type Line struct {
	X1      float64 `json:"x1"`
	Y1      float64 `json:"y1"`
	X2      float64 `json:"x2"`
	Y2      float64 `json:"y2"`
	Sensing bool    `json:"sensing"`
}

// JSON writes the diagram with all places.
func (d *Diagram) JSON(ask Placer) ([]byte, error) {
	p, err := d.place(ask)
	if err != nil {
		return nil, err
	}
	o := Document{Schema: 1, System: d.System.Name, Case: d.Case.Name, Symbols: []Symbol{}, Edges: []Join{}, Lines: []Line{}}
	for i := range p.cells {
		c := &p.cells[i]
		if c.kind == "" {
			continue // passages come after all symbols, so the indices hold
		}
		s := Symbol{Tag: c.tag, Kind: c.kind, X: c.x, Y: c.y, Width: c.width, Height: c.height, Mirrored: c.mirrored,
			Gauges: append([]string{}, c.gauges...), Text: append(append([]string{}, c.above...), c.below...), Flags: []string{}}
		for _, f := range c.flags {
			s.Flags = append(s.Flags, word(f))
		}
		o.Symbols = append(o.Symbols, s)
	}
	for _, n := range d.nets {
		for _, i := range n.left {
			for _, j := range n.right {
				o.Edges = append(o.Edges, Join{i, j})
			}
		}
	}
	for _, r := range p.runs {
		o.Lines = append(o.Lines, Line{r.x1, r.y1, r.x2, r.y2, r.dashed})
	}
	data, err := json.MarshalIndent(o, "", " ")
	return append(data, '\n'), err
}
