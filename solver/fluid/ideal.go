package fluid

import "math"

// idealGas is the ideal-gas part of the Helmholtz energy of a mixture (Kunz &
// Wagner 2012), summed over its components: the vibration terms of all of them in
// one list. With z = theta/T, a sinh term adds v ln sinh z and a cosh term takes
// v ln cosh z away.
type idealGas struct {
	entropy  float64 // sum x (ln x + ln(R T0/p0) + k s) [-]
	enthalpy float64 // sum x h [K]
	constant float64 // k sum x b, b = cp0/R* - 1 [-]
	sinh     []vibration
	cosh     []vibration
}

func mixIdeal(parts []part) idealGas {
	var g idealGas
	for _, p := range parts {
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
	return alpha, first, second
}

// cv gives the isochoric heat capacity over R.
func (g *idealGas) cv(tK float64) float64 {
	cv := g.constant
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
	return cv
}

// GammaIdeal gives the ratio cp/cv of the gas at tK [K] and vanishing pressure.
func (m *Mixture) GammaIdeal(tK float64) float64 { return 1 + 1/m.ideal.cv(tK) }
