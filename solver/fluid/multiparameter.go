package fluid

import (
	"cmp"
	"fmt"
	"slices"
	"sync"
	"sync/atomic"
)

// Multiparameter equations of state of single substances.
//
// Each is a published sum of terms for the Helmholtz energy of one substance, of the
// kind that GERG-2008 puts together for its components, fitted to all that was
// measured of it. A Mixture of one such substance is evaluated, solved and saturated
// by the same code as one of GERG-2008; its reducing point, gas constant and range are
// those of the publication. The ideal gas comes from the same publication
// (table_ideal.go).
//
// They are for a substance by itself. There is no published mixing of all of them, so
// that a mixture with anything else follows Peng-Robinson.

// multiparameter is the equation of one substance.
type multiparameter struct {
	source          string  // authors, journal, volume and year
	density, liquid float64 // expected errors of density of gas and liquid, relative
	tR, rhoR, gasR  float64 // reducing temperature [K] and density [mol/m3], gas constant
	// Its range: to the lowest temperature where it has a liquid, the triple point.
	lowK, highK, highPa float64
	powers              []pureTerm
	form                *[12]pureTerm // in place of powers: terms that several substances share,
	n                   []float64     // and their coefficients
	bells               []pureBell
	fading              []pureFading
}

// pureTerm is n tau^t delta^d, times exp(-delta^c) where c is not 0.
type pureTerm struct {
	n, t float64
	d, c int
}

// pureBell is a hump and its bell.
type pureBell struct {
	n, t                         float64
	d                            int
	eta, epsilon, beta, gamma, b float64
}

// pureFading is n tau^t delta^d exp(-eta delta^c - rate tau).
type pureFading struct {
	n, t float64
	d    int
	eta  float64
	c    int
	rate float64
}

// terms are the powers, or the form with its coefficients put in.
func (q *multiparameter) terms() []pureTerm {
	if q.form == nil {
		return q.powers
	}
	if len(q.n) != len(q.form) {
		panic("fluid: coefficients do not fit their terms")
	}
	terms := slices.Clone(q.form[:])
	for k, n := range q.n {
		terms[k].n = n
	}
	return terms
}

// vapourReach is the part of the lowest temperature down to which an equation may be
// used for the thin gas over the solid. (Methanol's goes wild soon after.)
const vapourReach = 0.9

// reach is where an equation may be used, and where it is at its best.
type reach struct {
	lowK, highK, highPa                   float64
	normalLowK, normalHighK, normalHighPa float64
}

func (q *reach) holds(tK, pPa float64) bool {
	return tK >= q.lowK && tK <= q.highK && pPa > 0 && pPa <= q.highPa
}

var gergReach = reach{lowestK, highestK, highestPa, normalLowK, normalHighK, normalHighPa}

func (q *multiparameter) reach() *reach {
	high, highP := min(q.highK, highestK), min(q.highPa, highestPa)
	return &reach{max(lowestK, vapourReach*q.lowK), high, highP, q.lowK, high, highP}
}

// ownEquation is the multiparameter equation of substance i; nil where none is here.
func ownEquation(i int) *multiparameter {
	return cmp.Or(multiparameterGases[i], multiparameterLiquids[i], multiparameterShort[i])
}

// ownMixtures are the substances with such an equation, each by itself. There is one
// of each, so that streams of it are known for the same fluid.
var ownMixtures [substanceCount]atomic.Pointer[Mixture]

func ownMixture(i int) *Mixture { return made(&ownMixtures[i], i, newOwn) }

// made gives what stands in the slot of substance i. It is made when first asked for;
// where two make it at the same time, that of the first stands.
func made[T any](slot *atomic.Pointer[T], i int, with func(int) *T) *T {
	if t := slot.Load(); t != nil {
		return t
	}
	slot.CompareAndSwap(nil, with(i))
	return slot.Load()
}

func newOwn(i int) *Mixture {
	q := ownEquation(i)
	parts := []part{{i, 1}}
	m := &Mixture{
		parts: parts, molarMass: substances[i].molarMass,
		reducing: reducing{q.rhoR, q.tR},
		gasR:     q.gasR, criticalK: substances[i].tC, reach: q.reach(), own: q,
		ideal: mixIdeal(parts), terms: q.merged(), trans: mixTransport(parts),
	}
	m.dews = sync.OnceValue(func() *Dews { return newDews(m) })
	m.tables = sync.OnceValue(func() *Table { return newTable(m) })
	return m
}

// alone is substance i by itself, of those with hasSaturation.
func alone(i int) *Mixture {
	if i >= componentCount {
		return ownMixture(i)
	}
	var fraction [componentCount]float64
	fraction[i] = 1
	return ofFractions(&fraction)
}

// merged lays out the terms in groups of like functions of delta.
func (q *multiparameter) merged() merged {
	var keys []shapeKey
	lists := map[shapeKey][]entry{} // looked up only, never ranged over
	key := func(k shapeKey) {
		if _, seen := lists[k]; !seen {
			keys = append(keys, k)
			lists[k] = nil
		}
	}
	for _, t := range q.terms() {
		k := shapeKey{d: t.d, c: t.c}
		key(k)
		lists[k] = append(lists[k], entry{t.t, t.n})
	}
	for _, b := range q.bells {
		key(b.key())
	}
	for _, b := range q.fading {
		key(b.key())
	}
	m := layOut(keys, func(k shapeKey) []entry { return lists[k] })
	group := func(k shapeKey) int {
		for i := m.exps; i < len(m.groups); i++ {
			g := &m.groups[i]
			switch {
			case g.d != k.d || g.c != k.c:
			case i < m.common && m.bells[g.bell] == k.bell, i >= m.common && g.eta == k.fade:
				return i
			}
		}
		panic("fluid: a group is missing from its own equation")
	}
	for _, b := range q.bells {
		m.humps = append(m.humps, hump{group: group(b.key()), n: b.n, t: b.t, beta: b.beta, gamma: b.gamma, b: b.b})
	}
	for _, b := range q.fading {
		m.humps = append(m.humps, hump{group: group(b.key()), n: b.n, t: b.t, rate: b.rate})
	}
	return m
}

func (b *pureBell) key() shapeKey {
	return shapeKey{d: b.d, bell: bellShape{eta: b.eta, epsilon: b.epsilon}}
}

func (b *pureFading) key() shapeKey { return shapeKey{d: b.d, c: b.c, fade: b.eta} }

// multiparameterOf makes the gas of one substance under its own equation. The error
// says what may be written instead.
func multiparameterOf(names []string, x []float64) (*Mixture, error) {
	only := -1
	for k, name := range names {
		if x[k] == 0 {
			continue
		}
		if only >= 0 {
			return nil, fmt.Errorf("a multiparameter equation is that of one substance, and this is a mixture; write \"auto\"")
		}
		only = substanceByName()[name]
	}
	switch {
	case only < 0:
		return nil, fmt.Errorf("there is no substance in it")
	case only < componentCount:
		return nil, fmt.Errorf("the multiparameter equation of %s here is that of GERG-2008; write \"auto\" or %q", spoken(only), equationGERG)
	case ownEquation(only) == nil:
		return nil, fmt.Errorf("no multiparameter equation of %s is here; write \"auto\" or %q", spoken(only), equationCubic)
	}
	return ownMixture(only), nil
}
