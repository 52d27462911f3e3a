package lang

import (
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/hashicorp/hcl/v2"
	"github.com/hashicorp/hcl/v2/hclsyntax"

	"tapline/lang/diag"
	"tapline/lang/guard"
)

// The rule for snippets in the pages: a fence of hcl
//
//   - that holds a system block is a whole system. It must read and resolve in
//     every case without a diagnostic.
//   - that holds none is a part of a system, made of whole blocks. It may lack
//     only what stands elsewhere in the files (absent), and must be right in all
//     it does say.
//   - that stands below the line <!-- fragment --> is anything else, such as the
//     inside of a block. It must pass the guard and be syntax of the language.
const fragmentMark = "<!-- fragment -->"

// absent are the codes of what a part of a system may lack.
var absent = []string{
	missingSystem, missingAttr, unknownTag, unknownLabel, unknownFluid, unknownCase, unknownGiven, unusedDevice, openEnd, loneGauge,
}

// A snippet is one fence of hcl in a page.
type snippet struct {
	line   int // where it begins
	text   string
	marked bool // stands below fragmentMark
}

// snippetsOf finds the fences of a page.
func snippetsOf(page string) []snippet {
	var out []snippet
	lines := strings.Split(page, "\n")
	last := "" // the last line that is not empty
	for i := 0; i < len(lines); i++ {
		fence := strings.TrimSpace(lines[i])
		if !strings.HasPrefix(fence, "```") {
			if fence != "" {
				last = fence
			}
			continue
		}
		begin := i + 1
		for i++; i < len(lines) && strings.TrimSpace(lines[i]) != "```"; i++ {
		}
		if fence == "```hcl" {
			text := strings.Join(lines[begin:min(i, len(lines))], "\n") + "\n"
			out = append(out, snippet{begin + 1, text, last == fragmentMark})
		}
		last = fence
	}
	return out
}

// judge gives what is wrong with a snippet, and whether it is a whole system.
func (s snippet) judge() (ds []diag.Diagnostic, whole bool) {
	name, src := "x"+Extension, []byte(s.text)
	if s.marked {
		if ds = guard.Check(name, src); len(ds) > 0 {
			return ds, false
		}
		_, errs := hclsyntax.ParseConfig(src, name, hcl.InitialPos)
		for _, e := range errs {
			ds = append(ds, diag.Diagnostic{Code: syntaxError, Message: e.Error(), Range: newSource(name, src).rangeOf(e.Subject.Start.Byte, e.Subject.End.Byte)})
		}
		return ds, false
	}
	found := newCollector()
	blocks := (&rawReader{found: found}).read(newSource(name, src))
	if len(found.list) > 0 {
		return found.result(), false
	}
	whole = slices.ContainsFunc(blocks, func(b *Block) bool { return b.Kind == systemBlock.Kind })
	ds = readAll(map[string][]byte{name: src})
	if !whole {
		ds = slices.DeleteFunc(ds, func(d diag.Diagnostic) bool { return slices.Contains(absent, d.Code) })
	}
	return ds, whole
}

// TestSnippets holds every snippet of the pages to the rule above.
func TestSnippets(t *testing.T) {
	pages, err := filepath.Glob("../examples/*/README.md")
	if err != nil {
		t.Fatal(err)
	}
	pages = append(pages, "../README.md", "../DEVELOPERS.md", "REFERENCE.md")
	systems, parts := 0, 0
	for _, name := range pages {
		for _, s := range snippetsOf(string(mustRead(t, name))) {
			ds, whole := s.judge()
			if whole {
				systems++
			} else {
				parts++
			}
			for _, d := range ds {
				t.Errorf("%s:%d: %s: %s", name, s.line+d.Range.Start.Line-1, d.Code, d.Message)
			}
		}
	}
	if systems == 0 || parts == 0 {
		t.Errorf("found %d systems and %d parts of one; the pages hold some of both", systems, parts)
	}
}

// TestSnippetRule sees to it that the rule lets nothing else pass.
func TestSnippetRule(t *testing.T) {
	for _, c := range []struct{ name, page, want string }{
		{"whole", "```hcl\nsystem \"s\" {}\n```\n", ""},
		{"whole, not all there", "```hcl\nsystem \"s\" {}\nvent \"V\" {}\n```\n", missingAttr},
		{"part", "```hcl\nvent \"V\" { pressure = \"0 barg\" }\n```\n", ""},
		{"part, what it says is wrong", "```hcl\nvent \"V\" { pressure = \"0 bar\" }\n```\n", gaugeAbsolute},
		{"part, unknown attribute", "```hcl\nvent \"V\" { presure = \"0 barg\" }\n```\n", unknownAttr},
		{"inside of a block, not marked", "```hcl\npressure = \"0 barg\"\n```\n", syntaxError},
		{"inside of a block", fragmentMark + "\n\n```hcl\npressure = \"0 barg\"\n```\n", ""},
		{"fragment that the guard refuses", fragmentMark + "\n```hcl\npressure = 3 barg\n```\n", guard.UnquotedValue},
		{"fragment that is no syntax", fragmentMark + "\n```hcl\npressure =\n```\n", syntaxError},
		{"mark of another fence", fragmentMark + "\n```text\n```\n```hcl\npressure = \"0 barg\"\n```\n", syntaxError},
	} {
		t.Run(c.name, func(t *testing.T) {
			all := snippetsOf(c.page)
			if len(all) != 1 {
				t.Fatalf("found %d snippets", len(all))
			}
			ds, _ := all[0].judge()
			if c.want == "" && len(ds) > 0 {
				t.Errorf("got %v", ds)
			}
			if c.want != "" && !slices.ContainsFunc(ds, func(d diag.Diagnostic) bool { return d.Code == c.want }) {
				t.Errorf("got %v, want %s", ds, c.want)
			}
		})
	}
}
