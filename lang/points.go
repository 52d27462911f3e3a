package lang

import "tapline/lang/quantity"

const leastPoints, mostPoints = 2, 200

// points takes a list of points, each a flow and a pressure.
func (in *interpreter) points(a *Attribute, v *Value) bool {
	if n := len(v.List); n < leastPoints || n > mostPoints {
		in.wrong(v, a.example(), "%s has from %d to %d points, not %d", a.Name, leastPoints, mostPoints, n)
		return false
	}
	flow := &Attribute{Name: "the flow of a point", Type: TypeQuantity, Dimension: quantity.AnyFlow, Forms: a.Forms, Limits: from0}
	pressure := &Attribute{Name: "the pressure of a point", Type: TypeQuantity, Dimension: a.Dimension, Forms: a.Forms, Limits: a.Limits}
	ok := true
	for _, p := range v.List {
		switch {
		case p.shape == isOther:
			ok = false
		case p.shape != isList || len(p.List) != 2:
			in.wrong(p, `["60 slpm", "3.3 barg"]`, "a point is a list of a flow and a pressure")
			ok = false
		default:
			ok = in.part(flow, p.List[0]) && ok
			ok = in.part(pressure, p.List[1]) && ok
		}
	}
	return ok
}

// part takes one half of a point.
func (in *interpreter) part(a *Attribute, v *Value) bool {
	switch v.shape {
	case isOther:
		return false
	case isText, isNumber:
		return in.quantity(a, v, nil)
	}
	in.wrong(v, `["60 slpm", "3.3 barg"]`, "%s is written out, in quotes", a.Name)
	return false
}
