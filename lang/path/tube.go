package path

import (
	"fmt"
	"strings"
)

// example of a whole tube, for hints.
const tubeExample = `"tube(6 mm x 1 mm, 32 m, 4 bends, rise 2 m)"`

func (t *tube) step(text string) (Step, *Error) {
	out := Step{Kind: Tube, Tube: &TubeRun{}, Start: t.Word.Pos.Offset, End: end(t.Close)}
	if t.Name != nil {
		var err *Error
		if out.Name, err = name(*t.Name); err != nil {
			return out, err
		}
		if err = reserved(out.Name, t.Name.Pos.Offset, end(*t.Name)); err != nil {
			return out, err
		}
	}
	if len(t.Args) == 0 {
		return out, &Error{"the parentheses of the tube are empty", tubeExample, t.Open.Pos.Offset, out.End}
	}
	bare, named := 0, map[string]bool{}
	for _, a := range t.Args {
		start, stop := trimmed(a.Text)
		arg, err := argumentOf(text[start:stop], start)
		if err != nil {
			return out, err
		}
		switch {
		case arg.Name == "":
			if bare++; bare > 2 {
				return out, &Error{"a tube takes a size and a length, and this is a third value without a name", tubeExample, start, stop}
			}
		case named[arg.Name]:
			return out, &Error{fmt.Sprintf("%q stands twice in one tube", arg.Name), "state it once", start, stop}
		default:
			named[arg.Name] = true
		}
		out.Tube.Args = append(out.Tube.Args, arg)
	}
	return out, nil
}

// argumentOf reads one argument, trimmed and not empty, that begins at offset
// start of the path.
func argumentOf(s string, start int) (Arg, *Error) {
	stop := start + len(s)
	if c := s[0]; c >= '0' && c <= '9' || c == '-' || c == '.' || c == '+' {
		fields := strings.Fields(s)
		if word := fields[len(fields)-1]; word != "bend" && word != "bends" {
			return Arg{Text: s, Start: start, End: stop}, nil
		}
		number := fields[0]
		if len(fields) != 2 || strings.Trim(number, "0123456789") != "" || len(number) > 6 {
			return Arg{}, &Error{"the number of bends is a whole number", `"4 bends"`, start, stop}
		}
		return Arg{Name: "bends", Text: number, Start: start, End: start + len(number)}, nil
	}
	word := s
	if i := strings.IndexFunc(s, func(c rune) bool { return c < 'A' || c > 'z' || c > 'Z' && c < 'a' }); i >= 0 {
		word = s[:i]
	}
	value := strings.TrimSpace(s[len(word):])
	switch word {
	case "rise", "k", "roughness":
		if value == "" {
			return Arg{}, &Error{fmt.Sprintf("no value follows %q", word), fmt.Sprintf("%q", tubeWords[word]), start, stop}
		}
		if value[0] == '=' || value[0] == ':' {
			return Arg{}, &Error{fmt.Sprintf("the value follows %q without a sign between them", word), fmt.Sprintf("%q", tubeWords[word]), start, stop}
		}
		return Arg{Name: word, Text: value, Start: stop - len(value), End: stop}, nil
	case "bend", "bends":
		return Arg{}, &Error{"the number of bends stands before the word", `"4 bends"`, start, stop}
	}
	return Arg{}, &Error{fmt.Sprintf("%q is not something a tube is given", clip(s)), `size, length, "4 bends", "rise 2 m", "k 1.5" or "roughness 0.0015 mm"`, start, stop}
}

// tubeWords are the named arguments with an example of each.
var tubeWords = map[string]string{
	"rise":      "rise 2 m",
	"k":         "k 1.5",
	"roughness": "roughness 0.0015 mm",
}
