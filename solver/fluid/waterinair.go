package fluid

import "math"

// Water in nitrogen, oxygen and argon: a correction to GERG-2008.
//
// GERG-2008 was not fitted to water in air, and under pressure its water dew points
// there are too low: 1 K at 20 bar, 3 K at 70 bar. At low density what it says of a
// gas is the second virial coefficient B. That of water with air is known from
// molecular calculation that agrees with measurements: A. H. Harvey, P. H. Huang,
// Int. J. Thermophys. 28 (2007) 556-565, 100 to 2000 K (constants from memory, held
// against published enhancement factors of humid air in a test). Argon and the
// single gases take the value of air. With it a mixture of water and gas i has
//
//	B = x^2 B_w + 2 x (1 - x) B_wi + (1 - x)^2 B_i
//
// which GERG-2008, whose B is no such square, misses. Of ln phi of water,
// rho (B + (1 - x) dB/dx) with rho = p/(R T) depends on it; the difference is added,
// each gas counting by its share in what is not water.

// airWaterB gives the second virial coefficient [m3/mol] of water with air.
func airWaterB(tK float64) float64 {
	t := tK / 100
	return 1e-6 * (66.5687*math.Pow(t, -0.237) - 238.834*math.Pow(t, -1.048) - 176.755*math.Pow(t, -3.183))
}

// airCorrection gives what ln phi of water in the mixture of parts is short of.
func airCorrection(parts []part, tK, pPa float64) float64 {
	x := 0.0
	for _, p := range parts {
		if p.i == water {
			x = p.x
		}
	}
	if !(x > 0 && x < 1) {
		return 0
	}
	sum := 0.0
	for _, p := range parts {
		if p.i != nitrogen && p.i != oxygen && p.i != argon {
			continue
		}
		own, steam, cross := virialB(p.i, 0, tK), virialB(p.i, 1, tK), airWaterB(tK)
		short := func(x float64) float64 {
			return x*x*steam + 2*x*(1-x)*cross + (1-x)*(1-x)*own - virialB(p.i, x, tK)
		}
		h := 1e-4 * (1 - x) // may reach below x = 0, where all this is as smooth
		sum += p.x / (1 - x) * (short(x) + (1-x)*(short(x+h)-short(x-h))/(2*h))
	}
	return sum * pPa / (gasConstant * tK)
}

// virialB gives GERG-2008's second virial coefficient [m3/mol] of component i with
// the mole fraction x of water; the pairs asked for have no departure function.
func virialB(i int, x, tK float64) float64 {
	parts := [2]part{{i, 1 - x}, {water, x}}
	if i > water {
		parts[0], parts[1] = parts[1], parts[0]
	}
	r := reduce(parts[:])
	lnTau := math.Log(r.tR / tK)
	sum := 0.0
	for _, p := range parts {
		shape := residuals[p.i].shape
		for k, q := range shape {
			if q.d == 1 {
				sum += p.x * residuals[p.i].n[k] * math.Exp(q.t*lnTau)
			}
		}
	}
	return sum / r.rhoR
}
