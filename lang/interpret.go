package lang

import (
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"unicode"

	"tapline/lang/diag"
	"tapline/lang/quantity"
)

// An interpreter holds raw values against the rows of the schema.
type interpreter struct {
	found  *collector
	cache  map[cacheKey]parsed
	moves  bool // a spread is read: values may stand for several
	listed int  // values listed in spreads so far
}

type cacheKey struct {
	text  string
	dim   quantity.Dimension
	forms quantity.Form
}

type parsed struct {
	value *quantity.Value
	err   *quantity.Error
}

// maxCache bounds what the cache of parsed values keeps.
const maxCache = 20_000

func newInterpreter(found *collector) *interpreter {
	return &interpreter{found: found, cache: map[cacheKey]parsed{}}
}

// parse is quantity.Parse through the cache.
func (in *interpreter) parse(text string, dim quantity.Dimension, forms quantity.Form) (*quantity.Value, *quantity.Error) {
	key := cacheKey{text, dim, forms}
	if p, ok := in.cache[key]; ok {
		return p.value, p.err
	}
	if forms&quantity.Series != 0 {
		if in.listed += quantity.SeriesLen(text, dim); in.listed > maxCombined {
			return nil, &quantity.Error{Message: fmt.Sprintf("the spreads of this system list more than %d values", maxCombined), End: len(text)}
		}
	}
	var p parsed
	v, err := quantity.Parse(text, dim, forms)
	if err == nil {
		p.value = &v
	} else if !errors.As(err, &p.err) {
		p.err = &quantity.Error{Message: err.Error(), End: len(text)}
	}
	if len(in.cache) < maxCache {
		in.cache[key] = p
	}
	return p.value, p.err
}

// value interprets v as the attribute a; sibling finds the attribute that a.By
// names. It tells whether v may be kept.
func (in *interpreter) value(a *Attribute, v *Value, sibling func(string) *Value) bool {
	switch v.shape {
	case isOther:
		return false
	case isNull:
		return true
	case isGiven:
		if a.takesGiven() {
			return true
		}
		in.wrong(v, `write it out`, "%s must be written out; a given value is for quantities, numbers, choices and text", a.Name)
		return false
	}
	switch a.Type {
	case TypeQuantity:
		return in.quantity(a, v, sibling)
	case TypeNumber:
		return in.number(a, v)
	case TypeText:
		return in.is(v, isText, a) && in.plain(v, true)
	case TypeFlag:
		return in.is(v, isFlag, a)
	case TypeChoice:
		if !in.is(v, isText, a) {
			return false
		}
		if a.Forms != 0 && v.Text != "" && unicode.IsDigit(rune(v.Text[0])) {
			return in.quantity(a, v, sibling)
		}
		return in.choice(a, v)
	case TypeName:
		return in.is(v, isText, a) && in.plain(v, false)
	case TypeChoices, TypeNames, TypePorts:
		return in.list(a, v)
	case TypePassages:
		return in.passages(a, v)
	case TypeDome:
		if v.shape == isText && strings.HasPrefix(strings.TrimSpace(v.Text), "(") {
			return in.plain(v, false)
		}
		return in.quantity(a, v, sibling)
	case TypePath:
		return in.texts(a, v)
	case TypeCurveFile:
		return in.is(v, isText, a) && in.plain(v, false)
	case TypePoints:
		return in.is(v, isList, a) && in.points(a, v)
	case TypeReference:
		return in.is(v, isText, a) && in.reference(v)
	default:
		return in.is(v, isMap, a) && in.entries(a, v)
	}
}

// takesGiven tells whether given.NAME may stand for the whole attribute.
func (a *Attribute) takesGiven() bool {
	switch a.Type {
	case TypeQuantity, TypeNumber, TypeText, TypeFlag, TypeChoice:
		return !a.Fixed
	}
	return false
}

func (in *interpreter) wrong(v *Value, hint, format string, args ...any) {
	in.found.errorf(wrongType, v.Range, hint, format, args...)
}

// is reports a value of another shape than s.
func (in *interpreter) is(v *Value, s shape, a *Attribute) bool {
	if v.shape == s {
		return true
	}
	in.wrong(v, a.example(), "%s takes %s, not %s", a.Name, s.words(), v.shape.words())
	return false
}

// plain reports control characters; lines and tabs are fine in running text.
func (in *interpreter) plain(v *Value, running bool) bool {
	if len(v.Text) > maxTextBytes {
		in.found.errorf(tooLarge, v.Range, "", "a text has at most %d bytes", maxTextBytes)
		return false
	}
	for i, r := range v.Text {
		if running && (r == '\n' || r == '\t' || r == '\r') {
			continue
		}
		if unicode.IsControl(r) || unicode.Is(unicode.Cf, r) {
			in.found.errorf(unsafeText, v.Within(i, i+len(string(r))), "leave it out", "the text holds the invisible character U+%04X", r)
			return false
		}
	}
	return true
}

func (in *interpreter) choice(a *Attribute, v *Value) bool {
	if slices.Contains(a.Choices, v.Text) {
		return true
	}
	if slices.Contains(a.Later, v.Text) {
		in.found.errorf(notYetBuilt, v.Range, "use "+quoteAll(a.Choices, " or "),
			"%s = %s is part of the language and not yet built in this version", a.Name, show(v.Text))
		return false
	}
	hint := "one of " + quoteAll(a.Choices, ", ")
	if len(a.Choices) == 1 {
		hint = strconv.Quote(a.Choices[0])
	} else {
		if a.Forms != 0 {
			hint += ", or a " + a.Dimension.String() + ` such as "` + samples[a.Dimension] + `"`
		}
		if near := in.found.nearest(v.Text, a.Choices); near != "" {
			hint = fmt.Sprintf("did you mean %q? (%s)", near, hint)
		}
	}
	in.found.errorf(unknownChoice, v.Range, hint, "%s cannot be %s", a.Name, show(v.Text))
	return false
}

func quoteAll(words []string, between string) string {
	out := make([]string, len(words))
	for i, w := range words {
		out[i] = strconv.Quote(w)
	}
	return strings.Join(out, between)
}

// texts takes a text or a list of texts, at least one.
func (in *interpreter) texts(a *Attribute, v *Value) bool {
	if v.shape != isList {
		return in.is(v, isText, a)
	}
	if len(v.List) == 0 {
		in.wrong(v, a.example(), "%s is an empty list", a.Name)
		return false
	}
	ok := true
	for _, e := range v.List {
		if e.shape != isText {
			if e.shape != isOther {
				in.wrong(e, a.example(), "%s is a list of texts; this is %s", a.Name, e.shape.words())
			}
			ok = false
		}
	}
	return ok
}

// list takes a text or a list of different texts; a single text becomes a list
// of one.
func (in *interpreter) list(a *Attribute, v *Value) bool {
	if a.Type != TypePorts && v.shape == isList && len(v.List) == 0 {
		return true
	}
	if !in.texts(a, v) {
		return false
	}
	if v.shape == isText {
		one := *v
		v.List, v.shape = []*Value{&one}, isList
	}
	ok := true
	seen := make(map[string]diag.Range, len(v.List))
	for _, e := range v.List {
		if !in.plain(e, false) || a.Type == TypeChoices && !in.choice(a, e) {
			ok = false
			continue
		}
		if first, again := seen[e.Text]; again {
			in.found.errorf(repeatedKey, e.Range, "", "%s is in the list twice", show(e.Text)).relate(first, "first here")
			ok = false
		}
		seen[e.Text] = e.Range
	}
	return ok
}
