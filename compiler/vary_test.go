package compiler

import (
	"maps"
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"strconv"
	"strings"
	"testing"

	"tapline/lang"
	"tapline/lang/diag"
	"tapline/solver"
)

// withMore reads an example with more text in a file of its own.
func withMore(t *testing.T, dir, more string) *lang.Description {
	t.Helper()
	files := map[string][]byte{"more.tap.hcl": []byte(more)}
	names, _ := filepath.Glob(filepath.Join("../examples", dir, "*.tap.hcl"))
	for _, name := range names {
		text, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		files[filepath.Base(name)] = text
	}
	d, found := lang.ReadFiles(dir, files)
	if diag.HasErrors(found) {
		t.Fatal(found)
	}
	return d
}

// Going on from case to case, with only what moved made again, gives the very
// parameters that the whole case lowered anew gives; of sources, vents, devices of
// every way to be lowered, the air, gases, and valves that shut.
func TestMovedAsWhole(t *testing.T) {
	for name, text := range map[string]string{
		"sources and vents": `
spread "s" {
  source "GRID" {
    pressure    = "16, 52 barg"
    temperature = "0, 20 degC"
  }
  vent "FLARE" { pressure = "0, 0.4 barg" }
}`,
		"devices": `
spread "s" {
  after = ["winter", "filter fouled"]
  reducer "PCV-11" { droop = "0.2, 0.3 bar" }
  holder "BPH-11" { set = "1.1, 1.3 barg" }
  relief "PSV-11" { set = "5, 6 barg" }
  tube "T-11" { length = "10, 30 m" }
  meter "FI-11" { drop = "8, 16 mbar" }
  filter "F-12" { fouled = "0, 50 %" }
  valve "NV-13" { opening = "20, 30 %" }
}`,
		"air": `
spread "s" {
  site { ambient = "-18, 12, 38 degC" }
  vent "FLARE" { pressure = "0, 0.4 barg" }
}`,
		"height": `
spread "s" { 
  site { elevation = "0, 410, 1500 m" }
}`,
		"gas": `
spread "s" {
  fluid "biomethane" { mole_percent = { methane = "rest", carbon_dioxide = "0 .. 4 %, 3 values" } }
}`,
		"valve that shuts": `
spread "s" {
  valve "V-10" { opening = "0, 50, 100 %" }
}`,
		"given": `
spread "s" {
  given { flare_high = "0.1, 0.5 barg" }
  after = ["flare header high"]
}`,
		"draws": `
case "loose" {
  reducer "PCV-11" {
    set   = "3.5 +/- 0.1 barg"
    droop = "0.25 bar +/- 10 %"
  }
  valve "NV-11" { cv = "0.004 +/- 10 %" }
}
spread "s" {
  draws = 5
  after = ["loose"]
  source "GRID" { pressure = "40 .. 60 barg" }
}`,
	} {
		t.Run(name, func(t *testing.T) {
			d := withMore(t, "grid-injection", text)
			run, err := Solve(d, Options{Cases: []string{"base"}})
			if err != nil || diag.HasErrors(run.Found) {
				t.Fatal(err, run.Found)
			}
			s := d.Spreads[0]
			v, found := run.Vary(s)
			if diag.HasErrors(found) {
				t.Fatal(found)
			}
			going, anew := v.Worker(), v.Worker()
			all := *v
			all.whole = true
			anew.Varied = &all
			n := s.Cases()
			order := []int{}
			for i := range n {
				order = append(order, i, (i*7+3)%n)
			}
			moved := false
			var before []solver.ElementResult
			for _, i := range order {
				a, b := going.Answer(i, false), anew.Answer(i, false)
				if a.Result == nil || b.Result == nil {
					t.Fatal(s.CaseName(i), a.Found, b.Found)
				}
				if !reflect.DeepEqual(a.Case.Solver.Conditions, b.Case.Solver.Conditions) || !reflect.DeepEqual(a.Case.Solver.Devices, b.Case.Solver.Devices) {
					t.Fatalf("%s: going on from case to case gives other parameters", s.CaseName(i))
				}
				if !reflect.DeepEqual(a.Case.Settings, b.Case.Settings) {
					t.Fatalf("%s: other settings", s.CaseName(i))
				}
				moved = moved || before != nil && !reflect.DeepEqual(before, a.Result.Elements)
				before = slices.Clone(a.Result.Elements)
			}
			if !moved {
				t.Error("nothing moves")
			}
		})
	}
}

// A case of a spread is the case that says the same in full.
func TestMovedAsWritten(t *testing.T) {
	d := withMore(t, "grid-injection", `
spread "s" {
  after = ["winter"]
  source "GRID" { pressure = "16 .. 60 barg, 3 values" }
  vent "FLARE" { pressure = "0.1, 0.4 barg" }
}
case "written" {
  after = ["winter"]
  source "GRID" { pressure = "38 barg" }
  vent "FLARE" { pressure = "0.4 barg" }
}
`)
	const name = "s: GRID=38 barg FLARE=0.4 barg"
	run, err := Solve(d, Options{Cases: []string{"written", name}})
	if err != nil || diag.HasErrors(run.Found) || len(run.Results) != 2 {
		t.Fatal(err, run.Found, len(run.Results))
	}
	if run.Cases[1].Name != name || len(run.Spreads) != 0 {
		t.Errorf("solved %q and %d spreads", run.Cases[1].Name, len(run.Spreads))
	}
	a, b := run.Results[0], run.Results[1]
	for i := range a.Nodes {
		x, y := a.Nodes[i].PressurePa, b.Nodes[i].PressurePa
		if diff := x/y - 1; diff > 1e-9 || diff < -1e-9 || a.Nodes[i].State != b.Nodes[i].State {
			t.Errorf("%s: %g Pa written in full, %g Pa in the spread", run.Program.Nodes[i].Name, x, y)
		}
	}
	for _, none := range []string{"s: GRID=38 barg", "s: GRID=39 barg FLARE=0.4 barg", "t"} {
		if _, err := Solve(d, Options{Cases: []string{none}}); err == nil || !strings.Contains(err.Error(), strconv.Quote(none)) {
			t.Errorf("%q: %v", none, err)
		}
	}
}

// Gases of a spread are made once each, and those that do not move are the run's own.
func TestGasesAreShared(t *testing.T) {
	d := withMore(t, "grid-injection", `
spread "s" {
  fluid "biomethane" { mole_percent = { methane = "rest", hydrogen = "0 .. 5 %, 6 values" } }
  vent "FLARE" { pressure = "0 .. 0.4 barg, 100 values" }
}
`)
	run, err := Solve(d, Options{Cases: []string{"base"}})
	if err != nil {
		t.Fatal(err)
	}
	v, _ := run.Vary(d.Spreads[0])
	w := v.Worker()
	seen := map[any]bool{}
	for i := 0; i < d.Spreads[0].Cases(); i += 7 {
		w.moved.Set(i)
		if found := w.lower(); diag.HasErrors(found) {
			t.Fatal(found)
		}
		for _, f := range w.c.Solver.Fluids {
			seen[f] = true
		}
	}
	nitrogen := maps.Clone(seen)
	for _, f := range run.Cases[0].Solver.Fluids {
		delete(nitrogen, any(f))
	}
	if len(seen) != 7 || len(nitrogen) != 6 {
		t.Errorf("%d gases, %d of them not the base's; want 6 of the moving one and the base's nitrogen", len(seen), len(nitrogen))
	}
}
