package main

import (
	"fmt"
	"runtime"
	"slices"
	"sync"

	"github.com/spf13/cobra"

	"tapline/cmd/internal/properties"
	"tapline/lang"
	"tapline/lang/diag"
	"tapline/lang/quantity"
	"tapline/solver/fluid"
)

// A fluidJob is one run of "tapline fluid".
type fluidJob struct {
	*app
	at        []string
	dir       string
	which     string // the case
	format    choice
	table     bool
	equation  choice
	phase     choice
	by        choice
	dirStated bool
	byStated  bool
}

// maxColumns is how many states are printed as text.
const maxColumns = 40

func (a *app) fluidCommand() *cobra.Command {
	j := &fluidJob{app: a,
		format:   choice{"text", []string{"text", "json"}, "format"},
		equation: choice{"", lang.Lookup("fluid").Attribute("equation").Choices, "equation"},
		phase:    choice{"", lang.Lookup("fluid").Attribute("phase").Choices, "phase"},
		by:       choice{"mole", []string{"mole", "mass", "volume"}, "by"},
	}
	c := &cobra.Command{
		Use:   "fluid NAME|COMPOSITION --at STATE",
		Short: "Print what the properties of a fluid are taken to be",
		Long: `Fluid prints the properties that Tapline works with, for a fluid of the system
in --dir or for a composition given in place: 'methane=0.9, ethane=0.1', in
fractions or per cent, with %, ppm, or one part as the rest; or one component.

A state is a pressure and a temperature, "52 barg, 12 degC". With a semicolon
between them both may be series, and every combination is worked out:
"10 .. 60 barg, 6 values; -10 .. 30 degC by 10 K".

Exit status: 0, or 2 where the fluid has no such state (it is liquid, two-phase
or outside of the equation); with --table only where it has none of them.`,
		Example: `  tapline fluid biomethane --at "52 barg, 12 degC"
  tapline fluid 'methane=0.9, ethane=0.1' --at "52 bara, 12 degC" --format json
  tapline fluid ammonia --at "1 .. 5 bara, 5 values; 20 .. 60 degC, 3 values" --table`,
		ValidArgsFunction: j.complete,
		RunE:              j.run,
	}
	f := c.Flags()
	f.SortFlags = false
	f.StringArrayVar(&j.at, "at", nil, "the `STATE`, \"52 barg, 12 degC\" (may be repeated)")
	f.StringVar(&j.dir, "dir", ".", "the `FOLDER` of the system that holds the fluid")
	f.StringVar(&j.which, "case", "base", "the fluid as it is in the case of this `NAME`")
	f.Var(&j.format, "format", "what to print: text for people, json for programs")
	f.BoolVar(&j.table, "table", false, "print a line of CSV for each state, in SI units")
	f.Var(&j.equation, "equation", "the equation of state, in place of the fluid's own")
	f.Var(&j.phase, "phase", "the phase, in place of the fluid's own")
	f.Var(&j.by, "by", "what the parts of a composition are parts of")
	for _, one := range []*choice{&j.format, &j.equation, &j.phase, &j.by} {
		must(c.RegisterFlagCompletionFunc(one.flag, cobra.FixedCompletions(one.of, cobra.ShellCompDirectiveNoFileComp)))
	}
	must(c.RegisterFlagCompletionFunc("case", func(_ *cobra.Command, _ []string, _ string) ([]string, cobra.ShellCompDirective) {
		return completeCases(nil, []string{j.dir}, "")
	}))
	must(c.RegisterFlagCompletionFunc("dir", func(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
		return nil, cobra.ShellCompDirectiveFilterDirs
	}))
	must(c.RegisterFlagCompletionFunc("at", cobra.FixedCompletions(nil, cobra.ShellCompDirectiveNoFileComp)))
	return c
}

// complete offers the fluids of the system, and all components.
func (j *fluidJob) complete(_ *cobra.Command, args []string, _ string) ([]string, cobra.ShellCompDirective) {
	if len(args) > 0 {
		return nil, cobra.ShellCompDirectiveNoFileComp
	}
	names := fluid.Components()
	for _, d := range systemsOf([]string{j.dir}) {
		names = append(names, fluidsOf(d)...)
	}
	return sortedOnce(names), cobra.ShellCompDirectiveNoFileComp
}

func fluidsOf(d *lang.Description) (names []string) {
	for _, b := range d.Blocks {
		if b.Kind == "fluid" {
			names = append(names, b.Tag)
		}
	}
	return names
}

func (j *fluidJob) run(c *cobra.Command, args []string) error {
	j.dirStated, j.byStated = c.Flags().Changed("dir"), c.Flags().Changed("by")
	switch {
	case len(args) == 0:
		return usagef(`%s needs a fluid of the system in --dir, or a composition such as 'methane=0.9, ethane=0.1'`, c.CommandPath())
	case len(args) > 1:
		return usagef("%s takes one fluid, not %d; put a composition in quotes", c.CommandPath(), len(args))
	case len(j.at) == 0:
		return usagef("%s needs the state: --at %s", c.CommandPath(), `"52 barg, 12 degC"`)
	case j.table && j.format.value == "json":
		return usagef("--table prints CSV; leave it out, or --format json")
	}
	found, printed, err := j.fluid(args[0])
	if err != nil || printed {
		return err
	}
	var points []properties.Point
	gauge := false
	for _, text := range j.at {
		some, g, err := properties.Points(text, quantity.Site{AtmospherePa: found.AtmospherePa})
		if err != nil {
			return usagef("--at: %v", err)
		}
		if points = append(points, some...); len(points) > properties.MaxStates {
			return usagef("these are more than %d states; ask for fewer", properties.MaxStates)
		}
		gauge = gauge || g
	}
	if !gauge {
		found.Atmosphere = ""
	}
	if n := len(points); n > maxColumns && !j.table && j.format.value == "text" {
		return usagef("%d states are too many to print as text; write --table for CSV, or --format json", n)
	}
	return j.print(found, worked(found, points))
}

// worked works out all states, several at a time; the order is that asked for.
func worked(f *properties.Fluid, points []properties.Point) []properties.State {
	states := make([]properties.State, len(points))
	var group sync.WaitGroup
	var mu sync.Mutex
	var fault any
	next := make(chan int)
	for range min(runtime.GOMAXPROCS(0), len(points)) {
		group.Go(func() {
			defer func() {
				if r := recover(); r != nil { // raised again by the caller, who can say so
					mu.Lock()
					fault = r
					mu.Unlock()
					for range next {
					}
				}
			}()
			for i := range next {
				states[i] = f.At(points[i])
			}
		})
	}
	for i := range points {
		next <- i
	}
	close(next)
	group.Wait()
	if fault != nil {
		panic(fault)
	}
	return states
}

// print writes the states, and what is refused where it is not written with them.
func (j *fluidJob) print(f *properties.Fluid, states []properties.State) error {
	good := slices.DeleteFunc(slices.Clone(states), func(s properties.State) bool { return s.Refused != "" })
	if len(good) == 0 || len(good) < len(states) && !j.table {
		j.status = statusUnusable
	}
	var out []byte
	var err error
	switch {
	case j.table:
		out, err = f.CSV(states)
	case j.format.value == "json":
		out, err = f.JSON(states, toolVersion())
	default:
		screen := (&job{app: j.app}).screen()
		if len(good) > 0 {
			out = []byte(f.Text(good, screen.Width))
		}
	}
	if err != nil {
		return err
	}
	if err := (&job{app: j.app}).print(out); err != nil {
		return err
	}
	if j.table || j.format.value == "json" {
		return nil
	}
	for _, s := range states {
		if s.Refused != "" {
			fmt.Fprintf(j.stderr, "tapline: %s\n", diag.Escape(s.Refused))
		}
	}
	return nil
}
