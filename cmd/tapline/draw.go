package main

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"tapline/cmd/internal/atomicfile"
	"tapline/cmd/internal/draw"
	"tapline/cmd/internal/draw/place"
	"tapline/cmd/internal/folders"
	"tapline/cmd/internal/report"
	"tapline/compiler"
	"tapline/lang/diag"
)

func (a *app) drawCommand() *cobra.Command {
	j := a.newJob(report.Solve)
	format := choice{"svg", []string{"svg", "dot", "json"}, "format"}
	var which, file string
	c := &cobra.Command{
		Use:   "draw DIR",
		Short: "Draw a system in one solved case",
		Long: `Draw solves one case of a system and draws it from left to right, with
pressures, flows and flags at the places they belong to. The exit status is
that of solving: a diagram of a system with flags is drawn and ends with 1.`,
		Example: `  tapline draw . --case winter --out winter.svg
  tapline draw . --format json`,
		RunE: func(c *cobra.Command, args []string) error {
			if len(args) != 1 || strings.HasSuffix(args[0], "...") {
				return usagef("%s takes the folder of one system, such as \"%[1]s .\"", c.CommandPath())
			}
			if strings.HasSuffix(file, folders.Extension) {
				return usagef("--out would replace %q, which looks like a system file; choose another name", file)
			}
			return j.draw(args[0], which, format.value, file)
		},
	}
	f := c.Flags()
	f.SortFlags = false
	f.StringVar(&which, "case", "base", "draw the case of this `NAME`")
	f.Var(&format, "format", "svg to look at, dot for programs that lay out graphs, json for all positions")
	f.StringVar(&file, "out", "", "write to this `FILE` instead of the screen")
	return c
}

// draw solves one case and writes its diagram. What keeps the system from being
// drawn is printed as solve prints it.
func (j *job) draw(dir, which, format, file string) error {
	dirs, problems := folders.Expand([]string{dir})
	found := &solution{Outcome: &compiler.Outcome{Flags: problems}}
	if len(problems) == 0 {
		j.opt.Cases, j.opt.Network = []string{which}, true
		var err error
		if found, err = j.solve(dirs); err != nil {
			return err
		}
	}
	j.status = status(found.Outcome, diag.Caution.String())
	d := diagram(found, which)
	if d == nil {
		if j.status != statusUnusable && len(found.Outcome.Systems) == 0 {
			return usagef("%q holds no system to draw", dir)
		}
		return j.print([]byte(report.Solve(found.Outcome, j.screen())))
	}
	data, err := j.picture(d, format)
	if err != nil {
		j.status = statusFault
		fmt.Fprintf(j.stderr, "tapline: %s\n", sentence(err))
		return nil
	}
	if file == "" {
		return j.print(data)
	}
	if err := atomicfile.Write(file, data); err != nil {
		return usagef("cannot write the diagram: %v", err)
	}
	return nil
}

// picture draws in one format; only dot does without the helper.
func (j *job) picture(d *draw.Diagram, format string) ([]byte, error) {
	if format == "dot" {
		return d.DOT(), nil
	}
	program, err := place.Find(j.getenv)
	if err != nil {
		return nil, err
	}
	ask := func(r *place.Request) (*place.Answer, error) { return place.Run(context.Background(), program, r) }
	switch format {
	case "svg":
		return d.SVG(ask, report.Caution)
	case "json":
		return d.JSON(ask)
	}
	return nil, errors.New("there is no format " + format)
}

// diagram gives the diagram of a case, nil where there is none to draw.
func diagram(found *solution, which string) *draw.Diagram {
	printed, _ := found.Network.(map[string]any)
	networks, _ := printed["systems"].([]*compiler.NetworkDocument)
	if len(found.Outcome.Systems) != 1 || len(networks) != 1 || diag.HasErrors(found.Outcome.Flags) {
		return nil
	}
	s := &found.Outcome.Systems[0]
	i := slices.IndexFunc(s.Cases, func(c compiler.CaseOutcome) bool { return c.Name == which })
	if i < 0 {
		return nil
	}
	return draw.New(s, &s.Cases[i], networks[0], found.Outcome.Flags)
}
