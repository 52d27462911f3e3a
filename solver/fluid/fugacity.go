package fluid

import (
	"math"
	"sort"
)

// Fugacities of the components of a mixture.
//
// With n alphar the residual Helmholtz energy of n moles, ln phi_k is its slope
// with the amount of component k at constant temperature and volume, less ln Z.
// Since the residual functions are taken at the reduced state of the mixture, the
// slope has three parts: the component's own function, and what one more molecule
// does to the reducing density and temperature. With T_k and W_k the slopes of T_r
// and of 1/rho_r with x_k, all x taken as independent,
//
//	nT_k   = T_k - sum x_m T_m
//	nrho_k = -rho_r^2 (W_k - sum x_m W_m)
//	B_k    = A_k + sum_m x_m F_km D_km
//	ln phi_k = a00 + a01 (1 - nrho_k/rho_r) + a10 nT_k/T_r + B_k - sum x_m B_m - ln Z
//
// (O. Kunz, R. Klimeck, W. Wagner, M. Jaeschke, GERG Technical Monograph 15 (2007),
// chapters 5 and 7; also ISO 20765-2.)
//
// A Mixture has its terms summed over the components (merge.go). Here they are
// needed apart, and dew points ask for fugacities at many compositions of the same
// components. So the shares of every component and pair in the summed terms are
// listed once, and a trial composition is a new sum over the same list.

// shares says what each component and pair adds to the summed terms of a mixture.
type shares struct {
	m     *Mixture
	own   [][]share // of part k
	pairs []pairShare
	joint []joint
}

// share is n in term number term.
type share struct {
	term int
	n    float64
}

// pairShare is F times the departure function of parts a and b.
type pairShare struct {
	a, b  int
	terms []share
}

// joint holds the constants of parts a < b in the reducing functions:
// 2 betaT gammaT sqrt(Tc_a Tc_b), betaT^2, and the same for 1/rho_r.
type joint struct {
	a, b                 int
	t, betaT2, v, betaV2 float64
}

func newShares(m *Mixture) *shares {
	s := &shares{m: m, own: make([][]share, len(m.parts))}
	find := func(d, c int, bell bellShape, t float64) int {
		for i := range m.terms.groups {
			g := &m.terms.groups[i]
			var shape bellShape
			if i >= m.terms.exps {
				shape = m.terms.bells[g.bell]
			}
			if g.d != d || g.c != c || shape != bell {
				continue
			}
			for k := g.first; k < g.last; k++ {
				if m.terms.t[m.terms.terms[k].t] == t {
					return k
				}
			}
		}
		panic("fluid: a term is missing from its own mixture")
	}
	at := map[int]int{} // component to part; looked up only
	for k, p := range m.parts {
		at[p.i] = k
		r := &residuals[p.i]
		for j, q := range r.shape {
			s.own[k] = append(s.own[k], share{find(q.d, q.c, bellShape{}, q.t), r.n[j]})
		}
	}
	for i := range departures {
		f := &departures[i]
		a, hasA := at[f.i]
		b, hasB := at[f.j]
		if !hasA || !hasB {
			continue
		}
		p := pairShare{a: a, b: b}
		for _, q := range f.terms {
			p.terms = append(p.terms, share{find(q.d, 0, bellShape{eta: q.eta, epsilon: q.epsilon, beta: q.beta, gamma: q.gamma}, q.t), f.f * q.n})
		}
		s.pairs = append(s.pairs, p)
	}
	for a, p := range m.parts {
		ci := &components[p.i]
		for b := a + 1; b < len(m.parts); b++ {
			cj := &components[m.parts[b].i]
			row := pairTable(p.i, m.parts[b].i)
			root := math.Cbrt(1/ci.rhoC) + math.Cbrt(1/cj.rhoC)
			s.joint = append(s.joint, joint{
				a, b,
				2 * row.betaT * row.gammaT * math.Sqrt(ci.tC*cj.tC), row.betaT * row.betaT,
				2 * row.betaRho * row.gammaRho * root * root * root / 8, row.betaRho * row.betaRho,
			})
		}
	}
	return s
}

// trial is a composition of the components of a mixture whose fugacities are
// asked for. It belongs to one goroutine.
type trial struct {
	s      *shares
	x      []float64 // by part
	m      Mixture   // its parts, reducing functions and terms; nothing else
	e      Evaluator
	tK, vK []float64 // slopes of T_r and 1/rho_r with x
	b      []float64 // B_k
	value  []float64 // of every term
	packed float64   // pseudo-critical density over rho_r
	liquid float64   // last liquid density [mol/m3]; 0 at first
}

func (s *shares) trial() *trial {
	n := len(s.m.parts)
	t := &trial{s: s, x: make([]float64, n), tK: make([]float64, n), vK: make([]float64, n), b: make([]float64, n)}
	t.m.parts = append([]part(nil), s.m.parts...)
	t.m.terms = s.m.terms
	t.m.terms.terms = append([]term(nil), s.m.terms.terms...)
	t.value = make([]float64, len(t.m.terms.terms))
	t.e.m = &t.m
	return t
}

// set takes over the composition x, in the order of parts, each 0 or more and not
// all 0; it is scaled to sum to 1.
func (t *trial) set(x []float64) {
	sum := 0.0
	for _, v := range x {
		sum += v
	}
	var tR, v, vC float64
	for k := range t.x {
		t.x[k] = x[k] / sum
		t.m.parts[k].x = t.x[k]
		c := &components[t.m.parts[k].i]
		tR += t.x[k] * t.x[k] * c.tC
		v += t.x[k] * t.x[k] / c.rhoC
		vC += t.x[k] / c.rhoC
		t.tK[k] = 2 * t.x[k] * c.tC
		t.vK[k] = 2 * t.x[k] / c.rhoC
	}
	for i := range t.s.joint {
		j := &t.s.joint[i]
		x, y := t.x[j.a], t.x[j.b]
		if x == 0 && y == 0 {
			continue
		}
		f, fx, fy := pairSlopes(x, y, j.betaT2)
		tR += j.t * f
		t.tK[j.a] += j.t * fx
		t.tK[j.b] += j.t * fy
		f, fx, fy = pairSlopes(x, y, j.betaV2)
		v += j.v * f
		t.vK[j.a] += j.v * fx
		t.vK[j.b] += j.v * fy
	}
	t.m.reducing = reducing{1 / v, tR}
	t.packed = v / vC
	terms := t.m.terms.terms
	for k := range terms {
		terms[k].n = 0
	}
	for k, own := range t.s.own {
		for _, q := range own {
			terms[q.term].n += t.x[k] * q.n
		}
	}
	for i := range t.s.pairs {
		p := &t.s.pairs[i]
		w := t.x[p.a] * t.x[p.b]
		for _, q := range p.terms {
			terms[q.term].n += w * q.n
		}
	}
	t.e.tK = 0 // what the evaluator keeps belongs to the composition before
}

// pairSlopes is x y (x + y)/(b x + y) and its slopes with x and with y.
func pairSlopes(x, y, b float64) (f, fx, fy float64) {
	n := b*x + y
	r, q := (x+y)/n, x*y/n
	return x * y * r, y*r + q*(1-b*r), x*r + q*(1-r)
}

// at writes ln phi of every part at tK [K] and the root r of phase ph into dst.
func (t *trial) at(dst []float64, tK float64, r root) {
	t.e.setTemperature(tK)
	delta := r.delta
	var f factors
	t.e.factors(delta, &f)
	m := &t.m.terms
	var a00, a01, a10 float64
	for i := range m.groups {
		g := &m.groups[i]
		v, slope := f.pow[g.d&7], g.df
		switch {
		case i >= m.exps:
			v *= f.bell[g.bell&15]
			s, _, _ := m.bells[g.bell].slopes(delta)
			slope += s
		case i >= m.powers:
			v *= f.exp[g.c&7]
			slope -= g.cf * f.pow[g.c&7]
		}
		for k := g.first; k < g.last; k++ {
			q := &m.terms[k]
			t.value[k] = v * t.e.pow[q.t]
			w := q.n * t.value[k]
			a00 += w
			a01 += w * slope
			a10 += w * m.t[q.t]
		}
	}
	var sumT, sumV, sumB float64
	for k, own := range t.s.own {
		b := 0.0
		for _, q := range own {
			b += q.n * t.value[q.term]
		}
		t.b[k] = b
	}
	for i := range t.s.pairs {
		p := &t.s.pairs[i]
		d := 0.0
		for _, q := range p.terms {
			d += q.n * t.value[q.term]
		}
		t.b[p.a] += t.x[p.b] * d
		t.b[p.b] += t.x[p.a] * d
	}
	for k, x := range t.x {
		sumT += x * t.tK[k]
		sumV += x * t.vK[k]
		sumB += x * t.b[k]
	}
	common := a00 + a01 - sumB - math.Log(1+a01)
	for k := range t.x {
		dst[k] = common + a01*t.m.rhoR*(t.vK[k]-sumV) + a10*(t.tK[k]-sumT)/t.m.tR + t.b[k]
	}
}

// root finds the root of phase ph at tK and pPa; it reports false where there is none.
func (t *trial) root(tK, pPa float64, ph Phase) (root, bool) {
	t.e.setTemperature(tK)
	want := pPa / (t.m.rhoR * gasConstant * tK)
	if ph == Liquid {
		r, ok := t.e.liquidRootBeside(want, t.liquid/t.m.rhoR)
		if ok {
			t.liquid = r.delta * t.m.rhoR
		}
		return r, ok
	}
	return t.e.gasRoot(want)
}

// LnPhi gives ln of the fugacity coefficient of every component, in the order of
// Fractions, on the gas or the liquid root at tK [K] and pPa [Pa, absolute]. Where
// the equation has one root only, as well above the critical temperature, it is the
// root of both phases. The error is a *StateError outside the range of the equation
// and where there is no root of that phase; a pure gas above its saturation pressure
// is no gas.
func (m *Mixture) LnPhi(tK, pPa float64, ph Phase) ([]float64, error) {
	e := m.Evaluator()
	var r root
	var err error
	if ph == Liquid {
		r, err = e.solveLiquid(tK, pPa)
	} else {
		r, err = e.solve(tK, pPa)
	}
	if err != nil {
		return nil, err
	}
	if m.own != nil {
		return []float64{e.lnPhiPure(r)}, nil
	}
	t := m.shares().trial()
	x := make([]float64, len(m.parts))
	for k, p := range m.parts {
		x[k] = p.x
	}
	t.set(x)
	t.at(x, tK, r)
	return m.byName(x), nil
}

// lnPhiPure is ln of the fugacity coefficient of a pure fluid at a root.
func (e *Evaluator) lnPhiPure(r root) float64 {
	a := e.derivatives(r.delta)
	return a.a00 + a.a01 - math.Log(1+a.a01)
}

// byName brings values by part into the order of Fractions.
func (m *Mixture) byName(v []float64) []float64 {
	out := make([]float64, len(v))
	for k, at := range m.nameOrder() {
		out[k] = v[at]
	}
	return out
}

// nameOrder lists the parts in the order of their names.
func (m *Mixture) nameOrder() []int {
	order := make([]int, len(m.parts))
	for k := range order {
		order[k] = k
	}
	sort.Slice(order, func(a, b int) bool {
		return substances[m.parts[order[a]].i].name < substances[m.parts[order[b]].i].name
	})
	return order
}
