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
	format := choice{"svg", drawFormats, "format"}
	var which string
	var out []string
	c := &cobra.Command{
		Use:   "draw DIR",
		Short: "Draw a system in one solved case",
		Long: `Draw solves one case of a system and draws it from left to right, with
pressures, flows and flags at the places they belong to. The exit status is
that of solving: a diagram of a system with flags is drawn and ends with 1.`,
		Example: `  tapline draw . --case winter --out svg=winter.svg
  tapline draw . --format json`,
		RunE: func(c *cobra.Command, args []string) error {
			if len(args) != 1 || strings.HasSuffix(args[0], "...") {
				return usagef("%s takes the folder of one system, such as \"%[1]s .\"", c.CommandPath())
			}
			files, err := drawings(out, format.value)
			if err != nil {
				return err
			}
			return j.draw(args[0], which, format.value, files)
		},
	}
	f := c.Flags()
	f.SortFlags = false
	f.StringVar(&which, "case", "base", "draw the case of this `NAME`")
	f.Var(&format, "format", "svg to look at, dot for programs that lay out graphs, json for all positions")
	f.StringArrayVar(&out, "out", nil, "write to a file instead of the screen, such as svg=winter.svg, or winter.svg alone in the format of --format: `[FORMAT=]FILE` (may be repeated)")
	return c
}

var drawFormats = []string{"svg", "dot", "json"}

// drawings reads the values of --out. As everywhere they may say their format; without
// one they are in that of --format.
func drawings(out []string, format string) (files []outFile, err error) {
	for _, o := range out {
		d := outFile{format, o}
		if f, file, ok := strings.Cut(o, "="); ok && !strings.ContainsAny(f, "./\\") {
			if !slices.Contains(drawFormats, f) {
				return nil, usagef("--out knows no format %q; the formats are %s", f, strings.Join(drawFormats, ", "))
			}
			d = outFile{f, file}
		}
		switch {
		case d.file == "":
			return nil, usagef("--out takes FORMAT=FILE, such as svg=winter.svg, or a file alone, not %q", o)
		case strings.HasSuffix(d.file, folders.Extension):
			return nil, usagef("--out would replace %q, which looks like a system file; choose another name", d.file)
		}
		files = append(files, d)
	}
	return files, nil
}

// draw solves one case and writes its diagram. What keeps the system from being
// drawn is printed as solve prints it.
func (j *job) draw(dir, which, format string, files []outFile) error {
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
	if len(files) == 0 {
		files = []outFile{{format, ""}}
	}
	for _, f := range files {
		data, err := j.picture(d, f.format)
		if err != nil {
			j.status = statusFault
			fmt.Fprintf(j.stderr, "tapline: %s\n", sentence(err))
			return nil
		}
		if f.file == "" {
			return j.print(data)
		}
		if err := atomicfile.Write(f.file, data); err != nil {
			return usagef("cannot write the diagram: %v", err)
		}
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
