package lang

import (
	"fmt"
	"slices"

	"tapline/lang/diag"
)

// A collector gathers what is found wrong, at most maxMistakes a file.
type collector struct {
	list    []diag.Diagnostic
	count   map[string]int
	guesses int // did-you-means given
	tried   int // names compared for them
}

func newCollector() *collector { return &collector{count: map[string]int{}} }

// add takes one diagnostic, if its file has room for it.
func (c *collector) add(d diag.Diagnostic) {
	c.count[d.Range.File]++
	if c.count[d.Range.File] <= maxMistakes {
		c.list = append(c.list, d)
	}
}

// errorf adds an error with its hint ("" for none).
func (c *collector) errorf(code string, at diag.Range, hint, format string, args ...any) finding {
	return c.addf(diag.Error, code, at, hint, format, args...)
}

// notef adds a note with its hint ("" for none).
func (c *collector) notef(code string, at diag.Range, hint, format string, args ...any) finding {
	return c.addf(diag.Note, code, at, hint, format, args...)
}

func (c *collector) addf(level diag.Level, code string, at diag.Range, hint, format string, args ...any) finding {
	if c.count[at.File] >= maxMistakes {
		c.count[at.File]++
		return finding{}
	}
	c.add(diag.Diagnostic{Code: code, Level: level, Range: at, Message: fmt.Sprintf(format, args...), Hint: hint})
	return finding{c, len(c.list) - 1}
}

// A finding is a diagnostic just added, or none if its file has no more room.
type finding struct {
	c  *collector
	at int
}

// relate adds a second place.
func (f finding) relate(at diag.Range, message string) {
	if f.c != nil {
		f.c.list[f.at].Related = append(f.c.list[f.at].Related, diag.Related{Range: at, Message: message})
	}
}

// full tells whether nothing more of this file would be listed.
func (c *collector) full(file string) bool { return c.count[file] >= maxMistakes }

// listed counts what has been found so far, in all files.
func (c *collector) listed() int { return len(c.list) }

// result gives all that was found, in order.
func (c *collector) result() []diag.Diagnostic {
	out := slices.Clone(c.list)
	for file, n := range c.count {
		if n > maxMistakes {
			start := diag.Position{Line: 1, Column: 1}
			out = append(out, diag.Diagnostic{Code: moreMistakes, Level: diag.Error,
				Range:   diag.Range{File: file, Start: start, End: start},
				Message: fmt.Sprintf("%d more mistakes in this file are not listed", n-maxMistakes)})
		}
	}
	diag.Sort(out)
	return out
}
