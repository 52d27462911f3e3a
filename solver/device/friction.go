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

// A friction is the law at one K.
type friction struct {
	k, re    float64
	exponent float64 // d ln Re / d ln K
	bend     float64 // its derivative by ln K
}

// frictionAt is the law at k > 0 in a tube of relative roughness rr.
func frictionAt(k, rr float64) friction {
	t := math.Sqrt(k)
	d := rr*(1/3.7)*t + smoothWall // a = d/t
	lg := lnOnePlus(t / d)
	turbulent := t * (2 / math.Ln10) * lg
	// d ln Re_t / d ln K is e, and its derivative bend.
	n, m := smoothWall/d, smoothWall/(d+t)
	wall := n * t / ((d + t) * lg)
	e, bend := 0.5+0.5*wall, 0.25*wall*(n+m-1-wall)
	if k > allTurbulent {
		return friction{k, turbulent, e, bend}
	}

	// Re = (l (1+x)/(1+x+l))^(1/8) 2300, written so that the root is that of a number
	// close to 1 where it can be.
	x, l := eighth(turbulent*(1.0/criticalReynolds)), eighth(k*(1.0/64/criticalReynolds))
	sum := 1 + x + l
	var re float64
	switch {
	case l < 1:
		re = k / 64 * eighthRoot(-l/sum)
	case x < 1:
		re = criticalReynolds * eighthRoot((l*x-x-1)/sum)
	default:
		re = turbulent * eighthRoot((l-x-x*x)/(x*sum))
	}
	share, rest := x/(1+x), 1/(1+x) // of Re_t in Re_c
	bend = share * (bend + 8*rest*e*e)
	e *= share
	share, rest = (1+x)/sum, l/sum // of Re_l in Re
	return friction{k, re, e + share*(1-e), rest * (bend - 8*share*squared(1-e))}
}

const (
	smoothWall = 2.51 // of Colebrook's equation
	// allTurbulent is a K from which both joins are 1 to rounding; eighth powers of
	// much more than that would overflow.
	allTurbulent = 1e24
)

// curve is the second derivative of Re^2 by K, times K^2/(2 Re^2).
func (f *friction) curve() float64 { return f.exponent*(2*f.exponent-1) + f.bend }

// moved is the law at a K that is larger by the small share z, to z^3 in Re.
func (f friction) moved(z float64) friction {
	l := z * (1 - z/2) // ln(1+z)
	return friction{
		k:        f.k * (1 + z),
		re:       f.re * (1 + l*(f.exponent+l*(f.exponent*f.exponent+f.bend)/2)),
		exponent: f.exponent + l*f.bend,
		bend:     f.bend,
	}
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

// eighthRoot is (1+y)^(1/8) for y > -1, by its series where that is exact to
// rounding.
func eighthRoot(y float64) float64 {
	if y < 1e-3 && y > -1e-3 {
		return 1 + y*((1.0/8-y*(7.0/128))+y*y*(35.0/1024-y*(805.0/32768)))
	}
	return math.Sqrt(math.Sqrt(math.Sqrt(1 + y)))
}

// FrictionFactor is f of the tubes' law at a Reynolds number above 0: 64/Re,
// Colebrook and the join between them.
func FrictionFactor(reynolds, relativeRoughness float64) float64 {
	// Re rises with K, slowly about the critical one: halve ln K.
	lo, hi := 64*reynolds, 64*reynolds
	for frictionAt(hi, relativeRoughness).re < reynolds {
		hi *= 4
	}
	for range 60 {
		mid := math.Sqrt(lo) * math.Sqrt(hi)
		if frictionAt(mid, relativeRoughness).re < reynolds {
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
