package device

import "math"

// Adiabatic flow with friction (Fanno) of a gas whose enthalpy is k/(k-1) p v
// along the tube, k the real isentropic exponent, v = 1/rho. With G = w/A,
// x = v2/v1, b = (k-1)/(2k) and g = G^2/(p1 rho1), energy and momentum give
//
//	p2/p1 = (1 - b g (x^2 - 1))/x
//	(1 + b g)(1 - 1/x^2) = g [ f L/D + K + (k+1)/k ln x ]
//
// the second being the momentum equation divided by v and integrated, losses
// spread over the length. The first is a quadratic in x. The exit is sonic where
// G^2 v2 = k p2, that is at x^2 = 2k (1 + b g)/((k+1) g), which is also where the
// second has its maximum over x. For b v^2 constant and Z = 1 these are the
// textbook relations of compressible.go.

func (d *duct) adiabatic(p1, p2 float64, g *Gas) Flow {
	k := exponentWithin(g.Kappa)
	b, kk := (k-1)/(2*k), (k+1)/k
	rho, rhoSlope := g.Density(p1)
	perRe := squared(d.flowPerRe/d.areaM2) / (p1 * rho) // g = perRe Re^2
	if p2 >= p1 {
		up := d.flowPerRe / 64 * 2 / (perRe * d.lengthByBore * p1)
		return Flow{Up: up, Down: -up, Exponent: 1, Root: smallestRoot}
	}
	r := p2 / p1
	short := (p1 - p2) / p1

	kMax := short * (1 + r) / (perRe * d.lengthByBore)
	n := d.start(kMax, d.loss-2*math.Log1p(-short))
	in := bracket{0, kMax * (1 + 1e-9)}
	choked := false
	var re, e, y, gg, spent, byG, byX, byN, bend, step float64
	for range maxSteps {
		re, e = reynoldsAt(n, d.roughness)
		gg = perRe * re * re
		spent = perRe*d.lengthByBore*n + gg*d.loss

		half := 2*b*gg + r
		y = 2 * short / (half + math.Sqrt(half*half+4*b*gg*short)) // x - 1
		sonic := 2 * k * (1 + b*gg) / ((k + 1) * gg)
		if choked = squared(1+y) > sonic; choked {
			y = math.Sqrt(max(sonic, 1)) - 1
		}
		x := 1 + y
		bend = 2*b*gg*x + r
		opened := y * (2 + y) / (x * x) // 1 - 1/x^2
		log := math.Log1p(y)
		f := (1+b*gg)*opened - gg*kk*log - spent
		byG = b*opened - kk*log
		byX = 0
		if !choked {
			byX = 2*(1+b*gg)/(x*x*x) - gg*kk/x
			byG -= byX * b * y * (2 + y) / bend
		}
		byN = byG*2*gg*e/n - perRe*(d.lengthByBore+2*re*re*e/n*d.loss)
		step = -f / byN
		if math.Abs(step) <= settled*n {
			break
		}
		n = in.next(n, step, f)
	}

	w := d.flowPerRe * re * (1 + e/n*step)
	dw := -d.flowPerRe * re * e / n / byN
	byLoad := -(byG*gg - spent) * (1/p1 + rhoSlope/rho)
	byRatio := -byX * (1 + y) / bend
	return Flow{
		W:        w,
		Up:       dw * (byLoad - byRatio*r/p1),
		Down:     dw * byRatio / p1,
		Exponent: min(max(e*(spent-byG*gg)/(-n*byN), 0.5), 1),
		Root:     max(w, smallestRoot),
		Choked:   choked,
	}
}
