package rule

import (
	"cmp"
	"fmt"
	"slices"

	"tapline/compiler"
	"tapline/lang"
	"tapline/lang/diag"
	"tapline/lang/quantity"
)

var unprotected = &Rule{
	Codes:     []string{"unprotected"},
	Means:     "more pressure can reach a part than it is rated for, and no relief device stands before the next shut-off",
	Basis:     "the highest pressure of sources and vents over all cases, spread through what can be open, with every reducer wide open, one at a time: a reducer is no protection (ASME BPVC VIII-1 UG-125 asks for a relief device or a source that cannot exceed the rating, from memory)",
	perSystem: judgeUnprotected,
}

// A rating is one pressure that a part is rated for, and where.
type rating struct {
	part  *compiler.Device
	name  string // attribute
	value *lang.Value
	pa    float64
	nodes []int
}

// ratings gives the upper ratings that the files state, in the order of the tags.
func (s *System) ratings() (out []rating) {
	if len(s.Cases) == 0 {
		return nil
	}
	c := s.at(0)
	c.eachPart(func(d *compiler.Device, b *lang.Block) {
		eachRating(d, b, func(attribute string, v *lang.Value, nodes []int) {
			r := rating{part: d, name: attribute, value: v, nodes: nodes}
			switch q := v.Quantity; {
			case q.Form == quantity.Single:
				r.pa = q.Nominal.PressurePa(c.Site)
			case q.HasHigh:
				r.pa = q.High.PressurePa(c.Site)
			default:
				return
			}
			out = append(out, r)
		})
	})
	return out
}

// eachPart is eachBody without gauges.
func (c *Case) eachPart(f func(d *compiler.Device, b *lang.Block)) {
	c.eachBody(func(d *compiler.Device, b *lang.Block) {
		if d.Kind != "gauge" {
			f(d, b)
		}
	})
}

// An excess is what one part may see at worst, and of what.
type excess struct {
	rating
	bound
}

// worst holds every rating against what can reach the part. Where a relief device
// keeps it, that is what is told: see relief-above-rated. Found once.
func (s *System) worst() []excess {
	if s.sees != nil {
		return s.sees
	}
	all := []excess{}
	for _, r := range s.ratings() {
		all = append(all, excess{rating: r})
	}
	if s.sees = all; len(all) == 0 {
		return all
	}
	opened := []*compiler.Device{nil}
	for i := range s.Program.Devices {
		if d := &s.Program.Devices[i]; d.Kind == "reducer" && d.Element >= 0 {
			opened = append(opened, d)
		}
	}
	for _, d := range opened {
		at := s.reach(d)
		for i := range all {
			for _, n := range all[i].nodes {
				if b := at[n]; b.by != nil && (all[i].by == nil || b.pa > all[i].bound.pa*(1+1e-9)) {
					all[i].bound = b
				}
			}
		}
	}
	return all
}

func judgeUnprotected(s *System) {
	if len(s.Cases) == 0 {
		return
	}
	c := s.at(0)
	type group struct {
		by, opened *compiler.Device
		parts      []excess
	}
	var groups []*group
	for _, e := range s.worst() {
		if e.by == nil || e.by.Kind == "relief" || e.by == e.part {
			continue
		}
		if c.atMost("unprotected", e.part.Tag, e.name, e.bound.pa, e.rating.pa*(1+1e-9)) {
			continue
		}
		i := slices.IndexFunc(groups, func(g *group) bool { return g.by == e.by && g.opened == e.opened })
		if i < 0 {
			i = len(groups)
			groups = append(groups, &group{by: e.by, opened: e.opened})
		}
		groups[i].parts = append(groups[i].parts, e)
	}
	for _, g := range groups {
		// One relief device may protect them all: they are one finding, at the weakest.
		slices.SortStableFunc(g.parts, func(a, b excess) int { return cmp.Compare(a.rating.pa, b.rating.pa) })
		e := g.parts[0]
		d := diag.Diagnostic{
			Code: "unprotected", Level: diag.Alarm, Range: e.value.Range, At: e.part.Tag, Unit: "Pa",
			Value: c.Known(e.bound.pa), Limit: c.Known(e.rating.pa),
			Message: fmt.Sprintf("%s is rated for %s, %s, and no relief device stands before the next shut-off", e.part.Tag, c.show(e.rating.pa, "pressure"), e.told(c)),
			Hint:    "put a relief device there with nothing between that can shut, plug or check, or a part that stands the pressure",
		}
		var names []string
		for _, o := range g.parts[1:] {
			if o.part != e.part && !slices.Contains(names, o.part.Tag) {
				names = append(names, o.part.Tag)
			}
		}
		if len(names) > 0 {
			d.Message += fmt.Sprintf("; so it is with %s", listed(names, 6))
		}
		s.flag(d)
	}
}
