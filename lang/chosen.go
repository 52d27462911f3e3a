package lang

import "slices"

// A choice may need further attributes beside it.

// A want is what one choice of an attribute needs, or the attribute at all where it
// names no choice: any one of names.
type want struct {
	attribute, choice string
	names             []string
	hint, message     string
}

var wants = []want{
	{"fault", "seat leak", []string{"leak_cv", "leak"}, `leak_cv = 0.001, or leak = "5 mL/min at 10 bar"`, "a seat leak needs its size"},
	{"fault", "diaphragm leak", []string{"leak_cv", "leak"}, `leak_cv = 0.001, or leak = "5 mL/min at 10 bar"`, "a diaphragm leak needs its size"},
	{"fault", "fails", []string{"on_failure"}, `where it goes, as in on_failure = "stay"`, `the fault "fails" needs on_failure: where the device goes without air or current`},
	{"relief_cv", "", []string{"relieving"}, "relieving = true", "relief_cv is that of a reducer that vents its outlet"},
	{"relieves_at", "", []string{"relief_cv"}, "relief_cv = 0.02", "relieves_at needs relief_cv beside it, the vent's size"},
	{"inlet_line", "", []string{"bore"}, `bore = "4 mm"`, "inlet_line needs bore beside it: the reducer leads from one to the other"},
	{"outlet_line", "", []string{"bore"}, `bore = "4 mm"`, "outlet_line needs bore beside it: the expander leads from one to the other"},
	{"bonnet", "atmosphere", []string{"disc_diameter"}, `disc_diameter = "9 mm"`, "a bonnet open to the atmosphere needs disc_diameter: the back pressure acts on the disc"},
	{"bonnet", "atmosphere", []string{"nozzle_diameter"}, `nozzle_diameter = "8 mm"`, "a bonnet open to the atmosphere needs nozzle_diameter: the inlet pressure acts on the seat"},
}

// chosen sees to it that what the choices of a whole block need is there.
func (c *checker) chosen(b *Block, spoilt map[string]bool) {
	for _, w := range wants {
		if !b.Has(w.attribute) || w.choice != "" && b.Get(w.attribute).Text != w.choice ||
			slices.ContainsFunc(w.names, func(n string) bool { return b.Has(n) || spoilt[n] }) {
			continue
		}
		c.found.errorf(missingAttr, b.Get(w.attribute).Range, w.hint, "%s", w.message)
	}
}
