package lang

import "slices"

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
			ok = in.fractionOf(a, e.Value) && ok
		case TypeUnits:
			ok = in.unit(a, e) && ok
		case TypeShares:
			ok = in.is(e.Value, isText, a) && in.quantity(a, e.Value, nil) && ok
		case TypePositions:
			ok = in.position(a, e) && ok
		case TypeData:
			ok = in.datum(e.Value) && ok
		}
	}
	if a.Type == TypeComposition && ok {
		return in.parts(v)
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
