package solver

import (
	"flag"
	"fmt"
	"math"
	"slices"
	"testing"

	"tapline/solver/fluid"
)

var secondFlag = flag.Int("second", 1060, "number of small networks held against the second method")

const (
	smallNetwork = 14    // most free nodes
	closedGap    = 1e-8  // relative distance of two ends that have met
	agree        = 1e-9  // of pressures
	agreeFlow    = 1e-8  // of flows, beside what the ends' distance is worth
	passes       = 1e-12 // kg/s that make a node one that flows
)

// second is the outcome of the second method for one network.
type second struct {
	low, high           []float64 // from the two ends
	floor, roof         []float64 // the enclosure reached by plain sweeps
	enclosed, converged bool
	sweeps              int
}

// solveAgain brings both ends to their limits. Terms of a lift that break the
// monotone class (a loading that follows a node, an effect of the wrong side)
// are held while the rest is solved, and moved after it until they stand.
func solveAgain(g *relaxer) (s second) {
	s.low, s.high = g.start(g.lo), g.start(g.hi)
	if g.monotone() {
		g.enclose(s.low, s.high, 1e-9, 60)
		s.floor, s.roof = slices.Clone(s.low), slices.Clone(s.high)
		s.enclosed = g.apart(s.low, s.high) <= closedGap
		s.converged = g.together(s.low, 400) && g.together(s.high, 400)
	} else {
		s.converged = g.stand(s.low) && g.stand(s.high)
	}
	s.sweeps = g.sweeps
	return s
}

// apart gives the largest relative distance of two answers over the free nodes
// that pass something in either.
func (g *relaxer) apart(a, b []float64) (most float64) {
	for _, p := range [][]float64{a, b} {
		g.take(p)
		for _, i := range g.free {
			if g.throughput(i, p) > passes {
				most = max(most, math.Abs(a[i]/b[i]-1))
			}
		}
	}
	return most
}

// compare holds a result against the second method in a network where both ends
// met, as far as nodes pass anything.
func compare(g *relaxer, r *Result, s *second) (worst, worstFlow float64, err error) {
	g.take(s.low)
	for _, i := range g.free {
		o, name := r.Nodes[i], g.n.Nodes[i]
		if g.throughput(i, s.low) > passes {
			miss := max(math.Abs(s.low[i]/o.PressurePa-1), math.Abs(s.high[i]/o.PressurePa-1))
			worst = max(worst, miss)
			if o.State != Flowing || !(miss <= agree) {
				return worst, worstFlow, fmt.Errorf("%s (%v): %.12g Pa, the second method %.12g and %.12g", name, o.State, o.PressurePa, s.low[i], s.high[i])
			}
			continue
		}
		if s.floor != nil && o.State == DeadEnd && !(o.PressurePa >= s.floor[i]*(1-agree) && o.PressurePa <= s.roof[i]*(1+agree)) {
			return worst, worstFlow, fmt.Errorf("%s (%v): %.12g Pa is not within %.12g to %.12g", name, o.State, o.PressurePa, s.floor[i], s.roof[i])
		}
	}
	for i, e := range g.n.Elements {
		m, ulp := g.pass(i, s.low[e.From], s.low[e.To])
		got := r.Elements[i].FlowKgS
		allowed := agreeFlow*math.Abs(m) + passes
		for _, end := range []int{e.From, e.To} {
			ends := math.Abs(s.high[end]/s.low[end] - 1)
			if r.Nodes[end].State == Flowing {
				ends += math.Abs(r.Nodes[end].PressurePa/s.low[end] - 1)
			}
			allowed += ulp * (16 + ends*0x1p52)
		}
		if ulp*16 < 1e-9*math.Abs(m) {
			worstFlow = max(worstFlow, math.Abs(got/m-1))
		}
		if !(math.Abs(got-m) <= allowed) {
			return worst, worstFlow, fmt.Errorf("%s passes %.12g kg/s, the second method %.12g", e.Name, got, m)
		}
	}
	return worst, worstFlow, nil
}

// TestSecondMethod solves small random networks by a method that has nothing of
// the solver's (relax_test.go), isothermal, with the ideal gas. Where that does
// not converge it says nothing: such networks are counted and printed. Where its
// two ends differ there are several answers, which the solver must have said.
func TestSecondMethod(t *testing.T) {
	air := fluid.Ideal(0.0289652, 1.4, 1.8e-5)
	type tally struct {
		n, enclosed, bothEnds, several, silent, held, trapped, sweeps int
		pressure, flow                                                float64
	}
	tallies := map[string]*tally{}
	total, silent := 0, 0
	for seed := uint64(1_000_000); total < *secondFlag; seed++ {
		n, c, class := generate(seed, air)
		c.Thermal = Isothermal
		if !smallAndPlain(c) {
			continue
		}
		total++
		r, err := NewWorkspace(n).Solve(c)
		if err != nil {
			t.Fatalf("seed %d (%s): %v", seed, class, err)
		}
		if r.Status != Solved {
			t.Errorf("seed %d (%s): %s", seed, class, r.Reason)
			continue
		}
		y := tallies[class]
		if y == nil {
			y = &tally{}
			tallies[class] = y
		}
		y.n++
		g, err := newRelaxer(n, c)
		if err != nil {
			t.Fatal(err)
		}
		held, trapped := g.holdResting(r)
		if trapped {
			y.trapped++
			silent++
			continue
		}
		if held {
			y.held++
		}
		s := solveAgain(g)
		y.sweeps += s.sweeps
		if g.monotone() && r.Several {
			t.Errorf("seed %d (%s): several answers said of a network that has one", seed, class)
		}
		switch {
		case !s.converged:
			y.silent++
			silent++
			t.Logf("seed %d (%s, %d free nodes): the second method does not converge", seed, class, len(g.free))
		case g.apart(s.low, s.high) > closedGap:
			if g.monotone() {
				t.Errorf("seed %d (%s): the second method finds two answers where there is one", seed, class)
			}
			y.several++
			if held && r.Several {
				break // where its dome rests elsewhere, so does the other answer
			}
			for k, end := range [][]float64{s.low, s.high} {
				if !g.among(end, r) {
					t.Errorf("seed %d (%s): the answer from all-%s is not among the solver's (several: %v)", seed, class, [2]string{"low", "high"}[k], r.Several)
				}
			}
		case r.Several && g.among(s.low, r):
			y.several++ // both ends led to one of the several
		default:
			p, w, err := compare(g, r, &s)
			y.pressure, y.flow = max(y.pressure, p), max(y.flow, w)
			if err != nil {
				t.Errorf("seed %d (%s): %v", seed, class, err)
			}
			if s.enclosed {
				y.enclosed++
			} else {
				y.bothEnds++
			}
		}
	}
	for _, class := range classes {
		if y := tallies[class]; y != nil {
			t.Logf("%-18s %4d networks: enclosed %d, from both ends %d, several answers %d, not converged %d; domes at dead ends held %d, trapped %d; worst pressure %.1e, flow %.1e; sweeps mean %d",
				class, y.n, y.enclosed, y.bothEnds, y.several, y.silent, y.held, y.trapped, y.pressure, y.flow, y.sweeps/y.n)
		}
	}
	t.Logf("the second method answers %d of %d", total-silent, total)
	if silent*20 > total {
		t.Errorf("the second method says nothing of %d in %d", silent, total)
	}
}

// smallAndPlain leaves out what the second method has no answer to: devices that
// jump (held against enumeration instead), inflows, and large networks.
func smallAndPlain(c *Case) bool {
	free := 0
	for i := range c.Devices {
		if c.Devices[i].Snap {
			return false
		}
	}
	for _, k := range c.Conditions {
		switch k.Kind {
		case Inflow:
			return false
		case Free:
			free++
		}
	}
	return free <= smallNetwork
}

// among reports whether pressures are one of a result's answers, at the nodes
// that pass anything.
func (g *relaxer) among(p []float64, r *Result) bool {
	g.take(p)
	answers := [][]NodeResult{r.Nodes}
	for _, o := range r.Others {
		answers = append(answers, o.Nodes)
	}
	for _, a := range answers {
		same := true
		for _, i := range g.free {
			if g.throughput(i, p) > passes && !(math.Abs(a[i].PressurePa/p[i]-1) <= 1e-6) {
				same = false
			}
		}
		if same {
			return true
		}
	}
	return false
}
