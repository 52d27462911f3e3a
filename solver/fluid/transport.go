package fluid

import "math"

// Viscosity and thermal conductivity of gases and their mixtures, whatever equation
// of state gives the density.
//
// Both start at vanishing density from the pure substances (dilute.go), which are
// mixed by Reichenberg's and Wassiljewa's rules (mixing.go).
//
// The contribution of density is mixed by corresponding states: each substance's own
// function (dense.go), made dimensionless with its critical constants, is taken at
// the reduced state of the mixture and weighted with its mole fraction. Where all
// follow the one function of Jossi, Stiel and Thodos this is the method of D. E. Dean
// and L. I. Stiel, AIChE J. 11 (1965) 526, whose pseudo-critical constants are used;
// more than one reference function is the idea of A. S. Teja, P. Rice, Ind. Eng.
// Chem. Fundam. 20 (1981) 77. A pure substance comes out exactly.
//
// The relative errors given back are what to expect, by our own judgement; the tests
// hold them against every reference value there is: of pure substances many, of
// mixtures hydrogen with nitrogen and with oxygen, and air. Humid gases are checked
// against kinetic theory only, natural gas against nothing outside. The errors grow with
// what density contributes, in mixtures of unlike molecules, outside the range of a
// correlation, and for conductivity towards the critical point.

// transport holds what depends on composition alone.
type transport struct {
	parts        []part
	tC, rhoC     float64  // pseudo-critical temperature [K] and density [mol/m3]
	viscosity    denseMix // [Pa s]
	conductivity denseMix // [W/(m K)]
	virial       []part   // those with a slope of their own at zero density
	polar        float64  // mole fraction of polar substances without a function of their own
	xi           float64  // [1/(Pa s)]
	mixParts     []mixPart
	pairs        []mixPair
	// Expected relative errors: of the dilute gas, and as a share of what density adds.
	diluteError, denseError             float64
	diluteLambdaError, denseLambdaError float64
}

// denseMix says how the contribution of density is put together: general times the
// function of all substances without one of their own, and the own ones.
type denseMix struct {
	general float64
	own     []ownDense
}

// ownDense is a substance's own function, to be taken at temperature x tScale and
// density x rhoScale, and its weight.
type ownDense struct {
	i                        int
	weight, tScale, rhoScale float64
}

// mixTransport makes the transport of parts, each an index of substances and a mole
// fraction above 0; these sum to 1.
func mixTransport(parts []part) transport {
	t := transport{parts: parts}
	var tC, vC, zC, molarG float64
	for _, p := range parts {
		s := &substances[p.i]
		tC += p.x * s.tC
		vC += p.x * s.vC
		zC += p.x * s.zC()
		molarG += p.x * 1e3 * s.molarMass
	}
	t.tC, t.rhoC = tC, 1/vC
	pC := zC * gasConstant * tC / vC
	xi, gamma := viscosityXi(tC, pC, molarG), conductivityGamma(tC, pC, molarG, zC)
	t.xi = xi
	for _, p := range parts {
		s := &substances[p.i]
		own := ownDense{i: p.i, tScale: s.tC / tC, rhoScale: vC / s.vC}
		if hasOwnViscosity(p.i) {
			own.weight = p.x * viscosityXi(s.tC, s.pC, 1e3*s.molarMass) / xi
			t.viscosity.own = append(t.viscosity.own, own)
		} else {
			t.viscosity.general += p.x / xi
			if s.polar() {
				t.polar += p.x
			}
		}
		if hasOwnConductivity(p.i) {
			own.weight = p.x * conductivityGamma(s.tC, s.pC, 1e3*s.molarMass, s.zC()) / gamma
			t.conductivity.own = append(t.conductivity.own, own)
		} else {
			t.conductivity.general += p.x / gamma
		}
		if virials[p.i] != nil {
			t.virial = append(t.virial, p)
		}
	}
	t.mixParts, t.pairs = mixParts(parts)
	t.expectErrors()
	return t
}

// polar tells the substances whose vapours have a viscosity that falls with density.
func (s *substance) polar() bool { return s.dipoleD > 0.9 }

func (s *substance) zC() float64 { return s.pC * s.vC / (gasConstant * s.tC) }

// viscosityXi [1/(Pa s)] takes the molar mass in g/mol.
func viscosityXi(tC, pCPa, molarG float64) float64 {
	atm := pCPa / 101325
	return 1e7 * math.Pow(tC/(molarG*molarG*molarG*atm*atm*atm*atm), 1.0/6)
}

// conductivityGamma is Gamma Zc^5 [m K/W].
func conductivityGamma(tC, pCPa, molarG, zC float64) float64 {
	bar := pCPa / 1e5
	return 210 * math.Pow(tC*molarG*molarG*molarG/(bar*bar*bar*bar), 1.0/6) * math.Pow(zC, 5)
}

// expectErrors sets the parts of the expected error that composition decides. Unlike
// molecules add to what the pure ones have: most where light and heavy ones meet,
// less where polar and non-polar ones do.
func (t *transport) expectErrors() {
	var light, polar, squares float64
	for _, p := range t.parts {
		t.diluteError += p.x * gasViscosities[p.i].relError
		t.diluteLambdaError += p.x * gasConductivities[p.i].relError
		squares += p.x * p.x
		isPolar := substances[p.i].polar()
		if isPolar {
			polar += p.x
		}
		isQuantum := p.i == helium || p.i == neon || p.i == deuterium
		if isQuantum && p.i != neon || p.i == hydrogen {
			light += p.x
		}
		share := func(own bool, ofOwn, ofPolar, ofQuantum float64) float64 {
			switch {
			case own:
				return p.x * ofOwn
			case isPolar:
				return p.x * ofPolar
			case isQuantum:
				return p.x * ofQuantum
			}
			return p.x * 0.4
		}
		t.denseError += share(hasOwnViscosity(p.i), 0.15, 1.2, 1.4)
		t.denseLambdaError += share(hasOwnConductivity(p.i), 0.15, 1.4, 2.5)
	}
	mixed := 0.03*(1-squares) + 0.12*polar*(1-polar)
	t.diluteError += mixed + 0.04*light*(1-light)
	t.diluteLambdaError += 2*mixed + 0.4*light*(1-light)
	t.denseError += 0.2 * (1 - squares)
	t.denseLambdaError += 0.2 * (1 - squares)
}

// diluteViscosities fills e with those of the parts [Pa s] and gives what being
// outside the range of correlations adds to the error.
func (t *transport) diluteViscosities(tK float64, e *[substanceCount]float64) (extra float64) {
	for k, p := range t.parts {
		v, out := diluteViscosity(p.i, tK)
		e[k] = v
		extra += p.x * out
	}
	return extra
}

// state gives the temperature [K] and density [mol/m3] at which a substance's own
// function is taken.
func (o *ownDense) state(tK, rhoMol float64) (ownK, ownRho float64) {
	return max(tK*o.tScale, gasViscosities[o.i].lowK), rhoMol * o.rhoScale
}

// lowest is how far density may at most lower a property of the dilute gas, as a
// share of it. Vapours of polar substances come to 0.1; the functions go on to
// nonsense where there would be two phases.
const lowest = 0.3

// thin is what viscosity rests on at one temperature, whatever the density.
type thin struct {
	tK    float64 // 0: none yet
	eta0  float64 // of the dilute gas [Pa s]
	slope float64 // over eta0, of the parts that have one of their own [m3/mol]
	extra float64 // expected relative error for being outside the range of correlations
}

func (t *transport) thinAt(tK float64) thin {
	var e [substanceCount]float64
	d := thin{tK: tK, extra: t.diluteViscosities(tK, &e)}
	d.eta0 = t.mixViscosity(tK, &e)
	for _, p := range t.virial {
		d.slope += p.x * virials[p.i].at(tK)
	}
	return d
}

// viscosityAt gives the dynamic viscosity [Pa s] of the gas at tK [K] and rhoMol
// [mol/m3], and its expected relative error. It is meant for gas up to about twice
// the critical density, in which water, carbon dioxide, ammonia, methane, ethane and
// the air gases may also be liquid.
func (t *transport) viscosityAt(tK, rhoMol float64) (paS, relError float64) {
	d := t.thinAt(tK)
	return t.viscosityOf(&d, rhoMol)
}

// viscosityOf is viscosityAt the temperature of d.
func (t *transport) viscosityOf(d *thin, rhoMol float64) (paS, relError float64) {
	tK, eta0 := d.tK, d.eta0
	r := rhoMol / t.rhoC
	dense := eta0*d.slope*rhoMol + t.viscosity.general*jossiStielThodos(r)
	if t.polar > 0 {
		dense += t.polar * polarStart(tK/t.tC, r, eta0, t.xi)
	}
	for i := range t.viscosity.own {
		o := &t.viscosity.own[i]
		ownK, ownRho := o.state(tK, rhoMol)
		dense += o.weight * ownViscosity(o.i, ownK, ownRho)
	}
	dense = max(dense, -lowest*eta0)
	eta := eta0 + dense
	return eta, t.diluteError + d.extra + math.Abs(dense)/eta*t.denseError
}

// conductivityAt gives the thermal conductivity [W/(m K)] of the gas at tK [K] and
// rhoMol [mol/m3], and its expected relative error. Near the critical point, where
// conductivity rises without bound, the value is too low: the error grows there, but
// close by it does not hold either.
func (t *transport) conductivityAt(tK, rhoMol float64) (wMK, relError float64) {
	var e, l [substanceCount]float64
	t.diluteViscosities(tK, &e)
	extra := 0.0
	for k, p := range t.parts {
		v, out := diluteConductivity(p.i, tK, e[k])
		l[k] = v
		extra += p.x * out
	}
	lambda0 := t.mixConductivity(&e, &l)
	r := rhoMol / t.rhoC
	dense := t.conductivity.general * stielThodos(r)
	for i := range t.conductivity.own {
		o := &t.conductivity.own[i]
		ownK, ownRho := o.state(tK, rhoMol)
		dense += o.weight * ownConductivity(o.i, ownK, ownRho)
	}
	dense = max(dense, -lowest*lambda0)
	lambda := lambda0 + dense
	critical := 1.3 * r / (1 + r*r) * math.Exp(-math.Abs(tK/t.tC-1)/0.1)
	return lambda, t.diluteLambdaError + extra + math.Abs(dense)/lambda*t.denseLambdaError + critical
}

// Viscosity gives the dynamic viscosity [Pa s] of the gas at tK [K] and rhoKgM3
// [kg/m3], and its expected relative error.
func (m *Mixture) Viscosity(tK, rhoKgM3 float64) (paS, relError float64) {
	return m.trans.viscosityAt(tK, rhoKgM3/m.molarMass)
}

// Conductivity gives the thermal conductivity [W/(m K)] of the gas at tK [K] and
// rhoKgM3 [kg/m3], and its expected relative error.
func (m *Mixture) Conductivity(tK, rhoKgM3 float64) (wMK, relError float64) {
	return m.trans.conductivityAt(tK, rhoKgM3/m.molarMass)
}
