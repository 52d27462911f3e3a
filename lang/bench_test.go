package lang

import (
	"fmt"
	"strings"
	"testing"
)

// generated writes a system of n sampling legs between a source and a vent,
// with a case for every tenth leg: about 32 lines a leg.
func generated(n int) map[string][]byte {
	files := map[string][]byte{}
	var src strings.Builder
	src.WriteString("system \"legs\" {\n}\nfluid \"n2\" {\n  mole_percent = { nitrogen = 100 }\n}\n" +
		"source \"S\" {\n  fluid       = \"n2\"\n  pressure    = \"6 barg\"\n  temperature = \"20 degC\"\n}\nvent \"A\" { pressure = \"0 barg\" }\n")
	for i := range n {
		fmt.Fprintf(&src, `
valve "NV-%[1]d" {
  cv      = 0.0%[2]d4
  opening = "%[2]d5 %%"
}
reducer "PCV-%[1]d" {
  set           = "3.%[2]d barg"
  cv            = 0.06
  droop         = "0.25 bar"
  supply_effect = "1.%[2]d %%"
  lock_up       = "0.1 bar"
  range         = "0 .. 7 barg"
}
analyzer "AE-%[1]d" { cv = 0.0%[2]d5 }
line "leg %[1]d" {
  path = <<-PATH
    S -> PCV-%[1]d
    -> (P%[1]d) -> tube(6 mm x 1 mm, 3%[2]d m, 4 bends)
    -> NV-%[1]d -> AE-%[1]d -> A
  PATH
}
band "cell %[1]d" {
  at       = "AE-%[1]d.in"
  pressure = "0.%[2]d .. 1.4 barg"
}
`, i, i%9+1)
		if i%10 == 0 {
			fmt.Fprintf(&src, "case \"case %d\" {\n  valve \"NV-%d\" { opening = \"10 %%\" }\n}\n", i, i)
		}
		if src.Len() > 200_000 || i == n-1 {
			files[fmt.Sprintf("part-%05d.tap.hcl", i)] = []byte(src.String())
			src.Reset()
		}
	}
	return files
}

func BenchmarkReadFiles(b *testing.B) {
	for _, n := range []int{1, 60, 1500} {
		files := generated(n)
		lines := 0
		for _, f := range files {
			lines += strings.Count(string(f), "\n")
		}
		b.Run(fmt.Sprintf("lines=%d", lines), func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if _, ds := ReadFiles("", files); len(ds) > 0 {
					b.Fatal(ds[0])
				}
			}
		})
	}
}

func BenchmarkResolve(b *testing.B) {
	d, ds := ReadFiles("", generated(1500))
	if len(ds) > 0 {
		b.Fatal(ds[0])
	}
	b.ReportAllocs()
	for b.Loop() {
		d.Resolve("case 500")
	}
}
