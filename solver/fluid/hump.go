package fluid

import "math"

// hump is a term of a multiparameter equation whose dependence on tau is more than
// a power: n delta^d exp(-eta (delta - epsilon)^2) tau^t times
//
//	exp(-beta (tau - gamma)^2)         R. Span, W. Wagner, J. Phys. Chem. Ref. Data 25 (1996) 1509
//	exp(1/(beta (tau - gamma)^2 + b))  where b is not 0: K. Gao et al., J. Phys. Chem. Ref. Data 52 (2023) 013102
//	exp(-rate tau)                     besides: K. M. de Reuck, R. J. B. Craven, Methanol (1993)
//
// Its part in delta is that of group number group. With g the exponent, its
// derivatives in tau are tau f' = f E and tau^2 f” = f (E^2 - E + tau E') with
// E = t + tau g'.
type hump struct {
	group                int
	n, t                 float64
	beta, gamma, b, rate float64
}

// A rare group is delta^d exp(-eta delta^c) where d is above 7 or eta not 1, or
// delta^d alone (c is 0): too few to slow the others down for. In the notation of
// helmholtz.go and with q = eta delta^c, E = d - c q, E' = -c^2 q and E” = -c^3 q.
func (k shapeKey) rare() bool { return k.d > 7 || k.fade > 0 }

// rareAt gives the value of a rare group, E, E' and E".
func (g *group) rareAt(delta float64) (v, s, s1, s2 float64) {
	v, s = whole(delta, g.d), g.df
	if g.c > 0 {
		q := g.eta * whole(delta, g.c)
		v *= math.Exp(-q)
		q *= g.cf
		s -= q
		s1 = -g.cf * q
		s2 = g.cf * s1
	}
	return v, s, s1, s2
}

// whole is x to the power of n, from 0.
func whole(x float64, n int) float64 {
	p := 1.0
	for ; n > 0; n-- {
		p *= x
	}
	return p
}

// addHumps adds the humps to the coefficients of their groups at e.tau.
func (e *Evaluator) addHumps(lnTau float64) {
	clear(e.hump1[:])
	clear(e.hump2[:])
	for i := range e.m.terms.humps {
		h := &e.m.terms.humps[i]
		u := e.tau - h.gamma
		g := -h.beta * u * u
		g1, g2 := -2*h.beta*u*e.tau, -2*h.beta*e.tau*e.tau // tau g', tau^2 g''
		if h.b != 0 {
			g = 1 / (h.b - g)
			g1, g2 = g*g*g1, g*g*(g2+2*g*g1*g1)
		}
		g -= h.rate * e.tau
		g1 -= h.rate * e.tau
		f := h.n * math.Exp(h.t*lnTau+g)
		s := h.t + g1
		e.c[h.group] += f
		e.hump1[h.group] += f * s
		e.hump2[h.group] += f * (s*s - s + g1 + g2)
	}
}
