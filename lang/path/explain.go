package path

import (
	"errors"
	"fmt"
	"strings"
	"unicode"

	"github.com/alecthomas/participle/v2"
	"github.com/alecthomas/participle/v2/lexer"
)

// slips finds what can never be right in a path, before the parser runs: wrong
// arrows, open parentheses, characters that need quotes, too many stops.
func slips(text string, tokens []lexer.Token) *Error {
	stops := 1
	var open *lexer.Token
	for i := range tokens {
		t := &tokens[i]
		switch t.Type {
		case kindArrow:
			if stops++; stops > MaxStops {
				return &Error{fmt.Sprintf("the path has more than %d stops", MaxStops), "break it at a label into several", t.Pos.Offset, end(*t)}
			}
		case kindNearArrow:
			message := fmt.Sprintf("%q is not an arrow", clip(t.Value))
			if strings.HasPrefix(t.Value, "<") {
				return &Error{message, `"->", in the direction of flow`, t.Pos.Offset, end(*t)}
			}
			return &Error{message, `"->"`, t.Pos.Offset, end(*t)}
		case kindOpen:
			open = t
		case kindInsideClose:
			open = nil
		case kindNested:
			return &Error{"parentheses stand inside parentheses", "", t.Pos.Offset, end(*t)}
		case kindInsideArrow:
			return unclosed(text, open, t.Pos.Offset)
		case kindDash:
			return &Error{"a dash stands at an end, not between two letters or digits", "", t.Pos.Offset, end(*t)}
		case kindApostrophe:
			return &Error{"the quote is not closed", "end the name with another '", t.Pos.Offset, end(*t)}
		case kindClose:
			return &Error{"a parenthesis closes that was not opened", "", t.Pos.Offset, end(*t)}
		case kindOther:
			return strange(text, tokens, i)
		}
	}
	if open != nil {
		return unclosed(text, open, len(text))
	}
	return nil
}

func unclosed(text string, open *lexer.Token, before int) *Error {
	start := open.Pos.Offset
	inside := strings.TrimSpace(text[start:before])
	return &Error{"the parenthesis is not closed", fmt.Sprintf(`"%s)"`, clip(inside)), start, start + 1}
}

// strange explains a character outside names.
func strange(text string, tokens []lexer.Token, i int) *Error {
	t := &tokens[i]
	start, stop := t.Pos.Offset, end(*t)
	switch t.Value {
	case "'":
		return &Error{"the quote is not closed", "end the name with another '", start, stop}
	case `"`:
		return &Error{"double quotes do not stand in a path", "'ball valve 3'", start, stop}
	case ",", ";", "|":
		return &Error{fmt.Sprintf("%q does not join two stops", t.Value), `"->"`, start, stop}
	case "*":
		return &Error{`"*" stands for panels in cases, spreads, bands and waivers, never in a path`, "write a path for each panel", start, stop}
	case "-":
		if word := tokens[i+1]; word.Type == kindOther && word.Pos.Offset == stop {
			break // the character behind it is what needs quotes
		}
		if i > 0 && end(tokens[i-1]) == start {
			return &Error{"a tag does not end with a dash", `"V-10", or "->" for an arrow`, start, stop}
		}
		return &Error{`"-" does not join two stops`, `"->"`, start, stop}
	}
	if !unicode.IsPrint([]rune(t.Value)[0]) {
		return &Error{"a character stands here that cannot be seen", "", start, stop}
	}
	// The whole word around the character, with the quotes it needs.
	from := strings.LastIndexFunc(text[:start], unicode.IsSpace) + 1
	to := len(text)
	if n := strings.IndexFunc(text[start:], unicode.IsSpace); n >= 0 {
		to = start + n
	}
	word := strings.Trim(text[from:to], "'")
	hint := ""
	if !strings.ContainsAny(word, "'()>") {
		hint = fmt.Sprintf("'%s'", clip(word))
	}
	if t.Value == "-" {
		start, stop = stop, end(tokens[i+1])
	}
	return &Error{fmt.Sprintf("%q does not stand in a tag without quotes", text[start:stop]), hint, start, stop}
}

// explain turns the parser's complaint, which knows only tokens, into what was
// meant and left out.
func explain(text string, tokens []lexer.Token, err error) *Error {
	offset := len(text)
	var perr participle.Error
	if errors.As(err, &perr) {
		offset = perr.Position().Offset
	}
	solid := tokens[:len(tokens)-1] // without the end of text
	bad := 0
	for bad < len(solid) && solid[bad].Pos.Offset < offset {
		bad++
	}
	var before lexer.Token
	if bad > 0 {
		before = solid[bad-1]
	}
	atTube := bad > 0 && (before.Type == kindTube || bad > 1 && solid[bad-2].Type == kindTube)
	if bad == len(solid) {
		start, stop := before.Pos.Offset, end(before)
		switch {
		case before.Type == kindArrow:
			return &Error{"nothing follows the arrow", "name the next stop, or leave the arrow out", start, stop}
		case before.Type == kindDot:
			return &Error{"no port follows the point", `"AE-11.out"`, start, stop}
		case atTube:
			return &Error{"a tube has its size and length in parentheses behind it", tubeExample, start, stop}
		}
		return &Error{"the path stops too early", "", start, stop}
	}
	t := solid[bad]
	start, stop := trimmed(t)
	switch {
	case t.Type == kindArrow && bad == 0:
		return &Error{"the path begins with an arrow", "name the stop it comes from", start, stop}
	case t.Type == kindArrow && before.Type == kindArrow:
		return &Error{"two arrows follow each other", "name the stop between them, or leave one out", before.Pos.Offset, stop}
	case t.Type == kindDot && bad == 0, t.Type == kindDot && before.Type == kindArrow:
		return &Error{"a point stands where a tag begins", `"AE-11.out"`, start, stop}
	case t.Type == kindDot && before.Type == kindInsideClose:
		return &Error{"only a device has ports", "name the device, \"AE-11.out\"", start, stop}
	case t.Type == kindDot:
		return &Error{"a tag is followed by one port", "a tag that holds a point stands in quotes, 'V.1'", start, stop}
	case before.Type == kindDot:
		return &Error{"no port follows the point", `"AE-11.out"`, before.Pos.Offset, stop}
	case insideTube(solid, bad):
		return argumentMissing(solid, bad)
	case t.Type == kindComma:
		return &Error{"a label is one name", `"(P1)"`, start, stop}
	case t.Type == kindInsideQuoted || before.Type == kindInsideQuoted:
		return &Error{"quotes stand around the whole name or not at all", "('sample point 1')", start, stop}
	case atTube && t.Type != kindOpen:
		return &Error{"a tube has its size and length in parentheses behind it", tubeExample, before.Pos.Offset, end(before)}
	case t.Type == kindOpen && before.Type == kindName && end(before) == start:
		hint := fmt.Sprintf("a tube with that tag: \"tube %s(...)\"", clip(before.Value))
		if strings.EqualFold(before.Value, "tube") {
			hint = `"tube(...)"`
		}
		return &Error{fmt.Sprintf("only a tube takes parentheses, %q is a tag", clip(before.Value)), hint, before.Pos.Offset, stop}
	}
	if bad > 0 && (t.Type == kindName || t.Type == kindTube || t.Type == kindQuoted || t.Type == kindOpen) {
		hint := "\"->\" between two stops"
		if t.Type == kindName && before.Type == kindName {
			hint = fmt.Sprintf("\"%s -> %s\", or '%s %s' if it is one tag", clip(before.Value), clip(t.Value), clip(before.Value), clip(t.Value))
		}
		return &Error{fmt.Sprintf("no arrow stands before %q", clip(t.Value)), hint, start, stop}
	}
	return &Error{fmt.Sprintf("%q does not belong here", clip(t.Value)), "", start, stop}
}

// insideTube reports whether a token stands in the parentheses of a tube.
func insideTube(solid []lexer.Token, i int) bool {
	for i--; i >= 0; i-- {
		switch solid[i].Type {
		case kindInsideClose, kindArrow:
			return false
		case kindOpen:
			return i > 0 && solid[i-1].Type == kindTube || i > 1 && solid[i-2].Type == kindTube
		}
	}
	return false
}

// argumentMissing explains the arguments of a tube: the parser stops at the
// comma before whatever it could not read.
func argumentMissing(solid []lexer.Token, bad int) *Error {
	for _, t := range solid[bad:min(bad+2, len(solid))] {
		if t.Type == kindInsideQuoted {
			return &Error{"an argument of a tube has no quotes", tubeExample, t.Pos.Offset, end(t)}
		}
	}
	t := solid[bad]
	return &Error{"an argument is missing beside the comma", "leave the comma out", t.Pos.Offset, end(t)}
}
