package fluid

import (
	"math"
	"slices"
)

// group is a set of terms that share their function of delta.
type group struct {
	d, c        int     // delta^d exp(-delta^c); c is 0 where there is none
	df, cf      float64 // the same as numbers
	bell        int     // index into bells, of bells only
	eta         float64 // of rare groups only
	first, last int     // its terms
}

// term is n tau^t, with tau^t at index t of the list of powers; n1 = n t and
// n2 = n t (t-1) belong to its derivatives.
type term struct {
	n, n1, n2 float64
	t         int
}

// bellShape is the exponential factor of a bell group.
type bellShape struct{ eta, epsilon, beta, gamma float64 }

// merged is the residual part of a mixture. The groups come in the order plain
// powers, exponentials, bells, rare ones.
type merged struct {
	groups               []group
	powers, exps, common int // groups[:powers], groups[powers:exps], groups[exps:common], groups[common:]
	terms                []term
	bells                []bellShape
	t                    []float64 // distinct exponents of tau
	eighths              []int     // the same times 8, -1 where that is no number from 0 to 255
	exponents            []int     // distinct c
	humps                []hump    // of multiparameter equations only
}

// shapeKey tells groups apart. The zero bellShape means none.
type shapeKey struct {
	d, c int
	bell bellShape
	fade float64 // eta of exp(-eta delta^c), where it is not 1
}

func (k shapeKey) class() int {
	switch {
	case k.rare():
		return 3
	case k.bell != bellShape{}:
		return 2
	case k.c > 0:
		return 1
	}
	return 0
}

// entry is one term n tau^t of a group.
type entry struct{ t, n float64 }

func mergeTerms(parts []part) merged {
	var keys []shapeKey
	lists := map[shapeKey][]entry{} // looked up only, never ranged over
	add := func(k shapeKey, t, n float64) {
		list, seen := lists[k]
		if !seen {
			keys = append(keys, k)
		}
		for i := range list {
			if list[i].t == t {
				list[i].n += n
				return
			}
		}
		lists[k] = append(list, entry{t, n})
	}
	var x [componentCount]float64
	for _, p := range parts {
		x[p.i] = p.x
		r := &residuals[p.i]
		for k, s := range r.shape {
			add(shapeKey{d: s.d, c: s.c}, s.t, p.x*r.n[k])
		}
	}
	for i := range departures {
		f := &departures[i]
		w := x[f.i] * x[f.j] * f.f
		if w == 0 {
			continue
		}
		for _, b := range f.terms {
			add(shapeKey{d: b.d, bell: bellShape{eta: b.eta, epsilon: b.epsilon, beta: b.beta, gamma: b.gamma}}, b.t, w*b.n)
		}
	}

	return layOut(keys, func(k shapeKey) []entry { return lists[k] })
}

// layOut sorts groups by class and gathers what they share. terms gives the terms of
// a group.
func layOut(keys []shapeKey, terms func(shapeKey) []entry) (m merged) {
	power := func(t float64) int {
		for i, have := range m.t {
			if have == t {
				return i
			}
		}
		m.t = append(m.t, t)
		eighths := -1
		if n := 8 * t; n == math.Trunc(n) && n >= 0 && n < 256 {
			eighths = int(n)
		}
		m.eighths = append(m.eighths, eighths)
		return len(m.t) - 1
	}
	bell := func(s bellShape) int {
		for i, have := range m.bells {
			if have == s {
				return i
			}
		}
		m.bells = append(m.bells, s)
		return len(m.bells) - 1
	}
	for class := range 4 {
		for _, k := range keys {
			if k.class() != class {
				continue
			}
			g := group{d: k.d, c: k.c, df: float64(k.d), cf: float64(k.c), first: len(m.terms)}
			for _, e := range terms(k) {
				m.terms = append(m.terms, term{e.n, e.n * e.t, e.n * e.t * (e.t - 1), power(e.t)})
			}
			g.last = len(m.terms)
			if class == 1 && !slices.Contains(m.exponents, k.c) {
				m.exponents = append(m.exponents, k.c)
			}
			if class == 2 {
				g.bell = bell(k.bell)
			}
			if class == 3 {
				if g.eta = 1; k.fade > 0 {
					g.eta = k.fade
				}
			}
			m.groups = append(m.groups, g)
		}
		switch class {
		case 0:
			m.powers = len(m.groups)
		case 1:
			m.exps = len(m.groups)
		case 2:
			m.common = len(m.groups)
		}
	}
	return m
}
