package rule

import (
	"fmt"
	"slices"

	"tapline/compiler"
	"tapline/lang/diag"
)

var noFilter = &Rule{
	Codes:     []string{"no-filter"},
	Means:     "gas or liquid comes from a source to the seat of a regulator without passing a filter",
	Basis:     "common practice: dirt on the seat is the usual failure of a regulator, and a seat that does not close is a reducer wide open",
	perSystem: judgeFilters,
}

// Only the first regulator of a way is named: a filter before it serves those after.
func judgeFilters(s *System) {
	if len(s.Cases) == 0 {
		return
	}
	c := s.at(0)
	for i := range s.Program.Devices {
		d := &s.Program.Devices[i]
		if d.Kind != "reducer" && d.Kind != "holder" || d.Element < 0 {
			continue
		}
		before := s.spread([]int{d.In}, func(e *compiler.Device, forward bool) bool {
			switch e.Kind {
			case "filter", "reducer", "holder", "relief":
				return false
			}
			return !forward && !s.lockedShut(e) // against the direction of the path
		})
		var from []string
		for n, yes := range before {
			if b := s.Program.Nodes[n].Boundary; yes && b >= 0 && s.Program.Devices[b].Kind == "source" {
				from = append(from, s.Program.Devices[b].Tag)
			}
		}
		if len(from) == 0 {
			continue
		}
		slices.Sort(from)
		s.flag(diag.Diagnostic{
			Code: "no-filter", Level: diag.Caution, Range: c.Blocks[i].TagRange, At: d.Tag,
			Message: fmt.Sprintf("no filter stands between %s and the seat of %s", listed(from, 4), d.Tag),
			Hint:    "put a filter into its path, before it",
		})
	}
}
