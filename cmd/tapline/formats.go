package main

import (
	"fmt"
	"slices"
	"strings"

	"tapline/cmd/internal/atomicfile"
	"tapline/cmd/internal/folders"
	"tapline/cmd/internal/jsonout"
	"tapline/cmd/internal/report"
	"tapline/compiler"
)

// A rendering is what a format may need to know besides the outcome.
type rendering struct {
	text    func(*compiler.Outcome, report.Options) string // of the command that runs
	options report.Options
}

// formats are the ways to write an outcome, by the name that --format and --out
// take. A new one is a row here.
var formats = []struct {
	name  string
	write func(*compiler.Outcome, rendering) ([]byte, error)
}{
	{"text", func(o *compiler.Outcome, r rendering) ([]byte, error) { return []byte(r.text(o, r.options)), nil }},
	{"json", func(o *compiler.Outcome, r rendering) ([]byte, error) { return jsonout.Encode(o, toolVersion()) }},
}

func formatNames() []string {
	var names []string
	for _, f := range formats {
		names = append(names, f.name)
	}
	return names
}

// encode writes an outcome in a format that exists.
func encode(name string, o *compiler.Outcome, r rendering) ([]byte, error) {
	for _, f := range formats {
		if f.name == name {
			return f.write(o, r)
		}
	}
	return nil, fmt.Errorf("there is no format %q", name)
}

// Of spreads alone: a part of them, and a row for each case.
const (
	partFormat = "part"
	rowFormat  = "csv"
)

// take gives the file of one of these formats, "" for none, and takes it out.
func (o *outFiles) take(format string) (file string, err error) {
	kept := (*o)[:0]
	for _, out := range *o {
		switch {
		case out.format != format:
			kept = append(kept, out)
		case file != "":
			return "", usagef("--out %s=FILE can be given once", format)
		default:
			file = out.file
		}
	}
	*o = kept
	return file, nil
}

// outFiles is the flag --out FORMAT=FILE, which may be given several times.
type outFiles []outFile

type outFile struct{ format, file string }

func (o *outFiles) String() string { return "" }
func (o *outFiles) Type() string   { return "FORMAT=FILE" }

// Set takes one FORMAT=FILE.
func (o *outFiles) Set(text string) error {
	format, file, ok := strings.Cut(text, "=")
	if !ok || format == "" || file == "" {
		return usagef("--out takes FORMAT=FILE, such as json=result.json, not %q", text)
	}
	names := append(formatNames(), partFormat, rowFormat)
	if !slices.Contains(names, format) {
		return usagef("--out knows no format %q; the formats are %s, and of solve %s and %s", format, strings.Join(formatNames(), ", "), rowFormat, partFormat)
	}
	if strings.HasSuffix(file, folders.Extension) {
		return usagef("--out would replace %q, which looks like a system file; choose another name", file)
	}
	for _, other := range *o {
		if other.file == file {
			return usagef("--out names the file %q twice", file)
		}
	}
	*o = append(*o, outFile{format, file})
	return nil
}

// write makes all the files. Text in a file is plain and 80 columns wide.
func (o outFiles) write(outcome *compiler.Outcome, r rendering) error {
	r.options = report.Options{}
	for _, out := range o {
		data, err := encode(out.format, outcome, r)
		if err != nil {
			return err
		}
		if err := atomicfile.Write(out.file, data); err != nil {
			return usagef("cannot write the %s file: %v", out.format, err)
		}
	}
	return nil
}
