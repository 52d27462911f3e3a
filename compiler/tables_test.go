package compiler

import (
	"math"
	"os"
	"path/filepath"
	"testing"

	"tapline/lang"
	"tapline/solver"
)

// Every example has the same answer by the equations of state as with their tables, to
// a millionth: pressures and temperatures relative, flows against the greatest of
// the case.
func TestTablesChangeNoExample(t *testing.T) {
	dirs, err := filepath.Glob("../examples/*")
	if err != nil || len(dirs) < 6 {
		t.Fatal(dirs, err)
	}
	cases, worst := 0, 0.0
	for _, dir := range dirs {
		names, _ := filepath.Glob(filepath.Join(dir, "*.tap.hcl"))
		files := map[string][]byte{}
		for _, name := range names {
			text, err := os.ReadFile(name)
			if err != nil {
				t.Fatal(err)
			}
			files[filepath.Base(name)] = text
		}
		if len(files) == 0 {
			continue
		}
		d, _ := lang.ReadFiles(filepath.Base(dir), files)
		run, err := Solve(d, Options{})
		if err != nil {
			t.Fatal(err)
		}
		for i, c := range run.Cases {
			b := run.Results[i]
			if b == nil || b.Status != solver.Solved {
				continue
			}
			plain := *c.Solver
			if !plain.Tables {
				t.Fatal("solved without tables")
			}
			plain.Tables = false
			a, err := solver.NewWorkspace(run.Program.Network).Solve(&plain)
			if err != nil || a.Status != solver.Solved {
				t.Fatal(dir, c.Name, err, a.Reason)
			}
			cases++
			off, most := 0.0, 0.0
			for k := range a.Elements {
				most = math.Max(most, math.Abs(a.Elements[k].FlowKgS))
			}
			for k := range a.Elements {
				off = math.Max(off, math.Abs(a.Elements[k].FlowKgS-b.Elements[k].FlowKgS)/math.Max(most, 1e-9))
			}
			for k := range a.Nodes {
				x, y := &a.Nodes[k], &b.Nodes[k]
				if x.State != y.State {
					t.Errorf("%s, %s: %s is %v, with tables %v", dir, c.Name, run.Program.Nodes[k].Name, x.State, y.State)
				} else if !math.IsNaN(x.PressurePa) {
					off = math.Max(off, math.Max(math.Abs(y.PressurePa/x.PressurePa-1), math.Abs(y.TemperatureK/x.TemperatureK-1)))
				}
			}
			if worst = math.Max(worst, off); !(off <= 1e-6) {
				t.Errorf("%s, %s: %.1e apart", dir, c.Name, off)
			}
		}
	}
	t.Logf("%d cases, at most %.1e apart", cases, worst)
	if cases < 20 {
		t.Errorf("only %d cases", cases)
	}
}
