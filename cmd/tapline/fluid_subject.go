package main

import (
	"errors"
	"fmt"
	"maps"
	"slices"
	"strconv"
	"strings"

	"tapline/cmd/internal/folders"
	"tapline/cmd/internal/properties"
	"tapline/cmd/internal/report"
	"tapline/compiler"
	"tapline/lang"
	"tapline/lang/diag"
	"tapline/lang/quantity"
	"tapline/solver/fluid"
)

// What "tapline fluid" is asked about: a fluid of a system, or a composition of
// the command line.

// fluid finds or makes the fluid that is asked about. Where the files of its
// system have errors they are printed.
func (j *fluidJob) fluid(text string) (f *properties.Fluid, printed bool, err error) {
	d, problems, err := j.system()
	if err != nil {
		return nil, false, err
	}
	broken := diag.HasErrors(problems)
	if d != nil && !broken && slices.Contains(fluidsOf(d), text) {
		return j.named(d, text)
	}
	if _, known := fluid.Name(text); known || properties.IsComposition(text) {
		return j.inPlace(d, problems, text)
	}
	if broken {
		return nil, true, j.complain(d, problems)
	}
	return nil, false, j.unknown(d, text)
}

// system reads the system in --dir. Without a system there the description is nil,
// unless the user named the folder: then that is an error.
func (j *fluidJob) system() (*lang.Description, []diag.Diagnostic, error) {
	dirs, problems := folders.Expand([]string{j.dir})
	if len(problems) > 0 || len(dirs) != 1 {
		if !j.dirStated && len(problems) > 0 {
			return nil, nil, nil
		}
		if len(problems) > 0 {
			return nil, nil, usagef("--dir: %s", problems[0].Message)
		}
		return nil, nil, usagef("--dir takes the folder of one system, not %q", j.dir)
	}
	d, found := lang.Read(dirs[0])
	return d, found, nil
}

// unknown says that there is no fluid of that name.
func (j *fluidJob) unknown(d *lang.Description, name string) error {
	if same := fluid.Isomers(name); same != nil {
		return usagef("%s is the formula of several components; write %s", name, strings.Join(same, " or "))
	}
	var fluids []string
	where := "there is no system here that could hold the fluid " + strconv.Quote(name)
	if d != nil {
		fluids = fluidsOf(d)
		where = fmt.Sprintf("the system in %q has no fluid %q, and no component is called so", j.dir, name)
	}
	if near := nearest(name, append(slices.Clone(fluids), fluid.Components()...)); near != "" {
		return usagef("%s; did you mean %q?", where, near)
	}
	if len(fluids) > 0 {
		return usagef("%s; its fluids are %s", where, strings.Join(fluids, ", "))
	}
	return usagef("%s, and no component is called so; name its folder with --dir", where)
}

// stated are the choices of a fluid that the flags state.
func (j *fluidJob) stated() map[string]string {
	out := map[string]string{}
	for _, c := range []*choice{&j.equation, &j.phase} {
		if c.value != "" {
			out[c.flag] = c.value
		}
	}
	return out
}

// named makes a fluid of the system.
func (j *fluidJob) named(d *lang.Description, name string) (*properties.Fluid, bool, error) {
	if j.byStated {
		return nil, false, usagef("--by is for a composition given in place; the fluid %q says itself what its parts are", name)
	}
	if err := j.knownCase(d); err != nil {
		return nil, false, err
	}
	made, site, found := compiler.FluidIn(d, j.which, name, j.stated())
	if made == nil {
		return nil, true, j.complain(d, found)
	}
	f := &properties.Fluid{Name: name, Composed: made, AtmospherePa: site.AtmospherePa, Atmosphere: "the atmosphere of the site"}
	if j.which != "base" {
		f.Case = j.which
	}
	return f, false, nil
}

func (j *fluidJob) knownCase(d *lang.Description) error {
	names := []string{"base"}
	for _, c := range d.Cases {
		names = append(names, c.Name)
	}
	if slices.Contains(names, j.which) {
		return nil
	}
	if near := nearest(j.which, names); near != "" {
		return usagef("there is no case %q; did you mean %q?", j.which, near)
	}
	return usagef("there is no case %q; there are %s", j.which, strings.Join(names, ", "))
}

// inPlace makes a fluid of a composition of the command line. It is read as a
// fluid block is, with the same messages.
func (j *fluidJob) inPlace(d *lang.Description, problems []diag.Diagnostic, text string) (*properties.Fluid, bool, error) {
	parts := fmt.Sprintf("{ %q = 100 }", text)
	if _, component := fluid.Name(text); !component {
		var err error
		if parts, err = properties.Map(text); err != nil {
			return nil, false, usagef("%v", err)
		}
	}
	var b strings.Builder
	fmt.Fprintf(&b, "system \"s\" {}\nfluid \"f\" {\n%s_percent = %s\n", j.by.value, parts)
	stated := j.stated()
	for _, name := range slices.Sorted(maps.Keys(stated)) {
		fmt.Fprintf(&b, "%s = %q\n", name, stated[name])
	}
	b.WriteString("}\n")
	own, found := lang.ReadFiles("", map[string][]byte{"composition": []byte(b.String())})
	var made fluid.Composed
	if !diag.HasErrors(found) {
		var more []diag.Diagnostic
		made, _, more = compiler.FluidIn(own, "base", "f", nil)
		found = append(found, more...)
	}
	if made == nil {
		return nil, false, inWords(found)
	}
	f := &properties.Fluid{Name: text, Composed: made, AtmospherePa: quantity.StandardAtmospherePa(0),
		Atmosphere: "the standard atmosphere at sea level, as no system says another"}
	for _, n := range found {
		f.Notes = append(f.Notes, n.Message)
	}
	if d == nil {
		return f, false, nil
	}
	if diag.HasErrors(problems) {
		f.Atmosphere = fmt.Sprintf("the standard atmosphere at sea level, as the system in %q cannot be read", j.dir)
		return f, false, nil
	}
	if err := j.knownCase(d); err != nil {
		return nil, false, err
	}
	_, site, more := compiler.FluidIn(d, j.which, "", nil)
	if diag.HasErrors(more) {
		return nil, true, j.complain(d, more)
	}
	f.AtmospherePa, f.Atmosphere = site.AtmospherePa, fmt.Sprintf("the atmosphere of the system in %q", j.dir)
	return f, false, nil
}

// inWords gives the first error about a composition of the command line; its
// places mean nothing to the user.
func inWords(found []diag.Diagnostic) error {
	for _, d := range found {
		if d.Level != diag.Error {
			continue
		}
		if d.Hint != "" {
			return usagef("%s; %s", d.Message, d.Hint)
		}
		return usagef("%s", d.Message)
	}
	return errors.New("the composition cannot be used")
}

// complain prints what is wrong in the files as check does.
func (j *fluidJob) complain(d *lang.Description, found []diag.Diagnostic) error {
	j.status = statusUnusable
	o := &compiler.Outcome{Flags: found, Sources: map[string][]byte{}, Systems: []compiler.SystemOutcome{*compiler.Head(d)}}
	for _, f := range d.Files {
		o.Sources[f.Name] = f.Bytes
	}
	diag.Sort(o.Flags)
	run := &job{app: j.app}
	return run.print([]byte(report.Check(o, run.screen())))
}
