package fluid

import "math"

// Gases dissolved in water. Of these GERG-2008 has next to no idea (its Henry's
// constant of carbon dioxide is 40 times the true one, that of methane 200 times).
// Henry's constants follow IAPWS G7-04 (R. Fernandez-Prini, J. L. Alvarez, A. H.
// Harvey, J. Phys. Chem. Ref. Data 32 (2003) 903-916):
//
//	ln(k_H/p_s) = A/Tr + B (1 - Tr)^0.355/Tr + C Tr^-0.41 exp(1 - Tr)
//
// with Tr = T/647.096 K and p_s the saturation pressure of water, 273 K to about
// 500 K, within some 3 to 6 %. The coefficients are from memory; a test holds them against
// solubilities at 25 degC of another source.

type henry struct{ a, b, c float64 }

var henrys = [substanceCount]henry{
	helium:          {-3.52839, 7.12983, 4.47770},
	argon:           {-8.40954, 4.29587, 10.52779},
	hydrogen:        {-4.73284, 6.08954, 6.06066},
	nitrogen:        {-9.67578, 4.72162, 11.70585},
	oxygen:          {-9.44833, 4.43822, 11.42005},
	carbonMonoxide:  {-10.52862, 5.13259, 12.01421},
	carbonDioxide:   {-8.55445, 4.01195, 9.52345},
	hydrogenSulfide: {-4.51499, 5.23538, 4.42126},
	methane:         {-10.44708, 4.66491, 12.12986},
	ethane:          {-19.67563, 4.51222, 20.62567},
}

// henryPa is the partial pressure of a dissolved gas over its mole fraction, small.
func (h henry) henryPa(tK float64) float64 {
	r := tK / components[water].tC
	return saturationPa(water, tK) * math.Exp((h.a+h.b*math.Pow(1-r, 0.355))/r+h.c*math.Pow(r, -0.41)*math.Exp(1-r))
}

// mostDissolved is the mole fraction of dissolved gas up to which Henry's law and the
// density of water with gas in it are relied on.
const mostDissolved = 0.03

// aqueousBubble is the bubble pressure of water with dissolved gases: Henry's and
// Raoult's laws with an ideal gas. At 30 bar of carbon dioxide that is 15 % high.
func aqueousBubble(parts []part, tK float64) float64 {
	p := 0.0
	for _, q := range parts {
		if q.i == water {
			p += q.x * saturationPa(water, tK)
		} else {
			p += q.x * henrys[q.i].henryPa(tK)
		}
	}
	return p
}
