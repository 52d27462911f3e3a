package solver

import "slices"

// The symbolic factorisation: where the numbers of the elimination will stand. The
// elimination tree (Liu, SIAM J. Matrix Anal. Appl. 11 (1990) 134-172) has each node
// hang on the first of the nodes that are next to it when it is eliminated. Its
// postorder is an order as good as the one it was made from, in which what is
// eliminated together stands together.

// A pattern is the symbolic factorisation of one set of unknowns. It is not changed
// once made, and may be shared.
type pattern struct {
	n     int
	order []int32 // node at each elimination position
	pos   []int32 // position of each node, -1 where it is not an unknown
	start []int32 // slots of pivot k are start[k]..start[k+1]
	nbr   []int32 // position of the later neighbour of each slot, rising for each pivot
	// target lists for each light pivot the slots of each pair of its neighbours, row
	// by row; the others are in blocks.
	target []int32
	blocks []block
}

// A block is a run of pivots first..last-1 with the same neighbours after it.
type block struct{ first, last int32 }

// lightest is the number of neighbours from which on pivots are eliminated in blocks.
const lightest = 16

// newPattern orders the nodes marked unknown under the given couplings (pairs of
// nodes, in any order, repeats allowed) and lays out the fill.
func newPattern(unknown []bool, couplings [][2]int32) *pattern {
	f := &pattern{pos: make([]int32, len(unknown))}
	var ids []int32
	for i, u := range unknown {
		f.pos[i] = -1
		if u {
			f.pos[i] = int32(len(ids))
			ids = append(ids, int32(i))
		}
	}
	f.n = len(ids)
	edges := make([][2]int32, 0, len(couplings))
	for _, c := range couplings {
		if a, b := f.pos[c[0]], f.pos[c[1]]; a >= 0 && b >= 0 {
			edges = append(edges, [2]int32{a, b})
		}
	}
	g := newGraph(f.n, edges)
	order := g.elimination()
	g = g.renumbered(order)
	parent := g.tree()
	post := postorder(parent)
	g = g.renumbered(post)
	f.order = make([]int32, f.n)
	for k, v := range post {
		f.order[k] = ids[order[v]]
		f.pos[f.order[k]] = int32(k)
	}
	f.fill(g)
	f.group()
	f.aim()
	return f
}

// renumbered is g with its nodes in the order given.
func (g *graph) renumbered(order []int32) *graph {
	rank := make([]int32, len(order))
	for k, v := range order {
		rank[v] = int32(k)
	}
	r := &graph{make([]int32, 1, len(order)+1), make([]int32, 0, len(g.next))}
	for _, v := range order {
		for _, u := range g.of(v) {
			r.next = append(r.next, rank[u])
		}
		r.start = append(r.start, int32(len(r.next)))
	}
	return r
}

// tree gives the parent of each node when nodes are eliminated in the order of their
// numbers, -1 for a root.
func (g *graph) tree() []int32 {
	parent, top := filled32(g.nodes(), -1), filled32(g.nodes(), -1) // top: a shortcut upwards
	for k := range int32(g.nodes()) {
		for _, i := range g.of(k) {
			for i < k && i >= 0 {
				up := top[i]
				top[i] = k
				if up < 0 {
					parent[i] = k
				}
				if up == k {
					break
				}
				i = up
			}
		}
	}
	return parent
}

// postorder lists the nodes of a forest so that each comes right after those below it.
func postorder(parent []int32) []int32 {
	n := int32(len(parent))
	child, next := filled32(int(n), -1), make([]int32, n)
	root := int32(-1)
	for i := n - 1; i >= 0; i-- { // so that the lowest is the first of each list
		list := &root
		if parent[i] >= 0 {
			list = &child[parent[i]]
		}
		next[i], *list = *list, i
	}
	order := make([]int32, 0, n)
	for r := root; r >= 0; r = next[r] {
		for i := r; ; {
			for child[i] >= 0 { // down to the first leaf, unlinking on the way
				c := child[i]
				child[i] = next[c]
				i = c
			}
			order = append(order, i)
			if i == r {
				break
			}
			i = parent[i]
		}
	}
	return order
}

// fill lays out the rows: the later neighbours of each pivot, and what the rows that
// hang on it have beyond it.
func (f *pattern) fill(g *graph) {
	f.start = make([]int32, 1, f.n+1)
	f.nbr = make([]int32, 0, len(g.next))
	met := filled32(f.n, -1)
	below, next := filled32(f.n, -1), make([]int32, f.n) // rows that hang on a pivot
	for k := range int32(f.n) {
		met[k] = k
		from := len(f.nbr)
		add := func(list []int32) {
			for _, j := range list {
				if j > k && met[j] != k {
					met[j] = k
					f.nbr = append(f.nbr, j)
				}
			}
		}
		add(g.of(k))
		for c := below[k]; c >= 0; c = next[c] {
			add(f.nbr[f.start[c]:f.start[c+1]])
		}
		row := f.nbr[from:]
		slices.Sort(row)
		f.start = append(f.start, int32(len(f.nbr)))
		if len(row) > 0 {
			next[k], below[row[0]] = below[row[0]], k
		}
	}
	f.nbr = slices.Clip(f.nbr)
}

// group finds the blocks.
func (f *pattern) group() {
	for k := int32(0); k < int32(f.n); {
		last := k + 1
		for ; last < int32(f.n) && f.width(last) == f.width(last-1)-1 && f.nbr[f.start[last-1]] == last; last++ {
		}
		if f.width(k) < lightest {
			last = k + 1
		} else {
			f.blocks = append(f.blocks, block{k, last})
		}
		k = last
	}
}

func (f *pattern) width(k int32) int32 { return f.start[k+1] - f.start[k] }

// aim finds the targets of the light pivots.
func (f *pattern) aim() {
	blocks := f.blocks
	for k := int32(0); k < int32(f.n); k++ {
		if len(blocks) > 0 && blocks[0].first == k {
			k = blocks[0].last - 1
			blocks = blocks[1:]
			continue
		}
		row := f.nbr[f.start[k]:f.start[k+1]]
		for x, r := range row {
			at := f.start[r]
			for _, j := range row[x+1:] {
				for f.nbr[at] != j {
					at++
				}
				f.target = append(f.target, at)
			}
		}
	}
	f.target = slices.Clip(f.target)
}
