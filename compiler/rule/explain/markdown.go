package explain

import (
	"fmt"
	"strings"
)

// Markdown gives all entries as one page.
func Markdown() string {
	var b strings.Builder
	b.WriteString("# What Tapline flags and refuses\n\n")
	b.WriteString("Made from the archives in `explain/` by `go test ./compiler/rule/explain -update`; edit those. `tapline explain CODE` prints the same.\n\n")
	b.WriteString("Unless an example is said to stand alone, it is read together with this file (all values are invented):\n\n")
	fence(&b, Common())
	for _, g := range Groups() {
		fmt.Fprintf(&b, "\n## %s\n\n| code | level | |\n|---|---|---|\n", g.Name)
		for _, e := range g.Entries {
			fmt.Fprintf(&b, "| [`%s`](#%s) | %s | %s |\n", e.Code, e.Code, e.Level, e.Title)
		}
		for _, e := range g.Entries {
			fmt.Fprintf(&b, "\n### %s\n\n", e.Code)
			fmt.Fprintf(&b, "*%s:* %s.\n\n%s\n\n**Why it matters.** %s\n\n**Basis.** %s\n", e.Level, e.Title, e.Means, e.Why, e.Basis)
			if e.NoExample != "" {
				fmt.Fprintf(&b, "\nNo example is shown. %s\n", e.NoExample)
				continue
			}
			fmt.Fprintf(&b, "\nBrings it about%s:\n\n", e.alone())
			fence(&b, e.Failing)
			b.WriteString("\nMended:\n\n")
			fence(&b, e.Mended)
		}
	}
	return b.String()
}

func (e *Entry) alone() string {
	if e.Alone {
		return " (stands alone)"
	}
	return ""
}

func fence(b *strings.Builder, text string) {
	fmt.Fprintf(b, "```hcl\n%s\n```\n", strings.TrimRight(text, "\n"))
}
