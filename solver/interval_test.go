package solver

import (
	"math"
	"testing"

	"tapline/solver/device"
	"tapline/solver/fluid"
)

// reduced is a source, a reducer, a valve and a vent, isothermal.
func reduced(t *testing.T, onset, deadBand float64) *Result {
	t.Helper()
	b := &builder{}
	b.c.Fluids = []fluid.Fluid{fluid.Ideal(0.0289652, 1.4, 1.8e-5)}
	b.c.AmbientK, b.c.Thermal = 293.15, Isothermal
	s := b.node(Condition{Kind: Pressure, PressurePa: 20e5, TemperatureK: 293.15})
	p, e := b.free(), b.free()
	l := device.ReducerSpec{SetPa: onset, DroopPa: 0.2e5, AtmospherePa: 101325}.Lift()
	b.add(s, p, Device{Passage: device.Coefficient{Cv: 0.05, XT: 0.7, FL: 0.9}, Lift: &l, OneWay: true, DeadBandZ: 0.5 * deadBand / 0.2e5})
	b.add(p, e, Device{Passage: device.Coefficient{Cv: 0.01, XT: 0.7, FL: 0.9}})
	b.add(e, b.vent(101325), Device{Passage: device.Coefficient{Cv: 0.05, XT: 0.7, FL: 0.9}})
	n, err := New(b.nodes, b.elements)
	if err != nil {
		t.Fatal(err)
	}
	r, err := NewWorkspace(n).Solve(&b.c)
	if err != nil || r.Status != Solved {
		t.Fatal(err, r.Reason)
	}
	return r
}

// Friction holds the reducer anywhere between the device that shuts sooner by
// half the dead band and the one that shuts later: the interval is from the one
// to the other, and contains what is found from either side.
func TestDeadBandIsAnInterval(t *testing.T) {
	const onset, band = 5e5, 0.3e5
	r := reduced(t, onset, band)
	rising, falling := reduced(t, onset-band/2, 0), reduced(t, onset+band/2, 0)
	for i, o := range r.Nodes {
		low, high := rising.Nodes[i].PressurePa, falling.Nodes[i].PressurePa
		if o.State == Boundary {
			if !math.IsNaN(o.LowPa) {
				t.Errorf("node %d is given and has an interval", i)
			}
			continue
		}
		if math.Abs(o.LowPa/low-1) > 1e-9 || math.Abs(o.HighPa/high-1) > 1e-9 || !(o.LowPa < o.PressurePa && o.PressurePa < o.HighPa) {
			t.Errorf("node %d: %g .. %g .. %g, from either side %g and %g", i, o.LowPa, o.PressurePa, o.HighPa, low, high)
		}
	}
	for i, e := range r.Elements {
		if low, high := rising.Elements[i].FlowKgS, falling.Elements[i].FlowKgS; math.Abs(e.LowKgS/low-1) > 1e-9 || math.Abs(e.HighKgS/high-1) > 1e-9 {
			t.Errorf("element %d: %g .. %g, from either side %g and %g", i, e.LowKgS, e.HighKgS, low, high)
		}
	}
	if none := reduced(t, onset, 0); !math.IsNaN(none.Nodes[1].LowPa) || !math.IsNaN(none.Elements[0].LowKgS) {
		t.Error("an interval without friction")
	}
}

// relieved is a node fed through a valve that a proportional relief device
// relieves; feed is its pressure.
func relieved(t *testing.T, feed, blowdown float64) (*Result, *Network) {
	t.Helper()
	b := &builder{}
	b.c.Fluids = []fluid.Fluid{fluid.Ideal(0.0289652, 1.4, 1.8e-5)}
	b.c.AmbientK, b.c.Thermal = 293.15, Isothermal
	s := b.node(Condition{Kind: Pressure, PressurePa: feed, TemperatureK: 293.15})
	p := b.free()
	b.add(s, p, Device{Passage: device.Coefficient{Cv: 0.02, XT: 0.7, FL: 0.9}})
	b.add(p, b.vent(101325), Device{Passage: device.Coefficient{Cv: 0.01, XT: 0.7, FL: 0.9}})
	spec := device.ReliefSpec{SetPa: 6e5, OverpressurePa: 0.5e5, AtmospherePa: 101325}
	l, closing := spec.Lift(), spec.Closing(blowdown)
	d := Device{Passage: device.Nozzle{AreaM2: 2e-7, K: 0.8}, Lift: &l, OneWay: true}
	if blowdown > 0 {
		d.Closing = &closing
	}
	b.add(p, b.vent(101325), d)
	n, err := New(b.nodes, b.elements)
	if err != nil {
		t.Fatal(err)
	}
	r, err := NewWorkspace(n).Solve(&b.c)
	if err != nil || r.Status != Solved {
		t.Fatal(err, r.Reason)
	}
	return r, n
}

// A proportional relief device that has lifted closes along its blowdown: between
// reseat and set there is a state in which it is shut and one in which it is not.
func TestBlowdownMakesTwoAnswers(t *testing.T) {
	shut, _ := relieved(t, 6.3e5, 0)
	at := shut.Nodes[1].PressurePa
	if !(at > 5.5e5 && at < 6e5) || shut.Elements[2].FlowKgS != 0 {
		t.Fatalf("the relief device is meant to be shut below its set: %g Pa", at)
	}
	r, _ := relieved(t, 6.3e5, 6e5-at+0.3e5) // reseats below where it stands
	if !r.PathDependent || len(r.Others) != 1 || r.Others[0].Start != "after lifting" {
		t.Fatalf("path-dependent %v, %d others", r.PathDependent, len(r.Others))
	}
	if o := r.Others[0]; !(o.Elements[2].FlowKgS > 0 && o.Nodes[1].PressurePa < at) || math.Abs(r.Nodes[1].PressurePa/at-1) > 1e-9 {
		t.Errorf("once open it passes %g kg/s at %g Pa", o.Elements[2].FlowKgS, o.Nodes[1].PressurePa)
	}
	// The law of the closing line holds in it: lift falls evenly from 6.5 bar to reseat.
	reseat := at - 0.3e5
	if z := (r.Others[0].Nodes[1].PressurePa - reseat) / (6.5e5 - reseat); math.Abs(r.Others[0].Elements[2].Lift-z) > 1e-9 {
		t.Errorf("lift %g, by hand %g", r.Others[0].Elements[2].Lift, z)
	}
	// One that reseats above where it stands closes.
	if r, _ := relieved(t, 6.3e5, 0.5*(6e5-at)); r.PathDependent {
		t.Error("it would close, and is said to stay open")
	}
}
