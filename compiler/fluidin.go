package compiler

import (
	"maps"

	"tapline/lang"
	"tapline/lang/diag"
	"tapline/lang/quantity"
	"tapline/solver/fluid"
)

// FluidIn makes the fluid of that name as it is in a case, and gives the site of
// that case. What instead states of the fluid's choices, such as "equation", holds
// in place of what the files say. Without errors found the fluid is nil only where
// there is none of that name.
func FluidIn(d *lang.Description, caseName, name string, instead map[string]string) (fluid.Composed, quantity.Site, []diag.Diagnostic) {
	res, found := d.Resolve(caseName)
	if diag.HasErrors(found) {
		return nil, quantity.Site{}, found
	}
	site, _ := siteOf(res.Site)
	r := &reader{site: site, found: found}
	for _, b := range res.Blocks {
		if b.Kind != "fluid" || b.Tag != name {
			continue
		}
		if len(instead) > 0 {
			b = stating(b, instead)
		}
		r.plausible([]*lang.Block{b})
		c, ok := recipeOf(b, r)
		if !ok || diag.HasErrors(r.found) {
			break
		}
		if made := c.fluid(r); made != nil {
			return made, site, r.found
		}
	}
	return nil, site, r.found
}

// stating gives a copy of a block that states other choices.
func stating(b *lang.Block, choices map[string]string) *lang.Block {
	out := *b
	out.Attrs = maps.Clone(b.Attrs)
	for name, text := range choices {
		v := &lang.Value{Text: text, Range: b.Range, NameRange: b.Range}
		if old := b.Attrs[name]; old != nil {
			v.Range, v.NameRange = old.Range, old.NameRange
		}
		out.Attrs[name] = v
	}
	return &out
}
