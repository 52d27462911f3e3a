package quantity

import (
	"fmt"
	"strings"

	"github.com/alecthomas/participle/v2/lexer"
)

// slips finds what the lexer caught whole because it can never be right: a
// locale comma, a digit separator, a typographic sign. It runs before the
// parser, so that these get the message they deserve.
func (r *reader) slips(tokens []lexer.Token) *Error {
	for i := range tokens {
		t := &tokens[i]
		if t.EOF() {
			break
		}
		here := tokenPlace(t)
		switch t.Type {
		case kindLocaleComma:
			return r.fail(here, fmt.Sprintf("%q has a comma inside a number; the decimal sign is a point and there are no separators", clip(t.Value)), r.commaHint(t.Value))
		case kindUnderscore:
			return r.fail(here, fmt.Sprintf("%q has an underscore inside a number", clip(t.Value)), r.quoted(here, strings.ReplaceAll(t.Value, "_", "")))
		case kindPointFirst:
			return r.fail(here, fmt.Sprintf("%q has no digit before the point", clip(t.Value)), r.quoted(here, "0"+t.Value))
		case kindDots:
			return r.fail(here, "a range is written with two points", r.quoted(here, ".."))
		case kindNearPlusMinus:
			return r.fail(here, fmt.Sprintf("%q is not how a tolerance is written", t.Value), r.quoted(here, "+/-"))
		case kindNearCompare:
			return r.fail(here, fmt.Sprintf("%q is not a comparison used here", t.Value), r.quoted(here, nearCompare(t.Value)))
		case kindOther:
			return r.strange(tokens, i)
		case kindWord:
			switch strings.ToLower(t.Value) {
			case "nan", "inf", "infinity":
				return r.fail(here, fmt.Sprintf("%q is not a number that a plant can have", t.Value), r.example())
			}
		}
	}
	return nil
}

// commaHint offers the decimal point, or the list.
func (r *reader) commaHint(number string) string {
	parts := strings.Split(number, ",")
	spaced := strings.Join(parts, ", ")
	if len(parts) == 2 && r.allowed&Series != 0 {
		return fmt.Sprintf("%q for a decimal, %q for a list", clip(parts[0]+"."+parts[1]), clip(spaced))
	}
	if r.allowed&Series != 0 {
		return fmt.Sprintf("%q for a list", clip(spaced))
	}
	if len(parts) == 2 {
		return fmt.Sprintf("%q for a decimal, %q for a thousand", clip(parts[0]+"."+parts[1]), clip(parts[0]+parts[1]))
	}
	return fmt.Sprintf("%q", clip(strings.Join(parts, "")))
}

func nearCompare(s string) string {
	switch s {
	case "=>", "≥":
		return ">="
	case "=<", "≤":
		return "<="
	}
	return ""
}

// strange explains a character that no value holds.
func (r *reader) strange(tokens []lexer.Token, i int) *Error {
	t := &tokens[i]
	here := tokenPlace(t)
	afterNumber := i > 0 && (tokens[i-1].Type == kindNumber || tokens[i-1].Type == kindFraction)
	switch {
	case t.Value == "." && afterNumber:
		return r.fail(tokenPlace(&tokens[i-1]).to(here), "there is no digit behind the point", r.quoted(here, ""))
	case t.Value == "+":
		return r.fail(here, "a number above zero carries no sign", r.quoted(here, ""))
	case t.Value == "−" || t.Value == "–" || t.Value == "—":
		return r.fail(here, fmt.Sprintf("%q is a typographic dash", t.Value), r.quoted(here, "-"))
	case t.Value == "×" || t.Value == "*":
		return r.fail(here, fmt.Sprintf("%q does not stand between outside diameter and wall", t.Value), r.quoted(here, "x"))
	case (t.Value == `"` || t.Value == "″") && afterNumber:
		return r.fail(here, "the inch sign is not used", r.quoted(here, " in"))
	case t.Value == "'" && afterNumber || t.Value == "′":
		return r.fail(here, "the foot sign is not used", r.quoted(here, " ft"))
	case t.Value == "~":
		return r.fail(here, `"~" does not make a range`, r.quoted(here, ".."))
	case t.Value == "\u00a0" || t.Value == "\u202f" || t.Value == "\u2009":
		return r.fail(here, "a space that is not a plain space stands here", r.quoted(here, " "))
	}
	return r.fail(here, fmt.Sprintf("the character %q has no meaning in a value", t.Value), r.example())
}

// quoted shows the whole text with the place replaced; of a long text only the
// replacement.
func (r *reader) quoted(p place, with string) string {
	if len(r.text) > 80 {
		if with == "" {
			return "leave it out"
		}
		return fmt.Sprintf("%q", with)
	}
	s := r.text[:p.start] + with + r.text[p.end:]
	return `"` + strings.Join(strings.Fields(s), " ") + `"`
}

// clip shortens what a message repeats from the file.
func clip(s string) string {
	const most = 40
	n := 0
	for i := range s {
		if n == most {
			return s[:i] + "..."
		}
		n++
	}
	return s
}
