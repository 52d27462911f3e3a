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
// share one slot, so one index serves two updates.

// factors holds the pattern of one set of unknowns and the numbers of one
// factorisation.
type factors struct {
	n     int
	order []int // node at each elimination position
	pos   []int // position of each node, -1 where it is not an unknown
	start []int // slots of pivot k are start[k]..start[k+1]
	nbr   []int // position of the later neighbour of each slot
	// targets of pivot k: the slots of each pair of its neighbours, row by row
	tstart []int
	target []int
	lookup map[[2]int]int // slot of a pair of positions, lower first

	upper  []float64 // a[k][nbr]: row of the earlier node
	lower  []float64 // a[nbr][k]: row of the later node
	excess []float64 // by position
	diag   []float64
	rhs    []float64
}

// newFactors orders the nodes marked unknown under the given couplings (pairs
// of nodes, in any order, repeats allowed) and lays out the fill.
func newFactors(unknown []bool, couplings [][2]int) *factors {
	f := &factors{pos: make([]int, len(unknown)), lookup: map[[2]int]int{}}
	var ids []int
	for i, u := range unknown {
		f.pos[i] = -1
		if u {
			f.pos[i] = len(ids)
			ids = append(ids, i)
		}
	}
	f.n = len(ids)
	adj := make([][]int, f.n)
	for _, c := range couplings {
		a, b := f.pos[c[0]], f.pos[c[1]]
		if a >= 0 && b >= 0 && a != b {
			adj[a] = append(adj[a], b)
			adj[b] = append(adj[b], a)
		}
	}
	order, later := minimumDegree(adj)
	rank := make([]int, f.n)
	f.order = make([]int, f.n)
	for k, v := range order {
		rank[v] = k
		f.order[k] = ids[v]
	}
	for k, v := range f.order {
		f.pos[v] = k
	}
	f.start = make([]int, f.n+1)
	f.tstart = make([]int, f.n+1)
	for k := range f.n {
		for _, v := range later[order[k]] {
			f.lookup[[2]int{k, rank[v]}] = len(f.nbr)
			f.nbr = append(f.nbr, rank[v])
		}
		f.start[k+1] = len(f.nbr)
	}
	for k := range f.n {
		s := f.nbr[f.start[k]:f.start[k+1]]
		for x := range s {
			for y := x + 1; y < len(s); y++ {
				f.target = append(f.target, f.lookup[[2]int{min(s[x], s[y]), max(s[x], s[y])}])
			}
		}
		f.tstart[k+1] = len(f.target)
	}
	f.upper = make([]float64, len(f.nbr))
	f.lower = make([]float64, len(f.nbr))
	f.excess = make([]float64, f.n)
	f.diag = make([]float64, f.n)
	f.rhs = make([]float64, f.n)
	return f
}

// slot gives where entry (row, column) of two different nodes is kept: the
// index and whether it is in upper (row eliminated first). ok is false where
// either node is not an unknown.
func (f *factors) slot(row, column int) (index int, upper, ok bool) {
	r, c := f.pos[row], f.pos[column]
	if r < 0 || c < 0 {
		return 0, false, false
	}
	i, ok := f.lookup[[2]int{min(r, c), max(r, c)}]
	return i, r < c, ok
}

// clear sets every number to zero.
func (f *factors) clear() {
	clear(f.upper)
	clear(f.lower)
	clear(f.excess)
	clear(f.rhs)
}

// solve factors in place and leaves the solution in rhs, by position.
func (f *factors) solve() {
	for k := range f.n {
		s, e := f.start[k], f.start[k+1]
		d := f.excess[k]
		for i := s; i < e; i++ {
			d += f.lower[i]
		}
		if d < 1e-30 && d > -1e-30 {
			d = 1e-30
		}
		f.diag[k] = d
		inv := 1 / d
		b := f.rhs[k]
		ek := f.excess[k] * inv
		t := f.tstart[k]
		for i := s; i < e; i++ {
			li := f.lower[i] * inv
			ui := f.upper[i]
			f.rhs[f.nbr[i]] += li * b
			f.excess[f.nbr[i]] += ek * ui
			for j := i + 1; j < e; j++ {
				lj, uj := f.lower[j]*inv, f.upper[j]
				at := f.target[t]
				t++
				// The earlier of the two neighbours owns the slot's row in upper.
				if f.nbr[i] < f.nbr[j] {
					f.upper[at] += li * uj
					f.lower[at] += lj * ui
				} else {
					f.upper[at] += lj * ui
					f.lower[at] += li * uj
				}
			}
		}
	}
	for k := f.n - 1; k >= 0; k-- {
		x := f.rhs[k]
		for i := f.start[k]; i < f.start[k+1]; i++ {
			x += f.upper[i] * f.rhs[f.nbr[i]]
		}
		f.rhs[k] = x / f.diag[k]
	}
}
