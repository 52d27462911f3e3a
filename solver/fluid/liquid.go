package fluid

import (
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"
)

// Liquid.
//
// A liquid of GERG-2008 components is the liquid root of that equation, with its
// bubble pressure from equal fugacities in the same equation (bubble.go). Where
// another component takes part, the liquid rests on corresponding states
// (rackett.go).
//
// A throttle for liquid is sized from the state before it, and lets its outlet fall
// below the bubble pressure, where no equation has a liquid to offer. So that such
// a network can be solved, and its answer flagged, At and what rests on it give
// below the bubble pressure the liquid at its bubble pressure. Stable and
// MaybeTwoPhase say in words that the liquid has boiled there. Above the temperature
// where it has a bubble pressure there is no liquid, and every state is an error.

// LiquidOf makes the liquid of the given mole fractions, named in any way that Name
// resolves: by GERG-2008 where it covers all components, by the multiparameter
// equation of a single substance that has one, else by corresponding states. Fractions
// as for New.
func LiquidOf(moleFractions map[string]float64) (Composed, error) {
	x := map[string]float64{}
	whole := true
	for _, name := range slices.Sorted(maps.Keys(moleFractions)) {
		canonical, ok := Name(name)
		if !ok {
			return nil, fmt.Errorf("unknown component %q; write one of %s", name, strings.Join(Components(), ", "))
		}
		x[canonical] += moleFractions[name]
		whole = whole && (covered(canonical) || moleFractions[name] == 0)
	}
	if !whole {
		names, fractions, err := checkFractions(x)
		if err != nil {
			return nil, err
		}
		if m, err := multiparameterOf(names, fractions); err == nil {
			return liquidOf(m)
		}
		l, err := newRackettLiquid(x)
		if err != nil {
			return nil, err // a nil pointer must not become a Composed
		}
		return l, nil
	}
	m, err := New(x)
	if err != nil {
		return nil, err
	}
	return liquidOf(m)
}

// likeLiquid makes the liquid of named components and mole fractions.
func likeLiquid(names []string, x []float64) (Composed, error) {
	if len(x) != len(names) {
		return nil, fmt.Errorf("%d fractions for %d components", len(x), len(names))
	}
	of := map[string]float64{}
	for i, name := range names {
		of[name] = x[i]
	}
	return LiquidOf(of)
}

func liquidOf(m *Mixture) (Composed, error) {
	boils, err := m.boiling()
	if err != nil {
		return nil, err
	}
	return &LiquidMixture{m: m, bubbles: newBubbles(boils)}, nil
}

// mostTrace is the mole fraction of water that a liquid may have dissolved: about
// what benzene takes up at 20 degC, and more than alkanes do (common knowledge of
// handbooks).
const mostTrace = 0.002

// boiling gives the mixture that the bubble pressure is judged by. The error says
// that water and the rest make two liquids.
func (m *Mixture) boiling() (*Mixture, error) {
	at, wet := -1, 0.0
	for k, p := range m.parts {
		if p.i == water {
			at, wet = k, p.x
		}
	}
	switch {
	case wet == 0 || wet == 1:
		return m, nil
	case m.aqueous():
		for _, p := range m.parts {
			if p.i != water && henrys[p.i] == (henry{}) {
				return nil, fmt.Errorf("no solubility of %s in water is known here; they may make two liquids", spoken(p.i))
			}
		}
		if 1-wet > mostDissolved {
			return nil, fmt.Errorf("water takes up no %.3g %% of gases as a liquid that could be reckoned with: at most %g %%", 100*(1-wet), 100*mostDissolved)
		}
		return m, nil
	case wet > mostTrace:
		return nil, fmt.Errorf("%.3g %% of water and the rest make two liquids; at most %g %% counts as dissolved", 100*wet, 100*mostTrace)
	}
	dry := map[string]float64{}
	for k, p := range m.parts {
		if k != at {
			dry[components[p.i].name] = p.x / (1 - wet)
		}
	}
	return New(dry)
}

// LiquidMixture is a liquid of GERG-2008 components, or of one substance under its own
// multiparameter equation. It never changes and is safe for
// concurrent use.
type LiquidMixture struct {
	m       *Mixture
	bubbles *bubbles
}

var _ Composed = (*LiquidMixture)(nil)

// MolarMass gives the molar mass [kg/mol].
func (l *LiquidMixture) MolarMass() float64 { return l.m.molarMass }

// Fractions is that of the mixture.
func (l *LiquidMixture) Fractions() (names []string, x []float64) { return l.m.Fractions() }

// Like makes the liquid of other mole fractions.
func (l *LiquidMixture) Like(x []float64) (Composed, error) {
	names, _ := l.m.Fractions()
	return likeLiquid(names, x)
}

// Expected errors of liquid densities by GERG-2008: what its authors give for pure
// saturated and compressed liquids and for their mixtures (Kunz & Wagner 2012), and
// for water what the tests find against IAPWS-95.
const (
	pureLiquidError  = 0.003
	waterLiquidError = 0.003
	mixLiquidError   = 0.005
)

// Basis says what the numbers rest on.
func (l *LiquidMixture) Basis() Basis {
	b := Basis{Equation: "GERG-2008", Phase: Liquid, DensityError: mixLiquidError}
	switch i := l.m.pure(); {
	case l.m.own != nil:
		b = l.m.Basis()
		b.Phase, b.DensityError = Liquid, l.m.own.liquid
	case i == water:
		b.DensityError = waterLiquidError
		b.Note = "heat capacity up to 10 % high near 0 degC"
	case i >= 0:
		b.DensityError = pureLiquidError
	case l.m.aqueous():
		b.Note = "bubble pressure by Henry's law, good to some 5 % up to 10 bara"
	default:
		b.Note = "bubble pressure by equal fugacities, good to some 5 %; traces of water are not counted in it"
	}
	return b
}

// noBubble says that bubble pressures end before a temperature.
const noBubble = "has no bubble pressure at this temperature: it is above where it can be liquid, or too cold for the equation"

// LnPhi is that of the mixture.
func (l *LiquidMixture) LnPhi(tK, pPa float64, ph Phase) ([]float64, error) {
	return l.m.LnPhi(tK, pPa, ph)
}

// LiquidAt gives what throttles and tubes need to know besides the density: bubble
// pressure [Pa] and viscosity [Pa s], and a critical pressure [Pa], of a mixture the
// mean by moles (Kay's rule), to feed FF of IEC 60534-2-1. The error is a *StateError
// where there is no liquid, or its viscosity is not known.
func (l *LiquidMixture) LiquidAt(tK, pPa float64) (bubblePa, criticalPa, viscosityPaS float64, err error) {
	if err := l.m.checkRange(tK, pPa); err != nil {
		return 0, 0, 0, err
	}
	bubblePa, ok := l.bubbles.at(tK)
	if !ok {
		return 0, 0, 0, l.m.refuse(tK, pPa, noBubble)
	}
	for _, p := range l.m.parts {
		criticalPa += p.x * substances[p.i].pC
	}
	viscosityPaS, _, err = l.m.trans.liquidViscosity(tK, max(pPa, bubblePa))
	return bubblePa, criticalPa, viscosityPaS, err
}

// Stable is nil where the liquid is all liquid.
func (l *LiquidMixture) Stable(tK, pPa float64) error {
	if err := l.m.checkRange(tK, pPa); err != nil {
		return err
	}
	bubble, ok := l.bubbles.at(tK)
	switch i := l.m.pure(); {
	case !ok:
		return l.m.refuse(tK, pPa, noBubble)
	case i >= 0 && tK < substances[i].tripleK:
		return l.m.refuse(tK, pPa, "is solid: it melts at %.4g degC", substances[i].tripleK-celsiusOffset)
	case pPa >= bubble:
		return nil
	case i >= 0:
		return l.m.refuse(tK, pPa, "is gas: below %.4g bara it boils", bubble/1e5)
	default:
		return l.m.refuse(tK, pPa, "is not all liquid: below %.4g bara it begins to boil", bubble/1e5)
	}
}

// MaybeTwoPhase is Stable for those who take a doubt as words.
func (l *LiquidMixture) MaybeTwoPhase(tK, pPa float64) (bool, string) {
	if err := l.Stable(tK, pPa); err != nil {
		return true, err.Error()
	}
	return false, ""
}

// state finds the liquid root at pPa or at the bubble pressure, whichever is higher.
func (l *LiquidMixture) state(e *Evaluator, tK, pPa float64) (r root, boiled bool, err error) {
	if err := l.m.checkRange(tK, pPa); err != nil {
		return root{}, false, err
	}
	bubble, ok := l.bubbles.at(tK)
	if !ok {
		return root{}, false, l.m.refuse(tK, pPa, noBubble)
	}
	r, err = e.solveLiquid(tK, max(pPa, bubble))
	return r, pPa < bubble, err
}

// At gives the state of the liquid at tK [K] and pPa [Pa, absolute]; below its
// bubble pressure that at its bubble pressure, with DensityExponent 0.
func (l *LiquidMixture) At(tK, pPa float64) (State, error) {
	e := Evaluator{m: l.m}
	r, boiled, err := l.state(&e, tK, pPa)
	if err != nil {
		return State{}, err
	}
	s := e.atDensity(tK, r.delta*l.m.rhoR)
	s.PressurePa = pPa
	if boiled {
		s.DensityExponent = 0
	}
	return s, nil
}

// Density gives the density [kg/m3] and d ln rho / d ln p, as At does.
func (l *LiquidMixture) Density(tK, pPa float64) (rhoKgM3, exponent float64, err error) {
	e := Evaluator{m: l.m}
	r, boiled, err := l.state(&e, tK, pPa)
	if err != nil {
		return 0, 0, err
	}
	if !boiled {
		exponent = r.exponent()
	}
	return r.delta * l.m.rhoR * l.m.molarMass, exponent, nil
}

// Enthalpy gives the specific enthalpy [J/kg] and heat capacity [J/(kg K)].
func (l *LiquidMixture) Enthalpy(tK, pPa float64) (h, cp float64, err error) {
	s, err := l.At(tK, pPa)
	return s.H, s.Cp, err
}

// TemperatureAt finds the temperature at which the liquid has an enthalpy.
func (l *LiquidMixture) TemperatureAt(hJKg, pPa, guessK float64) (float64, error) {
	return temperatureOf(hJKg, guessK, func(tK float64) (float64, float64, error) { return l.Enthalpy(tK, pPa) })
}

// temperatureOf solves h(t) = want by Newton's method with cp for the slope, from
// guessK. A step on which there is no state is halved.
func temperatureOf(want, guessK float64, enthalpy func(tK float64) (h, cp float64, err error)) (float64, error) {
	t := guessK
	h, cp, err := enthalpy(t)
	if err != nil {
		return 0, err
	}
	for range temperatureSteps {
		step := (want - h) / cp
		if math.Abs(step) <= temperatureClose*t {
			return t + step, nil
		}
		next, nextH, nextCp := t, h, cp
		for {
			next = t + step
			if nextH, nextCp, err = enthalpy(next); err == nil {
				break
			}
			if step /= 2; math.Abs(step) <= temperatureClose*t {
				return 0, err
			}
		}
		t, h, cp = next, nextH, nextCp
	}
	return 0, fmt.Errorf("no temperature of the enthalpy %g J/kg found near %g K", want, guessK)
}

// GammaIdeal gives cp/cv of the vapour at vanishing pressure.
func (l *LiquidMixture) GammaIdeal(tK float64) float64 { return l.m.GammaIdeal(tK) }

// Viscosity gives the dynamic viscosity [Pa s] at the pressure that belongs to a
// density, and its expected relative error; 0 and 1 where it is not known.
func (l *LiquidMixture) Viscosity(tK, rhoKgM3 float64) (paS, relError float64) {
	e := Evaluator{m: l.m}
	e.setTemperature(tK)
	rho := rhoKgM3 / l.m.molarMass
	a01, _, _ := e.pressureTerms(rho / l.m.rhoR)
	paS, relError, err := l.m.trans.liquidViscosity(tK, max(rho*l.m.gasR*tK*(1+a01), 0))
	if err != nil {
		return 0, 1
	}
	return paS, relError
}

// Conductivity is that of the mixture, which holds for liquid too.
func (l *LiquidMixture) Conductivity(tK, rhoKgM3 float64) (wMK, relError float64) {
	return l.m.Conductivity(tK, rhoKgM3)
}
