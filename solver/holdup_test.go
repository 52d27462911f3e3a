package solver

import (
	"encoding/json"
	"errors"
	"math"
	"os"
	"testing"

	"tapline/solver/device"
	"tapline/solver/fluid"
)

const atm = 101325.0

// tube makes one tube between two pressures that passes a flow.
func tube(t *testing.T, f fluid.Fluid, p1, p2, flow, boreM, lengthM float64) (*hand, Lag) {
	t.Helper()
	h := byHand(2, p1, f)
	h.r.Nodes[1].PressurePa = p2
	h.join(0, 1, flow, Inner{VolumeM3: math.Pi / 4 * boreM * boreM * lengthM})
	h.c.Devices[0].Mean = true
	return h, h.transport(t).From(0).At(1)
}

// still is a liquid of one density: only that is asked of it.
type still struct{ *fluid.IdealGas }

const waterKgM3 = 998.2

func (still) Density(_, _ float64) (rho, exponent float64, err error) { return waterKgM3, 0, nil }

// The rows of testdata/worked-examples/transport-lag.json.
func TestLagRows(t *testing.T) {
	text, err := os.ReadFile("../testdata/worked-examples/transport-lag.json")
	if err != nil {
		t.Fatal(err)
	}
	var rows []struct {
		ID, Kind, Source string
		Expected         map[string]struct{ Value float64 }
		Tolerance        float64 `json:"tolerance_relative"`
	}
	if err := json.Unmarshal(text, &rows); err != nil {
		t.Fatal(err)
	}
	const inch = 0.0254
	normal := atm / (device.GasConstant * 273.15) * nitrogen.MolarMass() // kg/m3
	checks := map[string]func() map[string]float64{
		"LG-01": func() map[string]float64 {
			at := func(p float64) float64 {
				_, l := tube(t, nitrogen, p, p, 1e-3/60*normal, 0.25*inch-2*0.035*inch, 30)
				return l.Seconds
			}
			return map[string]float64{"t_2": at(2.01325e5), "t_8": at(8.01325e5)}
		},
		"LG-02": func() map[string]float64 {
			_, l := tube(t, nitrogen, 3e5, 1e5, 1, 0.1, 4/(math.Pi*0.01)) // 1 m3
			return map[string]float64{"p_mean_isothermal": l.Seconds * device.GasConstant * 293.15 / nitrogen.MolarMass() / 1e5}
		},
		"LG-05": func() map[string]float64 {
			_, l := tube(t, still{nitrogen}, 3e5, 2e5, 0.5e-3/60*waterKgM3, 0.004, 50)
			return map[string]float64{"t": l.Seconds, "velocity": 50 / l.Seconds}
		},
		"LG-06": func() map[string]float64 {
			l := row(t, nil, []float64{20})
			return map[string]float64{"n=1": l.Response(20), "n=3": l.Response(60), "n=5": l.Response(100)}
		},
	}
	leftOut := map[string]string{
		"LG-03": "a limit of practice: a band states it",
		"LG-04": "a limit of practice: a band states it",
	}
	for _, r := range rows {
		check := checks[r.ID]
		if (check == nil) == (leftOut[r.ID] == "") {
			t.Errorf("%s is neither checked nor left out for a reason, or both", r.ID)
		}
		if check == nil {
			continue
		}
		got := check()
		for key, want := range r.Expected {
			near(t, r.ID+" "+key, got[key], want.Value, r.Tolerance)
			t.Logf("%s [%s] %s: %.6g, want %.6g within %g", r.ID, r.Kind, key, got[key], want.Value, r.Tolerance)
		}
	}
}

// The profile of a tube against its integral worked out in 100,000 steps along the
// length, and against the mean-pressure formula.
func TestProfileOfTube(t *testing.T) {
	methane, err := fluid.New(map[string]float64{"methane": 1})
	if err != nil {
		t.Fatal(err)
	}
	for _, tc := range []struct {
		name   string
		f      fluid.Fluid
		p1, p2 float64
		// by is what the mean-pressure formula may be off.
		by float64
	}{
		{"ideal", nitrogen, 9e5, 1e5, 1e-12},
		{"methane 60 to 50 bar", methane, 60e5, 50e5, 3e-4},
		{"methane 100 to 1 bar", methane, 100e5, 1e5, 0.015},
	} {
		_, l := tube(t, tc.f, tc.p1, tc.p2, 1, 0.1, 4/(math.Pi*0.01))
		const steps = 100000
		sum := 0.0
		for k := range steps {
			x := (float64(k) + 0.5) / steps
			rho, _, err := tc.f.Density(293.15, math.Sqrt(tc.p1*tc.p1+(tc.p2*tc.p2-tc.p1*tc.p1)*x))
			if err != nil {
				t.Fatal(err)
			}
			sum += rho / steps
		}
		near(t, tc.name, l.Seconds, sum, 1e-6)
		pm := 2.0 / 3 * (math.Pow(tc.p1, 3) - math.Pow(tc.p2, 3)) / (tc.p1*tc.p1 - tc.p2*tc.p2)
		mean, _, _ := tc.f.Density(293.15, pm)
		near(t, tc.name+", mean pressure", mean, l.Seconds, tc.by)
		t.Logf("%s: density at the mean pressure is off by %.2e", tc.name, mean/l.Seconds-1)
	}
}

// A tube near its sonic exit: the gas that gains speed is thinner. Against 200,000
// steps of the differential equation, p dp (1 - gain/p^2) = -const dx.
func TestProfileWithGainOfSpeed(t *testing.T) {
	const bore, length, p1 = 0.004, 1.0, 5e5
	area := math.Pi / 4 * bore * bore
	rt := device.GasConstant * 293.15 / nitrogen.MolarMass()
	for _, choked := range []bool{false, true} {
		p2, behind := 2e5, 2e5
		flow := area * 1.5e5 / math.Sqrt(rt) // its sonic exit would stand at 1.5 bar
		if choked {
			flow, behind = area*p2/math.Sqrt(rt), 1e5 // and here does, at 2 bar
		}
		gain := flow * flow / (area * area) * rt
		h, _ := tube(t, nitrogen, p1, behind, flow, bore, length)
		h.in.Elements[0].LengthM = length
		h.r.Elements[0].Choked = choked
		got := h.transport(t).From(0).At(1).Seconds
		way := func(p float64) float64 { return (p1*p1-p*p)/2 - gain*math.Log(p1/p) }
		const steps = 200000
		sum, p := 0.0, p1
		for k := range steps {
			next := p1 + (p2-p1)*float64(k+1)/steps
			sum += (p + next) / 2 / rt * (way(next) - way(p)) / way(p2)
			p = next
		}
		near(t, "lag", got, area*length*sum/flow, 2e-6) // the fluid has the R of its equation
	}
}

// The temperature along a tube: approach to the wall by the exponential that the
// solver's own outlet temperature follows.
func TestProfileOfTemperature(t *testing.T) {
	h, _ := tube(t, nitrogen, 2e5, 2e5, 1, 0.1, 1)
	h.r.Nodes[0].TemperatureK = 250
	h.c.Devices[0].Heat = Heat{LengthM: 1, BoreM: 0.1, WallK: 350}
	for _, ntu := range []float64{0.1, 1, 5, 20} {
		h.r.Elements[0].OutletK = 350 - 100*math.Exp(-ntu)
		got := h.transport(t).From(0).At(1).Seconds
		// 1/T along the way: integral of 1/(350 - 100 exp(-ntu x)).
		inverse := (math.Log(350*math.Exp(ntu)-100) - math.Log(250)) / (350 * ntu)
		volume := math.Pi / 4 * 0.01
		near(t, "lag", got, volume*2e5*nitrogen.MolarMass()/device.GasConstant*inverse, 1e-4)
	}
}

// broken is a fluid that has no state.
type broken struct{ *fluid.IdealGas }

func (broken) Density(_, _ float64) (rho, exponent float64, err error) {
	return 0, 0, errors.New("condenses there")
}

func TestUnknownDensity(t *testing.T) {
	h, _ := tube(t, nitrogen, 2e5, 1e5, 1, 0.1, 1)
	h.r.Nodes[0].Gas = broken{nitrogen}
	if l := h.transport(t).From(0).At(1); l.Reason != "condenses there" || !math.IsNaN(l.Seconds) {
		t.Errorf("%+v", l)
	}
}
