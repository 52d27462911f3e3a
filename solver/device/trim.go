package device

import (
	"math"
	"slices"
)

// A Trim says how far a passage is open at a stroke, where that is not the stroke
// itself: what a measured flow curve comes to once the valve law has been taken
// out of it. Several measured pressures of the other side (a reducer's inlet, a
// holder's outlet) make a family; between them the opening at a stroke is
// interpolated, and beyond them that of the nearest holds.
//
// At every pressure the opening rises with the stroke from 0 at 0, so that a
// network of such devices is as monotone as one of plain ones. The pressure of the
// other side is taken as it last was, like the density of the gas.
type Trim struct {
	ByOutlet bool      // the family's pressure is that of the outlet
	FamilyPa []float64 // of the curves, rising
	Curves   []*Rising // as many
}

// leastStart is the slope at stroke 0 as a share of that to the first point. It
// must not vanish: it tells the solver which way opens the device.
const leastStart = 0.25

// Open gives the opening at stroke z and its slope. Below 0 it goes on straight, so
// that the slope leads back; beyond the last point of a curve it stays.
func (t *Trim) Open(z, inPa, outPa float64) (opening, slope float64) {
	p := inPa
	if t.ByOutlet {
		p = outPa
	}
	k, share := Between(t.FamilyPa, p)
	opening, slope = t.Curves[k].At(z)
	if share > 0 {
		o, s := t.Curves[k+1].At(z)
		opening += share * (o - opening)
		slope += share * (s - slope)
	}
	return opening, slope
}

// EndAt is the stroke of the last point, for pressures of both sides.
func (t *Trim) EndAt(inPa, outPa float64) float64 {
	p := inPa
	if t.ByOutlet {
		p = outPa
	}
	k, share := Between(t.FamilyPa, p)
	end, _ := t.Curves[k].End()
	if share > 0 {
		next, _ := t.Curves[k+1].End()
		end += share * (next - end)
	}
	return end
}

// Between gives the place of p in a rising list: the index below, and the share of
// the way to the next; an end of the list beyond it.
func Between(list []float64, p float64) (below int, share float64) {
	k, _ := slices.BinarySearch(list, p)
	switch {
	case k == 0:
		return 0, 0
	case k == len(list):
		return k - 1, 0
	}
	return k - 1, (p - list[k-1]) / (list[k] - list[k-1])
}

// A Rising is a function through points that rise in x and do not fall in y: the
// piecewise cubic of Fritsch & Carlson, SIAM J. Numer. Anal. 17 (1980) 238-246,
// with the weighted harmonic mean of Fritsch & Butland, SIAM J. Sci. Stat. Comput.
// 5 (1984) 300-304, as slopes at the points. It neither overshoots nor turns back.
type Rising struct{ x, y, slope []float64 }

// NewRising takes at least two points, x rising strictly, y not falling.
func NewRising(x, y []float64) *Rising {
	n := len(x)
	r := &Rising{x, y, make([]float64, n)}
	h := func(i int) float64 { return x[i+1] - x[i] }
	s := func(i int) float64 { return (y[i+1] - y[i]) / h(i) }
	for i := 1; i < n-1; i++ {
		if a, b := s(i-1), s(i); a > 0 && b > 0 {
			w1, w2 := 2*h(i)+h(i-1), h(i)+2*h(i-1)
			r.slope[i] = (w1 + w2) / (w1/a + w2/b)
		}
	}
	if n == 2 {
		r.slope[0], r.slope[1] = s(0), s(0)
		return r
	}
	// The ends by three points, held where the cubic stays monotone.
	end := func(h0, h1, s0, s1 float64) float64 {
		return min(max(((2*h0+h1)*s0-h0*s1)/(h0+h1), leastStart*s0), 3*s0)
	}
	r.slope[0] = end(h(0), h(1), s(0), s(1))
	r.slope[n-1] = end(h(n-2), h(n-3), s(n-2), s(n-3))
	return r
}

// End is the last point.
func (r *Rising) End() (x, y float64) { return r.x[len(r.x)-1], r.y[len(r.y)-1] }

// At gives the value and the slope at x. Below the first point it goes on straight,
// beyond the last it stays.
func (r *Rising) At(x float64) (y, slope float64) {
	n := len(r.x)
	if !(x > r.x[0]) {
		return r.y[0] + r.slope[0]*(x-r.x[0]), r.slope[0]
	}
	if x >= r.x[n-1] {
		return r.y[n-1], 0
	}
	i, _ := slices.BinarySearch(r.x, x)
	i--
	h := r.x[i+1] - r.x[i]
	t := (x - r.x[i]) / h
	d := (r.y[i+1] - r.y[i]) / h
	a, b := r.slope[i], r.slope[i+1]
	c2, c3 := 3*d-2*a-b, a+b-2*d
	return r.y[i] + h*t*(a+t*(c2+t*c3)), a + t*(2*c2+3*c3*t)
}

// Inverse gives the least x at which the function is y, between its ends.
func (r *Rising) Inverse(y float64) float64 {
	lo, hi := r.x[0], r.x[len(r.x)-1]
	for range 200 {
		m := lo + 0.5*(hi-lo)
		if m <= lo || m >= hi {
			break
		}
		if v, _ := r.At(m); v < y {
			lo = m
		} else {
			hi = m
		}
	}
	return math.Max(lo, hi)
}
