package lang

import (
	"slices"
	"strings"

	"tapline/lang/quantity"
)

// pageWidth is where the page's running text is wrapped.
const pageWidth = 92

// wrap breaks a text into lines; indent stands before all but the first. Code
// spans are never broken, since a span may hold what may not be (an example).
func wrap(indent, text string) string {
	var out strings.Builder
	width := 0
	for i, word := range spans(text) {
		n := len([]rune(word))
		switch {
		case i == 0:
		case width+1+n > pageWidth:
			out.WriteString("\n" + indent)
			width = len(indent)
		default:
			out.WriteByte(' ')
			width++
		}
		out.WriteString(word)
		width += n
	}
	return out.String()
}

// spans parts a text at the spaces outside of code spans.
func spans(text string) []string {
	inCode := false
	return strings.FieldsFunc(text, func(r rune) bool {
		if r == '`' {
			inCode = !inCode
		}
		return r == ' ' && !inCode
	})
}

// header shows how a block begins.
func header(t *BlockType) string {
	if t.Tagged {
		return t.Kind + ` "TAG" { }`
	}
	return t.Kind + " { }"
}

var roles = [...]string{
	Inline:   "Stands in a path between two nodes",
	Boundary: "Ends paths",
	Pot:      "Stands in paths and is a node itself",
	AtNode:   "Stands at the node of its name",
}

// stands says where a block stands, what its ports are and what a case may do.
func stands(t *BlockType) string {
	out := ""
	if t.NotBuilt {
		return "**Not yet built.**"
	}
	if where := roles[t.Role]; where != "" {
		if t == multiwayBlock {
			where = "Its ports stand in paths"
		}
		out = where
		if len(t.Ports) > 0 {
			out += "; ports " + codes(t.Ports, "")
		}
		out += ". "
	}
	if t.Needed {
		out += "Required. "
	}
	if t.Repeats {
		out += "May stand several times; in a case, all of them are replaced. "
	}
	if t.Open {
		out += "Takes attributes of any name, each a text, a number, `true` or `false`. "
	}
	if !t.InCase {
		return out + "A case cannot hold it."
	}
	return out + "A case may override it."
}

// together words the sets of attributes that exclude or need one another.
func together(t *BlockType) string {
	var out []string
	for _, o := range t.OneOf {
		switch {
		case o.Needed:
			out = append(out, "Exactly one of "+codes(o.Names, "")+".")
		default:
			out = append(out, "At most one of "+codes(o.Names, "")+".")
		}
	}
	for _, set := range t.Together {
		out = append(out, codes(set, "")+" come together or not at all.")
	}
	return strings.Join(out, " ")
}

// codes lists words in code spans, between the given quotes.
func codes(words []string, quote string) string {
	out := make([]string, len(words))
	for i, w := range words {
		out[i] = "`" + quote + w + quote + "`"
	}
	return strings.Join(out, ", ")
}

// codeSpans puts each word in a code span.
func codeSpans(words []string) []string {
	out := make([]string, len(words))
	for i, w := range words {
		out[i] = "`" + w + "`"
	}
	return out
}

// entry explains one attribute of a block, as an item of a list.
func entry(t *BlockType, a *Attribute) string {
	facts := []string{takes(a)}
	if a.Limits != nil && a.Forms != quantity.Tube {
		facts = append(facts, allowed(a))
	}
	switch {
	case len(a.Unless) > 0:
		facts = append(facts, "required unless there is a block "+strings.Join(codeSpans(a.Unless), " or "))
	case a.Required:
		facts = append(facts, "required")
	case a.Default != "":
		facts = append(facts, "default `"+written(a)+"`")
	}
	if len(a.Excludes) > 0 && !slices.Equal(a.Excludes, a.Unless) {
		facts = append(facts, "not beside a block "+strings.Join(codeSpans(a.Excludes), " or "))
	}
	if a.Fixed && t.InCase {
		facts = append(facts, "the same in every case")
	}
	if a.NotBuilt {
		facts = append(facts, "**not yet built**")
	}
	text := "- `" + a.Name + "`: " + a.Help + ". " + sentence(strings.Join(facts, "; ")) + "."
	if a.Term != "" {
		text += " [" + a.Term + "]"
	}
	return wrap("  ", text)
}

// sentence puts a capital letter first.
func sentence(s string) string { return strings.ToUpper(s[:1]) + s[1:] }

// written is the default as a file would state it.
func written(a *Attribute) string {
	if a.Type == TypeFlag || a.Type == TypeNumber {
		return a.Default
	}
	return `"` + a.Default + `"`
}

// allowed words the range. Of a pressure or a temperature it counts from
// absolute zero, in whatever unit the value is written.
func allowed(a *Attribute) string {
	if a.Type == TypeDome || a.Type == TypeQuantity && (a.Dimension == quantity.Pressure || a.Dimension == quantity.Temperature) {
		return a.Limits.Text + " absolute"
	}
	return a.Limits.Text
}

// takes words the type of an attribute, its forms and its choices.
func takes(a *Attribute) string {
	switch a.Type {
	case TypeQuantity:
		return dimension(a) + " (" + formNames(a.Forms) + ")"
	case TypeNumber:
		return "number (" + formNames(a.Forms) + ")"
	case TypeText:
		return "text"
	case TypeFlag:
		return "flag"
	case TypeChoice, TypeChoices:
		text := "one of "
		if a.Type == TypeChoices {
			text = "list of "
		} else if len(a.Choices) == 1 && len(a.Later) == 0 {
			text = "only "
		}
		text += codes(a.Choices, `"`)
		if a.Forms != 0 {
			text += ", or a " + a.Dimension.String() + " (" + formNames(a.Forms) + ")"
		}
		if len(a.Later) > 0 {
			text += "; **not yet built**: " + codes(a.Later, `"`)
		}
		return text
	case TypeName:
		if a.Refers == ToNothing {
			return "name"
		}
		return "name of " + targets[a.Refers] + ", such as `" + a.sample() + "`"
	case TypeNames:
		if a.Refers == ToNothing {
			return "list of names"
		}
		return "list of names of " + targets[a.Refers] + ", such as `" + a.sample() + "`"
	case TypePorts:
		return "list of names, such as `" + a.sample() + "`"
	case TypePassages:
		return "list of ways from port to port, such as `" + a.sample() + "`"
	case TypePositions:
		return "map of names of positions to what each joins, a list of ways from port to port, such as `" + a.sample() + "`"
	case TypeDome:
		return "a node such as `\"(P7)\"`, or a pressure (" + formNames(a.Forms) + ") such as `\"12 barg\"`"
	case TypePath:
		return "path or list of paths, such as `" + a.sample() + "`"
	case TypeReference:
		return "temperature and absolute pressure, such as `" + a.sample() + "`"
	case TypeComposition:
		return "map of components to " + percentOf(a.Name) + ", such as `" + a.sample() + "`; a part is a number, a text with `%` or `ppm`, or `\"rest\"`, once"
	case TypePoints:
		return "list of points, each a flow and a pressure, such as `" + a.sample() + "`"
	case TypeCurveFile:
		return "name of a CSV file, from the system's folder on, such as `" + a.sample() + "`; its first line names its columns and their units, `flow [slpm], pressure [barg]`"
	case TypeUnits:
		names := make([]string, len(a.Keys))
		for i, k := range a.Keys {
			names[i] = k.Name
		}
		return "map of " + codes(names, "") + " to units, such as `" + a.sample() + "`"
	case TypeShares:
		return "map of names of sources to ratios (" + formNames(a.Forms) + "), such as `" + a.sample() + "`"
	}
	return "map of names to texts, numbers, `true` or `false`, such as `" + a.sample() + "`"
}

var targets = [...]string{
	ToFluid:  "a fluid",
	ToSource: "a source",
	ToDevice: "devices",
	ToPlace:  "nodes, ports or devices",
	ToCase:   "cases",
}

// dimension words what kind of value an attribute takes.
func dimension(a *Attribute) string {
	if a.By == nil {
		return a.Dimension.String()
	}
	names := make([]string, len(a.By.Dimensions))
	for i, k := range a.By.Dimensions {
		names[i] = k.Dimension.String()
	}
	return strings.Join(names, ", ") + ", as `" + a.By.Attribute + "` says"
}

// formWords are the names of the forms that the notes on values explain.
var formWords = []struct {
	form quantity.Form
	name string
}{
	{quantity.Single, "value"},
	{quantity.Tolerance, "+/-"},
	{quantity.Range, "range"},
	{quantity.Bound, "bound"},
	{quantity.Series, "series"},
	{quantity.Tube, "tube"},
	{quantity.FlowAtDrop, "flow at drop"},
	{quantity.AtPressure, "at a pressure"},
	{quantity.DropAtFlow, "at a flow"},
}

func formNames(f quantity.Form) string {
	var out []string
	for _, w := range formWords {
		if f&w.form != 0 {
			out = append(out, w.name)
		}
	}
	return strings.Join(out, ", ")
}
