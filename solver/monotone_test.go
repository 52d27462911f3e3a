package solver

import (
	"math/rand/v2"
	"testing"

	"tapline/solver/fluid"
)

// Isothermal, without effects of inlet or outlet and without domes, every law
// is monotone, and raising one source lowers no pressure anywhere (Ortega &
// Rheinboldt 1970, section 13.5: inverse isotone).
func TestRaisingASourceLowersNoPressure(t *testing.T) {
	air := fluid.Ideal(0.0289652, 1.4, 1.8e-5)
	compared := 0
	for seed := uint64(2_000_000); seed < 2_000_210; seed++ {
		n, c, class := generate(seed, air)
		if outsideMonotone(class) {
			continue
		}
		c.Thermal = Isothermal
		w := NewWorkspace(n)
		low, err := w.Solve(c)
		if err != nil {
			t.Fatal(err)
		}
		r := rand.New(rand.NewPCG(seed, 3))
		raise := -1
		for i, k := range c.Conditions {
			if k.Kind == Pressure && k.Fluid >= 0 && (raise < 0 || r.IntN(2) == 0) {
				raise = i
			}
		}
		c.Conditions[raise].PressurePa *= 1 + 0.3*r.Float64()
		high, err := w.Solve(c)
		if err != nil {
			t.Fatal(err)
		}
		if low.Status != Solved || high.Status != Solved {
			t.Errorf("seed %d (%s): %v %s, %v %s", seed, class, low.Status, low.Reason, high.Status, high.Reason)
			continue
		}
		for i := range n.Nodes {
			a, b := low.Nodes[i], high.Nodes[i]
			if a.State == Trapped || b.State == Trapped {
				continue // only bounds are known
			}
			compared++
			// The pressures are good to the solver's own tolerance.
			if b.PressurePa < a.PressurePa*(1-1e-7) {
				t.Errorf("seed %d (%s): raising %s takes %s from %.10g to %.10g Pa", seed, class, n.Nodes[raise], n.Nodes[i], a.PressurePa, b.PressurePa)
			}
		}
	}
	if compared < 2000 {
		t.Errorf("only %d pressures compared", compared)
	}
}
