// Package guard refuses what a system file may not contain, before any parser
// sees it.
//
// The parser of the syntax recurses into brackets, operators, templates and
// function calls, and Go cannot recover from a stack that overflows: a file of
// a hundred thousand brackets would end the process. The language needs none of
// that depth, so Check goes over the tokens once and lets pass only what the
// language has: identifiers, strings and heredocs without template markers,
// numbers, "= , : { } [ ] .", newlines and comments, nested 16 deep at most.
// What passes can be parsed with bounded depth and in bounded time.
//
// Check is not a parser: a file that passes may still make no sense. Where the
// token at hand shows what the writer had in mind (a value without quotes, a
// decimal comma, a curly quote), the hint says what to write.
//
// Time and memory are linear in the size of the file, which is limited first.
package guard

import (
	"bytes"
	"fmt"
	"unicode/utf8"

	"github.com/hashicorp/hcl/v2"
	"github.com/hashicorp/hcl/v2/hclsyntax"

	"tapline/lang/diag"
)

// Limits of one file.
const (
	MaxBytes       = 256 * 1024
	MaxNesting     = 16    // braces and brackets together
	MaxLabels      = 3     // of one block
	MaxDigits      = 64    // characters of a number
	MaxParts       = 1_000 // lines of a heredoc, escaped marks of a string
	MaxDiagnostics = 20    // after which the file is given up
)

// Codes of what Check finds. All are errors.
const (
	FileTooLarge   = "file-too-large"
	NotText        = "not-text"        // not UTF-8, or control characters
	NotAllowed     = "not-allowed"     // syntax that the language does not have
	Unclosed       = "unclosed"        // string, heredoc, comment or bracket without its end
	TooDeep        = "nested-too-deep" // more than MaxNesting
	TooManyLabels  = "too-many-labels" // more than MaxLabels
	BadNumber      = "bad-number"      // too long, or an absurd exponent
	TextTooLong    = "text-too-long"   // more than MaxParts
	GivenUp        = "too-many-errors" // MaxDiagnostics reached
	UnquotedValue  = "unquoted-value"  // 3.2 barg instead of "3.2 barg"
	WrongCharacter = "wrong-character" // a character of another language or of a word processor
)

// Check goes over the bytes of one file and returns an error for everything
// that the language does not have, in the order of the file, at most
// MaxDiagnostics and one that says so. A file with none can be given to the
// parser. name stands in the ranges as it is.
func Check(name string, src []byte) []diag.Diagnostic {
	_, found := Tokens(name, src)
	return found
}

// Tokens is Check, and gives the tokens it went over; nil where the file was not
// taken apart.
func Tokens(name string, src []byte) (hclsyntax.Tokens, []diag.Diagnostic) {
	c := &checker{lines: NewLines(name, src), src: src}
	if len(src) > MaxBytes {
		c.add(FileTooLarge, 0, min(len(src), 1), fmt.Sprintf("the file has %d bytes; at most %d are read", len(src), MaxBytes), "split the system over several files of the folder")
		return nil, c.found
	}
	if c.text(); len(c.found) > 0 {
		return nil, c.found // the tokens of what is not text mean nothing
	}
	tokens, _ := hclsyntax.LexConfig(src, name, hcl.InitialPos)
	c.tokens(tokens)
	diag.Sort(c.found)
	return tokens, c.found
}

// IsText tells whether Check would take every byte of a file for text.
func IsText(src []byte) bool {
	c := &checker{lines: &Lines{src: src, starts: []int{0}}, src: src} // where it is not does not matter
	c.text()
	return len(c.found) == 0
}

// A checker collects what is wrong with one file.
type checker struct {
	lines *Lines
	src   []byte
	found []diag.Diagnostic
	full  bool
}

func (c *checker) add(code string, start, end int, message, hint string) {
	if c.full {
		return
	}
	if len(c.found) == MaxDiagnostics {
		c.full = true
		code, message, hint = GivenUp, fmt.Sprintf("more than %d errors; the rest of the file is not looked at", MaxDiagnostics), ""
	}
	c.found = append(c.found, diag.Diagnostic{Code: code, Level: diag.Error, Range: c.lines.Range(start, end), Message: message, Hint: hint})
}

// text refuses bytes that are not text: invalid UTF-8, control characters, and
// the invisible marks that make a line read otherwise than it is.
func (c *checker) text() {
	for i := 0; i < len(c.src) && !c.full; {
		if b := c.src[i]; ' ' <= b && b < 0x7f || b == '\n' {
			i++
			continue
		}
		r, size := utf8.DecodeRune(c.src[i:])
		switch {
		case r == utf8.RuneError && size == 1:
			hint := "save the file as UTF-8"
			if bytes.HasPrefix(c.src, []byte{0xff, 0xfe}) || bytes.HasPrefix(c.src, []byte{0xfe, 0xff}) {
				hint = "the file looks like UTF-16; save it as UTF-8"
			}
			c.add(NotText, i, i+1, "the file is not valid UTF-8 text from here on", hint)
			return
		case r == '\r' && (i+1 == len(c.src) || c.src[i+1] != '\n'):
			c.add(NotText, i, i+1, "a carriage return stands alone", "end lines with LF or CR LF")
			return
		case r == '\r' || r == '\t':
		case r < ' ' || r >= 0x7f && r < 0xa0:
			c.add(NotText, i, i+size, fmt.Sprintf("a control character, U+%04X", r), "leave it out")
		case r >= 0x202a && r <= 0x202e || r >= 0x2066 && r <= 0x2069:
			c.add(NotText, i, i+size, fmt.Sprintf("an invisible mark that turns the direction of text, U+%04X", r), "leave it out")
		case r == 0xfeff && i > 0:
			c.add(NotText, i, i+size, "a byte order mark inside the file", "leave it out")
		}
		i += size
	}
}
