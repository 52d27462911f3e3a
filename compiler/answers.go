package compiler

import (
	"slices"
	"strings"

	"tapline/solver"
)

// answers gives the further steady states of a case by name, sorted.
func (p *Program) answers(r *solver.Result) []AnswerOutcome {
	out := []AnswerOutcome{}
	for _, a := range r.Others {
		o := AnswerOutcome{Start: a.Start}
		for i := range p.Nodes {
			n := a.Nodes[i]
			o.Nodes = append(o.Nodes, AnswerNode{p.Nodes[i].Name, n.State.String(), Known(n.PressurePa), Known(n.TemperatureK)})
		}
		slices.SortFunc(o.Nodes, func(a, b AnswerNode) int { return strings.Compare(a.Name, b.Name) })
		for i := range p.Devices {
			if d := &p.Devices[i]; d.Element >= 0 {
				e := a.Elements[d.Element]
				o.Devices = append(o.Devices, AnswerDevice{d.Tag, e.State.String(), Known(e.Lift), Known(e.FlowKgS)})
			}
		}
		out = append(out, o)
	}
	return out
}
