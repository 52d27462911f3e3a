package lang

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"tapline/lang/diag"
	"tapline/lang/quantity"
)

// An interpreter holds raw values against the rows of the schema.
type interpreter struct {
	found *collector
	cache map[cacheKey]parsed
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
		return in.is(v, isText, a) && in.choice(a, v)
	case TypeName:
		return in.is(v, isText, a) && in.plain(v, false)
	case TypeChoices, TypeNames, TypePorts:
		return in.list(a, v)
	case TypeDome:
		if v.shape == isText && strings.HasPrefix(strings.TrimSpace(v.Text), "(") {
			return in.plain(v, false)
		}
		return in.quantity(a, v, sibling)
	case TypePath:
		return in.texts(a, v)
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
	} else if near := in.found.nearest(v.Text, a.Choices); near != "" {
		hint = fmt.Sprintf("did you mean %q? (%s)", near, hint)
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

func (in *interpreter) reference(v *Value) bool {
	ref, err := quantity.ParseReference(v.Text)
	if err != nil {
		in.quantityError(v, quantity.Pressure, err)
		return false
	}
	v.Reference = &ref
	return true
}

// number takes a bare number, or a text where it has a tolerance.
func (in *interpreter) number(a *Attribute, v *Value) bool {
	switch v.shape {
	case isNumber:
		q := quantity.Quantity{SI: v.Number, Number: strconv.FormatFloat(v.Number, 'g', -1, 64)}
		v.Quantity = &quantity.Value{Form: quantity.Single, Nominal: q, Text: q.Number}
	case isText:
		q, err := in.parse(v.Text, quantity.Number, a.Forms)
		if err != nil {
			in.quantityError(v, quantity.Number, err)
			return false
		}
		v.Quantity, v.Number = q, q.Nominal.SI
	default:
		in.wrong(v, a.example(), "%s takes a number, not %s", a.Name, v.shape.words())
		return false
	}
	return in.limits(a, v)
}

func (in *interpreter) quantity(a *Attribute, v *Value, sibling func(string) *Value) bool {
	dim := a.Dimension
	if a.By != nil {
		s := sibling(a.By.Attribute)
		if s == nil {
			return false
		}
		i := slices.IndexFunc(a.By.Dimensions, func(k Key) bool { return k.Name == s.Text })
		if i < 0 {
			return false // the sibling's own mistake is reported
		}
		dim = a.By.Dimensions[i].Dimension
	}
	switch {
	case v.shape == isNumber:
		in.found.errorf(wrongUnit, v.Range, withUnit(strconv.FormatFloat(v.Number, 'g', -1, 64), dim),
			"%s needs its unit, in a text", a.Name)
		return false
	case v.shape != isText:
		in.wrong(v, a.example(), "%s takes a %s in quotes, not %s", a.Name, dim, v.shape.words())
		return false
	case v.Text == "adjusted":
		in.found.errorf(notYetBuilt, v.Range, "state a value", `%s = "adjusted" is part of the language and not yet built in this version`, a.Name)
		return false
	}
	q, err := in.parse(v.Text, dim, a.Forms)
	if err != nil {
		in.quantityError(v, dim, err)
		return false
	}
	if dim == quantity.Ratio && q.Nominal.Unit == "" && q.Low.Unit == "" && q.High.Unit == "" {
		in.found.errorf(wrongUnit, v.Range, withUnit(strings.TrimSpace(v.Text), dim), "%s needs its unit", a.Name)
		return false
	}
	v.Quantity = q
	return in.limits(a, v)
}

// withUnit shows a number with the units it may have been meant in.
func withUnit(number string, dim quantity.Dimension) string {
	switch dim {
	case quantity.Pressure:
		return fmt.Sprintf("%q (gauge) or %q (absolute)", number+" barg", number+" bara")
	case quantity.PressureDifference:
		return strconv.Quote(number + " bar")
	case quantity.Ratio:
		if n, err := strconv.ParseFloat(number, 64); err == nil && math.Abs(n) <= 1 {
			return fmt.Sprintf("%q or %q", strconv.FormatFloat(n*100, 'g', 12, 64)+" %", number+" %")
		}
		return strconv.Quote(number + " %")
	}
	if us := dim.Units(); len(us) > 0 {
		return strconv.Quote(number + " " + us[0])
	}
	return ""
}

// anyForm is every way to write a value that cannot grow large.
const anyForm = quantity.Single | quantity.Range | quantity.Bound | quantity.Tolerance

// quantityError reports what the grammar of quantities found, at the very
// characters, under a code that says what kind of mistake it is.
func (in *interpreter) quantityError(v *Value, dim quantity.Dimension, err error) {
	if in.found.full(v.Range.File) {
		in.found.errorf(badValue, v.Range, "", "")
		return
	}
	qe := &quantity.Error{Message: err.Error(), End: len(v.Text)}
	errors.As(err, &qe)
	in.found.errorf(mistake(v.Text, dim, qe), v.Within(qe.Start, qe.End), qe.Hint, "%s", qe.Message)
}

// mistake tells a wrong unit, and the one wrong unit that matters most, from a
// value that cannot be read at all.
func mistake(text string, dim quantity.Dimension, e *quantity.Error) string {
	fits := func(text string, d quantity.Dimension) bool {
		_, err := quantity.Parse(text, d, anyForm)
		return err == nil
	}
	at := text[min(max(e.Start, 0), len(text)):min(max(e.End, 0), len(text))]
	first, _ := utf8.DecodeRuneInString(at)
	switch {
	case fits(text, dim):
		return badValue // the form is wrong, not the unit
	case dim == quantity.Pressure && fits("1 "+at, quantity.PressureDifference),
		dim == quantity.PressureDifference && fits("1 "+at, quantity.Pressure):
		return gaugeAbsolute
	case unicode.IsLetter(first) || first == '%' || first == '°':
		return wrongUnit
	}
	for d := quantity.Pressure; d <= quantity.Density; d++ {
		if d != dim && fits(text, d) {
			return wrongUnit
		}
	}
	return badValue
}

// limits holds every number of v against what the schema allows.
func (in *interpreter) limits(a *Attribute, v *Value) bool {
	l := a.Limits
	if l == nil {
		return true
	}
	q := v.Quantity
	numbers := []quantity.Quantity{}
	switch q.Form {
	case quantity.Tube:
		return in.tube(a, v)
	case quantity.Single, quantity.FlowAtDrop:
		numbers = append(numbers, q.Nominal)
	case quantity.Series:
		numbers = q.Points
	default:
		if q.HasLow || q.Form == quantity.Tolerance {
			numbers = append(numbers, q.Low)
		}
		if q.HasHigh || q.Form == quantity.Tolerance {
			numbers = append(numbers, q.High)
		}
	}
	for _, n := range numbers {
		if n.Basis == quantity.Gauge || l.holds(n.SI) {
			continue
		}
		in.found.errorf(outsideLimits, v.Range, "", "%s must be %s", a.Name, l.Text)
		return false
	}
	return true
}

func (l *Limits) holds(x float64) bool {
	return !math.IsNaN(x) && (x > l.Low || x == l.Low && !l.LowOpen) && (x < l.High || x == l.High && !l.HighOpen)
}

// tube sees to it that something is left of the bore.
func (in *interpreter) tube(a *Attribute, v *Value) bool {
	q := v.Quantity
	if q.Wall.SI > 0 && q.Nominal.SI > 2*q.Wall.SI {
		return true
	}
	in.found.errorf(outsideLimits, v.Range, `"6 mm x 1 mm" has a bore of 4 mm`, "%s leaves no bore: outside diameter x wall", a.Name)
	return false
}

// parseDefault reads the default of a row, once.
func (a *Attribute) parseDefault() *Value {
	v := &Value{shape: isText, Text: a.Default}
	switch a.Type {
	case TypeFlag:
		v = &Value{shape: isFlag, Flag: a.Default == "true"}
	case TypeNumber:
		n, err := strconv.ParseFloat(a.Default, 64)
		if err != nil {
			panic("schema: " + a.Name + ": " + err.Error())
		}
		v = &Value{shape: isNumber, Number: n}
	}
	found := newCollector()
	if !newInterpreter(found).value(a, v, func(string) *Value { return nil }) || len(found.list) > 0 {
		panic(fmt.Sprintf("schema: default of %s: %v", a.Name, found.list))
	}
	v.Default = true
	return v
}
