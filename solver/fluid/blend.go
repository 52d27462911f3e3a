package fluid

import (
	"fmt"
	"math"
)

// Blend is what streams of several fluids make together: moles [mol, or mol/s] of
// each of the parts. Components add mole by mole, whatever they came in with.
// Parts of no moles are left out, and where all that is left is one fluid, that
// fluid itself is the answer.
//
// Mixtures blend into a Mixture, and with gases under Peng-Robinson into one of those;
// liquids blend into a liquid. Ideal gases blend into an ideal gas: molar mass
// and molar heat capacity are the mean by moles, which is exact, and viscosity
// follows Wilke (transport.go). Unlike kinds do not blend; that, and moles that are
// no amounts, is the error.
func Blend(parts []Fluid, moles []float64) (Fluid, error) {
	if len(parts) != len(moles) {
		return nil, fmt.Errorf("%d fluids with %d amounts do not make a blend", len(parts), len(moles))
	}
	sum := 0.0
	for i, n := range moles {
		if !(n >= 0) || math.IsInf(n, 1) || n > 0 && parts[i] == nil {
			return nil, fmt.Errorf("%g mol of fluid %d is no amount", n, i)
		}
		sum += n
	}
	if !positive(sum) {
		return nil, fmt.Errorf("a blend of %g mol has no composition", sum)
	}
	var only Fluid
	several := false
	for i, f := range parts {
		if moles[i] == 0 {
			continue
		}
		several = several || only != nil && only != f
		only = f
	}
	if !several {
		return only, nil
	}
	switch f := only.(type) {
	case *IdealGas:
		return blendIdeal(parts, moles, sum)
	case Composed:
		for i := range parts {
			if m, mixture := parts[i].(*Mixture); moles[i] > 0 && (!mixture || m.own != nil) {
				return blendByName(parts, moles, sum, f.Basis().Phase)
			}
		}
		return blendMixtures(parts, moles, sum)
	}
	return nil, fmt.Errorf("fluids of the kind %T do not blend", only)
}

// blendByName makes a liquid of liquids, or a gas of gases under several equations.
// The error may be that they do not mix.
func blendByName(parts []Fluid, moles []float64, sum float64, phase Phase) (Fluid, error) {
	of := map[string]float64{}
	for i, f := range parts {
		if moles[i] == 0 {
			continue
		}
		c, ok := f.(Composed)
		if !ok || c.Basis().Phase != phase {
			return nil, unlike(f, parts[0])
		}
		names, x := c.Fractions()
		for k, name := range names {
			of[name] += moles[i] / sum * x[k]
		}
	}
	if phase == Liquid {
		return LiquidOf(of)
	}
	return Make(of, equationCubic)
}

func unlike(a, b Fluid) error {
	return fmt.Errorf("fluids of unlike kinds (%T and %T) do not blend", a, b)
}

func blendMixtures(parts []Fluid, moles []float64, sum float64) (Fluid, error) {
	var fraction [componentCount]float64
	for i, f := range parts {
		if moles[i] == 0 {
			continue
		}
		m, ok := f.(*Mixture)
		if !ok {
			return nil, unlike(m, f)
		}
		for _, q := range m.parts {
			fraction[q.i] += moles[i] / sum * q.x
		}
	}
	return ofFractions(&fraction), nil
}

func blendIdeal(parts []Fluid, moles []float64, sum float64) (Fluid, error) {
	var gases []*IdealGas
	var x []float64
	molarMass, cp := 0.0, 0.0 // cp over R
	for i, f := range parts {
		if moles[i] == 0 {
			continue
		}
		g, ok := f.(*IdealGas)
		if !ok {
			return nil, unlike(g, f)
		}
		share := moles[i] / sum
		gases, x = append(gases, g), append(x, share)
		molarMass += share * g.molarMass
		cp += share * g.gamma / (g.gamma - 1)
	}
	viscosity := 0.0
	for i, a := range gases {
		weight := 0.0
		for j, b := range gases {
			root := 1 + math.Sqrt(a.viscosity/b.viscosity*math.Sqrt(b.molarMass/a.molarMass))
			weight += x[j] * root * root / math.Sqrt(8*(1+a.molarMass/b.molarMass))
		}
		viscosity += x[i] * a.viscosity / weight
	}
	return Ideal(molarMass, cp/(cp-1), viscosity), nil
}
