package main

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"tapline/compiler/rule/explain"
	"tapline/lang/diag"
)

func (a *app) explainCommand() *cobra.Command {
	return &cobra.Command{
		Use:   "explain [CODE]",
		Short: "Say what a flag or error means and how to mend it",
		Long: `Explain says of the code of a flag or error what it means, why it matters and
what it rests on, and shows a system that brings it about and the same system
mended. Without a code it lists all of them.`,
		Example: `  tapline explain reverse-flow
  tapline explain`,
		ValidArgsFunction: func(_ *cobra.Command, args []string, _ string) ([]string, cobra.ShellCompDirective) {
			if len(args) > 0 {
				return nil, cobra.ShellCompDirectiveNoFileComp
			}
			return explain.Codes(), cobra.ShellCompDirectiveNoFileComp
		},
		RunE: func(c *cobra.Command, args []string) error {
			text := explainedList()
			switch len(args) {
			case 0:
			case 1:
				e, ok := explain.Find(args[0])
				if !ok {
					return unknownCode(args[0])
				}
				text = explained(e)
			default:
				return usagef("%s takes one code at a time, not %d", c.CommandPath(), len(args))
			}
			_, err := fmt.Fprint(a.stdout, text)
			return err
		},
	}
}

func unknownCode(code string) error {
	if near := nearest(code, explain.Codes()); near != "" {
		return usagef("there is no code %q; did you mean %q?", code, near)
	}
	return usagef("there is no code %q; tapline explain lists them all", code)
}

// explainedList gives a line for each code, in groups.
func explainedList() string {
	width := 0
	for _, c := range explain.Codes() {
		width = max(width, len(c))
	}
	var b strings.Builder
	for i, g := range explain.Groups() {
		if i > 0 {
			b.WriteByte('\n')
		}
		fmt.Fprintln(&b, g.Name)
		for _, e := range g.Entries {
			fmt.Fprintf(&b, "  %-*s  %s\n", width, e.Code, e.Title)
		}
	}
	b.WriteString("\nFor one of them: tapline explain CODE\n")
	return b.String()
}

// explained gives an entry as text of at most 80 columns.
func explained(e explain.Entry) string {
	var b strings.Builder
	fmt.Fprintf(&b, "%s (%s): %s\n\n", e.Code, e.Level, e.Title)
	filled(&b, e.Means)
	b.WriteString("\nWhy it matters\n")
	filled(&b, e.Why)
	b.WriteString("\nBasis\n")
	filled(&b, e.Basis)
	if e.NoExample != "" {
		b.WriteString("\nNo example is shown\n")
		filled(&b, e.NoExample)
		return b.String()
	}
	b.WriteString("\nThis brings it about:\n\n")
	indented(&b, e.Failing)
	b.WriteString("\nThis does not:\n\n")
	indented(&b, e.Mended)
	if !e.Alone {
		b.WriteString("\nBoth are read together with:\n\n")
		indented(&b, explain.Common())
	}
	return b.String()
}

// filled writes a paragraph, indented, broken between words.
func filled(b *strings.Builder, text string) {
	for _, line := range diag.Wrap(text, 78, 0) {
		b.WriteString("  " + line + "\n")
	}
}

func indented(b *strings.Builder, text string) {
	for line := range strings.Lines(text) {
		b.WriteString("    " + line)
	}
}
