package main

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"tapline/cmd/internal/atomicfile"
	"tapline/cmd/internal/chart"
	"tapline/cmd/internal/folders"
	"tapline/cmd/internal/report"
	"tapline/compiler"
	"tapline/lang"
	"tapline/lang/diag"
	"tapline/lang/quantity"
)

// curveFormats are the ways to show a curve.
var curveFormats = []string{"text", "svg"}

func (a *app) curveCommand() *cobra.Command {
	j := a.newJob(report.Solve)
	format := choice{"text", curveFormats, "format"}
	var out []string
	c := &cobra.Command{
		Use:   "curve TAG [DIR]",
		Short: "Show what a device does over its flow",
		Long: `Curve solves the cases of a system and shows one device: the pressure it holds
(of a relief device, its inlet pressure; of what has no lift, its drop) over the
flow, at the pressures of the other side that the cases bring about, with every
case's own point and the band that is allowed there.`,
		Example: `  tapline curve PCV-11
  tapline curve PCV-11 systems/grid --out svg=pcv-11.svg`,
		RunE: func(c *cobra.Command, args []string) error {
			switch {
			case len(args) == 1:
				args = append(args, ".")
			case len(args) != 2 || strings.HasSuffix(args[1], "..."):
				return usagef("%s takes the tag of a device and the folder of one system, such as \"%[1]s PCV-11 .\"", c.CommandPath())
			}
			return j.curve(args[0], args[1], format.value, out)
		},
		ValidArgsFunction: completeCurve,
	}
	f := c.Flags()
	f.SortFlags = false
	f.Var(&format, "format", "text to read, svg to look at")
	f.StringArrayVar(&out, "out", nil, "write a file as well, such as svg=curve.svg: `FORMAT=FILE` (may be repeated)")
	must(c.RegisterFlagCompletionFunc("format", cobra.FixedCompletions(curveFormats, cobra.ShellCompDirectiveNoFileComp)))
	return c
}

// completeCurve offers the tags of what is throttled, then folders.
func completeCurve(_ *cobra.Command, args []string, _ string) ([]string, cobra.ShellCompDirective) {
	if len(args) > 0 {
		return nil, cobra.ShellCompDirectiveFilterDirs
	}
	var tags []string
	for _, d := range systemsOf(nil) {
		for _, b := range d.Blocks {
			if t := b.Type(); t != nil && t.Role == lang.Inline {
				tags = append(tags, b.Tag)
			}
		}
	}
	return sortedOnce(tags), cobra.ShellCompDirectiveNoFileComp
}

// curve shows the curve of a device. What keeps the system from being solved is
// printed as solve prints it.
func (j *job) curve(tag, dir, format string, out []string) error {
	for _, o := range out {
		f, file, ok := strings.Cut(o, "=")
		switch {
		case !ok || file == "" || !slices.Contains(curveFormats, f):
			return usagef("--out takes FORMAT=FILE, such as svg=curve.svg, not %q; the formats are %s", o, strings.Join(curveFormats, ", "))
		case strings.HasSuffix(file, folders.Extension):
			return usagef("--out would replace %q, which looks like a system file; choose another name", file)
		}
	}
	dirs, problems := folders.Expand([]string{dir})
	found := &solution{Outcome: &compiler.Outcome{Flags: problems}}
	if len(problems) == 0 {
		j.opt.Curve = tag
		var err error
		if found, err = j.solve(dirs); err != nil {
			return err
		}
	}
	if found.Curve == nil {
		j.status = status(found.Outcome, diag.Caution.String())
		if j.status != statusUnusable {
			return usagef("%q holds no system to show a curve of", dir)
		}
		return j.print([]byte(report.Solve(found.Outcome, j.screen())))
	}
	c := chartOf(found)
	width := cmp.Or(j.screen().Width, 80)
	c.Below = report.Reliefs(&found.Outcome.Systems[0], tag, width)
	for _, o := range out {
		f, file, _ := strings.Cut(o, "=")
		if err := atomicfile.Write(file, chartAs(c, f, 80)); err != nil { // text in a file is as wide as everywhere
			return usagef("cannot write the curve: %v", err)
		}
	}
	return j.print(chartAs(c, format, width))
}

func chartAs(c *chart.Chart, format string, width int) []byte {
	if format == "svg" {
		return c.SVG()
	}
	return []byte(c.Text(width))
}

// chartOf puts a curve into the units that its system is shown in.
func chartOf(found *solution) *chart.Chart {
	f, s := found.Curve, &found.Outcome.Systems[0]
	first := f.Lines[0]
	pressure := cmp.Or(s.ShownIn["pressure"], "barg")
	flow := cmp.Or(s.ShownIn["gas_flow"], "slpm")
	if first.Stream.DensityKgM3 > 0 {
		flow = cmp.Or(s.ShownIn["liquid_flow"], "L/h")
	}
	if _, err := quantity.Convert(1, flow, first.Site, first.Stream); err != nil {
		flow = "g/h"
	}
	bare := strings.TrimRight(pressure, "ga")
	held := map[string]string{"outlet": "outlet pressure, " + pressure, "inlet": "inlet pressure, " + pressure, "drop": "pressure drop, " + bare}[f.Held]
	inUnit := func(si float64, unit string, site quantity.Site, of quantity.Stream) float64 {
		v, err := quantity.Convert(si, unit, site, of)
		if err != nil {
			return math.NaN()
		}
		return v
	}
	y := func(pa float64, site quantity.Site) float64 {
		if f.Held == "drop" {
			return inUnit(pa, bare, site, quantity.Stream{})
		}
		return inUnit(pa, pressure, site, quantity.Stream{})
	}
	point := func(p compiler.CurvePoint, site quantity.Site, of quantity.Stream) chart.Point {
		return chart.Point{X: inUnit(p.FlowKgS, flow, site, of), Y: y(p.PressurePa, site), Lift: 100 * p.Lift}
	}
	c := &chart.Chart{
		Title:    f.Tag + " (" + f.Kind + ") of " + cmp.Or(s.Title, s.Name),
		Subtitle: "over the flow, at the pressures of its other side in the cases",
		XAxis:    "flow, " + flow, YAxis: held,
		Low: y(found.CurveLow, first.Site), High: y(found.CurveHigh, first.Site),
	}
	for _, l := range f.Lines {
		line := chart.Line{Name: f.Other + " " + shown(inUnit(l.OtherPa, pressure, l.Site, quantity.Stream{}), pressure)}
		for _, p := range l.Points {
			line.Points = append(line.Points, point(p, l.Site, l.Stream))
		}
		c.Lines = append(c.Lines, line)
	}
	for _, k := range f.Cases {
		c.Marks = append(c.Marks, chart.Mark{Name: k.Case, Point: point(k.CurvePoint, k.Site, k.Stream)})
	}
	if f.Lifts {
		onset, end := first.Points[0], first.Points[len(first.Points)-1]
		c.Levels = append(c.Levels, chart.Level{Y: y(onset.PressurePa, first.Site), Name: "onset, first line"})
		if f.LockUpPa > 0 {
			c.Levels = append(c.Levels, chart.Level{Y: y(onset.PressurePa+f.LockUpPa, first.Site), Name: "lock-up, first line"})
		}
		word := map[string]string{"reducer": "droop", "holder": "accumulation", "relief": "overpressure"}[f.Kind]
		c.Levels = append(c.Levels, chart.Level{Y: y(end.PressurePa, first.Site), Name: "end of " + word + ", first line"})
		c.Notes = append(c.Notes, fmt.Sprintf("%s from onset to the end of the first line: %s.", word,
			shown(inUnit(math.Abs(end.PressurePa-onset.PressurePa), bare, first.Site, quantity.Stream{}), bare)))
	}
	c.Lifts = f.Kind == "relief"
	if full := report.Capacity(s, f.Tag); full != "" {
		c.Notes = append(c.Notes, full)
	}
	c.Notes = append(c.Notes, report.Caution)
	return c
}

// shown leaves out what the losses of a line add to 0.
func shown(v float64, unit string) string {
	if math.Abs(v) < 1e-3 {
		v = 0
	}
	return fmt.Sprintf("%.4g %s", v, unit)
}
