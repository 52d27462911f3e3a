package fluid

import (
	"fmt"
	"math"
)

// States of the Peng-Robinson equation, by its analytic derivatives. With
// v = Z R T/p and L = ln((v + (1+sqrt 2) b)/(v + (1-sqrt 2) b)), over the ideal gas
// at the same temperature and volume
//
//	u = (T a' - a) L/(2 sqrt 2 b)   s = R ln(1 - b/v) + a' L/(2 sqrt 2 b)   cv = T a'' L/(2 sqrt 2 b)

const (
	onePlusRoot2  = 1 + math.Sqrt2
	oneMinusRoot2 = 1 - math.Sqrt2
	// In denser gas than this volume over b (about a sixth of the critical density)
	// the equation errs more than its Basis says.
	normalVB = 25
)

func (c *Cubic) refuse(tK, pPa float64, format string, args ...any) error {
	return &StateError{c.label(), tK, pPa, fmt.Sprintf(format, args...)}
}

func (c *Cubic) label() string {
	if c.only >= 0 {
		return spoken(c.only)
	}
	most := 0
	for k, x := range c.x {
		if x > c.x[most] {
			most = k
		}
	}
	return "the mixture of mostly " + spoken(c.kind.index[most])
}

// inRange refuses what the equation or its heat capacities do not reach.
func (c *Cubic) inRange(tK, pPa float64) error {
	switch {
	case !(tK >= c.lowK && tK <= highestK):
		return c.refuse(tK, pPa, "is outside the range of its constants, %g to %g K", c.lowK, highestK)
	case !(pPa > 0 && pPa <= highestPa):
		return c.refuse(tK, pPa, "is outside the range of the equation of state, above 0 up to %g bara", highestPa/1e5)
	case c.dimer >= 0:
		if paired := pairedShare(tK, c.x[c.dimer]*pPa); paired > mostPaired {
			return c.refuse(tK, pPa, "is no gas of single molecules: %.2g %% of its nitrogen dioxide is paired to N2O4, which this equation does not know", 100*paired)
		}
	}
	return nil
}

// gas finds the gas root after every refusal.
func (c *Cubic) gas(tK, pPa float64) (z float64, err error) {
	if err := c.inRange(tK, pPa); err != nil {
		return 0, err
	}
	if c.only >= 0 {
		if err := c.pureGas(tK, pPa); err != nil {
			return 0, err
		}
	}
	z, ok := c.root(tK, pPa, Gas)
	if !ok {
		return 0, c.refuse(tK, pPa, "has no gas state: it condenses before it reaches that pressure")
	}
	return z, nil
}

// At gives the state of the gas at tK [K] and pPa [Pa, absolute]. The error is a
// *StateError out of range, where a pure fluid is liquid or solid, and where the
// equation has no gas root. Whether a mixture's gas is stable, Stable says.
func (c *Cubic) At(tK, pPa float64) (State, error) {
	z, err := c.gas(tK, pPa)
	if err != nil {
		return State{}, err
	}
	return c.state(tK, pPa, z), nil
}

// pressureSlopes gives dp/dv and dp/dT at volume v.
func pressureSlopes(tK, v, a, da, b float64) (dpdv, dpdT float64) {
	free, round := v-b, v*v+2*b*v-b*b
	return -cubicR*tK/(free*free) + 2*a*(v+b)/(round*round), cubicR/free - da/round
}

func (c *Cubic) state(tK, pPa, z float64) State {
	rt := cubicR * tK
	v := z * rt / pPa
	a, da, dda := c.attractionAt(tK)
	dpdv, dpdT := pressureSlopes(tK, v, a, da, c.b)
	l := math.Log((v+onePlusRoot2*c.b)/(v+oneMinusRoot2*c.b)) / (2 * math.Sqrt2 * c.b)
	alpha0, i1, cv0 := c.ideal.at(tK)

	cv := cubicR*cv0 + tK*dda*l
	cp := cv - tK*dpdT*dpdT/dpdv
	h := rt*(i1+z) + (tK*da-a)*l
	s := cubicR*(i1-alpha0+math.Log(v-c.b)) + da*l
	m := c.molarMass
	return State{
		TemperatureK:    tK,
		PressurePa:      pPa,
		DensityMol:      1 / v,
		DensityKgM3:     m / v,
		Z:               z,
		H:               h / m,
		S:               s / m,
		Cp:              cp / m,
		Cv:              cv / m,
		Sound:           v * math.Sqrt(-cp/cv*dpdv/m),
		Kappa:           -v / pPa * cp / cv * dpdv,
		JouleThomson:    -(tK*dpdT/dpdv + v) / cp,
		GammaIdeal:      1 + 1/cv0,
		DensityExponent: -pPa / (v * dpdv),
		InNormalRange:   v > normalVB*c.b,
	}
}

// Density gives the density [kg/m3] and d ln rho / d ln p at constant temperature.
// Errors as for At.
func (c *Cubic) Density(tK, pPa float64) (rhoKgM3, exponent float64, err error) {
	z, err := c.gas(tK, pPa)
	if err != nil {
		return 0, 0, err
	}
	v := z * cubicR * tK / pPa
	a, da, _ := c.attractionAt(tK)
	dpdv, _ := pressureSlopes(tK, v, a, da, c.b)
	return c.molarMass / v, -pPa / (v * dpdv), nil
}

// Enthalpy gives the specific enthalpy [J/kg] and isobaric heat capacity
// [J/(kg K)]. Errors as for At.
func (c *Cubic) Enthalpy(tK, pPa float64) (h, cp float64, err error) {
	s, err := c.At(tK, pPa)
	return s.H, s.Cp, err
}

// TemperatureAt is as Mixture.TemperatureAt.
func (c *Cubic) TemperatureAt(hJKg, pPa, guessK float64) (float64, error) {
	return temperatureAt(func(tK float64) (float64, float64, error) { return c.Enthalpy(tK, pPa) },
		func(tK float64) error {
			return c.refuse(tK, pPa, "has no temperature of the enthalpy %g J/kg", hJKg)
		}, c.lowK, highestK, hJKg, guessK)
}

// GammaIdeal gives the ratio cp/cv of the gas at tK [K] and vanishing pressure.
func (c *Cubic) GammaIdeal(tK float64) float64 { return 1 + 1/c.ideal.cv(tK) }
