package solver

// The sparse solve of (A + lambda C) dp = F.
//
// A is the negative Jacobian of the node balances. For networks whose laws are
// monotone it is a column diagonally dominant M-matrix: what leaves one node
// enters another, and the excess of a column over its off-diagonal entries is
// what the fixed nodes take. Storing that excess instead of the diagonal makes
// elimination free of subtraction (after Grassmann, Taksar and Heyman, Oper.
// Res. 33 (1985) 1107-1116), so conductances may differ by fifteen decades.
// One elimination order per topology, no pivoting. Entries (i,j) and (j,i)
// stand together, so one index serves two updates.
//
// A pivot with few neighbours updates the slots listed for it. Those with many,
// which only grids and the like have, come in blocks that share their neighbours
// (supernodes): what a block does to a row after it is summed up first, from
// numbers that stand side by side, and then put into the row at once.

// factors holds the numbers of one factorisation.
type factors struct {
	*pattern
	entries []entry
	excess  []float64 // by position
	diag    []float64
	rhs     []float64
	sum     []entry // what a block does to one row
}

// entry is a pair of an earlier and a later node: upper is in the row of the
// earlier one, lower in that of the later one.
type entry struct{ upper, lower float64 }

func newFactors(p *pattern) *factors {
	widest := int32(0)
	for _, b := range p.blocks {
		widest = max(widest, p.width(b.last-1))
	}
	return &factors{
		pattern: p, entries: make([]entry, len(p.nbr)), excess: make([]float64, p.n),
		diag: make([]float64, p.n), rhs: make([]float64, p.n), sum: make([]entry, widest),
	}
}

// clear sets every number to zero.
func (f *factors) clear() {
	clear(f.entries)
	clear(f.excess)
	clear(f.rhs)
}

// solve factors in place and leaves the solution in rhs, by position.
func (f *factors) solve() {
	blocks, target := f.blocks, f.target
	for k := int32(0); k < int32(f.n); k++ {
		if len(blocks) > 0 && blocks[0].first == k {
			f.eliminateBlock(blocks[0])
			k = blocks[0].last - 1
			blocks = blocks[1:]
			continue
		}
		row, _ := f.pivot(k)
		for x := range row {
			a, rest := row[x], row[x+1:]
			for y := range rest {
				to := &f.entries[target[y]]
				to.upper += a.lower * rest[y].upper
				to.lower += a.upper * rest[y].lower
			}
			target = target[len(rest):]
		}
	}
	for k := f.n - 1; k >= 0; k-- {
		x := f.rhs[k]
		s, e := f.start[k], f.start[k+1]
		nbr := f.nbr[s:e]
		for i, a := range f.entries[s:e] {
			x += a.upper * f.rhs[nbr[i]]
		}
		f.rhs[k] = x / f.diag[k]
	}
}

// pivot takes pivot k out of the right side and the excesses of its neighbours, and
// gives its row, the lower entries divided by the diagonal, and its neighbours.
func (f *factors) pivot(k int32) (row []entry, nbr []int32) {
	s, e := f.start[k], f.start[k+1]
	row, nbr = f.entries[s:e], f.nbr[s:e]
	d := f.excess[k]
	for i := range row {
		d += row[i].lower
	}
	if d < 1e-30 && d > -1e-30 {
		d = 1e-30
	}
	f.diag[k] = d
	inv := 1 / d
	b, ek := f.rhs[k], f.excess[k]*inv
	for i, j := range nbr {
		row[i].lower *= inv
		f.rhs[j] += row[i].lower * b
		f.excess[j] += ek * row[i].upper
	}
	return row, nbr
}

// eliminateBlock takes a block of pivots. The row of each holds the later ones of
// the block first, then the neighbours they share.
func (f *factors) eliminateBlock(b block) {
	for k := b.first; k < b.last; k++ {
		row, _ := f.pivot(k)
		for x := range int(b.last - k - 1) {
			update(f.entries[f.start[k+1+int32(x)]:f.start[k+2+int32(x)]], row[x+1:], row[x])
		}
	}
	shared := f.nbr[f.start[b.last-1]:f.start[b.last]]
	for x, r := range shared {
		after := shared[x+1:]
		sum := f.sum[:len(after)]
		clear(sum)
		k := b.first
		for ; k+1 < b.last; k += 2 {
			one := f.entries[f.start[k+1]-int32(len(shared)-x) : f.start[k+1]]
			two := f.entries[f.start[k+2]-int32(len(shared)-x) : f.start[k+2]]
			updateTwice(sum, one[1:], two[1:], one[0], two[0])
		}
		if k < b.last {
			row := f.entries[f.start[k+1]-int32(len(shared)-x) : f.start[k+1]]
			update(sum, row[1:], row[0])
		}
		at := f.start[r]
		for y, j := range after {
			for f.nbr[at] != j {
				at++
			}
			f.entries[at].upper += sum[y].upper
			f.entries[at].lower += sum[y].lower
		}
	}
}

// update adds to row to, the row of a's later node, what the pivot of a does to it.
func update(to, from []entry, a entry) {
	from = from[:len(to)]
	for i := range to {
		to[i].upper += a.lower * from[i].upper
		to[i].lower += a.upper * from[i].lower
	}
}

// updateTwice does so for two pivots at once.
func updateTwice(to, one, two []entry, a, b entry) {
	one, two = one[:len(to)], two[:len(to)]
	for i := range to {
		to[i].upper += a.lower*one[i].upper + b.lower*two[i].upper
		to[i].lower += a.upper*one[i].lower + b.upper*two[i].lower
	}
}
