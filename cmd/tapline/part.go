package main

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"io"
	"math"
	"os"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"tapline/cmd/internal/report"
	"tapline/compiler"
	"tapline/compiler/spread"
)

// Parts. The spreads of a run may be solved in parts, each a run of whole chunks, on
// as many machines as there are. A part file holds what its cases came to and what
// they were made from; merge reads the same system again, solves the cases that are
// written out, and joins the parts into what one run would have printed. Parts of
// other files, options or versions are refused, and so are missing and doubled ones.

// partSchema is the number of the layout of a part file.
const partSchema = 1

// mostPartBytes bounds what merge reads of one file.
const mostPartBytes = 256 << 20

// A partFile is one part of a run, as written.
type partFile struct {
	Schema      int          `json:"schema"`
	ToolVersion string       `json:"tool_version"`
	Part        int          `json:"part"`
	Parts       int          `json:"parts"`
	Inputs      string       `json:"inputs_sha256"` // of all that decides what comes out
	Dirs        []string     `json:"dirs"`
	Cases       []string     `json:"cases"`
	Sets        []string     `json:"sets"`
	Table       string       `json:"cases_csv"`
	Systems     []partSystem `json:"systems"`

	name string // of the file, once read
}

// A partSystem is what a part has of one system.
type partSystem struct {
	Dir     string                   `json:"dir"`
	Inputs  string                   `json:"inputs_sha256"`
	Spreads map[string]*spread.Tally `json:"spreads"`
}

// A share is a part of a number of parts; none where Of is 0.
type share struct{ Part, Of int }

// partsMost is how many parts a run may have.
const partsMost = 1_000_000

// parsePart reads "3/16".
func parsePart(text string) (share, error) {
	a, b, ok := strings.Cut(text, "/")
	part, err1 := strconv.Atoi(a)
	of, err2 := strconv.Atoi(b)
	if !ok || err1 != nil || err2 != nil || part < 1 || part > of || of > partsMost {
		return share{}, usagef("--part takes the part and how many there are, such as 3/16, not %q", text)
	}
	return share{part, of}, nil
}

// partOf gives the part that a run is: as --part says, else as the environment does
// where a part file is asked for. CI_NODE_INDEX counts from 1, JOB_COMPLETION_INDEX
// from 0.
func partOf(flag string, wanted bool, getenv func(string) string) (share, error) {
	if flag != "" {
		return parsePart(flag)
	}
	if !wanted {
		return share{}, nil
	}
	var found []share
	for _, v := range []struct {
		index, total string
		first        int
	}{{"CI_NODE_INDEX", "CI_NODE_TOTAL", 1}, {"JOB_COMPLETION_INDEX", "JOB_COMPLETIONS", 0}} {
		index, total := getenv(v.index), getenv(v.total)
		if index == "" && (total == "" || total == "1") {
			continue // not one of several
		}
		i, err1 := strconv.Atoi(index)
		n, err2 := strconv.Atoi(total)
		if err1 != nil || err2 != nil || i < v.first || i-v.first >= n || n > partsMost {
			return share{}, usagef("%s=%q and %s=%q name no part, which counts from %d; or state --part", v.index, index, v.total, total, v.first)
		}
		found = append(found, share{i - v.first + 1, n})
	}
	switch {
	case len(found) == 0:
		return share{1, 1}, nil
	case len(found) == 2 && found[0] != found[1]:
		return share{}, usagef("CI_NODE_INDEX and JOB_COMPLETION_INDEX name different parts; state --part")
	}
	return found[0], nil
}

// inputs digests what decides what a run prints.
func inputs(opt engineOptions, dirs []string, systems []partSystem) string {
	h := sha256.New()
	add := func(texts ...string) {
		fmt.Fprintf(h, "%d\n", len(texts))
		for _, t := range texts {
			fmt.Fprintf(h, "%d %s\n", len(t), t)
		}
	}
	add(strconv.Itoa(partSchema), toolVersion(), opt.Table)
	add(dirs...)
	add(opt.Cases...)
	add(opt.Sets...)
	for _, s := range systems {
		add(s.Dir, s.Inputs)
	}
	return hex.EncodeToString(h.Sum(nil))
}

// newPart makes the part file of a run.
func newPart(opt engineOptions, dirs []string, systems []partSystem) *partFile {
	return &partFile{
		Schema: partSchema, ToolVersion: toolVersion(), Part: opt.Share.Part, Parts: opt.Share.Of,
		Inputs: inputs(opt, dirs, systems), Dirs: dirs, Cases: append([]string{}, opt.Cases...), Sets: append([]string{}, opt.Sets...), Table: opt.Table, Systems: systems,
	}
}

func (a *app) mergeCommand() *cobra.Command {
	j := a.newJob(report.Solve)
	c := &cobra.Command{
		Use:   "merge PART...",
		Short: "Join the parts of a run into its output",
		Long: `Merge joins part files, as solve --part writes them, into the output that solve
would have printed in one run. It reads the systems again from the folders that
the parts name, and refuses parts that are missing, doubled, or made from other
files, options or versions.`,
		Example: `  tapline solve . --part 3/16 --out part=part-3.json
  tapline merge part-*.json --out json=result.json`,
		RunE: func(c *cobra.Command, args []string) error {
			if len(args) == 0 {
				return usagef("%s needs the part files that solve --part wrote", c.CommandPath())
			}
			parts, err := readParts(args)
			if err != nil {
				return err
			}
			first := parts[0]
			j.opt.Cases, j.opt.Sets, j.opt.Table, j.opt.Joined = first.Cases, first.Sets, first.Table, join(parts)
			return j.finish(c, first.Dirs)
		},
	}
	j.flags(c)
	c.ValidArgsFunction = nil
	return c
}

// readParts reads part files that belong together, all of one run.
func readParts(names []string) ([]*partFile, error) {
	var parts []*partFile
	by := map[int]*partFile{}
	for _, name := range names {
		p, err := readPart(name)
		if err != nil {
			return nil, err
		}
		if p.ToolVersion != toolVersion() {
			return nil, usagef("%s was made by tapline %s, and this is %s; parts are merged by the version that made them", name, p.ToolVersion, toolVersion())
		}
		if len(parts) > 0 {
			switch first := parts[0]; {
			case p.Parts != first.Parts:
				return nil, usagef("%s is one of %d parts, and %s one of %d", name, p.Parts, first.name, first.Parts)
			case p.Inputs != first.Inputs:
				return nil, usagef("%s and %s are not parts of one run: they were made from other files or with other options", first.name, name)
			}
		}
		if twin := by[p.Part]; twin != nil {
			return nil, usagef("part %d of %d is there twice: %s and %s", p.Part, p.Parts, twin.name, name)
		}
		by[p.Part] = p
		parts = append(parts, p)
	}
	var missing []string
	for i := 1; i <= parts[0].Parts && len(missing) < 11; i++ {
		if by[i] == nil {
			missing = append(missing, strconv.Itoa(i))
		}
	}
	if len(missing) > 10 {
		missing[10] = "..."
	}
	switch {
	case len(missing) == 1:
		return nil, usagef("part %s of %d is missing", missing[0], parts[0].Parts)
	case len(missing) > 1:
		return nil, usagef("parts %s of %d are missing", strings.Join(missing, ", "), parts[0].Parts)
	}
	return parts, nil
}

func readPart(name string) (*partFile, error) {
	f, err := os.Open(name)
	if err != nil {
		return nil, usagef("cannot read the part file: %v", err)
	}
	defer f.Close()
	data, err := io.ReadAll(io.LimitReader(f, mostPartBytes+1))
	if err != nil || len(data) > mostPartBytes {
		return nil, usagef("cannot read %s as a part file: it is too large or no file", name)
	}
	p, err := decodePart(data)
	if err != nil {
		return nil, usagef("%s is no part file: %v", name, err)
	}
	p.name = name
	return p, nil
}

// decodePart reads a part file and sees to it that nothing is missing in it.
func decodePart(data []byte) (*partFile, error) {
	var p partFile
	if err := json.Unmarshal(data, &p); err != nil {
		return nil, err
	}
	switch {
	case p.Schema != partSchema:
		return nil, fmt.Errorf("it has schema %d, and this version reads %d", p.Schema, partSchema)
	case p.Part < 1 || p.Part > p.Parts || p.Parts > partsMost:
		return nil, fmt.Errorf("there is no part %d of %d", p.Part, p.Parts)
	case len(p.Dirs) == 0:
		return nil, fmt.Errorf("it names no folder")
	}
	for _, s := range p.Systems {
		for name, t := range s.Spreads {
			if t == nil || !t.Whole(math.MaxInt) {
				return nil, fmt.Errorf("what it has of the spread %q is not whole", name)
			}
		}
	}
	return &p, nil
}

// A joined holds the tallies of all parts, by folder and spread, and the digests of
// the systems they are of.
type joined struct {
	inputs  map[string]string
	tallies map[[2]string]*spread.Tally
}

func join(parts []*partFile) *joined {
	out := &joined{inputs: map[string]string{}, tallies: map[[2]string]*spread.Tally{}}
	all := map[[2]string][]*spread.Tally{}
	for _, p := range parts {
		for _, s := range p.Systems {
			out.inputs[s.Dir] = s.Inputs
			for name, t := range s.Spreads {
				all[[2]string{s.Dir, name}] = append(all[[2]string{s.Dir, name}], t)
			}
		}
	}
	for key, ts := range all {
		out.tallies[key] = spread.Join(ts)
	}
	return out
}

// of gives what the parts have of a spread.
func (j *joined) of(run *compiler.Run, name string, cases int) (*spread.Tally, error) {
	dir := run.Outcome.Dir
	t := j.tallies[[2]string{dir, name}]
	switch {
	case j.inputs[dir] != run.Outcome.InputsSHA256:
		return nil, usagef("the files of %s have changed since the parts were made", dir)
	case t == nil || t.Cases != cases || !t.Whole(cases):
		return nil, usagef("the parts do not hold all cases of the spread %q of %s", name, dir)
	}
	return t, nil
}
