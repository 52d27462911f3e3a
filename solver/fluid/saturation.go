package fluid

import (
	"math"
	"sync/atomic"
)

// Saturation pressure of pure substances, from equal pressure and equal Gibbs
// energy of liquid and gas in the equation itself, so that it and the density agree
// to the last bit on where the gas ends. It is worked out once for each component,
// on first use, at nodes in Tc/T and joined by cubics with the exact slope of
// Clapeyron's equation. Below the last node it runs on straight in 1/T.
//
// The solution walks from 0.9 Tc both ways, each node starting from its
// neighbours. The equations are solved as Akasaka does: R. Akasaka, J. Thermal Sci.
// Technol. 3 (2008) 442-451. With J = delta (1 + a01) and K = a00 + a01 + ln delta
// equal on both sides, and K' = J'/delta, each step is two lines of algebra.
//
// The critical temperatures are those of the equation.

const (
	satFirst = 1.005 // first node in Tc/T; a straight line joins it to the critical point
	satStep  = 0.02
	satLast  = 3.2
	satStart = 1.105 // here the rectilinear start is good
)

// satNode is one solved state: ln p and d ln p / d(Tc/T).
type satNode struct{ x, lnP, slope float64 }

type satTable struct {
	tC       float64
	lnPc     float64
	nodes    []satNode // x rising
	criticAt float64   // slope of the line from the critical point to the first node
}

var satTables [substanceCount]atomic.Pointer[satTable]

func satTableOf(i int) *satTable { return made(&satTables[i], i, newSatTable) }

// hasSaturation says whether substance i has an equation to take it from.
func hasSaturation(i int) bool { return i < componentCount || ownEquation(i) != nil }

// saturationPa gives the saturation pressure of substance i at tK; above the
// critical point the curve is continued straight in 1/T, a measure of volatility
// and no physical pressure.
func saturationPa(i int, tK float64) float64 {
	t := satTableOf(i)
	x := t.tC / tK
	last := len(t.nodes) - 1
	switch {
	case x <= t.nodes[0].x:
		return math.Exp(t.lnPc + t.criticAt*(x-1))
	case x >= t.nodes[last].x:
		n := t.nodes[last]
		return math.Exp(n.lnP + n.slope*(x-n.x))
	}
	k := min(int((x-t.nodes[0].x)/satStep), last-1)
	a, b := t.nodes[k], t.nodes[k+1]
	h := b.x - a.x
	u := (x - a.x) / h
	rise := b.lnP - a.lnP
	c, d := a.slope*h-rise, -b.slope*h+rise
	return math.Exp(a.lnP + u*rise + u*(1-u)*(c*(1-u)+d*u))
}

func newSatTable(i int) *satTable {
	m := alone(i)
	e := m.Evaluator()
	t := &satTable{tC: m.criticalK}
	if m.own == nil {
		e.setTemperature(m.tR)
		a01, _, _ := e.pressureTerms(1)
		t.lnPc = math.Log((1 + a01) * m.rhoR * gasConstant * m.tR)
	} else {
		t.lnPc = math.Log(substances[i].pC) // the reducing point may be another one
	}

	count := int(math.Round((satLast-satFirst)/satStep)) + 1
	first := int(math.Round((satStart - satFirst) / satStep))
	// Guggenheim's densities of liquid and gas (J. Chem. Phys. 13 (1945) 253).
	y := 1 - 1/satStart
	liquid := 1 + 0.75*y + 1.75*math.Cbrt(y)
	gas := 1 + 0.75*y - 1.75*math.Cbrt(y)
	if m.own != nil {
		liquid, gas = e.between(m.criticalK/satStart, substances[i].wilsonPa(m.criticalK/satStart), liquid, gas)
	}
	nodes := make([]satNode, count)
	var low, high int // nodes[low:high] are solved
	run := func(k, step int, liquid, gas float64) int {
		ratio := 1.0
		for ; k >= 0 && k < count; k += step {
			x := satFirst + satStep*float64(k)
			l, g, node, ok := e.saturate(x, liquid, gas*ratio)
			if !ok {
				break
			}
			if k != first {
				ratio = g / gas
			}
			liquid, gas, nodes[k] = l, g, node
		}
		return k
	}
	high = run(first, +1, liquid, gas)
	low = run(first, -1, liquid, gas) + 1
	t.nodes = nodes[low:high]
	t.criticAt = (t.nodes[0].lnP - t.lnPc) / (t.nodes[0].x - 1)
	return t
}

// between improves a rough start: the two roots at the pressure, near pPa, where
// their fugacities are equal to a thousandth. It gives liquid and gas back where it
// finds none.
func (e *Evaluator) between(tK, pPa, liquid, gas float64) (l, g float64) {
	e.setTemperature(tK)
	unit := e.m.rhoR * e.m.gasR * tK
	for range 100 {
		r, isLiquid := e.liquidRoot(pPa / unit)
		s, isGas := e.walk(pPa / unit)
		switch {
		case !isGas:
			pPa *= 0.97
			continue
		case !isLiquid || r.delta < 1.2*s.delta:
			pPa *= 1.03
			continue
		}
		step := (e.lnPhiPure(r) - e.lnPhiPure(s)) / (s.a01 - r.a01)
		if math.Abs(step) < 1e-3 {
			return r.delta, s.delta
		}
		pPa *= math.Exp(max(-0.2, min(step, 0.2)))
	}
	return liquid, gas
}

// saturate solves for the reduced densities of liquid and gas at Tc/T = x.
func (e *Evaluator) saturate(x, liquid, gas float64) (l, g float64, n satNode, ok bool) {
	tK := e.m.criticalK / x
	e.setTemperature(tK)
	l, g = liquid, gas
	for range 50 {
		a, b := e.derivatives(l), e.derivatives(g)
		slopeL, slopeG := 1+2*a.a01+a.a02, 1+2*b.a01+b.a02
		if !(slopeL > 0 && slopeG > 0) {
			return 0, 0, n, false
		}
		dJ := l*(1+a.a01) - g*(1+b.a01)
		dK := a.a00 + a.a01 + math.Log(l) - b.a00 - b.a01 - math.Log(g)
		s := (dK - dJ/g) / (1/g - 1/l)
		stepL, stepG := s/slopeL, (s+dJ)/slopeG
		l += max(-l/4, min(stepL, l/4))
		g += max(-g/2, min(stepG, g))
		if l-g < 1e-3 {
			return 0, 0, n, false
		}
		if math.Abs(stepL) < 1e-10*l && math.Abs(stepG) < 1e-10*g {
			rho := g * e.m.rhoR
			pPa := rho * e.m.gasR * tK * (1 + b.a01)
			// Clapeyron: d ln p/d(1/T) = -(dh/R)/dZ, dZ = p/(RT) (1/rho_g - 1/rho_l).
			dZ := (1 + b.a01) * (1 - g/l)
			dH := b.a10 + b.a01 - a.a10 - a.a01
			return l, g, satNode{x, math.Log(pPa), -dH / (dZ * x)}, true
		}
	}
	return 0, 0, n, false
}
