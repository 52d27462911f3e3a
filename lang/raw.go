package lang

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strconv"

	"github.com/hashicorp/hcl/v2"
	"github.com/hashicorp/hcl/v2/hclsyntax"
	"github.com/zclconf/go-cty/cty"

	"tapline/lang/diag"
	"tapline/lang/guard"
)

// A raw value is one whose type has not been held against the schema yet. Its
// shape says what was written.
type shape uint8

const (
	isText shape = iota
	isNumber
	isFlag
	isNull
	isGiven
	isList
	isMap
	isOther // no literal; already reported
)

// words names a shape in messages.
func (s shape) words() string {
	return [...]string{"a text", "a bare number", "true or false", "null", "a given value", "a list", "a map", "no literal"}[s]
}

// A label is one label of a block's header.
type label struct {
	text string
	at   diag.Range
}

// A rawReader turns one file after the other into raw blocks. It knows HCL and
// nothing of the schema.
type rawReader struct {
	found  *collector
	src    *source
	tokens int
	blocks int
	values int
	broken bool // some file could not be read to its end
	over   bool // a limit was reported; nothing more is read
}

// read gives the blocks of one file, none if it cannot be read.
func (r *rawReader) read(src *source) []*Block {
	if len(src.bytes) > maxFileBytes {
		r.broken = true
		r.found.errorf(tooLarge, src.rangeOf(0, 0), "split it; all files of a folder are read together",
			"the file has more than %d bytes", maxFileBytes)
		return nil
	}
	n := words(src.bytes)
	if n > maxInFile {
		r.broken = true
		r.found.errorf(tooLarge, src.rangeOf(0, 0), "split it; all files of a folder are read together",
			"the file has more than %d words and signs", maxInFile)
		return nil
	}
	if r.tokens += n; r.tokens > maxTokens {
		r.refuseMore(src.rangeOf(0, 0), fmt.Sprintf("%d words and signs", maxTokens))
		return nil
	}
	if blocks, ok := r.quick(src); ok {
		return blocks
	}
	return r.byParser(src)
}

// byParser gives the blocks of a file by way of the guard and the parser, which
// alone say what is wrong.
func (r *rawReader) byParser(src *source) []*Block {
	r.src = src
	tokens, ds := guard.Tokens(src.name, src.bytes)
	if len(ds) > 0 {
		for _, d := range ds {
			r.found.add(d)
		}
		if diag.HasErrors(ds) {
			r.broken = true
			return nil
		}
	}
	masked := r.mask(src, tokens)
	if r.over {
		return nil
	}
	file, wrong := hclsyntax.ParseConfig(masked, src.name, hcl.InitialPos)
	body, _ := file.Body.(*hclsyntax.Body)
	if r.syntax(body, wrong) || body == nil {
		r.broken = true
		return nil
	}
	for _, a := range inOrder(body.Attributes) {
		r.found.errorf(syntaxError, r.at(a.NameRange), "", "%s stands outside of any block", show(a.Name))
	}
	return r.body(body.Blocks)
}

func (r *rawReader) at(h hcl.Range) diag.Range { return r.src.rangeOf(h.Start.Byte, h.End.Byte) }

func (r *rawReader) body(blocks hclsyntax.Blocks) []*Block {
	out := make([]*Block, 0, len(blocks))
	for _, hb := range blocks {
		b := &Block{Kind: hb.Type, KindRange: r.at(hb.TypeRange), Attrs: make(map[string]*Value, len(hb.Body.Attributes))}
		b.Range = b.KindRange
		for i := range hb.Labels {
			l := r.label(hb.LabelRanges[i])
			b.labels = append(b.labels, l)
			b.Range.End = l.at.End
		}
		if len(b.labels) > 0 {
			b.Tag, b.TagRange = b.labels[0].text, b.labels[0].at
		}
		for _, a := range inOrder(hb.Body.Attributes) {
			v := r.value(a.Expr)
			v.NameRange = r.at(a.NameRange)
			b.Attrs[a.Name] = v
		}
		if len(hb.Body.Blocks) > 0 {
			b.Blocks = r.body(hb.Body.Blocks)
		}
		out = append(out, b)
	}
	return out
}

// inOrder gives the attributes of a body in the order they are written.
func inOrder(attrs hclsyntax.Attributes) []*hclsyntax.Attribute {
	out := make([]*hclsyntax.Attribute, 0, len(attrs))
	for _, a := range attrs {
		out = append(out, a)
	}
	slices.SortFunc(out, func(a, b *hclsyntax.Attribute) int {
		return cmp.Compare(a.NameRange.Start.Byte, b.NameRange.Start.Byte)
	})
	return out
}

// label reads a label, quoted or bare.
func (r *rawReader) label(h hcl.Range) label {
	l := label{at: r.at(h)}
	if r.src.bytes[h.Start.Byte] == '"' {
		l.text, _ = r.text(h)
	} else {
		l.text = string(r.src.bytes[h.Start.Byte:h.End.Byte])
	}
	return l
}

// text decodes the string at h and reports what is wrong inside it.
func (r *rawReader) text(h hcl.Range) (string, literal) {
	text, lit, errs := decodeString(r.src, h.Start.Byte, h.End.Byte)
	for _, e := range errs {
		r.found.errorf(badEscape, r.src.rangeOf(e.start, e.end), e.hint, "%s", e.message)
	}
	return text, lit
}

// value reads one expression.
func (r *rawReader) value(expr hclsyntax.Expression) *Value {
	h := expr.Range()
	v := &Value{Range: r.at(h), shape: isOther}
	switch e := expr.(type) {
	case *hclsyntax.TemplateExpr:
		v.shape = isText
		v.Text, v.lit = r.text(h)
	case *hclsyntax.LiteralValueExpr:
		r.literal(v, e.Val)
	case *hclsyntax.UnaryOpExpr:
		lit, ok := e.Val.(*hclsyntax.LiteralValueExpr)
		if !ok || e.Op != hclsyntax.OpNegate || lit.Val.Type() != cty.Number {
			r.refuse(v)
			break
		}
		r.literal(v, lit.Val)
	case *hclsyntax.TupleConsExpr:
		v.shape = isList
		v.List = make([]*Value, 0, len(e.Exprs))
		for _, x := range e.Exprs {
			v.List = append(v.List, r.value(x))
		}
	case *hclsyntax.ObjectConsExpr:
		v.shape = isMap
		r.entries(v, e)
	case *hclsyntax.ScopeTraversalExpr:
		r.reference(v, e)
	default:
		r.refuse(v)
	}
	return v
}

// literal reads a number, true, false or null. Numbers are read from the file
// as they stand, a leading minus included.
func (r *rawReader) literal(v *Value, val cty.Value) {
	switch {
	case val.IsNull():
		v.shape, v.Null = isNull, true
	case val.Type() == cty.Bool:
		v.shape, v.Flag = isFlag, val.True()
	case val.Type() == cty.Number:
		v.shape = isNumber
		text := string(r.src.bytes[v.Range.Start.Byte:v.Range.End.Byte])
		n, err := strconv.ParseFloat(text, 64)
		if err != nil || math.IsInf(n, 0) || math.IsNaN(n) {
			v.shape = isOther
			r.found.errorf(badValue, v.Range, "", "%s is no number that can be computed with", show(text))
			return
		}
		v.Number = n
	default:
		r.refuse(v)
	}
}

func (r *rawReader) refuse(v *Value) {
	v.shape = isOther
	r.found.errorf(notLiteral, v.Range, "write the value itself, or given.NAME",
		"a value is a literal, null, a list or map of literals, or given.NAME; nothing is computed here")
}

// reference reads given.NAME, and says what to do about any other bare word.
func (r *rawReader) reference(v *Value, e *hclsyntax.ScopeTraversalExpr) {
	v.shape = isOther
	root := e.Traversal.RootName()
	if root == "given" && len(e.Traversal) == 2 {
		if step, ok := e.Traversal[1].(hcl.TraverseAttr); ok {
			v.shape, v.Given = isGiven, step.Name
			return
		}
	}
	if len(e.Traversal) == 1 && root != "given" {
		r.found.errorf(notLiteral, v.Range, strconv.Quote(root), "%s is a bare word; a text stands in quotes", show(root))
		return
	}
	if root == "given" {
		r.found.errorf(notLiteral, v.Range, `given.flare_high, with given { flare_high = "0.45 barg" }`,
			"a given value is used by its name alone")
		return
	}
	r.refuse(v)
}

// entries reads a map. Keys are bare words or texts, each once.
func (r *rawReader) entries(v *Value, e *hclsyntax.ObjectConsExpr) {
	seen := make(map[string]diag.Range, len(e.Items))
	for _, item := range e.Items {
		h := item.KeyExpr.Range()
		entry := Entry{KeyRange: r.at(h)}
		key, _ := item.KeyExpr.(*hclsyntax.ObjectConsKeyExpr)
		ok := key != nil && !key.ForceNonLiteral
		if ok {
			switch k := key.Wrapped.(type) {
			case *hclsyntax.TemplateExpr:
				entry.Key, _ = r.text(h)
			case *hclsyntax.ScopeTraversalExpr:
				ok = len(k.Traversal) == 1
				entry.Key = k.Traversal.RootName()
			default:
				ok = false
			}
		}
		if !ok {
			r.found.errorf(notLiteral, entry.KeyRange, "", "a key is a bare word or a text in quotes")
			continue
		}
		entry.Value = r.value(item.ValueExpr)
		entry.Value.NameRange = entry.KeyRange
		if first, again := seen[entry.Key]; again {
			r.found.errorf(repeatedKey, entry.KeyRange, "", "the key %s is given twice", show(entry.Key)).relate(first, "first given here")
			continue
		}
		seen[entry.Key] = entry.KeyRange
		v.Map = append(v.Map, entry)
	}
}
