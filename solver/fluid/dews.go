package fluid

import (
	"fmt"
	"math"
	"sync"
)

// Dews are the dew points of one fluid: that of what it is made of besides water,
// and that of its water. They are two curves and are never merged, since water forms
// a liquid, or ice, of its own. A hydrocarbon dew point is that of the gas with its
// water taken out, at the whole pressure.
//
// The first curve is traced when it is first asked for and read off between its
// points, within 0.02 K of a solution at that pressure short of its very top (a test
// holds it to that). Water dew points are solved each time. Dews may be shared by
// goroutines; what they answer does not depend on who asks first.
type Dews struct {
	wet   Composed
	damp  bool            // it holds water
	dry   func() Composed // wet without its water; nil where that is all
	curve func() *dryCurve
}

// Dew holds the dew points at one pressure.
type Dew struct {
	// HydrocarbonK is the temperature [K] at which the gas without its water begins to
	// condense: the highest one where there are several (retrograde condensation, liquids
	// of different kinds), or where it is a dense fluid that gives off a gas, as beyond the
	// critical point of gases with much hydrogen. NaN where there is none or none was
	// found; Words says why.
	HydrocarbonK float64
	// Mostly names the component that the first drop holds most of; may be empty.
	Mostly string
	// WaterK is the temperature [K] at which water condenses, or ice forms where Frost
	// is true. NaN where there is no water, or the gas condenses first.
	WaterK float64
	Frost  bool
	// CricondenbarPa is the highest pressure of the first curve: nothing condenses at any
	// temperature above it. Where the curve ends at its critical point, it is the critical
	// pressure. NaN where there is no curve, or its end was not found.
	CricondenbarPa float64
	Words          string
}

// HighestK is the higher of the two dew temperatures [K]; NaN where there is none.
func (d Dew) HighestK() float64 {
	if math.IsNaN(d.HydrocarbonK) || d.WaterK > d.HydrocarbonK {
		return d.WaterK
	}
	return d.HydrocarbonK
}

// dryCurve is the curve of a gas without water: of a mixture, or of a pure fluid.
type dryCurve struct {
	branches *branches // nil for a pure fluid, and where none was found
	names    []string
	pure     *makeup
	words    string // why there is none
}

// DewsOf gives the dew points of f. A fluid that keeps its own, as all of this package
// do, gives the same ones each time.
func DewsOf(f Composed) *Dews {
	switch f := f.(type) {
	case *Mixture:
		return f.dews()
	case *Cubic:
		return f.dews()
	}
	return newDews(f)
}

func newDews(f Composed) *Dews {
	d := &Dews{wet: f}
	names, x := f.Fractions()
	for k, name := range names {
		d.damp = d.damp || name == components[water].name && x[k] > 0
	}
	d.dry = sync.OnceValue(func() Composed { return withoutWater(f) })
	d.curve = sync.OnceValue(func() *dryCurve { return newDryCurve(d.dry()) })
	return d
}

// withoutWater is the fluid that is left without its water; nil where nothing is.
func withoutWater(f Composed) Composed {
	names, x := f.Fractions()
	dry := make([]float64, len(x))
	left, wet := 0.0, false
	for k, name := range names {
		if name == components[water].name {
			wet = x[k] > 0
			continue
		}
		dry[k] = x[k]
		left += x[k]
	}
	if !wet {
		return f
	}
	if left < leastDry {
		return nil
	}
	sum := 0.0
	for k := range dry {
		dry[k] /= left
		sum += dry[k]
	}
	for k := range dry {
		dry[k] /= sum
	}
	g, err := f.Like(dry)
	if err != nil {
		return nil // fractions of a fluid are good ones of its dry part; an equation may still refuse
	}
	return g
}

// leastDry is the share besides water that counts.
const leastDry = 1e-9

func newDryCurve(f Composed) *dryCurve {
	if f == nil {
		return &dryCurve{words: "it is all water"}
	}
	u := makeupOf(f)
	c := &dryCurve{names: u.names}
	if len(u.z) == 1 {
		c.pure = u
		return c
	}
	constants := make([]critical, len(u.z))
	for k, name := range u.names {
		var ok bool
		if constants[k], ok = criticalOf(name); !ok {
			c.words = "the critical point of " + name + " is not known"
			return c
		}
	}
	if b := newBranches(u, constants); len(b.pieces) > 0 {
		c.branches = b
	} else {
		c.words = "no dew point was found within the range of the equation of state"
	}
	return c
}

// At gives the dew points at pPa [Pa, absolute].
func (d *Dews) At(pPa float64) Dew {
	out := Dew{HydrocarbonK: math.NaN(), WaterK: math.NaN(), CricondenbarPa: math.NaN()}
	if !(pPa > 0) {
		out.Words = "there is no such pressure"
		return out
	}
	out.WaterK, out.Frost = d.Water(pPa)
	c := d.curve()
	switch {
	case c.pure != nil:
		out.HydrocarbonK, out.CricondenbarPa, out.Words = c.pure.saturation(pPa)
		out.Mostly = c.names[0]
	case c.branches == nil:
		out.Words = c.words
	default:
		c.branches.describe(pPa, c.names, &out)
	}
	return out
}

// Water gives the water dew point [K] alone, or the frost point, and which it is;
// NaN where there is none.
func (d *Dews) Water(pPa float64) (tK float64, frost bool) {
	if !d.damp || !(pPa > 0) {
		return math.NaN(), false
	}
	u := makeupOf(d.wet)
	at, _ := u.water()
	if tK, frost, ok := u.waterDew(at, pPa); ok {
		return tK, frost
	}
	return math.NaN(), false
}

func (b *branches) describe(pPa float64, names []string, out *Dew) {
	low, high := b.lowest(), b.highest()
	if high.end == endCricondenbar || high.end == endCritical {
		out.CricondenbarPa = high.toPa
	}
	tK, s := b.hottest(pPa)
	switch {
	case s != nil:
		out.HydrocarbonK, out.Mostly = tK, names[s.mostly]
	case pPa < low.fromPa:
		out.Words = fmt.Sprintf("below %.4g bara the dew point is under the range of the equation of state", low.fromPa/1e5)
	case pPa < high.toPa:
		out.Words = fmt.Sprintf("at %.4g bara no dew point was found; there may be one", pPa/1e5)
	case high.end == endCricondenbar:
		out.Words = fmt.Sprintf("above %.4g bara nothing condenses at any temperature", high.toPa/1e5)
	case high.end == endCritical:
		out.Words = fmt.Sprintf("above its critical pressure of %.4g bara it has no dew point", high.toPa/1e5)
	default:
		out.Words = fmt.Sprintf("above %.4g bara no dew point was found; there may be one", high.toPa/1e5)
	}
}
