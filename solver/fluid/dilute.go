package fluid

import (
	"math"
	"sync"
)

// Viscosity and thermal conductivity of the pure substances at vanishing density.
//
// table_gasviscosity.go says which method each substance has. The reference
// correlations it calls a substance's own are
//
//	nitrogen, oxygen, argon  E. W. Lemmon, R. T Jacobsen, Int. J. Thermophys. 25 (2004) 21-69, eqs. 2 and 3
//	carbon dioxide           A. Fenghour, W. A. Wakeham, V. Vesovic, J. Phys. Chem. Ref. Data 27 (1998) 31-44, eqs. 3 and 4
//	water                    IAPWS R12-08, eq. 11
//	hydrogen                 C. D. Muzny, M. L. Huber, A. F. Kazakov, J. Chem. Eng. Data 58 (2013) 969-979
//	propane                  E. Vogel et al., J. Phys. Chem. Ref. Data 27 (1998) 947-970
//	n-butane                 E. Vogel, C. Kuechenmeister, E. Bich, High Temp. High Press. 31 (1999) 173-186
//	ammonia                  A. Fenghour et al., J. Phys. Chem. Ref. Data 24 (1995) 1649-1667
//	R134a                    M. L. Huber, A. Laesecke, R. A. Perkins, Ind. Eng. Chem. Res. 42 (2003) 3163-3178
//	hydrogen sulfide         S. E. Quinones-Cisneros et al., J. Chem. Eng. Data 57 (2012) 3014-3018
//	sulfur hexafluoride      S. E. Quinones-Cisneros, M. L. Huber, U. K. Deiters, J. Phys. Chem. Ref. Data 41 (2012) 023102
//
// Below the range of a correlation viscosity runs on in proportion to temperature
// and conductivity to its power 1.8; above, both to the power 0.7 and 1.3. So both
// stay positive and rise with temperature; the error grows with the distance.

// molecule describes a correlation of the form
// factor sqrt(M T) / (sigma^2 exp(sum a_i (ln T*)^i)) with T* = T/eps.
type molecule struct {
	factor  float64 // Pa s with M in g/mol, sigma in nm
	sigmaNm float64
	epsK    float64
	a       []float64
}

func (m *molecule) viscosity(i int, tK float64) float64 {
	l := math.Log(tK / m.epsK)
	sum := 0.0
	for k := len(m.a) - 1; k >= 0; k-- {
		sum = sum*l + m.a[k]
	}
	return m.factor * math.Sqrt(1e3*substances[i].molarMass*tK) / (m.sigmaNm * m.sigmaNm * math.Exp(sum))
}

var (
	lemmonA = []float64{0.431, -0.4623, 0.08406, 0.005341, -0.00331}

	// fitted are the correlations of that form. Fenghour's for carbon dioxide has
	// its molar mass and diameter inside the leading constant.
	fitted = [substanceCount]*molecule{
		nitrogen:      {0.0266958e-6, 0.3656, 98.94, lemmonA},
		oxygen:        {0.0266958e-6, 0.3428, 118.5, lemmonA},
		argon:         {0.0266958e-6, 0.3350, 143.2, lemmonA},
		hydrogen:      {0.021357e-6, 0.297, 30.41, []float64{0.209630, -0.455274, 0.143602, -0.0335325, 0.00276981}},
		propane:       {0.021357e-6, 0.49748, 263.88, []float64{0.25104574, -0.47271238, 0, 0.060836515}},
		nButane:       {0.021357e-6, 0.57335, 280.51, []float64{0.17067154, -0.48879666, 0.039038856}},
		ammonia:       {2.1357e-6, 0.2957, 386, []float64{4.9931822, -0.61122364, 0, 0.18535124, -0.11160946}},
		r134a:         {0.021357e-6, 0.468932, 299.363, []float64{0.355404, -0.464337, 0.0257353}},
		carbonDioxide: {1.00697e-6 / math.Sqrt(44.0095), 1, 251.196, []float64{0.235156, -0.491266, 5.211155e-2, 5.347906e-2, -1.537102e-2}},
	}

	sulfideA  = [6]float64{0.53242, 0.93715, -0.69339, 1.16432, -0.84306, 0.20534}
	fluorideA = [5]float64{1.18561e-4, -8.948633138e-5, 2.332561400e-5, -2.191287993e-6, 7.698874760e-8}
	ownDilute = [substanceCount]func(tK float64) float64{
		water: func(tK float64) float64 { return steam(100e-6, waterH, tK) },
		hydrogenSulfide: func(tK float64) float64 {
			sum := 0.0
			for k := len(sulfideA) - 1; k >= 0; k-- {
				sum = sum*276/tK + sulfideA[k]
			}
			return 0.87721e-6 * math.Sqrt(tK) / sum
		},
		sulfurHexafluoride: func(tK float64) float64 {
			q := math.Sqrt(math.Sqrt(tK))
			sum := 0.0
			for k := len(fluorideA) - 1; k >= 0; k-- {
				sum = sum*q + fluorideA[k]
			}
			return sum
		},
	}
)

// diluteViscosity gives the viscosity [Pa s] of substance i at vanishing density,
// and what of its error comes from being outside the correlation's range.
func diluteViscosity(i int, tK float64) (paS, extra float64) {
	c := &gasViscosities[i]
	readK, extra := c.within(tK)
	switch c.form {
	case ownFormula:
		if m := fitted[i]; m != nil {
			paS = m.viscosity(i, readK)
		} else {
			paS = ownDilute[i](readK)
		}
	case chung:
		paS = diluteChung(i, readK)
	case lennardJones:
		paS = chapmanEnskog(i, readK, c.c[0], c.c[1])
	default:
		paS = c.at(readK)
	}
	return beyond(paS, tK/readK, 1, 0.7), extra
}

// beyond carries a value on outside its range, whose end is at ratio 1.
func beyond(v, ratio, below, above float64) float64 {
	switch {
	case ratio < 1:
		return v * math.Pow(ratio, below)
	case ratio > 1:
		return v * math.Pow(ratio, above)
	}
	return v
}

// collision22 is the reduced collision integral of viscosity after P. D. Neufeld et
// al., J. Chem. Phys. 57 (1972) 1100.
func collision22(t float64) float64 {
	return 1.16145*math.Pow(t, -0.14874) + 0.52487*math.Exp(-0.77320*t) + 2.16178*math.Exp(-2.43787*t)
}

// chapmanEnskog takes sigma in angstrom and eps over Boltzmann's constant in K.
func chapmanEnskog(i int, tK, sigmaA, epsK float64) float64 {
	return 2.6693e-6 * math.Sqrt(1e3*substances[i].molarMass*tK) / (sigmaA * sigmaA * collision22(tK/epsK))
}

// diluteChung is Chung et al. 1988. None of the substances left to it associates.
func diluteChung(i int, tK float64) float64 {
	s := &substances[i]
	vC := 1e6 * s.vC // cm3/mol
	mu := 131.3 * s.dipoleD / math.Sqrt(vC*s.tC)
	f := 1 - 0.2756*s.acentric + 0.059035*mu*mu*mu*mu
	cbrt := math.Cbrt(vC)
	return 4.0785e-6 * f * math.Sqrt(1e3*s.molarMass*tK) / (cbrt * cbrt * collision22(1.2593*tK/s.tC))
}

// diluteConductivity gives the thermal conductivity [W/(m K)] of substance i at
// vanishing density and the extra error outside its range. Water: IAPWS R15-11.
// Sulfur hexafluoride: M. J. Assael et al., J. Phys. Chem. Ref. Data 41 (2012) 023104.
// Monatomic gases: 15/4 R/M times viscosity, which theory has exact to 0.5 % (S.
// Chapman, T. G. Cowling, The Mathematical Theory of Non-uniform Gases). Hydrogen: the
// modified Eucken relation with the viscosity and the heat capacity of
// GERG-2008 (B. E. Poling, J. M. Prausnitz, J. P. O'Connell, The Properties of Gases
// and Liquids, 5th ed., chapter 10).
func diluteConductivity(i int, tK, viscosityPaS float64) (wMK, extra float64) {
	c := &gasConductivities[i]
	readK, extra := c.within(tK)
	unit := gasConstant * viscosityPaS / substances[i].molarMass
	switch {
	case c.form == monatomic:
		return 3.75 * unit, extra
	case c.form != ownFormula:
		wMK = c.at(readK)
	case i == water:
		wMK = steam(1e-3, waterL, readK)
	case i == sulfurHexafluoride:
		wMK = (1461.86 + readK*(-18.5394+readK*(0.0777891+readK*2.41059e-5))) / (29661.7 + readK*(505.67+readK))
	case i == hydrogen:
		return unit * (1.32*hydrogenIdeal().cv(tK) + 1.77), extra
	}
	return beyond(wMK, tK/readK, 1.8, 1.3), extra
}

var hydrogenIdeal = sync.OnceValue(func() *idealGas {
	g := mixIdeal([]part{{hydrogen, 1}})
	return &g
})
