package fluid

import "math"

// The residual Helmholtz energy and its derivatives.
//
// GERG-2008 adds up one function for each component and one for some pairs, all
// of them sums of n delta^d tau^t times a factor in delta, and all taken at the
// same reduced delta and tau of the mixture. So terms with the same d and the same
// factor are one function of delta with a coefficient that depends on tau alone:
// 366 terms become at most 36 groups, however many components there are. Per
// composition the terms are merged (mergeTerms); per temperature the coefficients
// are summed (setTemperature); per density only the groups are evaluated.
//
// With f the value of a group, E, X the multipliers with delta f' = f E and
// delta^2 f'' = f X (README of the constants and Kunz & Wagner 2012, table B5):
//
//	power        E = d            X = d (d-1)
//	exponential  E = d - g        X = E (E-1) - c g,  g = c delta^c
//	bell         E = d - 2u(delta - eps) - beta delta,  u = eta delta
//	             E' = -2u(2 delta - eps) - beta delta,  X = E^2 - E + E'

const (
	maxGroups = 36
	maxPowers = 76
	maxBells  = 9
	maxD      = 7 // largest power of delta
)

// group is a set of terms that share their function of delta.
type group struct {
	d           int
	c           int // exponent in exp(-delta^c); 0: none
	bell        int // index into bells, in the last third only
	first, last int // its terms
}

// term is n tau^t, with tau^t at index t of the list of powers.
type term struct {
	n float64
	t int
}

// bellShape is the exponential factor of a bell group.
type bellShape struct{ eta, epsilon, beta, gamma float64 }

// merged is the residual part of a mixture. The groups come in the order plain
// powers, exponentials, bells.
type merged struct {
	groups       []group
	powers, exps int // groups[:powers], groups[powers:exps], groups[exps:]
	terms        []term
	bells        []bellShape
	t            []float64 // distinct exponents of tau
	hasC         [maxD]bool
}

// shapeKey tells groups apart. The zero bellShape means none.
type shapeKey struct {
	d, c int
	bell bellShape
}

func (k shapeKey) class() int {
	switch {
	case k.bell != bellShape{}:
		return 2
	case k.c > 0:
		return 1
	}
	return 0
}

func mergeTerms(parts []part) merged {
	type entry struct {
		t, n float64
	}
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
			add(shapeKey{d: b.d, bell: bellShape{b.eta, b.epsilon, b.beta, b.gamma}}, b.t, w*b.n)
		}
	}

	var m merged
	power := func(t float64) int {
		for i, have := range m.t {
			if have == t {
				return i
			}
		}
		m.t = append(m.t, t)
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
	for class := range 3 {
		for _, k := range keys {
			if k.class() != class {
				continue
			}
			g := group{d: k.d, c: k.c, first: len(m.terms)}
			for _, e := range lists[k] {
				m.terms = append(m.terms, term{e.n, power(e.t)})
			}
			g.last = len(m.terms)
			if class == 1 {
				m.hasC[k.c] = true
			}
			if class == 2 {
				g.bell = bell(k.bell)
			}
			m.groups = append(m.groups, g)
		}
		switch class {
		case 0:
			m.powers = len(m.groups)
		case 1:
			m.exps = len(m.groups)
		}
	}
	return m
}

// Evaluator computes properties of one mixture and keeps what depends on
// temperature alone. It allocates nothing. It belongs to one goroutine.
type Evaluator struct {
	m     *Mixture
	tK    float64 // temperature of what follows; 0: none yet
	tau   float64
	pow   [maxPowers]float64 // tau^t
	c     [maxGroups]float64 // coefficient of each group
	b, b3 float64            // second and third virial coefficients in delta
}

// Evaluator makes an evaluator for m.
func (m *Mixture) Evaluator() *Evaluator { return &Evaluator{m: m} }

// setTemperature brings the coefficients to tK.
func (e *Evaluator) setTemperature(tK float64) {
	if tK == e.tK {
		return
	}
	m := &e.m.terms
	e.tK = tK
	e.tau = e.m.tR / tK
	lnTau := math.Log(e.tau)
	for i, t := range m.t {
		e.pow[i] = math.Exp(t * lnTau)
	}
	for i := range m.groups {
		g := &m.groups[i]
		sum := 0.0
		for _, t := range m.terms[g.first:g.last] {
			sum += t.n * e.pow[t.t]
		}
		e.c[i] = sum
	}
	e.virial()
}

// virial finds b and b3 in a01 = b delta + b3 delta^2 + ...
func (e *Evaluator) virial() {
	m := &e.m.terms
	e.b, e.b3 = 0, 0
	for i := range m.groups {
		g := &m.groups[i]
		c, slope := e.c[i], 0.0 // of the factor at delta = 0: value taken into c, and slope
		switch {
		case i >= m.exps:
			s := &m.bells[g.bell]
			c *= math.Exp(-s.eta*s.epsilon*s.epsilon + s.beta*s.gamma)
			slope = 2*s.eta*s.epsilon - s.beta
		case g.c == 1:
			slope = -1
		}
		switch g.d {
		case 1:
			e.b += c
			e.b3 += 2 * slope * c
		case 2:
			e.b3 += 2 * c
		}
	}
}

// factors fills delta^k, exp(-delta^c) and the bells at delta.
type factors struct {
	pow  [maxD + 1]float64
	exp  [maxD]float64
	bell [maxBells]float64
}

func (e *Evaluator) factors(delta float64, f *factors) {
	m := &e.m.terms
	f.pow[0] = 1
	for k := 1; k <= maxD; k++ {
		f.pow[k] = f.pow[k-1] * delta
	}
	for c := 1; c < maxD; c++ {
		if m.hasC[c] {
			f.exp[c] = math.Exp(-f.pow[c])
		}
	}
	for i := range m.bells {
		s := &m.bells[i]
		u := delta - s.epsilon
		f.bell[i] = math.Exp(-s.eta*u*u - s.beta*(delta-s.gamma))
	}
}

// shape gives f/coefficient, E and X of group i.
func (m *merged) shape(i int, delta float64, f *factors) (value, e, x float64) {
	g := &m.groups[i]
	d := float64(g.d)
	value = f.pow[g.d]
	switch {
	case i < m.powers:
		return value, d, d * (d - 1)
	case i < m.exps:
		c := float64(g.c)
		q := c * f.pow[g.c]
		e = d - q
		return value * f.exp[g.c], e, e*(e-1) - c*q
	}
	s := &m.bells[g.bell]
	u := 2 * s.eta * delta
	v := s.beta * delta
	e = d - u*(delta-s.epsilon) - v
	return value * f.bell[g.bell], e, e*e - e - u*(2*delta-s.epsilon) - v
}

// pressureTerms gives a01 and a02, all that density needs.
func (e *Evaluator) pressureTerms(delta float64) (a01, a02 float64) {
	var f factors
	e.factors(delta, &f)
	m := &e.m.terms
	for i := range m.groups {
		v, s, x := m.shape(i, delta, &f)
		v *= e.c[i]
		a01 += v * s
		a02 += v * x
	}
	return a01, a02
}

// derivatives are a_mn = tau^m delta^n d^(m+n) alphar / dtau^m ddelta^n.
type derivatives struct{ a00, a01, a02, a10, a11, a20 float64 }

func (e *Evaluator) derivatives(delta float64) (a derivatives) {
	var f factors
	e.factors(delta, &f)
	m := &e.m.terms
	for i := range m.groups {
		g := &m.groups[i]
		var c1, c2 float64
		for _, t := range m.terms[g.first:g.last] {
			w := t.n * e.pow[t.t] * m.t[t.t]
			c1 += w
			c2 += w * (m.t[t.t] - 1)
		}
		v, s, x := m.shape(i, delta, &f)
		v0, v1 := v*e.c[i], v*c1
		a.a00 += v0
		a.a01 += v0 * s
		a.a02 += v0 * x
		a.a10 += v1
		a.a11 += v1 * s
		a.a20 += v * c2
	}
	return a
}
