package lang

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"tapline/lang/diag"
)

// Known answers of Philox4x32-10 as its authors' library lists them (Random123,
// kat_vectors; from memory): counters and keys of zeros, of ones, and of digits of pi.
func TestPhilox(t *testing.T) {
	for _, tc := range []struct {
		counter [4]uint32
		key     [2]uint32
		want    [4]uint32
	}{
		{[4]uint32{}, [2]uint32{}, [4]uint32{0x6627e8d5, 0xe169c58d, 0xbc57ac4c, 0x9b00dbd8}},
		{
			[4]uint32{math.MaxUint32, math.MaxUint32, math.MaxUint32, math.MaxUint32}, [2]uint32{math.MaxUint32, math.MaxUint32},
			[4]uint32{0x408f276d, 0x41c83b0e, 0xa20bc7c6, 0x6d5451fd},
		},
		{
			[4]uint32{0x243f6a88, 0x85a308d3, 0x13198a2e, 0x03707344}, [2]uint32{0xa4093822, 0x299f31d0},
			[4]uint32{0xd16cfe09, 0x94fdcceb, 0x5001e420, 0x24126ea1},
		},
	} {
		if got := philox(tc.counter, tc.key); got != tc.want {
			t.Errorf("%08x under %08x: %08x, want %08x", tc.counter, tc.key, got, tc.want)
		}
	}
}

const bench = `
system "bench" {
}
site { ambient = "20 degC" }
given { low = "0 barg" }
fluid "gas" { mole_percent = { methane = "rest", hydrogen = 5 } }
source "SRC" {
  fluid       = "gas"
  pressure    = "6 barg"
  temperature = "20 degC"
}
reducer "R" {
  set   = "3 +/- 0.1 barg"
  cv    = "0.04 +/- 10 %"
  droop = "0.2 bar"
}
vent "ATM" { pressure = given.low }
line "main" { path = "SRC -> R -> (P1) -> tube T-1(4 mm x 1 mm, 3 m) -> ATM" }
case "warm" {
  site { ambient = "30 degC" }
}
`

func spreadOf(t *testing.T, text string) (*Description, *Spread) {
	t.Helper()
	d, found := ReadFiles("", map[string][]byte{"a.tap.hcl": []byte(bench), "b.tap.hcl": []byte(text)})
	if diag.HasErrors(found) || len(d.Spreads) == 0 {
		t.Fatal(found)
	}
	return d, d.Spreads[0]
}

const grid = `
spread "g" {
  after = ["warm"]
  kind  = "service"
  given { low = "0 .. 0.4 barg, 3 values" }
  source "SRC" {
    pressure    = "5, 6, 8 barg"
    temperature = "10 .. 20 degC by 5 K"
  }
  fluid "gas" { mole_percent = { methane = "rest", hydrogen = "0 .. 10 %, 3 values" } }
  tube "T-1" { length = "2, 4 m" }
  reducer "R" { cv = "0.03, 0.05" }
}
`

func TestCombinations(t *testing.T) {
	d, s := spreadOf(t, grid)
	if n := s.Cases(); n != 3*3*3*3*2*2 {
		t.Fatalf("%d cases", n)
	}
	if got := s.CaseName(0); got != "g: low=0 barg SRC.pressure=5 barg SRC.temperature=10 degC gas=0 % T-1=2 m R=0.03" {
		t.Errorf("case 0 is %q", got)
	}
	m, found := d.Move(s)
	if len(found) > 0 {
		t.Fatal(found)
	}
	seen := map[string]bool{}
	for i := range s.Cases() {
		name := s.CaseName(i)
		if at, k, ok := d.FindCase(name); !ok || at != s || k != i || seen[name] {
			t.Fatalf("%q is case %d of %v", name, k, at)
		}
		seen[name] = true
		m.Set(i)
		hydrogen := m.block("fluid", "gas").Attrs["mole_percent"].Lookup("hydrogen").Quantity.Nominal
		got := fmt.Sprintf("g: low=%.4g SRC.pressure=%.4g SRC.temperature=%.5g gas=%.4g T-1=%.4g R=%.4g",
			m.block("vent", "ATM").Get("pressure").Quantity.Nominal.SI, m.block("source", "SRC").Get("pressure").Quantity.Nominal.SI,
			m.block("source", "SRC").Get("temperature").Quantity.Nominal.SI, hydrogen.SI, m.Inline[0].Get("length").Quantity.Nominal.SI, m.block("reducer", "R").Get("cv").Quantity.Nominal.SI)
		var low, p, tC, h, l, cv float64
		if n, err := fmt.Sscanf(strings.NewReplacer(" barg", "", " degC", "", " %", "", " m", "").Replace(name), "g: low=%g SRC.pressure=%g SRC.temperature=%g gas=%g T-1=%g R=%g", &low, &p, &tC, &h, &l, &cv); n != 6 {
			t.Fatal(name, err)
		}
		want := fmt.Sprintf("g: low=%.4g SRC.pressure=%.4g SRC.temperature=%.5g gas=%.4g T-1=%.4g R=%.4g", low*1e5, p*1e5, tC+273.15, h/100, l, cv)
		if got != want {
			t.Errorf("%s is at %s", name, got)
		}
	}
	if ambient := m.Site.Get("ambient").Quantity.Nominal.SI; ambient != 303.15 || m.Kind != "service" {
		t.Errorf("after its case it is at %g K, of kind %s", ambient, m.Kind)
	}
	if d.names.blocks[blockKey{"source", "SRC"}].Get("pressure").Quantity.Nominal.SI != 6e5 {
		t.Error("moving a spread moves the base")
	}
	for _, none := range []string{"g", "g: ", "g: low=0 barg", "g: draw 1", "h: low=0 barg", s.CaseName(0) + " ", s.CaseName(0) + "0"} {
		if _, _, ok := d.FindCase(none); ok {
			t.Errorf("%q is a case", none)
		}
	}
}

func (m *Moved) block(kind, tag string) *Block {
	for _, b := range m.Blocks {
		if b.Kind == kind && b.Tag == tag {
			return b
		}
	}
	return nil
}

func TestDraws(t *testing.T) {
	d, s := spreadOf(t, `
spread "as built" {
  draws = 4000
  seed  = 7
  site { ambient = "0 .. 40 degC" }
}
`)
	var labels []string
	for _, v := range s.Variables {
		labels = append(labels, v.Label)
	}
	if got := strings.Join(labels, " "); got != "ambient R.set R.cv" {
		t.Fatalf("it draws %s", got)
	}
	m, _ := d.Move(s)
	again := m.Copy()
	other, t2 := spreadOf(t, `
spread "as built" {
  draws = 10
  seed  = 7
}
`)
	m2, _ := other.Move(t2)
	sum, squares, cross := 0.0, 0.0, 0.0
	for i := range s.Cases() {
		m.Set(i)
		set, cv := m.block("reducer", "R").Get("set").Quantity.Nominal.SI, m.block("reducer", "R").Get("cv").Quantity.Nominal.SI
		if set < 2.9e5 || set > 3.1e5 || cv < 0.036 || cv > 0.044 {
			t.Fatalf("draw %d: set %g, cv %g", i, set, cv)
		}
		x, y := (set-3e5)/1e4, (cv-0.04)/0.004
		sum, squares, cross = sum+x, squares+x*x, cross+x*y
		if i < t2.Cases() {
			if m2.Set(i); m2.block("reducer", "R").Get("set").Quantity.Nominal.SI != set {
				t.Errorf("draw %d of the set hangs on what else is drawn, or on how many", i)
			}
		}
	}
	// A uniform number from -1 to 1 has a mean of 0 and a variance of 1/3; four
	// standard deviations of each mean.
	n := float64(s.Cases())
	if math.Abs(sum/n) > 4*math.Sqrt(1/(3*n)) || math.Abs(squares/n-1.0/3) > 4*math.Sqrt(4/(45*n)) || math.Abs(cross/n) > 4/(3*math.Sqrt(n)) {
		t.Errorf("mean %g, variance %g, covariance %g", sum/n, squares/n, cross/n)
	}
	for _, i := range []int{3999, 0, 17} {
		m.Set(i)
		again.Set(i)
		if a, b := m.Site.Get("ambient").Quantity.Nominal.SI, again.Site.Get("ambient").Quantity.Nominal.SI; a != b {
			t.Errorf("draw %d is %g and %g", i, a, b)
		}
	}
	if _, i, ok := d.FindCase("as built: draw 17"); !ok || i != 16 {
		t.Errorf("draw 17 is number %d, %v", i, ok)
	}
	for _, none := range []string{"as built: draw 0", "as built: draw 4001", "as built: draw 017", "as built: draw +1", "as built: draw"} {
		if _, _, ok := d.FindCase(none); ok {
			t.Errorf("%q is a case", none)
		}
	}
}
