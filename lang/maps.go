package lang

import (
	"math"
	"slices"
	"strconv"

	"tapline/lang/quantity"
)

// entries interprets the entries of a map.
func (in *interpreter) entries(a *Attribute, v *Value) bool {
	ok := true
	for _, e := range v.Map {
		if e.Value.shape == isOther || !in.plain(&Value{Text: e.Key, Range: e.KeyRange}, false) {
			ok = false
			continue
		}
		switch a.Type {
		case TypeComposition:
			ok = in.fractionOf(e.Value) && ok
		case TypeUnits:
			ok = in.unit(a, e) && ok
		case TypeShares:
			ok = in.is(e.Value, isText, a) && in.quantity(a, e.Value, nil) && ok
		case TypeData:
			ok = in.datum(e.Value) && ok
		}
	}
	if a.Type == TypeComposition && ok {
		return in.composition(v)
	}
	return ok
}

// datum takes anything that is one thing.
func (in *interpreter) datum(v *Value) bool {
	switch v.shape {
	case isText:
		return in.plain(v, true)
	case isNumber, isFlag:
		return true
	}
	in.wrong(v, `order = "A-1042"`, "data holds texts, numbers and true or false, not %s", v.shape.words())
	return false
}

// unit takes the spelling of a unit for one of the known keys.
func (in *interpreter) unit(a *Attribute, e Entry) bool {
	i := slices.IndexFunc(a.Keys, func(k Key) bool { return k.Name == e.Key })
	if i < 0 {
		names := make([]string, len(a.Keys))
		for j, k := range a.Keys {
			names[j] = k.Name
		}
		in.found.errorf(unknownKey, e.KeyRange, in.found.meant(e.Key, names), "%s knows no %s", a.Name, show(e.Key))
		return false
	}
	if !in.is(e.Value, isText, a) {
		return false
	}
	units := a.Keys[i].Dimension.Units()
	if slices.Contains(units, e.Value.Text) {
		return true
	}
	in.found.errorf(wrongUnit, e.Value.Range, in.found.meant(e.Value.Text, units), "%s is no unit of %s", show(e.Value.Text), a.Keys[i].Dimension)
	return false
}

// fractionOf takes one component's part: a number of mole percent, a text with
// % or ppm, or "rest".
func (in *interpreter) fractionOf(v *Value) bool {
	switch {
	case v.shape == isNumber:
		q := quantity.Quantity{SI: v.Number / 100, Unit: "%", Number: strconv.FormatFloat(v.Number, 'g', -1, 64)}
		v.Quantity = &quantity.Value{Form: quantity.Single, Nominal: q, Text: q.Number + " %"}
	case v.shape == isText && v.Text == "rest":
		return true
	case v.shape == isText:
		q, err := in.parse(v.Text, quantity.Ratio, deviceValue)
		if err != nil {
			in.quantityError(v, quantity.Ratio, err)
			return false
		}
		if q.Nominal.Unit == "" {
			in.found.errorf(wrongUnit, v.Range, `20 (mole percent), "20 %" or "1000 ppm"`, "a part in quotes needs its unit")
			return false
		}
		v.Quantity = q
	default:
		in.wrong(v, `hydrogen = 20, "1000 ppm" or "rest"`, "a component takes its mole percent, not %s", v.shape.words())
		return false
	}
	return in.limits(&Attribute{Name: "the part of a component", Limits: fraction}, v)
}

// composition sees to it that the parts make a whole: one may be the "rest",
// otherwise they sum to 100 % as written.
func (in *interpreter) composition(v *Value) bool {
	if len(v.Map) == 0 {
		in.found.errorf(badComposition, v.Range, "{ nitrogen = 100 }", "the composition is empty")
		return false
	}
	var rest *Value
	sum := 0.0
	for _, e := range v.Map {
		if e.Value.Quantity != nil {
			sum += e.Value.Quantity.Nominal.SI
			continue
		}
		if rest != nil {
			in.found.errorf(badComposition, e.Value.Range, "", `only one component can be the "rest"`).relate(rest.Range, "this is one already")
			return false
		}
		rest = e.Value
	}
	percent := strconv.FormatFloat(sum*100, 'g', 10, 64)
	switch {
	case rest != nil && sum > 1+1e-12:
		in.found.errorf(badComposition, v.Range, "", `the other components are %s %%: nothing is left for the "rest"`, percent)
		return false
	case rest == nil && math.Abs(sum-1) > 1e-9:
		in.found.errorf(badComposition, v.Range, `make one component the "rest"`, "the components sum to %s %%, not to 100 %%", percent)
		return false
	}
	return true
}
