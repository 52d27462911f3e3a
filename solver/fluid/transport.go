package fluid

import "math"

// Viscosity and thermal conductivity of mixtures.
//
// Both start at vanishing density from the pure components (dilute.go, and for
// conductivity Chung's form of Eucken's factor) and are mixed with the same
// factors phi: C. R. Wilke, J. Chem. Phys. 18 (1950) 517 for viscosity; A.
// Wassiljewa, Phys. Z. 5 (1904) 737 with E. A. Mason and S. C. Saxena, Phys. Fluids
// 1 (1958) 361 for conductivity.
//
// The contribution of density is a function of the reduced density alone, with
// pseudo-critical constants for a mixture: J. A. Jossi, L. I. Stiel, G. Thodos,
// AIChE J. 8 (1962) 59-63 for viscosity, mixed after D. E. Dean and L. I. Stiel,
// AIChE J. 11 (1965) 526; L. I. Stiel, G. Thodos, AIChE J. 10 (1964) 26-30 for
// conductivity. The published viscosity polynomial does not quite vanish at zero
// density; here its value there is subtracted, so that dilute gas is met exactly.
//
// The relative errors given back are bounds by our own judgement. The tests hold
// them against reference values; for mixtures there is no such check.

// transport holds the pseudo-critical constants of a mixture and the constant
// parts of Wilke's factors.
type transport struct {
	rhoC         float64 // pseudo-critical density [mol/m3]
	tC           float64 // pseudo-critical temperature [K]
	viscosityXi  float64 // [1/(Pa s)]
	conductGamma float64 // Gamma Zc^5 [m K/W]
	polarShare   float64 // mole fraction of strongly polar components
	lightShare   float64 // of hydrogen and helium
	wilke        []wilkePair
}

// wilkePair belongs to two parts a < b.
type wilkePair struct {
	a, b     int
	quarter  float64 // (Mb/Ma)^(1/4)
	scale    float64 // 1/sqrt(8 (1 + Ma/Mb))
	massFrac float64 // Ma/Mb
}

func mixTransport(parts []part) transport {
	var t transport
	var tC, vC, zC, molarG float64
	for _, p := range parts {
		c := &components[p.i]
		tC += p.x * c.tC
		vC += p.x / c.rhoC
		zC += p.x * polar[p.i].pCPa / (c.rhoC * gasConstant * c.tC)
		molarG += p.x * 1e3 * c.molarMass
		switch p.i {
		case water, hydrogenSulfide:
			t.polarShare += p.x
		case hydrogen, helium:
			t.lightShare += p.x
		}
	}
	t.rhoC, t.tC = 1/vC, tC
	pCPa := zC * gasConstant * tC / vC
	atm := pCPa / 101325
	t.viscosityXi = 1e7 * math.Pow(tC/(molarG*molarG*molarG*atm*atm*atm*atm), 1.0/6)
	bar := pCPa / 1e5
	gamma := 210 * math.Pow(tC*molarG*molarG*molarG/(bar*bar*bar*bar), 1.0/6)
	t.conductGamma = gamma * math.Pow(zC, 5)
	for a := range parts {
		for b := a + 1; b < len(parts); b++ {
			r := components[parts[a].i].molarMass / components[parts[b].i].molarMass
			t.wilke = append(t.wilke, wilkePair{a, b, math.Pow(r, -0.25), 1 / math.Sqrt(8*(1+r)), r})
		}
	}
	return t
}

// dilute gives viscosity [Pa s] and conductivity [W/(m K)] at vanishing density.
func (m *Mixture) dilute(tK float64, withConductivity bool) (eta, lambda float64) {
	var e, root, l, sum [componentCount]float64
	for k, p := range m.parts {
		e[k] = diluteViscosity(p.i, tK)
		root[k] = math.Sqrt(e[k])
		sum[k] = p.x
		if withConductivity {
			l[k] = diluteConductivity(p.i, tK, e[k])
		}
	}
	for i := range m.trans.wilke {
		w := &m.trans.wilke[i]
		q := 1 + root[w.a]/root[w.b]*w.quarter
		phi := q * q * w.scale
		sum[w.a] += m.parts[w.b].x * phi
		sum[w.b] += m.parts[w.a].x * phi * e[w.b] / e[w.a] * w.massFrac
	}
	for k, p := range m.parts {
		eta += p.x * e[k] / sum[k]
		lambda += p.x * l[k] / sum[k]
	}
	return eta, lambda
}

// Viscosity gives the dynamic viscosity [Pa s] of the gas at tK [K] and rhoKgM3
// [kg/m3], and a bound on its relative error. It is meant for gas up to about
// twice the critical density.
func (m *Mixture) Viscosity(tK, rhoKgM3 float64) (paS, relError float64) {
	eta0, _ := m.dilute(tK, false)
	r := rhoKgM3 / (m.molarMass * m.trans.rhoC)
	const atZero = 1.0230 * 1.0230 * 1.0230 * 1.0230
	q := 1.0230 + r*(0.23364+r*(0.58533+r*(-0.40758+r*0.093324)))
	dense := (q*q*q*q - atZero) / m.trans.viscosityXi
	eta := eta0 + dense
	return eta, m.diluteError() + dense/eta*(0.25+2.5*m.trans.polarShare)
}

// diluteError bounds the error at vanishing density: that of the correlations, and
// that of mixing, which is largest where light and heavy molecules meet.
func (m *Mixture) diluteError() float64 {
	if len(m.parts) == 1 {
		return 0.025
	}
	return 0.035 + 0.2*m.trans.lightShare*(1-m.trans.lightShare)
}
