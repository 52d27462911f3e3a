package compiler

import (
	"maps"
	"math"
	"slices"
	"strings"

	"tapline/lang"
	"tapline/solver/fluid"
)

// From the composition that a fluid block states to mole fractions.

// formulas are other ways in which the trade writes components.
var formulas = map[string]string{
	"CH4": "methane", "C1": "methane", "N2": "nitrogen", "CO2": "carbon_dioxide", "C2H6": "ethane", "C2": "ethane",
	"C3H8": "propane", "C3": "propane", "IC4": "isobutane", "NC4": "n_butane", "C4H10": "n_butane", "BUTANE": "n_butane",
	"IC5": "isopentane", "NC5": "n_pentane", "C5H12": "n_pentane", "PENTANE": "n_pentane", "C6H14": "n_hexane", "NC6": "n_hexane",
	"HEXANE": "n_hexane", "H2": "hydrogen", "O2": "oxygen", "CO": "carbon_monoxide", "H2O": "water", "H2S": "hydrogen_sulfide",
	"HE": "helium", "AR": "argon",
}

// A part is one component of a composition as stated.
type part struct {
	name  string
	share float64 // of the whole, of the dry gas on a dry basis
	rest  bool
}

// fractions gives the mole fractions of the components that a fluid block
// states. What is stated sums to one, or leaves a rest; the small differences
// that lang lets pass are scaled away.
func fractions(b *lang.Block, r *reader) (map[string]float64, bool) {
	kind, v := b.Composition()
	if v == nil {
		return nil, false
	}
	parts, ok := partsOf(v, r)
	if !ok {
		return nil, false
	}
	x := made(parts, b.Dry())
	if kind == "mass_percent" {
		moles(x)
	}
	return x, true
}

// partsOf reads the entries of a composition.
func partsOf(v *lang.Value, r *reader) (parts []part, ok bool) {
	ok = true
	for _, e := range v.Map {
		if !fluid.IsComponent(e.Key) {
			hint := "one of " + strings.Join(fluid.Components(), ", ")
			if name := formulas[strings.ToUpper(e.Key)]; name != "" {
				hint = "write " + name
			}
			r.errorf("unsupported-component", e.KeyRange, hint,
				e.Key+" is not among the names of components that the equation of state has in this version")
			ok = false
			continue
		}
		p := part{name: e.Key, rest: e.Value.Quantity == nil}
		if !p.rest {
			p.share = e.Value.Quantity.Nominal.SI
		}
		parts = append(parts, p)
	}
	return parts, ok
}

// made gives the shares of the whole, which sum to one. On a dry basis water
// takes its own share and the others what it leaves.
func made(parts []part, dry bool) map[string]float64 {
	x := map[string]float64{}
	water, sum, rest := 0.0, 0.0, ""
	for _, p := range parts {
		switch {
		case p.rest:
			rest = p.name
		case dry && p.name == lang.Water:
			water = p.share
		default:
			x[p.name] = p.share
			sum += p.share
		}
	}
	if rest != "" {
		x[rest], sum = math.Max(0, 1-sum), 1
	}
	for name := range x {
		x[name] *= (1 - water) / sum
	}
	if water > 0 {
		x[lang.Water] = water
	}
	return x
}

// moles turns mass fractions into mole fractions.
func moles(w map[string]float64) {
	sum := 0.0
	for name := range w {
		w[name] /= molarMass(name)
	}
	for _, name := range slices.Sorted(maps.Keys(w)) {
		sum += w[name]
	}
	for name := range w {
		w[name] /= sum
	}
}

// molarMass gives the molar mass [kg/mol] of a component that exists.
func molarMass(name string) float64 {
	m, err := fluid.New(map[string]float64{name: 1})
	if err != nil {
		panic(err) // the name was looked up
	}
	return m.MolarMass()
}
