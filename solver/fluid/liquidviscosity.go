package fluid

import (
	"fmt"
	"math"
)

// Viscosity of liquids.
//
// Of the saturated pure liquids there are tables (table_liquidviscosity.go). Between
// the end of a table and 0.76 of the critical temperature, where Letsou and Stiel's
// correlation begins, the logarithm of viscosity runs straight. Pressure above
// saturation raises viscosity as K. Lucas, Chem. Ing. Tech. 53 (1981) 959, has it (B.
// E. Poling, J. M. Prausnitz, J. P. O'Connell, The Properties of Gases and Liquids,
// 5th ed., eq. 9-9.1). Water follows IAPWS R12-08.
//
// Mixtures take the mean of the logarithm by moles: L. Grunberg, A. H. Nissan, Nature
// 164 (1949) 799, with no interaction, for want of constants. That is good to some
// 10 % for hydrocarbons with one another, but water with alcohols is two to three
// times as viscous as it says, and the error given says so.

// letsouStiel gives the viscosity [Pa s] of the saturated liquid, from 0.76 to 0.98
// of the critical temperature.
func (s *substance) letsouStiel(tK float64) float64 {
	t := tK / s.tC
	zero := 0.015174 + t*(-0.02135+t*0.0075)
	one := 0.042552 + t*(-0.07674+t*0.0340)
	atm := s.pC / 101325
	xi := math.Pow(s.tC, 1.0/6) / (math.Sqrt(1e3*s.molarMass) * math.Cbrt(atm*atm))
	return 1e-3 * (zero + s.acentric*one) / xi
}

const letsouFrom, letsouTo = 0.76, 0.98 // of the critical temperature

// saturatedViscosity gives the viscosity [Pa s] of the saturated liquid, the expected
// relative error, and the range of temperature [K] it is known for. Outside, the
// value is that of the nearer end.
func saturatedViscosity(i int, tK float64) (paS, relError, lowK, highK float64) {
	s, c := &substances[i], &liquidViscosities[i]
	lowK, highK = c.lowK, c.highK
	if c.goesOn {
		highK = letsouTo * s.tC
	}
	tK = max(lowK, min(tK, highK))
	from := letsouFrom * s.tC
	switch {
	case i == water:
		return steamLiquid(tK, 0), c.relError, lowK, highK
	case c.form == letsouStiel:
		return s.letsouStiel(tK), c.relError, lowK, highK
	case tK <= c.highK:
		return c.at(tK), c.relError, lowK, highK
	case tK >= from:
		return s.letsouStiel(tK), max(c.relError, 0.08), lowK, highK
	}
	share := (tK - c.highK) / (from - c.highK)
	ln := (1-share)*math.Log(c.at(c.highK)) + share*math.Log(s.letsouStiel(from))
	return math.Exp(ln), max(c.relError, 0.08) + 0.16*share*(1-share), lowK, highK
}

// steamLiquid gives the viscosity [Pa s] of water overPa above saturation.
func steamLiquid(tK, overPa float64) float64 {
	return steam(100e-6, waterH, tK) * steamFactor(&waterH1, tK, liquidWaterDensity(tK, overPa))
}

// lucas gives by what pressure raises the viscosity of the saturated liquid.
func (s *substance) lucas(tK, pPa float64) float64 {
	t := max(0.3, min(tK/s.tC, 0.99))
	over := max(0, pPa/s.pC-leeKesler(t, s.acentric))
	a := 0.9991 - 4.674e-4/(1.0523*math.Pow(t, -0.03877)-1.0513)
	d := 0.3257/math.Pow(1.0039-math.Pow(t, 2.573), 0.2906) - 0.2086
	c := -0.07921 + t*(2.1616+t*(-13.4040+t*(44.1706+t*(-84.8291+t*(96.1209+t*(-59.8127+t*15.6719))))))
	return (1 + d*math.Pow(over/2.118, a)) / (1 + c*s.acentric*over)
}

// leeKesler gives the reduced saturation pressure: B. I. Lee, M. G. Kesler, AIChE J.
// 21 (1975) 510.
func leeKesler(t, acentric float64) float64 {
	t6 := t * t * t * t * t * t
	l := math.Log(t)
	zero := 5.92714 - 6.09648/t - 1.28862*l + 0.169347*t6
	one := 15.2518 - 15.6875/t - 13.4721*l + 0.43577*t6
	return math.Exp(zero + acentric*one)
}

// dissolvedMost is how much of substances that are no liquid at the temperature, or
// of unknown viscosity, may be dissolved in a liquid; they are left out.
const dissolvedMost = 0.05

// liquidViscosity gives the dynamic viscosity [Pa s] of the liquid at tK [K] and pPa
// [Pa], and its expected relative error. The error value is set where more than 5 %
// of the liquid is of substances whose viscosity as a liquid is not known at tK.
func (t *transport) liquidViscosity(tK, pPa float64) (paS, relError float64, err error) {
	var ln, known, squares, associated, wet float64
	for _, p := range t.parts {
		s, c := &substances[p.i], &liquidViscosities[p.i]
		if c.form == noCurve {
			continue
		}
		v, e, lowK, highK := saturatedViscosity(p.i, tK)
		if tK < lowK || tK > highK {
			continue
		}
		if p.i == water {
			v = steamLiquid(tK, max(0, pPa-s.pC*leeKesler(tK/s.tC, s.acentric)))
		} else {
			f := s.lucas(tK, pPa)
			v *= f
			e += 0.3 * (f - 1)
		}
		ln += p.x * math.Log(v)
		known += p.x
		relError += p.x * e
		squares += p.x * p.x
		switch p.i {
		case water:
			wet += p.x
			associated += p.x
		case methanol, ethanol, ammonia, hydrogenCyanide:
			associated += p.x
		}
	}
	if known < 1-dissolvedMost {
		return 0, 0, t.liquidUnknown(tK, pPa)
	}
	associated, wet = associated/known, wet/known
	relError = relError/known + 2*(1-known) + 0.15*(1-squares/(known*known)) +
		associated*(1-associated) + 3.2*wet*(1-wet)
	return math.Exp(ln / known), relError, nil
}

// liquidUnknown says which substance's liquid viscosity is not known at tK.
func (t *transport) liquidUnknown(tK, pPa float64) error {
	most, at := 0.0, 0
	for _, p := range t.parts {
		c := &liquidViscosities[p.i]
		known := c.form != noCurve
		if known {
			_, _, lowK, highK := saturatedViscosity(p.i, tK)
			known = tK >= lowK && tK <= highK
		}
		if !known && p.x > most {
			most, at = p.x, p.i
		}
	}
	reason := "has no viscosity as a liquid that is known here"
	if liquidViscosities[at].form != noCurve {
		_, _, lowK, highK := saturatedViscosity(at, tK)
		reason = fmt.Sprintf("has no viscosity as a liquid that is known here: only from %.0f to %.0f degC", lowK-celsiusOffset, highK-celsiusOffset)
	}
	return &StateError{spoken(at), tK, pPa, reason}
}
