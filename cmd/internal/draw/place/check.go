package place

import (
	"fmt"
	"math"
)

// maxLength bounds sizes and gaps, in points.
const maxLength = 1e5

// Check gives what is wrong with a request: sizes or gaps that are not positive
// lengths, edges to boxes that do not exist, or too many of either.
func (r *Request) Check() error {
	if len(r.Boxes) > MaxBoxes || len(r.Edges) > MaxEdges {
		return fmt.Errorf("the graph has %d boxes and %d edges; at most %d and %d can be placed", len(r.Boxes), len(r.Edges), MaxBoxes, MaxEdges)
	}
	length := func(v float64) bool { return v > 0 && v <= maxLength }
	if !length(r.RowGap) || !length(r.ColumnGap) {
		return fmt.Errorf("row_gap and column_gap must be above 0 and at most %g", maxLength)
	}
	for i, b := range r.Boxes {
		if !length(b.Width) || !length(b.Height) {
			return fmt.Errorf("box %d: width and height must be above 0 and at most %g", i, maxLength)
		}
	}
	for i, e := range r.Edges {
		if e.From < 0 || e.To < 0 || e.From >= len(r.Boxes) || e.To >= len(r.Boxes) {
			return fmt.Errorf("edge %d joins boxes %d and %d; there are %d, counted from 0", i, e.From, e.To, len(r.Boxes))
		}
	}
	return nil
}

// Check gives what is wrong with an answer to a request.
func (a *Answer) Check(r *Request) error {
	if len(a.Centres) != len(r.Boxes) || len(a.Routes) != len(r.Edges) {
		return fmt.Errorf("%d centres and %d routes came back for %d boxes and %d edges", len(a.Centres), len(a.Routes), len(r.Boxes), len(r.Edges))
	}
	for _, c := range a.Centres {
		if math.IsNaN(c.X+c.Y) || math.IsInf(c.X+c.Y, 0) {
			return fmt.Errorf("a centre that came back is not a place")
		}
	}
	return nil
}
