package rule

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"tapline/compiler"
	"tapline/lang/diag"
	"tapline/lang/quantity"
)

var reliefAboveRated = &Rule{
	Codes:     []string{"relief-above-rated"},
	Means:     "a relief device opens above the rating of a part it protects (alarm), or may do so within the tolerance of its set (caution)",
	Basis:     "ASME BPVC VIII-1 UG-134 (from memory): the set not above the lowest rating it protects, of further devices not above 105 % of it; columns of liquid and a standing back pressure on a bonnet open to the discharge count",
	perSystem: judgeReliefSets,
}

// furtherDevices is what a second relief device may be set to, over the rating.
const furtherDevices = 1.05

func judgeReliefSets(s *System) {
	if len(s.Cases) == 0 {
		return
	}
	all := s.worst()
	for i := range s.Program.Devices {
		if d := &s.Program.Devices[i]; d.Kind == "relief" && d.In >= 0 {
			s.reliefSet(d, all)
		}
	}
}

// reliefSet holds one relief device against the weakest of what it protects: the parts
// joined to it, those it alone keeps from more, and those its block names.
func (s *System) reliefSet(d *compiler.Device, all []excess) {
	opens, ok := s.opensPa(d)
	if !ok {
		return
	}
	c := s.at(0)
	b := c.Blocks[d.Number]
	nodes, head := s.joined(d.In)
	var named []string
	if v := b.Get("protects"); v != nil {
		named = v.Texts()
	}
	type held struct {
		excess
		sees, allowed float64
	}
	var worst *held
	for _, e := range all {
		if e.part == d {
			continue // its own inlet stands more than its set, or above-rated says so
		}
		h := held{excess: e, sees: math.Inf(-1), allowed: e.rating.pa}
		for _, n := range e.nodes {
			if nodes[n] {
				h.sees = max(h.sees, opens+head[n])
			}
		}
		if e.by == d {
			h.sees = max(h.sees, e.bound.pa)
		}
		if math.IsInf(h.sees, -1) && slices.Contains(named, e.part.Tag) {
			h.sees = opens
		}
		if math.IsInf(h.sees, -1) {
			continue
		}
		if s.alsoKept(d, e) {
			h.allowed = c.Site.AtmospherePa + furtherDevices*(e.rating.pa-c.Site.AtmospherePa)
		}
		if worst == nil || cmp.Less(h.allowed-h.sees, worst.allowed-worst.sees) {
			worst = &h
		}
	}
	if worst == nil {
		return
	}
	q := b.Get("set").Quantity
	tolerance := 0.0
	if q.Form == quantity.Tolerance {
		tolerance = q.High.PressurePa(c.Site) - q.Nominal.PressurePa(c.Site)
	}
	f := diag.Diagnostic{
		Code: "relief-above-rated", Level: diag.Alarm, Range: b.Get("set").Range, At: d.Tag, Unit: "Pa",
		Value: c.Known(worst.sees), Limit: c.Known(worst.allowed),
		Related: []diag.Related{{Range: worst.value.Range, Message: worst.part.Tag + " is rated here"}},
		Hint:    fmt.Sprintf("set it at %s or lower, or take a part that stands more", c.show(worst.allowed-(worst.sees-q.Nominal.PressurePa(c.Site))-tolerance, "pressure")),
	}
	rated := fmt.Sprintf("the %s that %s is rated for", c.show(worst.rating.pa, "pressure"), worst.part.Tag)
	if worst.allowed != worst.rating.pa {
		rated = fmt.Sprintf("105 %% of the %s that %s is rated for, which a further device may have", c.show(worst.rating.pa, "pressure"), worst.part.Tag)
	}
	const slack = 1 + 1e-9
	switch {
	case !c.atMost("relief-above-rated", d.Tag, "opens", worst.sees, worst.allowed*slack):
		f.Message = fmt.Sprintf("%s opens at %s, above %s", d.Tag, c.show(worst.sees, "pressure"), rated)
	case worst.sees+tolerance > worst.allowed*slack:
		f.Level = diag.Caution
		f.Message = fmt.Sprintf("%s may open at up to %s within its tolerance, above %s", d.Tag, c.show(worst.sees+tolerance, "pressure"), rated)
	default:
		return
	}
	s.flag(f)
}

// alsoKept reports whether another relief device opens at or below the rating of a part
// and is joined to it.
func (s *System) alsoKept(d *compiler.Device, e excess) bool {
	for i := range s.Program.Devices {
		o := &s.Program.Devices[i]
		if o == d || o.Kind != "relief" || o.In < 0 {
			continue
		}
		opens, ok := s.opensPa(o)
		if !ok {
			continue
		}
		nodes, head := s.joined(o.In)
		for _, n := range e.nodes {
			if nodes[n] && opens+head[n] <= e.rating.pa*(1+1e-9) {
				return true
			}
		}
	}
	return false
}
