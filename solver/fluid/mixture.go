package fluid

import (
	"fmt"
	"math"
	"sort"
	"strings"
	"sync"
)

// Mixture is a composition of GERG-2008 components, or one substance under a
// multiparameter equation of its own, with everything that depends on composition
// alone worked out. It never changes and is safe for concurrent use.
type Mixture struct {
	parts     []part  // components present, in GERG order
	molarMass float64 // kg/mol
	reducing
	gasR      float64         // gas constant of the equation [J/(mol K)]
	criticalK float64         // of a pure fluid
	reach     *reach          // where the equation holds
	own       *multiparameter // nil under GERG-2008
	ideal     idealGas
	terms     merged
	trans     transport
	shares    func() *shares // made on first use, and so are
	dews      func() *Dews
	tables    func() *Table
}

// part is one component present: its index and its mole fraction, above 0.
type part struct {
	i int
	x float64
}

// reducing holds the reducing density [mol/m3] and temperature [K].
type reducing struct{ rhoR, tR float64 }

// gergNames are the canonical names of the components of GERG-2008, sorted.
func gergNames() []string {
	var names []string
	for i := range components {
		names = append(names, components[i].name)
	}
	sort.Strings(names)
	return names
}

// covered says whether GERG-2008 covers the component of the canonical name.
func covered(name string) bool {
	i, ok := substanceByName()[name]
	return ok && i < componentCount
}

// New makes a mixture of the given mole fractions of components of GERG-2008. Each must be from 0 to 1 and
// they must sum to 1 within 1e-9 (what is left is scaled away). Components with a
// fraction of 0 are left out.
func New(moleFractions map[string]float64) (*Mixture, error) {
	names, fractions, err := checkFractions(moleFractions)
	if err != nil {
		return nil, err
	}
	var fraction [componentCount]float64
	for k, name := range names {
		if !covered(name) {
			return nil, fmt.Errorf("GERG-2008 does not cover %s; it covers %s", Spoken(name), strings.Join(gergNames(), ", "))
		}
		fraction[substanceByName()[name]] = fractions[k]
	}
	return ofFractions(&fraction), nil
}

// ofFractions makes the mixture of fractions by index, scaled to sum to 1.
func ofFractions(fraction *[componentCount]float64) *Mixture {
	sum := 0.0
	for _, x := range fraction {
		sum += x
	}
	m := &Mixture{}
	for i, x := range fraction {
		if x > 0 {
			m.parts = append(m.parts, part{i, x})
		}
	}
	for _, q := range m.parts {
		m.molarMass += q.x * components[q.i].molarMass
	}
	m.reducing = reduce(m.parts)
	m.gasR, m.criticalK, m.reach = gasConstant, m.tR, &gergReach
	m.ideal = mixIdeal(m.parts)
	m.terms = mergeTerms(m.parts)
	m.trans = mixTransport(m.parts)
	m.shares = sync.OnceValue(func() *shares { return newShares(m) })
	m.dews = sync.OnceValue(func() *Dews { return newDews(m) })
	m.tables = sync.OnceValue(func() *Table { return newTable(m) })
	return m
}

// Like makes a mixture with other mole fractions of the same components, in the
// order of Fractions; it leaves out components whose fraction is 0. Errors as for New.
func (m *Mixture) Like(x []float64) (Composed, error) {
	order := m.nameOrder()
	if len(x) != len(order) {
		return nil, fmt.Errorf("%d mole fractions for %d components", len(x), len(order))
	}
	if m.own != nil {
		if _, _, err := checkFractions(map[string]float64{substances[m.parts[0].i].name: x[0]}); err != nil {
			return nil, err
		}
		return m, nil
	}
	fractions := make(map[string]float64, len(x))
	for k, at := range order {
		fractions[components[m.parts[at].i].name] = x[k]
	}
	like, err := New(fractions)
	if err != nil {
		return nil, err
	}
	return like, nil
}

// MolarMass gives the molar mass [kg/mol].
func (m *Mixture) MolarMass() float64 { return m.molarMass }

// Fractions gives the components present, sorted by name, and their mole
// fractions in the same order.
func (m *Mixture) Fractions() (names []string, x []float64) {
	for _, k := range m.nameOrder() {
		names = append(names, substances[m.parts[k].i].name)
		x = append(x, m.parts[k].x)
	}
	return names, x
}

// pure gives the index of the component of a pure fluid, or -1.
func (m *Mixture) pure() int {
	if len(m.parts) == 1 {
		return m.parts[0].i
	}
	return -1
}

// label names the fluid for messages.
func (m *Mixture) label() string {
	if i := m.pure(); i >= 0 {
		return spoken(i)
	}
	largest := m.parts[0]
	for _, q := range m.parts {
		if q.x > largest.x {
			largest = q
		}
	}
	return "the mixture of mostly " + spoken(largest.i)
}

// pairTable gives the row of `pairs` of two components i < j.
func pairTable(i, j int) *pair {
	// Rows run (0,1), (0,2) ... (1,2) ...: row i starts after i full rows.
	return &pairs[i*(2*componentCount-i-1)/2+j-i-1]
}

// reduce evaluates the reducing functions of Kunz & Wagner 2012,
//
//	T_r     = sum x_i^2 Tc_i   + sum_{i<j} 2 betaT gammaT q(betaT) sqrt(Tc_i Tc_j)
//	1/rho_r = sum x_i^2/rhoc_i + sum_{i<j} 2 betav gammav q(betav) (rhoc_i^(-1/3) + rhoc_j^(-1/3))^3 / 8
//
// with q(beta) = x_i x_j (x_i + x_j)/(beta^2 x_i + x_j). A pure fluid gives its
// critical point exactly.
func reduce(parts []part) reducing {
	if len(parts) == 1 {
		c := &components[parts[0].i]
		return reducing{c.rhoC, c.tC}
	}
	var t, v float64
	for a, p := range parts {
		ci := &components[p.i]
		t += p.x * p.x * ci.tC
		v += p.x * p.x / ci.rhoC
		for _, q := range parts[a+1:] {
			cj := &components[q.i]
			b := pairTable(p.i, q.i)
			root := math.Cbrt(1/ci.rhoC) + math.Cbrt(1/cj.rhoC)
			t += 2 * b.betaT * b.gammaT * pairFactor(p.x, q.x, b.betaT) * math.Sqrt(ci.tC*cj.tC)
			v += 2 * b.betaRho * b.gammaRho * pairFactor(p.x, q.x, b.betaRho) * root * root * root / 8
		}
	}
	return reducing{1 / v, t}
}

func pairFactor(x, y, beta float64) float64 {
	return x * y * (x + y) / (beta*beta*x + y)
}
