package main

import (
	"errors"
	"slices"
	"strings"

	"github.com/agext/levenshtein"
	"github.com/spf13/cobra"
	"github.com/spf13/pflag"
)

// nearest gives the name most like a misspelt one, the first of several, or ""
// if none is near: a third of the letters may differ, and two of four at least
// since letters changing places count twice.
func nearest(word string, names []string) string {
	word = strings.ToLower(word)
	if len(word) > 100 {
		return ""
	}
	allowed := 1
	if len(word) > 3 {
		allowed = max(2, len(word)/3)
	}
	best, least := "", allowed+1
	for _, n := range slices.Sorted(slices.Values(names)) {
		if d := levenshtein.Distance(word, n, nil); d < least {
			best, least = n, d
		}
	}
	return best
}

func isNotExist(err error) bool {
	var e *pflag.NotExistError
	return errors.As(err, &e)
}

// flagNames lists the flags of a command, sorted.
func flagNames(c *cobra.Command) []string {
	var names []string
	c.Flags().VisitAll(func(f *pflag.Flag) { names = append(names, f.Name) })
	slices.Sort(names)
	return names
}

// A choice is a flag that takes one of a few words.
type choice struct {
	value string
	of    []string
	flag  string
}

func (c *choice) String() string { return c.value }
func (c *choice) Type() string   { return strings.Join(c.of, "|") }

// Set takes a word or says which there are.
func (c *choice) Set(word string) error {
	if slices.Contains(c.of, word) {
		c.value = word
		return nil
	}
	hint := "write " + strings.Join(c.of, " or ")
	if near := nearest(word, c.of); near != "" {
		hint = "did you mean " + near + "?"
	}
	return usagef("--%s cannot be %q; %s", c.flag, word, hint)
}
