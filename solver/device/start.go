package device

import "math"

// The search for the root of a tube's equation, F(K) = 0. F is close to linear in K
// and its curvature is known, so that each step leaves the cube of the error before:
// two or three evaluations of the friction from one that is guessed, one or none from
// the one before. The end of the last step is not evaluated; what it changes is
// carried on by the derivatives, to the cube of the step in the flow and to its square
// in the slopes, which only lead a solver.
//
// Where the exit becomes sonic, or ceases to be, the curvature of F jumps, and a step
// across leaves the square.

const (
	// settled is the relative step in K whose end is not evaluated; settledSonic that
	// across a change of the exit.
	settled, settledSonic = 3e-5, 1e-7
	maxSteps              = 60
)

// A Start is where the search for a tube's flow begins: at the friction that was
// worked out last, the zero value knowing of none. It saves evaluations and changes
// the answer in the last digits only.
type Start struct {
	at        friction // K = 0 where there is none
	roughness float64  // relative, for which that holds
	sonic     float64  // ratio of exit to inlet pressure where the exit was sonic, 0 elsewhere
}

// begin is the friction at which to begin in a duct where all the drive spent on it
// would give the friction number kMax, and the loss that goes with it.
func (s *Start) begin(kMax float64, d *duct) (at friction, wall float64) {
	if s.at.k > 0 && s.at.k < 2*kMax && s.roughness == d.roughness {
		return s.at, s.at.k / squared(s.at.re) * d.lengthByBore
	}
	return friction{}, max(squared(64)/kMax, 0.025) * d.lengthByBore
}

// friction works out the law at a K and keeps it.
func (s *Start) friction(k, roughness float64) friction {
	s.at, s.roughness = frictionAt(k, roughness), roughness
	return s.at
}

// sonicFor is the ratio of exit to inlet pressure to begin with where the exit may
// be sonic, behind a resistance that would end at ratio: 0 where it is not.
func (s *Start) sonicFor(ratio, resistance float64) float64 {
	switch {
	case ratio < s.sonic:
		return s.sonic
	case ratio*ratio*(1+resistance) < 1:
		if guess := sonicGuess(resistance); ratio < guess {
			return guess
		}
	}
	return 0
}

// sonicGuess is the ratio of exit to inlet pressure of gas at a sonic exit behind a
// resistance, to some parts in a hundred: see IsothermalExit.
func sonicGuess(resistance float64) float64 {
	return 1 / math.Sqrt(1+resistance+lnOnePlus(resistance))
}

// bracket keeps Newton's steps between the bounds found so far.
type bracket struct{ lo, hi float64 }

// toRoot is the relative step of K to where F has its root, to the cube of the step:
// f is its value, -fall and bend its derivatives by ln K and K^2 F".
func toRoot(f, fall, bend float64) float64 {
	newton := f / fall
	curved := newton * (0.5 * bend / fall)
	if curved < -0.5 {
		curved = -0.5
	} else if curved > 0.5 {
		curved = 0.5
	}
	return newton * (1 + curved)
}

// next gives where to evaluate after the residual f, falling with k, was found at
// k with the relative step z proposed.
func (b *bracket) next(k, z, f float64) float64 {
	if f > 0 {
		b.lo = k
	} else {
		b.hi = k
	}
	if n := k * (1 + z); n > 0 && n >= b.lo && n <= b.hi {
		return n
	}
	return (b.lo + b.hi) / 2
}
