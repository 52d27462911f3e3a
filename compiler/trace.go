package compiler

import (
	"fmt"
	"strings"

	"tapline/solver"
)

// trace says in sentences how a case was solved: what was tried in which order,
// how the flows came to agree with their laws, and what was found besides.
func (p *Program) trace(r *solver.Result) []string {
	var out []string
	if len(r.History) == 0 {
		return append(out, "nothing was iterated: "+r.Reason)
	}
	out = append(out, "starts from a linear network in the squares of the pressures, every regulator holding its set")
	passes, most, last := 0, 0, 0
	for from := 0; from < len(r.History); {
		to := from + 1
		for to < len(r.History) && sameKind(r.History[from], r.History[to]) {
			to++
		}
		first := r.History[from]
		if first.Search {
			break
		}
		passes = max(passes, first.Pass)
		if first.Pass < last {
			out = append(out, "a device that jumps changes its position, or is held at an end of its cycle: solved again")
		}
		last = first.Pass
		if most < mostTraced {
			out = append(out, stretch(r.History[from:to]))
			most++
		}
		from = to
	}
	if most == mostTraced {
		out = append(out, "... and so on")
	}
	if r.Status != solver.Solved {
		out = append(out, "gives up: "+r.Reason)
		if names := p.named(r.Unbalanced); names != "" {
			out = append(out, "flows do not balance at "+names)
		}
		return out
	}
	out = append(out, fmt.Sprintf("settled after %s of pressures and then gases and temperatures, %s in all; the flows balance within %s of what passes",
		count(passes, "pass", "passes"), count(r.Iterations, "factorisation", "factorisations"), within(r.Residual)))
	if r.Cycling {
		out = append(out, "no set of positions of the devices that jump is consistent, so their mean and both ends were solved")
	}
	search := 0
	for _, h := range r.History {
		if h.Search {
			search++
		}
	}
	if search > 0 {
		found := "none"
		if n := len(r.Others); n > 0 {
			var starts []string
			for _, o := range r.Others {
				starts = append(starts, o.Start)
			}
			found = fmt.Sprintf("%d (from %s)", n, strings.Join(starts, ", "))
		}
		out = append(out, fmt.Sprintf("looked on for %s for what friction leaves open and for other answers; other answers found: %s", count(search, "step", "steps"), found))
	}
	return out
}

func within(residual float64) string {
	if residual < 1e-15 {
		return "rounding"
	}
	return fmt.Sprintf("%.1g", residual)
}

// mostTraced bounds the lines of the iterations.
const mostTraced = 40

// sameKind reports whether two iterations belong to one stretch.
func sameKind(a, b solver.Iteration) bool {
	return a.Pass == b.Pass && a.Held == b.Held && a.Search == b.Search && (a.Lambda > 0) == (b.Lambda > 0)
}

// stretch describes a run of iterations of one kind.
func stretch(h []solver.Iteration) string {
	kind := count(len(h), "full step", "full steps")
	if h[0].Lambda > 0 {
		kind = count(len(h), "step", "steps") + " in pseudo-time"
	}
	if h[0].Held {
		kind += " with the loads of domes and seats held"
	}
	last := h[len(h)-1]
	text := fmt.Sprintf("pass %d: %s", h[0].Pass, kind)
	if len(h) > 1 {
		var misses []string
		for _, i := range h[max(1, len(h)-5):] {
			misses = append(misses, fmt.Sprintf("%.0e", i.Mismatch))
		}
		text += ", worst mismatch of a flow and its law " + strings.Join(misses, ", ")
	}
	return text + fmt.Sprintf(", last move of a pressure %.0e of itself", last.Step)
}

func count(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}

func (p *Program) named(nodes []int) string {
	var names []string
	for _, n := range nodes {
		names = append(names, p.Nodes[n].Name)
	}
	return strings.Join(names, ", ")
}
