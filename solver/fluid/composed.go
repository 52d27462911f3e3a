package fluid

// Phase is one of the two fluid phases.
type Phase uint8

const (
	Gas Phase = iota
	Liquid
)

func (p Phase) String() string { return [...]string{"gas", "liquid"}[p] }

// A Composed is a Fluid of named components: what the sources of a network hold,
// and what blends of them are made of. Enthalpies of all equations are zero for
// each pure ideal gas at 298.15 K, so that streams of unlike equations mix.
type Composed interface {
	Fluid
	// Fractions gives the components present, sorted by name, and their mole
	// fractions in the same order.
	Fractions() (names []string, x []float64)
	// Basis says which equation stands behind the numbers and how good it is.
	Basis() Basis
	// Like makes a fluid of the same components, equation and phase with other
	// mole fractions, in the order of Fractions; a fraction may be 0.
	Like(x []float64) (Composed, error)
	// LnPhi gives ln of the fugacity coefficient of every component, in the order
	// of Fractions, on the root of the phase given. The error is a *StateError where
	// there is no such root.
	LnPhi(tK, pPa float64, ph Phase) ([]float64, error)
	// Stable is nil where the fluid is wholly of its own phase at tK [K] and pPa
	// [Pa, absolute], else a *StateError that says in words what it is instead.
	Stable(tK, pPa float64) error
}

// Basis is what a fluid's numbers rest on.
type Basis struct {
	Equation     string // "GERG-2008", "Peng-Robinson"
	Phase        Phase
	DensityError float64 // expected, relative
	Note         string  // what a user should know besides; may be empty
}
