package lang

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"tapline/lang/diag"
)

func TestPassageText(t *testing.T) {
	for _, tc := range []struct {
		text string
		want Passage
		ok   bool
	}{
		{"a > b", Passage{"a", "b"}, true},
		{"  in>out ", Passage{"in", "out"}, true},
		{"a >", Passage{"a", ""}, false},
		{"> b", Passage{"", "b"}, false},
		{"a b", Passage{"a b", ""}, false},
		{"a > b > c", Passage{"a", "b > c"}, false},
		{"", Passage{}, false},
	} {
		p, from, to, ok := passage(tc.text)
		if p != tc.want || ok != tc.ok {
			t.Errorf("%q: %v, %v", tc.text, p, ok)
		}
		if tc.text[from[0]:from[1]] != p.From || ok && tc.text[to[0]:to[1]] != p.To {
			t.Errorf("%q: the ports stand at %v and %v", tc.text, from, to)
		}
	}
}

// A valve with as many ports and positions as may be is read at once; one more is too
// many.
func TestMultiwayLimits(t *testing.T) {
	system := func(ports, positions, ways int) string {
		var names, at, paths []string
		for i := range ports {
			names = append(names, fmt.Sprintf("p%d", i))
			paths = append(paths, fmt.Sprintf("XV.p%d -> (P1)", i))
		}
		for i := range positions {
			var joined []string
			for k := range ways {
				from := k % (ports - 1)
				joined = append(joined, fmt.Sprintf("p%d > p%d", from, from+1+k/(ports-1)%(ports-1-from)))
			}
			at = append(at, fmt.Sprintf("a%d = [\"%s\"]", i, strings.Join(joined, `", "`)))
		}
		return fmt.Sprintf("system \"s\" {}\nmultiway \"XV\" {\n cv = 1\n ports = [\"%s\"]\n positions = { %s }\n position = \"a0\"\n}\n"+
			"vent \"V\" { pressure = \"0 barg\" }\nline \"a\" { path = [\"%s\", \"(P1) -> V\"] }\n",
			strings.Join(names, `", "`), strings.Join(at, ", "), strings.Join(paths, `", "`))
	}
	for _, tc := range []struct {
		name                   string
		ports, positions, ways int
		ok                     bool
	}{
		{"as many positions as may be", 64, 256, 60, true},
		{"a position too many", 4, 257, 1, false},
		{"a port too many", 65, 1, 1, false},
		{"a way too many", 64, 1, 257, false},
	} {
		_, found := ReadFiles("x", map[string][]byte{"x.tap.hcl": []byte(system(tc.ports, tc.positions, tc.ways))})
		large := slices.ContainsFunc(found, func(d diag.Diagnostic) bool { return d.Code == tooLarge })
		if large == tc.ok || tc.ok && diag.HasErrors(found) {
			t.Errorf("%s: %v", tc.name, found[:min(len(found), 3)])
		}
	}
}
