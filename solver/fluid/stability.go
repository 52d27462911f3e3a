package fluid

import "math"

// Stability of one phase against splitting, by the tangent plane of the Gibbs
// energy: M. L. Michelsen, Fluid Phase Equilib. 9 (1982) 1-19.
//
// A phase of composition z is stable if no trial phase w lies below the tangent
// plane at z, that is if for all w
//
//	tm(W) = 1 + sum W_i (ln W_i + ln phi_i(w) - d_i - 1) >= 0,  d_i = ln z_i + ln phi_i(z),  w = W/sum W
//
// Trials start from Wilson's K-values, liquid-like (z/K) and gas-like (z K), from the
// feed's own composition on its other root, and from every component that could
// condense by itself, which finds water in gas. Each is improved by direct
// substitution ln W_i = d_i - ln phi_i(w). Any trial found below the plane proves that
// the phase splits; that all end on or above it proves the contrary in practice only.
// Solids are not looked at.

const (
	trialSteps   = 300
	trialClose   = 1e-10 // change of ln W at which a trial stands
	trialSame    = 1e-6  // sum of squared differences of ln W from z at which a trial is the feed again
	trialBelow   = 1e-9  // how far under the plane counts
	trialAlone   = 0.03  // share of pressure over saturation pressure from which a component is tried by itself
	trialPure    = 0.98  // its fraction then
	trialNothing = 1e-30 // fraction below which nothing changes
)

// split is a phase found below the tangent plane.
type split struct {
	phase Phase
	w     []float64
}

// splits looks for a phase that z gives off. index are the substances of z, which
// may hold zeros; phase is that of z. It reports false where z has no root of its
// phase.
func splits(t fugacities, index []int, z []float64, tK, pPa float64, phase Phase) (s *split, ok bool) {
	n := len(z)
	buffer := make([]float64, 5*n)
	d, w, lnPhi, lnW, k := buffer[:n], buffer[n:2*n], buffer[2*n:3*n], buffer[3*n:4*n], buffer[4*n:]
	for i, x := range z {
		w[i] = max(x, trialNothing)
		k[i] = substances[index[i]].wilsonPa(tK) / pPa
	}
	if !t.lnPhi(lnPhi, w, tK, pPa, phase) {
		return nil, false
	}
	for i := range z {
		d[i] = math.Log(w[i]) + lnPhi[i]
	}
	try := func(ph Phase) *split {
		for range trialSteps {
			sum := 0.0
			for i := range w {
				w[i] = max(w[i], trialNothing)
				sum += w[i]
			}
			for i := range w {
				lnW[i] = math.Log(w[i])
				w[i] /= sum
			}
			found := ph
			if !t.lnPhi(lnPhi, w, tK, pPa, ph) {
				if found = 1 - ph; !t.lnPhi(lnPhi, w, tK, pPa, found) {
					return nil
				}
			}
			tm, change, away := 1.0, 0.0, 0.0
			for i := range w {
				next := d[i] - lnPhi[i]
				if z[i] > 0 {
					tm += w[i] * sum * (lnW[i] - next - 1)
					change = max(change, math.Abs(next-lnW[i]))
					off := next - math.Log(z[i])
					away += off * off
				}
			}
			if tm < -trialBelow {
				return &split{found, append([]float64(nil), w...)}
			}
			if change < trialClose || away < trialSame {
				return nil
			}
			for i := range w {
				w[i] = math.Exp(min(d[i]-lnPhi[i], 50))
			}
		}
		return nil
	}
	for _, ph := range []Phase{Liquid, Gas} {
		for i, x := range z {
			if w[i] = x * k[i]; ph == Liquid {
				w[i] = x / k[i]
			}
		}
		if s := try(ph); s != nil {
			return s, true
		}
	}
	copy(w, z)
	if s := try(1 - phase); s != nil {
		return s, true
	}
	for i, x := range z {
		if x*pPa < trialAlone*k[i]*pPa || x == 0 || n == 1 {
			continue
		}
		for j, y := range z {
			w[j] = (1 - trialPure) * y
		}
		w[i] += trialPure
		if s := try(Liquid); s != nil {
			return s, true
		}
	}
	return nil, true
}

// words says what a gas gives off: the phase and what it mostly is.
func (s *split) words(index []int) string {
	most := 0
	for i, w := range s.w {
		if w > s.w[most] {
			most = i
		}
	}
	if s.phase == Liquid {
		return "what condenses is mostly " + spoken(index[most])
	}
	return "it gives off another gas, mostly " + spoken(index[most])
}
