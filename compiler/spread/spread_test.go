package spread

import (
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"reflect"
	"runtime"
	"testing"

	"tapline/compiler"
	"tapline/lang"
	"tapline/lang/diag"
)

func runOf(t *testing.T, more string) (*compiler.Run, *lang.Spread) {
	t.Helper()
	files := map[string][]byte{"more.tap.hcl": []byte(more)}
	names, _ := filepath.Glob("../../examples/grid-injection/*.tap.hcl")
	for _, name := range names {
		text, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		files[filepath.Base(name)] = text
	}
	d, found := lang.ReadFiles("grid-injection", files)
	if diag.HasErrors(found) {
		t.Fatal(found)
	}
	run, err := compiler.Solve(d, compiler.Options{Cases: []string{"base"}})
	if err != nil || diag.HasErrors(run.Found) {
		t.Fatal(err, run.Found)
	}
	return run, d.Spreads[0]
}

const wide = `
spread "wide" {
  draws = 150
  seed  = 3
  source "GRID" { pressure = "2 .. 70 barg" }
  vent "FLARE" { pressure = "0 .. 0.8 barg" }
  valve "NV-11" { opening = "0 .. 60 %" }
}
`

// The tally of the whole does not depend on processors, nor on how it was put
// together from parts, written and read again.
func TestPartsMakeTheWhole(t *testing.T) {
	run, s := runOf(t, wide)
	before := runtime.GOMAXPROCS(0)
	defer runtime.GOMAXPROCS(before)
	text := func(tally *Tally) string {
		b, err := json.Marshal(tally)
		if err != nil {
			t.Fatal(err)
		}
		return string(b)
	}
	var want string
	for _, processors := range []int{1, 2} {
		runtime.GOMAXPROCS(processors)
		whole, found := Solve(run, s, Options{})
		if diag.HasErrors(found) {
			t.Fatal(found)
		}
		if whole.Cases != 150 || len(whole.Flags) < 5 {
			t.Fatalf("%d cases, %d flags", whole.Cases, len(whole.Flags))
		}
		if got := text(whole); want == "" {
			want = got
		} else if got != want {
			t.Fatalf("other bytes at %d processors", processors)
		}
		for _, parts := range []int{2, 7} {
			var read []*Tally
			for part := parts; part >= 1; part-- {
				one, _ := Solve(run, s, Options{Part: part, Parts: parts})
				var again Tally
				if err := json.Unmarshal([]byte(text(one)), &again); err != nil {
					t.Fatal(err)
				}
				read = append(read, &again)
			}
			if got := text(Join(read)); got != want {
				t.Fatalf("%d parts make another whole:\n%s\n%s", parts, got, want)
			}
		}
	}
}

// The counts are those of the cases solved one by one, and the worst case is the one
// that its name makes again.
func TestWorstCaseByName(t *testing.T) {
	run, s := runOf(t, wide)
	tally, _ := Solve(run, s, Options{})
	v, _ := run.Vary(s)
	w := v.Worker()
	chunk := func(i int) *compiler.Answer {
		for k := i / compiler.SpreadChunk * compiler.SpreadChunk; k < i; k++ {
			w.Answer(k, k%compiler.SpreadChunk > 0)
		}
		return w.Answer(i, i%compiler.SpreadChunk > 0)
	}
	node, _ := run.Program.NodeAt("PI-12")
	for _, l := range tally.Limits {
		if l.At != "PI-12" || l.Quantity != "pressure" {
			continue
		}
		if l.Judged != 150 || l.Inside == 0 || l.Inside == 150 {
			t.Errorf("%d judged, %d inside", l.Judged, l.Inside)
		}
		for _, x := range []*Value{l.Lowest, l.Highest, l.Worst} {
			if got := chunk(x.Case).Result.Nodes[node].PressurePa; got != x.Value {
				t.Errorf("case %d has %v Pa in the tally and %v Pa again", x.Case, x.Value, got)
			}
			again, err := compiler.Solve(run.Program.Description, compiler.Options{Cases: []string{s.CaseName(x.Case)}})
			if err != nil || again.Results[0].Nodes[node].PressurePa != x.Value {
				t.Errorf("by its name case %d has other numbers", x.Case)
			}
		}
		return
	}
	t.Error("the limit is not there")
}

func TestChunks(t *testing.T) {
	for _, cases := range []int{1, 64, 65, 1000, 100_000} {
		for _, parts := range []int{1, 2, 16, 1000} {
			at := 0
			for part := 1; part <= parts; part++ {
				from, to := Chunks(cases, part, parts)
				if from != at || to < from {
					t.Fatalf("part %d of %d of %d cases: %d to %d, after %d", part, parts, cases, from, to, at)
				}
				at = to
			}
			if _, all := Chunks(cases, 0, 0); at != all || all*compiler.SpreadChunk < cases {
				t.Errorf("%d parts of %d cases end at %d of %d", parts, cases, at, all)
			}
		}
	}
}

// Rows come in the order of the cases, one each.
func TestRows(t *testing.T) {
	run, s := runOf(t, wide)
	var names []string
	Solve(run, s, Options{Each: func(_ int, rows []compiler.Row) {
		for _, r := range rows {
			names = append(names, r.Case)
		}
	}})
	var want []string
	for i := range s.Cases() {
		want = append(want, s.CaseName(i))
	}
	if !reflect.DeepEqual(names, want) {
		t.Errorf("rows %q", names)
	}
}

// The interval against the worked example of the NIST/SEMATECH e-Handbook of
// Statistical Methods, 7.2.4.1 (4 of 20, 90 %: 0.071354 to 0.401029; from memory), and
// against what follows by hand where none or all succeed: 1 - (tail)^(1/n).
func TestInterval(t *testing.T) {
	for _, tc := range []struct {
		k, n       int
		confidence float64
		low, high  float64
	}{
		{4, 20, 0.90, 0.071354, 0.401029},
		{0, 10, 0.95, 0, 1 - math.Pow(0.025, 0.1)},
		{10, 10, 0.95, math.Pow(0.025, 0.1), 1},
		{5000, 5000, 0.95, math.Pow(0.025, 1.0/5000), 1},
		{0, 10_000_000, 0.95, 0, 1 - math.Pow(0.025, 1e-7)},
	} {
		low, high := interval(tc.k, tc.n, tc.confidence)
		if math.Abs(low-tc.low) > 2e-6 || math.Abs(high-tc.high) > 2e-6 {
			t.Errorf("%d of %d: %.7f to %.7f, want %.6f to %.6f", tc.k, tc.n, low, high, tc.low, tc.high)
		}
	}
	// The tails of the interval are those of the binomial, summed by hand.
	const k, n = 3, 12
	low, high := interval(k, n, 0.95)
	tail := func(p float64, from, to int) (sum float64) {
		for i := from; i <= to; i++ {
			c := 1.0
			for j := range i {
				c *= float64(n-j) / float64(j+1)
			}
			sum += c * math.Pow(p, float64(i)) * math.Pow(1-p, float64(n-i))
		}
		return sum
	}
	if a, b := tail(low, k, n), tail(high, 0, k); math.Abs(a-0.025) > 1e-9 || math.Abs(b-0.025) > 1e-9 {
		t.Errorf("tails of %g and %g", a, b)
	}
}
