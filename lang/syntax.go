package lang

import (
	"bytes"
	"strings"

	"github.com/hashicorp/hcl/v2"
	"github.com/hashicorp/hcl/v2/hclsyntax"

	"tapline/lang/diag"
)

// What the HCL parser says is put into this language's words: it calls
// attributes arguments, and does not know what the files are for.

// wording gives a sentence and a hint for the summaries of the parser that a
// file can bring about once the guard has passed it.
var wording = []struct{ summary, message, hint string }{
	{"Argument or block definition required", "an attribute or a block is expected here", `name = "value", or kind "TAG" { ... }`},
	{"Argument definition required", "a one-line block holds one attribute at most, and no block", "put each attribute and nested block on a line of its own"},
	{"Invalid single-argument block definition", "a one-line block holds one attribute at most, and no block", "put each attribute and nested block on a line of its own"},
	{"Invalid argument name", "the name of an attribute is not quoted", `name = "value"`},
	{"Invalid block definition", "a block is its kind, its tag in quotes and an opening brace, on one line", `valve "NV-1" {`},
	{"Unclosed configuration block", "this block is not closed", "add the closing brace }"},
	{"Unclosed configuration body", "this block is not closed", "add the closing brace }"},
	{"Missing newline after argument", "an attribute ends with its line", "put what follows on a line of its own"},
	{"Unexpected comma after argument", "attributes are separated by lines, not by commas", "leave out the comma"},
	{"Missing newline after block definition", "a block ends with its line", "put what follows on a line of its own"},
	{"Invalid expression", "a value is expected here", `"3.2 barg"`},
	{"Missing expression", "a value is expected here", `"3.2 barg"`},
	{"Missing item separator", "the elements of a list are separated by commas", `["(P1)", "(P2)"]`},
	{"Unterminated tuple constructor expression", "this list is not closed", "add the closing bracket ]"},
	{"Unterminated object constructor expression", "this map is not closed", "add the closing brace }"},
	{"Missing attribute separator", "the entries of a map are separated by commas or lines", "{ methane = 90, hydrogen = 10 }"},
	{"Missing key/value separator", "an entry of a map is a key, = and a value", "{ methane = 90, hydrogen = 10 }"},
	{"Missing attribute value", "an entry of a map is a key, = and a value", "{ methane = 90, hydrogen = 10 }"},
	{"Invalid multi-line string", "a quoted text ends on its line", "write a longer text as a heredoc: <<-TEXT ... TEXT"},
	{"Unterminated template string", "this text is not closed", `add the closing quote "`},
	{"Unterminated string literal", "this text is not closed", `add the closing quote "`},
	{"Unclosed template interpolation sequence", "this text is not closed", "write $${ for ${"},
	{"Invalid number literal", "this is no number", ""},
	{"Invalid attribute name", "a name is expected after the dot", "given.flare_high"},
}

// syntax reports what the parser found and tells whether the file cannot be
// used for it. An attribute given twice does not spoil the rest.
func (r *rawReader) syntax(body *hclsyntax.Body, ds hcl.Diagnostics) (spoilt bool) {
	for _, d := range ds {
		at := r.src.rangeOf(0, 0)
		if d.Subject != nil {
			at = r.at(*d.Subject)
		}
		if d.Summary == "Attribute redefined" {
			name := string(r.src.bytes[at.Start.Byte:at.End.Byte])
			f := r.found.errorf(repeatedAttr, at, "", "%s is given twice", name)
			if f.c == nil {
				continue
			}
			if first := firstOf(body, name, at.Start.Byte); first != nil {
				f.relate(r.at(first.NameRange), "first given here")
			}
			continue
		}
		spoilt = true
		message, hint := strings.ToLower(d.Summary), ""
		for _, w := range wording {
			if w.summary == d.Summary {
				message, hint = w.message, w.hint
				break
			}
		}
		r.found.errorf(syntaxError, oneWord(r.src, onLine(r.src, at)), hint, "%s", message)
	}
	return spoilt
}

// onLine moves a range that is a line's end, or nothing, to the last character
// before it: an error belongs to the line it was made on.
func onLine(src *source, at diag.Range) diag.Range {
	start, end := at.Start.Byte, at.End.Byte
	text := strings.TrimRight(string(src.bytes[start:end]), "\r\n")
	if end = start + len(text); end > start {
		return src.rangeOf(start, end)
	}
	for start > 0 && strings.IndexByte(" \t\r\n", src.bytes[start-1]) >= 0 {
		start--
	}
	if start == 0 {
		return at
	}
	end = start
	for start--; start > 0 && !startsRune(src.bytes[start]); start-- {
	}
	return src.rangeOf(start, end)
}

// oneWord cuts a range at its first space: the parser likes to underline up to
// the middle of the next string.
func oneWord(src *source, at diag.Range) diag.Range {
	text := src.bytes[at.Start.Byte:at.End.Byte]
	if i := bytes.IndexByte(text, ' '); i > 0 {
		return src.rangeOf(at.Start.Byte, at.Start.Byte+i)
	}
	return at
}

// firstOf finds the first attribute of that name in the innermost body around
// a byte.
func firstOf(body *hclsyntax.Body, name string, at int) *hclsyntax.Attribute {
	if body == nil {
		return nil
	}
	for _, b := range body.Blocks {
		if b.OpenBraceRange.Start.Byte <= at && at < b.CloseBraceRange.End.Byte {
			return firstOf(b.Body, name, at)
		}
	}
	return body.Attributes[name]
}
