package fluid

import (
	"math"
	"sync"
)

// The Peng-Robinson equation,
//
//	p = R T/(v - b) - a/(v^2 + 2 b v - b^2)
//	a_i = 0.45724 (R Tc)^2/pc alpha,  b_i = 0.07780 R Tc/pc
//	alpha = (1 + kappa (1 - sqrt(T/Tc)))^2,  kappa = 0.37464 + 1.54226 w - 0.26992 w^2
//	a = sum x_i x_j (1 - k_ij) sqrt(a_i a_j),  b = sum x_i b_i
//
// D.-Y. Peng, D. B. Robinson, Ind. Eng. Chem. Fundam. 15 (1976) 59-64. With
// sqrt(a_i) = f_i - g_i sqrt(T), the mixture's a is A0 - 2 A1 sqrt(T) + A2 T with
// constants that depend on composition alone, so that a state costs the same
// however many components there are.
//
// Helium has a negative kappa, with which its attraction would rise with
// temperature and its compressibility be 3 % off at 300 K, 10 MPa; its kappa is
// taken as 0.

const (
	cubicR     = 8.31446261815324 // R [J/(mol K)], exact in the SI
	omegaA     = 0.457235528921
	omegaB     = 0.0777960739039
	criticalVB = 3.951373035591 // critical volume over b
)

// attraction is what the equation needs of one component: sqrt(a_i) = f - g sqrt(T)
// [sqrt(J m3)/mol] and b_i [m3/mol].
type attraction struct{ f, g, b float64 }

func newAttraction(tC, pC, kappa float64) attraction {
	root := math.Sqrt(omegaA*cubicR*cubicR/pC) * tC
	return attraction{
		f: root * (1 + kappa),
		g: root * kappa / math.Sqrt(tC),
		b: omegaB * cubicR * tC / pC,
	}
}

func kappaOf(acentric float64) float64 {
	return 0.37464 + 1.54226*acentric - 0.26992*acentric*acentric
}

// cubicKind is what all compositions of the same components share.
type cubicKind struct {
	names  []string
	index  []int // of each name into `substances`
	parts  []attraction
	weight []float64 // 1 - k_ij, row by row
}

// newCubicKind takes substances sorted by name.
func newCubicKind(index []int) *cubicKind {
	n := len(index)
	k := &cubicKind{index: index, weight: make([]float64, n*n)}
	for i, a := range index {
		s := &substances[a]
		k.names = append(k.names, s.name)
		k.parts = append(k.parts, newAttraction(s.tC, s.pC, max(0, kappaOf(s.acentric))))
		for j, b := range index {
			k.weight[i*n+j] = 1 - interactionOf()[pairKey(a, b)]
		}
	}
	return k
}

// Cubic is a gas of named components under the Peng-Robinson equation, with the
// constants of 65 substances and published interaction parameters. It never changes
// and is safe for concurrent use. Its states are those of the gas root.
//
// Range: from 60 K, or where the ideal-gas heat capacities of its components begin
// if that is higher, to 700 K, and up to 70 MPa. Held against reference equations of
// state of single substances (multiparameter_test.go), density is good to 2.5 % up to a
// sixth of the critical density (State.InNormalRange), of polar substances to 3.5 .. 6 %,
// of methanol to 8.5 %; to 4 .. 9 % up to the critical pressure, and to 20 % beyond, worst
// near the critical temperature and above 400 bar, 30 % of methanol and water. Heat capacity comes out too low near saturation: by up to 15 %, and by a
// third for the associating methanol, water and ammonia. The second virial
// coefficient far below the critical temperature is too small, and so vapours cool too
// little by throttling: the Joule-Thomson coefficient of chlorine is up to 40 % too
// small, of o-xylene 60 %, of acetone 75 %, of methanol 90 %. So a single substance is
// better left to its own equation (multiparameter.go), where there is one.
type Cubic struct {
	kind       *cubicKind
	x          []float64
	molarMass  float64 // kg/mol
	a0, a1, a2 float64 // a = a0 - 2 a1 sqrt(T) + a2 T [J m3/mol2]
	b          float64 // [m3/mol]
	ideal      idealGas
	trans      transport
	dews       func() *Dews // made on first use, and so are
	tables     func() *Table
	lowK       float64
	only       int // the substance of a pure fluid, else -1
	dimer      int // where nitrogen dioxide stands in x, else -1
}

// NewCubic makes a gas of the given mole fractions, by the names of Components,
// under the Peng-Robinson equation. Fractions as for New.
func NewCubic(moleFractions map[string]float64) (*Cubic, error) {
	names, x, err := checkFractions(moleFractions)
	if err != nil {
		return nil, err
	}
	index := make([]int, len(names))
	for k, name := range names {
		index[k] = substanceByName()[name]
	}
	return newCubic(newCubicKind(index), x), nil
}

func newCubic(kind *cubicKind, x []float64) *Cubic {
	c := &Cubic{kind: kind, x: x, lowK: lowestK, only: -1, dimer: -1}
	c.a0, c.a1, c.a2, c.b = kind.mix(x)
	var parts []part
	for k, i := range kind.index {
		if x[k] == 0 {
			continue
		}
		parts = append(parts, part{i, x[k]})
		c.molarMass += x[k] * substances[i].molarMass
		if i >= componentCount {
			c.lowK = max(c.lowK, capacities[i-componentCount].lowK)
		}
		if i == nitrogenDioxide {
			c.dimer = k
		}
	}
	if len(parts) == 1 {
		c.only = parts[0].i
	}
	c.ideal = mixIdeal(parts)
	c.trans = mixTransport(parts)
	c.dews = sync.OnceValue(func() *Dews { return newDews(c) })
	c.tables = sync.OnceValue(func() *Table { return newTable(c) })
	return c
}

// mix sums the constants of a(T) and b.
func (k *cubicKind) mix(x []float64) (a0, a1, a2, b float64) {
	n := len(x)
	for i, p := range k.parts {
		if x[i] == 0 {
			continue
		}
		var f, g float64
		for j, q := range k.parts {
			w := x[j] * k.weight[i*n+j]
			f += w * q.f
			g += w * q.g
		}
		a0 += x[i] * p.f * f
		a1 += x[i] * p.f * g
		a2 += x[i] * p.g * g
		b += x[i] * p.b
	}
	return a0, a1, a2, b
}
