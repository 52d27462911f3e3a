package report

import (
	"cmp"
	"math"
	"strings"

	"tapline/compiler"
)

// The capacity of relief devices with everything it was made from: one column a
// device, at the state of the case in which it passes the most, since that is the
// flow required of it; at the base's where it passes nothing.

// Reliefs gives the capacity table of the relief devices of a system, or of the one
// with this tag; "" where there is none.
func Reliefs(s *compiler.SystemOutcome, tag string, width int) string {
	w := newWriter(&compiler.Outcome{}, Options{Width: width})
	w.reliefs(s, tag)
	return w.String()
}

// Capacity says in one sentence what a relief device is good for; "" for another
// device and where it is not known.
func Capacity(s *compiler.SystemOutcome, tag string) string {
	all, u := sheets(s, tag), unitsOf(s)
	if len(all) != 1 || tag == "" || all[0].number("capacity_kg_s") == nil {
		return ""
	}
	r := all[0]
	flow := u.flow(r.stream())
	text := "at its relieving pressure of " + r.pressure(u, "relieving_Pa") + " it passes " + r.shown(flow, "capacity_kg_s", 4) +
		", certified " + r.shown(flow, "certified_capacity_kg_s", 4) + " (case " + r.at.Name + ")"
	if r.passes > 0 {
		text += "; required there: " + compact(flow.show(r.passes), 4) + " " + flow.unit
	}
	return text + "."
}

// A reliefSheet is one device in the case whose state its capacity is given at.
type reliefSheet struct {
	device *compiler.DeviceOutcome
	at     *compiler.CaseOutcome
	// passes is the most that flows through it in a case in which it has not failed
	// itself [kg/s], 0 for nothing.
	passes float64
}

// sheets collects the relief devices in order of their tags.
func sheets(s *compiler.SystemOutcome, tag string) (out []*reliefSheet) {
	by := map[string]*reliefSheet{}
	for i := range s.Cases {
		c := &s.Cases[i]
		for j := range c.Devices {
			d := &c.Devices[j]
			if d.Kind != "relief" || tag != "" && d.Tag != tag || d.Settings["relieving_Pa"] == nil {
				continue
			}
			r := by[d.Tag]
			if r == nil {
				r = &reliefSheet{device: d, at: c}
				by[d.Tag] = r
				out = append(out, r)
			}
			if d.Fault == nil && d.MassFlowKgS != nil && *d.MassFlowKgS > r.passes {
				r.device, r.at, r.passes = d, c, *d.MassFlowKgS
			}
		}
	}
	return out
}

// reliefs writes the tables, as many devices beside one another as fit.
func (w *writer) reliefs(s *compiler.SystemOutcome, tag string) {
	all := sheets(s, tag)
	for len(all) > 0 {
		n := len(all)
		t := reliefTable(s, all)
		for n > 1 && total(t.sizes()) > w.Width {
			n--
			t = reliefTable(s, all[:n])
		}
		w.table(t)
		all = all[n:]
	}
}

// reliefRows are the rows: what is printed of a device, "" for a row that does not
// concern it.
var reliefRows = []struct {
	name string
	of   func(r *reliefSheet, u units) string
}{
	{"at the state of case", func(r *reliefSheet, _ units) string { return r.at.Name }},
	{"set", func(r *reliefSheet, u units) string { return r.pressure(u, "set_Pa") }},
	{"overpressure", func(r *reliefSheet, u units) string { return r.shown(u.of("drop", 0, stream{}), "overpressure_Pa", 4) }},
	{"relieving pressure p1", func(r *reliefSheet, u units) string { return r.pressure(u, "relieving_Pa") }},
	{"  absolute", func(r *reliefSheet, u units) string {
		return r.shown(u.in("bara", "bara", 0, stream{}.Stream), "relieving_Pa", 5)
	}},
	{"relieving temperature T", func(r *reliefSheet, u units) string { return r.shown(u.temperatures(), "relieving_K", 4) }},
	{"back pressure p2", func(r *reliefSheet, u units) string { return r.pressure(u, "back_Pa") }},
	{"opens at, with that behind it", func(r *reliefSheet, u units) string {
		if a, b := r.number("opens_Pa"), r.number("set_Pa"); a == nil || b == nil || math.Abs(*a-*b) < 1e-3**b {
			return ""
		}
		return r.pressure(u, "opens_Pa")
	}},
	{"orifice area A", func(r *reliefSheet, _ units) string { return r.shown(times("mm2", 1e6), "orifice_m2", 4) }},
	{"Kd, what happens", func(r *reliefSheet, _ units) string { return r.shown(plain(""), "kd", 4) }},
	{"Kdr, certified: 0.9 Kd", func(r *reliefSheet, _ units) string { return r.shown(plain(""), "kdr", 4) }},
	{"Kb, by the back pressure", func(r *reliefSheet, _ units) string { return r.shown(plain(""), "kb", 4) }},
	{"Kc, 0.9 behind a disc", func(r *reliefSheet, _ units) string { return r.shown(plain(""), "kc", 4) }},
	{"Kv, by the viscosity", func(r *reliefSheet, _ units) string { return r.shown(plain(""), "kv", 4) }},
	{"KN, of steam", func(r *reliefSheet, _ units) string { return r.shown(plain(""), "kn", 4) }},
	{"k, ideal cp/cv", func(r *reliefSheet, _ units) string { return r.shown(plain(""), "k", 4) }},
	{"C, from k (kg/h, mm2, bar)", func(r *reliefSheet, _ units) string { return r.shown(plain(""), "C", 4) }},
	{"Z", func(r *reliefSheet, _ units) string { return r.shown(plain(""), "Z", 4) }},
	{"molar mass M", func(r *reliefSheet, _ units) string { return r.shown(times("kg/kmol", 1e3), "molar_mass_kg_mol", 5) }},
	{"density", func(r *reliefSheet, _ units) string { return r.shown(plain("kg/m3"), "density_kg_m3", 4) }},
	{"passes, with Kd", func(r *reliefSheet, _ units) string { return r.shown(times("kg/h", 3600), "capacity_kg_s", 4) }},
	{"certified capacity", func(r *reliefSheet, _ units) string {
		return r.shown(times("kg/h", 3600), "certified_capacity_kg_s", 4)
	}},
	{"", func(r *reliefSheet, u units) string {
		if u.flow(r.stream()).unit == massFlow {
			return "" // is in kg/h above
		}
		return r.shown(u.flow(r.stream()), "certified_capacity_kg_s", 4)
	}},
	{"required: the most it passes", func(r *reliefSheet, _ units) string {
		if r.passes == 0 {
			return "nothing in any case here"
		}
		return compact(3600*r.passes, 4) + " kg/h"
	}},
	{"certified over required", func(r *reliefSheet, _ units) string {
		c := r.number("certified_capacity_kg_s")
		if c == nil || r.passes == 0 {
			return ""
		}
		return compact(*c/r.passes, 3)
	}},
	{"by", func(r *reliefSheet, _ units) string {
		by, _ := r.device.Settings["standard"].(string)
		return cmp.Or(by, "none: its fluid has no state there")
	}},
}

func reliefTable(s *compiler.SystemOutcome, all []*reliefSheet) *table {
	t := &table{head: []cell{{"relief device", ""}}, words: []bool{true}}
	for _, r := range all {
		t.head = append(t.head, cell{r.device.Tag, ""})
		t.words = append(t.words, true)
	}
	for _, row := range reliefRows {
		cells, any := []cell{{row.name, ""}}, false
		for _, r := range all {
			text := row.of(r, unitsOf(s))
			any = any || text != ""
			cells = append(cells, cell{cmp.Or(text, "-"), ""})
		}
		if any {
			t.rows = append(t.rows, cells)
		}
	}
	return t
}

// times is the scale of what is shown so many times as large.
func times(unit string, by float64) scale {
	return scale{unit, func(si float64) float64 { return by * si }}
}

// number gives a setting, nil where the device has none of that name.
func (r *reliefSheet) number(name string) *float64 {
	x, ok := r.device.Settings[name].(float64)
	if !ok {
		return nil
	}
	return &x
}

func (r *reliefSheet) shown(s scale, name string, digits int) string {
	x := r.number(name)
	if x == nil {
		return ""
	}
	return strings.TrimSpace(compact(s.show(*x), digits) + " " + s.unit)
}

// pressure gives one to 10 Pa: the last digits of a line's loss say nothing here.
func (r *reliefSheet) pressure(u units, name string) string {
	x := r.number(name)
	if x == nil {
		return ""
	}
	p := u.pressureIn(r.at.AtmospherePa)
	near := r.at.AtmospherePa + 10*math.Round((*x-r.at.AtmospherePa)/10)
	return compact(p.show(near), 4) + " " + p.unit
}

// stream is the fluid that the capacity is of.
func (r *reliefSheet) stream() (s stream) {
	if rho := r.number("density_kg_m3"); rho != nil {
		s.liquid, s.DensityKgM3 = true, *rho
	}
	if m := r.number("molar_mass_kg_mol"); m != nil {
		s.MolarMass = *m
	}
	return s
}
