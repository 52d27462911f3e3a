package solver

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"tapline/solver/fluid"
)

// A hand is an answer made by hand: lags need only flows and states.
type hand struct {
	n  *Network
	c  *Case
	r  *Result
	in Inside
}

// nitrogen is an ideal gas of nitrogen's mass.
var nitrogen = fluid.Ideal(0.0280134, 1.4, 1.76e-5)

// byHand makes a network of k nodes at one pressure and 20 degC, node 0 a source.
func byHand(k int, pPa float64, f fluid.Fluid) *hand {
	h := &hand{n: &Network{}, c: &Case{AmbientK: 293.15, Fluids: []fluid.Fluid{f}}, r: &Result{}}
	for i := range k {
		h.n.Nodes = append(h.n.Nodes, string(rune('A'+i)))
		h.c.Conditions = append(h.c.Conditions, Condition{Fluid: -1})
		rho, _, err := f.Density(293.15, pPa)
		if err != nil {
			panic(err)
		}
		h.r.Nodes = append(h.r.Nodes, NodeResult{State: Flowing, PressurePa: pPa, TemperatureK: 293.15, DensityKgM3: rho, Gas: f})
	}
	h.c.Conditions[0] = Condition{Kind: Pressure, PressurePa: pPa, TemperatureK: 293.15}
	h.in.Nodes = make([]Inner, k)
	return h
}

// join adds an element that holds v and passes a flow.
func (h *hand) join(from, to int, flow float64, v Inner) {
	h.n.Elements = append(h.n.Elements, Element{Name: "e", From: from, To: to, Sense: -1})
	h.c.Devices = append(h.c.Devices, Device{})
	h.r.Elements = append(h.r.Elements, ElementResult{State: Open, FlowKgS: flow, OutletK: 293.15})
	h.in.Elements = append(h.in.Elements, v)
}

func (h *hand) transport(t *testing.T) *Transport {
	t.Helper()
	n, err := New(h.n.Nodes, h.n.Elements)
	if err != nil {
		t.Fatal(err)
	}
	return n.Transport(h.c, h.r, h.in)
}

// row makes tanks and plugs of the given seconds one after the other.
func row(t *testing.T, plugs, tanks []float64) Lag {
	t.Helper()
	h := byHand(len(plugs)+len(tanks)+1, 1e5, nitrogen)
	k := 0
	for i, seconds := range append(append([]float64{}, plugs...), tanks...) {
		v := Inner{VolumeM3: seconds / h.r.Nodes[0].DensityKgM3}
		if i >= len(plugs) {
			v.Mixing = 1
		}
		h.join(k, k+1, 1, v)
		k++
	}
	return h.transport(t).From(0).At(k)
}

// Ninety-five per cent of n equal tanks comes at half the upper 5 % point of the
// chi-square distribution with 2n degrees of freedom: those points as printed in
// the NIST/SEMATECH e-Handbook of Statistical Methods, table 1.3.6.7.4.
func TestTanksAgainstChiSquareTable(t *testing.T) {
	for n, point := range map[int]float64{1: 5.991, 2: 9.488, 3: 12.592, 4: 15.507, 5: 18.307, 10: 31.410, 20: 55.758, 50: 124.342} {
		tanks := make([]float64, n)
		for i := range tanks {
			tanks[i] = 7
		}
		l := row(t, []float64{3}, tanks)
		near(t, "mean", l.Seconds, 3+7*float64(n), 1e-12)
		if got := 2 * (l.Seconds95 - 3) / 7; math.Abs(got-point) > 0.0006 {
			t.Errorf("%d tanks: %.5f, printed %.3f", n, got, point)
		}
		near(t, "response there", l.Response(l.Seconds95), 0.95, 1e-9)
	}
	one := row(t, nil, []float64{1})
	near(t, "one tank", one.Seconds95, -math.Log(0.05), 1e-9) // 2.9957
}

// Unlike tanks are no gamma distribution. The exact answer of two is
// 1 - (a exp(-t/a) - b exp(-t/b))/(a - b).
func TestUnlikeTanks(t *testing.T) {
	worst := 0.0
	for _, b := range []float64{1e-6, 0.01, 0.03, 0.1, 0.2, 0.3, 0.5, 0.7, 0.9, 0.99} {
		l := row(t, nil, []float64{1, b})
		exact := func(t float64) float64 { return 1 - (math.Exp(-t)-b*math.Exp(-t/b))/(1-b) }
		low, high := 0.0, 100.0
		for range 100 {
			if mid := (low + high) / 2; exact(mid) < 0.95 {
				low = mid
			} else {
				high = mid
			}
		}
		worst = max(worst, math.Abs(l.Seconds95/high-1))
	}
	t.Logf("two unlike tanks: 95 %% is off by at most %.2f %%", 100*worst)
	if worst > 0.003 {
		t.Errorf("off by %g", worst)
	}
}

// A leg of 4/5 that takes 10 s and one of 1/5 that takes 30 s meet: the gas is
// 14 s old on average, 80 % of it new after 10 s and all of it after 30 s; worked
// out by hand. Behind, 2 s in a stirred vessel that both pass.
func TestSplitAndRejoin(t *testing.T) {
	h := byHand(5, 1e5, nitrogen)
	rho := h.r.Nodes[0].DensityKgM3
	h.join(0, 1, 1, Inner{VolumeM3: 5 / rho})
	h.join(1, 2, 0.8, Inner{VolumeM3: 0.8 * 5 / rho})
	h.join(3, 1, -0.2, Inner{VolumeM3: 0.2 * 15 / rho}) // written the other way
	h.join(3, 2, 0.2, Inner{VolumeM3: 0.2 * 10 / rho, Mixing: 0.25})
	h.join(2, 4, 1, Inner{})
	h.in.Nodes[4] = Inner{VolumeM3: 2 / rho, Mixing: 1}
	l := h.transport(t).From(0).At(2)
	near(t, "mean age", l.Seconds, 14, 1e-12)
	near(t, "part", l.Part, 1, 1e-12)
	if len(l.Ways) != 2 || len(l.Ways[0].Segments) != 2 || len(l.Ways[1].Segments) != 3 {
		t.Fatalf("ways: %+v", l.Ways)
	}
	near(t, "larger part", l.Ways[0].Part, 0.8, 1e-12)
	near(t, "quick way", l.Ways[0].PlugS, 10, 1e-12)
	near(t, "plug of the slow way", l.Ways[1].PlugS, 27.5, 1e-12)
	near(t, "tank of the slow way", l.Ways[1].TanksS, 2.5, 1e-12)
	near(t, "after 10 s", l.Response(10.0001), 0.8, 1e-12)
	near(t, "before", 1+l.Response(9.9), 1, 0)
	// 0.15 of the 0.2 must have come through the tank: 27.5 + 2.5 ln 4.
	near(t, "95 %", l.Seconds95, 27.5+2.5*math.Log(4), 1e-9)
	behind := h.transport(t).From(0).At(4)
	near(t, "behind the vessel", behind.Seconds, 16, 1e-12)
	through := h.transport(t).From(0).Through(2)
	near(t, "at the end of a reversed leg", through.Seconds, 20, 1e-12)
}

// Two sources: what the second one gives dilutes and does not delay.
func TestSecondSourceAndStandstill(t *testing.T) {
	h := byHand(9, 1e5, nitrogen)
	rho := h.r.Nodes[0].DensityKgM3
	h.c.Conditions[1] = Condition{Kind: Inflow, InflowKgS: 3, TemperatureK: 293.15}
	h.join(0, 2, 1, Inner{VolumeM3: 5 / rho})
	h.join(1, 2, 3, Inner{VolumeM3: 3 * 100 / rho})
	h.join(2, 3, 4, Inner{VolumeM3: 4 / rho})
	h.c.Conditions[3] = Condition{Kind: Pressure, PressurePa: 1e5, TemperatureK: 293.15, Fluid: -1}
	h.join(3, 4, 1, Inner{VolumeM3: 2 / rho}) // a vent gives back what arrives there
	h.join(4, 5, 0, Inner{VolumeM3: 1e-3})    // at rest
	h.join(4, 6, 1e-14, Inner{VolumeM3: 1})   // hardly moving
	h.r.Nodes[5].State = DeadEnd
	h.join(3, 7, 8, Inner{})                                                             // and more
	h.c.Conditions[7] = Condition{Kind: Pressure, PressurePa: 1e5, TemperatureK: 293.15} // a source
	h.join(7, 8, 1, Inner{})
	tr := h.transport(t)
	a, b := tr.From(0), tr.From(1)
	near(t, "first", a.At(2).Seconds, 5, 1e-12)
	near(t, "its part", a.At(2).Part, 0.25, 1e-12)
	near(t, "at the vent", a.At(3).Seconds, 6, 1e-12)
	near(t, "its part", a.At(3).Part, 0.25*4/9, 1e-12)
	near(t, "second", b.At(3).Seconds, 101, 1e-12)
	near(t, "its part", b.At(3).Part, 0.75*4/9, 1e-12)
	near(t, "out of the vent again", a.At(4).Seconds, 8, 1e-12)
	for _, tc := range []struct {
		words string
		lag   Lag
	}{
		{"dead end", a.At(5)},
		{"dead end", a.Through(4)},
		{"nothing that comes", a.At(8)}, // a source gives its own
		{"nothing that comes", a.Through(7)},
		{"nothing that comes", b.At(0)},
		{"thirty years", tr.From(4).At(6)},
	} {
		if !strings.Contains(tc.lag.Reason, tc.words) || !math.IsNaN(tc.lag.Seconds) || !math.IsNaN(tc.lag.Seconds95) || len(tc.lag.Ways) > 0 {
			t.Errorf("%+v, want the words %q", tc.lag, tc.words)
		}
	}
	near(t, "at the source itself", 1+a.At(0).Seconds, 1, 0)
	h.r.Nodes[5].State = Trapped
	if l := h.transport(t).From(0).At(5); !strings.Contains(l.Reason, "shut off") {
		t.Errorf("%+v", l)
	}
	h.r.Status = Unsolved
	if l := h.transport(t).From(0).At(3); !strings.Contains(l.Reason, "not solved") {
		t.Errorf("%+v", l)
	}
}

// A ring that flow goes round has no lag, nor what lies behind it.
func TestNoLagRoundARing(t *testing.T) {
	h := byHand(5, 1e5, nitrogen)
	h.join(0, 1, 1, Inner{})
	h.join(1, 2, 2, Inner{})
	h.join(2, 3, 2, Inner{})
	h.join(3, 1, 1, Inner{})
	h.join(3, 4, 1, Inner{})
	if l := h.transport(t).From(0).At(4); !strings.Contains(l.Reason, "ring") {
		t.Errorf("%+v", l)
	}
}

// Many ways are folded without moving the mean or the sum of parts: twelve
// splits in a row make 4,096.
func TestManyWays(t *testing.T) {
	const splits = 12
	h := byHand(splits+1, 1e5, nitrogen)
	rho := h.r.Nodes[0].DensityKgM3
	mean, variance := 0.0, 0.0
	for i := range splits {
		quick, slow := 1+0.3*float64(i), 4+0.7*float64(i)
		h.join(i, i+1, 0.7, Inner{VolumeM3: 0.7 * quick / rho})
		h.join(i, i+1, 0.3, Inner{VolumeM3: 0.3 * slow / rho})
		mean += 0.7*quick + 0.3*slow
		variance += 0.21 * (slow - quick) * (slow - quick)
	}
	l := h.transport(t).From(0).At(splits)
	near(t, "mean", l.Seconds, mean, 1e-12)
	parts, second := 0.0, 0.0
	for _, w := range l.Ways {
		parts += w.Part
		s := w.PlugS + w.TanksS
		second += w.Part * (s*s + w.Variance)
	}
	near(t, "parts", parts, 1, 1e-12)
	near(t, "variance", second-mean*mean, variance, 1e-9)
	if len(l.Ways) > mostWays {
		t.Errorf("%d ways", len(l.Ways))
	}
	// The sum of twelve choices is close to a normal distribution.
	near(t, "95 %", l.Seconds95, mean+1.645*math.Sqrt(variance), 0.02)
}

// Lag rises with volume in proportion and falls with the flow in proportion, and
// of a single way 95 % is never before the mean.
func TestLagScales(t *testing.T) {
	r := rand.New(rand.NewPCG(4, 2))
	for range 200 {
		p := 1e5 * math.Exp(3*r.Float64())
		h := byHand(4, p, nitrogen)
		flow := math.Exp(-14 + 8*r.Float64())
		for i := range 3 {
			h.join(i, i+1, flow, Inner{VolumeM3: 1e-3 * r.Float64(), Mixing: float64(r.IntN(3)) / 2, Side: Side(r.IntN(3))})
		}
		l := h.transport(t).From(0).At(3)
		if l.Seconds95 < l.Seconds*(1-1e-12) {
			t.Errorf("95 %% after %g s, mean %g s", l.Seconds95, l.Seconds)
		}
		for i := range h.in.Elements {
			h.in.Elements[i].VolumeM3 *= 3
		}
		more := h.transport(t).From(0).At(3)
		near(t, "three times the volume", more.Seconds, 3*l.Seconds, 1e-12)
		near(t, "and its 95 %", more.Seconds95, 3*l.Seconds95, 1e-11)
		for i := range h.r.Elements {
			h.r.Elements[i].FlowKgS *= 12
		}
		fast := h.transport(t).From(0).At(3)
		near(t, "twelve times the flow", fast.Seconds, l.Seconds/4, 1e-12)
		near(t, "and its 95 %", fast.Seconds95, l.Seconds95/4, 1e-11)
	}
}
