package properties

import (
	"strings"
	"testing"

	"tapline/lang"
	"tapline/lang/diag"
)

// Any text is read as states, or refused in words.
func FuzzPoints(f *testing.F) {
	for _, seed := range []string{"52 barg, 12 degC", "10 .. 60 barg, 6 values; -10 .. 30 degC by 10 K", "16, 25 bara; 300 K", ";", "1 bara;", "\x00, 1 K"} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, text string) {
		points, _, err := Points(text, site)
		if err != nil {
			if strings.TrimSpace(err.Error()) == "" {
				t.Fatal("refused without words")
			}
			return
		}
		if len(points) == 0 || len(points) > MaxStates {
			t.Fatalf("%d states", len(points))
		}
		for _, p := range points {
			if !(p.PressurePa > 0 && p.TemperatureK > 0) || p.Pressure == "" || p.Temperature == "" {
				t.Fatalf("%+v", p)
			}
		}
	})
}

// Whatever Map lets pass is read as a file, or refused with its place: it never
// becomes anything but a composition.
func FuzzMap(f *testing.F) {
	for _, seed := range []string{"methane=0.9, ethane=0.1", "CO2=rest,N2=5 %", `a"}=1`, "${x}=1", "a\nb=1", "methane=\"} } fluid", "\xff=1"} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, text string) {
		m, err := Map(text)
		if err != nil {
			return
		}
		src := "system \"s\" {}\nfluid \"f\" {\nmole_percent = " + m + "\n}\n"
		d, found := lang.ReadFiles("", map[string][]byte{"x.tap.hcl": []byte(src)})
		if diag.HasErrors(found) {
			return
		}
		if len(d.Blocks) != 1 || d.Blocks[0].Tag != "f" || len(d.Cases) != 0 {
			t.Fatalf("%q became\n%s", text, src)
		}
	})
}
