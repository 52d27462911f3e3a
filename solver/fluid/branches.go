package fluid

import (
	"cmp"
	"math"
	"slices"
)

// The upper dew curve of a gas, of all its branches.
//
// Equal fugacities have several solutions at one pressure: a lean gas with carbon
// dioxide or ethane first condenses a liquid of what is heavy, up to a few bar, and
// above that one of methane; a gas with much hydrogen, dense and cooled, gives off
// another gas. Each solution belongs to a branch, which ends or turns back where the
// others go on. Where the gas begins to condense is the highest of them: at any lower
// one the gas is not stable.
//
// The first branch is followed from low pressure and the liquid of the least volatile.
// Then the gas just above the curve found so far is held against the tangent plane of
// its Gibbs energy (stability.go), at a few pressures of each branch, and, above the top
// and in gaps, at temperatures all the way down. A phase found there is no accident: it
// lies on a branch not known yet. It is warmed until it is just in equilibrium, and its
// branch followed both ways.

const (
	branchesMost   = 8    // pieces after which no more are looked for
	besideCurve    = 0.03 // K above the curve at which the gas must be stable
	besideTop      = 0.97 // of the top pressure of a branch, where it is tested
	beyondTop      = 1.03 // the same, where nothing may be left
	coldStep       = 0.94 // factor between temperatures tested where there is no curve
	warmStart      = 1.15 // of the temperature where the nearest branch ends
	warmingSteps   = 25
	warmingImprove = 150  // direct substitutions at one temperature
	warmingLongest = 0.02 // longest step, in ln T
	warmingClose   = 1e-4 // step that is near enough
	warmingSame    = 1e-7 // change of a mole fraction at which a phase stands
	takenUp        = 1.12 // factor of pressure after which a branch that ends unsolved is looked for again
	bridged        = 1.5  // widest gap in pressure that is bridged
	coldest        = 0.7  // of the mean critical temperature: below it, at high pressure, liquids part from liquids
)

// branches are the pieces found.
type branches struct {
	q      *equilibrium
	index  []int
	meanK  float64 // mean critical temperature and pressure (Kay's rule)
	meanPa float64
	pieces []*envelope
}

func newBranches(u *makeup, constants []critical) *branches {
	b := &branches{q: newEquilibrium(u.f, u.z)}
	for _, name := range u.names {
		b.index = append(b.index, substanceByName()[name])
	}
	for i, c := range constants {
		b.meanK += u.z[i] * c.tC
		b.meanPa += u.z[i] * c.pC
	}
	tests := []float64{}
	if first, ok := b.q.lowest(constants); ok {
		tests = b.add(b.q.pursue(first, true, never))
	}
	for k := 0; k < len(tests) && len(b.pieces) < branchesMost; k++ {
		tests = append(tests, b.test(tests[k])...)
	}
	b.bridge()
	return b
}

// bridge joins pieces over small gaps, as at an azeotrope, whose liquid equals the gas,
// by a cubic with the slopes of both ends.
func (b *branches) bridge() {
	low := slices.Clone(b.pieces)
	slices.SortFunc(low, func(v, w *envelope) int { return cmp.Compare(v.fromPa, w.fromPa) })
	for k := 1; k < len(low); k++ {
		below := low[0]
		for _, v := range low[:k] {
			if v.toPa > below.toPa {
				below = v
			}
		}
		above := low[k]
		if below.toPa >= above.fromPa || above.fromPa > bridged*below.toPa {
			continue
		}
		last, first := &below.stretches[len(below.stretches)-1], &above.stretches[0]
		v := &envelope{fromPa: below.toPa, end: endUnsolved, stretches: []stretch{{
			h: first.lnP0 - last.lnP1, end: 1, lnT0: last.lnT1, lnT1: first.lnT0, lnP0: last.lnP1, lnP1: first.lnP0,
			t0: last.t1 / last.p1, t1: first.t0 / first.p0, p0: 1, p1: 1, mostly: last.mostly,
		}}}
		v.finish()
		b.pieces = append(b.pieces, v)
	}
}

func never(float64, float64) bool { return false }

// add takes over a piece and gives the pressures at which to test it.
func (b *branches) add(v *envelope) []float64 {
	if len(v.stretches) == 0 {
		return nil
	}
	b.pieces = append(b.pieces, v)
	above := beyondTop * v.toPa
	if v.end == endUnsolved {
		above = takenUp * v.toPa
	}
	return []float64{v.fromPa / beyondTop, v.fromPa * beyondTop, math.Sqrt(v.fromPa * v.toPa), besideTop * v.toPa, above}
}

// test looks at one pressure for what the known branches miss, adds its branch, and
// gives the pressures to test next.
func (b *branches) test(pPa float64) (more []float64) {
	if pPa < b.pieces[0].fromPa || pPa >= highestPa {
		return nil
	}
	tK, s := b.hottest(pPa)
	if s != nil {
		tK += besideCurve
		if found := b.missed(tK, pPa); found != nil {
			return b.fromSplit(found, tK, pPa)
		}
		return nil
	}
	high := b.highest()
	tK, found := b.cool(pPa)
	switch {
	case found != nil:
		if more = b.fromSplit(found, tK, pPa); more == nil && pPa > high.toPa {
			more = []float64{takenUp * pPa}
		}
	case high.end != endUnsolved || pPa < high.toPa:
	case pPa > beyondTop*high.toPa:
		more = []float64{beyondTop * high.toPa}
	default:
		high.end = endCricondenbar // nothing splits above it
	}
	return more
}

func (b *branches) missed(tK, pPa float64) *split {
	s, _ := splits(b.q.f, b.index, b.q.z, tK, pPa, Gas)
	return s
}

// cool looks for a temperature at which the gas splits, from above.
func (b *branches) cool(pPa float64) (float64, *split) {
	coldestK := lowestK
	if pPa > b.meanPa {
		coldestK = max(lowestK, coldest*b.meanK)
	}
	for tK := min(warmStart*b.nearestK(pPa), highestK); tK > coldestK; tK *= coldStep {
		if s := b.missed(tK, pPa); s != nil {
			return tK, s
		}
	}
	return 0, nil
}

// nearestK is the temperature of the end of a branch that is nearest in pressure.
func (b *branches) nearestK(pPa float64) float64 {
	nearest, tK := math.Inf(1), 0.0
	for _, v := range b.pieces {
		first, last := &v.stretches[0], &v.stretches[len(v.stretches)-1]
		for _, end := range [2][2]float64{{first.lnP0, first.lnT0}, {last.lnP(last.end), last.lnT(last.end)}} {
			if off := math.Abs(end[0] - math.Log(pPa)); off < nearest {
				nearest, tK = off, math.Exp(end[1])
			}
		}
	}
	return tK
}

// fromSplit warms the gas until the phase found in it is in equilibrium with it, and
// adds the branch of that.
func (b *branches) fromSplit(s *split, tK, pPa float64) []float64 {
	u, ok := b.warm(s, tK, pPa)
	if !ok {
		return nil
	}
	b.q.drop = s.phase
	defer func() { b.q.drop = Liquid }()
	if _, ok = b.q.solve(u, b.q.lnP()); !ok {
		return nil
	}
	down := b.q.pursue(append([]float64(nil), u...), false, func(tK, pPa float64) bool {
		other, s := b.hottest(pPa)
		return pPa < traceFromPa || s != nil && other > tK+besideCurve
	})
	up := b.q.pursue(u, true, never)
	return append(b.add(down), b.add(up)...)
}

// warm gives the unknowns of the dew equations near the point where the phase s, found
// in the gas at tK, is just in equilibrium with it: where the sum of its W is 1. With
// the phase stationary, the slope of that sum with temperature is its slope with the
// composition held.
func (b *branches) warm(s *split, tK, pPa float64) ([]float64, bool) {
	q, n := b.q, len(b.q.z)
	w := append([]float64(nil), s.w...)
	lnSum := func(tK float64, improve int) (float64, bool) {
		if !q.f.lnPhi(q.gas, q.z, tK, pPa, Gas) {
			return 0, false
		}
		sum := 0.0
		for range improve {
			if !q.f.lnPhi(q.liquid, w, tK, pPa, s.phase) {
				return 0, false
			}
			change := 0.0
			sum = 0
			for i, z := range q.z {
				q.x[i] = z * math.Exp(min(q.gas[i]-q.liquid[i], 50))
				sum += q.x[i]
			}
			for i := range w {
				next := q.x[i] / sum
				change = max(change, math.Abs(next-w[i]))
				if improve > 1 {
					w[i] = next
				}
			}
			if change < warmingSame {
				break
			}
		}
		return math.Log(sum), true
	}
	coldK, cold := tK, append([]float64(nil), w...) // where it lies below the plane yet
	for range warmingSteps {
		f, ok := lnSum(tK, warmingImprove)
		if !ok {
			return nil, false
		}
		step := 0.0
		if f < 0 && tK > coldK {
			copy(w, cold)
			step = (coldK/tK - 1) / 2
		} else {
			coldK = tK
			copy(cold, w)
			moved, ok := lnSum(tK*(1+stateStep), 1)
			if !ok {
				return nil, false
			}
			step = warmingLongest / 4
			if slope := (moved - f) / stateStep; slope < 0 {
				step = max(-warmingLongest, min(-f/slope, warmingLongest))
			}
		}
		tK *= 1 + step
		if math.Abs(step) < warmingClose {
			break
		}
	}
	u := make([]float64, n+2)
	for i, z := range q.z {
		u[i] = math.Log(z / max(w[i], trialNothing))
	}
	u[n], u[n+1] = math.Log(tK), math.Log(pPa)
	return u, true
}

// hottest is the upper dew temperature at pPa and its stretch; nil where there is none.
func (b *branches) hottest(pPa float64) (tK float64, s *stretch) {
	for _, v := range b.pieces {
		if pPa < v.fromPa || pPa > v.toPa {
			continue
		}
		on := v.find(pPa)
		if t := math.Exp(on.lnT(on.at(math.Log(pPa)))); s == nil || t > tK {
			tK, s = t, on
		}
	}
	return tK, s
}

// lowest is the piece that goes down furthest.
func (b *branches) lowest() *envelope {
	low := b.pieces[0]
	for _, v := range b.pieces {
		if v.fromPa < low.fromPa {
			low = v
		}
	}
	return low
}

// highest is the piece that goes up furthest.
func (b *branches) highest() *envelope {
	high := b.pieces[0]
	for _, v := range b.pieces {
		if v.toPa > high.toPa {
			high = v
		}
	}
	return high
}
