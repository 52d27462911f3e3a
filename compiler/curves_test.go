package compiler

import (
	"fmt"
	"strings"
	"testing"

	"tapline/lang"
	"tapline/lang/diag"
)

// Curves sampled from a device stated in plain attributes have to give that device
// back: with the gas and the pressures they were sampled at, with another gas, and
// between the pressures of a family.

const curveGases = `
fluid "he" { mole_percent = { helium = 100 } }
fluid "co2" { mole_percent = { "carbon dioxide" = 100 } }
`

var openings = []int{100, 75, 55, 40, 28, 18, 10, 5, 2}

// atOpenings is a case for each opening of the valve N and each fluid and pressure
// of the source S.
func atOpenings(percent []int, fluids, pressures []string) string {
	var b strings.Builder
	for _, f := range fluids {
		for _, p := range pressures {
			for _, o := range percent {
				fmt.Fprintf(&b, "case \"%s %s %d\" {\n  source \"S\" {\n    fluid = %q\n    pressure = %q\n  }\n  valve \"N\" { opening = \"%d %%\" }\n}\n", f, p, o, f, p, o)
			}
		}
	}
	return b.String()
}

// sampled makes a curve block of a run's cases: flow through tag and pressure at
// node over the openings.
func sampled(t *testing.T, run *Run, tag, node, f, source, other string, rest string) string {
	var b strings.Builder
	fmt.Fprintf(&b, "  curve {\n    fluid = %q\n    %s\n    points = [%s", f, other, rest)
	for k := len(openings) - 1; k >= 0; k-- {
		name := fmt.Sprintf("%s %s %d", f, source, openings[k])
		w, p := deviceIn(t, run, name, tag).MassFlowKgS, nodeIn(t, run, name, node).PressurePa
		fmt.Fprintf(&b, ", [\"%.9g g/h\", \"%.9g kPaa\"]", *w*3.6e6, *p/1e3)
	}
	b.WriteString("]\n  }\n")
	return b.String()
}

func TestReducerBuiltFromItsCurves(t *testing.T) {
	pressures := []string{"6 barg", "12 barg", "20 barg"}
	const plain = "set = \"3 barg\"\n  droop = \"0.4 bar\"\n  supply_effect = \"2 %\"\n  reference_inlet = \"12 barg\"\n"
	const rest = "valve \"N\" { cv = 0.04 }\nline \"a\" { path = \"S -> R -> (P1) -> N -> ATM\" }\n"
	reducer := func(says string) string { return curveGases + "reducer \"R\" {\n  cv = 0.1\n  " + says + "}\n" + rest }
	from := good(t, solve(t, reducer(plain)+atOpenings(openings, []string{"n2"}, pressures)))
	single := reducer("supply_effect = \"2 %\"\n" + sampled(t, from, "R", "P1", "n2", "12 barg", `inlet = "12 barg"`, `["0 g/h", "3 barg"]`))
	family := reducer(sampled(t, from, "R", "P1", "n2", "20 barg", `inlet = "20 barg"`, `["0 g/h", "2.84 barg"]`) +
		sampled(t, from, "R", "P1", "n2", "6 barg", `inlet = "6 barg"`, `["0 g/h", "3.12 barg"]`))
	for _, tc := range []struct {
		name, text string
		pressures  []string
	}{
		{"one curve", single, []string{"9 barg", "12 barg", "17 barg"}},
		{"family", family, []string{"6 barg", "9 barg", "12 barg", "17 barg"}},
	} {
		between := atOpenings([]int{65, 35, 22, 7, 3}, []string{"n2", "he", "co2"}, tc.pressures)
		want, got := good(t, solve(t, reducer(plain)+between)), good(t, solve(t, tc.text+between))
		worst := agree(t, tc.name, want, got, "R", "P1", 0.01)
		t.Logf("%s: flows and pressures agree within %.2g", tc.name, worst)
	}
}

// A family sampled from a reducer built from its dimensions gives that reducer
// back: the effect of the inlet is that of the seat, 1/99 of what it falls.
func TestReducerBuiltFromTheCurvesOfItsBalance(t *testing.T) {
	const dimensions = "set = \"3 barg\"\n  reference_inlet = \"12 barg\"\n  balance {\n    sensing_diameter = \"40 mm\"\n    seat_diameter = \"4 mm\"\n" +
		"    rate = \"100 N/mm\"\n    travel = \"0.5 mm\"\n  }\n"
	const rest = "valve \"N\" { cv = 0.04 }\nline \"a\" { path = \"S -> R -> (P1) -> N -> ATM\" }\n"
	reducer := func(says string) string { return curveGases + "reducer \"R\" {\n  cv = 0.1\n  " + says + "}\n" + rest }
	from := good(t, solve(t, reducer(dimensions)+atOpenings(openings, []string{"n2"}, []string{"6 barg", "20 barg"})))
	onset := func(inletBar float64) string {
		return fmt.Sprintf("[\"0 g/h\", \"%.9g barg\"]", 3+(12-inletBar)/99)
	}
	family := reducer(sampled(t, from, "R", "P1", "n2", "20 barg", `inlet = "20 barg"`, onset(20)) +
		sampled(t, from, "R", "P1", "n2", "6 barg", `inlet = "6 barg"`, onset(6)))
	between := atOpenings([]int{65, 35, 22, 7, 3}, []string{"n2", "he", "co2"}, []string{"6 barg", "9 barg", "12 barg", "17 barg"})
	worst := agree(t, "balance", good(t, solve(t, reducer(dimensions)+between)), good(t, solve(t, family+between)), "R", "P1", 0.01)
	t.Logf("flows and pressures agree within %.2g", worst)
}

func TestHolderBuiltFromItsCurves(t *testing.T) {
	const rest = "valve \"N\" { cv = 0.04 }\nline \"a\" { path = \"S -> N -> (P1) -> H -> ATM\" }\n"
	holder := func(says string) string { return curveGases + "holder \"H\" {\n  cv = 0.2\n  " + says + "}\n" + rest }
	sources := []string{"6 barg"}
	for name, says := range map[string]string{
		"plain": "set = \"2 barg\"\n  accumulation = \"0.3 bar\"\n",
		// 75 N/mm 0.5 mm over 1244.07 mm2 are 0.3014 bar.
		"balance": "set = \"2 barg\"\n  balance {\n    sensing_diameter = \"40 mm\"\n    seat_diameter = \"4 mm\"\n    rate = \"75 N/mm\"\n    travel = \"0.5 mm\"\n  }\n",
	} {
		from := good(t, solve(t, holder(says)+atOpenings(openings, []string{"n2"}, sources)))
		text := holder(sampled(t, from, "H", "P1", "n2", "6 barg", `outlet = "0 barg"`, `["0 g/h", "2 barg"]`))
		between := atOpenings([]int{90, 65, 35, 22, 7, 3}, []string{"n2", "he", "co2"}, sources)
		worst := agree(t, "holder, "+name, good(t, solve(t, holder(says)+between)), good(t, solve(t, text+between)), "H", "P1", 0.01)
		t.Logf("%s: flows and pressures agree within %.2g", name, worst)
	}
}

// agree holds two runs against one another and gives the worst relative distance.
func agree(t *testing.T, what string, want, got *Run, tag, node string, rel float64) (worst float64) {
	t.Helper()
	for _, c := range want.Outcome.Cases {
		if c.Name == "base" {
			continue
		}
		a, b := deviceIn(t, want, c.Name, tag), deviceIn(t, got, c.Name, tag)
		near(t, what+", "+c.Name+": flow", b.MassFlowKgS, *a.MassFlowKgS, rel)
		p, q := nodeIn(t, want, c.Name, node), nodeIn(t, got, c.Name, node)
		near(t, what+", "+c.Name+": pressure", q.PressurePa, *p.PressurePa, rel)
		worst = max(worst, distance(*a.MassFlowKgS, *b.MassFlowKgS), distance(*p.PressurePa, *q.PressurePa))
	}
	return worst
}

func distance(a, b float64) float64 { return max(a/b-1, b/a-1) }

// A curve of few points against the curve of many that it was taken from, whose
// opening rises with the 1.5th power of the stroke.
func TestCurveOfFewPoints(t *testing.T) {
	curve := func(n int) string {
		var b strings.Builder
		for k := range n + 1 {
			z := float64(k) / float64(n)
			in, out := 13.01325, 4.01325-0.6*z
			// choked throughout: flow in proportion to the opening (IEC 60534-2-1)
			fmt.Fprintf(&b, "[\"%.9g g/h\", \"%.9g bara\"], ", 9000*pow15(z)*in/13.01325, out)
		}
		return "reducer \"R\" {\n  cv = 0.1\n  curve {\n    fluid = \"n2\"\n    inlet = \"12 barg\"\n    points = [" + b.String() + "]\n  }\n}\n"
	}
	const rest = "valve \"N\" { cv = 0.04 }\nline \"a\" { path = \"S -> R -> (P1) -> N -> ATM\" }\n"
	cases := atOpenings([]int{95, 70, 45, 30, 12}, []string{"n2", "he"}, []string{"12 barg"})
	many, few := good(t, solve(t, curveGases+curve(60)+rest+cases)), good(t, solve(t, curveGases+curve(6)+rest+cases))
	t.Logf("agree within %.2g", agree(t, "few", many, few, "R", "P1", 0.01))
}

func pow15(z float64) float64 {
	root := z
	for range 60 {
		if root > 0 {
			root = 0.5 * (root + z/root)
		}
	}
	return z * root
}

// What is wrong with a curve is said at the point.
func TestWrongCurves(t *testing.T) {
	const good = `["0 slpm", "3 barg"], ["20 slpm", "2.9 barg"]`
	for _, tc := range []struct{ kind, curves, code, at string }{
		{"reducer", "inlet = \"12 barg\"\npoints = [" + good + `, ["15 slpm", "2.8 barg"]]`, "curve-not-monotone", `"15 slpm"`},
		{"reducer", "inlet = \"12 barg\"\npoints = [" + good + `, ["25 slpm", "2.95 barg"]]`, "curve-not-monotone", `"2.95 barg"`},
		{"reducer", "inlet = \"3.3 barg\"\npoints = [" + good + `, ["20.5 slpm", "1 barg"]]`, "curve-not-monotone", `["20.5 slpm", "1 barg"]`},
		{"reducer", "inlet = \"12 barg\"\npoints = [" + good + `, ["2500 slpm", "2.8 barg"]]`, "curve-above-cv", `["2500 slpm", "2.8 barg"]`},
		{"reducer", "inlet = \"12 barg\"\npoints = [[\"1 slpm\", \"3.5 barg\"], [\"20 slpm\", \"3 barg\"]]", "curve-start", `"1 slpm"`},
		{"reducer", "inlet = \"2 barg\"\npoints = [" + good + "]", "curve-no-drop", `"3 barg"`},
		{"reducer", "outlet = \"2 barg\"\npoints = [" + good + "]", "curve-side", `outlet`},
		{"holder", "inlet = \"2 barg\"\npoints = [" + good + "]", "curve-side", `inlet`},
		{"holder", "outlet = \"0 barg\"\npoints = [" + good + "]", "curve-not-monotone", `"2.9 barg"`},
		{"reducer", "inlet = \"12 barg\"\npoints = [" + good + "]\n}\ncurve {\nfluid = \"n2\"\ninlet = \"12 barg\"\npoints = [" + good + "]", "curve-twice", "curve"},
		{"reducer", "inlet = \"12 barg\"\npoints = [" + good + "]\n}\ncurve {\nfluid = \"n2\"\ninlet = \"20 barg\"\npoints = [" + good + "]\n}\n" +
			"curve {\nfluid = \"n2\"\ninlet = \"30 barg\"\npoints = [[\"0 slpm\", \"3.6 barg\"], [\"20 slpm\", \"3.55 barg\"]]", "curve-family", "curve"},
		{"reducer", "temperature = \"-20 degC\"\ninlet = \"190 barg\"\npoints = [" + good + "]", "curve-state", `["20 slpm", "2.9 barg"]`},
	} {
		fluid := "n2"
		if tc.code == "curve-state" {
			fluid = "co2"
		}
		text := preamble + curveGases + tc.kind + " \"R\" {\n cv = 0.05\n curve {\nfluid = \"" + fluid + "\"\n" + tc.curves + "\n}\n}\n" +
			"valve \"N\" { cv = 0.02 }\nline \"a\" { path = \"S -> R -> (P1) -> N -> ATM\" }\n"
		d, found := lang.ReadFiles("bench", map[string][]byte{"x.tap.hcl": []byte(text)})
		if diag.HasErrors(found) {
			t.Fatal(found)
		}
		run, err := Solve(d, Options{})
		if err != nil || len(run.Found) != 1 || run.Found[0].Code != tc.code {
			t.Errorf("%s: %v %v", tc.code, err, run.Found)
			continue
		}
		if r := run.Found[0].Range; text[r.Start.Byte:r.End.Byte] != tc.at {
			t.Errorf("%s is said of %s, not of %s", tc.code, text[r.Start.Byte:r.End.Byte], tc.at)
		}
	}
}

// A curve in a file is the one written out, whatever the order of its columns; what is
// wrong with a point is said at its line and column of the file.
func TestCurveFromAFile(t *testing.T) {
	system := func(says string) string {
		return preamble + "reducer \"R\" {\n  cv = 0.06\n  curve {\n    fluid = \"n2\"\n    inlet = \"6 barg\"\n    " + says + "\n  }\n}\n" +
			"valve \"N\" { cv = 0.03 }\nline \"a\" { path = \"S -> R -> (P1) -> N -> ATM\" }\n"
	}
	run := func(says, csv string) *Run {
		t.Helper()
		d, found := lang.ReadFiles("bench", map[string][]byte{"x.tap.hcl": []byte(system(says)), "r.csv": []byte(csv)})
		if diag.HasErrors(found) {
			t.Fatal(found)
		}
		run, err := Solve(d, Options{})
		if err != nil {
			t.Fatal(err)
		}
		return run
	}
	written := good(t, run(`points = [["0 slpm", "3.2 barg"], ["20 slpm", "3 barg"], ["70 slpm", "2.6 barg"]]`, ""))
	for _, csv := range []string{
		"flow [slpm], pressure [barg]\n0, 3.2\n20, 3.0\n70, 2.6\n",
		"\ufeffpressure barg,flow slpm\r\n3.2,0\r\n\r\n# the rig was opened here\r\n3,2e1\r\n2.6,70.0\r\n",
		"\"Flow (slpm)\",\"Pressure (bara)\"\n0,4.21325\n\"20\",4.01325\n70,3.61325\n",
	} {
		read := good(t, run(`from = "r.csv"`, csv))
		a, b := deviceIn(t, written, "base", "R"), deviceIn(t, read, "base", "R")
		near(t, "flow of "+csv, b.MassFlowKgS, *a.MassFlowKgS, 1e-12)
		if read.Outcome.InputsSHA256 == written.Outcome.InputsSHA256 {
			t.Error("the digest of the inputs does not see the curve's file")
		}
	}
	for _, tc := range []struct{ csv, code, at string }{
		{"flow [slpm], pressure [barg]\n0, 3.2\n20, 3.0\n15, 2.6\n", "curve-not-monotone", "bench/r.csv:4:1"},
		{"flow [slpm], pressure [barg]\n0, 3.2\n20, 3.0\n25, 3.1\n", "curve-not-monotone", "bench/r.csv:4:5"},
		{"flow [slpm], pressure [barg]\n1, 3.2\n20, 3.0\n", "curve-start", "bench/r.csv:2:1"},
		{"flow [slpm], pressure [barg]\n0, 3.2\n2500, 3.0\n", "curve-above-cv", "bench/r.csv:3:1"},
		{"flow [slpm], pressure [barg]\n0, 3.2\n20, -2\n", "below-vacuum", "bench/r.csv:3:5"},
	} {
		r := run(`from = "r.csv"`, tc.csv)
		if len(r.Found) != 1 || r.Found[0].Code != tc.code || !strings.HasPrefix(r.Found[0].Range.String(), tc.at) {
			t.Errorf("%q: %v", tc.csv, r.Found)
		}
	}
}
