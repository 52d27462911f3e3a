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
	v := b.Get("mole_percent")
	if v == nil || v.Null {
		return nil
	}
	x, ok := fractions(v, r)
	if !ok {
		return nil
	}
	key := compositionKey(x)
	if m := f.made[key]; m != nil {
		return m
	}
	m, err := fluid.New(x)
	if err != nil {
		r.errorf("unsupported-composition", v.Range, "", err.Error())
		return nil
	}
	f.made[key] = m
	return m
}

// formulas are other ways in which the trade writes components.
var formulas = map[string]string{
	"CH4": "methane", "C1": "methane", "N2": "nitrogen", "CO2": "carbon_dioxide", "C2H6": "ethane", "C2": "ethane",
	"C3H8": "propane", "C3": "propane", "IC4": "isobutane", "NC4": "n_butane", "C4H10": "n_butane", "BUTANE": "n_butane",
	"IC5": "isopentane", "NC5": "n_pentane", "C5H12": "n_pentane", "PENTANE": "n_pentane", "C6H14": "n_hexane", "NC6": "n_hexane",
	"HEXANE": "n_hexane", "H2": "hydrogen", "O2": "oxygen", "CO": "carbon_monoxide", "H2O": "water", "H2S": "hydrogen_sulfide",
	"HE": "helium", "AR": "argon",
}

// fractions gives mole fractions that sum to one; what is stated does so to
// rounding (lang refuses others), or leaves a rest.
func fractions(v *lang.Value, r *reader) (map[string]float64, bool) {
	x := map[string]float64{}
	sum, rest, ok := 0.0, "", true
	for _, e := range v.Map {
		if !fluid.IsComponent(e.Key) {
			hint := "one of " + strings.Join(fluid.Components(), ", ")
			if name := formulas[strings.ToUpper(e.Key)]; name != "" {
				hint = "write " + name
			}
			r.errorf("unsupported-component", e.KeyRange, hint,
				e.Key+" is not among the names of components that the equation of state has in this version")
			ok = false
			continue
		}
		if e.Value.Quantity == nil {
			rest = e.Key
			continue
		}
		x[e.Key] = e.Value.Quantity.Nominal.SI
		sum += x[e.Key]
	}
	if !ok {
		return nil, false
	}
	if rest != "" {
		x[rest] = 1 - sum
		return x, true
	}
	for name := range x {
		x[name] /= sum
	}
	return x, true
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
