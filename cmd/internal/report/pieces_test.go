package report

import (
	"fmt"
	"math"
	"reflect"
	"regexp"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"tapline/cmd/internal/sample"
	"tapline/compiler"
	"tapline/lang/diag"
	"tapline/lang/quantity"
)

func TestNumbers(t *testing.T) {
	for _, tt := range []struct {
		v    float64
		n    int
		want string
	}{
		{5.53324, 3, "5.533"}, {0, 3, "0"}, {math.Copysign(0, -1), 2, "0"}, {-0.5, 1, "-0.5"}, {0.00012345, 3, "0.000123"},
		{1e-9, 3, "1e-09"}, {math.NaN(), 3, "-"}, {math.Inf(1), 3, "-"}, {123456, 0, "123456"},
	} {
		if got := fixed(tt.v, tt.n); got != tt.want {
			t.Errorf("fixed(%v, %d) = %q, want %q", tt.v, tt.n, got, tt.want)
		}
	}
	for v, want := range map[float64]string{0.9: "0.9", 1.4000000000000001: "1.4", 250: "250", 1.01325: "1.01325", 0: "0", 1e7: "1e+07", 2e-5: "2e-05", 999999.9: "1000000", -3.5: "-3.5"} {
		if got := compact(v, 6); got != want {
			t.Errorf("compact(%v) = %q, want %q", v, got, want)
		}
	}
	low, high := 0.9, 1.4
	for v, want := range map[float64]string{1.4: "1.400", 1.40004: "1.40004", 1.4000000001: "1.4000000001", 0.89996: "0.89996", 2: "2.000", 1.2: "1.200"} {
		if got := beyond(v, &low, &high, 3); got != want {
			t.Errorf("beyond(%v) = %q, want %q", v, got, want)
		}
	}
	if got := decimals([]float64{0.001, 52, math.Inf(1)}); got != 2 {
		t.Errorf("got %d decimals, want 2", got)
	}
	ns := []string{"1.5", "-", "120", "0.0001", "1e-09"}
	alignPoints(ns)
	if want := []string{"  1.5", "  -", "120", "  0.0001", "  1e-09"}; !reflect.DeepEqual(ns, want) {
		t.Errorf("got %q, want %q", ns, want)
	}
}

// A table is never wider than it is told unless its numbers alone are, no
// character of a cell is lost, and no line ends in a space.
func TestTableFits(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.StringOfN(rapid.RuneFrom([]rune("ab -圧\u0301")), 0, 60, -1)
		tb := table{head: []cell{{"name", ""}, {"n\nunit", ""}, {"state", ""}}, words: []bool{true, false, true}}
		rows := rapid.IntRange(0, 4).Draw(t, "rows")
		letters := 0
		for range rows {
			a, c := text.Draw(t, "a"), text.Draw(t, "c")
			tb.rows = append(tb.rows, []cell{{a, ""}, {"1.234", red}, {c, ""}})
			letters += strings.Count(a+c, "a") + strings.Count(a+c, "圧")
		}
		width := rapid.IntRange(narrowest*2+5+2*gap, 160).Draw(t, "width")
		var b strings.Builder
		tb.write(&b, width, false)
		for line := range strings.SplitSeq(b.String(), "\n") {
			if diag.Columns(line) > width {
				t.Fatalf("%d columns of %d: %q", diag.Columns(line), width, line)
			}
		}
		head := "namenunitstate"
		if got := strings.Count(b.String(), "a") + strings.Count(b.String(), "圧") - strings.Count(head, "a"); got != letters {
			t.Fatalf("%d letters of %d in\n%s", got, letters, b.String())
		}
	})
}

var escape = regexp.MustCompile("\x1b\\[[0-9;]*m")

// Colours add nothing but colours: every mark is there in words too.
func TestColourIsNotTheMessage(t *testing.T) {
	for name, outcome := range sample.Outcomes {
		for _, write := range []func(*compiler.Outcome, Options) string{Check, Solve} {
			opt := Options{Width: 100, Terminal: true}
			plain := write(outcome(), opt)
			opt.Colour = true
			coloured := write(outcome(), opt)
			if strings.Contains(plain, "\x1b") || !strings.Contains(coloured, "\x1b[1;31m") {
				t.Errorf("%s: colours where there should be none, or none where there should be some", name)
			}
			if escape.ReplaceAllString(coloured, "") != plain {
				t.Errorf("%s: the coloured text reads\n%s\nthe plain one\n%s", name, coloured, plain)
			}
		}
	}
}

// Every line keeps within a terminal's width, snippets of long lines included.
func TestTerminalWidth(t *testing.T) {
	for name, outcome := range sample.Outcomes {
		for _, width := range []int{60, 80, 120, 160} {
			for line := range strings.SplitSeq(Solve(outcome(), Options{Width: width, Terminal: true}), "\n") {
				if n := diag.Columns(line); n > width {
					t.Errorf("%s at %d: %d columns: %s", name, width, n, line)
				}
			}
		}
	}
}

func TestUnits(t *testing.T) {
	at := func(shown map[string]string, ref *compiler.Reference) units {
		return unitsOf(&compiler.SystemOutcome{ShownIn: shown, ReferenceState: ref})
	}
	nitrogen := stream{Stream: quantity.Stream{MolarMass: 0.028, DensityKgM3: 2}}
	water := stream{Stream: quantity.Stream{DensityKgM3: 1000}, liquid: true}
	ref := &compiler.Reference{TemperatureK: 288.15, PressurePa: 101325}
	// Exact relations of the units: 0 degC is 273.15 K and 32 degF (SI Brochure
	// 9th ed.; NIST SP 811), 1 kg/h is 1/3600 kg/s. A mole at 288.15 K, 101325 Pa
	// takes R 288.15/101325 m3 by the ideal-gas law.
	litresPerKg := 8.31446261815324 * 288.15 / 101325 / 0.028 * 1000
	tests := []struct {
		name  string
		scale scale
		si    float64
		want  float64
		unit  string
	}{
		{"gauge by default", at(nil, nil).of("pressure", 85000, stream{}), 185000, 1, "barg"},
		{"absolute", at(map[string]string{"pressure": "bara"}, nil).of("inlet_pressure", 85000, stream{}), 185000, 1.85, "bara"},
		{"kPag", at(map[string]string{"pressure": "kPag"}, nil).of("pressure", 101325, stream{}), 101325, 0, "kPag"},
		{"difference of gauge", at(map[string]string{"pressure": "kPag"}, nil).of("drop", 101325, stream{}), 5000, 5, "kPa"},
		{"difference of absolute", at(map[string]string{"pressure": "mbara"}, nil).of("drop", 0, stream{}), 5000, 50, "mbar"},
		{"temperature", at(nil, nil).of("temperature", 0, stream{}), 273.15, 0, "degC"},
		{"fahrenheit", at(map[string]string{"temperature": "degF"}, nil).of("temperature", 0, stream{}), 273.15, 32, "degF"},
		{"standard volume", at(nil, ref).of("flow", 0, nitrogen), 1. / 60, litresPerKg, "slpm"},
		{"normal volume", at(map[string]string{"gas_flow": "NL/min"}, ref).of("flow", 0, nitrogen), 1. / 60, litresPerKg * 273.15 / 288.15, "NL/min"},
		{"mass without a reference state", at(nil, nil).of("flow", 0, nitrogen), 1. / 3600, 1000, "g/h"},
		{"mass where the gas is not known", at(nil, ref).of("flow", 0, stream{}), 1. / 3600, 1000, "g/h"},
		{"mass as asked for", at(map[string]string{"gas_flow": "kg/h"}, ref).of("flow", 0, nitrogen), 1. / 3600, 1, "kg/h"},
		{"actual volume", at(map[string]string{"gas_flow": "aL/min"}, ref).of("flow", 0, nitrogen), 2. / 60, 1000, "aL/min"},
		{"liquid", at(nil, ref).of("flow", 0, water), 1. / 3600, 1, "L/h"},
		{"lift", at(nil, nil).of("lift", 0, stream{}), 0.5, 50, "%"},
		{"share of a source", at(nil, nil).of("share GRID", 0, stream{}), 0.999, 99.9, "%"},
		{"lag", at(nil, nil).of("lag", 0, stream{}), 60, 60, "s"},
		{"something new", at(nil, nil).of("wobble_index", 0, stream{}), 3, 3, ""},
	}
	for _, tt := range tests {
		got := tt.scale.show(tt.si)
		if tt.scale.unit != tt.unit || math.Abs(got-tt.want) > 1e-9*max(1, math.Abs(tt.want)) {
			t.Errorf("%s: got %v %q, want %v %q", tt.name, got, tt.scale.unit, tt.want, tt.unit)
		}
	}
}

// Of ten thousand cases the failing ones are shown, and the rest counted.
func TestManyCases(t *testing.T) {
	for every, want := range map[int]string{1000: "9940 cases more, all within these limits:", 100: "9940 cases more, 41 of them not within these limits:"} {
		got := Check(&compiler.Outcome{Systems: []compiler.SystemOutcome{manyCases(every)}}, Options{})
		if strings.Count(got, " high") != min(10_000/every, maxRows-1) || !strings.Contains(got, want) || strings.Count(got, "\ncase ") != maxRows+1 {
			t.Errorf("no %q in\n%s", want, got)
		}
	}
}

// manyCases is a system of ten thousand cases of which one in every fails.
func manyCases(every int) compiler.SystemOutcome {
	s := compiler.SystemOutcome{Name: "s", AtmospherePa: 1e5}
	limit := 2e5
	for i := range 10_000 {
		name := fmt.Sprintf("case %d", i)
		value, state := 1.5e5, "pass"
		if i%every == 7 {
			value, state = 2.5e5, "fail"
		}
		s.Cases = append(s.Cases, compiler.CaseOutcome{Name: name, Status: "solved", AtmospherePa: 1e5})
		s.Checks = append(s.Checks, compiler.CheckOutcome{Name: "b", Source: "band", Case: name, At: "P1", Quantity: "pressure", Max: &limit, Value: &value, Status: state})
	}
	return s
}

func TestGather(t *testing.T) {
	of := func(level diag.Level, in string, value float64, line int) diag.Diagnostic {
		limit := 10.0
		return diag.Diagnostic{Code: "c", Level: level, Case: in, Value: &value, Limit: &limit, Message: in,
			Range: diag.Range{File: "f", Start: diag.Position{Line: line, Byte: line}}}
	}
	fs := gather([]diag.Diagnostic{
		of(diag.Caution, "x", 11, 1), of(diag.Alarm, "a", 11, 2), of(diag.Alarm, "b", 19, 2), of(diag.Alarm, "c", 5, 2),
		of(diag.Alarm, "d", 10, 2), of(diag.Alarm, "e", 10, 2), of(diag.Alarm, "f", 10, 2),
	})
	if len(fs) != 2 || fs[0].Case != "b" || fs[1].Case != "x" {
		t.Fatalf("got %v", fs)
	}
	if got, want := fs[0].others(), `also in 5 other cases: "a", "c", "d", "e" and 1 more`; got != want {
		t.Errorf("got %s, want %s", got, want)
	}
}

func TestManyFindings(t *testing.T) {
	o := &compiler.Outcome{}
	for i := range 150 {
		o.Flags = append(o.Flags, diag.Diagnostic{Code: "bad", Level: diag.Error, Message: fmt.Sprint(i)})
		o.Assumptions = append(o.Assumptions, fmt.Sprint("assumed ", i))
	}
	got := Check(o, Options{})
	if strings.Count(got, "error[bad]") != diag.MaxPrinted || !strings.Contains(got, "\nand 50 more, not printed\n") ||
		!strings.Contains(got, "\n  and 138 more, not printed\n") || !strings.HasSuffix(got, "\n150 errors.\n") {
		t.Errorf("got\n%s", got)
	}
}

// What one folder is full of does not keep back what another has.
func TestManyFindingsOfOneFolder(t *testing.T) {
	o := &compiler.Outcome{}
	for i := range 150 {
		o.Flags = append(o.Flags, diag.Diagnostic{Code: "bad", Level: diag.Error, Message: fmt.Sprint(i), Range: diag.Range{File: "a/s.tap.hcl"}})
	}
	o.Flags = append(o.Flags, diag.Diagnostic{Code: "low", Level: diag.Caution, Message: "this too", Range: diag.Range{File: "b/s.tap.hcl"}})
	got := Check(o, Options{})
	if strings.Count(got, "error[bad]") != diag.MaxPrinted || !strings.Contains(got, "caution[low]: this too") || !strings.Contains(got, "\nand 50 more, not printed\n") {
		t.Errorf("got\n%s", got)
	}
}

func TestSystemWithoutLimits(t *testing.T) {
	got := Check(&compiler.Outcome{Systems: []compiler.SystemOutcome{
		{Name: "s", Cases: []compiler.CaseOutcome{{Name: "base", Status: "solved"}, {Name: "x", Status: "unsolved"}}},
		{Name: "models"},
	}}, Options{})
	for _, want := range []string{"base           solved, no limit to hold it against\n", "not solved: x  -\n", "No case was solved.\n", "2 systems, 2 cases (1 not solved): nothing flagged.\n"} {
		if !strings.Contains(got, want) {
			t.Errorf("no %q in\n%s", want, got)
		}
	}
}

// Files that cannot be used are shown as such: no table, and no numbers to be
// cautious about.
func TestSystemWithErrors(t *testing.T) {
	o := sample.Broken()
	want := Check(o, Options{})
	o.Systems = []compiler.SystemOutcome{{Name: "broken", Dir: "broken"}}
	got := Check(o, Options{})
	if want = strings.Replace(want, "7 errors.", "1 system, 0 cases: 7 errors.", 1); got != want {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
}
