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
// With f the value of a group, its derivatives are delta f' = f E, delta^2 f'' = f X
// and delta^3 f''' = f Y:
//
//	power        E = d        X = d (d-1)        Y = d (d-1) (d-2)
//	exponential  E = d - g    X = E (E-1) - c g  Y = E (E-1) (E-2) - c g (3E - 3 + c)
//	             with g = c delta^c
//	bell         E = d - u (delta - eps) - beta delta,  u = 2 eta delta
//	             E' = -u (2 delta - eps) - beta delta   E'' = -u (4 delta - eps) - beta delta
//	             X = E^2 - E + E'                       Y = E X + (2E - 1) E' + E'' - 2X
//
// The multiparameter equations of single substances (multiparameter.go) are sums of
// the same groups. Some of their terms have besides tau^t a hump in tau (hump.go),
// which goes into the coefficient of its group, and some groups are rare (hump.go).

const (
	maxGroups = 36
	maxPowers = 76
	maxBells  = 16
)

// Evaluator computes properties of one mixture and keeps what depends on
// temperature alone. It allocates nothing. It belongs to one goroutine.
type Evaluator struct {
	m   *Mixture
	tK  float64 // temperature of what follows; 0: none yet
	tau float64
	pow [maxPowers]float64 // tau^t
	c   [maxGroups]float64 // coefficient of each group
	// What the humps add to tau c' and tau^2 c''.
	hump1, hump2 [maxGroups]float64
	b, b3        float64 // second and third virial coefficients in delta

	idealK          float64 // temperature of what follows; 0: none yet
	alpha0, i1, cv0 float64 // idealGas.at
}

// Evaluator makes an evaluator for m.
func (m *Mixture) Evaluator() *Evaluator { return &Evaluator{m: m} }

// idealAt brings the ideal gas to tK.
func (e *Evaluator) idealAt(tK float64) {
	if tK != e.idealK {
		e.idealK = tK
		e.alpha0, e.i1, e.cv0 = e.m.ideal.at(tK)
	}
}

// setTemperature brings the coefficients to tK.
func (e *Evaluator) setTemperature(tK float64) {
	if tK == e.tK {
		return
	}
	m := &e.m.terms
	e.tK = tK
	e.tau = e.m.tR / tK
	lnTau := math.Log(e.tau)
	e.raise(lnTau)
	for i := range m.groups {
		g := &m.groups[i]
		sum := 0.0
		for _, t := range m.terms[g.first:g.last] {
			sum += t.n * e.pow[t.t]
		}
		e.c[i] = sum
	}
	if len(m.humps) > 0 {
		e.addHumps(lnTau)
	}
	e.virial()
}

// raise brings the powers of tau. Most exponents are eighths, and these powers one
// product of two from short lists, each of which is a product of few: good to some
// 1e-15, and much cheaper than exp.
func (e *Evaluator) raise(lnTau float64) {
	var fine, coarse [16]float64 // tau^(k/8) and tau^(2k)
	fine[0], fine[1] = 1, math.Sqrt(math.Sqrt(math.Sqrt(e.tau)))
	coarse[0], coarse[1] = 1, e.tau*e.tau
	for k := 2; k < len(fine); k++ {
		fine[k] = fine[k/2] * fine[k-k/2]
		coarse[k] = coarse[k/2] * coarse[k-k/2]
	}
	m := &e.m.terms
	for i, n := range m.eighths {
		if n >= 0 {
			e.pow[i] = fine[n&15] * coarse[n>>4&15]
		} else {
			e.pow[i] = math.Exp(m.t[i] * lnTau)
		}
	}
}

// virial finds b and b3 in a01 = b delta + b3 delta^2 + ...
func (e *Evaluator) virial() {
	m := &e.m.terms
	e.b, e.b3 = 0, 0
	for i := range m.groups {
		g := &m.groups[i]
		c, slope := e.c[i], 0.0 // of the factor at delta = 0: its value goes into c
		switch {
		case i >= m.common: // no slope there
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

// factors are the functions of delta that the groups share: delta^k,
// exp(-delta^c) and the bells. The sizes are powers of two so that a masked index
// needs no bounds check.
type factors struct {
	pow  [8]float64
	exp  [8]float64
	bell [16]float64
}

func (e *Evaluator) factors(delta float64, f *factors) {
	m := &e.m.terms
	f.pow[0] = 1
	for k := 1; k < len(f.pow); k++ {
		f.pow[k] = f.pow[k-1] * delta
	}
	for _, c := range m.exponents {
		f.exp[c&7] = math.Exp(-f.pow[c&7])
	}
	for i := range m.bells {
		s := &m.bells[i]
		u := delta - s.epsilon
		f.bell[i&15] = math.Exp(-s.eta*u*u - s.beta*(delta-s.gamma))
	}
}

// pressureTerms gives a01, a02 and a03 = delta^3 d3(alphar)/ddelta3, all that
// density needs.
func (e *Evaluator) pressureTerms(delta float64) (a01, a02, a03 float64) {
	var f factors
	e.factors(delta, &f)
	m := &e.m.terms
	for i := range m.groups[:m.powers] {
		g := &m.groups[i]
		v := e.c[i] * f.pow[g.d&7] * g.df
		a01 += v
		v *= g.df - 1
		a02 += v
		a03 += v * (g.df - 2)
	}
	for i := m.powers; i < m.exps; i++ {
		g := &m.groups[i]
		v := e.c[i] * f.pow[g.d&7] * f.exp[g.c&7]
		q := g.cf * f.pow[g.c&7]
		s := g.df - q
		a01 += v * s
		a02 += v * (s*(s-1) - g.cf*q)
		a03 += v * (s*(s-1)*(s-2) - g.cf*q*(3*s-3+g.cf))
	}
	for i := m.exps; i < m.common; i++ {
		g := &m.groups[i]
		b := &m.bells[g.bell]
		v := e.c[i] * f.pow[g.d&7] * f.bell[g.bell&15]
		s, s1, s2 := b.slopes(delta)
		s += g.df
		x := s*s - s + s1
		a01 += v * s
		a02 += v * x
		a03 += v * (s*x + (2*s-1)*s1 + s2 - 2*x)
	}
	for i := m.common; i < len(m.groups); i++ {
		v, s, s1, s2 := m.groups[i].rareAt(delta)
		v *= e.c[i]
		x := s*s - s + s1
		a01 += v * s
		a02 += v * x
		a03 += v * (s*x + (2*s-1)*s1 + s2 - 2*x)
	}
	return a01, a02, a03
}

// slopes gives E less d, and E' and E” with E' = delta dE/ddelta.
func (b *bellShape) slopes(delta float64) (s, s1, s2 float64) {
	u := 2 * b.eta * delta
	v := b.beta * delta
	return -u*(delta-b.epsilon) - v, -u*(2*delta-b.epsilon) - v, -u*(4*delta-b.epsilon) - v
}

// derivatives are a_mn = tau^m delta^n d^(m+n) alphar / dtau^m ddelta^n.
type derivatives struct{ a00, a01, a02, a10, a11, a20 float64 }

func (e *Evaluator) derivatives(delta float64) (a derivatives) {
	var f factors
	e.factors(delta, &f)
	m := &e.m.terms
	for i := range m.groups {
		g := &m.groups[i]
		c1, c2 := e.hump1[i], e.hump2[i]
		for _, t := range m.terms[g.first:g.last] {
			p := e.pow[t.t]
			c1 += t.n1 * p
			c2 += t.n2 * p
		}
		v := f.pow[g.d&7]
		s := g.df
		var x float64
		switch {
		case i < m.powers:
			x = s * (s - 1)
		case i < m.exps:
			v *= f.exp[g.c&7]
			q := g.cf * f.pow[g.c&7]
			s -= q
			x = s*(s-1) - g.cf*q
		case i < m.common:
			v *= f.bell[g.bell&15]
			off, s1, _ := m.bells[g.bell].slopes(delta)
			s += off
			x = s*s - s + s1
		default:
			var s1 float64
			v, s, s1, _ = g.rareAt(delta)
			x = s*s - s + s1
		}
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
