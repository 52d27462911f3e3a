package lang

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"tapline/lang/diag"
	"tapline/lang/quantity"
	"tapline/solver/fluid"
)

// What a fluid is made of. Its parts are read when the block is; whether they
// make a whole also depends on the basis, which a case may change, so that is
// seen once the attributes of the block are together.
//
// On a dry basis the parts other than water are parts of the dry gas, and the
// part of water, listed or by its dew point, is one of the whole: it comes on
// top of them. On a wet basis all are parts of the whole.

// maxOff is how far the parts may be off one hundred per cent [1]: what is
// printed on a certificate is rounded, and a slip is larger.
const maxOff = 0.005

// whole is how exactly parts must sum to one to need no scaling.
const whole = 1e-9

// Water is the component that a dew point and a dry basis are about.
const Water = "water"

// compositions are the attributes that say what a fluid is made of; a block
// has one of them.
var compositions = []string{"mole_percent", "mass_percent", "volume_percent"}

// aboutWater are the attributes that say what a composition leaves out.
var aboutWater = []string{"basis", "water_dew_point"}

// percentOf words what the parts of a composition are parts of.
func percentOf(attribute string) string {
	return strings.ReplaceAll(attribute, "_percent", " per cent")
}

// Composition gives the attribute that says what a fluid is made of, and its
// name; nil where none does.
func (b *Block) Composition() (name string, v *Value) {
	for _, name := range compositions {
		if b.Has(name) {
			return name, b.Attrs[name]
		}
	}
	return "", nil
}

// Dry tells whether the composition of a fluid is that of the dry gas: its
// basis says so, or a water dew point stands beside it.
func (b *Block) Dry() bool {
	if v := b.Get("basis"); v != nil {
		return v.Text == "dry"
	}
	return b.Has("water_dew_point")
}

// fractionOf takes one component's part: a number of per cent, a text with %
// or ppm, or "rest".
func (in *interpreter) fractionOf(a *Attribute, v *Value) bool {
	per := percentOf(a.Name)
	switch {
	case v.shape == isNumber:
		q := quantity.Quantity{SI: v.Number / 100, Unit: "%", Number: strconv.FormatFloat(v.Number, 'g', -1, 64)}
		v.Quantity = &quantity.Value{Form: quantity.Single, Nominal: q, Text: q.Number + " %"}
	case v.shape == isText && v.Text == "rest":
		return true
	case v.shape == isText:
		q, err := in.parse(v.Text, quantity.Ratio, in.forms(deviceValue))
		if err != nil {
			in.quantityError(v, quantity.Ratio, err)
			return false
		}
		if q.Nominal.Unit == "" && q.High.Unit == "" && (q.Form != quantity.Series || q.Points[0].Unit == "") {
			in.found.errorf(wrongUnit, v.Range, "20 ("+per+`), "20 %" or "1000 ppm"`, "a part in quotes needs its unit")
			return false
		}
		v.Quantity = q
		if q.Form&several != 0 {
			return in.several(&Attribute{Name: "the part of a component", Limits: fraction}, v, quantity.Ratio)
		}
	default:
		in.wrong(v, `hydrogen = 20, "1000 ppm" or "rest"`, "a component takes its %s, not %s", per, v.shape.words())
		return false
	}
	return in.limits(&Attribute{Name: "the part of a component", Limits: fraction}, v)
}

// component gives the canonical name of what an entry of a composition is about.
func (e *Entry) component() string {
	name, _ := fluid.Name(e.Key)
	return name
}

// Component gives the part of a component by its canonical name, or nil.
func (v *Value) Component(name string) *Value {
	for i := range v.Map {
		if v.Map[i].component() == name {
			return v.Map[i].Value
		}
	}
	return nil
}

// components sees to it that the names are those of components, each once.
func (in *interpreter) components(v *Value) bool {
	ok := true
	first := map[string]diag.Range{}
	for i := range v.Map {
		e := &v.Map[i]
		name := e.component()
		if name == "" {
			in.found.errorf(unsupportedComponent, e.KeyRange, in.componentHint(e.Key), "%s is not a component whose properties are known", show(e.Key))
			ok = false
			continue
		}
		if before, again := first[name]; again {
			in.found.errorf(repeatedKey, e.KeyRange, "put its parts together into one", "%s is %s, which is listed already", show(e.Key), fluid.Spoken(name)).
				relate(before, "first here")
			ok = false
			continue
		}
		first[name] = e.KeyRange
	}
	return ok
}

// componentHint says what an unknown component may have been meant to be.
func (in *interpreter) componentHint(key string) string {
	if same := fluid.Isomers(key); len(same) > 0 {
		return "a formula of several: write " + strings.Join(same, " or ")
	}
	if near := in.found.nearest(key, fluid.Components()); near != "" {
		return "did you mean " + strconv.Quote(near) + "?"
	}
	return "the reference of the language lists the components"
}

// parts sees to it that a composition has some, and one "rest" at most.
func (in *interpreter) parts(v *Value) bool {
	if len(v.Map) == 0 {
		in.found.errorf(badComposition, v.Range, "{ nitrogen = 100 }", "the composition is empty")
		return false
	}
	var rest *Value
	for _, e := range v.Map {
		if e.Value.Quantity != nil {
			continue
		}
		if rest != nil {
			in.found.errorf(badComposition, e.Value.Range, "", `only one component can be the "rest"`).relate(rest.Range, "this is one already")
			return false
		}
		rest = e.Value
	}
	return in.components(v)
}

// fluid sees to it that what a fluid block says of its composition fits
// together. Of a partial block, what it does not say holds as in base; where other
// cases lie between the two, most is left to when they are laid on one another.
func (c *checker) fluid(b, base *Block) {
	quiet := c.resolving // what there is to note was noted on reading
	if base != nil {
		quiet = b.replacing() == nil
		switch {
		case base.ill || quiet && !slices.ContainsFunc(aboutWater, b.Has):
			return
		case c.layered:
			if _, v := b.Composition(); v != nil && v.Component(Water) == nil {
				c.sum(v, false, false)
			}
			return
		}
		b = merge(base, b)
	}
	_, v := b.Composition()
	if v == nil {
		return
	}
	water := v.Component(Water)
	dew, basis := b.Attrs["water_dew_point"], b.Attrs["basis"]
	dry := b.Dry()
	switch {
	case b.Has("water_dew_point") && water != nil:
		listed := *water
		listed.overlaid = v.overlaid
		c.clash(&listed, dew, "the dew point says how much water there is, and water is listed too")
		return
	case b.Has("water_dew_point") && !dry:
		c.clash(basis, dew, "a water dew point sets the water on top of a dry composition, and the basis is wet")
		return
	case dry && water != nil && water.Quantity == nil:
		c.found.errorf(badComposition, water.Range, "", `on a dry basis water comes on top of the others and cannot be the "rest"`)
		return
	}
	f := c.sum(v, dry, quiet)
	if dry && b.Has("basis") {
		f.relate(basis.Range, "the basis is dry")
	}
}

// clash reports two values of a fluid that exclude each other, at the one
// said later.
func (c *checker) clash(x, y *Value, message string) {
	at, other := x, y
	if c.later(y, x) {
		at, other = y, x
	}
	hint := "leave one of them out"
	if c.resolved || x.overlaid != y.overlaid {
		hint = "null in the case takes out what holds outside of it"
	}
	c.found.errorf(conflict, at.Range, hint, "%s", message).relate(other.Range, "the other one")
}

// sum holds the sum of the parts against one hundred per cent. A small
// difference is a note, left out if quiet: the parts are scaled to make a whole.
func (c *checker) sum(v *Value, dry, quiet bool) (f finding) {
	sum, rest, some := 0.0, false, false
	for i := range v.Map {
		e := &v.Map[i]
		switch {
		case dry && e.component() == Water:
		case e.Value.Quantity == nil:
			rest, some = true, true
		default:
			sum += e.Value.Quantity.Nominal.SI
			some = true
		}
	}
	which := "the components"
	if dry {
		which = "the components of the dry gas"
	}
	percent := strconv.FormatFloat(sum*100, 'g', 6, 64)
	switch {
	case !some:
		return c.found.errorf(badComposition, v.Range, "list the others, or leave out the basis", "a dry gas is made of more than water")
	case rest && sum > 1+whole:
		return c.found.errorf(badComposition, v.Range, "", `the other components are %s %%: nothing is left for the "rest"`, percent)
	case rest:
	case math.Abs(sum-1) > maxOff+whole:
		return c.found.errorf(badComposition, v.Range, `make one component the "rest"`, "%s sum to %s %%, not to 100 %%", which, percent)
	case math.Abs(sum-1) > whole && !quiet:
		return c.found.notef(normalised, v.Range, `make one component the "rest" to say which of them is off`,
			"%s sum to %s %% and are scaled to 100 %%", which, percent)
	}
	return finding{}
}
