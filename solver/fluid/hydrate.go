package fluid

import "math"

// HydrateK gives the temperature [K] at which hydrates of a natural gas begin to be
// stable at pPa [Pa, absolute] where water stands with it, by its density relative to
// air alone:
//
//	t[degF] = -238.24469 + 78.99667 log p - 5.352544 (log p)^2 + 349.473877 g
//	          - 150.854675 g^2 - 27.604065 g log p        p in psia, g = M/M(air)
//
// M. Motiee, Hydrocarbon Processing 70 (1991) July, 98-99, fitted to the gravity chart
// of D. L. Katz (constants from memory). For methane it is 1 to 3 K above measurements
// (hydrate_test.go), so it errs on the safe side there. It reports false where the
// chart does not reach: relative density 0.55 to 1, 0 to 25 degC, gases that are not
// nine tenths hydrocarbons.
func HydrateK(f Composed, pPa float64) (tK float64, ok bool) {
	const (
		airKgMol   = 28.9647e-3
		pascalPsi  = 6894.757
		leastShare = 0.9
	)
	names, x := f.Fractions()
	var dry, hydrocarbons, mass float64
	for k, name := range names {
		if name == components[water].name {
			continue
		}
		i, known := substanceByName()[name]
		if !known {
			return 0, false
		}
		dry += x[k]
		mass += x[k] * substances[i].molarMass
		if i == methane || i >= ethane && i <= nDecane {
			hydrocarbons += x[k]
		}
	}
	g := mass / dry / airKgMol
	if !(hydrocarbons >= leastShare*dry && g >= 0.55 && g <= 1 && pPa > 0) {
		return 0, false
	}
	l := math.Log10(pPa / pascalPsi)
	degF := -238.24469 + 78.99667*l - 5.352544*l*l + 349.473877*g - 150.854675*g*g - 27.604065*g*l
	tK = (degF-32)/1.8 + celsiusOffset
	return tK, tK >= celsiusOffset && tK <= celsiusOffset+25
}
