package chart

import (
	"encoding/xml"
	"errors"
	"io"
	"math"
	"strings"
	"testing"
)

func bench() *Chart {
	return &Chart{
		Title: "R-1 <\x01&>", XAxis: "flow, slpm", YAxis: "outlet pressure, barg", Low: math.NaN(), High: 3.2,
		Lines: []Line{{"inlet 12 barg", []Point{{0, 3, 0}, {60, 2.7, 50}}}},
		Marks: []Mark{{Name: "base", Point: Point{30, 2.85, 25}}},
		Notes: []string{strings.Repeat("word ", 60)},
	}
}

// The drawing is XML whatever the names hold, and the same for the same chart.
func TestSVGIsXML(t *testing.T) {
	data := bench().SVG()
	if string(data) != string(bench().SVG()) {
		t.Error("two drawings of one chart differ")
	}
	for d := xml.NewDecoder(strings.NewReader(string(data))); ; {
		if _, err := d.Token(); errors.Is(err, io.EOF) {
			break
		} else if err != nil {
			t.Fatal(err)
		}
	}
	for _, want := range []string{`class="band"`, "R-1 &lt;?&amp;&gt;", ">1 base<"} {
		if !strings.Contains(string(data), want) {
			t.Errorf("the drawing lacks %s", want)
		}
	}
}

// Charts of nothing, of one value and of huge ones are drawn all the same.
func TestOddCharts(t *testing.T) {
	for _, p := range [][]Point{nil, {{0, 0, 0}}, {{1e-9, 5, 0}, {1e-9, 5, 0}}, {{1e12, -1e12, 0}, {0, 1e12, 1}}} {
		c := &Chart{Lines: []Line{{"l", p}, {"m", []Point{{1, 1, 1}}}}, Low: math.NaN(), High: math.NaN()}
		if s := string(c.SVG()); strings.Contains(s, "NaN") || strings.Contains(s, "Inf") || len(s) > 1e5 {
			t.Errorf("%v: %.300s", p, s)
		}
	}
}

func TestTicks(t *testing.T) {
	for _, tc := range []struct {
		low, high float64
		first     float64
		n         int
		decimals  int
	}{{0, 100, 0, 6, 0}, {-0.02, 1, 0, 6, 1}, {3.2, 3.3, 3.2, 6, 2}} {
		at, d := ticks(tc.low, tc.high, 8)
		if len(at) != tc.n || math.Abs(at[0]-tc.first) > 1e-12 || d != tc.decimals {
			t.Errorf("%g to %g: %v, %d decimals", tc.low, tc.high, at, d)
		}
	}
}
