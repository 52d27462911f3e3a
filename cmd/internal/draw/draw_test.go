package draw

import (
	"bytes"
	"context"
	"encoding/json"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"tapline/cmd/internal/draw/place"
	"tapline/compiler"
	"tapline/compiler/rule"
	"tapline/lang"
	"tapline/lang/diag"
)

// helper is the layout program, built once for all tests.
var helper string

func TestMain(m *testing.M) {
	os.Exit(func() int {
		dir, err := os.MkdirTemp("", "draw")
		if err != nil {
			panic(err)
		}
		defer os.RemoveAll(dir)
		helper = filepath.Join(dir, place.Program)
		if out, err := exec.Command("go", "build", "-o", helper, "tapline/cmd/tapline-layout").CombinedOutput(); err != nil {
			panic(fmt.Sprintf("%v\n%s", err, out))
		}
		os.Setenv("XDG_CACHE_HOME", dir)
		return m.Run()
	}())
}

func ask(r *place.Request) (*place.Answer, error) { return place.Run(context.Background(), helper, r) }

// systems are the folders drawn in tests.
func systems(t *testing.T) (dirs []string) {
	for _, pattern := range []string{"examples/*", "testdata/contract/*", "testdata/networks/dome"} {
		found, err := filepath.Glob("../../../" + pattern + "/system.tap.hcl")
		if err != nil {
			t.Fatal(err)
		}
		for _, f := range found {
			dirs = append(dirs, filepath.Dir(f))
		}
	}
	if len(dirs) < 5 {
		t.Fatalf("only %d systems found", len(dirs))
	}
	return dirs
}

// answers keeps what solve found, for the next test.
var answers = map[string]*answer{}

type answer struct {
	cases []string
	of    func(name string) *Diagram
}

// solved gives a function that draws a case of a system anew.
func solved(t *testing.T, dir string) (cases []string, of func(name string) *Diagram) {
	t.Helper()
	if answers[dir] == nil {
		cases, of := solve(t, dir)
		answers[dir] = &answer{cases, of}
	}
	return answers[dir].cases, answers[dir].of
}

func solve(t *testing.T, dir string) (cases []string, of func(name string) *Diagram) {
	t.Helper()
	d, problems := lang.Read(dir)
	if diag.HasErrors(problems) {
		t.Fatal(problems)
	}
	run, err := compiler.Solve(d, compiler.Options{})
	if err != nil || diag.HasErrors(run.Found) {
		t.Fatal(err, run.Found)
	}
	flags := append(run.Found, rule.Judge(run)...)
	for i := range flags {
		flags[i].System = d.System.Tag
	}
	for _, c := range run.Outcome.Cases {
		cases = append(cases, c.Name)
	}
	return cases, func(name string) *Diagram {
		i := slices.Index(cases, name)
		return New(run.Outcome, &run.Outcome.Cases[i], run.Program.Document(d.System.Tag), flags)
	}
}

// caution stands for the sentence under all results.
const cautionText = "These numbers help a competent person to judge."

func paint(t *testing.T, d *Diagram) (*plan, *canvas, []byte) {
	t.Helper()
	p, err := d.place(ask)
	if err != nil {
		t.Fatal(err)
	}
	c := &canvas{}
	return p, c, p.paint(c, cautionText)
}

// collisions lists every text that lies on another text, on a line, on a symbol
// or outside the page. A tag inside its own bubble is where it belongs.
func collisions(c *canvas, width, height float64) (out []string) {
	apart := func(a, b extent) bool { return a.x2 <= b.x1 || b.x2 <= a.x1 || a.y2 <= b.y1 || b.y2 <= a.y1 }
	for i, t := range c.texts {
		if t.x1 < 0 || t.y1 < 0 || t.x2 > width || t.y2 > height {
			out = append(out, fmt.Sprintf("%q leaves the page", t.what))
		}
		for _, o := range c.texts[i+1:] {
			if !apart(t, o) {
				out = append(out, fmt.Sprintf("%q lies on %q", t.what, o.what))
			}
		}
		for _, l := range c.lines {
			l.x1, l.y1, l.x2, l.y2 = l.x1-0.7, l.y1-0.7, l.x2+0.7, l.y2+0.7 // half the widest stroke
			if !apart(t, l) {
				out = append(out, fmt.Sprintf("%q lies on a %s", t.what, l.what))
			}
		}
		for _, m := range c.marks {
			inside := m.what == "bubble" && t.x1 >= m.x1 && t.x2 <= m.x2 && t.y1 >= m.y1 && t.y2 <= m.y2
			if !inside && !apart(t, m) {
				out = append(out, fmt.Sprintf("%q lies on a symbol (%s)", t.what, m.what))
			}
		}
	}
	return out
}

// Every case of every system, with and without flags at all its cells.
func TestNoTextOnTextLineSymbolOrPageEdge(t *testing.T) {
	for _, dir := range systems(t) {
		t.Run(filepath.Base(dir), func(t *testing.T) {
			cases, of := solved(t, dir)
			if len(cases) > 2 {
				cases = cases[:2] // a layout takes about 50 ms
			}
			for k, name := range cases {
				d := of(name)
				if k == 0 { // the hardest page: something to say everywhere
					for i := range d.cells {
						d.cells[i].flags = []diag.Diagnostic{{Code: "band-high", Level: diag.Alarm}, {Code: "rated-pressure-near", Level: diag.Caution}}
					}
					d.loose = []diag.Diagnostic{{Code: "holder-not-stable", Level: diag.Caution, Message: strings.Repeat("a long sentence ", 40)}}
				}
				p, c, _ := paint(t, d)
				for _, s := range collisions(c, p.width, p.height) {
					t.Errorf("case %s: %s", name, s)
				}
				if len(c.texts) < 2*len(d.Case.Devices) {
					t.Errorf("case %s: %d texts for %d devices", name, len(c.texts), len(d.Case.Devices))
				}
			}
		})
	}
}

func TestCollisionsAreSeen(t *testing.T) {
	c := &canvas{}
	c.text(100, 50, "middle", "tag", "V-1")
	if got := collisions(c, 200, 100); len(got) != 0 {
		t.Fatalf("alone on the page: %v", got)
	}
	c.text(105, 52, "middle", "tag", "V-2")
	c.run(run{0, 48, 200, 48, false})
	c.shape("symbol", true, place.Point{X: 90, Y: 40}, place.Point{X: 110, Y: 60}, place.Point{X: 90, Y: 60})
	c.text(195, 20, "start", "tag", "V-3")
	if got := collisions(c, 200, 100); len(got) != 6 {
		t.Errorf("6 collisions made, %d seen: %v", len(got), got)
	}
}

// A line that leaves the channels would cross a symbol.
func TestLinesStayOutOfCells(t *testing.T) {
	for _, dir := range systems(t) {
		cases, of := solved(t, dir)
		p, _, _ := paint(t, of(cases[0]))
		for _, r := range p.runs {
			for i := range p.cells {
				c := &p.cells[i]
				if r.x1 == r.x2 && !r.dashed && r.x1 > c.x-c.width/2 && r.x1 < c.x+c.width/2 &&
					max(r.y1, r.y2) > c.y-c.height/2 && min(r.y1, r.y2) < c.y+c.height/2 {
					t.Errorf("%s: a vertical line at %g crosses %s", dir, r.x1, c.tag)
				}
				for j := range p.cells[:i] {
					o := &p.cells[j]
					if c.column == o.column && max(c.y-o.y, o.y-c.y) < (c.height+o.height)/2 {
						t.Errorf("%s: %s and %s overlap", dir, c.tag, o.tag)
					}
				}
			}
			if r.x1 != r.x2 && r.y1 != r.y2 {
				t.Errorf("%s: a line is neither level nor upright: %v", dir, r)
			}
		}
	}
}

// Two lines on one another would read as one. Only the sensing lines that start
// at one place may share their last piece.
func TestNoLineOnAnother(t *testing.T) {
	over := func(a, b run) bool {
		const close = 2
		if a.x1 == a.x2 && b.x1 == b.x2 {
			return max(a.x1-b.x1, b.x1-a.x1) < close && min(max(a.y1, a.y2), max(b.y1, b.y2))-max(min(a.y1, a.y2), min(b.y1, b.y2)) > 0.5
		}
		if a.y1 == a.y2 && b.y1 == b.y2 {
			return max(a.y1-b.y1, b.y1-a.y1) < close && min(max(a.x1, a.x2), max(b.x1, b.x2))-max(min(a.x1, a.x2), min(b.x1, b.x2)) > 0.5
		}
		return false
	}
	for _, dir := range systems(t) {
		cases, of := solved(t, dir)
		p, _, _ := paint(t, of(cases[0]))
		for i, a := range p.runs {
			for _, b := range p.runs[:i] {
				if over(a, b) && !(a.dashed && b.dashed) {
					t.Errorf("%s: %v lies on %v", dir, a, b)
				}
			}
		}
	}
}

// Whoever follows the lines from a symbol must come to all it is joined to and
// to nothing else.
func TestLinesJoinWhatTheNetsJoin(t *testing.T) {
	for _, dir := range systems(t) {
		cases, of := solved(t, dir)
		d := of(cases[0])
		d.columns()
		for i := range d.cells {
			d.cells[i].size()
		}
		whole := len(d.cells)
		spans := d.passages()
		joined := map[[2]int]bool{}
		for _, n := range d.nets {
			for _, i := range n.left {
				for _, j := range n.right {
					joined[[2]int{i, j}] = true
				}
			}
		}
		next := map[int][]int{}
		for _, s := range spans {
			for _, i := range s.left {
				next[i] = append(next[i], s.right...)
				if d.cells[i].column != s.column {
					t.Errorf("%s: a span begins in column %d at a cell of column %d", dir, s.column, d.cells[i].column)
				}
			}
			for _, j := range s.right {
				if d.cells[j].column != s.column+1 {
					t.Errorf("%s: a span ends in column %d at a cell of column %d", dir, s.column+1, d.cells[j].column)
				}
			}
		}
		for i := range whole {
			reach := slices.Clone(next[i])
			for len(reach) > 0 {
				j := reach[0]
				reach = reach[1:]
				if j >= whole {
					reach = append(reach, next[j]...)
					continue
				}
				if !joined[[2]int{i, j}] {
					t.Errorf("%s: lines join %s to %s, the network does not", dir, d.cells[i].tag, d.cells[j].tag)
				}
				delete(joined, [2]int{i, j})
			}
		}
		for pair := range joined {
			t.Errorf("%s: no line joins %s to %s", dir, d.cells[pair[0]].tag, d.cells[pair[1]].tag)
		}
	}
}

func TestSameBytesAndWellFormed(t *testing.T) {
	for _, dir := range systems(t) {
		cases, of := solved(t, dir)
		first, err := of(cases[0]).SVG(ask, cautionText)
		if err != nil {
			t.Fatal(err)
		}
		second, _ := of(cases[0]).SVG(ask, cautionText)
		if !bytes.Equal(first, second) {
			t.Errorf("%s: two drawings of one case differ", dir)
		}
		x := xml.NewDecoder(bytes.NewReader(first))
		for {
			if _, err := x.Token(); errors.Is(err, io.EOF) {
				break
			} else if err != nil {
				t.Fatalf("%s: %v", dir, err)
			}
		}
		if !bytes.Contains(first, []byte("competent person")) {
			t.Errorf("%s: no caution", dir)
		}
	}
}

func TestJSONHoldsEverySymbol(t *testing.T) {
	cases, of := solved(t, "../../../testdata/contract/regulated")
	data, err := of(cases[0]).JSON(ask)
	if err != nil {
		t.Fatal(err)
	}
	var got Document
	if err := json.Unmarshal(data, &got); err != nil {
		t.Fatal(err)
	}
	var tags []string
	for _, s := range got.Symbols {
		tags = append(tags, s.Tag)
	}
	slices.Sort(tags)
	if want := "AE-1 BPH-1 F-1 HDR NV-1 NV-2 P1 P2 P3 PACK PCV-1"; strings.Join(tags, " ") != want {
		t.Errorf("symbols %v, want %s", tags, want)
	}
	// As the file's paths say: 9 along the sample line, 2 of the bypass.
	if len(got.Edges) != 11 {
		t.Errorf("%d edges, want 11", len(got.Edges))
	}
}

// Each way through a multiway valve is a symbol of its own with its position, and what
// is flagged of the whole valve stands at the first.
func TestWaysThroughAMultiwayValve(t *testing.T) {
	_, of := solved(t, "../../../examples/calibration-selector")
	d := of("span")
	d = New(d.System, d.Case, d.Network, []diag.Diagnostic{{Code: "above-rated", Level: diag.Alarm, System: d.System.Name, Case: "span", At: "XV-42"}})
	want := map[string]string{
		"XV-42.out > bleed": "XV-42 at span; out > bleed; shut; no flow; out 0 barg; above-rated",
		"XV-42.span > out":  "XV-42 at span; span > out; 2.495 slpm",
		"XV-42.zero > out":  "XV-42 at span; zero > out; shut; no flow",
	}
	for _, c := range d.cells {
		if !strings.HasPrefix(c.tag, "XV-42") {
			continue
		}
		got := strings.Join(append(slices.Clone(c.above), c.below...), "; ")
		for _, f := range c.flags {
			got += "; " + f.Code
		}
		if c.kind != "multiway" || got != want[c.tag] || c.stopped != strings.Contains(got, "shut") {
			t.Errorf("%s, a %s: %q, want %q", c.tag, c.kind, got, want[c.tag])
		}
		delete(want, c.tag)
	}
	if len(want) > 0 {
		t.Errorf("not drawn: %v", want)
	}
}

// What a cell says of its pressure is that of the right place.
func TestPressuresOfEquipmentAndVessels(t *testing.T) {
	reference := &compiler.Reference{TemperatureK: 288.15, PressurePa: 101325}
	pascal := func(bar float64) *float64 { v := bar*1e5 + 1e5; return &v }
	n := &compiler.NetworkDocument{
		Nodes:    []compiler.NodeDocument{{Name: "P1"}, {Name: "T-1"}},
		Elements: []compiler.ElementDocument{{Tag: "E-1", Kind: "equipment", From: "P1", To: "T-1"}},
	}
	c := &compiler.CaseOutcome{Name: "base", AtmospherePa: 1e5,
		Nodes: []compiler.NodeOutcome{{Name: "P1", PressurePa: pascal(3)}, {Name: "T-1", PressurePa: pascal(2)}},
		Devices: []compiler.DeviceOutcome{
			{Tag: "E-1", Kind: "equipment", Ports: []compiler.PortOutcome{{Name: "in", Node: "P1", PressurePa: pascal(3)}, {Name: "out", Node: "T-1", PressurePa: pascal(2)}}},
			{Tag: "T-1", Kind: "vessel", Ports: []compiler.PortOutcome{{Name: "in", Node: "T-1", PressurePa: pascal(2)}}},
		}}
	d := New(&compiler.SystemOutcome{Name: "s", ReferenceState: reference}, c, n, nil)
	want := map[string]string{"E-1": "", "P1": "3 barg", "T-1": "2 barg"}
	if len(d.cells) != len(want) {
		t.Fatalf("%d cells, want %d", len(d.cells), len(want))
	}
	for _, cell := range d.cells {
		if got := strings.Join(cell.below, "; "); got != want[cell.tag] {
			t.Errorf("%s: %q, want %q", cell.tag, got, want[cell.tag])
		}
	}
}

// A ring in the direction of the paths is broken by turning one device round.
func TestRingIsBroken(t *testing.T) {
	source := "S"
	n := &compiler.NetworkDocument{
		Nodes: []compiler.NodeDocument{{Name: "S", Boundary: &source}, {Name: "P1"}, {Name: "P2"}},
		Elements: []compiler.ElementDocument{
			{Tag: "V-1", Kind: "valve", From: "S", To: "P1"},
			{Tag: "V-2", Kind: "valve", From: "P1", To: "P2"},
			{Tag: "V-3", Kind: "valve", From: "P2", To: "P1"},
		},
	}
	d := New(&compiler.SystemOutcome{Name: "ring"}, &compiler.CaseOutcome{Name: "base"}, n, nil)
	p, c, _ := paint(t, d)
	if got := []bool{p.cells[0].mirrored, p.cells[1].mirrored, p.cells[2].mirrored}; !slices.Equal(got, []bool{false, false, true}) {
		t.Errorf("turned round: %v", got)
	}
	for _, s := range collisions(c, p.width, p.height) {
		t.Error(s)
	}
}
