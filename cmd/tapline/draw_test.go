package main

import (
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"tapline/cmd/internal/draw/place"
)

// drawn runs "tapline draw" on the real engine.
func drawn(env map[string]string, args ...string) (status int, stdout, stderr string) {
	var out, errs bytes.Buffer
	a := app{args: append([]string{"draw"}, args...), stdout: &out, stderr: &errs, engine: compile,
		getenv: func(name string) string { return env[name] }}
	status = a.run()
	return status, out.String(), errs.String()
}

const regulated = "../../testdata/contract/regulated"

func TestDrawWithoutTheHelper(t *testing.T) {
	for _, format := range []string{"svg", "json"} {
		status, out, complaint := drawn(nil, regulated, "--format", format)
		if status != statusFault || out != "" {
			t.Errorf("%s: status %d, printed %q; want %d and nothing", format, status, out, statusFault)
		}
		if want := `"go build -o .bin/ ./cmd/..."`; !strings.Contains(complaint, want) || strings.Count(complaint, "\n") != 1 {
			t.Errorf("%s: %q is not one sentence with %s", format, complaint, want)
		}
	}
}

func TestDrawDOTNeedsNoHelper(t *testing.T) {
	status, out, complaint := drawn(nil, regulated, "--format", "dot", "--case", "pack low")
	if status != statusClean || complaint != "" {
		t.Fatalf("status %d, %s", status, complaint)
	}
	for _, want := range []string{"digraph \"regulated\" {\n", "case pack low", `PCV-1\nset 5 barg`, " -> "} {
		if !strings.Contains(out, want) {
			t.Errorf("no %q in\n%s", want, out)
		}
	}
}

func TestDrawWithTheHelper(t *testing.T) {
	dir := t.TempDir()
	helper := filepath.Join(dir, place.Program)
	if out, err := exec.Command("go", "build", "-o", helper, "tapline/cmd/tapline-layout").CombinedOutput(); err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	t.Setenv("XDG_CACHE_HOME", dir)
	env := map[string]string{"TAPLINE_LAYOUT": helper}
	status, out, complaint := drawn(env, regulated)
	if status != statusClean || !strings.HasPrefix(out, "<svg ") || !strings.Contains(out, ">PCV-1<") {
		t.Errorf("status %d, %s, %.200s", status, complaint, out)
	}
	file := filepath.Join(dir, "out.svg")
	if status, printed, complaint := drawn(env, regulated, "--out", file); status != statusClean || printed != "" {
		t.Errorf("status %d, printed %q, %s", status, printed, complaint)
	}
	if written, err := os.ReadFile(file); err != nil || string(written) != out {
		t.Errorf("the file holds %d bytes (%v), the screen got %d", len(written), err, len(out))
	}
}

func TestDrawRefuses(t *testing.T) {
	for _, c := range []struct {
		args []string
		want string
	}{
		{nil, `takes the folder of one system, such as "tapline draw ."`},
		{[]string{regulated, regulated}, "takes the folder of one system"},
		{[]string{"../../testdata/..."}, "takes the folder of one system"},
		{[]string{regulated, "--case", "no such"}, "no such"},
		{[]string{regulated, "--format", "png"}, "png"},
		{[]string{regulated, "--out", "x.tap.hcl"}, "looks like a system file"},
		{[]string{regulated, "--format", "dot", "--out", "/nowhere/x"}, "cannot write the diagram"},
	} {
		if status, out, complaint := drawn(nil, c.args...); status != statusUnusable || !strings.Contains(complaint, c.want) || out != "" {
			t.Errorf("%q: status %d, printed %q, said %q; want %q", c.args, status, out, complaint, c.want)
		}
	}
	if status, out, _ := drawn(nil, "../../testdata/nowhere"); status != statusUnusable || !strings.Contains(out, "no-folder") {
		t.Errorf("a folder that is not there: status %d, %s", status, out)
	}
}
