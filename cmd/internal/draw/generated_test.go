package draw

import (
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

// Thirty systems made by chance, of up to 60 devices: a supply with a filter
// and a reducer, a header with a relief and gauges, legs of mixed devices that
// join again before a holder, end in vents of their own or in capped stubs, and
// now and then a dome. Texts of all of them stay clear.
func TestGeneratedSystemsStayClear(t *testing.T) {
	for seed := range uint64(30) {
		size := 6 + int(seed)*54/29
		dir := t.TempDir()
		text, devices := generated(seed, size)
		if err := os.WriteFile(filepath.Join(dir, "system.tap.hcl"), []byte(text), 0o666); err != nil {
			t.Fatal(err)
		}
		_, of := solve(t, dir)
		start := time.Now()
		p, c, _ := paint(t, of("base"))
		t.Logf("seed %d: %d devices, page %.0f x %.0f, %v", seed, devices, p.width, p.height, time.Since(start).Round(time.Millisecond))
		for _, s := range collisions(c, p.width, p.height) {
			t.Errorf("seed %d, %d devices: %s", seed, devices, s)
		}
	}
}

// generated writes a system of about size devices; every value is invented.
func generated(seed uint64, size int) (text string, devices int) {
	r := rand.New(rand.NewPCG(seed, 23))
	var blocks, lines strings.Builder
	add := func(format string, args ...any) { fmt.Fprintf(&blocks, format+"\n", args...) }
	line := func(path string) {
		fmt.Fprintf(&lines, "line \"l%d\" { path = \"%s\" }\n", strings.Count(lines.String(), "\n"), path)
	}
	n := 0
	tag := func(prefix string) string { n++; return fmt.Sprintf("%s-%d", prefix, n) }
	device := func() string {
		switch r.IntN(8) {
		case 0:
			s := tag("NV")
			add("valve %q {\n  cv      = 0.05\n  opening = \"%d %%\"\n}", s, 20+r.IntN(80))
			return s
		case 1:
			s := tag("FI")
			add("meter %q { cv = 0.2 }", s)
			return s
		case 2:
			s := tag("AE")
			add("analyzer %q { cv = 0.1 }", s)
			return s
		case 3:
			s := tag("CK")
			add("check_valve %q {\n  cv        = 0.3\n  cracks_at = \"0.02 bar\"\n}", s)
			return s
		case 4:
			s := tag("F")
			add("filter %q { cv = 0.3 }", s)
			return s
		case 5:
			s := tag("FC")
			add("flow_controller %q { set = \"0.5 slpm\" }", s)
			return s
		case 6:
			n++
			return fmt.Sprintf("tube T-%d(6 mm x 1 mm, %d m, 2 bends)", n, 1+r.IntN(30))
		}
		s := tag("V")
		state := "open"
		if r.IntN(5) == 0 {
			state = "shut"
		}
		add("valve %q {\n  cv    = 0.2\n  state = %q\n}", s, state)
		return s
	}
	add("filter \"F-0\" { cv = 0.4 }")
	dome := r.IntN(3) == 0
	if dome {
		add("reducer \"PCV-9\" {\n  set   = \"1.1 barg\"\n  cv    = 0.01\n  droop = \"0.1 bar\"\n}\norifice \"RO-9\" {\n  bore = \"0.3 mm\"\n  cd   = 0.8\n}")
		line("(P0) -> PCV-9 -> (P9) -> RO-9 -> ATM")
		add("holder \"BPH-0\" {\n  cv           = 0.4\n  accumulation = \"0.1 bar\"\n  loading {\n    dome = \"(P9)\"\n  }\n}")
	} else {
		add("holder \"BPH-0\" {\n  cv           = 0.4\n  set          = \"1.2 barg\"\n  accumulation = \"0.1 bar\"\n}")
	}
	add("reducer \"PCV-0\" {\n  set     = \"4 barg\"\n  cv      = 0.1\n  droop   = \"0.3 bar\"\n  lock_up = \"0.1 bar\"\n}")
	add("relief \"PSV-0\" {\n  set     = \"6 barg\"\n  orifice = \"12 mm2\"\n  kd      = 0.8\n}\ngauge \"P1\" { range = \"0 .. 10 barg\" }")
	line("SRC -> F-0 -> (P0) -> PCV-0 -> (P1)")
	line("(P1) -> PSV-0 -> SAFE")
	line("(P2) -> BPH-0 -> HDR")
	add("valve \"V-DRAIN\" { cv = 0.01 }")
	line("(P0) -> V-DRAIN -> ATM")
	for leg := 0; n < size-8 || leg == 0; leg++ {
		path := "(P1)"
		for k := r.IntN(5); k >= 0; k-- {
			path += " -> " + device()
			if r.IntN(5) == 0 {
				path += fmt.Sprintf(" -> (N%d-%d)", leg, k)
			}
		}
		labelled := strings.HasSuffix(path, ")") && strings.LastIndex(path, "(N") > strings.LastIndex(path, "->")
		switch end := r.IntN(6); {
		case labelled, leg == 0, end < 4:
			if labelled {
				path += " -> " + device()
			}
			if strings.Contains(path[strings.LastIndex(path, "->"):], "tube") {
				add("valve %q { cv = 0.2 }", fmt.Sprintf("VX-%d", leg))
				path += fmt.Sprintf(" -> VX-%d", leg)
			}
			path += " -> (P2)"
		case end == 4:
			path += " -> ATM"
		default:
			path += fmt.Sprintf(" -> (TP-%d) -> cap", leg)
		}
		line(path)
	}
	return `system "generated" {
  title = "Made by chance for a test of the drawing"
}
site { reference_state = "15 degC, 101.325 kPaa" }
fluid "n2" {
  mole_percent = { nitrogen = 100 }
}
source "SRC" {
  fluid       = "n2"
  pressure    = "30 barg"
  temperature = "20 degC"
}
vent "HDR" { pressure = "0.1 barg" }
vent "SAFE" { pressure = "0 barg" }
vent "ATM" { pressure = "0 barg" }
` + blocks.String() + lines.String(), n + 6
}
