package main

import (
	"cmp"
	"fmt"
	"runtime/debug"

	"github.com/spf13/cobra"
)

func (a *app) versionCommand() *cobra.Command {
	return &cobra.Command{
		Use:   "version",
		Short: "Print the version of tapline and of the Go it was built with",
		RunE: func(c *cobra.Command, args []string) error {
			if len(args) > 0 {
				return usagef("%s takes no arguments, not even %q", c.CommandPath(), args[0])
			}
			_, err := fmt.Fprintf(a.stdout, "tapline %s\nbuilt with %s\n", toolVersion(), goVersion())
			return err
		},
	}
}

// toolVersion gives the version that the build was stamped with.
func toolVersion() string {
	info, ok := debug.ReadBuildInfo()
	if !ok {
		return "(unknown)"
	}
	return cmp.Or(info.Main.Version, "(devel)")
}

func goVersion() string {
	info, ok := debug.ReadBuildInfo()
	if !ok {
		return "(unknown)"
	}
	return info.GoVersion
}
