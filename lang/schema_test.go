package lang

import (
	"slices"
	"strings"
	"testing"
)

// TestSchema sees to it that each row is whole and agrees with itself.
func TestSchema(t *testing.T) {
	var kinds []string
	for _, bt := range Schema() {
		if slices.Contains(kinds, bt.Kind) {
			t.Errorf("%s stands in the table twice", bt.Kind)
		}
		kinds = append(kinds, bt.Kind)
		if Lookup(bt.Kind) != bt {
			t.Errorf("%s is not found by its name", bt.Kind)
		}
		if bt.InPath() && bt.Role != Boundary && !bt.NotBuilt && len(bt.Ports) == 0 && (bt.Attribute("ports") == nil || !bt.Attribute("ports").Required) {
			t.Errorf("%s stands in paths and has no ports", bt.Kind)
		}
		row(t, bt, bt.Kind)
	}
	if Lookup("nothing") != nil {
		t.Error("found a row for nothing")
	}
}

func row(t *testing.T, bt *BlockType, where string) {
	if bt.Help == "" || bt.Group == "" {
		t.Errorf("%s: no help or group", where)
	}
	for i, a := range bt.Attributes {
		name := where + "." + a.Name
		if a.Help == "" || a.Name == "" {
			t.Errorf("%s: no help or name", name)
		}
		if slices.ContainsFunc(bt.Attributes[:i], func(b *Attribute) bool { return b.Name == a.Name }) || bt.Child(a.Name) != nil {
			t.Errorf("%s stands in the table twice", name)
		}
		if a.Default != "" && (a.Required || a.DefaultValue() == nil || !a.DefaultValue().Default) {
			t.Errorf("%s: a default that is none", name)
		}
		if a.Type == TypeChoice && len(a.Choices) == 0 {
			t.Errorf("%s: a choice of nothing", name)
		}
		if a.Type == TypeQuantity && a.Forms == 0 {
			t.Errorf("%s: takes no form", name)
		}
		for _, nested := range slices.Concat(a.Unless, a.Excludes) {
			if bt.Child(nested) == nil {
				t.Errorf("%s: there is no block %s", name, nested)
			}
		}
		if a.By != nil && bt.Attribute(a.By.Attribute) == nil {
			t.Errorf("%s: there is no attribute %s", name, a.By.Attribute)
		}
		example(t, bt, a, name)
	}
	sets := slices.Clone(bt.Together)
	for _, one := range bt.OneOf {
		sets = append(sets, one.Names)
	}
	for _, set := range sets {
		for _, name := range set {
			if bt.Attribute(name) == nil {
				t.Errorf("%s: there is no attribute %s", where, name)
			}
		}
	}
	for _, n := range bt.Nested {
		row(t, n, where+"."+n.Kind)
	}
}

// example holds what a hint tells people to write against the row itself.
func example(t *testing.T, bt *BlockType, a *Attribute, name string) {
	t.Helper()
	if a.NotBuilt || a.Type == TypeDome { // a dome's sample shows both ways at once
		return
	}
	found := newCollector()
	r := &rawReader{found: found}
	blocks := r.read(newSource("x.tap.hcl", []byte("b {\n  "+a.example()+"\n}\n")))
	if len(found.list) > 0 || len(blocks) != 1 {
		t.Fatalf("%s: %s: %v", name, a.example(), found.list)
	}
	def := &Block{typ: bt}
	if !newInterpreter(found).value(a, blocks[0].Attrs[a.Name], def.Get) || len(found.list) > 0 {
		t.Errorf("%s: the example %s: %v", name, a.example(), found.list)
	}
}

// TestFaults prints which kind takes which fault, and checks that each has what
// it needs.
func TestFaults(t *testing.T) {
	some := false
	for _, bt := range Schema() {
		built, later := bt.Faults()
		if built == nil {
			continue
		}
		some = true
		t.Logf("%-15s %s; planned: %s", bt.Kind, strings.Join(built, ", "), strings.Join(later, ", "))
		if slices.Contains(built, "wide open") != (bt.Attribute("fail_cv") != nil) {
			t.Errorf("%s: wide open and fail_cv come together", bt.Kind)
		}
		if slices.Contains(built, "seat leak") != (bt.Attribute("leak_cv") != nil && bt.Attribute("leak") != nil) {
			t.Errorf("%s: a seat leak, leak and leak_cv come together", bt.Kind)
		}
		for _, f := range slices.Concat(built, later) {
			if !slices.Contains([]string{"wide open", "shut", "stuck", "plugged", "seat leak", "loading lost", "diaphragm leak", "fails"}, f) {
				t.Errorf("%s: the language knows no fault %q", bt.Kind, f)
			}
		}
	}
	if !some {
		t.Error("nothing can fail")
	}
}
