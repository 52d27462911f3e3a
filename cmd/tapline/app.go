package main

import (
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"

	"github.com/spf13/cobra"
)

// Exit statuses.
const (
	statusClean    = 0
	statusFlagged  = 1 // alarms or cautions
	statusUnusable = 2 // files, arguments or references wrong
	statusUnsolved = 3 // a case has no solution
	statusFault    = 4 // the program's own fault
)

// An app is one run of the command.
type app struct {
	args           []string
	stdout, stderr io.Writer
	getenv         func(string) string
	engine         engine

	status int // set by a command that ran to its end
}

// A usageError is a sentence about the arguments, printed alone.
type usageError struct{ message string }

func (e *usageError) Error() string { return e.message }

func usagef(format string, args ...any) error { return &usageError{fmt.Sprintf(format, args...)} }

// run gives the exit status. Whatever goes wrong inside ends as a sentence.
func (a *app) run() (status int) {
	defer func() {
		if fault := recover(); fault != nil {
			a.fault(fault)
			status = statusFault
		}
	}()
	root := a.root()
	root.SetArgs(a.args)
	root.SetOut(a.stdout)
	root.SetErr(a.stderr)
	if err := root.Execute(); err != nil {
		fmt.Fprintf(a.stderr, "tapline: %s\n", sentence(err))
		return statusUnusable
	}
	return a.status
}

// fault tells of something that is wrong in the program.
func (a *app) fault(what any) {
	fmt.Fprintf(a.stderr, "tapline: a fault of tapline itself, not of your files: %v\n", what)
}

// sentence gives an error as one line.
func sentence(err error) string {
	return strings.Join(strings.Fields(strings.ReplaceAll(err.Error(), "\n", "; ")), " ")
}

func (a *app) root() *cobra.Command {
	root := &cobra.Command{
		Use:   "tapline",
		Short: "Check gas sample and distribution systems written as text",
		Long: `Tapline reads a system of sources, regulators, valves, tubes and instruments
written as text, solves its pressures and flows in every operating case, and
flags what leaves its band.

A system is a folder of files ending in .tap.hcl; DIR/... means every system
below DIR.`,
		SilenceErrors: true,
		SilenceUsage:  true,

		DisableFlagsInUseLine: true,

		Args: cobra.ArbitraryArgs, // RunE says better what is wrong
		RunE: func(c *cobra.Command, args []string) error {
			if len(args) > 0 {
				return unknownCommand(c, args[0])
			}
			return c.Help()
		},
	}
	root.SetFlagErrorFunc(flagError)
	root.AddCommand(a.checkCommand(), a.curveCommand(), a.drawCommand(), a.fluidCommand(), a.mergeCommand(), a.solveCommand(), a.explainCommand(), a.versionCommand())
	root.SetHelpCommand(&cobra.Command{
		Use:   "help [COMMAND]",
		Short: "Explain a command",
		RunE: func(c *cobra.Command, args []string) error {
			found, rest, err := c.Root().Find(args)
			if err != nil || len(rest) > 0 {
				return unknownCommand(c.Root(), strings.Join(args, " "))
			}
			found.InitDefaultHelpFlag()
			return found.Help()
		},
	})
	return root
}

func unknownCommand(root *cobra.Command, name string) error {
	var names []string
	for _, c := range root.Commands() {
		if c.IsAvailableCommand() || c.Name() == "help" {
			names = append(names, c.Name())
		}
	}
	if near := nearest(name, names); near != "" {
		return usagef("there is no command %q; did you mean %q?", name, near)
	}
	slices.Sort(names)
	return usagef("there is no command %q; the commands are %s", name, strings.Join(names, ", "))
}

// flagError puts what the flag parser says into our words.
func flagError(c *cobra.Command, err error) error {
	var unknown interface{ GetSpecifiedName() string }
	var short interface{ GetSpecifiedShortnames() string }
	var usage *usageError
	switch {
	case errors.As(err, &usage): // by a flag's own Set
		return usage
	case errors.As(err, &unknown) && isNotExist(err):
		name := unknown.GetSpecifiedName()
		if errors.As(err, &short) && short.GetSpecifiedShortnames() != "" {
			name = "-" + name
		} else {
			name = "--" + name
		}
		names := flagNames(c)
		if near := nearest(strings.TrimLeft(name, "-"), names); near != "" {
			return usagef("%s has no flag %q; did you mean \"--%s\"?", c.CommandPath(), name, near)
		}
		return usagef("%s has no flag %q; its flags are --%s", c.CommandPath(), name, strings.Join(names, ", --"))
	}
	return usagef("%s: %v", c.CommandPath(), err)
}
