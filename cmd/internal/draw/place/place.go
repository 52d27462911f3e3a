// Package place asks the helper program tapline-layout where the boxes of a
// diagram should stand.
//
// The helper is a program of its own because the layout library compiles a
// machine in its package initialisation, which would slow every command down,
// and keeps that machine in a folder below TMPDIR, which must be the user's
// alone. It reads one Request as JSON on its input and writes one Answer as JSON
// on its output. Lengths are in points, x to the right, y downwards; flow runs
// from left to right.
package place

// Program is the name of the helper.
const Program = "tapline-layout"

// MaxBoxes and MaxEdges bound what one request may hold: the time of the layout
// grows faster than the number of boxes.
const (
	MaxBoxes = 5000
	MaxEdges = 10000
)

// A Request is a graph of boxes.
type Request struct {
	Boxes []Box  `json:"boxes"`
	Edges []Edge `json:"edges"`
	// RowGap is the least distance between boxes above one another, ColumnGap
	// that between columns.
	RowGap    float64 `json:"row_gap"`
	ColumnGap float64 `json:"column_gap"`
}

// A Box has a size.
type Box struct {
	Width  float64 `json:"width"`
	Height float64 `json:"height"`
}

// An Edge runs from the right side of one box to the left side of another, both
// by their index in Request.Boxes.
type Edge struct {
	From int `json:"from"`
	To   int `json:"to"`
}

// An Answer has one centre for each box and one route for each edge, in the
// order of the request.
type Answer struct {
	Centres []Point   `json:"centres"`
	Routes  [][]Point `json:"routes"` // control points of a Bézier spline: 1+3n of them
}

// A Point is a place on the page.
type Point struct {
	X float64 `json:"x"`
	Y float64 `json:"y"`
}
