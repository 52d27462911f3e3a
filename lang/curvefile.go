package lang

import (
	"bytes"
	"fmt"
	"math"
	"path"
	"regexp"
	"slices"
	"strings"
	"sync"
	"unicode"
	"unicode/utf8"

	"tapline/lang/quantity"
)

// A measured curve may stand in a file of its own beside the system's, as a rig or a
// spreadsheet writes it:
//
//	# rig 2, nitrogen
//	flow [slpm], pressure [barg]
//	0,   3.60
//	60,  3.30
//
// Comma-separated text (RFC 4180 without line breaks in a field) of two columns. The
// first line names them and their units; their order is free. All below are plain
// numbers with a decimal point. Empty lines and lines that begin with # are left
// alone, as is a byte order mark. The name in "from" is relative to the system's
// folder and may lead out of it as far as the repository reaches, like a link.
//
// The points become what a list of points in the HCL file would have been, each number
// at its own place in the file of the curve: what is wrong with one, here or where the
// curve is made use of, is underlined there.

// CurveExtension is what the name of a curve's file ends in.
const CurveExtension = ".csv"

// An opener gives the bytes of a file beside the system's, by its name relative to
// the folder with forward slashes, or the code and the reason why there are none.
type opener func(name string) (src []byte, code string, err error)

var plainNumber = sync.OnceValue(func() *regexp.Regexp {
	return regexp.MustCompile(`^[-+]?([0-9]+(\.[0-9]*)?|\.[0-9]+)([eE][-+]?[0-9]{1,3})?$`)
})

// maxNumberRunes is how long a number of a curve's file may be.
const maxNumberRunes = 64

// curveFile reads the file that v names into the list of its points.
func (c *checker) curveFile(v *Value) bool {
	name := path.Clean(v.Text)
	switch {
	case strings.ContainsAny(v.Text, `\:`) || path.IsAbs(name) || strings.HasPrefix(v.Text, "~"):
		c.found.errorf(badCurveFile, v.Range, `from = "curves/pcv-11.csv"`, "the file of a curve is named from the folder of the system on, with forward slashes")
		return false
	case !strings.HasSuffix(name, CurveExtension):
		c.found.errorf(badCurveFile, v.Range, `from = "pcv-11.csv"`, "the name of a curve's file ends in %s", CurveExtension)
		return false
	}
	src := c.curves[name]
	if src == nil {
		if len(c.curves) >= maxFiles {
			c.found.errorf(tooLarge, v.Range, "", "a system has at most %d files of curves", maxFiles)
			return false
		}
		data, code, err := c.open(name)
		if err != nil {
			c.found.errorf(code, v.Range, "", "the curve cannot be read: %s", reason(err))
			return false
		}
		if len(data) > maxCurveBytes {
			c.found.errorf(tooLarge, v.Range, "", "the file of a curve has at most %d bytes", maxCurveBytes)
			return false
		}
		if c.curveBytes += len(data); c.curveBytes > maxTotalBytes {
			c.found.errorf(tooLarge, v.Range, "", "the curves of a system have at most %d bytes together", maxTotalBytes)
			return false
		}
		src = newSource(path.Join(c.shown, name), data)
		c.curves[name] = src
	}
	r := curveReader{in: c.in, src: src, from: v}
	v.List = r.read()
	return v.List != nil
}

// A curveReader reads one file of a curve.
type curveReader struct {
	in    *interpreter
	src   *source
	from  *Value
	units [2]string // of flow and pressure
	at    [2]int    // their columns
}

// A field is one field of a line: its text, and where it stands.
type field struct {
	text       string
	start, end int
}

func (r *curveReader) wrong(start, end int, hint, format string, args ...any) {
	r.in.found.errorf(badCurveFile, r.src.rangeOf(start, end), hint, format, args...).relate(r.from.Range, "read for this curve")
}

// read gives the points, nil where something is wrong.
func (r *curveReader) read() (points []*Value) {
	b := r.src.bytes
	if !r.isText() {
		return nil
	}
	headed, ok := false, true
	for at := 0; at < len(b); {
		end := bytes.IndexByte(b[at:], '\n')
		next := len(b)
		if end < 0 {
			end = len(b)
		} else {
			end, next = at+end, at+end+1
		}
		start := at
		at = next
		if start == 0 {
			start += len(b[:end]) - len(bytes.TrimPrefix(b[:end], []byte("\ufeff")))
		}
		line := bytes.TrimRight(b[start:end], " \t\r")
		if text := bytes.TrimLeft(line, " \t"); len(text) == 0 || text[0] == '#' {
			continue
		}
		fields, good := r.fields(start, start+len(line))
		switch {
		case !good:
			return nil
		case !headed:
			if !r.head(fields) {
				return nil
			}
			headed = true
		case len(points) == mostPoints:
			r.wrong(start, start+len(line), "leave some out", "a curve has at most %d points", mostPoints)
			return nil
		default:
			p := r.point(fields)
			if p == nil {
				ok = false
			}
			points = append(points, p)
		}
	}
	switch {
	case !headed:
		r.wrong(0, len(b), "flow [slpm], pressure [barg]", "the file of the curve is empty: its first line names the columns")
	case ok && len(points) < leastPoints:
		r.wrong(0, len(b), "", "a curve has at least %d points; here are %d", leastPoints, len(points))
	case ok:
		return points
	}
	return nil
}

// isText sees to it that the file is text that can be shown.
func (r *curveReader) isText() bool {
	b := r.src.bytes
	for i := 0; i < len(b); {
		c, width := utf8.DecodeRune(b[i:])
		switch {
		case c == utf8.RuneError && width == 1:
			r.wrong(i, i+1, "save it as text in UTF-8", "the file of the curve is no text in UTF-8")
			return false
		case i == 0 && c == '\ufeff', c == '\n', c == '\t', c == '\r' && i+1 < len(b) && b[i+1] == '\n':
		case unicode.IsControl(c) || unicode.Is(unicode.Cf, c):
			r.wrong(i, i+width, "leave it out", "the file of the curve holds the invisible character U+%04X", c)
			return false
		}
		i += width
	}
	return true
}

// fields parts a line at its commas.
func (r *curveReader) fields(start, end int) (out []field, ok bool) {
	b := r.src.bytes
	for at := start; ; at++ {
		for at < end && (b[at] == ' ' || b[at] == '\t') {
			at++
		}
		f := field{start: at, end: at}
		if at < end && b[at] == '"' {
			var text []byte
			for at++; ; at++ {
				if at >= end {
					r.wrong(f.start, end, `close it with "`, "this quoted field is not closed")
					return nil, false
				}
				if b[at] == '"' {
					if at+1 >= end || b[at+1] != '"' {
						break
					}
					at++
				}
				text = append(text, b[at])
			}
			at++
			f.text, f.end = strings.TrimSpace(string(text)), at
			for at < end && (b[at] == ' ' || b[at] == '\t') {
				at++
			}
			if at < end && b[at] != ',' {
				r.wrong(f.start, end, "put a comma after it", "a quoted field ends with its closing quote")
				return nil, false
			}
		} else {
			for at < end && b[at] != ',' {
				at++
			}
			f.text = strings.TrimRight(string(b[f.start:at]), " \t")
			f.end = f.start + len(f.text)
		}
		out = append(out, f)
		if at >= end {
			return out, true
		}
	}
}

// head reads the names and units of the columns.
func (r *curveReader) head(fields []field) bool {
	const sample = "flow [slpm], pressure [barg]"
	first, last := fields[0], fields[len(fields)-1]
	if len(fields) != 2 {
		hint := sample
		if len(fields) == 1 && strings.Contains(first.text, ";") {
			hint += ": commas between columns, points in numbers"
		}
		r.wrong(first.start, last.end, hint, "the first line of a curve's file names two columns, flow and pressure, not %d", len(fields))
		return false
	}
	names := []string{"flow", "pressure"}
	r.at = [2]int{-1, -1}
	ok := true
	for i, f := range fields {
		name, unit := f.text, ""
		from := f.start
		if open := strings.IndexAny(name, "[("); open >= 0 && strings.HasSuffix(name, map[byte]string{'[': "]", '(': ")"}[name[open]]) {
			name, unit = strings.TrimSpace(name[:open]), strings.TrimSpace(name[open+1:len(name)-1])
		} else if before, after, cut := strings.Cut(name, " "); cut {
			name, unit = before, strings.TrimSpace(after)
		}
		k := slices.Index(names, strings.ToLower(name))
		if i := bytes.LastIndex(r.src.bytes[f.start:f.end], []byte(unit)); i >= 0 {
			from += i
		}
		switch {
		case k < 0:
			r.wrong(f.start, f.end, sample, "the columns of a curve's file are flow and pressure; %s is neither", show(f.text))
			return false
		case r.at[k] >= 0:
			r.wrong(f.start, f.end, sample, "there are two columns of %s", names[k])
			return false
		case unit == "":
			r.wrong(f.start, f.end, sample, "the column of %s does not say its unit", names[k])
			ok = false
		case !r.unit(from, len(unit), k, unit):
			ok = false
		}
		r.at[k], r.units[k] = i, unit
	}
	return ok
}

var curveDimensions = [2]quantity.Dimension{quantity.AnyFlow, quantity.Pressure}

// unit sees to it that a column's unit is one.
func (r *curveReader) unit(start, size, column int, unit string) bool {
	d := curveDimensions[column]
	_, err := r.in.parse("1 "+unit, d, quantity.Single)
	if err == nil {
		return true
	}
	at := &Value{Text: "1 " + unit, Range: r.src.rangeOf(start, start+size)}
	r.in.quantityError(at, d, err)
	return false
}

// point reads one line below the head, nil where it is none.
func (r *curveReader) point(fields []field) *Value {
	first, last := fields[0], fields[len(fields)-1]
	whole := &Value{shape: isList, Range: r.src.rangeOf(first.start, last.end)}
	if len(fields) != 2 {
		hint := "0, 3.6"
		if len(fields) > 2 {
			hint += ": a decimal point, no comma, in numbers"
		}
		r.wrong(first.start, last.end, hint, "a point is two numbers with a comma between them; here are %d", len(fields))
		return nil
	}
	for k, limits := range []*Limits{from0, above0} {
		f := fields[r.at[k]]
		if f.text == "" {
			r.wrong(first.start, last.end, "such as 3.25", "there is no %s in this point", [2]string{"flow", "pressure"}[k])
			return nil
		}
		if len(f.text) > maxNumberRunes || !plainNumber().MatchString(f.text) {
			r.wrong(f.start, f.end, "such as 3.25; the unit stands in the first line", "%s is no number", show(f.text))
			return nil
		}
		v := &Value{shape: isText, Text: f.text + " " + r.units[k], Range: r.src.rangeOf(f.start, f.end)}
		a := &Attribute{Name: fmt.Sprintf("the %s of a point", [2]string{"flow", "pressure"}[k]), Type: TypeQuantity, Dimension: curveDimensions[k], Forms: quantity.Single, Limits: limits}
		if !r.in.quantity(a, v, nil) || math.IsNaN(v.Quantity.Nominal.SI) {
			return nil
		}
		whole.List = append(whole.List, v)
	}
	return whole
}

// Points gives the points of a measured curve, written out or read from its file: a
// flow and a pressure each. nil for another block.
func (b *Block) Points() []*Value {
	if b.typ != measuredCurve {
		return nil
	}
	for _, name := range []string{"points", "from"} {
		if v := b.Get(name); v != nil && v.List != nil {
			return v.List
		}
	}
	return nil
}
