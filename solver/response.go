package solver

import (
	"math"

	"gonum.org/v1/gonum/mathext"
)

// How a place answers a step at the source: the distribution of ages of what
// arrives there, each way a plug followed by a gamma distribution.

// Response is the part of a step change at the source that has arrived after some
// seconds, 0..1; 0 where there is no lag.
func (l *Lag) Response(seconds float64) float64 {
	arrived, _ := l.response(seconds)
	return arrived
}

// response also gives how fast it rises there [1/s]; a jump has no rate.
func (l *Lag) response(seconds float64) (arrived, rate float64) {
	for i := range l.Ways {
		f, slope := l.Ways[i].response(seconds)
		arrived += l.Ways[i].Part * f
		rate += l.Ways[i].Part * slope
	}
	return min(arrived, 1), rate
}

func (w *Way) response(seconds float64) (arrived, rate float64) {
	switch t := seconds - w.PlugS; {
	case !(w.Variance > 0): // all plug, or a tank too small to square
		if t >= w.TanksS {
			return 1, 0
		}
	case t > 0 && w.TanksS > 0:
		shape, perS := w.TanksS*w.TanksS/w.Variance, w.TanksS/w.Variance
		x := t * perS
		logGamma, _ := math.Lgamma(shape)
		return mathext.GammaIncReg(shape, x), perS * math.Exp((shape-1)*math.Log(x)-x-logGamma)
	case t >= 0 && w.TanksS == 0:
		return 1, 0
	}
	return 0, 0
}

// by gives the time by which a part of a change has arrived: Newton's steps between
// bounds that close in, since the response never falls, and half the way where such a
// step is none, or no shorter than half the one before.
func (l *Lag) by(part float64) float64 {
	low, high := 0.0, 0.0
	for i := range l.Ways { // of a gamma distribution 95 % is hardly ever beyond two deviations
		w := &l.Ways[i]
		high = max(high, w.PlugS+w.TanksS+2*math.Sqrt(max(w.Variance, 0)))
	}
	arrived, rate := l.response(high)
	if arrived >= part && l.plug() && len(l.Ways) == 1 {
		return high
	}
	for k := 0; arrived < part && k < 200; k++ {
		low, high = high, 2*high
		arrived, rate = l.response(high)
	}
	at, step := high, high-low
	for k := 0; k < 200 && high-low > 1e-13*high; k++ {
		newton := (part - arrived) / rate
		if math.Abs(newton) <= 1e-9*at { // what is left is the square of that
			return at + newton
		}
		if to := at + newton; to > low && to < high && math.Abs(newton) < math.Abs(step)/2 {
			at, step = to, newton
		} else {
			at, step = (low+high)/2, (high-low)/2
		}
		if arrived, rate = l.response(at); arrived >= part {
			high = at
		} else {
			low = at
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
