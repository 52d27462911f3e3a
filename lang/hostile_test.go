package lang

import (
	"bufio"
	"bytes"
	"flag"
	"fmt"
	"os"
	"runtime"
	"strconv"
	"strings"
	"testing"
	"time"

	"tapline/lang/diag"
)

var full = flag.Bool("full", false, "make the hostile folders as large as a system may be, not a fifth of that")

// hostile gives folders that are made to crash, hang or exhaust a reader. The
// first kind each file tries is what a published HCL parser was measured to
// fall over; the others aim at our own code.
func hostile(shrink int) map[string]map[string][]byte {
	out := map[string]map[string][]byte{}
	one := func(name, src string) { out[name] = map[string][]byte{"x.tap.hcl": []byte(src)} }
	many := func(name string, each func(i int) string) {
		files := map[string][]byte{}
		for i := range maxTotalBytes / maxFileBytes / shrink {
			files[fmt.Sprintf("%02d.tap.hcl", i)] = []byte(each(i))
		}
		out[name] = files
	}
	fill := func(head, unit, tail string) string {
		return head + strings.Repeat(unit, (maxFileBytes-len(head)-len(tail))/len(unit)) + tail
	}
	for _, open := range []string{"[", "(", "{x=", `"${`, "f(", "[for x in ", "!", "-", "a[*]", "x ? ", "b {\n", "{"} {
		one("deep "+open, "a = "+strings.Repeat(open, 100_000/len(open)+20_000))
		one("deep in a block "+open, "b {\n  a = "+strings.Repeat(open, 20_000))
	}
	one("long number", "b {\n  a = "+strings.Repeat("9", 200_000)+"\n}\n")
	one("exponent", "b {\n  a = 1e1000000000\n}\n")
	one("exponent in a string", `vent "A" { pressure = "1e1000000000 barg" }`)
	one("interpolated exponent", `b { a = "x${1e10000000}" }`)
	one("too large", strings.Repeat("# comment\n", 100_000))
	one("nothing but zeros", strings.Repeat("\x00", 200_000))
	one("no UTF-8", "a = \"\xff\xfe\"\n")
	one("unclosed string", `a = "`+strings.Repeat("x", 200_000))
	one("unclosed heredoc", "b {\n  a = <<-E\n"+strings.Repeat("x\n", 50_000))
	many("heredoc of empty lines", func(int) string { return fill("b {\n  a = <<E\n", "\n", "E\n}\n") })
	many("string of dollars", func(i int) string { return fill(fmt.Sprintf("valve \"V%d\" {\n  note = \"", i), "$x", "\"\n}\n") })
	many("string of escapes", func(i int) string { return fill(fmt.Sprintf("valve \"V%d\" {\n  note = \"", i), `\n`, "\"\n}\n") })
	many("string of decomposed letters", func(i int) string { return fill(fmt.Sprintf("valve \"V%d\" {\n  note = \"", i), "a\u0308", "\"\n}\n") })
	many("one long line of a list", func(i int) string {
		return fill(fmt.Sprintf("band \"B%d\" {\n  at = [", i), `"",`, "]\n}\n")
	})
	many("attributes of one name", func(int) string { return fill("valve \"V\" {\n", "cv=1\n", "}\n") })
	many("paths that are too long", func(i int) string { return fill(fmt.Sprintf("line \"%d\" { path=\"", i), "V -> ", "\" }\n") })

	// As much of each as a system may hold, so that all later stages have it.
	upTo := func(name string, n int, head, format, tail string) {
		files := map[string][]byte{}
		var b strings.Builder
		n = max(1, n/shrink)
		for k := range n {
			if b.Len() == 0 {
				b.WriteString(strings.ReplaceAll(head, "#", strconv.Itoa(k)))
			}
			fmt.Fprintf(&b, format, k)
			if b.Len() > maxFileBytes-2*len(format)-100 || k == n-1 {
				files[fmt.Sprintf("%05d.tap.hcl", k)] = []byte(b.String() + tail)
				b.Reset()
			}
		}
		out[name] = files
	}
	const blocks, values = maxBlocks - 100, maxValues - 100
	upTo("bad parts on one line", values/2, "fluid \"F#\" {\n  mole_percent = {", `a%d="1 q",`, "}\n}\n")
	upTo("attributes of no name", values, "valve \"V#\" {\n", "a%d=1\n", "}\n")
	upTo("devices", blocks, "", "valve \"V%d\" { cv=1 }\n", "")
	upTo("names that differ in case", blocks/2, "", "valve \"v%[1]d\" { spare=true }\nvalve \"V%[1]d\" { spare=true }\n", "")
	upTo("cases", blocks, "", "case \"V%d\" { after=[\"V\"] }\n", "")
	upTo("chain of cases", maxCases, "", "case \"c%d\" { after=[\"c0\"] }\n", "")
	upTo("ring of cases", 1, "", ring(maxCases)+"# %d\n", "")
	upTo("wrong quantities", blocks, "", "vent \"V%[1]d\" { pressure=\"1.%[1]d bar\" }\n", "")
	upTo("unknown devices in paths", blocks, "", "line \"%[1]d\" { path=\"V%[1]d->W\" }\n", "")
	upTo("labels in paths", blocks, "", "line \"%[1]d\" { path=\"(V%[1]d)->cap\" }\n", "")
	upTo("tubes in paths", 12_000, "", "line \"%[1]d\" { path=\"(a)->tube(6 mm x 1 mm,3 m)->(b)\" }\n", "")
	upTo("paths as long as they may be", maxPathTotal/maxPathBytes, "", "line \"%d\" { path=\""+strings.Repeat("V->(a)->", 999)+"V\" }\n", "")
	out["too many files"] = map[string][]byte{}
	for i := range maxFiles + 1 {
		out["too many files"][fmt.Sprintf("%d.tap.hcl", i)] = nil
	}
	return out
}

// ring is n cases, each starting from the next and the last from the first.
func ring(n int) string {
	var b strings.Builder
	for k := range n {
		fmt.Fprintf(&b, "case \"c%d\" { after = [\"c%d\"] }\n", k, (k+1)%n)
	}
	return b.String()
}

// TestHostileFiles: every hostile folder gets an error with its place, in 2 s
// of the processor's time and 500 MB together with all the others (-full; by
// default the folders are smaller).
func TestHostileFiles(t *testing.T) {
	shrink := 5
	if *full {
		shrink = 1
	}
	for name, files := range hostile(shrink) {
		t.Run(strings.ReplaceAll(name, "/", "_"), func(t *testing.T) {
			var d *Description
			var ds []diag.Diagnostic
			took := time.Hour
			for try := 0; try < 3 && took > 2*time.Second; try++ { // a shared machine is slow at times
				runtime.GC()
				start := cpu()
				d, ds = ReadFiles("", files)
				took = min(took, cpu()-start)
			}
			if took > 2*time.Second {
				t.Errorf("took %v", took)
			}
			if d == nil || !diag.HasErrors(ds) {
				t.Error("no error")
			}
			for _, e := range ds {
				if e.Range.Start.Line < 1 && name != "too many files" {
					t.Fatalf("no place: %v", e)
				}
			}
			if len(ds) > (maxMistakes+1)*len(files) {
				t.Errorf("%d diagnostics", len(ds))
			}
			t.Logf("%v, %d diagnostics, peak %d MB", took.Round(time.Millisecond), len(ds), peakMB())
		})
	}
	if peak := peakMB(); peak > 500 {
		t.Errorf("used %d MB", peak)
	}
}

// peakMB is the most memory the process ever had, where the system tells.
func peakMB() int {
	status, err := os.ReadFile("/proc/self/status")
	if err != nil {
		return 0
	}
	lines := bufio.NewScanner(bytes.NewReader(status))
	for lines.Scan() {
		if f := strings.Fields(lines.Text()); len(f) == 3 && f[0] == "VmHWM:" {
			kB, _ := strconv.Atoi(f[1])
			return kB / 1024
		}
	}
	return 0
}
