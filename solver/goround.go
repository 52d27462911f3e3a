package solver

import "math"

// Full steps that will not converge often go round: the active set returns to where
// it was, and so do the steps, to many digits, without end. A goround sees that two
// steps in a row are as long as two before, by the same number of steps: pseudo-time
// can then begin at once.
type goround struct {
	steps [longestRound]float64 // the last, by number
	n     int
	lag   int // of the last match, 0 where there was none
}

const (
	longestRound = 16
	sameStep     = 1e-6 // relative
)

// again notes a step and reports whether the iteration goes round.
func (g *goround) again(step float64) bool {
	found := 0
	for lag := 2; lag < min(g.n, longestRound) && step > stepTol; lag++ {
		if was := g.steps[(g.n-lag)%longestRound]; math.Abs(was-step) <= sameStep*step {
			found = lag
			break
		}
	}
	round := found > 0 && found == g.lag
	g.lag = found
	g.steps[g.n%longestRound] = step
	g.n++
	return round
}
