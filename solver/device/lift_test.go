package device

import (
	"math"
	"testing"
)

const atmPa = 101325.0

// Each line is a device at a state for which the lift follows by hand from the
// formulas of its spec (own arithmetic).
func TestLift(t *testing.T) {
	spring := ReducerSpec{SetPa: 4e5, ReferenceInletPa: 50e5, DroopPa: 0.25e5, SupplyEffect: 0.012, LockUpPa: 1e4, AtmospherePa: atmPa}
	domed := spring
	domed.Dome = &DomeSpec{Ratio: 0.8, BiasPa: 0.5e5}
	charged := spring
	charged.Dome = &DomeSpec{Ratio: 1, BiasPa: -0.2e5, FixedPa: 6e5}
	holder := HolderSpec{SetPa: 2e5, AccumulationPa: 0.08e5, OutletEffect: 0.02, ReferenceOutletPa: atmPa, AtmospherePa: atmPa}
	followed := holder
	followed.Dome = &DomeSpec{Ratio: 1, BiasPa: 0.8e5}

	cases := []struct {
		name          string
		lift          Lift
		up, down, ref float64
		want          float64
	}{
		{"reducer at onset", spring.Lift(), 50e5, 4e5, 0, 0},
		{"reducer fully open", spring.Lift(), 50e5, 3.75e5, 0, 1},
		{"reducer, inlet 20 bar lower: onset 0.24 bar higher", spring.Lift(), 30e5, 4.24e5, 0, 0},
		{"dome reducer", domed.Lift(), 50e5, 0.8*7e5 + 0.2*atmPa + 0.5e5, 7e5, 0},
		{"dome reducer, dome 1 bar up", domed.Lift(), 50e5, 0.8*8e5 + 0.2*atmPa + 0.5e5 - 0.125e5, 8e5, 0.5},
		{"charged dome", charged.Lift(), 50e5, 5.8e5, 0, 0},
		{"reducer that lost its spring", spring.Lost(), atmPa, atmPa, 0, 0},
		{"reducer that lost its dome", domed.Lost(), 50e5, atmPa, 9e5, 0.012 * (atmPa - 50e5) / 0.25e5},
		{"holder at onset", holder.Lift(), 2e5, atmPa, 0, 0},
		{"holder fully open", holder.Lift(), 2.08e5, atmPa, 0, 1},
		{"holder, outlet 0.5 bar up: held 0.01 bar lower", holder.Lift(), 1.99e5, atmPa + 0.5e5, 0, 0},
		{"dome holder", followed.Lift(), 4.3e5 + 0.04e5, atmPa, 3.5e5, 0.5},
		{"holder that lost its dome", followed.Lost(), atmPa + 0.08e5, atmPa, 3.5e5, 1},
		{"check valve cracks", CheckSpec{CracksAtPa: 7e3, BandPa: 3e3}.Lift(), 2.07e5, 2e5, 0, 0},
		{"check valve open", CheckSpec{CracksAtPa: 7e3, BandPa: 3e3}.Lift(), 2.10e5, 2e5, 0, 1},
		{"relief at set", ReliefSpec{SetPa: 7e5, OverpressurePa: 0.6e5, Beta: 1, AtmospherePa: atmPa}.Lift(), 7e5, atmPa, 0, 0},
		{"relief with back pressure", ReliefSpec{SetPa: 7e5, OverpressurePa: 0.6e5, Beta: 1, AtmospherePa: atmPa}.Lift(), 7.8e5, atmPa + 0.5e5, 0, 0.5},
		{"balanced relief", ReliefSpec{SetPa: 7e5, OverpressurePa: 0.6e5, AtmospherePa: atmPa}.Lift(), 7.6e5, 3e5, 0, 1},
	}
	for _, c := range cases {
		if got := c.lift.At(c.up, c.down, c.ref); math.Abs(got-c.want) > 1e-9*(1+math.Abs(c.want)) {
			t.Errorf("%s: z = %g, want %g", c.name, got, c.want)
		}
	}
	if got := spring.Lift().LockUpPa; got != 1e4 {
		t.Errorf("lock-up %g", got)
	}
	for _, l := range []Lift{ReducerSpec{SetPa: 2e5}.Lift(), HolderSpec{SetPa: 2e5}.Lift(), CheckSpec{}.Lift(), ReliefSpec{SetPa: 2e5}.Lift()} {
		if z := l.At(3e5, 1e5, 0); math.IsInf(z, 0) || math.IsNaN(z) {
			t.Errorf("no band: z = %g of %+v", z, l)
		}
	}
}
