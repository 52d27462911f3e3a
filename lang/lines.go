package lang

import (
	"errors"
	"fmt"
	"strings"

	"tapline/lang/diag"
	"tapline/lang/path"
)

// line reads one line block: its paths, and the tubes written in them.
func (b *builder) line(blk *Block) {
	sized := blk.Attrs["tube"] != nil
	b.check.block(blk, lineBlock, false, nil)
	if first := b.d.names.lines[blk.Tag]; first != nil {
		b.found.errorf(repeatedBlock, blk.Range, "give it another name", "line %s stands here a second time", show(blk.Tag)).
			relate(first.Range, "first here")
		return
	}
	l := &Line{Name: blk.Tag, Range: blk.Range, Service: textOf(blk, "service"), Note: textOf(blk, "note")}
	if blk.Has("tube") {
		l.Tube = blk.Attrs["tube"]
	}
	b.d.names.lines[l.Name] = l
	b.d.Lines = append(b.d.Lines, l)
	p := blk.Attrs["path"]
	if p == nil || p.Null {
		return
	}
	texts := p.List
	if p.shape == isText {
		texts = []*Value{p}
	}
	w := &writtenIn{line: l, sized: sized}
	for _, v := range texts {
		l.Stops = append(l.Stops, b.path(w, v))
	}
}

func textOf(b *Block, name string) string {
	if v := b.Get(name); v != nil {
		return v.Text
	}
	return ""
}

// writtenIn is the line that tubes are written in.
type writtenIn struct {
	line    *Line
	sized   bool // the line states a size, readable or not
	unnamed int  // tubes without a tag so far
}

// path reads one path.
func (b *builder) path(w *writtenIn, v *Value) []Stop {
	b.pathBytes += len(v.Text)
	if b.pathBytes > maxPathTotal {
		if !b.d.names.torn {
			b.found.errorf(tooLarge, v.Range, "split it into several systems", "the paths of a system have at most %d characters together", maxPathTotal)
		}
		b.d.names.torn = true
		return nil
	}
	if len(v.Text) > maxPathBytes {
		b.found.errorf(tooLarge, v.Range, "split it: a path can be a list of paths", "a path has at most %d characters", maxPathBytes)
		b.d.names.torn = true
		return nil
	}
	steps, err := path.Parse(v.Text)
	if err != nil {
		pe := &path.Error{Message: err.Error(), End: len(v.Text)}
		errors.As(err, &pe)
		b.found.errorf(badPath, v.Within(pe.Start, pe.End), pe.Hint, "%s", pe.Message)
		b.d.names.torn = true
		return nil
	}
	stops := make([]Stop, len(steps))
	for i, s := range steps {
		stops[i] = Stop{Step: s, Range: v.Within(s.Start, s.End)}
		if s.Kind == path.Tube {
			stops[i].Inline = b.inline(w, &stops[i], v)
		}
	}
	return stops
}

// inline makes the tube block that a tube written in place stands for.
func (b *builder) inline(w *writtenIn, s *Stop, v *Value) *Block {
	t := &Block{Kind: "tube", Tag: s.Name, Range: s.Range, KindRange: s.Range, TagRange: s.Range, Attrs: map[string]*Value{}, typ: tubeBlock}
	if t.Tag == "" {
		w.unnamed++
		t.Tag = fmt.Sprintf("%s~%d", w.line.Name, w.unnamed)
	}
	spoilt := map[string]bool{}
	for _, arg := range s.Tube.Args {
		name := arg.Name
		switch {
		case name == "" && strings.ContainsAny(arg.Text, "x×"):
			name = "size"
		case name == "":
			name = "length"
		}
		val := &Value{Range: v.Within(arg.Start, arg.End), shape: isText, Text: arg.Text}
		val.NameRange = val.Range
		if arg.Start >= 0 && arg.End <= len(v.Text) && arg.Start <= arg.End && v.Text[arg.Start:arg.End] == arg.Text {
			val.lit = v.lit.part(arg.Start)
		}
		switch {
		case t.Attrs[name] != nil || spoilt[name]:
			b.found.errorf(badTube, val.Range, "tube(6 mm x 1 mm, 3 m, 4 bends, rise 2 m)", "this tube has a %s already", name).
				relate(t.rangeOf(name, s), "the first one")
		case b.check.in.value(tubeBlock.Attribute(name), val, nil):
			t.Attrs[name] = val
		default:
			spoilt[name] = true
		}
	}
	if t.Attrs["size"] == nil && w.line.Tube != nil && !spoilt["size"] {
		t.Attrs["size"] = w.line.Tube
	}
	if t.Attrs["size"] == nil && !spoilt["size"] && !w.sized {
		b.found.errorf(missingAttr, s.Range, `tube(6 mm x 1 mm, 3 m), or tube = "6 mm x 1 mm" for the whole line`, "this tube states no size")
	}
	if t.Attrs["length"] == nil && !spoilt["length"] {
		b.found.errorf(missingAttr, s.Range, "tube(6 mm x 1 mm, 3 m)", "this tube states no length")
	}
	if b.d.names.addBlock(t, b.found) {
		b.d.names.inline = append(b.d.names.inline, t)
		t.nth = -len(b.d.names.inline)
	}
	return t
}

// rangeOf gives the place of an attribute, or of the whole stop.
func (b *Block) rangeOf(name string, s *Stop) diag.Range {
	if v := b.Attrs[name]; v != nil {
		return v.Range
	}
	return s.Range
}
