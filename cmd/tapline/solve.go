package main

import (
	"errors"
	"strings"

	"github.com/spf13/cobra"

	"tapline/cmd/internal/report"
)

func (a *app) solveCommand() *cobra.Command {
	j := a.newJob(report.Solve)
	part := ""
	network := choice{"", []string{"json"}, "network"}
	c := &cobra.Command{
		Use:   "solve DIR...",
		Short: "Print all pressures and flows of every case",
		Long: `Solve does what check does and prints the state of every node and device as
well. A value of the files may be overridden for this run. A spread, or one of
its cases, is named like any other case.`,
		Example: `  tapline solve . --case winter
  tapline solve . --set 'vent.FLARE.pressure=0.6 barg'
  tapline solve . --case winter --trace
  tapline solve . --case 'supply and flare: GRID=16 barg FLARE=0.45 barg'
  tapline solve . --network json`,
		RunE: func(c *cobra.Command, args []string) error {
			j.opt.Network = network.value != ""
			for _, s := range j.opt.Sets {
				name, _, ok := strings.Cut(s, "=")
				if !ok || strings.TrimSpace(name) == "" {
					return usagef("--set takes BLOCK.TAG.ATTRIBUTE=VALUE, such as 'vent.FLARE.pressure=0.6 barg', not %q", s)
				}
			}
			return j.many(c, args, part)
		},
	}
	j.flags(c)
	f := c.Flags()
	f.StringArrayVar(&j.opt.Cases, "case", nil, "solve the case of this `NAME` only (may be repeated)")
	f.StringArrayVar(&j.opt.Sets, "set", nil, "override a value: `BLOCK.TAG.ATTRIBUTE=VALUE` (may be repeated)")
	must(c.RegisterFlagCompletionFunc("case", completeCases))
	must(c.RegisterFlagCompletionFunc("set", completeSets))
	f.StringVar(&j.opt.Table, "cases-csv", "", "solve the cases of this `FILE` in place of those written out")
	f.StringVar(&part, "part", "", "solve part `N/M` of the spreads only and write a part file; see merge")
	f.BoolVar(&j.opt.Trace, "trace", false, "say step by step how every case was solved")
	f.Var(&network, "network", "print the compiled network instead, as json")
	return c
}

// many sees to what only spreads have: parts and rows.
func (j *job) many(c *cobra.Command, args []string, part string) (err error) {
	if j.partFile, err = j.out.take(partFormat); err != nil {
		return err
	}
	if j.opt.Share, err = partOf(part, j.partFile != "", j.getenv); err != nil {
		return err
	}
	rows, err := j.out.take(rowFormat)
	switch {
	case err != nil:
		return err
	case j.opt.Share.Of > 0 && (len(j.out) > 0 || c.Flags().Changed("format") || rows != "" || j.opt.Network):
		return usagef("a part is written as a part file alone; tapline merge writes the other formats")
	case j.opt.Table != "" && len(j.opt.Cases) > 0:
		return usagef("--cases-csv and --case exclude each other")
	case rows == "":
		return j.run(c, args)
	}
	if j.opt.Rows, err = openRows(rows); err != nil {
		return err
	}
	well := false
	defer func() { err = errors.Join(err, j.opt.Rows.close(well)) }()
	if err = j.run(c, args); err == nil {
		if !j.opt.Rows.used && j.status != statusUnusable {
			return usagef("--out csv=FILE takes the cases of a spread, and there is none")
		}
		well = j.status != statusUnusable
	}
	return err
}

// must is for errors that only a slip in this program can make.
func must(err error) {
	if err != nil {
		panic(err)
	}
}
