package spread

import "gonum.org/v1/gonum/mathext"

// confidence is that of the intervals given.
const confidence = 0.95

// interval gives the exact two-sided confidence interval of a probability, of which
// k of n draws were a success: C. J. Clopper, E. S. Pearson, "The use of confidence
// or fiducial limits illustrated in the case of the binomial", Biometrika 26 (1934)
// 404-413, by quantiles of the beta distribution.
func interval(k, n int, confidence float64) (low, high float64) {
	tail := (1 - confidence) / 2
	high = 1
	if k > 0 {
		low = mathext.InvRegIncBeta(float64(k), float64(n-k+1), tail)
	}
	if k < n {
		high = mathext.InvRegIncBeta(float64(k+1), float64(n-k), 1-tail)
	}
	return low, high
}
