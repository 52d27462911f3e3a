package rule

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"tapline/lang/diag"
)

// Rules that judge how a system is put together. Each has a system that raises it,
// the same one mended, and one that is nearly as bad and still fine. The limits in the
// words follow by hand from the values written; all values are invented.

// cell is one behind a reducer, with what more is given at its inlet (P1).
func cell(rated, more string) string {
	return fmt.Sprintf(`
filter "F-1" { cv = 1 }
reducer "R" {
  set   = "3 barg"
  cv    = 0.1
  droop = "0.2 bar"
}
analyzer "AE" {
  cv    = 0.1
  rated = "%s"
}
valve "V" { cv = 0.02 }
line "a" { path = "S -> F-1 -> R -> (P1) -> AE -> (P2) -> V -> ATM" }
`, rated) + more
}

// stages is a cell behind two reducers; the first locks up at 3.5 barg. The relief of
// the first keeps what is behind it at 4 barg.
func stages(rated, more string) string {
	return fmt.Sprintf(`
filter "F-1" { cv = 1 }
reducer "R-1" {
  set     = "3.3 barg"
  cv      = 0.1
  droop   = "0.2 bar"
  lock_up = "0.2 bar"
}
relief "PSV-1" {
  set     = "3.9 barg"
  orifice = "20 mm2"
  kd      = 0.8
}
reducer "R" {
  set   = "2 barg"
  cv    = 0.1
  droop = "0.2 bar"
}
analyzer "AE" {
  cv    = 0.1
  rated = "%s"
}
valve "V" { cv = 0.02 }
line "a" { path = "S -> F-1 -> R-1 -> (P1) -> R -> (P3) -> AE -> (P2) -> V -> ATM" }
line "r1" { path = "(P1) -> PSV-1 -> ATM" }
`, rated) + more
}

// openEnd is a valve whose outlet side stands less than the source, and what follows.
func openEnd(end string) string {
	return `
valve "V-3" {
  cv           = 0.01
  rated_outlet = "2 barg"
}
valve "V-4" { cv = 1 }
line "a" { path = "S -> V-3 -> (P1) -> ` + end + `" }
` + map[bool]string{false: line("b", "S -> V-4 -> ATM")}[strings.Contains(end, "V-4")]
}

// backed is a cell that a second, higher source is joined to.
func backed(path string) string {
	return cell("6.5 barg", `
source "S-2" {
  fluid       = "n2"
  pressure    = "7 barg"
  temperature = "20 degC"
}
valve "V-2" { cv = 0.01 }
valve "V-3" {
  cv     = 0.01
  state  = "shut"
  locked = true
}
check_valve "CK" {
  cv        = 0.3
  cracks_at = "0.2 bar"
}
`) + line("b", path) + spares(path)
}

// spares puts what a path leaves out between the source and the vent.
func spares(path string) string {
	var out string
	for i, tag := range []string{"V-2", "V-3", "CK"} {
		if !strings.Contains(path, tag) {
			out += line(fmt.Sprint("spare-", i), "S -> "+tag+" -> ATM")
		}
	}
	return out
}

// column is a vessel of water below or above its relief device.
func column(rise string) string {
	return fmt.Sprintf(`
fluid "water" {
  mole_percent = { water = 100 }
  phase        = "liquid"
}
source "W" {
  fluid       = "water"
  pressure    = "3 barg"
  temperature = "20 degC"
}
vent "DRAIN" { pressure = "0 barg" }
valve "V-1" { cv = 0.1 }
valve "V-2" { cv = 0.1 }
equipment "E" {
  cv    = 1
  rated = "4 barg"
}
relief "PSV" {
  set     = "4 barg"
  orifice = "20 mm2"
  kd      = 0.6
}
line "a" { path = "W -> V-1 -> (P1) -> tube(10 mm x 1 mm, 12 m, rise %s) -> E -> V-2 -> DRAIN" }
line "r" { path = "(P1) -> PSV -> DRAIN" }
line "b" { path = "S -> tube(6 mm x 1 mm, 1 m) -> ATM" }
`, rise)
}

func psv(tag, set, more string) string {
	return fmt.Sprintf("relief %q {\n set = %q\n orifice = \"20 mm2\"\n kd = 0.8\n %s\n}\n", tag, set, more)
}

func line(name, path string) string { return fmt.Sprintf("line %q { path = %q }\n", name, path) }

// supplied is a reducer whose inlet falls from 12 to 6 barg, which raises its outlet by
// 5 % of 6 bar, to 3.3 barg and, without flow, to 3.4 barg.
func supplied(relief string) string {
	return `
filter "F-1" { cv = 1 }
reducer "R" {
  set             = "3 barg"
  reference_inlet = "12 barg"
  supply_effect   = "5 %"
  lock_up         = "0.1 bar"
  cv              = 0.1
  droop           = "0.2 bar"
}
valve "V" { cv = 0.002 }
line "a" { path = "S -> F-1 -> R -> (P1) -> V -> ATM" }
case "full" {
  source "S" { pressure = "12 barg" }
}
` + relief + line("r", "(P1) -> PSV -> ATM")
}

func held(relief string) string {
	return `
valve "V" { cv = 0.01 }
holder "H" {
  set          = "3 barg"
  cv           = 0.1
  accumulation = "0.2 bar"
}
line "a" { path = "S -> V -> (P1) -> H -> ATM" }
` + relief + line("r", "(P1) -> PSV -> ATM")
}

func inSeries(set string) string {
	return fmt.Sprintf(`
reducer "R" {
  set   = "3 barg"
  cv    = 0.1
  droop = "0.2 bar"
}
valve "V" { cv = 0.02 }
holder "H" {
  set          = "%s"
  cv           = 0.1
  accumulation = "0.1 bar"
}
line "a" { path = "S -> R -> (P1) -> V -> (P2) -> H -> ATM" }
`, set)
}

func standby(more string) string {
	return `
source "S-2" {
  fluid       = "n2"
  pressure    = "6 barg"
  temperature = "20 degC"
}
reducer "R" {
  set   = "3 barg"
  cv    = 0.1
  droop = "0.2 bar"
}
reducer "R-2" {
  set   = "2 barg"
  cv    = 0.1
  droop = "0.2 bar"
}
valve "V" { cv = 0.02 }
line "a" { path = "S -> R -> (P1) -> V -> ATM" }
` + more
}

// returned is a cell whose gas goes back into a line at 2 barg past a check valve that
// takes 0.2 bar and a little more.
func returned(supply, bias string) string {
	return fmt.Sprintf(`
source "T" {
  fluid       = "n2"
  pressure    = "%s"
  temperature = "20 degC"
}
vent "BACK" { pressure = "2 barg" }
valve "V" { cv = 0.01 }
holder "H" {
  cv           = 0.3
  accumulation = "0.02 bar"
  loading {
    dome = "(P3)"
    bias = "%s"
  }
}
check_valve "CK" {
  cv        = 0.3
  cracks_at = "0.2 bar"
}
line "a" { path = "T -> V -> (P2) -> H -> (P4) -> CK -> (P3) -> tube(10 mm x 1 mm, 1 m) -> BACK" }
line "b" { path = "S -> tube(6 mm x 1 mm, 1 m) -> ATM" }
`, supply, bias)
}

const pilot = `
reducer "PR" {
  set   = "2.5 barg"
  cv    = 0.01
  droop = "0.2 bar"
}
orifice "RO" {
  bore = "0.1 mm"
  cd   = 0.8
  edge = "thick"
}
`

func domed(feed string) string {
	return pilot + `
reducer "R" {
  cv    = 0.1
  droop = "0.2 bar"
  loading {
    dome  = "(PD)"
    ratio = 0.5
    bias  = "0.5 bar"
  }
}
valve "V" { cv = 0.02 }
line "a" { path = "S -> F-1 -> (P0) -> R -> (P1) -> V -> ATM" }
filter "F-1" { cv = 1 }
` + feed
}

func lifted(cv, more string) string {
	return fmt.Sprintf(`
reducer "R" {
  set   = "3 barg"
  cv    = %s
  droop = "0.2 bar"
  %s
}
valve "V" { cv = 0.02 }
line "a" { path = "S -> R -> (P1) -> V -> ATM" }
`, cv, more)
}

// wet is lifted with water.
func wet(cv string) string {
	text := strings.Replace(lifted(cv, ""), "S -> R -> (P1) -> V -> ATM", "W -> R -> (P1) -> V -> DRAIN", 1)
	return text + line("b", "S -> tube(6 mm x 1 mm, 1 m) -> ATM") + `
vent "DRAIN" { pressure = "0 barg" }
fluid "water" {
  mole_percent = { water = 100 }
  phase        = "liquid"
}
source "W" {
  fluid       = "water"
  pressure    = "6 barg"
  temperature = "20 degC"
}
`
}

func TestDesignRules(t *testing.T) {
	relief := line("r", "(P1) -> PSV -> ATM")
	for _, tc := range []struct {
		code, name string
		level      diag.Level
		at         string
		words      string
		trips      string
		mended     string
		near       string // nearly as bad, and silent
	}{
		{"unprotected", "reducer wide open", diag.Alarm, "AE", "AE is rated for 4 barg, 6 barg of S can reach it with R wide open",
			cell("4 barg", ""), cell("4 barg", psv("PSV", "4 barg", "")+relief), cell("6 barg", "")},
		{"unprotected", "relief behind what may plug", diag.Alarm, "AE", "no relief device",
			cell("4 barg", psv("PSV", "4 barg", "")+line("r", "(P2) -> PSV -> ATM")),
			cell("4 barg", psv("PSV", "4 barg", "")+relief),
			cell("4 barg", psv("PSV", "4 barg", "")+"valve \"LO\" {\n cv = 1\n locked = true\n}\n"+line("r", "(P1) -> tube(6 mm x 1 mm, 1 m) -> LO -> PSV -> ATM"))},
		{"unprotected", "relief behind a valve", diag.Alarm, "AE", "no relief device",
			cell("4 barg", psv("PSV", "4 barg", "")+"valve \"LO\" { cv = 1 }\n"+line("r", "(P1) -> LO -> PSV -> ATM")),
			cell("4 barg", psv("PSV", "4 barg", "")+relief),
			// In the way of the pressure itself a valve does no harm.
			strings.Replace(cell("4 barg", psv("PSV", "4 barg", "")+"valve \"LO\" { cv = 1 }\n"+line("r", "(P1) -> PSV -> ATM")), "(P1) -> AE", "(P1) -> LO -> AE", 1)},
		// One reducer is wide open at a time: the second passes the 3.5 barg at which
		// the first locks up.
		{"unprotected", "second reducer wide open", diag.Alarm, "AE", "AE is rated for 3.4 barg, 3.5 barg, at which R-1 may lock up, can reach it with R wide open",
			stages("3.4 barg", ""), stages("3.4 barg", psv("PSV", "3.4 barg", "")+line("r", "(P3) -> PSV -> ATM")), stages("3.5 barg", "")},
		{"unprotected", "open to a vent", diag.Alarm, "V-3", "6 barg of S can reach it",
			openEnd("V-4 -> ATM"), openEnd("tube(6 mm x 1 mm, 1 m) -> ATM"),
			strings.Replace(openEnd("V-4 -> ATM"), "{ cv = 1 }", "{\n cv = 1\n locked = true\n}", 1)},
		{"unprotected", "check valve", diag.Alarm, "AE", "7 barg of S-2 can reach it",
			backed("S-2 -> V-2 -> (P1)"), backed("(P1) -> CK -> V-2 -> S-2"), backed("S-2 -> V-3 -> (P1)")},
		// 10 m of water are 0.98 bar.
		{"relief-above-rated", "column of water", diag.Alarm, "PSV", "PSV opens at 4.97",
			column("-10 m"), column("0 m"), column("10 m")},
		{"relief-above-rated", "set too high", diag.Alarm, "PSV", "PSV opens at 4.2 barg, above the 4 barg that AE is rated for",
			cell("4 barg", psv("PSV", "4.2 barg", "")+relief), cell("4 barg", psv("PSV", "4 barg", "")+relief),
			cell("4 barg", psv("PSV", "4.2 barg", "")+psv("PSV-2", "4 barg", "")+relief+line("r2", "(P1) -> PSV-2 -> ATM"))},
		{"relief-above-rated", "within tolerance", diag.Caution, "PSV", "may open at up to 4.1 barg within its tolerance",
			cell("4 barg", psv("PSV", "4 barg +/- 0.1 bar", "")+relief), cell("4 barg", psv("PSV", "3.9 barg +/- 0.1 bar", "")+relief), cell("4 barg", psv("PSV", "4 barg", "")+relief)},
		{"relief-above-rated", "back pressure on the bonnet", diag.Alarm, "PSV", "PSV opens at 4.5 barg",
			cell("4 barg", "vent \"HEADER\" { pressure = \"0.5 barg\" }\n"+psv("PSV", "4 barg", "")+line("r", "(P1) -> PSV -> HEADER")),
			cell("4 barg", "vent \"HEADER\" { pressure = \"0.5 barg\" }\n"+psv("PSV", "3.5 barg", "")+line("r", "(P1) -> PSV -> HEADER")),
			cell("4 barg", "vent \"HEADER\" { pressure = \"0.5 barg\" }\n"+psv("PSV", "4 barg", "bonnet = \"balanced\"")+line("r", "(P1) -> PSV -> HEADER"))},
		// The reducer holds 2.9 to 3 barg.
		{"relief-simmer", "spring", diag.Caution, "PSV", "of the 3.2 barg at which it opens",
			cell("9 barg", psv("PSV", "3.2 barg", "")+relief), cell("9 barg", psv("PSV", "4 barg", "")+relief), cell("9 barg", psv("PSV", "3.34 barg", "")+relief)},
		{"relief-simmer", "pilot", diag.Caution, "PSV", "it may weep from 95 % on",
			cell("9 barg", psv("PSV", "3.02 barg", "bonnet = \"pilot\"")+relief), cell("9 barg", psv("PSV", "4 barg", "bonnet = \"pilot\"")+relief), cell("9 barg", psv("PSV", "3.2 barg", "bonnet = \"pilot\"")+relief)},
		// Lock-up 3.4 barg: 90 % of 3.7 is 3.33, of 3.8 3.42.
		{"lockup-against-relief", "at 90 %", diag.Caution, "R", "R locks up at 3.4 barg with 6 barg before it (case \"base\") and comes to more than 3.33 barg",
			supplied(psv("PSV", "3.7 barg", "")), supplied(psv("PSV", "4.5 barg", "")), supplied(psv("PSV", "3.8 barg", ""))},
		{"lockup-against-relief", "reseat", diag.Caution, "R", "comes to more than 3.2 barg, the reseat pressure of PSV",
			supplied(psv("PSV", "4 barg", "blowdown = \"20 %\"")), supplied(psv("PSV", "4 barg", "blowdown = \"8 %\"")), supplied(psv("PSV", "4 barg", "blowdown = \"14 %\""))},
		{"lockup-against-relief", "opens it", diag.Alarm, "R", "opens PSV at 3.35 barg",
			supplied(psv("PSV", "3.35 barg", "")), supplied(psv("PSV", "4.5 barg", "")), supplied(psv("PSV", "3.8 barg", ""))},
		{"holder-against-relief", "within the band", diag.Caution, "H", "H begins to open at 3 barg and is fully open at 3.2 barg (case \"base\"); PSV in the same section opens at 3.1 barg",
			held(psv("PSV", "3.1 barg", "")), held(psv("PSV", "4 barg", "")), held(psv("PSV", "3.21 barg", ""))},
		{"holder-against-relief", "below the onset", diag.Alarm, "H", "opens at 2.9 barg",
			held(psv("PSV", "2.9 barg", "")), held(psv("PSV", "4 barg", "")), held(psv("PSV", "3.21 barg", ""))},
		{"no-restriction", "sets too near", diag.Caution, "R", "and their bands, 0.2 bar and 0.1 bar, are wider",
			inSeries("2.8 barg"), inSeries("1.5 barg"), inSeries("2.6 barg")},
		{"no-restriction", "nothing between", diag.Caution, "R", "0 bar lies between them",
			strings.Replace(inSeries("2 barg"), "-> V -> (P2) ->", "->", 1) + line("b", "S -> V -> ATM"), inSeries("1.5 barg"), inSeries("2.6 barg")},
		{"never-flows", "set below the other", diag.Caution, "R-2", "nothing flows through R-2, nor through T-2 in line with it, in any case; in the base",
			standby(line("b", "S-2 -> tube T-2(6 mm x 1 mm, 1 m) -> R-2 -> (P1)")),
			standby(line("b", "S-2 -> tube T-2(6 mm x 1 mm, 1 m) -> R-2 -> (P1)") + "case \"main shut\" {\n reducer \"R\" { fault = \"shut\" }\n}\n"),
			standby("valve \"V-2\" {\n cv = 1\n state = \"shut\"\n}\n" + line("b", "S-2 -> V-2 -> R-2 -> (P1)"))},
		{"never-flows", "dead end", diag.Caution, "R-2", "nothing flows",
			standby(line("b", "S-2 -> R-2 -> (P1)")),
			standby(line("b", "S-2 -> R-2 -> (P3) -> tube(6 mm x 1 mm, 1 m) -> ATM")),
			standby(line("b", "S-2 -> R-2 -> (P3) -> cap"))},
		// The check valve wants 0.2 bar and up to 0.02 bar more.
		{"bias-too-small", "floats", diag.Alarm, "H", "does not cover what is lost on the way there: it stands wide open and holds nothing",
			returned("6 barg", "0.1 bar"), returned("6 barg", "0.5 bar"), returned("6 barg", "0.23 bar")},
		{"bias-too-small", "against the dome", diag.Alarm, "H", "-0.1 bar over P3",
			returned("6 barg", "-0.1 bar"), returned("6 barg", "0.5 bar"), returned("6 barg", "0.23 bar")},
		{"bias-too-small", "nothing flows", diag.Alarm, "H", "it is open and nothing flows",
			returned("2.15 barg", "0.1 bar"), returned("6 barg", "0.5 bar"), returned("2.3 barg", "0.23 bar")},
		{"no-filter", "none", diag.Caution, "R", "no filter stands between S and the seat of R",
			lifted("0.1", ""), strings.Replace(lifted("0.1", "")+"filter \"F\" { cv = 1 }\n", "S -> R", "S -> F -> R", 1),
			// Far before it, with a valve, a check valve and a tee between; and the
			// second regulator of a way is served by the filter of the first.
			strings.Replace(lifted("0.1", "")+"filter \"F\" { cv = 1 }\nvalve \"V-3\" { cv = 1 }\nvalve \"V-4\" { cv = 0.01 }\ncheck_valve \"CK\" {\n cv = 1\n cracks_at = \"0.1 bar\"\n}\n"+line("b", "(P3) -> V-4 -> ATM"),
				"S -> R", "S -> F -> V-3 -> (P3) -> CK -> R", 1)},
		{"no-filter", "another source", diag.Caution, "R", "between S-2 and the seat of R",
			strings.Replace(standby(line("b", "S-2 -> V-2 -> (P3)")+"valve \"V-2\" { cv = 1 }\nfilter \"F\" { cv = 1 }\n"+line("c", "(P1) -> R-2 -> ATM")), "S -> R", "S -> F -> (P3) -> R", 1),
			strings.Replace(standby(line("b", "S-2 -> V-2 -> (P3)")+"valve \"V-2\" { cv = 1 }\nfilter \"F\" { cv = 1 }\n"+line("c", "(P1) -> R-2 -> ATM")), "S -> R", "S -> (P3) -> F -> R", 1),
			strings.Replace(standby(line("b", "S-2 -> F-2 -> (P3)")+"filter \"F-2\" { cv = 1 }\nfilter \"F\" { cv = 1 }\n"+line("c", "(P1) -> R-2 -> ATM")), "S -> R", "S -> F -> (P3) -> R", 1)},
		{"dome-loop", "pilot from behind", diag.Caution, "R", "the dome of R is fed from P1, whose pressure R itself controls",
			domed(line("b", "(P1) -> PR -> (PD) -> RO -> ATM")), domed(line("b", "(P0) -> PR -> (PD) -> RO -> ATM")),
			// The dome may bleed into what the reducer feeds; that does not feed it.
			domed(line("b", "(P0) -> PR -> (PD) -> RO -> (P1)"))},
		{"dome-loop", "holder's own inlet", diag.Caution, "H", "the dome of H is fed from P2",
			strings.Replace(returned("6 barg", "0.5 bar"), "(P3)\"", "(P2)\"", 1), returned("6 barg", "0.5 bar"), strings.Replace(returned("6 barg", "0.5 bar"), "(P3)\"", "(P4)\"", 1)},
		// A pilot from before the needle valve, and one from behind it.
		{"dome-loop", "holder's pilot", diag.Caution, "H", "the dome of H is fed from P2",
			strings.Replace(returned("6 barg", "0.5 bar"), "(P3)\"", "(PD)\"", 1) + pilot + line("p", "(P2) -> PR -> (PD) -> RO -> BACK"),
			strings.Replace(returned("6 barg", "0.5 bar"), "(P3)\"", "(PD)\"", 1) + pilot + line("p", "T -> PR -> (PD) -> RO -> BACK"),
			strings.Replace(strings.Replace(returned("6 barg", "0.5 bar"), "(P3)\"", "(PD)\"", 1), "T -> V", "T -> F-1 -> (P0) -> V", 1) + "filter \"F-1\" { cv = 1 }\n" + pilot + line("p", "(P0) -> PR -> (PD) -> RO -> BACK")},
		// A bypass joins the holder's inlet and its return: the bias on the return is no loop.
		{"dome-loop", "holder's own inlet, bypassed", diag.Caution, "H", "the dome of H is fed from P2",
			strings.Replace(bypassed(returned("6 barg", "0.5 bar")), "(P3)\"", "(P2)\"", 1), strings.Replace(bypassed(returned("6 barg", "0.5 bar")), "(P3)\"", "(P4)\"", 1), returned("6 barg", "0.5 bar")},
		{"lift-edge", "too small", diag.Caution, "R", "R stands at",
			lifted("0.0127", ""), lifted("0.1", ""), lifted("0.0137", "")},
		{"lift-edge", "wide open", diag.Caution, "R", "R stands wide open: it does not control",
			lifted("0.01", ""), lifted("0.1", ""), lifted("0.01", "allow {\n lift = \"<= 100 %\"\n }")},
		{"lift-edge", "starved", diag.Caution, "R", "with 2.5 barg before it, it cannot give the 3 barg it is set to",
			lifted("0.1", "") + "case \"low\" {\n source \"S\" { pressure = \"2.5 barg\" }\n}\n", lifted("0.1", ""),
			lifted("0.1", "") + "case \"low\" {\n kind = \"upset\"\n source \"S\" { pressure = \"2.5 barg\" }\n}\n"},
		{"lift-edge", "liquid near the seat", diag.Caution, "R", "near its seat", wet("0.5"), wet("0.1"), lifted("0.5", "")},
		{"lift-edge", "least flow stated", diag.Caution, "R", "near its seat",
			lifted("0.5", "allow {\n flow = \">= 1 slpm\"\n }"), lifted("0.1", "allow {\n flow = \">= 1 slpm\"\n }"), lifted("0.5", "allow {\n flow = \"<= 100 slpm\"\n }")},
		{"dome-trapped", "shut in", diag.Note, "R", "the dome of R follows PD, which is shut off",
			domed("valve \"V-3\" {\n cv = 1\n state = \"shut\"\n}\nvalve \"V-4\" {\n cv = 1\n state = \"shut\"\n}\n" + line("b", "(P0) -> V-3 -> (PD) -> V-4 -> ATM") + line("c", "(P0) -> PR -> RO -> ATM")),
			domed(line("b", "(P0) -> PR -> (PD) -> RO -> ATM")),
			domed("valve \"V-3\" { cv = 1 }\nvalve \"V-4\" {\n cv = 1\n state = \"shut\"\n}\n" + line("b", "(P0) -> V-3 -> (PD) -> V-4 -> ATM") + line("c", "(P0) -> PR -> RO -> ATM"))},
	} {
		t.Run(tc.code+" "+tc.name, func(t *testing.T) {
			_, flags := judged(t, tc.trips)
			i := slices.IndexFunc(flags, func(f diag.Diagnostic) bool { return f.Code == tc.code && f.At == tc.at })
			if i < 0 {
				t.Fatalf("stays silent; flags %v", flags)
			}
			f := flags[i]
			if f.Level != tc.level || !strings.Contains(f.Message, tc.words) {
				t.Errorf("level %v at %q: %s", f.Level, f.At, f.Message)
			}
			if f.Range.IsZero() || f.Hint == "" {
				t.Error("the flag has no place or no hint")
			}
			for name, text := range map[string]string{"mended": tc.mended, "near": tc.near} {
				_, flags := judged(t, text)
				for _, f := range flags {
					if f.Code == tc.code && f.At == tc.at {
						t.Errorf("%s, it still says: %s", name, f.Message)
					}
				}
			}
		})
	}
}

// bypassed adds a valve from before the holder H to its return.
func bypassed(text string) string {
	return text + "valve \"BV\" { cv = 0.01 }\n" + line("bypass", "(P2) -> BV -> (P4)")
}
