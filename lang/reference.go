package lang

import (
	_ "embed"
	"io"
	"slices"
	"strings"
)

// The reference page, REFERENCE.md, is made from the schema and the table of
// units; reference_rows.go words a row, reference_tables.go makes the tables.
// By hand stand only the guide at its top and the notes on values and faults,
// in the folder reference.
//
// Most devices share a dozen attributes. So that each is explained once, an
// attribute that sharedBy or more devices have, with the very same entry in
// all of them, goes into a chapter of its own, and the devices name it there.

//go:embed reference/guide.md
var guideText string

//go:embed reference/values.md
var valuesText string

//go:embed reference/components.md
var componentsText string

//go:embed reference/output.md
var outputText string

//go:embed reference/faults.md
var faultsText string

//go:embed reference/spreads.md
var spreadsText string

// sharedBy is how many devices must have an attribute before it is explained
// in the chapter of shared ones.
const sharedBy = 4

// chapters are the blocks that have attributes to explain, by what they are for.
var chapters = []struct {
	title  string
	groups []string
}{
	{"The system and its gases", []string{"system", "fluid"}},
	{"Paths and tubes", []string{"line"}},
	{"Sources and vents", []string{"boundary"}},
	{"Devices", []string{"device", "vessel"}},
	{"Regulators and relief devices", []string{"regulator", "safety"}},
	{"Instruments", []string{"instrument"}},
	{"Cases and limits", []string{"case", "limits", "reuse"}},
}

// WriteReference writes the reference page of the language as Markdown: a guide
// for the newcomer, the forms of values, every block and attribute, the faults,
// the units, and what is planned. It gives the first error of w.
func WriteReference(w io.Writer) error {
	p := &page{shared: sharedEntries()}
	p.add(guideText)
	p.add(valuesText)
	p.blocks()
	p.sharedChapter()
	p.nestedChapter()
	p.faults()
	p.add(spreadsText)
	p.units()
	p.components()
	p.output()
	p.planned()
	_, err := io.WriteString(w, strings.Join(p.parts, "\n\n")+"\n")
	return err
}

// A page collects the parts of the reference, to be parted by empty lines.
type page struct {
	parts  []string
	shared map[string]string // entries of attributes explained once, by name
	nested []*BlockType      // blocks inside others, in the order they are met
}

func (p *page) add(text string) { p.parts = append(p.parts, strings.TrimSpace(text)) }

func (p *page) blocks() {
	p.add("## Blocks\n\n" + wrap("", "An attribute may be left out unless its entry says required. A case may override it "+
		"unless its entry says the same in every case, or the block cannot stand in a case at all. Flags are "+
		"`true` or `false`; lists of one element may be written as the element alone. In brackets stands the "+
		"word of a standard or of the trade."))
	p.add(wrap("", "What is marked **not yet built** is part of the language; a file that uses it gets an error that says so."))
	rows := [][]string{{"block", "what it stands for"}}
	for _, t := range schema {
		if !t.NotBuilt {
			rows = append(rows, []string{t.Kind, t.Help})
		}
	}
	p.add(table(rows))
	for _, c := range chapters {
		var built []*BlockType
		for _, t := range schema {
			if !t.NotBuilt && slices.Contains(c.groups, t.Group) {
				built = append(built, t)
			}
		}
		p.add("### " + c.title)
		for _, t := range built {
			p.block(t)
		}
	}
}

// block explains one block.
func (p *page) block(t *BlockType) {
	p.add("#### " + t.Kind + "\n\n" + wrap("", "`"+header(t)+"`: "+t.Help+". "+stands(t)))
	p.attributes(t)
}

// attributes lists what a block may say, and the blocks that stand in it.
func (p *page) attributes(t *BlockType) {
	var entries, elsewhere []string
	for _, a := range t.Attributes {
		if text := entry(t, a); onDevices(t) && p.shared[a.Name] == text {
			elsewhere = append(elsewhere, "`"+a.Name+"`")
		} else {
			entries = append(entries, text)
		}
	}
	if len(entries) > 0 {
		p.add(strings.Join(entries, "\n"))
	}
	if rules := together(t); rules != "" {
		p.add(wrap("", rules))
	}
	if len(elsewhere) > 0 {
		p.add(wrap("", "Shared: "+strings.Join(elsewhere, ", ")+"."))
	}
	if len(t.Nested) == 0 {
		return
	}
	names := make([]string, len(t.Nested))
	for i, n := range t.Nested {
		names[i] = "`" + n.Kind + "`"
		if n.NotBuilt {
			names[i] += " (**not yet built**)"
		}
		if !slices.Contains(p.nested, n) {
			p.nested = append(p.nested, n)
		}
	}
	p.add(wrap("", "Nested: "+strings.Join(names, ", ")+"."))
}

// onDevices tells whether a block takes part in the chapter of shared
// attributes.
func onDevices(t *BlockType) bool { return t.InPath() || t.Role == AtNode }

// sharedEntries finds the attributes that are explained once.
func sharedEntries() map[string]string {
	entries, count := map[string]string{}, map[string]int{}
	differs := map[string]bool{}
	for _, t := range schema {
		if !onDevices(t) {
			continue
		}
		for _, a := range t.Attributes {
			text := entry(t, a)
			if count[a.Name]++; count[a.Name] > 1 && entries[a.Name] != text {
				differs[a.Name] = true
			}
			entries[a.Name] = text
		}
	}
	for name := range entries {
		if differs[name] || count[name] < sharedBy {
			delete(entries, name)
		}
	}
	return entries
}

// sharedChapter explains them, in the order of the table.
func (p *page) sharedChapter() {
	var names, entries []string
	for _, t := range schema {
		for _, a := range t.Attributes {
			if text := p.shared[a.Name]; text != "" && onDevices(t) && !slices.Contains(names, a.Name) {
				names, entries = append(names, a.Name), append(entries, text)
			}
		}
	}
	p.add("### Shared attributes\n\nOf the devices that list them under Shared, with the same meaning in all.")
	p.add(strings.Join(entries, "\n"))
}

// nestedChapter explains the blocks that stand inside others.
func (p *page) nestedChapter() {
	p.add("### Nested blocks\n\nAt most once in a block unless said otherwise, on lines of their own, without a tag.")
	for i := 0; i < len(p.nested); i++ { // grows, should a nested block hold others
		n := p.nested[i]
		var in []string
		for _, t := range schema {
			if slices.Contains(t.Nested, n) {
				in = append(in, "`"+t.Kind+"`")
			}
		}
		text := "#### " + n.Kind + "\n\n" + wrap("", "`"+header(n)+"`, in "+strings.Join(in, ", ")+": "+n.Help+". "+stands(n))
		p.add(text)
		p.attributes(n)
	}
}
