package lang

import (
	"io/fs"
	"path"
	"slices"
	"strings"

	"tapline/lang/diag"
)

// ReadFiles is Read from memory: the files' bytes by name, those of measured curves
// among them. Names are taken into ranges under dir.
func ReadFiles(dir string, files map[string][]byte) (*Description, []diag.Diagnostic) {
	found := newCollector()
	system, open := inMemory(files)
	d := readFiles(dir, dir, system, open, found)
	return d, found.result()
}

// inMemory parts the files of curves, which are read where they are asked for, from
// those of the system.
func inMemory(files map[string][]byte) (system map[string][]byte, open opener) {
	system = make(map[string][]byte, len(files))
	for name, src := range files {
		if !strings.HasSuffix(name, CurveExtension) {
			system[name] = src
		}
	}
	return system, func(name string) ([]byte, string, error) {
		if src, ok := files[name]; ok {
			return src, "", nil
		}
		return nil, unreadableFile, fs.ErrNotExist
	}
}

// readFiles reads files; shown is the folder as ranges name it.
func readFiles(dir, shown string, files map[string][]byte, open opener, found *collector) *Description {
	d := &Description{Dir: dir, Givens: map[string]*Value{}, names: newNames()}
	order := make([]string, 0, len(files))
	total := 0
	for name, src := range files {
		order = append(order, name)
		total += len(src)
	}
	slices.Sort(order)
	here := diag.Range{File: shown, Start: fileStart, End: fileStart}
	switch {
	case len(order) == 0:
		found.errorf(noFiles, here, "a system is a folder of files that end in .tap.hcl", "there is no file ending in .tap.hcl here")
		return d
	case len(order) > maxFiles || total > maxTotalBytes:
		found.errorf(tooLarge, here, "split it into several systems",
			"the folder holds %d files of %d bytes; at most %d files and %d bytes are read", len(order), total, maxFiles, maxTotalBytes)
		return d
	}
	reader := &rawReader{found: found}
	var raw []*Block
	for _, name := range order {
		if reader.over || found.listed() > maxInAll {
			reader.broken = true
			break
		}
		src := newSource(path.Join(shown, name), files[name])
		d.Files = append(d.Files, File{Name: src.name, Bytes: src.bytes})
		raw = append(raw, reader.read(src)...)
	}
	if reader.over {
		return d
	}
	b := &builder{d: d, found: found, check: &checker{found: found, in: newInterpreter(found), open: open, shown: shown, curves: map[string]*source{}}}
	b.build(raw)
	// Names are looked up only where all files were read: a block that could
	// not be read would make every mention of it a further mistake.
	if !reader.broken {
		b.wholeSystem()
	}
	for name, src := range b.check.curves {
		d.Files = append(d.Files, File{Name: src.name, Bytes: src.bytes})
		d.curves = append(d.curves, name)
	}
	slices.SortStableFunc(d.Files, func(a, b File) int { return strings.Compare(a.Name, b.Name) })
	return d
}

// A builder sorts raw blocks into a description.
type builder struct {
	d     *Description
	found *collector
	check *checker

	lines, cases []*Block // raw, until everything they mention is known
	spreads      []*Block
	given        *Block
	pathBytes    int  // of all paths so far
	planned      bool // something not yet built was there
}

func (b *builder) build(raw []*Block) {
	for _, blk := range raw {
		b.block(blk)
	}
	for _, blk := range b.lines {
		b.line(blk)
	}
	for i, blk := range b.cases {
		if i == maxCases {
			b.found.errorf(tooLarge, blk.Range, "split it into several systems", "a system holds at most %d cases written out", maxCases)
			b.cases = b.cases[:i]
			break
		}
		b.caseHeader(blk)
	}
	for i, blk := range b.spreads {
		if i == maxSpreads {
			b.found.errorf(tooLarge, blk.Range, "split it into several systems", "a system holds at most %d spreads", maxSpreads)
			b.spreads = b.spreads[:i]
			break
		}
		b.spreadHeader(blk)
	}
}

// block takes one block from the top of a file.
func (b *builder) block(blk *Block) {
	t := Lookup(blk.Kind)
	if t == nil {
		b.check.unknownBlock(blk, nil)
		return
	}
	blk.typ = t
	if t.NotBuilt {
		b.planned = true
		b.check.notBuilt(blk)
		if t.InPath() && blk.Tag != "" {
			b.d.names.addBlock(blk, b.found)
		}
		return
	}
	if !b.labels(blk) || t.Tagged && !goodTag(blk, b.found) {
		return
	}
	switch t {
	case lineBlock:
		b.lines = append(b.lines, blk)
		return
	case caseBlock:
		b.cases = append(b.cases, blk)
		return
	case spreadBlock:
		b.spreads = append(b.spreads, blk)
		return
	}
	b.check.block(blk, t, false, nil)
	switch t {
	case systemBlock:
		b.only(&b.d.System, blk)
	case siteBlock:
		b.only(&b.d.Site, blk)
	case givenBlock:
		if b.only(&b.given, blk) {
			b.d.Givens = blk.Attrs
		}
	default:
		if b.d.names.addBlock(blk, b.found) {
			b.d.Blocks = append(b.d.Blocks, blk)
			blk.nth = len(b.d.Blocks)
		}
	}
}

// only keeps the first of a kind of block that may stand once.
func (b *builder) only(place **Block, blk *Block) bool {
	if *place == nil {
		*place = blk
		return true
	}
	b.found.errorf(repeatedBlock, blk.Range, "put it all into one", "there is a %s block already", blk.Kind).
		relate((*place).Range, "the first one")
	return false
}

// labels sees to it that a block has the tag it needs, and no more.
func (b *builder) labels(blk *Block) bool {
	t := blk.typ
	switch {
	case t.Tagged && len(blk.labels) == 0:
		b.found.errorf(wrongLabels, blk.KindRange, blk.Kind+` "NAME" {`, "%s needs a name in quotes after it", blk.Kind)
		return false
	case !t.Tagged && len(blk.labels) > 0:
		b.found.errorf(wrongLabels, blk.labels[0].at, blk.Kind+" {", "%s takes no name", blk.Kind)
		return true
	case len(blk.labels) > 1:
		b.found.errorf(wrongLabels, blk.labels[1].at, blk.Kind+` "NAME" {`, "%s takes one name", blk.Kind)
	}
	return true
}

// wholeSystem checks what needs all files: names that must exist.
func (b *builder) wholeSystem() {
	if b.d.System == nil && !b.planned {
		b.found.errorf(missingSystem, diag.Range{File: b.d.Files[0].Name, Start: fileStart, End: fileStart},
			`system "NAME" { title = "..." }`, "the folder holds no system block")
	}
	b.d.placeStops(b.found)
	for _, blk := range b.cases {
		b.caseBody(blk)
	}
	for _, blk := range b.spreads {
		b.spreadBody(blk)
	}
	b.d.upsets(b.found)
	b.d.caseOrder(b.found)
	b.d.alike(b.found)
	b.d.references(b.found)
	b.d.spread(b.found)
}

var fileStart = diag.Position{Line: 1, Column: 1}
