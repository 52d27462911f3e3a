package place

import (
	"context"
	"errors"
	"math"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
)

func script(t *testing.T, name, text string) string {
	t.Helper()
	if runtime.GOOS == "windows" {
		t.Skip("the stand-in for the helper is a shell script")
	}
	if err := os.WriteFile(name, []byte("#!/bin/sh\n"+text+"\n"), 0o700); err != nil {
		t.Fatal(err)
	}
	return name
}

func environment(pairs ...string) func(string) string {
	return func(name string) string {
		for i := 0; i < len(pairs); i += 2 {
			if pairs[i] == name {
				return pairs[i+1]
			}
		}
		return ""
	}
}

func TestFind(t *testing.T) {
	here := t.TempDir()
	there := script(t, filepath.Join(t.TempDir(), Program), "exit 0")
	script(t, filepath.Join(here, Program), "exit 0")
	t.Chdir(here)
	for _, c := range []struct {
		name      string
		env       []string
		want, err string
	}{
		{"named", []string{"TAPLINE_LAYOUT", there, "PATH", here}, there, ""},
		{"on PATH", []string{"PATH", "/nowhere" + string(filepath.ListSeparator) + filepath.Dir(there)}, there, ""},
		{"named by a relative name", []string{"TAPLINE_LAYOUT", "./" + Program}, "", "absolute"},
		{"named and not there", []string{"TAPLINE_LAYOUT", "/nowhere/x", "PATH", filepath.Dir(there)}, "", "no program"},
		{"named, a folder", []string{"TAPLINE_LAYOUT", here}, "", "no program"},
		{"in the working folder only", []string{"PATH", "." + string(filepath.ListSeparator)}, "", "go build -o .bin/ ./cmd/..."},
		{"nowhere", nil, "", "go build -o .bin/ ./cmd/..."},
	} {
		got, err := Find(environment(c.env...))
		if got != c.want || (err == nil) != (c.err == "") || err != nil && !strings.Contains(err.Error(), c.err) {
			t.Errorf("%s: %q, %v; want %q, %q", c.name, got, err, c.want, c.err)
		}
	}
	if _, err := Find(environment()); !errors.Is(err, ErrMissing) {
		t.Errorf("nowhere: %v", err)
	}
}

var one = &Request{Boxes: []Box{{10, 10}}, RowGap: 1, ColumnGap: 1}

func TestRunGivesAPrivateFolder(t *testing.T) {
	cache := t.TempDir()
	t.Setenv("XDG_CACHE_HOME", cache)
	t.Setenv("HOME", cache)
	seen := filepath.Join(t.TempDir(), "seen")
	helper := script(t, filepath.Join(t.TempDir(), Program), `printf %s "$TMPDIR" >`+seen+`; echo '{"centres":[{"x":1,"y":2}],"routes":[]}'`)
	a, err := Run(context.Background(), helper, one)
	if err != nil || a.Centres[0] != (Point{1, 2}) {
		t.Fatal(a, err)
	}
	dir, err := os.ReadFile(seen)
	if err != nil || !strings.HasPrefix(string(dir), cache) {
		t.Fatalf("TMPDIR was %q, %v; want a folder below %q", dir, err, cache)
	}
	info, err := os.Stat(string(dir))
	if err != nil || info.Mode().Perm() != 0o700 {
		t.Errorf("mode %v, %v; want 0700", info.Mode(), err)
	}
}

func TestRunReportsAHelperGoneWrong(t *testing.T) {
	t.Setenv("XDG_CACHE_HOME", t.TempDir())
	for _, c := range []struct{ name, text, want string }{
		{"fails", "echo out of memory >&2; exit 3", "exit status 3): out of memory"},
		{"says nothing", "exit 0", "JSON"},
		{"says something else", "echo hello", "JSON"},
		{"leaves boxes out", `echo '{"centres":[],"routes":[]}'`, "0 centres and 0 routes came back for 1 boxes and 0 edges"},
	} {
		_, err := Run(context.Background(), script(t, filepath.Join(t.TempDir(), Program), c.text), one)
		if err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %v, want %q", c.name, err, c.want)
		}
	}
}

func TestCheckRefuses(t *testing.T) {
	for name, change := range map[string]func(*Request){
		"no width":         func(r *Request) { r.Boxes[0].Width = 0 },
		"a height of NaN":  func(r *Request) { r.Boxes[0].Height = math.NaN() },
		"an endless width": func(r *Request) { r.Boxes[0].Width = math.Inf(1) },
		"no gap":           func(r *Request) { r.RowGap = 0 },
		"an unknown box":   func(r *Request) { r.Edges = []Edge{{0, 1}} },
		"a negative box":   func(r *Request) { r.Edges = []Edge{{-1, 0}} },
		"too many boxes":   func(r *Request) { r.Boxes = make([]Box, MaxBoxes+1) },
	} {
		r := &Request{Boxes: []Box{{10, 10}}, RowGap: 1, ColumnGap: 1}
		if err := r.Check(); err != nil {
			t.Fatal(err)
		}
		if change(r); r.Check() == nil {
			t.Errorf("%s is let through", name)
		}
	}
}
