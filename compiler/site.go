package compiler

import (
	"slices"
	"strconv"
	"strings"

	"tapline/lang"
	"tapline/lang/diag"
	"tapline/lang/quantity"
	"tapline/solver/fluid"
)

// siteOf reads what a case says of the place.
func siteOf(b *lang.Block) (site quantity.Site, ambientK float64) {
	if v := b.Get("reference_state"); v != nil && v.Reference != nil {
		ref := *v.Reference
		site.Reference = &ref
	}
	r := reader{}
	if v := b.Get("atmosphere"); v != nil && !v.Null {
		// A gauge pressure of the atmosphere itself is refused by its limits, and
		// would be zero here.
		site.AtmospherePa = v.Quantity.Nominal.PressurePa(quantity.Site{})
	} else {
		site.AtmospherePa = quantity.StandardAtmospherePa(r.value(b, "elevation"))
	}
	return site, r.value(b, "ambient")
}

// fluids makes the gases of a case by name. Equal compositions give one and the
// same gas, over all cases, so that their properties are prepared once.
type fluids struct{ made map[string]*fluid.Mixture }

func newFluids() *fluids { return &fluids{map[string]*fluid.Mixture{}} }

// get makes the gas that a fluid block describes.
func (f *fluids) get(b *lang.Block, r *reader) *fluid.Mixture {
	x, ok := fractions(b, r)
	if !ok {
		return nil
	}
	key := compositionKey(x)
	if m := f.made[key]; m != nil {
		return m
	}
	m, err := fluid.New(x)
	if err != nil {
		_, v := b.Composition()
		r.errorf("unsupported-composition", v.Range, "", err.Error())
		return nil
	}
	f.made[key] = m
	return m
}

func compositionKey(x map[string]float64) string {
	var parts []string
	for name, f := range x {
		parts = append(parts, name+"="+strconv.FormatFloat(f, 'g', -1, 64))
	}
	slices.Sort(parts)
	return strings.Join(parts, ",")
}

// gas is what can reach a node.
type gas struct {
	mixture *fluid.Mixture
	source  int // index into Program.Devices
}

// reach follows every source's gas through all that can pass it, and reports
// where two different gases can meet.
func (p *Program) reach(gases map[int]*fluid.Mixture, closed, leaks func(device int) bool) ([]gas, []diag.Diagnostic) {
	at := make([]gas, len(p.Nodes))
	var queue []int
	for i := range p.Nodes {
		at[i].source = -1
		if b := p.Nodes[i].Boundary; p.isSource(i) && gases[b] != nil {
			at[i] = gas{gases[b], b}
			queue = append(queue, i)
		}
	}
	type hop struct {
		device, to int
		back       bool
	}
	hops := make([][]hop, len(p.Nodes))
	for i := range p.Devices {
		if d := &p.Devices[i]; d.Element >= 0 {
			hops[d.In] = append(hops[d.In], hop{i, d.Out, false})
			hops[d.Out] = append(hops[d.Out], hop{i, d.In, true})
		}
	}
	var found []diag.Diagnostic
	for q := 0; q < len(queue); q++ {
		n := queue[q]
		if b := p.Nodes[n].Boundary; b >= 0 && at[n].source != b {
			continue // nothing goes on behind a vent
		}
		for _, h := range hops[n] {
			if h.back && oneWay(p.Devices[h.device].Kind) && !leaks(h.device) || closed(h.device) {
				continue
			}
			switch {
			case at[h.to].mixture == nil:
				at[h.to] = at[n]
				queue = append(queue, h.to)
			case at[h.to].mixture != at[n].mixture && p.Nodes[h.to].Boundary < 0 && len(found) == 0:
				a, b := &p.Devices[at[n].source], &p.Devices[at[h.to].source]
				if a.Tag > b.Tag {
					a, b = b, a
				}
				found = append(found, diag.Diagnostic{
					Code: "gases-meet", Level: diag.Error, Range: a.Block.TagRange,
					Message: "the gases of " + a.Tag + " and " + b.Tag + " differ and can meet at " + p.Nodes[h.to].Name + "; mixing is not yet built in this version",
					Hint:    "shut a valve or put a check valve between them",
					Related: []diag.Related{{Range: b.Block.TagRange, Message: b.Tag}},
				})
			}
		}
	}
	return at, found
}
