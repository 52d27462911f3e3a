package draw

import (
	"cmp"
	"math"
	"slices"
)

// passes is how often chains make room for one another.
const passes = 8

// straighten brings cells that follow one another alone to one height. Where the
// cells below leave no room, they are pushed down, and the next pass brings
// their own chains into line. The order within a column stays as it is.
func (d *Diagram) straighten(spans []span) {
	over, under := d.stacked()
	chains := d.chains(spans)
	for range passes {
		for _, chain := range chains {
			low, high := math.Inf(-1), math.Inf(1)
			var heights []float64
			for _, i := range chain {
				if j := over[i]; j >= 0 {
					low = max(low, d.cells[j].y+(d.cells[j].height+d.cells[i].height)/2+rowGap)
				}
				if j := under[i]; j >= 0 {
					high = min(high, d.cells[j].y-(d.cells[j].height+d.cells[i].height)/2-rowGap)
				} else if over[i] < 0 {
					continue // alone in its column: it follows the others
				}
				heights = append(heights, d.cells[i].y)
			}
			if len(heights) == 0 {
				for _, i := range chain {
					heights = append(heights, d.cells[i].y)
				}
			}
			low = max(low, d.top(chain))
			slices.Sort(heights)
			y := math.Ceil(max(min(heights[len(heights)/2], high), low))
			for _, i := range chain {
				d.cells[i].y = y
				d.push(i, under)
			}
		}
	}
}

// push moves what stands below a cell out of its way.
func (d *Diagram) push(i int, under []int) {
	for j := under[i]; j >= 0; i, j = j, under[j] {
		d.cells[j].y = max(d.cells[j].y, math.Ceil(d.cells[i].y+(d.cells[i].height+d.cells[j].height)/2+rowGap))
	}
}

// top is the least height at which a chain stays on the page, below the lanes.
func (d *Diagram) top(chain []int) float64 {
	lanes, half := 0, 0.0
	for i := range d.cells {
		if d.cells[i].dome >= 0 {
			lanes++
		}
	}
	for _, i := range chain {
		half = max(half, d.cells[i].height/2)
	}
	return margin + float64(lanes+1)*laneApart + half
}

// stacked gives for each cell the next one above and below in its column, -1 for
// none.
func (d *Diagram) stacked() (over, under []int) {
	over, under = make([]int, len(d.cells)), make([]int, len(d.cells))
	order := make([]int, len(d.cells))
	for i := range order {
		order[i], over[i], under[i] = i, -1, -1
	}
	slices.SortFunc(order, func(a, b int) int {
		return cmp.Or(cmp.Compare(d.cells[a].column, d.cells[b].column), cmp.Compare(d.cells[a].y, d.cells[b].y), cmp.Compare(a, b))
	})
	for k := 1; k < len(order); k++ {
		if a, b := order[k-1], order[k]; d.cells[a].column == d.cells[b].column {
			under[a], over[b] = b, a
		}
	}
	return over, under
}

// chains are the runs of cells joined one to one, the longest first, so that it
// is the main line that is straight.
func (d *Diagram) chains(spans []span) (chains [][]int) {
	next := make([]int, len(d.cells))
	begins := make([]bool, len(d.cells))
	for i := range next {
		next[i], begins[i] = -1, true
	}
	for _, s := range spans {
		if len(s.left) == 1 && len(s.right) == 1 {
			next[s.left[0]] = s.right[0]
			begins[s.right[0]] = false
		}
	}
	for i, first := range begins {
		if !first {
			continue
		}
		var chain []int
		for j := i; j >= 0; j = next[j] {
			chain = append(chain, j)
		}
		chains = append(chains, chain)
	}
	slices.SortStableFunc(chains, func(a, b []int) int { return cmp.Compare(len(b), len(a)) })
	return chains
}
