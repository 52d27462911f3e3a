// Package rule holds the limits of a system against what was solved. Each rule
// stands in a file of its own: its code, what it means, why it matters, what it
// rests on, and the judgement. Some rules judge the answers of a case, some the
// system as such.
//
// A judgement appends checks (every limit held against a value, passed or not)
// to the run's outcome and gives flags, which are diagnostics with the place
// that sets the limit.
package rule

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"tapline/compiler"
	"tapline/lang"
	"tapline/lang/diag"
	"tapline/lang/quantity"
	"tapline/solver"
)

// A Rule is one thing that is judged.
type Rule struct {
	Codes []string // codes of the flags it raises
	// Means says what a flag of this rule says; Basis what it rests on.
	Means, Basis string

	perCase   func(*Case)
	perSystem func(*System)
}

// Rules gives all rules, in the order of their first codes.
func Rules() []*Rule {
	all := []*Rule{
		aboveRated, band, beyondCurve, biasTooSmall, blockedIn, cavitating, condensing, cycling, domeLoop, flashing, holderAgainstRelief, holderSnaps, hydrate,
		lagRule, liftEdge, lockupAgainstRelief, neverFlows, noFilter, noRestriction, notComputed, outsideRange,
		reliefAboveRated, reliefBackPressure, reliefBlocked, reliefCapacity, reliefInletLoss, reliefSimmer, reverseFlow, severalAnswers, smallValve, springPulls, trapped, unprotected, unsolved,
	}
	slices.SortFunc(all, func(a, b *Rule) int { return cmp.Compare(a.Codes[0], b.Codes[0]) })
	return all
}

// System is one system under judgement.
type System struct {
	*compiler.Run
	compiler.Numbers // of flags and checks
	flags            []diag.Diagnostic
	checks           []compiler.CheckOutcome
	cases            []Case

	atNode   [][]int                     // see touching
	lockedIn map[*compiler.Device]string // see locked
	kept     []bound                     // see caps
	sees     []excess                    // see worst
	heads    []float64                   // see headPa
}

// Case is one case of it.
type Case struct {
	*System
	*compiler.Case
	Result    *solver.Result
	Protected *solver.Result // see compiler.Run.Protected
	Outcome   *compiler.CaseOutcome

	relief []bool // see relieved
}

// Judge applies all rules to a run, fills the checks of its outcome and gives
// the flags, sorted.
func Judge(run *compiler.Run) []diag.Diagnostic {
	s := &System{Run: run, cases: make([]Case, len(run.Cases))}
	for i := range s.cases {
		s.cases[i] = Case{System: s, Case: run.Cases[i], Result: run.Results[i], Protected: run.Protected[i], Outcome: &run.Outcome.Cases[i]}
	}
	rules := Rules()
	for i := range s.cases {
		for _, r := range rules {
			if r.perCase != nil {
				r.perCase(&s.cases[i])
			}
		}
		if i == 0 { // the others have about as many
			s.checks = slices.Grow(s.checks, len(s.cases)*len(s.checks))
		}
	}
	for _, r := range rules {
		if r.perSystem != nil {
			r.perSystem(s)
		}
	}
	s.sort()
	if len(s.checks) > 0 { // else it is empty, and not nil
		run.Outcome.Checks = s.checks
	}
	for i := range s.flags {
		s.flags[i].System = run.Outcome.Name
	}
	diag.Sort(s.flags)
	return s.flags
}

// sort orders the checks by name, then in the order of the cases. They are large, so that
// their order is found first, and each is moved once.
func (s *System) sort() {
	number := map[string]int{}
	for i, c := range s.Cases {
		number[c.Name] = i
	}
	type place struct{ of, at int } // the case, and where it stands in checks
	order := make([]place, len(s.checks))
	for i := range order {
		order[i] = place{number[s.checks[i].Case], i}
	}
	slices.SortFunc(order, func(x, y place) int {
		a, b := &s.checks[x.at], &s.checks[y.at]
		return cmp.Or(strings.Compare(a.Name, b.Name), x.of-y.of, strings.Compare(a.At, b.At), strings.Compare(a.Quantity, b.Quantity), x.at-y.at)
	})
	for i := range order {
		first := s.checks[i]
		for k := i; ; {
			from := order[k].at
			if order[k].at = k; from == i {
				s.checks[k] = first
				break
			}
			s.checks[k] = s.checks[from]
			k = from
		}
	}
}

// A CaseJudge applies the rules about single cases to one case after the other, of a
// spread. It belongs to one goroutine.
type CaseJudge struct {
	s     System
	rules []*Rule
}

// NewCaseJudge gives a judge for a run.
func NewCaseJudge(run *compiler.Run) *CaseJudge {
	j := &CaseJudge{s: System{Run: run}}
	for _, r := range Rules() {
		if r.perCase != nil {
			j.rules = append(j.rules, r)
		}
	}
	return j
}

// Case judges an answer. What it gives holds until the next case.
func (j *CaseJudge) Case(a *compiler.Answer) ([]compiler.CheckOutcome, []diag.Diagnostic) {
	j.s.checks, j.s.flags = j.s.checks[:0], j.s.flags[:0]
	j.s.Reuse()
	c := &Case{System: &j.s, Case: a.Case, Result: a.Result, Protected: a.Protected, Outcome: a.Outcome}
	for _, r := range j.rules {
		r.perCase(c)
	}
	return j.s.checks, j.s.flags
}

func (s *System) flag(d diag.Diagnostic) { s.flags = append(s.flags, d) }

// flag raises a flag in a case.
func (c *Case) flag(d diag.Diagnostic) {
	d.Case = c.Name
	c.System.flag(d)
}

// solved reports whether the case has an answer.
func (c *Case) solved() bool { return c.Result.Status == solver.Solved }

// show writes a value in the units the site asks for.
func (c *Case) show(si float64, kind string) string {
	unit := c.Run.Outcome.ShownIn[kind]
	switch kind {
	case "drop":
		unit, kind = "bar", "pressure difference"
	case "ratio":
		return fmt.Sprintf("%.4g %%", 100*si)
	case "kelvin":
		return fmt.Sprintf("%.3g K", si)
	}
	text, err := quantity.Format(si, unit, c.Site, quantity.Stream{})
	if err != nil {
		return fmt.Sprintf("%.5g (SI)", si)
	}
	return text
}

// showFlow writes a mass flow in the unit the site asks for, counted for the gas or
// the liquid of a device.
func (c *Case) showFlow(w float64, d *compiler.Device) string {
	unit, of := c.Run.Outcome.ShownIn["gas_flow"], quantity.Stream{MolarMass: c.molarMass(d)}
	if rho := c.LiquidKgM3(c.Result, d); rho > 0 {
		unit, of.DensityKgM3 = c.Run.Outcome.ShownIn["liquid_flow"], rho
	}
	text, err := quantity.Format(w, unit, c.Site, of)
	if err != nil {
		text, _ = quantity.Format(w, "g/h", c.Site, quantity.Stream{})
	}
	return text
}

// molarMass is that of the gas that passes a device, 0 where none does.
func (c *Case) molarMass(d *compiler.Device) float64 { return c.MolarMass(c.Result, d) }

// each calls f for every device in the network with its merged block.
func (c *Case) each(f func(d *compiler.Device, b *lang.Block)) {
	for i := range c.Program.Devices {
		if d := &c.Program.Devices[i]; d.In >= 0 {
			f(d, c.Blocks[i])
		}
	}
}

// eachBody is each with the multiway valves, which stand there as a device for each way
// through them: what holds pressure.
func (c *Case) eachBody(f func(d *compiler.Device, b *lang.Block)) {
	for i := range c.Program.Devices {
		if d := &c.Program.Devices[i]; d.In >= 0 || len(d.Passages) > 0 && len(d.Ports) > 0 {
			f(d, c.Blocks[i])
		}
	}
}

// element is the answer of a device, false where it is no element.
func (c *Case) element(d *compiler.Device) (solver.ElementResult, bool) {
	if d.Element < 0 {
		return solver.ElementResult{}, false
	}
	return c.Result.Elements[d.Element], true
}

// A limit is an interval that a value must lie in; NaN where it has no end.
type limit struct {
	low, high         float64
	lowOpen, highOpen bool
}

// holds reports whether x is inside, and gives the end it is beyond.
func (l limit) holds(x float64) (ok bool, end float64) {
	switch {
	case x < l.low, l.lowOpen && x == l.low:
		return false, l.low
	case x > l.high, l.highOpen && x == l.high:
		return false, l.high
	}
	return true, math.NaN()
}

// margin is the distance to the nearer end, negative outside.
func (l limit) margin(x float64) float64 {
	m := math.Inf(1)
	if !math.IsNaN(l.low) {
		m = min(m, x-l.low)
	}
	if !math.IsNaN(l.high) {
		m = min(m, l.high-x)
	}
	return m
}
