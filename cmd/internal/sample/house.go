package sample

import (
	"fmt"

	"tapline/compiler"
	"tapline/lang/diag"
)

// A houseCase is what the invented analyzer house differs by from case to case:
// gauge pressures in bar, flows of the two analyzers in standard litres a
// minute, lag in seconds. Below zero stands for "not computed".
type houseCase struct {
	name, kind     string
	p1, p2, p3     float64
	flow11, flow12 float64
	lag            float64
	solved         bool
}

var houseCases = []houseCase{
	{"base", "operating", 3.4821, 1.1503, 0.4512, 1.012, 0.981, 48.2, true},
	{"winter", "operating", 3.4799, 1.1489, 0.4498, 1.009, 0.795, 48.9, true},
	{"flare header high", "operating", 3.4795, 1.40004, 0.9871, 0.612, 0.588, 81.7, true},
	{"purge", "service", 3.4102, 0.95, 0.21, 4.98, 0, 9.4, true},
	{"PCV-11 wide open", "upset", 5.9107, 2.04, 0.8, 1.9, 1.85, 25.5, true},
	{"supply and flare: GRID=16 barg FLARE=0.45 barg", "operating", -1, -1, -1, -1, -1, -1, false},
}

const houseAtmospherePa = 96500

// House has six cases of every kind: flagged, waived, not judged, not solved,
// with a fluid beyond the plain equation, a trapped node, a liquid leg and names of awkward length.
func House() *compiler.Outcome {
	file, src := source("house")
	s := compiler.SystemOutcome{
		Name: "analyzer-house", Dir: "house", InputsSHA256: "0",
		Title:          "Hydrogen purity house, two analyzers with a common return and a knock-out pot",
		ReferenceState: &compiler.Reference{TemperatureK: 288.15, PressurePa: 101325}, AtmospherePa: houseAtmospherePa,
		ShownIn: map[string]string{"pressure": "barg", "temperature": "degC", "gas_flow": "slpm", "liquid_flow": "L/h"},
		Fluids: []compiler.FluidBasis{
			{Name: "amine", Equation: "Peng-Robinson", DensityError: 0.03, Note: "no published interaction parameter, taken as 0, for ammonia with water"},
			{Name: "hydrogen", Equation: "GERG-2008", DensityError: 0.001, Plain: true},
		},
	}
	o := &compiler.Outcome{
		Sources: map[string][]byte{file: []byte(src)},
		Assumptions: []string{
			`PCV-11: reference_inlet is the inlet of the base case, 52 barg`,
			"heat exchange of regulators and relief bodies is 0.2 W/K, of other devices 0.05 W/K",
		},
	}
	flag := func(code string, level diag.Level, text, in, at, message string) *diag.Diagnostic {
		o.Flags = append(o.Flags, diag.Diagnostic{Code: code, Level: level, Range: place(file, src, text, 0), System: s.Name, Case: in, At: at, Message: message})
		return &o.Flags[len(o.Flags)-1]
	}
	for _, c := range houseCases {
		s.Cases = append(s.Cases, c.outcome())
		s.Checks = append(s.Checks, c.checks()...)
		if c.name == "flare header high" {
			for _, at := range []string{"AE-11.in", "AE-12.in"} {
				flag("band-high", diag.Alarm, `"0.9 .. 1.4 barg"`, c.name, at, fmt.Sprintf(`pressure at %s is 1.40004 barg, above the 1.4 barg of band "GC cell"`, at)).
					Causes = []string{"FLARE pressure", "BPH-11 outlet_effect"}
			}
			flag("lag-high", diag.Alarm, `"<= 60 s"`, c.name, "AE-11.in", `the sample takes 81.7 s to AE-11.in, longer than the 60 s of band "GC cell"`)
		}
		if c.name == "flare header high" || c.name == "winter" {
			d := flag("band-low", diag.Alarm, `"0.8 .. 1.2 slpm"`, c.name, "AE-12", fmt.Sprintf(`flow of AE-12 is %.4g slpm, below the 0.8 slpm of band "GC cell"`, c.flow12))
			d.Related = []diag.Related{{Range: place(file, src, `"AE-12.in"`, 0), Message: "judged here"}}
			d.Hint = "open NV-12 or raise the set pressure of PCV-11"
		}
		if c.p3 > 0.6 && c.kind == "operating" {
			flag("band-high", diag.Caution, `"<= 0.6 barg"`, c.name, "P3", `pressure at (P3) is 0.9871 barg, above the 0.6 barg of band "return header stays below the knock-out pot"`)
		}
		if c.kind == "upset" {
			flag("relief-simmer", diag.Caution, `"6 barg"`, c.name, "PSV-11", "PSV-11 works above 90 % of its set pressure, at 5.911 barg of 6 barg").Waived = true
		}
		if !c.solved {
			flag("unsolved", diag.Alarm, `system "analyzer-house"`, c.name, "P2", "this case has no solution: 3 nodes do not balance, the worst is (P2)")
		}
	}
	flag("not-judged", diag.Note, `">= 10 K"`, "", "AE-11.in", "this version does not judge dew_margin")
	flag("small-valve", diag.Note, `reducer "PCV-11"`, "", "PCV-11", "a Cv below 0.01 may or may not contain the laminar effect of a small trim")
	diag.Sort(o.Flags)
	o.Systems = []compiler.SystemOutcome{s}
	return o
}

func gauge(bar float64) *float64 {
	if bar < 0 {
		return nil
	}
	return of(houseAtmospherePa + bar*1e5)
}

// Standard litres a minute of hydrogen at 15 degC, 101.325 kPa [m3/s, kg/s].
func slpm(v float64) (m3s, kgs *float64) {
	if v < 0 {
		return nil, nil
	}
	return of(v / 60000), of(v / 60000 * 0.0852585)
}

func (c houseCase) outcome() compiler.CaseOutcome {
	out := compiler.CaseOutcome{Name: c.name, Kind: c.kind, After: []string{}, Status: "unsolved", AtmospherePa: houseAtmospherePa}
	var temperature, density, lag *float64
	var state, gas *string
	if c.solved {
		out.Status, out.Residual, out.SeveralAnswers = "solved", of(4.1e-13), of(false)
		temperature, density, lag = of(278.15), of(0.3891), of(c.lag)
		state, gas = of("controlling"), of("gas")
	}
	node := func(name, state string, p *float64) compiler.NodeOutcome {
		return compiler.NodeOutcome{Name: name, Aliases: []string{}, State: state, PressurePa: p, TemperatureK: temperature, DensityKgM3: density, Phase: gas}
	}
	trapped := node("P9", "trapped", nil)
	trapped.PressureLowPa, trapped.PressureHighPa = of(96500.0), of(446500.0)
	stub := node("TP-1", "dead end", gauge(c.p1))
	stub.Aliases = []string{"TP-2"}
	drain := node("DRAIN", "boundary", gauge(0))
	drain.Phase, drain.DensityKgM3 = of("liquid"), of(998.2)
	out.Nodes = []compiler.NodeOutcome{drain, node("P1", "flowing", gauge(c.p1)), node("P2", "flowing", gauge(c.p2)), node("P3", "flowing", gauge(c.p3)), trapped, stub}
	device := func(tag, kind string, state *string, from, to string, pFrom, pTo *float64, flow float64) compiler.DeviceOutcome {
		m3s, kgs := slpm(flow)
		return compiler.DeviceOutcome{Tag: tag, Kind: kind, State: state, Choked: of(tag == "PCV-11"), MassFlowKgS: kgs, ReferenceFlowM3S: m3s,
			Ports: []compiler.PortOutcome{{Name: "in", Node: from, PressurePa: pFrom, TemperatureK: temperature}, {Name: "out", Node: to, PressurePa: pTo, TemperatureK: temperature}}}
	}
	total := c.flow11 + c.flow12
	reducer := device("PCV-11", "reducer", state, "GRID", "P1", gauge(52), gauge(c.p1), total)
	reducer.Lift = of(0.0813)
	if c.kind == "upset" {
		reducer.State, reducer.Fault, reducer.Lift = of("wide open"), of("wide open"), of(1.0)
	}
	pump := device("P-1", "booster", of("open"), "DRAIN", "DRAIN", gauge(0), gauge(0), -1)
	pump.MassFlowKgS = of(998.2 * 2.5e-3 / 3600)
	relief := device("PSV-11", "relief", of("shut"), "P1", "SAFE", gauge(c.p1), gauge(0), 0)
	relief.Lift = of(0.0)
	out.Devices = []compiler.DeviceOutcome{
		device("AE-11", "analyzer", of("open"), "AE-11.in", "P3", gauge(c.p2), gauge(c.p3), c.flow11),
		device("AE-12", "analyzer", of("open"), "AE-12.in", "P3", gauge(c.p2), gauge(c.p3), c.flow12),
		pump, reducer, relief,
	}
	out.Lags = []compiler.LagOutcome{{From: "GRID", To: "AE-11.in", Seconds: lag, Reason: "the case is not solved"}}
	if c.solved {
		out.Lags[0].Seconds95, out.Lags[0].Reason, out.Lags[0].Ways = of(1.25*c.lag), "", 2
		out.Lags[0].Segments = []compiler.LagSegment{{Name: "F-11", Seconds: 0.2 * c.lag, StirredS: 0.2 * c.lag}, {Name: "PCV-11", Bare: true}, {Name: "T-11", Seconds: 0.8 * c.lag}}
	}
	return out
}

func (c houseCase) checks() []compiler.CheckOutcome {
	var out []compiler.CheckOutcome
	check := func(source, name, at, quantity string, low, high, value *float64) *compiler.CheckOutcome {
		ch := compiler.CheckOutcome{ID: name + "/" + quantity + "/" + at + "/" + c.name, Name: name, Source: source, Case: c.name, At: at, Quantity: quantity,
			Min: low, Max: high, Value: value, Status: "unjudged"}
		if value != nil {
			ch.Status = "pass"
			if low != nil && *value < *low || high != nil && *value > *high {
				ch.Status = "fail"
			}
		}
		out = append(out, ch)
		return &out[len(out)-1]
	}
	var lag *float64
	if c.solved {
		lag = of(c.lag)
	}
	_, low := slpm(0.8)
	_, high := slpm(1.2)
	if c.kind == "operating" {
		for _, at := range []string{"AE-11", "AE-12"} {
			flow := c.flow11
			if at == "AE-12" {
				flow = c.flow12
			}
			_, kgs := slpm(flow)
			check("band", "GC cell", at+".in", "pressure", gauge(0.9), gauge(1.4), gauge(c.p2))
			check("band", "GC cell", at, "flow", low, high, kgs)
			check("band", "GC cell", at+".in", "dew_margin", of(10.0), nil, nil)
			check("band", "GC cell", at+".in", "lag", nil, of(60.0), lag)
		}
		check("band", "return header stays below the knock-out pot", "P3", "pressure", nil, gauge(0.6), gauge(c.p3))
	}
	check("rated", "rated_inlet", "PCV-11", "inlet_pressure", nil, gauge(250), gauge(52))
	if simmer := check("rule", "relief-simmer", "PSV-11", "pressure", nil, gauge(5.4), gauge(c.p1)); simmer.Status == "fail" {
		simmer.WaivedBy = of("process safety review 14")
	}
	return out
}
