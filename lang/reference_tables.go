package lang

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"tapline/lang/quantity"
	"tapline/solver/fluid"
)

// table writes rows as a Markdown table, padded so that it reads well as text.
// The first row is the heading.
func table(rows [][]string) string {
	widths := make([]int, len(rows[0]))
	for _, r := range rows {
		for i, cell := range r {
			widths[i] = max(widths[i], utf8.RuneCountInString(cell))
		}
	}
	var out strings.Builder
	line := func(cells []string, fill string) {
		for i, w := range widths {
			out.WriteString("| " + cells[i] + strings.Repeat(fill, w-utf8.RuneCountInString(cells[i])) + " ")
		}
		out.WriteString("|\n")
	}
	line(rows[0], " ")
	line(make([]string, len(widths)), "-")
	for _, r := range rows[1:] {
		line(r, " ")
	}
	return out.String()
}

// faults tells which kind of device takes which fault.
func (p *page) faults() {
	var names []string
	for _, t := range schema {
		built, later := t.Faults()
		for _, f := range slices.Concat(built, later) {
			if !slices.Contains(names, f) {
				names = append(names, f)
			}
		}
	}
	rows := [][]string{append([]string{"kind"}, names...)}
	for _, t := range schema {
		if !t.InPath() || t.NotBuilt {
			continue
		}
		built, later := t.Faults()
		row := []string{t.Kind}
		for _, f := range names {
			switch {
			case slices.Contains(built, f):
				row = append(row, "built")
			case slices.Contains(later, f):
				row = append(row, "planned")
			default:
				row = append(row, "-")
			}
		}
		rows = append(rows, row)
	}
	p.add("## Faults")
	p.add(faultsText)
	p.add("Which kind takes which: built, planned (not yet built), or - for none.")
	p.add(table(rows))
}

// units lists every spelling of a unit.
func (p *page) units() {
	rows := [][]string{{"unit", "also", "of", "what it is", "one is"}}
	for _, u := range quantity.Table() {
		what, si := measures(u)
		rows = append(rows, []string{u.Name, strings.Join(u.Also, ", "), u.Dimension.String(), what, inSI(u, si)})
	}
	p.add("## Units")
	p.add(wrap("", "Every spelling, case included. A flow (`band`, `leak`, `set` of a controller) takes units of gas flow, "+
		"liquid flow and mass flow alike. Sources of the factors stand in `quantity/units.go`."))
	p.add(table(rows))
}

// inSI is one of a unit in SI.
func inSI(u quantity.Unit, si string) string {
	text := strconv.FormatFloat((1+u.Offset)*u.Factor, 'g', 10, 64)
	return strings.TrimSpace(text + " " + si)
}

var siUnits = [quantity.Density + 1]string{
	quantity.Pressure: "Pa", quantity.PressureDifference: "Pa",
	quantity.Temperature: "K", quantity.TemperatureDifference: "K",
	quantity.Length: "m", quantity.Area: "m2", quantity.Volume: "m3",
	quantity.Mass: "kg", quantity.Force: "N", quantity.Stiffness: "N/m",
	quantity.Time: "s", quantity.Power: "W", quantity.Conductance: "W/K",
	quantity.HeatTransfer: "W/m2K", quantity.Speed: "m/s", quantity.Density: "kg/m3",
}

// measures words what a unit counts and gives the SI unit of its factor.
func measures(u quantity.Unit) (what, si string) {
	switch u.Basis {
	case quantity.Gauge:
		return "gauge: above the site's atmosphere", "Pa"
	case quantity.SiteReference:
		return "at the site's reference state", "m3/s"
	case quantity.OwnReference:
		return "at 0 degC, 101.325 kPaa", "m3/s"
	case quantity.Actual:
		return "at the state where the gas is", "m3/s"
	case quantity.MassFlow:
		return "mass, of gas or liquid", "kg/s"
	case quantity.MoleFlow:
		return "amount", "mol/s"
	case quantity.LiquidVolume:
		return "volume of liquid", "m3/s"
	}
	switch u.Dimension {
	case quantity.Pressure:
		what = "absolute"
	case quantity.PressureDifference, quantity.TemperatureDifference:
		what = "difference"
	case quantity.Temperature:
		what = "a temperature, no difference"
	}
	return what, siUnits[u.Dimension]
}

// components lists what fluids may be made of.
func (p *page) components() {
	rows := [][]string{{"component", "formula", "g/mol", "what \"auto\" takes for it alone"}}
	for _, name := range fluid.Components() {
		c, _ := fluid.About(name)
		equation := "Peng-Robinson"
		switch {
		case c.GERG:
			equation = "GERG-2008, 60 .. 700 K"
		case c.HighK > 0:
			equation = fmt.Sprintf("multiparameter, %.0f .. %.0f K", c.LowK, c.HighK)
		}
		rows = append(rows, []string{name, c.Formula, strconv.FormatFloat(c.MolarMass*1e3, 'f', 3, 64), equation})
	}
	p.add(componentsText)
	p.add(table(rows))
}

// output explains what is printed of the states of a fluid.
func (p *page) output() {
	p.add(outputText)
	rows := [][]string{{"key of a state", "what it is"}, {"`pressure_Pa`", "pressure [Pa, absolute]"},
		{"`temperature_K`", "temperature [K]"}, {"`phase`", "`\"gas\"` or `\"liquid\"`"}}
	for _, r := range Properties() {
		rows = append(rows, []string{"`" + r.Key + "`", r.Help})
	}
	p.add(table(append(rows,
		[]string{"`frost`", "whether ice forms at the water dew point; in JSON only"},
		[]string{"`first_drop_mostly`", "what the first drop at the hydrocarbon dew point is most of; in JSON only"},
		[]string{"`no_hydrocarbon_dew`", "why there is no hydrocarbon dew point; in JSON only"},
		[]string{"`ln_phi`", "ln of the fugacity coefficient of each component"},
		[]string{"`refused`", "why the fluid has no such state; the other keys are then null"})))
}

// planned lists what is part of the language and not yet built.
func (p *page) planned() {
	rows := [][]string{{"block", "what it is for"}}
	var parts []string
	for _, t := range schema {
		if t.NotBuilt {
			rows = append(rows, []string{t.Kind, t.Help})
			continue
		}
		for _, a := range t.Attributes {
			switch {
			case p.shared[a.Name] != "" && onDevices(t): // told apart below
			case a.NotBuilt:
				parts = append(parts, wrap("  ", "- `"+a.Name+"` of `"+t.Kind+"`: "+a.Help))
			case a.Name != "fault":
				for _, c := range a.Later {
					parts = append(parts, "- `"+a.Name+" = \""+c+"\"` of `"+t.Kind+"`")
				}
			}
		}
	}
	for _, t := range schema {
		for _, a := range t.Attributes {
			item := "- `" + a.Name + "` of all devices: " + a.Help
			if a.NotBuilt && p.shared[a.Name] != "" && onDevices(t) && !slices.Contains(parts, item) {
				parts = append(parts, item)
			}
		}
	}
	for _, n := range p.nested {
		if n.NotBuilt {
			parts = append(parts, "- the nested block `"+n.Kind+"`: "+n.Help)
		}
	}
	parts = append(parts, "- the value `\"adjusted\"`, a setting that is found", "- the faults marked planned in the table above")
	p.add("## Planned and not yet built")
	p.add("A file that uses one of these gets the error `not-yet-built`.")
	p.add(table(rows))
	p.add(strings.Join(parts, "\n"))
	p.add(wrap("", "Besides, some values are read and checked while nothing computes with them yet. A run that meets "+
		"one says so in a note: `not-computed`."))
}
