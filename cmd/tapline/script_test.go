package main

import (
	"errors"
	"flag"
	"fmt"
	"os"
	"path"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"

	"tapline/cmd/internal/sample"
	"tapline/compiler"
	"tapline/lang/diag"
)

var update = flag.Bool("update", false, "write the expected outputs of the scripts anew")

func TestMain(m *testing.M) {
	run := func(args []string) int {
		a := app{args: args, stdout: os.Stdout, stderr: os.Stderr, getenv: os.Getenv, engine: byHand}
		return a.run()
	}
	testscript.Main(m, map[string]func(){
		"tapline": func() { os.Exit(run(os.Args[1:])) },
		// tapline-real reads, compiles and solves for real.
		"tapline-real": func() {
			a := app{args: os.Args[1:], stdout: os.Stdout, stderr: os.Stderr, getenv: os.Getenv, engine: compile}
			os.Exit(a.run())
		},
		// tapline-status N ARGS fails unless "tapline ARGS" exits with status N.
		"tapline-status": func() {
			if got := fmt.Sprint(run(os.Args[2:])); got != os.Args[1] {
				fmt.Fprintf(os.Stderr, "exit status %s, want %s\n", got, os.Args[1])
				os.Exit(1)
			}
		},
	})
}

// The scripts of testdata/script run the command on outcomes made by hand, so
// that they tell of the command alone; those that call tapline-real run all of it.
func TestScripts(t *testing.T) {
	testscript.Run(t, testscript.Params{
		Dir:                 "../../testdata/script",
		UpdateScripts:       *update,
		RequireExplicitExec: true,
		RequireUniqueNames:  true,
	})
}

// byHand gives the sample of each folder's name, or what that name asks for.
func byHand(dirs []string, opt engineOptions) (*solution, error) {
	all := &compiler.Outcome{Sources: map[string][]byte{}}
	for _, dir := range dirs {
		var o *compiler.Outcome
		switch name := path.Base(dir); name {
		case "panics":
			panic("index out of range [7] with length 3")
		case "refuses":
			return nil, fmt.Errorf("no system has a case %q", opt.Cases)
		case "refuses-with-place":
			return nil, fmt.Errorf("wrapped: %w", diag.Diagnostic{Code: "unknown-case", Level: diag.Error, Message: "there is no such case"})
		case "quiet":
			o = sample.Series()
			o.Flags = []diag.Diagnostic{{Code: "not-judged", Level: diag.Note, System: "series", Message: "this version does not judge dew_margin"}}
		case "waived":
			o = sample.Series()
			o.Flags[0].Waived = true
		case "careful":
			o = sample.Series()
			o.Flags[0].Level = diag.Caution
		default:
			if sample.Outcomes[name] == nil {
				return nil, errors.New("no sample of that name")
			}
			o = sample.Outcomes[name]()
		}
		all.Systems = append(all.Systems, o.Systems...)
		all.Flags = append(all.Flags, o.Flags...)
		all.Assumptions = append(all.Assumptions, o.Assumptions...)
		for name, text := range o.Sources {
			all.Sources[name] = text
		}
	}
	return &solution{Outcome: all, Network: map[string]any{"sets": opt.Sets, "cases": opt.Cases}}, nil
}
