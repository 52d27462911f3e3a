package fluid

import (
	"math"
	"slices"
)

// One branch of the dew curve of a gas, traced from a point of it up to its highest
// pressure, or down. What branches there are is branches.go's.
//
// From a solved dew point the next is foretold along the tangent and solved with
// one unknown held: the one that changes most, so that the way round the highest
// temperature (the cricondentherm) and up to the highest pressure (the
// cricondenbar) needs no care. Between two points every unknown is a cubic of the
// unknown held, with the exact tangents at both ends. The cubic's middle, solved
// too, says how good it is; where it is not good enough the stretch is halved. The
// middle stays as a point of its own, which makes what is left a sixteenth of what
// was tested.
//
// The curve ends at the cricondenbar; at the critical point where that comes first
// (beyond it the boundary belongs to bubbles in a dense fluid); or where the equation
// of state ends.

const (
	traceFromPa    = 100.0
	traceFirst     = 0.5  // first step in ln p
	traceLongest   = 0.9  // longest step in any unknown: ln K, ln p, ln T times traceT
	traceT         = 15.0 // makes ln T count like the others
	traceContrast  = 0.4  // of the largest |ln K|: longest step in ln K
	traceShortest  = 1e-5 // step at which a trace is given up
	traceStretches = 600  // after which, too
	traceCloseK    = 0.02 // largest error of a middle, at its pressure
	traceCloseTop  = 1e-5 // the same in ln p, near the top, where the temperature at a pressure is loose
	traceHalvings  = 5
	nearCritical   = 0.06 // |ln K| at which a curve has come to its critical point
	azeotropeZ     = 0.5  // difference of compressibility from which it is an azeotrope instead
	easySteps      = 2    // sets of slopes after which a step may grow
)

// curveEnd says why a curve ends.
type curveEnd uint8

const (
	endCricondenbar curveEnd = iota
	endCritical
	endOfRange
	endUnsolved
)

// stretch is a piece of curve between two points, as cubics of the unknown held,
// which goes by h from one to the other; only temperature and pressure are kept.
type stretch struct {
	h, end                 float64 // the curve ends at the part end of h, 1 but for the last
	lnT0, lnT1, lnP0, lnP1 float64
	t0, t1, p0, p1         float64 // their slopes with the unknown held
	mostly                 int     // the component that the liquid holds most of
}

// cubic is Hermite's, at the part s of h.
func cubic(s, h, a, b, slopeA, slopeB float64) float64 {
	rise := b - a
	c, d := slopeA*h-rise, -slopeB*h+rise
	return a + s*rise + s*(1-s)*(c*(1-s)+d*s)
}

func (s *stretch) lnP(at float64) float64 { return cubic(at, s.h, s.lnP0, s.lnP1, s.p0, s.p1) }
func (s *stretch) lnT(at float64) float64 {
	return cubic(at, s.h, s.lnT0, s.lnT1, s.t0, s.t1)
}

// at finds the part of h where the pressure is reached.
func (s *stretch) at(lnP float64) float64 {
	low, high := 0.0, s.end
	for range 60 {
		if mid := (low + high) / 2; s.lnP(mid) < lnP {
			low = mid
		} else {
			high = mid
		}
	}
	return (low + high) / 2
}

// reverse goes the stretch from its other end.
func (s *stretch) reverse() {
	s.h = -s.h
	s.lnT0, s.lnT1, s.lnP0, s.lnP1 = s.lnT1, s.lnT0, s.lnP1, s.lnP0
	s.t0, s.t1, s.p0, s.p1 = s.t1, s.t0, s.p1, s.p0
}

// envelope is a traced curve, by rising pressure.
type envelope struct {
	fromPa, toPa float64
	stretches    []stretch
	tops         []float64 // ln p at the end of each stretch
	end          curveEnd
}

// find gives the stretch that pPa, within the curve, lies on.
func (v *envelope) find(pPa float64) *stretch {
	k, _ := slices.BinarySearch(v.tops, math.Log(pPa))
	return &v.stretches[min(k, len(v.stretches)-1)]
}

// point is a solved dew point and the slopes of the unknowns with unknown held.
type point struct {
	u, slope []float64
	held     int
}

// along gives the slopes with another unknown held.
func (p *point) along(held int) []float64 {
	out := make([]float64, len(p.slope))
	for i := range out {
		out[i] = p.slope[i] / p.slope[held]
	}
	return out
}

// lowest is the first point of the curve, at the lowest pressure at which the dew
// temperature is in the range of the equation.
func (q *equilibrium) lowest(constants []critical) ([]float64, bool) {
	for pPa := traceFromPa; pPa < highestPa; pPa *= 4 {
		if u, ok := q.estimate(pPa, constants); ok {
			return u, true
		}
	}
	return nil, false
}

// pursue follows the curve from the dew point u towards rising pressure, or falling,
// until it turns, or until enough is true of a point's temperature and pressure. The
// pieces stand by rising pressure in either case.
func (q *equilibrium) pursue(u []float64, rising bool, enough func(tK, pPa float64) bool) *envelope {
	pPa := math.Exp(u[q.lnP()])
	v := &envelope{fromPa: pPa, toPa: pPa, end: endUnsolved}
	slope, ok := q.tangent(u, q.lnP())
	if !ok {
		return v
	}
	towards := 1.0
	if !rising {
		towards = -1
	}
	here := point{u, slope, q.lnP()}
	length, way := traceFirst, towards // way is the sign of the held unknown's change
	for len(v.stretches) < traceStretches && length > traceShortest {
		held := q.liveliest(&here)
		if here.slope[held] < 0 {
			way = -way
		}
		here = point{here.u, here.along(held), held}
		h := way * length
		switch {
		case held == q.lnT():
			h /= traceT
		case held < q.lnT():
			h = way * min(length, traceContrast*q.contrast(here.u))
		}
		count := len(v.stretches)
		next, fresh, ok := q.follow(&here, h)
		if !ok || !q.join(v, &here, next, 0) {
			v.stretches = v.stretches[:count]
			length /= 2
			continue
		}
		here = *next
		if towards*way*here.slope[q.lnP()] <= 0 {
			v.end = endCricondenbar
			break
		}
		if enough(math.Exp(here.u[q.lnT()]), math.Exp(here.u[q.lnP()])) {
			break
		}
		if q.contrast(here.u) < nearCritical {
			if q.zDifference() < azeotropeZ {
				v.end = endCritical
			}
			break
		}
		if fresh <= easySteps {
			length = min(1.5*length, traceLongest)
		}
	}
	if v.end == endUnsolved && math.Exp(here.u[q.lnP()]) > 0.99*highestPa {
		v.end = endOfRange
	}
	if !rising {
		if v.end == endCricondenbar {
			v.stretches = v.stretches[:len(v.stretches)-1] // it holds the turn
		}
		slices.Reverse(v.stretches)
		for k := range v.stretches {
			v.stretches[k].reverse()
		}
		if len(v.stretches) > 0 {
			v.fromPa = math.Exp(v.stretches[0].lnP0)
		}
	}
	v.finish()
	return v
}

// zDifference is by how much the compressibility of the gas is above that of the
// liquid where slopes were last taken: next to nothing near a critical point, and most
// of the whole at an azeotrope. It is the slope of sum z ln phi with ln p.
func (q *equilibrium) zDifference() float64 {
	sum := 0.0
	for i, z := range q.z {
		sum += z * q.slopes.At(i, q.lnP())
	}
	return sum
}

// liveliest gives the unknown that changes most along the curve.
func (q *equilibrium) liveliest(p *point) int {
	held, most := 0, 0.0
	for i, d := range p.slope {
		if i == q.lnT() {
			d *= traceT
		}
		if math.Abs(d) > most {
			held, most = i, math.Abs(d)
		}
	}
	return held
}

// follow solves the point at which the held unknown has gone by h.
func (q *equilibrium) follow(from *point, h float64) (next *point, fresh int, ok bool) {
	u := make([]float64, len(from.u))
	for i := range u {
		u[i] = from.u[i] + h*from.slope[i]
	}
	return q.settle(u, from)
}

// settle solves from u with the unknown held that from holds. A dew point on the
// far side of a critical point is none of this curve.
func (q *equilibrium) settle(u []float64, from *point) (*point, int, bool) {
	fresh, ok := q.solve(u, from.held)
	if !ok {
		return nil, fresh, false
	}
	for i := range q.z {
		if math.Abs(from.u[i]) > q.contrast(from.u)/2 && from.u[i]*u[i] < 0 {
			return nil, fresh, false
		}
	}
	slope, ok := q.tangent(u, from.held)
	return &point{u, slope, from.held}, fresh, ok
}

// join adds the curve from a to b, which hold the same unknown.
func (q *equilibrium) join(v *envelope, a, b *point, depth int) bool {
	h := b.u[a.held] - a.u[a.held]
	u := make([]float64, len(a.u))
	for i := range u {
		u[i] = cubic(0.5, h, a.u[i], b.u[i], a.slope[i], b.slope[i])
	}
	foretoldT, foretoldP := u[q.lnT()], u[q.lnP()]
	middle, _, ok := q.settle(u, a)
	if !ok {
		return false
	}
	tK := math.Exp(middle.u[q.lnT()])
	offK, offP := tK*(middle.u[q.lnT()]-foretoldT), middle.u[q.lnP()]-foretoldP
	offAtPressure := offK - offP*tK*middle.slope[q.lnT()]/middle.slope[q.lnP()]
	close := math.Abs(offAtPressure) <= traceCloseK || math.Abs(offK) <= traceCloseK && math.Abs(offP) <= traceCloseTop
	if !close {
		return depth < traceHalvings && q.join(v, a, middle, depth+1) && q.join(v, middle, b, depth+1)
	}
	v.add(q, a, middle)
	v.add(q, middle, b)
	return true
}

func (v *envelope) add(q *equilibrium, a, b *point) {
	t, p := q.lnT(), q.lnP()
	mostly := 0
	for i := range q.z {
		if q.z[i]*math.Exp(-a.u[i]) > q.z[mostly]*math.Exp(-a.u[mostly]) {
			mostly = i
		}
	}
	v.stretches = append(v.stretches, stretch{
		h: b.u[a.held] - a.u[a.held], end: 1,
		lnT0: a.u[t], lnT1: b.u[t], lnP0: a.u[p], lnP1: b.u[p],
		t0: a.slope[t], t1: b.slope[t], p0: a.slope[p], p1: b.slope[p], mostly: mostly,
	})
}

// finish cuts the curve off at its highest pressure and notes where each stretch
// ends.
func (v *envelope) finish() {
	v.toPa = v.fromPa
	for k := range v.stretches {
		s := &v.stretches[k]
		if s.p1*s.h <= 0 { // pressure falls at the end of the stretch: its top is inside
			low, high := 0.0, 1.0
			for range 50 {
				third := (high - low) / 3
				if s.lnP(low+third) < s.lnP(high-third) {
					low += third
				} else {
					high -= third
				}
			}
			s.end = (low + high) / 2
			v.stretches = v.stretches[:k+1]
		}
		v.toPa = math.Exp(s.lnP(s.end))
		v.tops = append(v.tops, s.lnP(s.end))
		if s.end < 1 {
			return
		}
	}
}
