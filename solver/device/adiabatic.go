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

func (d *duct) adiabatic(fl *Flow, p1, p2 float64, g *Gas, from *Start) {
	k := exponentWithin(g.Kappa)
	b, kk := (k-1)/(2*k), (k+1)/k
	rho, _ := g.Density(p1)
	perRe := squared(d.flowPerRe/d.areaM2) / (p1 * rho) // g = perRe Re^2
	perN := perRe * d.lengthByBore                      // g f L/D = perN K
	if p2 >= p1 {
		fl.rest(d.flowPerRe / 64 * 2 / (perN * p1))
		return
	}
	r := p2 / p1
	short := (p1 - p2) / p1
	squares := short * (1 + r) // 1 - r^2

	kMax := squares / perN
	in := bracket{0, kMax * (1 + 1e-9)}
	at, wall := from.begin(kMax, d)
	if at.k == 0 {
		if s := from.sonicFor(r, wall+d.loss); s > 0 {
			squares = 1 - s*s
		}
		at = from.friction(squares*wall/(perN*(wall+d.loss+squares)), d.roughness)
	}
	isSonic := func(x, g float64) bool { return x*x*(k+1)*g > 2*k*(1+b*g) }
	var choked bool
	var gg, x, root, byG, bendG, byX, bendX, xByG float64
	for range maxSteps {
		gg = perRe * at.re * at.re
		half := 2*b*gg + r
		root = math.Sqrt(half*half + 4*b*gg*short)
		y := 2 * short / (half + root) // x - 1 by the first equation
		x = 1 + y
		xByG = -b * y * (2 + y) / root
		free := x
		if choked = isSonic(x, gg); choked {
			x = math.Sqrt(max(2*k*(1+b*gg)/((k+1)*gg), 1))
			y = x - 1
		}
		perX := 1 / x
		opened := y * (2 + y) * perX * perX // 1 - 1/x^2
		log := lnOnePlus(y)

		// The left side less the gas's part of the right, and its derivatives.
		value := (1+b*gg)*opened - gg*kk*log
		byG = b*opened - kk*log
		mixed := (2*b*perX*perX - kk) * perX // by g and x
		if choked {
			byX = 0
			bendG = -mixed * x / (2 * gg * (1 + b*gg))
		} else {
			byX = (2*(1+b*gg)*perX*perX - gg*kk) * perX
			byXX := (gg*kk - 6*(1+b*gg)*perX*perX) * perX * perX
			bendX = mixed + byXX*xByG
			bendG = (mixed+bendX)*xByG - byX*2*b*xByG*(2*x+gg*xByG)/root
			byG += byX * xByG
		}
		rise := 2 * gg * at.exponent // of g with ln K
		f := value - perN*at.k - gg*d.loss
		z := toRoot(f, perN*at.k-(byG-d.loss)*rise, bendG*rise*rise+(byG-d.loss)*2*gg*at.curve())
		if math.Abs(z) <= settled {
			end := at.moved(z)
			g := perRe * end.re * end.re
			if math.Abs(z) <= settledSonic || choked == isSonic(free+xByG*(g-gg), g) {
				at = end
				break
			}
		}
		at = from.friction(in.next(at.k, z, f), d.roughness)
	}

	moved := perRe*at.re*at.re - gg
	gg += moved
	byG += bendG * moved
	spent := perN*at.k + gg*d.loss
	fall := perN*at.k - (byG-d.loss)*2*gg*at.exponent
	w := d.flowPerRe * at.re
	byF := w * at.exponent / fall
	fl.W, fl.Root, fl.Choked = w, max(w, smallestRoot), choked
	fl.Up, fl.Down = byF*(spent-byG*gg)*(1+g.Exponent)/p1, 0
	fl.exponent(at.exponent * (spent - byG*gg) / fall)
	if !choked {
		x += xByG * moved
		byX += bendX * moved
		root += 2 * b * (1 + 2*b*gg) / root * moved
		byRatio := byF * byX * x / (root * p1)
		fl.Up += byRatio * r
		fl.Down = -byRatio
	}
}
