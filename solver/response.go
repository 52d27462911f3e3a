package solver

import "gonum.org/v1/gonum/mathext"

// How a place answers a step at the source: the distribution of ages of what
// arrives there, each way a plug followed by a gamma distribution.

// Response is the part of a step change at the source that has arrived after some
// seconds, 0..1; 0 where there is no lag.
func (l *Lag) Response(seconds float64) float64 {
	sum := 0.0
	for i := range l.Ways {
		sum += l.Ways[i].Part * l.Ways[i].response(seconds)
	}
	return min(sum, 1)
}

func (w *Way) response(seconds float64) float64 {
	switch t := seconds - w.PlugS; {
	case !(w.Variance > 0): // all plug, or a tank too small to square
		if t >= w.TanksS {
			return 1
		}
	case t > 0 && w.TanksS > 0:
		shape := w.TanksS * w.TanksS / w.Variance
		return mathext.GammaIncReg(shape, t*w.TanksS/w.Variance)
	case t >= 0 && w.TanksS == 0:
		return 1
	}
	return 0
}

// by gives the time by which a part of a change has arrived, by bisection: the
// response never falls.
func (l *Lag) by(part float64) float64 {
	low, high := 0.0, 0.0
	for i := range l.Ways {
		w := &l.Ways[i]
		high = max(high, w.PlugS+w.TanksS)
	}
	if l.Response(high) >= part && l.plug() && len(l.Ways) == 1 {
		return high
	}
	for k := 0; l.Response(high) < part && k < 200; k++ {
		low, high = high, 2*high
	}
	for k := 0; k < 200 && high-low > 1e-13*high; k++ {
		if mid := (low + high) / 2; l.Response(mid) >= part {
			high = mid
		} else {
			low = mid
		}
	}
	return high
}

// plug reports whether no way passes a stirred volume.
func (l *Lag) plug() bool {
	for i := range l.Ways {
		if l.Ways[i].Variance > 0 {
			return false
		}
	}
	return true
}
