package lang

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

const tiny = "system \"s\" {\n}\n"

// write makes files below a new folder; names that end in / are folders.
func write(t *testing.T, files map[string]string) string {
	t.Helper()
	dir := t.TempDir()
	for name, text := range files {
		full := filepath.Join(dir, filepath.FromSlash(name))
		if strings.HasSuffix(name, "/") {
			if err := os.MkdirAll(full, 0o755); err != nil {
				t.Fatal(err)
			}
			continue
		}
		if err := os.MkdirAll(filepath.Dir(full), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(full, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	return dir
}

func link(t *testing.T, target, name string) {
	t.Helper()
	if err := os.Symlink(target, name); err != nil {
		t.Skip("no symbolic links here: ", err)
	}
}

// codesOf is all that Read says of a folder: file and code.
func codesOf(dir string) string {
	_, ds := Read(dir)
	var out []string
	for _, d := range ds {
		out = append(out, filepath.Base(d.Range.File)+" "+d.Code)
	}
	return strings.Join(out, ", ")
}

func TestReadFolders(t *testing.T) {
	dir := write(t, map[string]string{
		"plain/a.tap.hcl":        tiny,
		"plain/b.tap.hcl":        "",
		"plain/.c.tap.hcl":       "hidden, and no HCL",
		"plain/notes.txt":        "no HCL",
		"plain/below/d.tap.hcl":  "not read {",
		"empty/":                 "",
		"folder/a.tap.hcl":       tiny,
		"folder/b.tap.hcl/":      "",
		"large/a.tap.hcl":        tiny + strings.Repeat("#\n", maxFileBytes/2),
		"repo/.git/":             "",
		"repo/one/a.tap.hcl":     tiny,
		"repo/shared/b.tap.hcl":  "",
		"outside.tap.hcl":        "",
		"alone/a.tap.hcl":        tiny,
		"broken/x.tap.hcl":       tiny + "valve {",
		"file.tap.hcl":           tiny,
		"latin/a.tap.hcl":        "# gr\xf6\xdfe\n" + tiny,
		"crlf/a.tap.hcl":         "system \"s\" {\r\n}\r\nvalve \"V\" {\r\n  cv    = 1\r\n  spare = true\r\n}\r\n",
		"links-to-folder/below/": "",

		"curve/a.tap.hcl":        curved("below/x.csv"),
		"curve/below/x.csv":      "flow [NL/h], pressure [barg]\n0, 3\n60, 2.9\n",
		"no-curve/a.tap.hcl":     curved("x.csv"),
		"folder-curve/a.tap.hcl": curved("x.csv"),
		"folder-curve/x.csv/":    "",
		"out/a.tap.hcl":          curved("../curve/below/x.csv"),
		"root/a.tap.hcl":         curved(filepath.ToSlash(filepath.Join(t.TempDir(), "x.csv"))),
		"linked/a.tap.hcl":       curved("x.csv"),
		"repo/two/a.tap.hcl":     curved("../shared/y.csv"),
		"repo/shared/y.csv":      "flow [NL/h], pressure [barg]\n0, 3\n60, 2.9\n",
		"repo/three/a.tap.hcl":   curved("../../curve/below/x.csv"),
		"big-curve/a.tap.hcl":    curved("x.csv"),
		"big-curve/x.csv":        strings.Repeat("#\n", maxCurveBytes/2+1),
	})
	at := func(name string) string { return filepath.Join(dir, name) }
	link(t, at("outside.tap.hcl"), at("repo/one/x.tap.hcl"))
	link(t, "../shared/b.tap.hcl", at("repo/one/y.tap.hcl"))
	link(t, "../repo/shared/b.tap.hcl", at("alone/y.tap.hcl"))
	link(t, "nowhere", at("alone/z.tap.hcl"))
	link(t, "alone", at("link"))
	link(t, "below", at("links-to-folder/a.tap.hcl"))
	link(t, at("curve/below/x.csv"), at("linked/x.csv"))
	tests := []struct{ dir, want string }{
		{"curve", ""},
		{"no-curve", "a.tap.hcl unreadable-file"},
		{"folder-curve", "a.tap.hcl unreadable-file"},
		{"out", "a.tap.hcl outside-repository"}, // there is no repository
		{"root", "a.tap.hcl bad-curve-file"},
		{"linked", "a.tap.hcl outside-repository"},
		{"repo/two", ""}, // within it a curve may be shared
		{"repo/three", "a.tap.hcl outside-repository"},
		{"big-curve", "a.tap.hcl too-large"},
		{"plain", ""},
		{"crlf", ""},
		{"empty", "empty no-files"},
		{"folder", "b.tap.hcl unreadable-file"},
		{"large", "a.tap.hcl too-large"},
		{"repo/one", "x.tap.hcl outside-repository"},
		{"alone", "y.tap.hcl outside-repository, z.tap.hcl unreadable-file"},
		{"link", "y.tap.hcl outside-repository, z.tap.hcl unreadable-file"},
		{"links-to-folder", "a.tap.hcl unreadable-file"},
		{"missing", "missing unreadable-file"},
		{"file.tap.hcl", "file.tap.hcl unreadable-file"},
		{"broken", "x.tap.hcl unclosed"},
		{"latin", "a.tap.hcl not-text"},
	}
	for _, tt := range tests {
		if got := codesOf(at(tt.dir)); got != tt.want {
			t.Errorf("%s: got %q, want %q", tt.dir, got, tt.want)
		}
	}
}

// curved is a system whose reducer has its curve in a file.
func curved(from string) string {
	return `system "s" {}
fluid "n2" { mole_percent = { nitrogen = 100 } }
reducer "R-1" {
  cv    = 1
  spare = true
  curve {
    fluid = "n2"
    inlet = "70 barg"
    from  = "` + from + `"
  }
}
`
}

// A file of a curve is one of the system's files, and stays one under settings of the
// command line.
func TestCurveFileIsAFile(t *testing.T) {
	dir := write(t, map[string]string{"a.tap.hcl": curved("below/x.csv"), "below/x.csv": "flow [NL/h], pressure [barg]\n0, 3\n60, 2.9\n"})
	d, ds := Read(dir)
	if len(ds) > 0 || len(d.Files) != 2 || !strings.HasSuffix(d.Files[1].Name, "/below/x.csv") {
		t.Fatalf("%v, %v", d.Files, ds)
	}
	again, ds := d.With([]string{"reducer.R-1.cv=2"})
	if len(ds) > 0 || len(again.Files) != 3 {
		t.Fatalf("%v, %v", again.Files, ds)
	}
	if p := again.Blocks[1].Nested("curve").Points(); len(p) != 2 || p[1].List[0].Quantity.Nominal.SI == 0 {
		t.Errorf("%v", p)
	}
}

func TestReadTooMuch(t *testing.T) {
	files := map[string]string{}
	for i := range maxFiles + 1 {
		files[fmt.Sprintf("many/%d.tap.hcl", i)] = ""
	}
	for i := range maxTotalBytes/maxFileBytes + 1 {
		files[fmt.Sprintf("large/%02d.tap.hcl", i)] = strings.Repeat("#\n", maxFileBytes/2)
	}
	dir := write(t, files)
	for _, tt := range []struct{ dir, want string }{{"many", "many too-large"}, {"large", "16.tap.hcl too-large"}} {
		if got := codesOf(filepath.Join(dir, tt.dir)); got != tt.want {
			t.Errorf("%s: got %q, want %q", tt.dir, got, tt.want)
		}
	}
}

// TestShownDir: files are named as the reader of a message would type them.
func TestShownDir(t *testing.T) {
	wd, err := os.Getwd()
	if err != nil {
		t.Fatal(err)
	}
	for _, tt := range []struct{ dir, want string }{
		{"testdata/valid/../valid", "testdata/valid"},
		{"./testdata", "testdata"},
		{filepath.Join(wd, "testdata"), "testdata"},
		{filepath.Dir(wd), filepath.ToSlash(filepath.Dir(wd))},
		{"..", ".."},
	} {
		if got := shownDir(tt.dir); got != tt.want {
			t.Errorf("%s: got %q, want %q", tt.dir, got, tt.want)
		}
	}
}

// TestMoreMistakes: what is not listed is counted.
func TestMoreMistakes(t *testing.T) {
	src := tiny + strings.Repeat("spaceship \"x\" {\n}\n", maxMistakes+7)
	_, ds := ReadFiles("", map[string][]byte{"x.tap.hcl": []byte(src)})
	if len(ds) != maxMistakes+1 || ds[0].Code != moreMistakes || !strings.HasPrefix(ds[0].Message, "7 more") {
		t.Errorf("%d diagnostics, first %v", len(ds), ds[0])
	}
}
