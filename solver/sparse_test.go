package solver

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"gonum.org/v1/gonum/mat"
)

// The elimination against dense LU of a general-purpose library (gonum) on
// random patterns: M-matrices as networks make them, and ones that are not. Large
// ones are eliminated in blocks.
func TestEliminationAgainstDenseLU(t *testing.T) {
	blocks, shared := 0, 0
	for seed := uint64(0); seed < 200; seed++ {
		r := rand.New(rand.NewPCG(seed, 5))
		n := 1 + r.IntN(40)
		if seed%10 == 0 {
			n = 100 + r.IntN(100)
		}
		unknown := make([]bool, n)
		for i := range unknown {
			unknown[i] = r.IntN(8) > 0
		}
		var couplings [][2]int32
		for range 2 * n {
			couplings = append(couplings, [2]int32{r.Int32N(int32(n)), r.Int32N(int32(n))})
		}
		f := newFactors(newPattern(unknown, couplings))
		dense := mat.NewDense(n, n, nil)
		rhs := mat.NewVecDense(n, nil)
		for _, b := range f.blocks {
			blocks++
			if f.width(b.last-1) > 0 {
				shared++
			}
		}
		for k, node := range f.order {
			i := int(node)
			x := r.NormFloat64()
			rhs.SetVec(i, x)
			f.rhs[k] = x
			e := math.Exp(4 * r.NormFloat64())
			f.excess[k] += e
			dense.Set(i, i, dense.At(i, i)+e)
		}
		for _, c := range couplings {
			i, j := int(c[0]), int(c[1])
			s := f.slot(i, j)
			if s == noSlot {
				continue
			}
			v := math.Exp(3 * r.NormFloat64()) // a[i][j] = -v, and column j's diagonal +v
			f.add(s, true, v)
			dense.Set(i, j, dense.At(i, j)-v)
			dense.Set(j, j, dense.At(j, j)+v)
		}
		for i := range n {
			if !unknown[i] {
				dense.Set(i, i, 1)
			}
		}
		f.solve()
		var want mat.VecDense
		if err := want.SolveVec(dense, rhs); err != nil {
			t.Fatalf("seed %d: %v", seed, err)
		}
		for k, i := range f.order {
			if d := math.Abs(f.rhs[k] - want.AtVec(int(i))); d > 1e-9*(1+math.Abs(want.AtVec(int(i)))) {
				t.Errorf("seed %d, node %d: %g, want %g", seed, i, f.rhs[k], want.AtVec(int(i)))
			}
		}
	}
	if blocks < 20 || shared == 0 {
		t.Errorf("only %d blocks were met, %d of them with rows after them", blocks, shared)
	}
}

// Trees fill in nothing, ladders and rings about a hub next to nothing, whatever
// their size, and grids little.
func TestOrderingKeepsFillLow(t *testing.T) {
	const n, side = 50_000, 100
	r := rand.New(rand.NewPCG(1, 1))
	var tree, star, chain, ladder, wheel, grid [][2]int32
	for i := range int32(n) {
		if i > 0 {
			tree = append(tree, [2]int32{i, r.Int32N(i)})
			star = append(star, [2]int32{i, 0})
			chain = append(chain, [2]int32{i - 1, i})
			wheel = append(wheel, [2]int32{i, 0}, [2]int32{i, i%(n-1) + 1})
		}
		if i >= 2 {
			ladder = append(ladder, [2]int32{i, i - 2})
		}
		if i%2 == 1 {
			ladder = append(ladder, [2]int32{i, i - 1})
		}
	}
	for i := range int32(side * side) {
		if i%side > 0 {
			grid = append(grid, [2]int32{i, i - 1})
		}
		if i >= side {
			grid = append(grid, [2]int32{i, i - side})
		}
	}
	for _, c := range []struct {
		name      string
		nodes     int
		couplings [][2]int32
		most      int // entries
	}{
		{"tree", n, tree, n - 1},
		{"star", n, star, n - 1},
		{"chain", n, chain, n - 1},
		{"ladder", n, ladder, 2 * n},
		{"wheel", n, wheel, 3 * n},
		{"grid", side * side, grid, 20 * side * side},
	} {
		all := make([]bool, c.nodes)
		for i := range all {
			all[i] = true
		}
		f := newPattern(all, c.couplings)
		if len(f.nbr) > c.most {
			t.Errorf("a %s of %d nodes has %d entries, more than %d", c.name, c.nodes, len(f.nbr), c.most)
		}
		for k, i := range f.order {
			if f.pos[i] != int32(k) {
				t.Fatalf("%s: the order is no permutation", c.name)
			}
		}
	}
}

// One pattern has one order, and workspaces of one network share it.
func TestLayoutIsShared(t *testing.T) {
	b := largeGrid(400)
	n, err := New(b.nodes, b.elements)
	if err != nil {
		t.Fatal(err)
	}
	one, two := NewWorkspace(n), NewWorkspace(n)
	for _, w := range []*Workspace{one, two} {
		if r, err := w.Solve(&b.c); err != nil || r.Status != Solved {
			t.Fatal(err, r.Reason)
		}
	}
	if one.f.pattern != two.f.pattern {
		t.Error("two workspaces made a symbolic factorisation each")
	}
	again := n.newLayout(one.fixed)
	if !slices.Equal(again.order, one.f.order) || !slices.Equal(again.nbr, one.f.nbr) {
		t.Error("the same topology was ordered in two ways")
	}
}
