// Package diag holds the one diagnostics type that every stage uses, from the
// first misread character to the last pressure outside its band. The command
// prints the same value as a snippet, as JSON, or in any other format.
//
// Positions are kept as bytes, lines and code points together; whoever needs
// another unit converts at its own edge.
package diag

import (
	"cmp"
	"fmt"
	"slices"
)

// A Level says how much a diagnostic matters.
type Level int

const (
	// Note informs; it never changes the exit status by itself.
	Note Level = iota
	// Caution is something a competent person should look at.
	Caution
	// Alarm is a pressure, flow or rule out of its limit.
	Alarm
	// Error is a file, argument or reference that cannot be used at all.
	Error
)

// String gives the word printed for people.
func (l Level) String() string {
	switch l {
	case Note:
		return "note"
	case Caution:
		return "caution"
	case Alarm:
		return "alarm"
	case Error:
		return "error"
	}
	return fmt.Sprintf("level %d", int(l))
}

// A Position is a place in a file. Line and Column count from 1, columns in
// code points; Byte counts from 0.
type Position struct {
	Line, Column, Byte int
}

// A Range is the run of characters from Start up to, not including, End.
// The zero Range means "no place".
type Range struct {
	File       string // path with forward slashes, relative to the working folder where possible
	Start, End Position
}

// IsZero reports whether r names no place.
func (r Range) IsZero() bool { return r.File == "" }

// String gives file:line:column.
func (r Range) String() string {
	if r.IsZero() {
		return ""
	}
	return fmt.Sprintf("%s:%d:%d", r.File, r.Start.Line, r.Start.Column)
}

// Related is another place that contributed, with what it has to do with it.
type Related struct {
	Range   Range
	Message string
}

// A Diagnostic is one finding. Code is a kebab-case word that is never reused.
type Diagnostic struct {
	Code    string
	Level   Level
	Range   Range  // exactly what to underline
	Message string // one sentence: what is wrong
	Hint    string // what to write or look at instead; may be empty
	Related []Related

	// Set for findings about a solved case.
	System string   // name of the system
	Case   string   // name of the case
	At     string   // node or device the finding is about
	Value  *float64 // what was found, in Unit
	Limit  *float64 // what it was held against, in Unit
	Unit   string   // SI unit of Value and Limit
	// Causes names the parameters that move the value most (filled by later stages).
	Causes []string
	// Waived is true where the file accepts this finding.
	Waived bool
}

// Error makes a Diagnostic usable as an error.
func (d Diagnostic) Error() string {
	if d.Range.IsZero() {
		return fmt.Sprintf("%s[%s]: %s", d.Level, d.Code, d.Message)
	}
	return fmt.Sprintf("%s: %s[%s]: %s", d.Range, d.Level, d.Code, d.Message)
}

// Sort orders diagnostics by file, place, code, case and message, so that the
// same findings always print in the same order.
func Sort(ds []Diagnostic) {
	slices.SortStableFunc(ds, func(a, b Diagnostic) int {
		return cmp.Or(
			cmp.Compare(a.Range.File, b.Range.File),
			cmp.Compare(a.Range.Start.Byte, b.Range.Start.Byte),
			cmp.Compare(a.Range.End.Byte, b.Range.End.Byte),
			cmp.Compare(a.Code, b.Code),
			cmp.Compare(a.Case, b.Case),
			cmp.Compare(a.At, b.At),
			cmp.Compare(a.Message, b.Message),
		)
	})
}

// HasErrors reports whether any diagnostic is an Error.
func HasErrors(ds []Diagnostic) bool {
	return slices.ContainsFunc(ds, func(d Diagnostic) bool { return d.Level == Error })
}
