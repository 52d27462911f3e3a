package jsonout

import (
	"fmt"
	"slices"
	"strings"

	"tapline/lang/diag"
)

// A flag is one diagnostic. Line and column count from 1, columns in code
// points; the end is the first character after the place.
type flag struct {
	ID        string   `json:"id"`
	Code      string   `json:"code"`
	Level     string   `json:"level"`
	System    *string  `json:"system"`
	Case      *string  `json:"case"`
	At        *string  `json:"at"`
	Message   string   `json:"message"`
	Value     *float64 `json:"value"`
	Limit     *float64 `json:"limit"`
	Unit      *string  `json:"unit"`
	File      *string  `json:"file"`
	Line      *int     `json:"line"`
	Column    *int     `json:"column"`
	EndLine   *int     `json:"end_line"`
	EndColumn *int     `json:"end_column"`
	Hint      *string  `json:"hint"`
	Related   []place  `json:"related"`
	Causes    []string `json:"causes"`
	Waived    bool     `json:"waived"`
}

type place struct {
	File      *string `json:"file"`
	Line      *int    `json:"line"`
	Column    *int    `json:"column"`
	EndLine   *int    `json:"end_line"`
	EndColumn *int    `json:"end_column"`
	Message   string  `json:"message"`
}

// flags gives the diagnostics sorted and with an id each. Readers know alarms,
// cautions and notes; an error counts as an alarm to them.
func flags(ds []diag.Diagnostic) []flag {
	ds = slices.Clone(ds)
	diag.Sort(ds)
	seen := map[string]int{}
	out := make([]flag, len(ds))
	for i, d := range ds {
		level := d.Level
		if level == diag.Error {
			level = diag.Alarm
		}
		p := placeOf(d.Range)
		out[i] = flag{
			Code: d.Code, Level: level.String(), Message: d.Message,
			System: text(d.System), Case: text(d.Case), At: text(d.At),
			Value: number(d.Value), Limit: number(d.Limit), Unit: text(d.Unit),
			File: p.File, Line: p.Line, Column: p.Column, EndLine: p.EndLine, EndColumn: p.EndColumn,
			Hint: text(d.Hint), Related: []place{}, Causes: d.Causes, Waived: d.Waived,
		}
		for _, r := range d.Related {
			p := placeOf(r.Range)
			p.Message = r.Message
			out[i].Related = append(out[i].Related, p)
		}
		id := identity(d)
		if seen[id]++; seen[id] > 1 {
			out[i].ID = fmt.Sprintf("%s#%d", id, seen[id])
		} else {
			out[i].ID = id
		}
	}
	return out
}

// identity names a finding by what it is about, not by where it stands in the
// file, so that it keeps its name while the text around it is edited.
func identity(d diag.Diagnostic) string {
	parts := []string{d.Code, d.System, d.Case, d.At}
	if d.Case == "" && d.At == "" {
		parts = []string{d.Code, d.System, d.Range.File}
	}
	return strings.Join(slices.DeleteFunc(parts, func(s string) bool { return s == "" }), "/")
}

func placeOf(r diag.Range) place {
	if r.IsZero() {
		return place{}
	}
	return place{File: &r.File, Line: &r.Start.Line, Column: &r.Start.Column, EndLine: &r.End.Line, EndColumn: &r.End.Column}
}

func text(s string) *string {
	if s == "" {
		return nil
	}
	return &s
}
