package draw

import (
	"math"

	"tapline/cmd/internal/draw/place"
)

// Distances on the page, in points.
const (
	margin    = 24
	rowGap    = 14
	track     = 9  // between neighbouring vertical lines
	channel   = 16 // between columns without vertical lines
	passSize  = 10 // height of a line passing a column
	laneApart = 8  // between sensing lines above the diagram
)

// columns gives every cell a column: as far left as what stands before it lets
// it be. Lines that only lead up to a place stand right before it.
func (d *Diagram) columns() {
	next, before := d.neighbours()
	waiting := make([]int, len(d.cells))
	var order []int
	for i := range d.cells {
		if waiting[i] = len(before[i]); waiting[i] == 0 {
			order = append(order, i)
		}
	}
	for k := 0; k < len(order); k++ { // each cell after all before it; build leaves no ring
		i := order[k]
		for _, j := range next[i] {
			d.cells[j].column = max(d.cells[j].column, d.cells[i].column+1)
			if waiting[j]--; waiting[j] == 0 {
				order = append(order, j)
			}
		}
	}
	feeder := make([]bool, len(d.cells))
	for _, i := range order {
		feeder[i] = len(next[i]) == 1 && (len(before[i]) == 0 || len(before[i]) == 1 && feeder[before[i][0]])
	}
	for k := len(order) - 1; k >= 0; k-- {
		if i := order[k]; feeder[i] {
			d.cells[i].column = d.cells[next[i][0]].column - 1
		}
	}
}

func (d *Diagram) neighbours() (next, before [][]int) {
	next, before = make([][]int, len(d.cells)), make([][]int, len(d.cells))
	for _, n := range d.nets {
		for _, i := range n.left {
			for _, j := range n.right {
				next[i] = append(next[i], j)
				before[j] = append(before[j], i)
			}
		}
	}
	return next, before
}

// A span is what one net has between a column and the next: the cells it
// leaves and the cells it enters.
type span struct {
	column      int
	left, right []int
}

// passages cuts every net into spans, with a passing cell in each column that
// it crosses.
func (d *Diagram) passages() []span {
	var spans []span
	for _, n := range d.nets {
		first, last := math.MaxInt, 0
		for _, i := range n.left {
			first = min(first, d.cells[i].column)
		}
		for _, j := range n.right {
			last = max(last, d.cells[j].column)
		}
		carry := -1 // the passing cell that the span begins with
		for c := first; c < last; c++ {
			s := span{column: c}
			if carry >= 0 {
				s.left = append(s.left, carry)
			}
			for _, i := range n.left {
				if d.cells[i].column == c {
					s.left = append(s.left, i)
				}
			}
			for _, j := range n.right {
				if d.cells[j].column == c+1 {
					s.right = append(s.right, j)
				}
			}
			if c+1 < last {
				carry = len(d.cells)
				d.cells = append(d.cells, cell{column: c + 1, width: passSize, height: passSize, left: true, right: true, dome: -1})
				s.right = append(s.right, carry)
			}
			spans = append(spans, s)
		}
	}
	return spans
}

// request asks for the heights of all cells. Every edge is between neighbouring
// columns, so the columns of the answer are those asked for.
func (d *Diagram) request(spans []span) *place.Request {
	r := &place.Request{RowGap: rowGap, ColumnGap: 3 * channel}
	for _, c := range d.cells {
		r.Boxes = append(r.Boxes, place.Box{Width: c.width, Height: c.height})
	}
	for _, s := range spans {
		for _, i := range s.left {
			for _, j := range s.right {
				r.Edges = append(r.Edges, place.Edge{From: i, To: j})
			}
		}
	}
	return r
}

// A Placer finds places for boxes; place.Run is the one outside tests.
type Placer func(*place.Request) (*place.Answer, error)

// plan is a diagram in which everything has a place.
type plan struct {
	*Diagram
	runs          []run // lines outside the symbols
	joints        []place.Point
	width, height float64
}

// place finds a place for everything.
func (d *Diagram) place(ask Placer) (*plan, error) {
	d.columns()
	for i := range d.cells {
		d.cells[i].size()
	}
	spans := d.passages()
	r := d.request(spans)
	a, err := ask(r)
	if err != nil {
		return nil, err
	}
	top := math.Inf(1)
	for i, c := range a.Centres {
		top = min(top, c.Y-r.Boxes[i].Height/2)
	}
	lanes := 0
	for i := range d.cells {
		if d.cells[i].dome >= 0 {
			lanes++
		}
	}
	offset := margin + float64(lanes+1)*laneApart - top
	p := &plan{Diagram: d}
	for i, c := range a.Centres {
		d.cells[i].y = math.Round(c.Y + offset)
	}
	d.straighten(spans)
	for i := range d.cells {
		p.height = max(p.height, d.cells[i].y+d.cells[i].height/2)
	}
	p.route(spans)
	return p, nil
}
