package main

import (
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"tapline/cmd/internal/folders"
	"tapline/lang"
)

// Shell completion from the files themselves: the folders named so far are
// read, without solving anything, and offer their cases and what can be set.

// systemsOf reads the folders of a command line; what cannot be read offers
// nothing. Without a folder it is the working folder.
func systemsOf(args []string) []*lang.Description {
	if len(args) == 0 {
		args = []string{"."}
	}
	dirs, _ := folders.Expand(args)
	var out []*lang.Description
	for _, dir := range dirs {
		d, _ := lang.Read(dir)
		out = append(out, d)
	}
	return out
}

// completeCases offers the names of cases and spreads.
func completeCases(_ *cobra.Command, args []string, _ string) ([]string, cobra.ShellCompDirective) {
	names := []string{"base"}
	for _, d := range systemsOf(args) {
		for _, c := range d.Cases {
			names = append(names, c.Name)
		}
		for _, s := range d.Spreads {
			names = append(names, s.Name)
		}
	}
	return sortedOnce(names), cobra.ShellCompDirectiveNoFileComp
}

// completeSets offers BLOCK.TAG.ATTRIBUTE= for what a case may override.
func completeSets(_ *cobra.Command, args []string, typed string) ([]string, cobra.ShellCompDirective) {
	none := cobra.ShellCompDirectiveNoFileComp | cobra.ShellCompDirectiveNoSpace
	if strings.Contains(typed, "=") {
		return nil, none
	}
	var out []string
	for _, d := range systemsOf(args) {
		for _, b := range d.Blocks {
			if b.Type() == nil || !b.Type().InCase {
				continue
			}
			for _, a := range b.Type().Attributes {
				if !a.Fixed && !a.NotBuilt {
					out = append(out, b.Kind+"."+b.Tag+"."+a.Name+"=")
				}
			}
		}
	}
	return sortedOnce(out), none
}

func sortedOnce(names []string) []string {
	slices.Sort(names)
	return slices.Compact(names)
}
