package main

import (
	"bytes"
	"path/filepath"
	"runtime"
	"testing"
	"time"
)

// The same files give the same bytes, run after run and whatever the number of
// processors: nothing printed follows the order of a map, of goroutines or of
// what a workspace solved before. One example is checked fifty times at each of
// 1 and 2 processors, the other systems a few times.

func TestSameBytes(t *testing.T) {
	var dirs []string
	for _, pattern := range []string{"examples/*", "testdata/contract/*", "testdata/networks/*"} {
		found, err := filepath.Glob("../../" + pattern + "/system.tap.hcl")
		if err != nil {
			t.Fatal(err)
		}
		for _, f := range found {
			dirs = append(dirs, filepath.Dir(f))
		}
	}
	if len(dirs) < 12 {
		t.Fatalf("only %d systems found", len(dirs))
	}
	before := runtime.GOMAXPROCS(0)
	defer runtime.GOMAXPROCS(before)
	check := func(dir string) []byte {
		var out, errs bytes.Buffer
		a := app{args: []string{"check", "--format", "json", dir}, stdout: &out, stderr: &errs,
			getenv: func(string) string { return "" }, engine: compile}
		a.run()
		if errs.Len() > 0 || out.Len() < 500 {
			t.Fatalf("%s: %d bytes and %q", dir, out.Len(), errs.String())
		}
		return out.Bytes()
	}
	for _, dir := range dirs {
		runs := 2
		switch filepath.Base(dir) {
		case "hydrogen-bench", "dome":
			runs = 25
		}
		began := time.Now()
		want := check(dir)
		for _, processors := range []int{1, 2} {
			runtime.GOMAXPROCS(processors)
			for run := range runs {
				if got := check(dir); !bytes.Equal(got, want) {
					t.Fatalf("%s: run %d at %d processors gives other bytes, %s", dir, run, processors, firstDifference(got, want))
				}
			}
		}
		t.Logf("%-32s %d bytes, %d runs, %v", dir, len(want), 2*runs+1, time.Since(began).Round(time.Millisecond))
	}
}

// firstDifference shows what stands where two texts part.
func firstDifference[text string | []byte](a, b text) string {
	i := 0
	for i < min(len(a), len(b)) && a[i] == b[i] {
		i++
	}
	from := max(i-60, 0)
	return string(a[from:min(i+60, len(a))]) + "\n not\n" + string(b[from:min(i+60, len(b))])
}
