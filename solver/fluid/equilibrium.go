package fluid

import (
	"math"

	"gonum.org/v1/gonum/mat"
)

// The dew point of a gas by equal fugacities.
//
// A gas of mole fractions z is at its dew point where a first drop of liquid has the
// gas's fugacity of every component. With K_i = z_i/x_i, x being the liquid, the
// unknowns are ln K_i, ln T and ln p, and the equations
//
//	ln K_i + ln phi_i(gas, z) - ln phi_i(liquid, z/K) = 0     for each i
//	sum z_i/K_i - 1 = 0
//	one unknown, chosen as convenient, has a given value
//
// (M. L. Michelsen, Fluid Phase Equilib. 4 (1980) 1-10; M. L. Michelsen, J. M.
// Mollerup, Thermodynamic Models, 2nd ed., chapter 12.) They are solved by Newton's
// method with slopes by differences: fugacities come from any equation of state. A
// liquid that turns out equal to the gas (all K = 1) solves them everywhere and
// means nothing; it is rejected.

const (
	equilibriumSteps = 20
	equilibriumClose = 1e-9 // largest residual
	sameSlopes       = 0.1  // a step that shrinks the residual this much may reuse its slopes
	compositionStep  = 1e-5 // in moles a mole, for slopes
	stateStep        = 1e-6 // in ln T and ln p
	traceShare       = 1e-5 // of a component in the liquid, below which others do not feel it
	longestLnK       = 1.5
	longestLnT       = 0.05
	longestLnP       = 0.7
	leastContrast    = 0.02 // largest |ln K| of a liquid that is not the gas itself
)

// fugacities gives ln phi at trial compositions of fixed components.
type fugacities interface {
	// lnPhi writes ln of the fugacity coefficients at the mole fractions x (which
	// need not sum to 1) into dst; false where there is no root of that phase or the
	// state is out of range.
	lnPhi(dst, x []float64, tK, pPa float64, ph Phase) bool
}

// equilibrium holds the equations of one gas and the memory to solve them.
type equilibrium struct {
	f    fugacities
	z    []float64
	drop Phase // root of what comes off: Liquid, but another gas from a dense fluid
	// work
	x, liquid, gas, moved []float64
	res                   []float64
	slopes                *mat.Dense
	lu                    mat.LU
	step                  *mat.VecDense
}

func newEquilibrium(f fugacities, z []float64) *equilibrium {
	n := len(z)
	return &equilibrium{
		f: f, z: z, drop: Liquid,
		x: make([]float64, n), liquid: make([]float64, n), gas: make([]float64, n), moved: make([]float64, n),
		res: make([]float64, n+2), slopes: mat.NewDense(n+2, n+2, nil), step: mat.NewVecDense(n+2, nil),
	}
}

// The unknowns are ln K of each component, then these two.
func (q *equilibrium) lnT() int { return len(q.z) }
func (q *equilibrium) lnP() int { return len(q.z) + 1 }

// residuals evaluates all equations but the last at u and gives the largest.
func (q *equilibrium) residuals(u []float64) (float64, bool) {
	n := len(q.z)
	tK, pPa := math.Exp(u[n]), math.Exp(u[n+1])
	sum := 0.0
	for i, z := range q.z {
		q.x[i] = z * math.Exp(-u[i])
		sum += q.x[i]
	}
	if !(sum > 0 && sum < 1e6) || !q.f.lnPhi(q.gas, q.z, tK, pPa, Gas) || !q.f.lnPhi(q.liquid, q.x, tK, pPa, q.drop) {
		return 0, false
	}
	most := 0.0
	for i := range q.z {
		q.res[i] = u[i] + q.gas[i] - q.liquid[i]
		most = max(most, math.Abs(q.res[i]))
	}
	q.res[n] = sum - 1
	return max(most, math.Abs(sum-1)), !math.IsNaN(most)
}

// jacobian fills in the slopes at u, where residuals was just called; the last row
// holds unknown spec.
func (q *equilibrium) jacobian(u []float64, spec int) bool {
	n := len(q.z)
	tK, pPa := math.Exp(u[n]), math.Exp(u[n+1])
	q.slopes.Zero()
	for i := range q.z {
		q.slopes.Set(i, i, 1)
		q.slopes.Set(n, i, -q.x[i])
	}
	for j := range q.z {
		if q.x[j] < traceShare {
			continue
		}
		keep := q.x[j]
		q.x[j] += compositionStep
		ok := q.f.lnPhi(q.moved, q.x, tK, pPa, q.drop)
		q.x[j] = keep
		if !ok {
			return false
		}
		for i := range q.z {
			d := (q.moved[i] - q.liquid[i]) / compositionStep
			q.slopes.Set(i, j, q.slopes.At(i, j)+d*keep)
		}
	}
	for k, f := range [2][2]float64{{1 + stateStep, 1}, {1, 1 + stateStep}} {
		if !q.f.lnPhi(q.moved, q.x, tK*f[0], pPa*f[1], q.drop) {
			return false
		}
		for i := range q.z {
			q.slopes.Set(i, n+k, -(q.moved[i]-q.liquid[i])/math.Log1p(stateStep))
		}
		if !q.f.lnPhi(q.moved, q.z, tK*f[0], pPa*f[1], Gas) {
			return false
		}
		for i := range q.z {
			q.slopes.Set(i, n+k, q.slopes.At(i, n+k)+(q.moved[i]-q.gas[i])/math.Log1p(stateStep))
		}
	}
	q.slopes.Set(n+1, spec, 1)
	q.lu.Factorize(q.slopes)
	return !math.IsInf(q.lu.Cond(), 1)
}

// solve improves u in place, with unknown spec held at its value. It gives the
// number of times that slopes were needed.
func (q *equilibrium) solve(u []float64, spec int) (fresh int, ok bool) {
	last, have := math.Inf(1), false
	for range equilibriumSteps {
		most, ok := q.residuals(u)
		if !ok {
			return fresh, false
		}
		if most < equilibriumClose {
			return fresh, q.contrast(u) > leastContrast
		}
		if !have || most > sameSlopes*last {
			if !q.jacobian(u, spec) {
				return fresh, false
			}
			fresh++
			have = true
		}
		last = most
		q.res[q.lnP()] = 0 // spec is met from the start and stays so
		if q.lu.SolveVecTo(q.step, false, mat.NewVecDense(len(q.res), q.res)) != nil {
			return fresh, false
		}
		shorten := 1.0
		for i := range u {
			longest := longestLnK
			switch i {
			case q.lnT():
				longest = longestLnT
			case q.lnP():
				longest = longestLnP
			}
			if s := math.Abs(q.step.AtVec(i)); s > longest {
				shorten = min(shorten, longest/s)
			}
		}
		for i := range u {
			u[i] -= shorten * q.step.AtVec(i)
		}
	}
	return fresh, false
}

// tangent gives the slopes of all unknowns with unknown spec along the dew curve at
// the solution u, and leaves the equations solved there.
func (q *equilibrium) tangent(u []float64, spec int) ([]float64, bool) {
	if _, ok := q.residuals(u); !ok || !q.jacobian(u, spec) {
		return nil, false
	}
	one := make([]float64, len(u))
	one[len(u)-1] = 1
	if q.lu.SolveVecTo(q.step, false, mat.NewVecDense(len(u), one)) != nil {
		return nil, false
	}
	return append([]float64(nil), q.step.RawVector().Data...), true
}

// contrast is the largest |ln K|.
func (q *equilibrium) contrast(u []float64) float64 {
	most := 0.0
	for i := range q.z {
		most = max(most, math.Abs(u[i]))
	}
	return most
}

// estimate gives a first dew point at a low pressure: Raoult's law with saturation
// pressures after Wilson (G. Wilson, 65th AIChE National Meeting, 1969), improved by
// successive substitution. It reports false where none is found.
func (q *equilibrium) estimate(pPa float64, constants []critical) ([]float64, bool) {
	n := len(q.z)
	u := make([]float64, n+2)
	u[n+1] = math.Log(pPa)
	sum := func(tK float64) float64 {
		s := 0.0
		for i, c := range constants {
			u[i] = math.Log(c.pC/pPa) + 5.373*(1+c.acentric)*(1-c.tC/tK)
			s += q.z[i] * math.Exp(-u[i])
		}
		return s
	}
	low, high := 5.0, 1500.0 // the sum falls as the temperature rises
	for range 60 {
		if mid := (low + high) / 2; sum(mid) > 1 {
			low = mid
		} else {
			high = mid
		}
	}
	u[n] = math.Log(high)
	sum(high)
	// At low pressure the gas is nearly ideal, so ln K = ln phi(liquid) - ln phi(gas)
	// converges fast; the temperature follows from sum x = 1 with the slope that
	// Clapeyron's equation has for the liquid's mean.
	for range 15 {
		most, ok := q.residuals(u)
		if !ok {
			return nil, false
		}
		if most < 1e-3 {
			break
		}
		total, slope := 0.0, 0.0
		for i, c := range constants {
			u[i] -= q.res[i]
			x := q.z[i] * math.Exp(-u[i])
			total += x
			slope += x * 5.373 * (1 + c.acentric) * c.tC / math.Exp(u[n])
		}
		d := math.Log(total) * total / slope
		d = max(-0.1, min(d, 0.1))
		u[n] += d
		for i, c := range constants {
			u[i] += d * 5.373 * (1 + c.acentric) * c.tC / math.Exp(u[n])
		}
	}
	_, ok := q.solve(u, q.lnP())
	return u, ok
}

// critical holds what Wilson's estimate needs.
type critical struct{ tC, pC, acentric float64 }

// gergFugacities tries compositions of the components of a mixture, in the order
// of its parts.
type gergFugacities struct {
	trials [2]*trial
	last   [2][]float64
}

func (m *Mixture) fugacities() *gergFugacities {
	g := &gergFugacities{}
	for k := range g.trials {
		g.trials[k] = m.shares().trial()
		g.last[k] = make([]float64, len(m.parts))
	}
	return g
}

func (g *gergFugacities) lnPhi(dst, x []float64, tK, pPa float64, ph Phase) bool {
	if !inRange(tK, pPa) {
		return false
	}
	t, same := g.trials[ph], true
	for k := range x {
		same = same && x[k] == g.last[ph][k]
	}
	if !same {
		copy(g.last[ph], x)
		t.set(x)
	}
	r, ok := t.root(tK, pPa, ph)
	if ok {
		t.at(dst, tK, r)
	}
	return ok
}
