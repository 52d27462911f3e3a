package properties

import (
	"fmt"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"sync"

	"tapline/lang"
	"tapline/lang/diag"
	"tapline/solver/fluid"
)

const gap = 2 // columns between two columns of a table

// Text prints states as tables of at most width columns: a column for each
// state, as many beside one another as fit, and the composition once.
func (f *Fluid) Text(states []State, width int) string {
	if width <= 0 {
		width = 80
	}
	var b strings.Builder
	f.head(&b, states, width)
	for len(states) > 0 {
		n := f.fitting(states, width)
		b.WriteByte('\n')
		table(&b, f.rows(states[:n]))
		f.missing(&b, states[:n], width)
		b.WriteByte('\n')
		table(&b, f.components(states[:n]))
		states = states[n:]
	}
	b.WriteString("\nh and s are zero for the ideal gases at 25 degC, 101.325 kPa. In brackets stand\nexpected errors.\n")
	return b.String()
}

// head says what the fluid is and what the numbers rest on.
func (f *Fluid) head(b *strings.Builder, states []State, width int) {
	line := func(text string) {
		for _, l := range diag.Wrap(diag.Escape(text), width, 2) {
			b.WriteString(l + "\n")
		}
	}
	title := f.Name
	if len(states) == 1 {
		title += " at " + states[0].Point.String() + ": " + states[0].Phase
	}
	if f.Case != "" {
		title += ", in case " + strconv.Quote(f.Case)
	}
	line(title)
	basis := f.Composed.Basis()
	line(basis.Equation + ", " + expected(basis.DensityError, "density"))
	if basis.Note != "" {
		line("note: " + basis.Note)
	}
	if f.Atmosphere != "" {
		line(fmt.Sprintf("Gauge pressures start from %s bara, %s.", significant(f.AtmospherePa/1e5, 5), f.Atmosphere))
	}
	for _, n := range f.Notes {
		line("note: " + n)
	}
}

// expected words an expected relative error.
func expected(off float64, of string) string {
	if !(off > 0) {
		return "expected error of the " + of + " not known"
	}
	return of + " expected within " + percent(off)
}

func percent(off float64) string { return strconv.FormatFloat(off*100, 'g', 2, 64) + " %" }

// fitting tells how many states stand beside one another.
func (f *Fluid) fitting(states []State, width int) int {
	for n := len(states); n > 1; n-- {
		if tableWidth(f.rows(states[:n])) <= width && tableWidth(f.components(states[:n])) <= width {
			return n
		}
	}
	return 1
}

// rows are the values of states, with a heading where there are several.
func (f *Fluid) rows(states []State) [][]string {
	var rows [][]string
	add := func(label, unit string, cell func(*State) string) {
		row := []string{label, unit}
		for i := range states {
			row = append(row, cell(&states[i]))
		}
		rows = append(rows, row)
	}
	if len(states) > 1 {
		add("", "", func(s *State) string { return s.Pressure })
		add("", "", func(s *State) string { return s.Temperature })
		add("phase", "", func(s *State) string { return s.Phase })
	}
	add("pressure", "bara", func(s *State) string { return significant(s.PressurePa/1e5, 6) })
	add("temperature", "degC", func(s *State) string { return celsius(s.TemperatureK) })
	for _, p := range lang.Properties() {
		shown := func(s State) bool {
			_, known := s.Values[p.Key]
			return known || p.Key == "hydrocarbon_dew_K" && s.Undewed != ""
		}
		if p.Label == "" || !slices.ContainsFunc(states, shown) {
			continue
		}
		places := decimals(states, p)
		add(f.label(p), p.Unit, func(s *State) string { return s.cell(p, places) })
	}
	return rows
}

// hydrocarbon is the formula of one.
var hydrocarbon = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`^C[0-9]*H[0-9]*$`) })

// label is what a property is called, of this fluid.
func (f *Fluid) label(p lang.Property) string {
	switch p.Key {
	case "hydrocarbon_dew_K":
		return f.dewLabel()
	case "cricondenbar_Pa":
		if names, _ := f.Composed.Fractions(); len(names) == 1 {
			return "critical pressure"
		}
	}
	return p.Label
}

// dewLabel is what the dew point of a fluid besides its water is called.
func (f *Fluid) dewLabel() string {
	names, _ := f.Composed.Fractions()
	for _, name := range names {
		if c, _ := fluid.About(name); hydrocarbon().MatchString(c.Formula) {
			return "hydrocarbon dew point"
		}
	}
	return "dew point"
}

// missing says why states have no dew point or no viscosity, each reason once.
func (f *Fluid) missing(b *strings.Builder, states []State, width int) {
	var said []string
	for _, s := range states {
		for _, why := range [][2]string{{f.dewLabel(), s.Undewed}, {"viscosity", s.Unviscous}} {
			text := "No " + why[0] + ": " + why[1] + "."
			if why[1] == "" || slices.Contains(said, text) {
				continue
			}
			said = append(said, text)
			for _, l := range diag.Wrap(text, width, 2) {
				b.WriteString(l + "\n")
			}
		}
	}
}

// decimals gives how many decimals show the largest of the values of states with
// the digits that the property has.
func decimals(states []State, p lang.Property) int {
	most := 0.0
	for i := range states {
		most = math.Max(most, math.Abs(states[i].Values[p.Key]*p.PerSI))
	}
	if most == 0 {
		return 0
	}
	return max(0, p.Places-1-int(math.Floor(math.Log10(most))))
}

// cell is one value as text, "-" where there is none.
func (s *State) cell(p lang.Property, decimals int) string {
	x, ok := s.Values[p.Key]
	text := strconv.FormatFloat(x*p.PerSI, 'f', decimals, 64)
	if p.Kelvin {
		text = celsius(x)
	}
	off, inexact := s.Values[errorOf[p.Key]]
	switch {
	case !ok:
		return "-"
	case inexact:
		return text + " (" + percent(off) + ")"
	case p.Key == "water_dew_K" && s.Frost:
		return text + " (ice)"
	}
	return text
}

// errorOf names the expected error of a value, which stands beside it in text.
var errorOf = map[string]string{"viscosity_Pa_s": "viscosity_error", "conductivity_W_m_K": "conductivity_error"}

// components lists what the fluid is made of, with ln phi at each state.
func (f *Fluid) components(states []State) [][]string {
	names, x := f.Composed.Fractions()
	rows := [][]string{{"component", "formula", "mole %", "mass %"}}
	for i := range states {
		head := "ln phi"
		if len(states) > 1 {
			head += " " + strconv.Itoa(i+1)
		}
		rows[0] = append(rows[0], head)
	}
	for k, name := range names {
		c, _ := fluid.About(name)
		row := []string{name, c.Formula, significant(x[k]*100, 5), significant(x[k]*c.MolarMass/f.Composed.MolarMass()*100, 5)}
		for i := range states {
			text := "-"
			if phi := states[i].LnPhi; phi != nil {
				text = strconv.FormatFloat(phi[k], 'f', 5, 64)
			}
			row = append(row, text)
		}
		rows = append(rows, row)
	}
	return append(rows, []string{"molar mass", "g/mol", significant(f.Composed.MolarMass()*1e3, 6)})
}

func celsius(tK float64) string { return strconv.FormatFloat(tK-273.15, 'f', 2, 64) }

// significant writes x with n significant digits, trailing zeros left out.
func significant(x float64, n int) string {
	if a := math.Abs(x); a != 0 && (a < 1e-4 || a >= 1e7) {
		return strconv.FormatFloat(x, 'g', n, 64)
	}
	places := n - 1
	if x != 0 {
		places -= int(math.Floor(math.Log10(math.Abs(x))))
	}
	s := strconv.FormatFloat(x, 'f', max(0, places), 64)
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	if s == "-0" {
		return "0"
	}
	return s
}

// table writes rows in columns, flush left.
func table(b *strings.Builder, rows [][]string) {
	sizes := columns(rows)
	for _, row := range rows {
		line := ""
		for i, c := range row {
			line += c + strings.Repeat(" ", sizes[i]-diag.Columns(c)+gap)
		}
		b.WriteString(strings.TrimRight(line, " ") + "\n")
	}
}

func columns(rows [][]string) []int {
	var sizes []int
	for _, row := range rows {
		for i, c := range row {
			if i == len(sizes) {
				sizes = append(sizes, 0)
			}
			sizes[i] = max(sizes[i], diag.Columns(c))
		}
	}
	return sizes
}

func tableWidth(rows [][]string) int {
	width := -gap
	for _, s := range columns(rows) {
		width += s + gap
	}
	return width
}
