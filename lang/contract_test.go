package lang

import (
	"os"
	"path/filepath"
	"slices"
	"testing"

	"tapline/lang/diag"
)

// systems are the folders of valid files under dirs.
func systems(t testing.TB, dirs ...string) []string {
	t.Helper()
	var out []string
	for _, d := range dirs {
		found, err := filepath.Glob(filepath.Join(d, "*", "*"+Extension))
		if err != nil {
			t.Fatal(err)
		}
		for _, f := range found {
			if dir := filepath.Dir(f); !slices.Contains(out, dir) {
				out = append(out, dir)
			}
		}
	}
	if len(out) == 0 {
		t.Fatalf("no systems under %q", dirs)
	}
	return out
}

// TestValidSystems reads whole systems without a word, in every case.
func TestValidSystems(t *testing.T) {
	for _, dir := range systems(t, "../testdata/contract", "testdata/valid", "../testdata/networks") {
		t.Run(filepath.Base(dir), func(t *testing.T) {
			d, ds := Read(dir)
			report(t, ds)
			if d.System == nil || len(d.Lines) == 0 || len(d.Blocks) == 0 {
				t.Fatalf("system %v, %d lines, %d blocks", d.System, len(d.Lines), len(d.Blocks))
			}
			for _, name := range d.caseNames() {
				r, ds := d.Resolve(name)
				report(t, ds)
				if len(r.Blocks) != len(d.Blocks) {
					t.Errorf("case %s has %d blocks of %d", name, len(r.Blocks), len(d.Blocks))
				}
			}
		})
	}
}

func report(t *testing.T, ds []diag.Diagnostic) {
	t.Helper()
	for _, d := range ds {
		t.Errorf("%v\n\thint: %s", d, d.Hint)
	}
}

func mustRead(t testing.TB, file string) []byte {
	t.Helper()
	b, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	return b
}
