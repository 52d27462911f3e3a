package fluid

import "sort"

// A Component is one of the substances that fluids are made of.
type Component struct {
	Name, Formula string
	MolarMass     float64 // kg/mol
	GERG          bool    // GERG-2008 covers it
	// Where it has a multiparameter equation of its own: the temperatures [K] between
	// which it holds; else 0.
	LowK, HighK float64
}

// About gives the facts of a component by its canonical name.
func About(name string) (Component, bool) {
	i, ok := substanceByName()[name]
	if !ok {
		return Component{}, false
	}
	s := &substances[i]
	c := Component{Name: s.name, Formula: s.formula, MolarMass: s.molarMass, GERG: i < componentCount}
	if q := ownEquation(i); q != nil {
		c.LowK, c.HighK = max(q.lowK, lowestK), min(q.highK, highestK)
	}
	return c, true
}

// Isomers gives the canonical names of the components that share a formula, which
// therefore names none of them; nil where it is no such formula.
func Isomers(formula string) []string {
	var names []string
	for i := range substances {
		if foldName(substances[i].formula) == foldName(formula) {
			names = append(names, substances[i].name)
		}
	}
	if len(names) < 2 {
		return nil
	}
	sort.Strings(names)
	return names
}
