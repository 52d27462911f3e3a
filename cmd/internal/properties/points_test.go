package properties

import (
	"math"
	"strings"
	"testing"

	"tapline/lang/quantity"
)

var site = quantity.Site{AtmospherePa: 98_000}

func TestPoints(t *testing.T) {
	for _, c := range []struct {
		text  string
		n     int
		gauge bool
		// the first and the last
		firstPa, firstK, lastPa, lastK float64
		shown                          string // of the last
	}{
		{"52 barg, 12 degC", 1, true, 52.98e5, 285.15, 52.98e5, 285.15, "52 barg, 12 degC"},
		{" 12 degC ,52 bara", 1, false, 52e5, 285.15, 52e5, 285.15, "52 bara, 12 degC"},
		{"300 K; 1 bara", 1, false, 1e5, 300, 1e5, 300, "1 bara, 300 K"},
		{"10 .. 60 barg, 6 values; -10 .. 30 degC, 5 values", 30, true, 10.98e5, 263.15, 60.98e5, 303.15, "60 barg, 30 degC"},
		{"10 .. 60 bara by 10 bar; 20 degC", 6, false, 10e5, 293.15, 60e5, 293.15, "60 bara, 20 degC"},
		{"16, 25, 60 barg; 20 degC", 3, true, 16.98e5, 293.15, 60.98e5, 293.15, "60 barg, 20 degC"},
		{"0 .. 20 degC, 3 values; 1, 2 bara", 6, false, 1e5, 273.15, 2e5, 293.15, "2 bara, 20 degC"},
	} {
		got, gauge, err := Points(c.text, site)
		if err != nil || len(got) != c.n || gauge != c.gauge {
			t.Errorf("%q: %d states, gauge %v, %v", c.text, len(got), gauge, err)
			continue
		}
		first, last := got[0], got[c.n-1]
		for _, pair := range [][2]float64{{first.PressurePa, c.firstPa}, {first.TemperatureK, c.firstK}, {last.PressurePa, c.lastPa}, {last.TemperatureK, c.lastK}} {
			if math.Abs(pair[0]-pair[1]) > 1e-12*pair[1] {
				t.Errorf("%q: %v, want %v", c.text, pair[0], pair[1])
			}
		}
		if last.String() != c.shown {
			t.Errorf("%q shows as %q", c.text, last)
		}
	}
}

func TestPointsRefused(t *testing.T) {
	for text, words := range map[string]string{
		"":                    "is not a pressure and a temperature",
		"52 barg":             "is not a pressure and a temperature",
		"52 barg, 12 degC, 3": "is not a pressure and a temperature",
		"52 bar, 12 degC":     `"bar" says neither gauge nor absolute; write "52 barg" (gauge) or "52 bara" (absolute)`,
		"12 degC, 52 bar":     `"bar" says neither gauge nor absolute`,
		"52 barg, 12 C":       `write "12 degC"`,
		"-2 barg, 12 degC":    "-2 barg is not above absolute zero",
		"0 bara, 12 degC":     "0 bara is not above absolute zero",
		"1 bara; 1 .. 2 degC": "a range does not fit here",
		"1 .. 2 bara, 101 values; 1 .. 200 degC, 200 values": "20200 states; at most 10000",
		"1 .. 2 bara, 1000000 values; 1 degC":                "1000000 states; at most 10000",
		"1 bara; 2 degC; 3":                                  "is not a pressure and a temperature",
	} {
		if _, _, err := Points(text, site); err == nil || !strings.Contains(err.Error(), words) {
			t.Errorf("%q: %v, want %s", text, err, words)
		}
	}
}

func TestMap(t *testing.T) {
	for _, c := range []struct{ text, want, refused string }{
		{text: "methane=0.9,ethane=0.1", want: `{ "methane" = 90, "ethane" = 10 }`},
		{text: " C1 = 90 , n-butane = 10 ", want: `{ "C1" = 90, "n-butane" = 10 }`},
		{text: "methane=rest, ethane=5, H2=1000 ppm", want: `{ "methane" = "rest", "ethane" = 5, "H2" = "1000 ppm" }`},
		{text: "methane=rest, ethane=0.5 %", want: `{ "methane" = "rest", "ethane" = "0.5 %" }`},
		{text: "methane=1", want: `{ "methane" = 100 }`},
		{text: "methane=100", want: `{ "methane" = 100 }`},
		{text: "methane=0.07, ethane=0.93", want: `{ "methane" = 7, "ethane" = 93 }`},
		{text: `me"${x}=1`, want: `{ "me\"${x}" = 100 }`}, // what is read refuses templates
		{text: "methane=rest, ethane=0.1", refused: "ethane=0.1 may be a fraction or per cent; write 'ethane=10 %' or 'ethane=0.1 %'"},
		{text: "methane=0.9,ethane", refused: `"ethane" in the composition is not COMPONENT=PART`},
		{text: "methane=0.9,,", refused: `"" in the composition`},
		{text: "methane=50;ethane=50", refused: `"50;ethane=50" is no part of methane; a part is a number`},
		{text: "methane=nan", refused: `"nan" is no part of methane`},
		{text: "methane,ethane", refused: `"methane" in the composition is not COMPONENT=PART`},
		{text: "=1", refused: `"=1" in the composition`},
		{text: strings.Repeat("a=1,", 200), refused: "the composition has 201 components"},
	} {
		got, err := Map(c.text)
		if c.refused != "" {
			if err == nil || !strings.Contains(err.Error(), c.refused) {
				t.Errorf("%q: %v, want %s", c.text, err, c.refused)
			}
			continue
		}
		if err != nil || got != c.want {
			t.Errorf("%q: %s, %v, want %s", c.text, got, err, c.want)
		}
	}
}
