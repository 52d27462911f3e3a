package fluid

import "math"

// Viscosity of the pure components at vanishing density.
//
// Where a published correlation for the substance is at hand it is used; the rest
// follow Chung's generalised one, which is Chapman and Enskog's theory with
// parameters from the critical point:
//
//	nitrogen, oxygen, argon  E. W. Lemmon, R. T Jacobsen, Int. J. Thermophys. 25 (2004) 21-69, eqs. 2 and 3
//	carbon dioxide           A. Fenghour, W. A. Wakeham, V. Vesovic, J. Phys. Chem. Ref. Data 27 (1998) 31-44, eqs. 3 and 4
//	water                    IAPWS R12-08, eq. 11
//	hydrogen                 C. D. Muzny, M. L. Huber, A. F. Kazakov, J. Chem. Eng. Data 58 (2013) 969-979
//	propane                  E. Vogel et al., J. Phys. Chem. Ref. Data 27 (1998) 947-970
//	n-butane                 E. Vogel, C. Kuechenmeister, E. Bich, High Temp. High Press. 31 (1999) 173-186
//	helium, carbon monoxide  R. A. Svehla, NASA TR R-132 (1962): Lennard-Jones parameters;
//	                         P. D. Neufeld et al., J. Chem. Phys. 57 (1972) 1100: collision integral
//	others                   T. H. Chung et al., Ind. Eng. Chem. Res. 27 (1988) 671-679
//
// The constants were written down from memory and then held against
// testdata/fluid/pure-fluid-check.csv, which settles all but those of carbon
// monoxide; for that the handbook value at 300 K stands.

// collision22 is the reduced collision integral of viscosity after Neufeld.
func collision22(t float64) float64 {
	return 1.16145*math.Pow(t, -0.14874) + 0.52487*math.Exp(-0.77320*t) + 2.16178*math.Exp(-2.43787*t)
}

// molecule describes a correlation of the form
// 26.69 sqrt(M T) / (sigma^2 exp(sum a_i (ln T*)^i)) with T* = T/eps.
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
	return m.factor * math.Sqrt(1e3*components[i].molarMass*tK) / (m.sigmaNm * m.sigmaNm * math.Exp(sum))
}

var (
	lemmonA = []float64{0.431, -0.4623, 0.08406, 0.005341, -0.00331}

	// fitted are the correlations of that form.
	fitted = [componentCount]*molecule{
		nitrogen: {0.0266958e-6, 0.3656, 98.94, lemmonA},
		oxygen:   {0.0266958e-6, 0.3428, 118.5, lemmonA},
		argon:    {0.0266958e-6, 0.3350, 143.2, lemmonA},
		hydrogen: {0.021357e-6, 0.297, 30.41, []float64{0.209630, -0.455274, 0.143602, -0.0335325, 0.00276981}},
		propane:  {0.021357e-6, 0.49748, 263.88, []float64{0.25104574, -0.47271238, 0, 0.060836515}},
		nButane:  {0.021357e-6, 0.57335, 280.51, []float64{0.17067154, -0.48879666, 0.039038856}},
	}

	fenghourA = []float64{0.235156, -0.491266, 5.211155e-2, 5.347906e-2, -1.537102e-2}
	waterH    = []float64{1.67752, 2.20462, 0.6366564, -0.241605}
)

// diluteViscosity gives the viscosity [Pa s] of component i at vanishing density.
func diluteViscosity(i int, tK float64) float64 {
	if m := fitted[i]; m != nil {
		return m.viscosity(i, tK)
	}
	switch i {
	case carbonDioxide:
		return diluteCarbonDioxide(tK)
	case water:
		return steam(100e-6, waterH, tK)
	case helium:
		return chapmanEnskog(i, tK, 2.551, 10.22)
	case carbonMonoxide:
		return chapmanEnskog(i, tK, 3.690, 91.7)
	}
	return diluteChung(i, tK)
}

func diluteCarbonDioxide(tK float64) float64 {
	l := math.Log(tK / 251.196)
	sum := 0.0
	for k := len(fenghourA) - 1; k >= 0; k-- {
		sum = sum*l + fenghourA[k]
	}
	return 1.00697e-6 * math.Sqrt(tK) / math.Exp(sum)
}

// steam evaluates the form both IAPWS correlations have: unit sqrt(T/Tc) over a
// polynomial in Tc/T. Far below freezing it breaks down; there the value runs on in
// proportion to temperature, for the traces of vapour that are left.
func steam(unit float64, a []float64, tK float64) float64 {
	const lowK = 250
	t := max(tK, lowK) / 647.096
	sum := 0.0
	for k := len(a) - 1; k >= 0; k-- {
		sum = sum/t + a[k]
	}
	return unit * math.Sqrt(t) / sum * min(1, tK/lowK)
}

// chapmanEnskog takes sigma in angstrom and eps over Boltzmann's constant in K.
func chapmanEnskog(i int, tK, sigmaA, epsK float64) float64 {
	return 2.6693e-6 * math.Sqrt(1e3*components[i].molarMass*tK) / (sigmaA * sigmaA * collision22(tK/epsK))
}

// diluteChung is Chung et al. 1988. None of the components left to it
// associates.
func diluteChung(i int, tK float64) float64 {
	c, p := &components[i], &polar[i]
	vC := 1e6 / c.rhoC // cm3/mol
	mu := 131.3 * p.dipoleD / math.Sqrt(vC*c.tC)
	f := 1 - 0.2756*p.acentric + 0.059035*mu*mu*mu*mu
	cbrt := math.Cbrt(vC)
	return 4.0785e-6 * f * math.Sqrt(1e3*c.molarMass*tK) / (cbrt * cbrt * collision22(1.2593*tK/c.tC))
}

// polar holds what the transport correlations need besides GERG-2008's constants.
// Acentric factors and critical pressures are those of the reference equations of
// state in CoolProp 8.0 (testdata/fluid/README.md); dipole moments are handbook
// values from memory, to 0.05 debye.
var polar = [componentCount]struct{ pCPa, acentric, dipoleD float64 }{
	methane:         {4.5992005e6, 0.01142, 0},
	nitrogen:        {3.3958004e6, 0.0372, 0},
	carbonDioxide:   {7.3772984e6, 0.22394, 0},
	ethane:          {4.8722e6, 0.099, 0},
	propane:         {4.2511653e6, 0.1521, 0.084},
	isobutane:       {3.629e6, 0.18353178, 0.132},
	nButane:         {3.796e6, 0.20081009, 0},
	isopentane:      {3.3782172e6, 0.2274, 0.1},
	nPentane:        {3.367519e6, 0.25103191, 0},
	nHexane:         {3.0441153e6, 0.30031893, 0},
	nHeptane:        {2.7738243e6, 0.349, 0},
	nOctane:         {2.4835912e6, 0.3975283, 0},
	nNonane:         {2.281911e6, 0.4433, 0},
	nDecane:         {2.1013367e6, 0.4884, 0},
	hydrogen:        {1.2963576e6, -0.219, 0},
	oxygen:          {5.0464105e6, 0.0222, 0},
	carbonMonoxide:  {3.4981947e6, 0.0497, 0.112},
	water:           {22.064e6, 0.34429208, 1.855},
	hydrogenSulfide: {8.9988716e6, 0.1005, 0.97},
	helium:          {0.22832279e6, -0.38353993, 0},
	argon:           {4.8630005e6, -0.00219, 0},
}
