package solver

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/mat"
)

// The elimination against dense LU of a general-purpose library (gonum) on
// random patterns: M-matrices as networks make them, and ones that are not.
func TestEliminationAgainstDenseLU(t *testing.T) {
	for seed := uint64(0); seed < 200; seed++ {
		r := rand.New(rand.NewPCG(seed, 5))
		n := 1 + r.IntN(40)
		unknown := make([]bool, n)
		for i := range unknown {
			unknown[i] = r.IntN(8) > 0
		}
		var couplings [][2]int
		for range 2 * n {
			couplings = append(couplings, [2]int{r.IntN(n), r.IntN(n)})
		}
		f := newFactors(unknown, couplings)
		dense := mat.NewDense(n, n, nil)
		rhs := mat.NewVecDense(n, nil)
		for k, i := range f.order {
			x := r.NormFloat64()
			rhs.SetVec(i, x)
			f.rhs[k] = x
			e := math.Exp(4 * r.NormFloat64())
			f.excess[k] += e
			dense.Set(i, i, dense.At(i, i)+e)
		}
		for _, c := range couplings {
			i, j := c[0], c[1]
			s, upper, ok := f.slot(i, j)
			if i == j || !ok {
				continue
			}
			v := math.Exp(3 * r.NormFloat64()) // a[i][j] = -v, and column j's diagonal +v
			f.add(slot{int32(s), upper, true}, true, v)
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
			if d := math.Abs(f.rhs[k] - want.AtVec(i)); d > 1e-9*(1+math.Abs(want.AtVec(i))) {
				t.Errorf("seed %d, node %d: %g, want %g", seed, i, f.rhs[k], want.AtVec(i))
			}
		}
	}
}

// Trees and ladders fill in next to nothing, whatever their size.
func TestOrderingKeepsFillLow(t *testing.T) {
	const n = 20000
	r := rand.New(rand.NewPCG(1, 1))
	all := make([]bool, n)
	var tree, ladder [][2]int
	for i := range all {
		all[i] = true
		if i > 0 {
			tree = append(tree, [2]int{i, r.IntN(i)})
		}
		if i >= 2 {
			ladder = append(ladder, [2]int{i, i - 2})
		}
		if i%2 == 1 {
			ladder = append(ladder, [2]int{i, i - 1})
		}
	}
	if f := newFactors(all, tree); len(f.nbr) != n-1 {
		t.Errorf("a tree of %d nodes has %d entries", n, len(f.nbr))
	}
	if f := newFactors(all, ladder); len(f.nbr) > 2*n {
		t.Errorf("a ladder of %d nodes has %d entries", n, len(f.nbr))
	}
}
