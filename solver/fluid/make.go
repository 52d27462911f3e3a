package fluid

import (
	"fmt"
	"sort"
	"strings"
)

// The names of equations of state that Make takes, besides "auto".
const (
	equationGERG  = "gerg-2008"
	equationOwn   = "multiparameter"
	equationCubic = "peng-robinson"
)

// Make makes a gas of the given mole fractions, named in any way that Name resolves,
// under the equation of state "auto", "gerg-2008", "multiparameter" or
// "peng-robinson". Auto takes GERG-2008 where it covers all components, a substance's
// own multiparameter equation where it is alone and has one, and Peng-Robinson
// elsewhere. Fractions as for New. Errors say what is wrong and what may be written
// instead.
func Make(x map[string]float64, equation string) (Composed, error) {
	names := make([]string, 0, len(x))
	for name := range x {
		names = append(names, name)
	}
	sort.Strings(names)
	fractions := make(map[string]float64, len(x))
	first := map[string]string{}
	whole := true // GERG-2008 covers all
	for _, name := range names {
		canonical, ok := Name(name)
		if !ok {
			return nil, fmt.Errorf("unknown component %q; write one of %s", name, strings.Join(Components(), ", "))
		}
		if before, twice := first[canonical]; twice {
			return nil, fmt.Errorf("%q and %q are both %s; write one of them, with the sum", before, name, Spoken(canonical))
		}
		first[canonical] = name
		fractions[canonical] = x[name]
		if !covered(canonical) && x[name] != 0 {
			whole = false
		}
	}
	if equation == equationOwn || equation == "auto" && !whole {
		names, x, err := checkFractions(fractions)
		if err != nil {
			return nil, err
		}
		m, err := multiparameterOf(names, x)
		if err == nil {
			return m, nil
		} else if equation == equationOwn {
			return nil, err
		}
	}
	switch {
	case equation == equationCubic, equation == "auto" && !whole:
		c, err := NewCubic(fractions)
		if err != nil {
			return nil, err // a nil *Cubic must not become a Composed
		}
		return c, nil
	case equation == equationGERG, equation == "auto":
		if !whole {
			var others []string
			for _, name := range names {
				canonical, _ := Name(name)
				if !covered(canonical) {
					others = append(others, Spoken(canonical))
				}
			}
			return nil, fmt.Errorf("GERG-2008 does not cover %s; write \"auto\" or %q", strings.Join(others, ", "), equationCubic)
		}
		m, err := New(fractions)
		if err != nil {
			return nil, err
		}
		return m, nil
	}
	return nil, fmt.Errorf("unknown equation of state %q; write \"auto\", %q, %q or %q", equation, equationGERG, equationOwn, equationCubic)
}
