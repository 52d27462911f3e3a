package main

import (
	"bytes"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
	"weak"

	"tapline/cmd/internal/sample"
	"tapline/compiler"
	"tapline/compiler/rule"
	"tapline/lang"
	"tapline/lang/diag"
	"tapline/solver"
)

// writeMany writes n systems below dir, each the example with other numbers and
// a name of its own, and gives their folders.
func writeMany(tb testing.TB, dir string, n int) (dirs []string) {
	tb.Helper()
	files := map[string]string{}
	found, err := filepath.Glob("../../examples/grid-injection/*.tap.hcl")
	if err != nil || len(found) < 4 {
		tb.Fatalf("%d files of the example, %v", len(found), err)
	}
	for _, f := range found {
		text, err := os.ReadFile(f)
		if err != nil {
			tb.Fatal(err)
		}
		files[filepath.Base(f)] = string(text)
	}
	for i := range n {
		at := filepath.Join(dir, fmt.Sprintf("s-%04d", i))
		dirs = append(dirs, at)
		if err := os.MkdirAll(at, 0o777); err != nil {
			tb.Fatal(err)
		}
		vary := strings.NewReplacer(
			`system "grid-injection"`, fmt.Sprintf(`system "grid-injection-%04d"`, i),
			`"28 m"`, fmt.Sprintf(`"%d.%d m"`, 20+i%17, i%10),
			`"26 %"`, fmt.Sprintf(`"%d.%d %%"`, 25+i%3, i%10),
			`"30 barg"`, fmt.Sprintf(`"%d.%d barg"`, 28+i%5, i%10),
		)
		for name, text := range files {
			if err := os.WriteFile(filepath.Join(at, name), []byte(vary.Replace(text)), 0o666); err != nil {
				tb.Fatal(err)
			}
		}
	}
	return dirs
}

func checked(args ...string) (status int, out, errs string) {
	var stdout, stderr bytes.Buffer
	a := app{args: append([]string{"check"}, args...), stdout: &stdout, stderr: &stderr, getenv: func(string) string { return "" }, engine: compile}
	status = a.run()
	return status, stdout.String(), stderr.String()
}

// One folder that cannot be read takes nothing from the others: each is judged
// as it is alone, in the order of the folders, at 1 and at 2 processors.
func TestManySystemsOneBad(t *testing.T) {
	dir := t.TempDir()
	dirs := writeMany(t, dir, 6)
	bad := filepath.Join(dirs[2], "devices.tap.hcl")
	if err := os.WriteFile(bad, []byte("valve \"V-10\" {\n  cv = \n}\n"), 0o666); err != nil {
		t.Fatal(err)
	}
	before := runtime.GOMAXPROCS(0)
	defer runtime.GOMAXPROCS(before)
	var outs []string
	for _, processors := range []int{1, 2} {
		runtime.GOMAXPROCS(processors)
		status, out, errs := checked(dir + "/...")
		if status != statusUnusable || errs != "" {
			t.Fatalf("exit status %d, %q", status, errs)
		}
		outs = append(outs, out)
	}
	if outs[0] != outs[1] {
		t.Fatalf("other bytes at 2 processors, %s", firstDifference(outs[1], outs[0]))
	}
	if !strings.Contains(outs[0], "devices.tap.hcl:2:") || !strings.Contains(outs[0], "error[syntax]") {
		t.Errorf("the place of the mistake is missing in\n%s", outs[0])
	}
	if strings.Contains(outs[0], "grid-injection-0002:") {
		t.Error("the system that cannot be read is judged")
	}
	at := 0
	for i, d := range dirs {
		if i == 2 {
			continue
		}
		_, alone, _ := checked(d)
		table := alone[:strings.LastIndex(alone[:1500], "\n")]
		found := strings.Index(outs[0], table)
		if found < at {
			t.Fatalf("%s is not judged as it is alone, or not in its turn", d)
		}
		at = found
	}
}

// The command prints what the others found, then whose fault it was.
func TestFaultInOneSystem(t *testing.T) {
	dir := t.TempDir()
	writeMany(t, dir, 1)
	var stdout, stderr bytes.Buffer
	a := app{args: []string{"check", dir + "/..."}, stdout: &stdout, stderr: &stderr, getenv: func(string) string { return "" },
		engine: func([]string, engineOptions) (*solution, error) {
			return &solution{Outcome: sample.Series(), Faults: []string{"x/y: index out of range"}}, nil
		}}
	if got := a.run(); got != statusFault {
		t.Errorf("exit status %d", got)
	}
	if want := "tapline: a fault of tapline itself, not of your files: x/y: index out of range\n"; stderr.String() != want {
		t.Errorf("got %q, want %q", stderr.String(), want)
	}
	if !strings.Contains(stdout.String(), "Contract: two needle valves in series") {
		t.Errorf("got\n%s", stdout.String())
	}
}

// What is kept of each of many systems is its outcome, not all it was made from.
func TestOutcomesKeepNothingElse(t *testing.T) {
	made := func() (*compiler.SystemOutcome, []diag.Diagnostic, weak.Pointer[lang.Description], weak.Pointer[compiler.Program], weak.Pointer[solver.Result]) {
		d, _ := lang.Read("../../examples/grid-injection")
		run, err := compiler.Solve(d, compiler.Options{})
		if err != nil {
			t.Fatal(err)
		}
		flags := rule.Judge(run)
		return run.Outcome, flags, weak.Make(d), weak.Make(run.Program), weak.Make(run.Results[0])
	}
	outcome, flags, description, program, result := made()
	runtime.GC()
	if description.Value() != nil || program.Value() != nil || result.Value() != nil {
		t.Errorf("the outcome keeps the description alive: %t, the program: %t, a result: %t",
			description.Value() != nil, program.Value() != nil, result.Value() != nil)
	}
	if len(outcome.Cases) != 12 || len(flags) == 0 {
		t.Errorf("%d cases, %d flags", len(outcome.Cases), len(flags))
	}
}

// BenchmarkCheckMany is the whole of a check of five hundred systems of twelve
// cases each, read from the disk, printed to nowhere.
func BenchmarkCheckMany(b *testing.B) {
	dir := b.TempDir()
	writeMany(b, dir, 500)
	b.ReportAllocs()
	for b.Loop() {
		a := app{args: []string{"check", dir + "/..."}, stdout: io.Discard, stderr: io.Discard, getenv: func(string) string { return "" }, engine: compile}
		if got := a.run(); got > statusFlagged {
			b.Fatalf("exit status %d", got)
		}
	}
}
