// Package explain says of every code of a flag or error what it means, why it
// matters, what it rests on, and shows a system that brings it about and the
// same system mended.
//
// The texts stand in the archives beside this file, one for each group. A
// test solves every example, so what is shown here is what happens.
package explain

import (
	"embed"
	"fmt"
	"io/fs"
	"slices"
	"strings"
	"sync"

	"golang.org/x/tools/txtar"
)

// A Group is a run of entries that belong together.
type Group struct {
	Name    string
	Entries []Entry
}

// An Entry explains one code.
type Entry struct {
	Code  string
	Level string // "alarm", or "alarm or caution" where both occur
	Title string // half a line
	Means string // what the flag or error says
	Why   string // what may go wrong where it is ignored
	Basis string // the standard, handbook, practice or part of the language it rests on

	// Failing brings the code about and Mended does not; both are files of a
	// system, to be read together with Common unless Alone. Both are empty where
	// NoExample says why.
	Failing, Mended string
	Alone           bool
	NoExample       string
}

// groups are the archives in the order they are listed.
var groups = []struct{ file, name string }{
	{"rules.txtar", "Flags of solved cases"},
	{"design.txtar", "Flags of how a system is put together"},
	{"graph.txtar", "Errors of the system as a whole"},
	{"paths.txtar", "Errors in paths"},
	{"names.txtar", "Errors in names"},
	{"values.txtar", "Errors in values"},
	{"cases.txtar", "Errors in cases"},
	{"blocks.txtar", "Errors in blocks and syntax"},
	{"files.txtar", "Errors of files and characters"},
}

//go:embed *.txtar common.tap.hcl
var texts embed.FS

// Common is the file that examples are read together with: a source, a vent
// and two valves. Its values are invented.
func Common() string {
	data, _ := texts.ReadFile("common.tap.hcl") // embedded: there, or the build fails
	return string(data)
}

// Groups gives all entries, those of a group sorted by code.
func Groups() []Group { return read() }

var read = sync.OnceValue(func() []Group {
	var all []Group
	for _, g := range groups {
		entries, err := parse(texts, g.file)
		if err != nil {
			panic(err) // embedded text; the tests read all of it
		}
		all = append(all, Group{g.name, entries})
	}
	return all
})

// Find gives the entry of a code.
func Find(code string) (Entry, bool) {
	for _, g := range Groups() {
		for _, e := range g.Entries {
			if e.Code == code {
				return e, true
			}
		}
	}
	return Entry{}, false
}

// Codes gives all codes, sorted.
func Codes() []string {
	var all []string
	for _, g := range Groups() {
		for _, e := range g.Entries {
			all = append(all, e.Code)
		}
	}
	slices.Sort(all)
	return all
}

// parse reads an archive of CODE/about, CODE/failing and CODE/mended.
func parse(from fs.FS, name string) ([]Entry, error) {
	data, err := fs.ReadFile(from, name)
	if err != nil {
		return nil, err
	}
	var entries []Entry
	for _, f := range txtar.Parse(data).Files {
		code, part, _ := strings.Cut(f.Name, "/")
		if part == "about" {
			e := Entry{Code: code}
			if err := e.about(string(f.Data)); err != nil {
				return nil, fmt.Errorf("%s: %s: %w", name, f.Name, err)
			}
			entries = append(entries, e)
			continue
		}
		if len(entries) == 0 || entries[len(entries)-1].Code != code {
			return nil, fmt.Errorf("%s: %s stands before its about", name, f.Name)
		}
		e := &entries[len(entries)-1]
		switch part {
		case "failing":
			e.Failing = string(f.Data)
		case "mended":
			e.Mended = string(f.Data)
		default:
			return nil, fmt.Errorf("%s: %s is no part of an entry", name, f.Name)
		}
	}
	slices.SortFunc(entries, func(a, b Entry) int { return strings.Compare(a.Code, b.Code) })
	return entries, nil
}

// about reads "key: text", one a line.
func (e *Entry) about(text string) error {
	fields := map[string]*string{
		"level": &e.Level, "title": &e.Title, "means": &e.Means,
		"why": &e.Why, "basis": &e.Basis, "no example": &e.NoExample,
	}
	for line := range strings.Lines(text) {
		key, value, ok := strings.Cut(strings.TrimSpace(line), ": ")
		switch {
		case ok && fields[key] != nil && *fields[key] == "":
			*fields[key] = value
		case strings.TrimSpace(line) == "alone":
			e.Alone = true
		default:
			return fmt.Errorf("cannot read %q", line)
		}
	}
	return nil
}
