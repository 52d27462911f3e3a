package solver

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"tapline/solver/device"
	"tapline/solver/fluid"
)

// watery is a liquid like water.
func watery() *fluid.IdealLiquid {
	return &fluid.IdealLiquid{MolarMassKgMol: 0.018, DensityKgM3: 998, CompressibilityPa: 4.6e-10, CpJKgK: 4180, ViscosityPaS: 1e-3, VapourPa: 2339}
}

// onHills puts the random networks on uneven ground: what is not joined by a tube
// stands at one height, tubes climb from one height to another, and so heads close
// round loops.
func onHills(seed uint64, f fluid.Fluid) (*Network, *Case, string) {
	n, c, class := generate(seed, f)
	r := rand.New(rand.NewPCG(seed, 23))
	level := make([]int, len(n.Nodes))
	for i := range level {
		level[i] = i
	}
	find := func(i int) int {
		for level[i] != i {
			i = level[i]
		}
		return i
	}
	for i, e := range n.Elements {
		if _, ok := c.Devices[i].Passage.(device.Tube); !ok {
			level[find(e.From)] = find(e.To)
		}
	}
	height := make([]float64, len(n.Nodes))
	for i := range height {
		height[i] = 4 * r.Float64()
	}
	for i, e := range n.Elements {
		if t, ok := c.Devices[i].Passage.(device.Tube); ok {
			t.RiseM = height[find(e.To)] - height[find(e.From)]
			c.Devices[i].Passage = t
		}
	}
	return n, c, class
}

func TestRandomLiquidNetworks(t *testing.T) {
	judge(t, *countFlag/10, generate, watery())
}

func TestRandomLiquidNetworksOnHills(t *testing.T) {
	judge(t, *countFlag/20, onHills, watery())
}

// warmHills is onHills where water does not freeze.
func warmHills(seed uint64, f fluid.Fluid) (*Network, *Case, string) {
	n, c, class := onHills(seed, f)
	c.AmbientK = max(c.AmbientK, 280)
	for i := range c.Conditions {
		c.Conditions[i].TemperatureK = max(c.Conditions[i].TemperatureK, 280)
	}
	return n, c, class
}

// The same with liquids by equations of state, which warm as they are throttled.
func TestRandomRealLiquidNetworks(t *testing.T) {
	for _, x := range []map[string]float64{{"water": 1}, {"n_hexane": 0.6, "n_octane": 0.4}} {
		l, err := fluid.LiquidOf(x)
		if err != nil {
			t.Fatal(err)
		}
		judge(t, *countFlag/200, warmHills, l)
	}
}

// Six bar of water hold no column of 80 m: no answer, and the reason is told.
func TestBrokenColumnIsTold(t *testing.T) {
	n, err := New([]string{"A", "B", "C"}, []Element{{From: 0, To: 1, Sense: -1}, {From: 0, To: 2, Sense: -1}})
	if err != nil {
		t.Fatal(err)
	}
	tube := device.Tube{BoreM: 4e-3, LengthM: 80, RiseM: 80}
	c := &Case{Devices: []Device{cv(0.03), {Passage: tube, Mean: true}}, Fluids: []fluid.Fluid{watery()}, AmbientK: 293.15, Conditions: []Condition{
		{Kind: Pressure, PressurePa: 6e5, TemperatureK: 293.15, Fluid: 0}, {Kind: Pressure, PressurePa: 1e5, TemperatureK: 293.15, Fluid: -1}, {Fluid: -1}}}
	r, err := NewWorkspace(n).Solve(c)
	if err != nil {
		t.Fatal(err)
	}
	if r.Status != Unsolved || !strings.Contains(r.Reason, "column of liquid") {
		t.Errorf("%v: %s", r.Status, r.Reason)
	}
}

// piped makes a network: n0 is a source at 6 bara, the last node a vent at 1 bara.
func piped(t *testing.T, nodes int, f fluid.Fluid, elements []Element, devices []Device) *Result {
	t.Helper()
	c := &Case{Devices: devices, Fluids: []fluid.Fluid{f}, AmbientK: 293.15, Thermal: Isothermal, Conditions: make([]Condition, nodes)}
	names := make([]string, nodes)
	for i := range c.Conditions {
		names[i] = string(rune('A' + i))
		c.Conditions[i].Fluid = -1
	}
	c.Conditions[0] = Condition{Kind: Pressure, PressurePa: 6e5, TemperatureK: 293.15, Fluid: 0}
	c.Conditions[nodes-1] = Condition{Kind: Pressure, PressurePa: 1e5, TemperatureK: 293.15, Fluid: -1}
	for i := range elements {
		elements[i].Sense = -1
	}
	n, err := New(names, elements)
	if err != nil {
		t.Fatal(err)
	}
	r, err := NewWorkspace(n).Solve(c)
	if err != nil || r.Status != Solved {
		t.Fatal(err, r)
	}
	if err := verify(n, c, r); err != nil {
		t.Error(err)
	}
	return r
}

// stiff is a liquid without compressibility.
func stiff(rho, viscosity, vapour float64) *fluid.IdealLiquid {
	return &fluid.IdealLiquid{MolarMassKgMol: 0.018, DensityKgM3: rho, CpJKgK: 4180, ViscosityPaS: viscosity, VapourPa: vapour}
}

func within(t *testing.T, what string, got, want, relative float64) {
	t.Helper()
	if math.Abs(got-want) > relative*math.Abs(want) {
		t.Errorf("%s is %.10g, want %.10g", what, got, want)
	}
}

func cv(c float64) Device { return Device{Passage: device.Coefficient{Cv: c, XT: 0.7, FL: 0.9}} }

// Networks worked out by hand.
func TestLiquidNetworksByHand(t *testing.T) {
	// w = 27.341/3600 Cv sqrt(rho dp), dp in bar: kg/s.
	flow := func(c, rho, bar float64) float64 { return 27.341 / 3600 * c * math.Sqrt(rho*bar) }

	t.Run("series", func(t *testing.T) {
		// 1/Cv^2 add up: 0.03 and 0.04 give 0.024; drops share as 16 to 9.
		r := piped(t, 3, stiff(900, 1e-3, 0), []Element{{From: 0, To: 1}, {From: 1, To: 2}}, []Device{cv(0.03), cv(0.04)})
		within(t, "flow", r.Elements[0].FlowKgS, flow(0.024, 900, 5), 1e-5)
		within(t, "between", r.Nodes[1].PressurePa, 6e5-5e5*16/25, 1e-5)
	})
	t.Run("parallel", func(t *testing.T) {
		r := piped(t, 3, stiff(900, 1e-3, 0), []Element{{From: 0, To: 1}, {From: 0, To: 1}, {From: 1, To: 2}}, []Device{cv(0.03), cv(0.01), cv(0.04)})
		within(t, "between", r.Nodes[1].PressurePa, 3.5e5, 1e-6)
		within(t, "flow", r.Elements[1].FlowKgS, flow(0.01, 900, 2.5), 1e-5)
	})
	t.Run("rise", func(t *testing.T) {
		// 10 m up: 0.8826 bar of the drop are the column's.
		tube := device.Tube{BoreM: 4e-3, LengthM: 30, RiseM: 10}
		r := piped(t, 2, stiff(900, 0.02, 0), []Element{{From: 0, To: 1}}, []Device{{Passage: tube, Mean: true}})
		drop := 5e5 - 900*9.80665*10
		within(t, "flow", r.Elements[0].FlowKgS, 900*math.Pi*math.Pow(4e-3, 4)*drop/(128*0.02*30), 1e-4)
	})
	t.Run("dead end above", func(t *testing.T) {
		tube := device.Tube{BoreM: 4e-3, LengthM: 15, RiseM: 12}
		r := piped(t, 4, stiff(900, 1e-3, 0), []Element{{From: 0, To: 1}, {From: 1, To: 2}, {From: 1, To: 3}},
			[]Device{cv(0.03), {Passage: tube, Mean: true}, cv(0.03)})
		if r.Nodes[2].State != DeadEnd {
			t.Errorf("it is %v", r.Nodes[2].State)
		}
		within(t, "dead end", r.Nodes[2].PressurePa, 3.5e5-900*9.80665*12, 1e-5)
	})
	t.Run("dead end above a regulator", func(t *testing.T) {
		lift := device.ReducerSpec{SetPa: 4e5, DroopPa: 2e4, AtmospherePa: 1e5}.Lift()
		tube := device.Tube{BoreM: 4e-3, LengthM: 15, RiseM: 12}
		r := piped(t, 4, stiff(900, 1e-3, 0), []Element{{From: 0, To: 1}, {From: 1, To: 2}, {From: 0, To: 3}},
			[]Device{{Passage: device.Coefficient{Cv: 0.03, XT: 0.7, FL: 0.9}, Lift: &lift, OneWay: true}, {Passage: tube, Mean: true}, cv(0.03)})
		within(t, "below", r.Nodes[1].PressurePa, 4e5, 1e-9)
		within(t, "above", r.Nodes[2].PressurePa, 4e5-900*9.80665*12, 1e-9)
	})
	t.Run("choked", func(t *testing.T) {
		// FL^2 (p1 - FF pv) is under the 5 bar, pc of the ideal liquid being 40 bar.
		f := stiff(900, 1e-3, 3e5)
		r := piped(t, 2, f, []Element{{From: 0, To: 1}}, []Device{cv(0.03)})
		sizing := 0.81 * (6 - (0.96-0.28*math.Sqrt(3.0/40))*3)
		within(t, "flow", r.Elements[0].FlowKgS, flow(0.03, 900, sizing), 1e-5)
		if !r.Elements[0].Choked || r.Nodes[1].Doubt == "" {
			t.Errorf("choked %v, doubt about the vent %q", r.Elements[0].Choked, r.Nodes[1].Doubt)
		}
	})
	t.Run("relief", func(t *testing.T) {
		// The certified form, full lift, no viscosity factor to speak of.
		lift := device.ReliefSpec{SetPa: 3e5, OverpressurePa: 1e4, Beta: 1, AtmospherePa: 1e5}.Lift()
		r := piped(t, 2, stiff(900, 1e-9, 0), []Element{{From: 0, To: 1}},
			[]Device{{Passage: device.Nozzle{AreaM2: 1e-5, K: 0.65}, Lift: &lift, OneWay: true}})
		within(t, "flow", r.Elements[0].FlowKgS, 0.65*1e-5*math.Sqrt(2*900*5e5), 1e-5)
	})
}

// Throttled, a liquid keeps dh = cp dT + dp/rho: 5 bar warm water by 0.12 K.
func TestThrottledLiquidWarms(t *testing.T) {
	n, err := New([]string{"A", "B"}, []Element{{From: 0, To: 1, Sense: -1}})
	if err != nil {
		t.Fatal(err)
	}
	c := &Case{Devices: []Device{cv(0.03)}, Fluids: []fluid.Fluid{stiff(1000, 1e-3, 0)}, AmbientK: 293.15, Thermal: Isenthalpic, Conditions: []Condition{
		{Kind: Pressure, PressurePa: 6e5, TemperatureK: 293.15, Fluid: 0}, {Kind: Pressure, PressurePa: 1e5, TemperatureK: 293.15, Fluid: -1}}}
	r, err := NewWorkspace(n).Solve(c)
	if err != nil {
		t.Fatal(err)
	}
	within(t, "warming", r.Elements[0].OutletK-293.15, 5e5/1000/4180, 1e-6)
}
