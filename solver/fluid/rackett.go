package fluid

import (
	"fmt"
	"math"
)

// Liquids by corresponding states, for components beyond GERG-2008.
//
// Saturated density follows H. G. Rackett as modified by C. F. Spencer and R. P.
// Danner, J. Chem. Eng. Data 17 (1972) 236-241, mixed with C. C. Li's critical
// temperature, Can. J. Chem. Eng. 49 (1971) 709:
//
//	V_s = R sum(x Tc/pc) Z_RA^(1 + (1 - Tr)^(2/7)),  Z_RA = sum(x Z_RA)
//
// and with pressure, G. H. Thomson, K. R. Brobst, R. W. Hankinson, AIChE J. 28 (1982)
// 671-676:
//
//	V = V_s [1 - C ln((B + p)/(B + p_b))]
//
// Heat capacity follows J. S. Rowlinson and A. Bondi (B. E. Poling, J. M. Prausnitz,
// J. P. O'Connell, The Properties of Gases and Liquids, 5th ed., eq. 6-6.2),
//
//	(cp - cp0)/R = 1.586 + 0.49/(1-Tr) + omega (4.2775 + 6.3 (1-Tr)^(1/3)/Tr + 0.4355/(1-Tr))
//
// good enough for the heating of a tube, and enthalpy is its integral, from the ideal
// gas less K. S. Pitzer's heat of vaporisation at the normal boiling point, L/(R Tc) =
// 7.08 (1-Tr)^0.354 + 10.95 omega (1-Tr)^0.456 (ibid., eq. 7-9.4).
//
// The bubble pressure is Raoult's with activities of 1: within a few per cent for
// liquids of a kind, too low by half or more where alcohols or water meet
// hydrocarbons, and no more than an order of magnitude for a dissolved gas.

// Z_RA from Spencer and Danner's table (from memory).
var rackettZ = [substanceCount]float64{
	ethylene: 0.2813, propylene: 0.2779, oneButene: 0.2735, isobutene: 0.2728, butadiene: 0.2712,
	ammonia: 0.2466, sulfurHexafluoride: 0.2788, chlorine: 0.2781, sulfurDioxide: 0.2661, nitrousOxide: 0.2758,
	hydrogenChloride: 0.2673, krypton: 0.2904, acetylene: 0.2707, r134a: 0.2581,
}

// densities of liquids near 1 atm that fix Z_RA: handbook values (CRC Handbook of
// Chemistry and Physics, from memory).
var liquidDensities = [substanceCount]struct{ tK, kgM3 float64 }{
	water: {293.15, 998.2}, methanol: {293.15, 791.4}, ethanol: {293.15, 789.3}, acetone: {293.15, 789.9},
	benzene: {293.15, 876.5}, toluene: {293.15, 866.9}, ethylbenzene: {293.15, 867.0}, orthoXylene: {293.15, 880.2},
	metaXylene: {293.15, 864.2}, paraXylene: {293.15, 861.1}, cyclohexane: {293.15, 778.5}, styrene: {293.15, 906.0},
	carbonDisulfide: {293.15, 1263.2}, ethyleneOxide: {283.15, 882.1}, hydrogenCyanide: {293.15, 687.6},
	nitricOxide: {121.4, 1269},
}

// Expected errors of density: with Z_RA of its own, and with L. C. Yamada and R. D.
// Gunn's estimate Z_RA = 0.29056 - 0.08775 omega, which suits nonpolar substances.
const (
	rackettError  = 0.025
	estimateError = 0.03
	polarError    = 0.15
	// nearTop is the reduced temperature up to which the liquids hold.
	nearTop = 0.92
	// compressedTo bounds the reduced temperature in B.
	compressedTo = 0.92
)

func rackettOf(i int) (z, relError float64) {
	s := &substances[i]
	if d := liquidDensities[i]; d.tK > 0 {
		power := 1 + math.Pow(1-d.tK/s.tC, 2.0/7)
		return math.Pow(s.molarMass/d.kgM3*s.pC/(gasConstant*s.tC), 1/power), rackettError
	}
	if z := rackettZ[i]; z > 0 {
		return z, rackettError
	}
	relError = estimateError
	if s.dipoleD > 0.4 {
		relError = polarError
	}
	return 0.29056 - 0.08775*s.acentric, relError
}

// RackettLiquid is a liquid of named components by corresponding states. It never
// changes and is safe for concurrent use.
type RackettLiquid struct {
	parts         []part
	molarMass     float64
	tC, pC, omega float64 // of the mixture
	volume, z     float64 // R sum(x Tc/pc) [m3/mol] and Z_RA
	relError      float64
	ideal         idealGas
	trans         transport
	names         []string
	x             []float64
	solidK        float64
	pures         []pureLiquid
}

// pureLiquid is what one component brings to the enthalpy: that of GERG-2008 or of its
// own equation where it has one, so that liquids of all kinds mix.
type pureLiquid struct {
	liquid *LiquidMixture
	ideal  idealGas
}

// watery are the substances that mix with water in any proportion, or as good as.
var watery = [substanceCount]bool{
	water: true, ammonia: true, methanol: true, ethanol: true, acetone: true, ethyleneOxide: true, hydrogenCyanide: true, formaldehyde: true,
}

var _ Composed = (*RackettLiquid)(nil)

func newRackettLiquid(moleFractions map[string]float64) (*RackettLiquid, error) {
	names, x, err := checkFractions(moleFractions)
	if err != nil {
		return nil, err
	}
	l := &RackettLiquid{}
	volumes := 0.0
	for k, name := range names {
		i := substanceByName()[name]
		if x[k] == 0 {
			continue
		}
		l.names, l.x = append(l.names, name), append(l.x, x[k])
		l.parts = append(l.parts, part{i, x[k]})
		s := &substances[i]
		if i == nitrogenDioxide {
			return nil, fmt.Errorf("nitrogen dioxide as a liquid is N2O4, which is not known here")
		}
		if !hasSaturation(i) && boilingLines[i-componentCount].tC == 0 {
			return nil, fmt.Errorf("no vapour pressure of %s as a liquid is known here", spoken(i))
		}
		l.molarMass += x[k] * s.molarMass
		l.tC += x[k] * s.vC * s.tC
		volumes += x[k] * s.vC
		l.pC += x[k] * s.pC
		l.omega += x[k] * s.acentric
		l.volume += x[k] * gasConstant * s.tC / s.pC
		pure := pureLiquid{ideal: mixIdeal([]part{{i, 1}})}
		if hasSaturation(i) {
			m := alone(i)
			pure.liquid = &LiquidMixture{m: m, bubbles: newBubbles(m)}
		}
		l.pures = append(l.pures, pure)
		z, e := rackettOf(i)
		l.z += x[k] * z
		l.relError += x[k] * e
	}
	l.tC /= volumes
	wet, apart := 0.0, 0.0
	for _, q := range l.parts {
		switch {
		case q.i == water:
			wet = q.x
		case !watery[q.i]:
			apart += q.x
		}
	}
	if wet > mostTrace && apart > mostTrace {
		return nil, fmt.Errorf("%.3g %% of water and the rest make two liquids; at most %g %% counts as dissolved", 100*wet, 100*mostTrace)
	}
	if len(l.parts) == 1 {
		l.solidK = substances[l.parts[0].i].tripleK
	} else {
		l.relError += 0.02
	}
	l.ideal = mixIdeal(l.parts)
	l.trans = mixTransport(l.parts)
	return l, nil
}

// vapourPa is the saturation pressure of any substance; above its critical
// temperature a measure of its volatility.
func vapourPa(i int, tK float64) float64 {
	if hasSaturation(i) {
		return saturationPa(i, tK)
	}
	return boilingLines[i-componentCount].pressurePa(tK)
}

func (l *RackettLiquid) bubblePa(tK float64) (p float64) {
	for _, q := range l.parts {
		p += q.x * vapourPa(q.i, tK)
	}
	return p
}

func (l *RackettLiquid) label() string {
	most := 0
	for k, q := range l.parts {
		if q.x > l.parts[most].x {
			most = k
		}
	}
	if len(l.parts) == 1 {
		return spoken(l.parts[0].i)
	}
	return "the mixture of mostly " + spoken(l.parts[most].i)
}

func (l *RackettLiquid) refuse(tK, pPa float64, format string, args ...any) error {
	return &StateError{l.label(), tK, pPa, fmt.Sprintf(format, args...)}
}

func (l *RackettLiquid) check(tK, pPa float64) error {
	switch {
	case !(tK >= lowestK) || !(pPa > 0 && pPa <= highestPa):
		return l.refuse(tK, pPa, "is outside the range of the liquid's equations, from %g K and up to %g bara", lowestK, highestPa/1e5)
	case tK > nearTop*l.tC:
		return l.refuse(tK, pPa, "has no liquid state: it is too near its critical temperature of %.4g degC or above", l.tC-celsiusOffset)
	}
	return nil
}

// MolarMass gives the molar mass [kg/mol].
func (l *RackettLiquid) MolarMass() float64 { return l.molarMass }

// Fractions gives the components present, sorted by name, and their mole fractions.
func (l *RackettLiquid) Fractions() (names []string, x []float64) {
	return append([]string(nil), l.names...), append([]float64(nil), l.x...)
}

// Like makes the liquid of other mole fractions.
func (l *RackettLiquid) Like(x []float64) (Composed, error) { return likeLiquid(l.names, x) }

// Basis says what the numbers rest on.
func (l *RackettLiquid) Basis() Basis {
	b := Basis{Equation: "Rackett (Spencer-Danner), Thomson-Brobst-Hankinson", Phase: Liquid, DensityError: l.relError,
		Note: "heat capacity that of the components, without heat of mixing"}
	for _, q := range l.parts {
		if !hasSaturation(q.i) {
			b.Note = "heat capacity within 20 %"
		}
	}
	if len(l.parts) > 1 {
		b.Note += "; bubble pressure by Raoult's law, too low where the components are unlike"
	}
	return b
}

// LnPhi is ln(p_sat/p) in the liquid, after Raoult, and 0 in the gas, taken as ideal.
func (l *RackettLiquid) LnPhi(tK, pPa float64, ph Phase) ([]float64, error) {
	if err := l.check(tK, pPa); err != nil {
		return nil, err
	}
	out := make([]float64, len(l.parts))
	if ph == Liquid {
		for k, q := range l.parts {
			out[k] = math.Log(vapourPa(q.i, tK) / pPa)
		}
	}
	return out, nil
}

// Stable is nil where the liquid is all liquid.
func (l *RackettLiquid) Stable(tK, pPa float64) error {
	if err := l.check(tK, pPa); err != nil {
		return err
	}
	switch bubble := l.bubblePa(tK); {
	case tK < l.solidK:
		return l.refuse(tK, pPa, "is solid: it melts at %.4g degC", l.solidK-celsiusOffset)
	case pPa >= bubble:
		return nil
	case len(l.parts) == 1:
		return l.refuse(tK, pPa, "is gas: below %.4g bara it boils", bubble/1e5)
	default:
		return l.refuse(tK, pPa, "is not all liquid: below %.4g bara it begins to boil", bubble/1e5)
	}
}

// MaybeTwoPhase is Stable for those who take a doubt as words.
func (l *RackettLiquid) MaybeTwoPhase(tK, pPa float64) (bool, string) {
	if err := l.Stable(tK, pPa); err != nil {
		return true, err.Error()
	}
	return false, ""
}

// LiquidAt is that of LiquidMixture.
func (l *RackettLiquid) LiquidAt(tK, pPa float64) (bubblePa, criticalPa, viscosityPaS float64, err error) {
	if err := l.check(tK, pPa); err != nil {
		return 0, 0, 0, err
	}
	bubblePa = l.bubblePa(tK)
	viscosityPaS, _, err = l.trans.liquidViscosity(tK, max(pPa, bubblePa))
	return bubblePa, l.pC, viscosityPaS, err
}

// molarVolume gives the volume [m3/mol] at a pressure no lower than the bubble
// pressure, its expansion by heat at saturation [1/K], and d ln rho / d ln p.
func (l *RackettLiquid) molarVolume(tK, pPa, bubblePa float64) (v, expansion, exponent float64) {
	t := 1 - tK/l.tC
	v = l.volume * math.Pow(l.z, 1+math.Pow(t, 2.0/7))
	expansion = -math.Log(l.z) * 2.0 / 7 * math.Pow(t, -5.0/7) / l.tC
	t = max(t, 1-compressedTo)
	third := math.Cbrt(t)
	w := l.omega
	e := math.Exp(4.79594 + w*(0.250047+w*1.14188))
	b := l.pC * (-1 + third*(-9.070217+third*(62.45326+third*(-135.1102+third*e))))
	c := 0.0861488 + 0.0344483*w
	squeezed := 1 - c*math.Log((b+pPa)/(b+bubblePa))
	return v * squeezed, expansion, pPa * c / ((b + pPa) * squeezed)
}

// excess is the integral of Rowlinson and Bondi's heat capacity over Tr, less a
// constant, for Tr < 1.
func (s *substance) excess(t float64) float64 {
	u := math.Cbrt(1 - t)
	// The integral of (1-t)^(1/3)/t.
	third := 3*u + math.Log1p(-u) - math.Log(1+u+u*u)/2 - math.Sqrt(3)*math.Atan((2*u+1)/math.Sqrt(3))
	ln := math.Log1p(-t)
	return 1.586*t - 0.49*ln + s.acentric*(4.2775*t+6.3*third-0.4355*ln)
}

// enthalpy gives the specific enthalpy [J/kg] at a pressure no lower than the
// bubble pressure.
func (l *RackettLiquid) enthalpy(tK, pPa float64) float64 {
	h := 0.0
	for k, q := range l.parts {
		s := &substances[q.i]
		if p := l.pures[k].liquid; p != nil && tK < nearTop*s.tC {
			if state, err := p.At(tK, 1); err == nil {
				h += q.x * state.H * s.molarMass
				continue
			}
		}
		_, first, _ := l.pures[k].ideal.at(tK)
		h += q.x * gasConstant * tK * (1 + first)
		if tK > nearTop*s.tC {
			continue // dissolved
		}
		boil := min(s.boilK/s.tC, 0.8)
		t := min(tK/s.tC, nearTop)
		vaporisation := 7.08*math.Pow(1-boil, 0.354) + 10.95*s.acentric*math.Pow(1-boil, 0.456)
		h += q.x * gasConstant * s.tC * (s.excess(t) - s.excess(boil) - vaporisation)
	}
	bubble := l.bubblePa(tK)
	v, expansion, _ := l.molarVolume(tK, bubble, bubble)
	return (h + v*pressed(tK*expansion)*(pPa-referencePa)) / l.molarMass
}

// pressed is (dh/dp)/v at constant temperature, 1 - T beta with the expansion beta at
// saturation; that of compressed liquid is less where it is large, so it is kept
// below 1.
func pressed(tBeta float64) float64 { return 1 - tBeta/math.Sqrt(1+tBeta*tBeta) }

// At gives the state of the liquid; below its bubble pressure that at its bubble
// pressure. The speed of sound and the isentropic exponent take cp for cv.
func (l *RackettLiquid) At(tK, pPa float64) (State, error) {
	if err := l.check(tK, pPa); err != nil {
		return State{}, err
	}
	bubble := l.bubblePa(tK)
	p := max(pPa, bubble)
	v, expansion, exponent := l.molarVolume(tK, p, bubble)
	const dT = 0.01
	h := l.enthalpy(tK, p)
	cp := (l.enthalpy(tK+dT, p) - l.enthalpy(tK-dT, p)) / (2 * dT)
	alpha, first, _ := l.ideal.at(tK)
	s := State{
		TemperatureK: tK, PressurePa: pPa,
		DensityMol: 1 / v, DensityKgM3: l.molarMass / v, Z: p * v / (gasConstant * tK),
		H:  h,
		S:  gasConstant/l.molarMass*(first-alpha-math.Log(bubble/(gasConstant*tK))) + (h-gasConstant*tK*(1+first)/l.molarMass)/tK,
		Cp: cp, Cv: cp,
		Sound: math.Sqrt(p * v / (l.molarMass * exponent)), Kappa: 1 / exponent,
		JouleThomson: -v * pressed(tK*expansion) / (l.molarMass * cp),
		GammaIdeal:   l.GammaIdeal(tK), DensityExponent: exponent, InNormalRange: true,
	}
	if pPa < bubble {
		s.DensityExponent = 0
	}
	return s, nil
}

// Density gives the density [kg/m3] and d ln rho / d ln p, as At does.
func (l *RackettLiquid) Density(tK, pPa float64) (rhoKgM3, exponent float64, err error) {
	if err := l.check(tK, pPa); err != nil {
		return 0, 0, err
	}
	bubble := l.bubblePa(tK)
	v, _, exponent := l.molarVolume(tK, max(pPa, bubble), bubble)
	if pPa < bubble {
		exponent = 0
	}
	return l.molarMass / v, exponent, nil
}

// Enthalpy gives the specific enthalpy [J/kg] and heat capacity [J/(kg K)].
func (l *RackettLiquid) Enthalpy(tK, pPa float64) (h, cp float64, err error) {
	s, err := l.At(tK, pPa)
	return s.H, s.Cp, err
}

// TemperatureAt finds the temperature at which the liquid has an enthalpy.
func (l *RackettLiquid) TemperatureAt(hJKg, pPa, guessK float64) (float64, error) {
	return temperatureOf(hJKg, guessK, func(tK float64) (float64, float64, error) { return l.Enthalpy(tK, pPa) })
}

// GammaIdeal gives cp/cv of the vapour at vanishing pressure.
func (l *RackettLiquid) GammaIdeal(tK float64) float64 { return 1 + 1/l.ideal.cv(tK) }

// Viscosity gives the dynamic viscosity [Pa s] at the bubble pressure, whatever the
// density, and its expected relative error; 0 and 1 where it is not known.
func (l *RackettLiquid) Viscosity(tK, _ float64) (paS, relError float64) {
	paS, relError, err := l.trans.liquidViscosity(tK, l.bubblePa(tK))
	if err != nil {
		return 0, 1
	}
	return paS, relError
}

// Conductivity is L. P. Filippov's mean of what H. Sato and L. Riedel give for pure
// liquids (Poling, Prausnitz, O'Connell, eq. 10-9.4): good to some 15 %, of ammonia to
// 60 %.
func (l *RackettLiquid) Conductivity(tK, _ float64) (wMK, relError float64) {
	for _, q := range l.parts {
		s := &substances[q.i]
		t, b := min(tK/s.tC, nearTop), min(s.boilK/s.tC, nearTop)
		k := 1.11 / math.Sqrt(1e3*s.molarMass) * (3 + 20*math.Pow(1-t, 2.0/3)) / (3 + 20*math.Pow(1-b, 2.0/3))
		wMK += q.x * s.molarMass / l.molarMass * k
	}
	return wMK, 0.15
}
