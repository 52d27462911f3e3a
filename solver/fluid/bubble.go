package fluid

import (
	"math"
	"sync"
)

// The bubble pressure of a liquid by equal fugacities.
//
// At the bubble pressure the first bubble, of mole fractions y, has the liquid's
// fugacity of every component: y_i = K_i x_i with K_i = phi_i(liquid, x)/phi_i(gas, y),
// and the y sum to 1. The y are found by successive substitution; the pressure by a
// Newton step on ln(sum K x), which near enough falls by one for every one that
// ln p rises by. (M. L. Michelsen, J. M. Mollerup, Thermodynamic Models, 2nd ed.,
// chapter 12.) A pure liquid has its saturation pressure, and water with gases
// dissolved in it follows Henry (henry.go). Traces of water dissolved in other
// liquids are left out: the equation overstates what they add many times.
//
// A network asks again and again at nearly the same temperatures. The pressures are
// therefore solved at nodes evenly spaced in 1/T and joined by cubics in ln p.
// Every node is solved from scratch, so that an answer does not depend on what was
// asked before.

const (
	bubbleSpacing = 2e-5 // of 1/T [1/K]: 2 K at 300 K
	bubbleSteps   = 100
	bubbleClose   = 1e-9 // of the sum of y
)

// bubbles gives bubble pressures of one composition.
type bubbles struct {
	m      *Mixture
	shares *shares // nil for a pure liquid
	mu     sync.Mutex
	nodes  map[int]float64 // ln p by number of node; NaN where there is none
}

func newBubbles(m *Mixture) *bubbles {
	b := &bubbles{m: m, nodes: map[int]float64{}}
	if m.pure() < 0 && !m.aqueous() {
		b.shares = newShares(m)
	}
	return b
}

// aqueous reports whether most of a mixture is water.
func (m *Mixture) aqueous() bool {
	for _, p := range m.parts {
		if p.i == water {
			return p.x > 0.5
		}
	}
	return false
}

// at gives the bubble pressure [Pa] at tK; false where the liquid has none.
func (b *bubbles) at(tK float64) (float64, bool) {
	if i := b.m.pure(); i >= 0 {
		return saturationPa(i, tK), tK < b.m.criticalK
	}
	if b.shares == nil {
		return aqueousBubble(b.m.parts, tK), tK < components[water].tC
	}
	x := 1 / (tK * bubbleSpacing)
	k := int(math.Floor(x))
	u := x - float64(k)
	var y [4]float64
	for j := range y {
		y[j] = b.node(k - 1 + j)
	}
	// Lagrange's cubic through the nodes at -1, 0, 1 and 2.
	lnP := -u*(u-1)*(u-2)/6*y[0] + (u+1)*(u-1)*(u-2)/2*y[1] - (u+1)*u*(u-2)/2*y[2] + (u+1)*u*(u-1)/6*y[3]
	if !math.IsNaN(lnP) {
		return math.Exp(lnP), true
	}
	p, ok := b.solve(tK) // near the end of the curve
	return p, ok
}

func (b *bubbles) node(k int) float64 {
	b.mu.Lock()
	defer b.mu.Unlock()
	lnP, known := b.nodes[k]
	if !known {
		p, ok := b.solve(1 / (float64(k) * bubbleSpacing))
		if lnP = math.Log(p); !ok {
			lnP = math.NaN()
		}
		b.nodes[k] = lnP
	}
	return lnP
}

// solve finds the bubble pressure at tK.
func (b *bubbles) solve(tK float64) (pPa float64, ok bool) {
	if !inRange(tK, referencePa) {
		return 0, false
	}
	parts := b.m.parts
	n := len(parts)
	liquid, gas := b.shares.trial(), b.shares.trial()
	x, k, y := make([]float64, n), make([]float64, n), make([]float64, n)
	phiL, phiG := make([]float64, n), make([]float64, n)
	for i, q := range parts {
		x[i] = q.x
		k[i] = saturationPa(q.i, tK)
		pPa += q.x * k[i]
	}
	for i := range k {
		k[i] /= pPa
	}
	liquid.set(x)
	highest := math.Inf(1) // a pressure at which the bubble was found too dense
	for range bubbleSteps {
		sum := 0.0
		for i := range y {
			y[i] = k[i] * x[i]
			sum += y[i]
		}
		if !(pPa > 0 && pPa < highestPa) {
			return 0, false
		}
		l, okL := liquid.root(tK, pPa, Liquid)
		if !okL { // too low for the liquid root
			pPa *= 1.3
			continue
		}
		gas.set(y)
		g, okG := gas.root(tK, pPa, Gas)
		if !okG { // too high for a bubble of this composition
			highest = pPa
			pPa *= 0.8
			continue
		}
		liquid.at(phiL, tK, l)
		gas.at(phiG, tK, g)
		moved, contrast := 0.0, 0.0
		sum = 0
		for i := range k {
			next := math.Exp(phiL[i] - phiG[i])
			moved = max(moved, math.Abs(math.Log(next/k[i]))*min(1, 1e6*x[i]))
			contrast = max(contrast, math.Abs(math.Log(next)))
			k[i] = next
			sum += next * x[i]
		}
		if contrast < 0.02 {
			return 0, false // the bubble is the liquid itself
		}
		if math.Abs(sum-1) < bubbleClose && moved < 1e-6 {
			return pPa, true
		}
		step := min(max(sum, 0.5), 2)
		if pPa*step >= highest {
			step = math.Sqrt(highest / pPa * 0.99)
		}
		pPa *= step
	}
	return 0, false
}
