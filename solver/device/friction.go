package device

import "math"

// Darcy friction factors (four times Fanning's), and the one friction law of the
// tubes. Colebrook's equation is implicit in f for a given Reynolds number but
// explicit in the number K = f Re^2, which contains the pressure drop and no
// velocity:
//
//	Re_t = sqrt(K) 2 log10((1+a)/a),  a = rr/3.7 + 2.51/sqrt(K)
//	Re_l = K/64
//
// (1+a)/a stands for 1/a so that Re_t stays positive; it lowers f by some 1e-4 of
// itself. Colebrook carried on downwards meets the laminar line near Re 1,000, so
// the smaller of the two Reynolds numbers would leave the laminar line far too
// early, with twice the friction at Re 2,000. The turbulent branch therefore
// counts from the critical Reynolds number on, 2,300:
//
//	Re_c = (2300^8 + Re_t^8)^(1/8)
//	Re   = (Re_l^-8 + Re_c^-8)^(-1/8)
//
// Both joins are smooth and rise with K, whatever the roughness. Against the two
// lines f is 0.4 % high at Re 1,500, 5 % high at 2,000 and 0.4 % low at 4,000;
// between the last two no formula holds and the join is a choice.

// criticalReynolds is where laminar flow in a tube gives way (common practice).
const criticalReynolds = 2300

// reynoldsAt gives Re for K = f Re^2 > 0 in a tube of relative roughness rr, and
// d ln Re / d ln K.
func reynoldsAt(k, rr float64) (re, exponent float64) {
	t := math.Sqrt(k)
	smooth := 2.51 / t
	a := rr/3.7 + smooth
	lg := logOnePlus(1 / a)
	turbulent := t * (2 / math.Ln10) * lg
	laminar := k / 64

	// The larger of Re_t and the critical one; share is d ln Re_c/d ln Re_t.
	re, share := Larger(turbulent, criticalReynolds)
	byTurbulent := share * 0.5 * (1 + smooth/(a*(1+a)*lg))

	// The smaller of that and Re_l is 1 over the larger of their inverses.
	inverse, share := Larger(1/laminar, 1/re)
	return 1 / inverse, share + (1-share)*byTurbulent
}

// logOnePlus is ln(1+x), the quick way where that is accurate.
func logOnePlus(x float64) float64 {
	if x > 0.01 {
		return math.Log(1 + x)
	}
	return math.Log1p(x)
}

// Larger joins two laws of which the larger holds: (a^8 + b^8)^(1/8), for a and b above
// 0, and its logarithmic derivative by a.
func Larger(a, b float64) (v, share float64) {
	if a >= b {
		y := eighth(b / a)
		return a * eighthRoot(y), 1 / (1 + y)
	}
	y := eighth(a / b)
	return b * eighthRoot(y), y / (1 + y)
}

func eighth(x float64) float64 { return squared(squared(x * x)) }

// eighthRoot is (1+y)^(1/8) for 0 <= y <= 1, by its series where that is exact
// to rounding.
func eighthRoot(y float64) float64 {
	if y < 1e-3 {
		return 1 + y*(1.0/8-y*(7.0/128-y*35.0/1024))
	}
	return math.Sqrt(math.Sqrt(math.Sqrt(1 + y)))
}

// FrictionFactor is f of the tubes' law at a Reynolds number above 0: 64/Re,
// Colebrook and the join between them.
func FrictionFactor(reynolds, relativeRoughness float64) float64 {
	// Re rises with K, slowly about the critical one: halve ln K.
	lo, hi := 64*reynolds, 64*reynolds
	for re, _ := reynoldsAt(hi, relativeRoughness); re < reynolds; re, _ = reynoldsAt(hi, relativeRoughness) {
		hi *= 4
	}
	for range 60 {
		mid := math.Sqrt(lo) * math.Sqrt(hi)
		if re, _ := reynoldsAt(mid, relativeRoughness); re < reynolds {
			lo = mid
		} else {
			hi = mid
		}
	}
	return hi / (reynolds * reynolds)
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
