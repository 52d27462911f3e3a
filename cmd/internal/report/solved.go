package report

import (
	"cmp"
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"

	"tapline/compiler"
)

// leastResidual is what a mass balance is told down to: below it is rounding, whose
// digits say nothing.
const leastResidual = 1e-12

// solved writes one case in full: its nodes, its devices, its lags.
func (w *writer) solved(s *compiler.SystemOutcome, c *compiler.CaseOutcome) {
	title := "Case " + named(c)
	colour := bold
	if c.Status != "solved" {
		title, colour = title+": not solved", red
	}
	if c.Residual != nil {
		title += ", mass balance within " + compact(max(*c.Residual, leastResidual), 2)
	}
	if c.SeveralAnswers != nil && *c.SeveralAnswers {
		title += ", one of several answers"
	}
	w.broken(title, colour)
	if w.Trace {
		for _, line := range c.Trace {
			w.broken("  "+line, "")
		}
	}
	w.WriteByte('\n')
	if len(c.Nodes) == 0 && len(c.Devices) == 0 {
		return
	}
	u := unitsOf(s)
	w.table(nodeTable(c, u))
	devices := deviceTable(c, u, true)
	if total(devices.sizes()) > w.Width {
		devices = deviceTable(c, u, false)
	}
	w.table(devices)
	w.answers(c, u)
	if len(c.Lags) > 0 {
		w.table(lagTable(c))
		w.lagParts(c)
	}
}

// answers writes the pressures of further answers beside those shown.
func (w *writer) answers(c *compiler.CaseOutcome, u units) {
	if len(c.Answers) == 0 {
		return
	}
	shown := map[string]*float64{}
	for _, n := range c.Nodes {
		shown[n.Name] = n.PressurePa
	}
	pressure := u.pressureIn(c.AtmospherePa)
	for _, a := range c.Answers {
		var parts []string
		for _, n := range a.Nodes {
			here := shown[n.Name]
			if n.PressurePa == nil || here == nil || math.Abs(*n.PressurePa-*here) <= 1e-6**here {
				continue
			}
			parts = append(parts, n.Name+" "+compact(pressure.show(*n.PressurePa), 5))
		}
		w.broken("Another answer, found from "+a.Start+", "+pressure.unit+": "+strings.Join(parts, ", "), "")
	}
	w.WriteByte('\n')
}

// column gives the cells of a column of numbers in one scale, "-" for none.
func column(values []*float64, s scale) []string {
	n := decimals(s.all(values...))
	out := make([]string, len(values))
	for i, v := range values {
		out[i] = "-"
		if v != nil {
			out[i] = fixed(s.show(*v), n)
		}
	}
	alignPoints(out)
	return out
}

func nodeTable(c *compiler.CaseOutcome, u units) *table {
	pressure := u.pressureIn(c.AtmospherePa)
	var p, temperature, density []*float64
	for i := range c.Nodes {
		n := &c.Nodes[i]
		p, temperature, density = append(p, n.PressurePa), append(temperature, n.TemperatureK), append(density, n.DensityKgM3)
	}
	degrees := u.temperatures()
	ps, ts, ds := column(p, pressure), column(temperature, degrees), column(density, plain("kg/m3"))
	t := &table{
		head:  []cell{{"node", ""}, {"state", ""}, {"pressure\n" + pressure.unit, ""}, {"temperature\n" + degrees.unit, ""}, {"density\nkg/m3", ""}},
		words: []bool{true, true, false, false, false},
	}
	for i := range c.Nodes {
		n := &c.Nodes[i]
		name := n.Name
		for _, a := range n.Aliases {
			name += " = " + a
		}
		state := n.State
		if n.Phase != nil && *n.Phase != "gas" {
			state += ", " + *n.Phase
		}
		// An answer known only within bounds is printed as its bounds.
		if n.PressureLowPa != nil && n.PressureHighPa != nil {
			ps[i] = compact(pressure.show(*n.PressureLowPa), 5) + " .. " + compact(pressure.show(*n.PressureHighPa), 5)
		}
		t.rows = append(t.rows, []cell{{name, ""}, {state, ""}, {ps[i], ""}, {ts[i], ""}, {ds[i], ""}})
	}
	if blends(c) {
		t.head = append(t.head, cell{"gas from", ""})
		t.words = append(t.words, true)
		for i := range c.Nodes {
			t.rows[i] = append(t.rows[i], cell{cmp.Or(from(c.Nodes[i].Shares), "-"), ""})
		}
	}
	return t
}

// blends reports whether unlike gases meet anywhere in a case.
func blends(c *compiler.CaseOutcome) bool {
	mixed, unlike, first := false, false, -1
	for i := range c.Nodes {
		n := &c.Nodes[i]
		if n.Composition == nil {
			continue
		}
		if first < 0 {
			first = i
		}
		mixed = mixed || len(n.Shares) > 1
		unlike = unlike || !maps.Equal(n.Composition, c.Nodes[first].Composition)
	}
	return mixed && unlike
}

// from writes where a gas comes from, the most first; less than 0.1 ppm is left
// out.
func from(shares map[string]float64) string {
	tags := slices.SortedFunc(maps.Keys(shares), func(a, b string) int {
		return cmp.Or(cmp.Compare(shares[b], shares[a]), cmp.Compare(a, b))
	})
	var parts []string
	for _, tag := range tags {
		switch x := shares[tag]; {
		case x < 1e-7:
		case x < 1e-4:
			parts = append(parts, fmt.Sprintf("%s %.2g ppm", tag, 1e6*x))
		default:
			parts = append(parts, fmt.Sprintf("%s %.4g %%", tag, 100*x))
		}
	}
	return strings.Join(parts, ", ")
}

// deviceTable lists the devices; ends names the nodes at either side.
func deviceTable(c *compiler.CaseOutcome, u units, ends bool) *table {
	pressure := u.pressureIn(c.AtmospherePa)
	var lift, in, out []*float64
	devices := withWays(c.Devices)
	for i := range devices {
		d := &devices[i]
		lift = append(lift, d.Lift)
		from, to := sides(d)
		in, out = append(in, from.PressurePa), append(out, to.PressurePa)
	}
	lifts := column(lift, percent())
	flows, unit := flowColumn(c, devices, u)
	ins, outs := column(in, pressure), column(out, pressure)
	t := &table{head: []cell{{"device", ""}, {"kind", ""}, {"state", ""}, {"lift\n%", ""}, {"flow\n" + unit, ""}},
		words: []bool{true, true, true, false, false}}
	if ends {
		t.head = append(t.head, cell{"from", ""}, cell{"\n" + pressure.unit, ""}, cell{"to", ""}, cell{"\n" + pressure.unit, ""})
		t.words = append(t.words, true, false, true, false)
	} else {
		t.head = append(t.head, cell{"from\n" + pressure.unit, ""}, cell{"to\n" + pressure.unit, ""})
		t.words = append(t.words, false, false)
	}
	for i := range devices {
		d := &devices[i]
		row := []cell{{d.Tag, ""}, {d.Kind, ""}, {cmp.Or(joined(stateOf(d), reading(c, d, u)), "-"), ""}, {lifts[i], ""}, {flows[i], ""}}
		from, to := sides(d)
		if ends {
			row = append(row, cell{from.Node, ""}, cell{ins[i], ""}, cell{to.Node, ""}, cell{outs[i], ""})
		} else {
			row = append(row, cell{ins[i], ""}, cell{outs[i], ""})
		}
		t.rows = append(t.rows, row)
	}
	return t
}

// sides gives the ends of a device along its path; a source has no inlet and a
// vent no outlet.
func sides(d *compiler.DeviceOutcome) (from, to compiler.PortOutcome) {
	for _, p := range d.Ports {
		switch p.Name {
		case "in", "at":
			from = p
		case "out":
			to = p
		}
	}
	return from, to
}

func stateOf(d *compiler.DeviceOutcome) string {
	var parts []string
	if position, ok := d.Settings["position"].(string); ok {
		parts = append(parts, position)
	}
	if d.State != nil && (d.Fault == nil || *d.Fault != *d.State) {
		parts = append(parts, *d.State)
	}
	if d.Fault != nil {
		parts = append(parts, "fault: "+*d.Fault)
	}
	if d.Choked != nil && *d.Choked {
		parts = append(parts, "choked")
	}
	return strings.Join(parts, ", ")
}

func joined(a, b string) string {
	if a == "" || b == "" {
		return a + b
	}
	return a + ", " + b
}

// reading is what a gauge or meter shows.
func reading(c *compiler.CaseOutcome, d *compiler.DeviceOutcome, u units) string {
	if d.Reads == nil {
		return ""
	}
	var s scale
	x := *d.Reads
	switch {
	case d.Kind == "meter" && d.LiquidKgM3 > 0:
		through := u.streamThrough(c, d)
		s = u.flow(through)
		x *= through.DensityKgM3
	case d.Kind == "meter" && u.reference != nil:
		through := u.streamThrough(c, d)
		s = u.flow(through)
		x *= through.MolarMass / u.reference.MolarVolume()
	case d.Settings["reads"] == "temperature":
		s = u.temperatures()
	default:
		s = u.pressureIn(c.AtmospherePa)
	}
	return "reads " + compact(s.show(x), 4) + " " + s.unit
}

// flowColumn gives the flows and the unit most of them are in; a flow in
// another one (a liquid among gases) carries its own.
func flowColumn(c *compiler.CaseOutcome, devices []compiler.DeviceOutcome, u units) (cells []string, unit string) {
	scales := make([]scale, len(devices))
	times := map[string]int{}
	for i := range devices {
		d := &devices[i]
		if d.MassFlowKgS == nil {
			continue
		}
		scales[i] = u.flow(u.streamThrough(c, d))
		if *d.MassFlowKgS == 0 {
			continue // nothing is nothing in any unit
		}
		times[scales[i].unit]++
		if unit == "" || times[scales[i].unit] > times[unit] {
			unit = scales[i].unit
		}
	}
	if unit == "" {
		unit = u.gasFlow
	}
	cells = make([]string, len(devices))
	for _, in := range slices.Compact(slices.Sorted(slices.Values(unitNames(scales)))) {
		var values []float64
		for i, s := range scales {
			if s.unit == in && s.show != nil {
				values = append(values, s.show(*devices[i].MassFlowKgS))
			}
		}
		n := decimals(values)
		for i, s := range scales {
			switch {
			case s.show == nil:
				cells[i] = "-"
			case s.unit == in:
				cells[i] = fixed(s.show(*devices[i].MassFlowKgS), n)
				if in != unit && *devices[i].MassFlowKgS != 0 {
					cells[i] += " " + in
				}
			}
		}
	}
	alignPoints(cells)
	return cells, unit
}

func unitNames(scales []scale) []string {
	var names []string
	for _, s := range scales {
		names = append(names, s.unit)
	}
	return names
}

// caseCount says how many cases there are and how many have no answer.
func caseCount(o *compiler.Outcome) string {
	all, spread, unsolved := 0, 0, 0
	for _, s := range o.Systems {
		all += len(s.Cases)
		for _, c := range s.Cases {
			if c.Status != "solved" {
				unsolved++
			}
		}
		for _, x := range s.Spreads {
			spread += x.Cases
			unsolved += x.Unsolved
		}
	}
	text := count(len(o.Systems), "system", "systems") + ", " + count(all, "case", "cases")
	if spread > 0 {
		text += fmt.Sprintf(" and %d in spreads", spread)
	}
	if unsolved > 0 {
		text += fmt.Sprintf(" (%d not solved)", unsolved)
	}
	return text
}
