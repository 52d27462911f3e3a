package path

import (
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/alecthomas/participle/v2/lexer"
)

// Parse reads one path. The error is always an *Error.
//
// What only a whole file can tell is left to the caller: names that differ in
// case only, tags that are in no path, ports used twice. What one path can tell
// is checked here: at least two stops, no two labels in a row, ports only on
// the first and the last stop, a cap only behind a label that ends the path.
func Parse(text string) ([]Step, error) {
	steps, err := parse(text)
	if err != nil {
		return nil, err
	}
	return steps, nil
}

const example = `such as "GRID -> V-10 -> (P1)"`

func parse(text string) ([]Step, *Error) {
	switch {
	case len(text) > MaxLength:
		return nil, &Error{fmt.Sprintf("the path is %d bytes long; at most %d are read", len(text), MaxLength), "break it at a label into several", 0, len(text)}
	case strings.TrimSpace(text) == "":
		return nil, &Error{"the path is empty", example, 0, len(text)}
	case !utf8.ValidString(text):
		return nil, &Error{"the path is not valid UTF-8 text", "", 0, len(text)}
	}
	tree := quick(text)
	if tree == nil {
		var err *Error
		if tree, err = byGrammar(text); err != nil {
			return nil, err
		}
	}
	stops := append([]stop{tree.First}, tree.Rest...)
	steps := make([]Step, len(stops))
	for i := range stops {
		var err *Error
		if steps[i], err = stops[i].step(text); err != nil {
			return nil, err
		}
	}
	if err := check(text, steps); err != nil {
		return nil, err
	}
	return steps, nil
}

// byGrammar parses a text by the grammar, which alone says what is wrong.
func byGrammar(text string) (*chain, *Error) {
	tokens, err := scan(text)
	if err != nil {
		return nil, &Error{"the path cannot be read", example, 0, len(text)}
	}
	if err := slips(text, tokens); err != nil {
		return nil, err
	}
	stream, err := lexer.Upgrade(&replay{tokens: tokens})
	if err != nil {
		return nil, &Error{"the path cannot be read", example, 0, len(text)}
	}
	tree, err := grammar().ParseFromLexer(stream)
	if err != nil {
		return nil, explain(text, tokens, err)
	}
	return tree, nil
}

// scan cuts a text into tokens without blank ones, the end of text last.
func scan(text string) ([]lexer.Token, error) {
	lex, err := definition().LexString("", text)
	if err != nil {
		return nil, err
	}
	var tokens []lexer.Token
	for {
		t, err := lex.Next()
		if err != nil {
			return nil, err
		}
		if t.Type == kindTubeName {
			t.Type = kindName
		}
		if t.Type != kindSpace && (t.Type != kindText || strings.TrimSpace(t.Value) != "") {
			tokens = append(tokens, t)
		}
		if t.EOF() {
			return tokens, nil
		}
	}
}

// replay hands the tokens that have been checked on to the parser.
type replay struct {
	tokens []lexer.Token
	next   int
}

func (l *replay) Next() (lexer.Token, error) {
	t := l.tokens[min(l.next, len(l.tokens)-1)]
	l.next++
	return t, nil
}

// step gives the meaning of one stop.
func (s *stop) step(text string) (Step, *Error) {
	switch {
	case s.Tube != nil:
		return s.Tube.step(text)
	case s.Label != nil:
		return s.Label.step(text)
	}
	return s.Device.step()
}

func (d *device) step() (Step, *Error) {
	out := Step{Kind: Device, Start: d.Name.Pos.Offset, End: end(d.Name)}
	var err *Error
	if out.Name, err = name(d.Name); err != nil {
		return out, err
	}
	if d.Port != nil {
		if d.Dot.Pos.Offset != end(d.Name) || d.Port.Pos.Offset != end(*d.Dot) {
			return out, &Error{"a space stands between the tag and its port", fmt.Sprintf("%q", d.Name.Value+"."+d.Port.Value), d.Name.Pos.Offset, end(*d.Port)}
		}
		if strings.Contains(d.Port.Value, "/") {
			return out, &Error{fmt.Sprintf("%q is not the name of a port", clip(d.Port.Value)), "the panel stands before the tag, \"R1/NV-2.out\"", d.Port.Pos.Offset, end(*d.Port)}
		}
		out.Port, out.End = d.Port.Value, end(*d.Port)
	}
	if d.Name.Value == "cap" {
		out.Kind = Cap
		if out.Port != "" {
			return out, &Error{"a cap has no ports", "", out.Start, out.End}
		}
	}
	return out, nil
}

func (l *label) step(text string) (Step, *Error) {
	out := Step{Kind: Label, Start: l.Open.Pos.Offset, End: end(l.Close)}
	if l.Quoted != nil {
		var err *Error
		out.Name, err = name(*l.Quoted)
		return out, err
	}
	if l.Text == nil {
		return out, &Error{"the parentheses are empty", "a label has a name, \"(P1)\"", out.Start, out.End}
	}
	start, stop := trimmed(*l.Text)
	out.Name = text[start:stop]
	if !plainName(out.Name) {
		return out, &Error{fmt.Sprintf("%q is not a name", clip(out.Name)), fmt.Sprintf("a label with other signs than letters, digits, _ and - stands in quotes: ('%s')", clip(out.Name)), start, stop}
	}
	if err := reserved(out.Name, start, stop); err != nil {
		return out, err
	}
	return out, nil
}

// name takes the quotes off a tag and checks it.
func name(t lexer.Token) (string, *Error) {
	start, stop := t.Pos.Offset, end(t)
	if t.Type != kindQuoted && t.Type != kindInsideQuoted {
		return t.Value, nil
	}
	s := t.Value[1 : len(t.Value)-1]
	switch {
	case s == "":
		return s, &Error{"the quotes are empty", "'ball valve 3'", start, stop}
	case strings.TrimSpace(s) != s:
		return s, &Error{"the name begins or ends with a space", fmt.Sprintf("'%s'", clip(strings.TrimSpace(s))), start, stop}
	case strings.ContainsFunc(s, func(c rune) bool { return !unicode.IsPrint(c) }):
		return s, &Error{"the name holds a character that cannot be seen", "", start, stop}
	}
	return s, reserved(s, start, stop)
}

// reserved refuses the two words of the path language as names.
func reserved(s string, start, stop int) *Error {
	if s == "tube" || s == "cap" {
		return &Error{fmt.Sprintf("%q is a word of the path language, not a name", s), "choose another name", start, stop}
	}
	return nil
}

// plainName reports whether a name needs no quotes.
func plainName(s string) bool {
	joined := true // a dash or slash must stand between two other characters
	for i := 0; i < len(s); i++ {
		c := s[i]
		switch {
		case c == '_' || c >= '0' && c <= '9' || c >= 'A' && c <= 'Z' || c >= 'a' && c <= 'z':
			joined = false
		case (c == '-' || c == '/') && !joined:
			joined = true
		default:
			return false
		}
	}
	return !joined
}

// trimmed gives the place of a run of text without the blanks around it.
func trimmed(t lexer.Token) (start, stop int) {
	start, stop = t.Pos.Offset, end(t)
	start += len(t.Value) - len(strings.TrimLeftFunc(t.Value, unicode.IsSpace))
	stop -= len(t.Value) - len(strings.TrimRightFunc(t.Value, unicode.IsSpace))
	return start, stop
}

// check looks at what the stops are to each other.
func check(text string, steps []Step) *Error {
	last := len(steps) - 1
	if last == 0 {
		s := steps[0]
		if s.Kind == Cap {
			return &Error{"a cap stands behind a label", `"(TP-1) -> cap"`, s.Start, s.End}
		}
		return &Error{"the path has one stop; it joins at least two", fmt.Sprintf(`"%s -> (P1)"`, clip(text[s.Start:s.End])), s.Start, s.End}
	}
	for i, s := range steps {
		switch {
		case s.Kind == Label && i > 0 && steps[i-1].Kind == Label:
			return &Error{"two labels follow each other with no device between them", "put a device or a tube between them, or give the node one label", steps[i-1].Start, s.End}
		case s.Port != "" && i > 0 && i < last:
			return &Error{fmt.Sprintf("a port stands in the middle of a path, where %q is entered at its inlet and left at its outlet", clip(s.Name)), fmt.Sprintf("%q, or end the path here and begin another", clip(s.Name)), s.Start, s.End}
		case s.Kind == Cap && (i != last || steps[i-1].Kind != Label):
			return &Error{"a cap stands behind a label and ends the path", `"(TP-1) -> cap"`, s.Start, s.End}
		}
	}
	return nil
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
