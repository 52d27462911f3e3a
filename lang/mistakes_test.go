package lang

import (
	"flag"
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"golang.org/x/tools/txtar"

	"tapline/lang/diag"
)

var update = flag.Bool("update", false, "rewrite the expected diagnostics under testdata/mistakes")

// TestMistakes reads small systems with mistakes in them. Each archive under
// testdata/mistakes holds cases: CASE/NAME.tap.hcl are the files, CASE/want
// what must be said about them. The files common/NAME.tap.hcl belong to every
// case of their archive. Errors of resolving any case count too.
func TestMistakes(t *testing.T) {
	archives, err := filepath.Glob("testdata/mistakes/*.txtar")
	if err != nil || len(archives) == 0 {
		t.Fatal("no archives", err)
	}
	for _, name := range archives {
		t.Run(strings.TrimSuffix(filepath.Base(name), ".txtar"), func(t *testing.T) { mistakes(t, name) })
	}
}

func mistakes(t *testing.T, name string) {
	archive, err := txtar.ParseFile(name)
	if err != nil {
		t.Fatal(err)
	}
	common := map[string][]byte{}
	cases := map[string]map[string][]byte{}
	wants := map[string]*txtar.File{}
	var order []string
	for i := range archive.Files {
		f := &archive.Files[i]
		dir, file, ok := strings.Cut(f.Name, "/")
		switch {
		case !ok:
			t.Fatalf("%s: %s is not CASE/FILE", name, f.Name)
		case dir == "common":
			common[file] = f.Data
		case file == "want":
			wants[dir] = f
		default:
			if cases[dir] == nil {
				cases[dir] = map[string][]byte{}
				order = append(order, dir)
			}
			cases[dir][file] = f.Data
		}
	}
	var out []txtar.File
	for _, f := range archive.Files {
		if strings.HasPrefix(f.Name, "common/") {
			out = append(out, f)
		}
	}
	for _, c := range order {
		files := maps.Clone(common)
		maps.Copy(files, cases[c])
		got := spell(readAll(files), files)
		t.Run(c, func(t *testing.T) {
			if *update {
				return
			}
			if wants[c] == nil {
				t.Fatal("the case has no want; run with -update and read what it says")
			}
			if want := string(wants[c].Data); got != want {
				t.Errorf("got:\n%s\nwant:\n%s", got, want)
			}
			if got == "" {
				t.Error("a mistake that is not found")
			}
		})
		for _, f := range archive.Files {
			if dir, file, _ := strings.Cut(f.Name, "/"); dir == c && file != "want" {
				out = append(out, f)
			}
		}
		out = append(out, txtar.File{Name: c + "/want", Data: []byte(got)})
	}
	if *update {
		if err := os.WriteFile(name, txtar.Format(&txtar.Archive{Comment: archive.Comment, Files: out}), 0o644); err != nil {
			t.Fatal(err)
		}
	}
}

// readAll gives all that is said about files: on reading, and where that finds
// nothing, on resolving each case.
func readAll(files map[string][]byte) []diag.Diagnostic {
	d, ds := ReadFiles("", files)
	if diag.HasErrors(ds) {
		return ds
	}
	for _, name := range d.caseNames() {
		_, more := d.Resolve(name)
		ds = append(ds, more...)
	}
	return ds
}

// spell writes diagnostics with the very characters they underline.
func spell(ds []diag.Diagnostic, files map[string][]byte) string {
	var out strings.Builder
	place := func(r diag.Range) string {
		text := string(files[r.File][r.Start.Byte:r.End.Byte])
		return fmt.Sprintf("%s «%s»", r, strings.ReplaceAll(text, "\n", "⏎"))
	}
	for _, d := range ds {
		level := ""
		if d.Level != diag.Error {
			level = ", " + d.Level.String()
		}
		fmt.Fprintf(&out, "%s%s %s\n    %s\n", d.Code, level, place(d.Range), d.Message)
		if d.Hint != "" {
			fmt.Fprintf(&out, "    hint: %s\n", d.Hint)
		}
		for _, r := range d.Related {
			fmt.Fprintf(&out, "    %s: %s\n", place(r.Range), r.Message)
		}
	}
	return out.String()
}

// TestMistakesCoverCodes sees to it that every code of this package is brought
// about by some archive, or is named here with where it is tested instead.
func TestMistakesCoverCodes(t *testing.T) {
	elsewhere := []string{badTable, unreadableFile, outsideRepo, noFiles, tooLarge, moreMistakes}
	src := string(mustRead(t, "codes.go"))
	var all strings.Builder
	archives, _ := filepath.Glob("testdata/mistakes/*.txtar")
	for _, name := range archives {
		all.Write(mustRead(t, name))
	}
	for _, line := range strings.Split(src, "\n") {
		_, rest, ok := strings.Cut(line, `= "`)
		if !ok {
			continue
		}
		code := rest[:strings.IndexByte(rest, '"')]
		if !slices.Contains(elsewhere, code) && !strings.Contains(all.String(), "\n"+code+" ") && !strings.Contains(all.String(), "\n"+code+", ") {
			t.Errorf("no mistake under testdata/mistakes brings about %s", code)
		}
	}
}
