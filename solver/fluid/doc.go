// Package fluid gives the properties of gases: density, enthalpy and the rest
// from the GERG-2008 equation of state; for components that it does not cover, from a
// substance's own multiparameter equation where it is alone, else from Peng-Robinson;
// viscosity and conductivity from published correlations. LiquidOf gives liquids: by
// GERG-2008 or a substance's own equation likewise, else by corresponding states; below its bubble pressure a liquid answers with its state there, and Stable
// says that it boils.
//
// Of gases: in comes a composition in mole fractions, a temperature [K] and an absolute
// pressure [Pa]; out come SI values. The answer is always that of the gas root.
// Where there is none, or where a pure substance is liquid or solid, the answer is
// a *StateError in words, never a number. The equation knows no phases of
// mixtures, so a mixture below its dew point can answer with a metastable gas:
// MaybeTwoPhase says quickly where to be careful, Dews (hydrocarbon and water dew
// points, traced and solved by equal fugacities) and Stable say what is the case.
//
// The equation: O. Kunz, W. Wagner, "The GERG-2008 Wide-Range Equation of State
// for Natural Gases and Other Mixtures", J. Chem. Eng. Data 57 (2012) 3032-3091;
// also ISO 20765-2. It holds for 60 to 700 K up to 70 MPa (refused outside); its
// normal range is 90 to 450 K up to 35 MPa. In the normal range the density of
// natural gases is known to 0.1 % (the authors' figure).
//
//	m, err := fluid.New(map[string]float64{"methane": 0.9, "nitrogen": 0.1})
//	s, err := m.At(293.15, 50e5)
//
// Make takes any of 65 components, written as the trade writes them (Name), and chooses
// the equation: GERG-2008 where it covers them all, the multiparameter equation of one
// substance (multiparameter.go), else Peng-Robinson (cubic.go), whose Basis says how
// much worse it is.
//
// A Mixture never changes and may be shared. An Evaluator belongs to one
// goroutine; it keeps what depends on temperature alone, so repeated calls at one
// temperature are cheaper. Both give the same bits.
package fluid

// The constants of GERG-2008. The ideal-gas heat capacities were fitted with an
// older gas constant, hence the ratio.
const (
	gasConstant   = 8.314472              // R [J/(mol K)]
	idealRatio    = 8.31451 / gasConstant // R*/R
	referenceK    = 298.15                // ideal-gas h = s = 0 here
	referencePa   = 101325.0              // ideal-gas s = 0 here
	lowestK       = 60.0
	highestK      = 700.0
	highestPa     = 70e6
	normalLowK    = 90.0
	normalHighK   = 450.0
	normalHighPa  = 35e6
	sumTolerance  = 1e-9 // mole fractions must sum to 1 this well
	celsiusOffset = 273.15
)
