package main

import (
	"bytes"
	"context"
	"fmt"
	"strconv"
	"strings"

	"github.com/goccy/go-graphviz"

	"tapline/cmd/internal/draw/place"
)

// points is how many points make the inch that the library counts in.
const points = 72

// layOut has the library place the boxes. The graph goes in as text, and the
// places come back in its "plain" form: a line per box and per edge, y upwards.
func layOut(ctx context.Context, r *place.Request) (a *place.Answer, err error) {
	a = &place.Answer{Centres: make([]place.Point, len(r.Boxes)), Routes: make([][]place.Point, len(r.Edges))}
	if len(r.Boxes) == 0 {
		return a, nil
	}
	g, err := graphviz.New(ctx)
	if err != nil {
		return nil, err
	}
	graph, err := graphviz.ParseBytes(source(r))
	if err != nil {
		return nil, err
	}
	var plain bytes.Buffer
	if err := g.Render(ctx, graph, "plain", &plain); err != nil {
		return nil, err
	}
	return a, read(plain.String(), r, a)
}

// source writes the graph in the library's language.
func source(r *place.Request) []byte {
	var b bytes.Buffer
	fmt.Fprintf(&b, "digraph { rankdir=LR; ranksep=%s; nodesep=%s;\n", inches(r.ColumnGap), inches(r.RowGap))
	b.WriteString("node [shape=box, fixedsize=true, label=\"\"]; edge [dir=none];\n")
	for i, box := range r.Boxes {
		fmt.Fprintf(&b, "b%d [width=%s, height=%s];\n", i, inches(box.Width), inches(box.Height))
	}
	for _, e := range r.Edges {
		fmt.Fprintf(&b, "b%d:e -> b%d:w;\n", e.From, e.To)
	}
	b.WriteString("}\n")
	return b.Bytes()
}

func inches(v float64) string { return strconv.FormatFloat(v/points, 'f', 6, 64) }

// read takes the places out of the plain form. It names an edge by its two
// boxes; parallel edges are alike, so they take their routes in turn.
func read(plain string, r *place.Request, a *place.Answer) error {
	waiting := map[place.Edge][]int{}
	for i, e := range r.Edges {
		waiting[e] = append(waiting[e], i)
	}
	height := 0.0
	for line := range strings.Lines(plain) {
		f := strings.Fields(line)
		at := func(i int) float64 {
			if i >= len(f) {
				return 0
			}
			v, _ := strconv.ParseFloat(f[i], 64) // what is no number leaves the box at 0, which the drawing survives
			return v * points
		}
		index := func(i int, prefix string, n int) (int, bool) {
			if i >= len(f) {
				return 0, false
			}
			k, err := strconv.Atoi(strings.TrimPrefix(f[i], prefix))
			return k, err == nil && k >= 0 && k < n
		}
		switch {
		case len(f) == 0:
		case f[0] == "graph":
			height = at(3)
		case f[0] == "node":
			i, ok := index(1, "b", len(a.Centres))
			if !ok {
				return fmt.Errorf("the library placed an unknown box: %s", line)
			}
			a.Centres[i] = place.Point{X: at(2), Y: height - at(3)}
		case f[0] == "edge":
			// edge TAIL HEAD N X1 Y1 ... XN YN STYLE COLOUR
			from, okFrom := index(1, "b", len(a.Centres))
			to, okTo := index(2, "b", len(a.Centres))
			n, okCount := index(3, "", len(f))
			e := place.Edge{From: from, To: to}
			if !okFrom || !okTo || !okCount || len(f) < 4+2*n || len(waiting[e]) == 0 {
				return fmt.Errorf("the library routed an unknown edge: %s", line)
			}
			i := waiting[e][0]
			waiting[e] = waiting[e][1:]
			for k := range n {
				a.Routes[i] = append(a.Routes[i], place.Point{X: at(4 + 2*k), Y: height - at(5+2*k)})
			}
		}
	}
	return nil
}
