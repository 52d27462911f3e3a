package rule

import (
	"fmt"
	"slices"
	"testing"

	"tapline/lang/diag"
)

// A reducer without a reference inlet is set at that of the base, and judged there too:
// an inlet of 6 bar that opens it on 20 mm, 188.496 N, against the outlet on 1570.796 mm2,
// 31.416 N at 0.2 bar, 188.50 at 1.2.
func TestSpringOfAReducerInTheBase(t *testing.T) {
	for set, want := range map[string]float64{"0.2 barg": -157.080, "1.1 barg": -15.708, "1.25 barg": 0} {
		_, flags := judged(t, fmt.Sprintf(`
reducer "R" {
  set = "%s"
  cv  = 0.1
  balance {
    sensing_diameter = "40 mm"
    seat_diameter    = "20 mm"
    flow_to          = "annulus"
    travel           = "0.5 mm"
    rate             = "10 N/mm"
  }
}
valve "V" { cv = 0.01 }
line "a" { path = "S -> R -> (P1) -> V -> ATM" }`, set))
		flags = slices.DeleteFunc(flags, func(d diag.Diagnostic) bool { return d.Code != "spring-pulls" })
		switch {
		case want == 0 && len(flags) > 0:
			t.Errorf("%s: %v", set, flags)
		case want != 0 && (len(flags) != 1 || *flags[0].Value < want-2e-3 || *flags[0].Value > want+2e-3):
			t.Errorf("%s: %v, want %g N", set, flags, want)
		}
	}
}

// A holder known by its dimensions: with the inlet in the centre of its seat, or
// a spring that would pull, it is told; mended, and just on the right side, not.
func TestForcesOfAHolder(t *testing.T) {
	for _, tc := range []struct {
		name, side, seat, poppet, preload string
		code                              string
		want                              float64
	}{
		// (38^2 - 4^2)/4^2 = 89.25.
		{"inlet in the centre", "seat", "4 mm", "false", "", "holder-snaps", 89.25},
		{"around the seat", "annulus", "4 mm", "false", "", "", 0},
		// 38^2/27^2 - 1 = 0.98.
		{"a seat so wide that it does not snap", "seat", "27 mm", "false", "", "", 0},
		// 1 bar on 1121.55 mm2 is 112.155 N.
		{"a poppet stronger than the set", "annulus", "4 mm", "true", "120 N", "spring-pulls", 112.1549 - 120},
		{"a weak poppet", "annulus", "4 mm", "true", "6 N", "", 0},
		{"a poppet just weaker than the set", "annulus", "4 mm", "true", "112 N", "", 0},
	} {
		preload := ""
		if tc.preload != "" {
			preload = fmt.Sprintf("poppet_preload = %q", tc.preload)
		}
		_, flags := judged(t, fmt.Sprintf(`
holder "H" {
  set = "1 barg"
  cv  = 0.1
  balance {
    sensing_diameter = "38 mm"
    seat_diameter    = "%s"
    flow_to          = "%s"
    poppet           = %s
    travel           = "0.5 mm"
    rate             = "10 N/mm"
    %s
  }
}
valve "V" { cv = 0.01 }
line "a" { path = "S -> V -> (P1) -> H -> ATM" }`, tc.seat, tc.side, tc.poppet, preload))
		flags = slices.DeleteFunc(flags, func(d diag.Diagnostic) bool { return d.Code != "holder-snaps" && d.Code != "spring-pulls" })
		switch {
		case tc.code == "" && len(flags) > 0:
			t.Errorf("%s: %v", tc.name, flags)
		case tc.code != "" && (len(flags) != 1 || flags[0].Code != tc.code || *flags[0].Value < tc.want-1e-3 || *flags[0].Value > tc.want+1e-3):
			t.Errorf("%s: %v, want %s %g", tc.name, flags, tc.code, tc.want)
		}
	}
}
