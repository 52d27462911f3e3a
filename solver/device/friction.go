package device

import "math"

// Darcy friction factors (four times Fanning's), and the one friction law of the
// tubes. Colebrook's equation is implicit in f for a given Reynolds number but
// explicit in the number K = f Re^2, which contains the pressure drop and no
// velocity:
//
//	Re_t = sqrt(K) 2 log10((1+a)/a),  a = rr/3.7 + 2.51/sqrt(K)
//	Re_l = K/64
//	Re   = Re_l (1 + (Re_l/Re_t)^6)^(-1/6)
//
// (1+a)/a stands for 1/a so that Re_t stays positive; it lowers f by some 1e-4 of
// itself. The join is smooth and rises with K, so no Reynolds number switches
// anything; between Re 2,000 and 4,000, where no formula holds, it is a choice.

// reynoldsAt gives Re for K = f Re^2 > 0 in a tube of relative roughness rr, and
// d ln Re / d ln K.
func reynoldsAt(k, rr float64) (re, exponent float64) {
	t := math.Sqrt(k)
	smooth := 2.51 / t
	a := rr/3.7 + smooth
	lg := math.Log1p(1 / a)
	turbulent := t * (2 / math.Ln10) * lg
	byTurbulent := 0.5 * (1 + smooth/(a*(1+a)*lg))
	laminar := k / 64

	if laminar <= turbulent {
		y := sixth(laminar / turbulent)
		return laminar * minusSixthRoot(y), 1 + (byTurbulent-1)*y/(1+y)
	}
	y := sixth(turbulent / laminar)
	return turbulent * minusSixthRoot(y), byTurbulent + (1-byTurbulent)*y/(1+y)
}

func sixth(x float64) float64 {
	x2 := x * x
	return x2 * x2 * x2
}

// minusSixthRoot is (1+y)^(-1/6) for 0 <= y <= 1.
func minusSixthRoot(y float64) float64 {
	if y < 1e-8 {
		return 1 - y/6
	}
	return 1 / math.Cbrt(math.Sqrt(1+y))
}

// FrictionFactor is f of the tubes' law at a Reynolds number above 0: 64/Re,
// Colebrook and the join between them.
func FrictionFactor(reynolds, relativeRoughness float64) float64 {
	// Re rises with K at a power between 1/2 and 1: a few Newton steps in
	// logarithms from the laminar side, which lies below.
	k := 64 * reynolds
	for range 60 {
		re, e := reynoldsAt(k, relativeRoughness)
		step := math.Log(reynolds/re) / e
		k *= math.Exp(step)
		if math.Abs(step) < 1e-14 {
			break
		}
	}
	return k / (reynolds * reynolds)
}

// Laminar is f = 64/Re (Hagen-Poiseuille), to about Re 2,000.
func Laminar(reynolds float64) float64 { return 64 / reynolds }

// Blasius is f = 0.3164/Re^0.25 of smooth tubes, Re 4,000 to 100,000 (1913).
func Blasius(reynolds float64) float64 { return 0.3164 / math.Sqrt(math.Sqrt(reynolds)) }

// Colebrook is the root of 1/sqrt(f) = -2 log10(rr/3.7 + 2.51/(Re sqrt(f)))
// (Colebrook 1939), Re above 4,000; +Inf for Re gives the fully rough limit.
func Colebrook(reynolds, relativeRoughness float64) float64 {
	// y = 1/sqrt(f); the right side hardly depends on y: Newton from f = 0.02.
	y := 7.0
	for range 60 {
		b := 2.51 / reynolds
		arg := relativeRoughness/3.7 + b*y
		residual := y + 2*math.Log10(arg)
		step := residual / (1 + 2/math.Ln10*b/arg)
		y = max(y-step, 1e-3)
		if math.Abs(step) < 1e-14*y {
			break
		}
	}
	return 1 / (y * y)
}
