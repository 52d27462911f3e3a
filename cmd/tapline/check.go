package main

import (
	"github.com/spf13/cobra"

	"tapline/cmd/internal/report"
)

func (a *app) checkCommand() *cobra.Command {
	j := a.newJob(report.Check)
	c := &cobra.Command{
		Use:   "check DIR...",
		Short: "Solve every case and print what is flagged",
		Long: `Check reads the systems in the folders given, solves every operating case, and
prints a table of the cases against their bands and everything that is flagged,
with its place in the file. Spreads are solved too, up to 20,000 cases of each
system; solve takes more.

Exit status: 0 nothing flagged (notes do not count), 1 alarms or cautions,
2 files or arguments that cannot be used, 3 a case without a solution,
4 a fault of tapline itself.`,
		Example: `  tapline check .
  tapline check systems/... --fail-on alarm --out json=result.json`,
		RunE: j.run,
	}
	j.opt.MostInSpreads = 20_000
	j.flags(c)
	return c
}
