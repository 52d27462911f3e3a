package main

import (
	"encoding/json"
	"errors"
	"slices"
	"time"

	"github.com/spf13/cobra"

	"tapline/cmd/internal/atomicfile"
	"tapline/cmd/internal/folders"
	"tapline/cmd/internal/jsonout"
	"tapline/cmd/internal/report"
	"tapline/cmd/internal/terminal"
	"tapline/compiler"
	"tapline/lang/diag"
)

// A job is what check and solve have in common: folders in, an outcome out,
// written in one format to the screen and in any number to files.
type job struct {
	*app
	text   func(*compiler.Outcome, report.Options) string
	format choice
	failOn choice
	out    outFiles
	opt    engineOptions

	partFile string // "" for the output
}

func (a *app) newJob(text func(*compiler.Outcome, report.Options) string) *job {
	return &job{app: a, text: text,
		format: choice{"text", formatNames(), "format"},
		failOn: choice{diag.Caution.String(), []string{diag.Alarm.String(), diag.Caution.String(), diag.Note.String()}, "fail-on"},
	}
}

// flags adds the flags of every job to a command.
func (j *job) flags(c *cobra.Command) {
	f := c.Flags()
	f.SortFlags = false
	f.Var(&j.format, "format", "what to print: text for people, json for programs")
	f.Var(&j.out, "out", "write a file as well, such as json=result.json (may be repeated)")
	f.Var(&j.failOn, "fail-on", "the least level of a flag that makes the exit status 1")
	complete := func(c *choice) cobra.CompletionFunc {
		return cobra.FixedCompletions(c.of, cobra.ShellCompDirectiveNoFileComp)
	}
	// The only error is that of a flag that does not exist.
	if err := errors.Join(c.RegisterFlagCompletionFunc("format", complete(&j.format)), c.RegisterFlagCompletionFunc("fail-on", complete(&j.failOn))); err != nil {
		panic(err)
	}
	c.ValidArgsFunction = func(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
		return nil, cobra.ShellCompDirectiveFilterDirs
	}
}

// run does the job for the folders named on the command line.
func (j *job) run(c *cobra.Command, args []string) error {
	if len(args) == 0 {
		return usagef("%s needs the folder of a system; write \"%s .\" for this folder, \"%s ./...\" for all below it", c.CommandPath(), c.CommandPath(), c.CommandPath())
	}
	return j.finish(c, args)
}

// finish does the job for folders.
func (j *job) finish(c *cobra.Command, args []string) error {
	if i := slices.IndexFunc(j.out, func(o outFile) bool { return o.format == partFormat || o.format == rowFormat }); i >= 0 {
		return usagef("%s has no --out %s; tapline solve does", c.CommandPath(), j.out[i].format)
	}
	found := &solution{Outcome: &compiler.Outcome{}}
	dirs, problems := folders.Expand(args)
	if len(dirs) > 0 {
		var err error
		if found, err = j.solve(dirs); err != nil {
			return err
		}
	}
	o := found.Outcome
	o.Flags = append(o.Flags, problems...)
	diag.Sort(o.Flags)
	j.status = status(o, j.failOn.value)
	for _, fault := range found.Faults {
		j.fault(fault)
		j.status = statusFault
	}
	if j.opt.Network && j.status != statusUnusable {
		data, err := jsonout.Indent(found.Network)
		if err != nil {
			return err
		}
		return j.print(data)
	}
	if j.opt.Share.Of > 0 && j.status != statusUnusable && j.status != statusFault {
		return j.writePart(dirs, found.Parts)
	}
	r := rendering{text: j.text, options: j.screen()}
	data, err := encode(j.format.value, o, r)
	if err != nil {
		return err
	}
	if err := j.print(data); err != nil {
		return err
	}
	return j.out.write(o, r)
}

// solve runs the engine under a progress line.
func (j *job) solve(dirs []string) (*solution, error) {
	go prefault()
	progress := terminal.NewProgress(j.stderr, terminal.Of(j.stderr, j.getenv), j.getenv("TERM") == "dumb", time.Now)
	defer progress.Done()
	j.opt.Progress = progress.Step
	found, err := j.engine(dirs, j.opt)
	var finding diag.Diagnostic
	if errors.As(err, &finding) {
		return &solution{Outcome: &compiler.Outcome{Flags: []diag.Diagnostic{finding}}}, nil
	}
	return found, err
}

// writePart writes the part that was solved, whose flags are those of the whole and
// make no status.
func (j *job) writePart(dirs []string, systems []partSystem) error {
	j.status = statusClean
	data, err := json.Marshal(newPart(j.opt, dirs, systems))
	if err != nil {
		return err
	}
	data = append(data, '\n')
	if j.partFile == "" {
		return j.print(data)
	}
	if err := atomicfile.Write(j.partFile, data); err != nil {
		return usagef("cannot write the part file: %v", err)
	}
	return nil
}

// screen gives how text is to be laid out where it goes: as wide as a terminal
// up to 160 columns, or as COLUMNS says, or 80.
func (j *job) screen() report.Options {
	s := terminal.Of(j.stdout, j.getenv)
	return report.Options{Width: min(s.Columns, diag.MaxColumns), Terminal: s.Terminal, Colour: s.Colour, Trace: j.opt.Trace}
}

func (j *job) print(data []byte) error {
	if _, err := j.stdout.Write(data); err != nil {
		return usagef("cannot write the output: %v", err)
	}
	return nil
}

// status gives the exit status of an outcome: unusable files come before
// unsolved cases, and these before flags of at least the level failOn. What a
// file accepts does not count.
func status(o *compiler.Outcome, failOn string) int {
	if diag.HasErrors(o.Flags) {
		return statusUnusable
	}
	for _, s := range o.Systems {
		for _, c := range s.Cases {
			if c.Status == "unsolved" {
				return statusUnsolved
			}
		}
		for _, spread := range s.Spreads {
			if spread.Unsolved > 0 {
				return statusUnsolved
			}
		}
	}
	for _, d := range o.Flags {
		for l := diag.Note; l <= d.Level; l++ {
			if l.String() == failOn && !d.Waived {
				return statusFlagged
			}
		}
	}
	return statusClean
}
