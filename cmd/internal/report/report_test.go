package report

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"testing"

	"tapline/cmd/internal/sample"
	"tapline/compiler"
)

var update = flag.Bool("update", false, "write the golden files anew")

// The golden files are what was looked at and found good on a terminal of each
// width; they show a change, they prove nothing.
func TestGolden(t *testing.T) {
	for _, name := range []string{"series", "house", "broken"} {
		for _, width := range []int{80, 160} {
			for kind, write := range map[string]func(*compiler.Outcome, Options) string{"check": Check, "solve": Solve} {
				if kind == "solve" && name == "broken" {
					continue
				}
				file := filepath.Join("testdata", fmt.Sprintf("%s_%s_%d.txt", kind, name, width))
				t.Run(file, func(t *testing.T) {
					got := write(sample.Outcomes[name](), Options{Width: width, Terminal: width == 160})
					golden(t, file, got)
				})
			}
		}
	}
}

func golden(t *testing.T, file, got string) {
	t.Helper()
	if *update {
		if err := os.MkdirAll(filepath.Dir(file), 0o777); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(file, []byte(got), 0o666); err != nil {
			t.Fatal(err)
		}
		return
	}
	want, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if got != string(want) {
		t.Errorf("got\n%s\nwant\n%s\n(write the file anew with -update)", got, want)
	}
}
