package compiler

import (
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"

	"tapline/lang"
	"tapline/lang/quantity"
	"tapline/solver/fluid"
)

// From a fluid block to a fluid: from the composition that it states to mole
// fractions, the water of its dew point on top, and the equation of state.

// A recipe is what a fluid block comes to in a case: all that its fluid depends on.
type recipe struct {
	x          map[string]float64 // mole fractions, of the dry gas where dewPa is not 0
	equation   string
	liquid     bool
	dewK       float64 // water dew point
	dewPa      float64 // at this pressure [Pa, absolute]; 0 where none is stated
	block      *lang.Block
	components *lang.Value
}

// recipeOf reads a fluid block; false where what it says is an error.
func recipeOf(b *lang.Block, r *reader) (recipe, bool) {
	x, ok := fractions(b, r)
	if !ok {
		return recipe{}, false
	}
	c := recipe{x: x, equation: text(b, "equation"), liquid: text(b, "phase") == "liquid", block: b}
	_, c.components = b.Composition()
	if b.Has("water_dew_point") {
		q := b.Get("water_dew_point").Quantity
		c.dewK, c.dewPa = q.Nominal.SI, q.At.PressurePa(r.site)
		if !(c.dewPa > 0) {
			return recipe{}, false // plausible says so
		}
	}
	return c, true
}

// key is the same for recipes of the same fluid.
func (c *recipe) key() string {
	var b strings.Builder
	fmt.Fprintf(&b, "%s,%t,%g,%g", c.equation, c.liquid, c.dewK, c.dewPa)
	for _, name := range slices.Sorted(maps.Keys(c.x)) {
		fmt.Fprintf(&b, ",%s=%g", name, c.x[name])
	}
	return b.String()
}

// fluid makes the fluid of a recipe; nil where that is an error.
func (c *recipe) fluid(r *reader) fluid.Composed {
	if c.liquid {
		return c.asLiquid(r)
	}
	x := c.x
	if c.dewPa > 0 {
		make := func(y float64) (fluid.Composed, error) { return fluid.Make(c.with(y), c.equation) }
		y, err := fluid.WaterFraction(make, c.dewK, c.dewPa)
		if err != nil {
			r.errorf("no-such-dew-point", c.block.Get("water_dew_point").Range, "", "the gas cannot have this water dew point: "+err.Error())
			return nil
		}
		x = c.with(y)
	}
	m, err := fluid.Make(x, c.equation)
	if err != nil {
		at := c.block.Get("equation")
		if at.Default {
			at = c.components
		}
		r.errorf("unsupported-composition", at.Range, "", err.Error())
		return nil
	}
	return m
}

// asLiquid makes the liquid of a recipe; nil where that is an error.
func (c *recipe) asLiquid(r *reader) fluid.Composed {
	if c.dewPa > 0 {
		r.errorf("no-such-dew-point", c.block.Get("water_dew_point").Range, "state the water among the components", "a liquid has no water dew point")
		return nil
	}
	if at := c.block.Get("equation"); !at.Default && c.equation != "auto" {
		r.errorf("unsupported-composition", at.Range, `leave equation out, or write "auto"`, "the equation of a liquid is not chosen: GERG-2008 where it covers all components, a single substance's own where it has one, corresponding states elsewhere")
		return nil
	}
	m, err := fluid.LiquidOf(c.x)
	if err != nil {
		r.errorf("unsupported-composition", c.components.Range, "", err.Error())
		return nil
	}
	return m
}

// with gives the mole fractions of the gas with the fraction y of water in it.
func (c *recipe) with(y float64) map[string]float64 {
	wet := map[string]float64{}
	for name, x := range c.x {
		wet[name] = x * (1 - y)
	}
	wet[lang.Water] = y
	return wet
}

// basisOf says what the properties of a fluid of some name rest on.
func basisOf(name string, m fluid.Composed) FluidBasis {
	b := m.Basis()
	return FluidBasis{Name: name, Equation: b.Equation, DensityError: b.DensityError, Note: b.Note, Plain: b.Equation == "GERG-2008" && b.Note == ""}
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
	parts := partsOf(v)
	x := made(parts, b.Dry())
	switch {
	case kind == "mass_percent":
		moles(x, func(name string) float64 {
			c, _ := fluid.About(name)
			return c.MolarMass
		})
	case kind == "volume_percent" && text(b, "phase") == "liquid":
		each := map[string]float64{}
		for _, name := range slices.Sorted(maps.Keys(x)) {
			if each[name] = liquidVolume(name); each[name] == 0 {
				r.errorf("unsupported-composition", v.Range, "state mole_percent or mass_percent",
					"volume per cent of a liquid are counted at 15 degC, where "+fluid.Spoken(name)+" is no liquid")
				return nil, false
			}
		}
		moles(x, func(name string) float64 { return each[name] })
	}
	return x, true
}

// partsOf reads the entries of a composition, whose names lang has looked up.
func partsOf(v *lang.Value) (parts []part) {
	for _, e := range v.Map {
		name, _ := fluid.Name(e.Key)
		p := part{name: name, rest: e.Value.Quantity == nil}
		if !p.rest {
			p.share = e.Value.Quantity.Nominal.SI
		}
		parts = append(parts, p)
	}
	return parts
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

// moles turns fractions by mass or volume into mole fractions, given what a mole of
// each component has of it.
func moles(w map[string]float64, each func(name string) float64) {
	sum := 0.0
	for name := range w {
		w[name] /= each(name)
	}
	for _, name := range slices.Sorted(maps.Keys(w)) {
		sum += w[name]
	}
	for name := range w {
		w[name] /= sum
	}
}

// liquidVolume gives the molar volume [m3/mol] of a component as a liquid at
// 15 degC and the standard atmosphere, or at its vapour pressure where that is
// higher (common practice); 0 where it is none.
func liquidVolume(name string) float64 {
	const tK = 288.15
	l, err := fluid.LiquidOf(map[string]float64{name: 1})
	if err != nil {
		return 0
	}
	pPa := quantity.StandardAtmospherePa(0)
	if boils, ok := l.(interface {
		LiquidAt(tK, pPa float64) (bubblePa, criticalPa, viscosityPaS float64, err error)
	}); ok {
		if bubblePa, _, _, _ := boils.LiquidAt(tK, pPa); bubblePa >= pPa {
			pPa = bubblePa * (1 + 1e-6)
		}
	}
	if l.Stable(tK, pPa) != nil {
		return 0
	}
	rho, _, err := l.Density(tK, pPa)
	if err != nil {
		return 0
	}
	return l.MolarMass() / rho
}
