// Package sample holds outcomes made by hand, for the tests of everything that
// prints one. Its numbers are written down, not computed: series repeats the
// published answers of the two needle valves in series/golden.json, house and
// broken are invented to hold every state a printer can meet.
package sample

import (
	"embed"
	"strings"
	"unicode/utf8"

	"tapline/compiler"
	"tapline/lang/diag"
)

// Files holds the system files that the outcomes speak of, and golden.json.
//
//go:embed */*
var Files embed.FS

// Outcomes are the samples by the name of their folder.
var Outcomes = map[string]func() *compiler.Outcome{
	"series": Series,
	"house":  House,
	"broken": Broken,
}

// source gives the file of a sample and its name in ranges.
func source(name string) (file, text string) {
	file = name + "/system.tap.hcl"
	b, err := Files.ReadFile(file)
	if err != nil {
		panic(err)
	}
	return file, string(b)
}

// place gives the range of the nth occurrence (from 0) of text.
func place(file, src, text string, nth int) diag.Range {
	from := 0
	for ; nth > 0; nth-- {
		from += strings.Index(src[from:], text) + 1
	}
	i := strings.Index(src[from:], text)
	if i < 0 {
		panic("sample: " + text + " is not in " + file)
	}
	i += from
	return diag.Range{File: file, Start: position(src, i), End: position(src, i+len(text))}
}

func position(src string, b int) diag.Position {
	before := src[:b]
	start := strings.LastIndexByte(before, '\n') + 1
	return diag.Position{Line: strings.Count(before, "\n") + 1, Column: utf8.RuneCountInString(before[start:]) + 1, Byte: b}
}

func of[T any](v T) *T { return &v }
