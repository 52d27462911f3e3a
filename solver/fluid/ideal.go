package fluid

import "math"

// idealGas is the ideal-gas part of the Helmholtz energy of a mixture (Kunz &
// Wagner 2012), summed over its components: the vibration terms of all of them in
// one list. With z = theta/T, a sinh term adds v ln sinh z and a cosh term takes
// v ln cosh z away. The substances beyond GERG-2008 add a polynomial to the heat
// capacity; their waves of characteristic temperature theta are sinh terms of
// theta/2.
type idealGas struct {
	entropy  float64 // sum x (ln x + ln(R T0/p0) + k s) [-]
	enthalpy float64 // sum x h [K]
	constant float64 // k sum x b, b = cp0/R* - 1 [-]
	sinh     []vibration
	cosh     []vibration
	poly     [4]float64 // of T, T^2 ... in cp0/R
	roots    [2]float64 // of T^(1/2) and T^(3/4)
}

// rootPowers are the exponents of idealGas.roots.
var rootPowers = [2]float64{0.5, 0.75}

func mixIdeal(parts []part) idealGas {
	var g idealGas
	for _, p := range parts {
		if p.i >= componentCount {
			g.add(p.x, otherIdeal(p.i-componentCount))
			continue
		}
		c := &components[p.i]
		g.entropy += p.x * (math.Log(p.x) + math.Log(gasConstant*referenceK/referencePa) + idealRatio*c.idealEntropy)
		g.enthalpy += p.x * (idealRatio*(c.idealEnthalpy+referenceK) - referenceK)
		g.constant += idealRatio * p.x * (c.cp0 - 1)
		for _, q := range c.sinh {
			g.sinh = append(g.sinh, vibration{idealRatio * p.x * q.v, q.theta})
		}
		for _, q := range c.cosh {
			g.cosh = append(g.cosh, vibration{idealRatio * p.x * q.v, q.theta})
		}
	}
	return g
}

// otherIdeal is the ideal gas of substance componentCount + k, of those beyond GERG-2008.
func otherIdeal(k int) *idealGas {
	c := &capacities[k]
	g := &idealGas{constant: c.c[0] - 1, roots: c.roots}
	copy(g.poly[:], c.c[1:])
	for _, w := range c.waves {
		g.sinh = append(g.sinh, vibration{w.v, w.theta / 2})
	}
	// h = 0 and s = 0 at the reference state.
	_, first, _ := g.at(referenceK)
	g.enthalpy = -referenceK * (first + 1)
	alpha, first, _ := g.at(referenceK)
	g.entropy = first - alpha + math.Log(gasConstant*referenceK/referencePa)
	return g
}

// add puts in the pure gas o with the mole fraction x, which may be 0.
func (g *idealGas) add(x float64, o *idealGas) {
	g.entropy += x * o.entropy
	if x > 0 {
		g.entropy += x * math.Log(x)
	}
	g.enthalpy += x * o.enthalpy
	g.constant += x * o.constant
	for _, w := range o.sinh {
		g.sinh = append(g.sinh, vibration{x * w.v, w.theta})
	}
	for n, c := range o.poly {
		g.poly[n] += x * c
	}
	for n, c := range o.roots {
		g.roots[n] += x * c
	}
}

// at gives alpha0 without its ln rho, the first derivative tau d/dtau and the
// second -tau2 d2/dtau2 (which is cv0/R). sinh and cosh are written with
// q = exp(-2 theta/T), so that nothing overflows at low temperature.
func (g *idealGas) at(tK float64) (alpha, first, second float64) {
	inv := 1 / tK
	var s float64
	first = g.constant + g.enthalpy*inv
	second = g.constant
	for _, w := range g.sinh {
		z := w.theta * inv
		q := math.Exp(-2 * z)
		d := 1 / (1 - q)
		s += w.v * (z - math.Ln2 + math.Log(1-q))
		first += w.v * z * (1 + q) * d
		second += w.v * 4 * z * z * q * d * d
	}
	for _, w := range g.cosh {
		z := w.theta * inv
		q := math.Exp(-2 * z)
		d := 1 / (1 + q)
		s -= w.v * (z - math.Ln2 + math.Log(1+q))
		first -= w.v * z * (1 - q) * d
		second += w.v * 4 * z * z * q * d * d
	}
	alpha = g.entropy + g.enthalpy*inv - g.constant*math.Log(tK) + s
	power := tK
	for k, c := range g.poly {
		n := float64(k + 1)
		alpha -= c * power / (n * (n + 1))
		first += c * power / (n + 1)
		second += c * power
		power *= tK
	}
	if g.roots != [2]float64{} {
		for k, n := range rootPowers {
			c := g.roots[k] * math.Pow(tK, n)
			alpha -= c / (n * (n + 1))
			first += c / (n + 1)
			second += c
		}
	}
	return alpha, first, second
}

// cv gives the isochoric heat capacity over R.
func (g *idealGas) cv(tK float64) float64 {
	cv := g.constant + tK*(g.poly[0]+tK*(g.poly[1]+tK*(g.poly[2]+tK*g.poly[3])))
	for _, w := range g.sinh {
		z := w.theta / tK
		q := math.Exp(-2 * z)
		cv += w.v * 4 * z * z * q / ((1 - q) * (1 - q))
	}
	for _, w := range g.cosh {
		z := w.theta / tK
		q := math.Exp(-2 * z)
		cv += w.v * 4 * z * z * q / ((1 + q) * (1 + q))
	}
	if g.roots != [2]float64{} {
		for k, n := range rootPowers {
			cv += g.roots[k] * math.Pow(tK, n)
		}
	}
	return cv
}

// GammaIdeal gives the ratio cp/cv of the gas at tK [K] and vanishing pressure.
func (m *Mixture) GammaIdeal(tK float64) float64 { return 1 + 1/m.ideal.cv(tK) }
