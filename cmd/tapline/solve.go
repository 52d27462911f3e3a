package main

import (
	"strings"

	"github.com/spf13/cobra"

	"tapline/cmd/internal/report"
)

func (a *app) solveCommand() *cobra.Command {
	j := a.newJob(report.Solve)
	network := choice{"", []string{"json"}, "network"}
	c := &cobra.Command{
		Use:   "solve DIR...",
		Short: "Print all pressures and flows of every case",
		Long: `Solve does what check does and prints the state of every node and device as
well. A value of the files may be overridden for this run.`,
		Example: `  tapline solve . --case winter
  tapline solve . --set 'vent.FLARE.pressure=0.6 barg'
  tapline solve . --case winter --trace
  tapline solve . --network json`,
		RunE: func(c *cobra.Command, args []string) error {
			j.opt.Network = network.value != ""
			for _, s := range j.opt.Sets {
				name, _, ok := strings.Cut(s, "=")
				if !ok || strings.TrimSpace(name) == "" {
					return usagef("--set takes BLOCK.TAG.ATTRIBUTE=VALUE, such as 'vent.FLARE.pressure=0.6 barg', not %q", s)
				}
			}
			return j.run(c, args)
		},
	}
	j.flags(c)
	f := c.Flags()
	f.StringArrayVar(&j.opt.Cases, "case", nil, "solve the case of this `NAME` only (may be repeated)")
	f.StringArrayVar(&j.opt.Sets, "set", nil, "override a value: `BLOCK.TAG.ATTRIBUTE=VALUE` (may be repeated)")
	must(c.RegisterFlagCompletionFunc("case", completeCases))
	must(c.RegisterFlagCompletionFunc("set", completeSets))
	f.BoolVar(&j.trace, "trace", false, "say step by step how every case was solved")
	f.Var(&network, "network", "print the compiled network instead, as json")
	return c
}

// must is for errors that only a slip in this program can make.
func must(err error) {
	if err != nil {
		panic(err)
	}
}
