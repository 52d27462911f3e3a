package sample

import (
	"tapline/compiler"
	"tapline/lang/diag"
)

// Series is two needle valves in series, carbon dioxide, one band overrun.
func Series() *compiler.Outcome {
	file, src := source("series")
	const flow, reference = 0.0007005126017429134, 0.0003763619538155951
	node := func(name, state string, p, t, rho float64) compiler.NodeOutcome {
		return compiler.NodeOutcome{Name: name, Aliases: []string{}, State: state, PressurePa: &p, TemperatureK: &t, DensityKgM3: &rho,
			Composition: map[string]float64{"carbon_dioxide": 1}, Shares: map[string]float64{"SRC": 1}, Phase: of("gas")}
	}
	atm := node("ATM", "boundary", 101325, 307.19006605276974, 1.7539270660482051)
	p1 := node("P1", "flowing", 654649.1169141534, 312.6965323758148, 11.403755941496165)
	src1 := node("SRC", "boundary", 701325, 313.15, 12.223094921546902)
	port := func(name string, n compiler.NodeOutcome) compiler.PortOutcome {
		return compiler.PortOutcome{Name: name, Node: n.Name, PressurePa: n.PressurePa, TemperatureK: n.TemperatureK}
	}
	device := func(tag, kind string, choked bool, settings map[string]any, ports ...compiler.PortOutcome) compiler.DeviceOutcome {
		return compiler.DeviceOutcome{Tag: tag, Kind: kind, State: of("open"), Choked: &choked,
			MassFlowKgS: of(flow), ReferenceFlowM3S: of(reference), Ports: ports, Settings: settings}
	}
	return &compiler.Outcome{
		Systems: []compiler.SystemOutcome{{
			Name: "series", Dir: "series", InputsSHA256: "0", Title: "Contract: two needle valves in series",
			ReferenceState: &compiler.Reference{TemperatureK: 288.15, PressurePa: 101325}, AtmospherePa: 101325,
			ShownIn: map[string]string{"pressure": "barg", "temperature": "degC", "gas_flow": "slpm", "liquid_flow": "L/h"},
			Cases: []compiler.CaseOutcome{{
				Name: "base", Kind: "operating", Status: "solved", Residual: of(2e-16), SeveralAnswers: of(false), AtmospherePa: 101325,
				Nodes: []compiler.NodeOutcome{p1, src1, atm},
				Devices: []compiler.DeviceOutcome{
					device("SRC", "source", false, map[string]any{"pressure_Pa": 701325.0}, port("out", src1)),
					device("NV-1", "valve", false, map[string]any{"cv": 0.04, "opening": 1.0, "xt": 0.7}, port("in", src1), port("out", p1)),
					device("NV-2", "valve", true, map[string]any{"cv": 0.02, "opening": 1.0, "xt": 0.7}, port("in", p1), port("out", atm)),
					device("ATM", "vent", false, map[string]any{"pressure_Pa": 101325.0}, port("in", atm)),
				},
			}},
			Checks: []compiler.CheckOutcome{{
				ID: "between/pressure/P1/base", Name: "between", Source: "band", Case: "base", At: "P1", Quantity: "pressure",
				Min: of(301325.0), Max: of(601325.0), Value: p1.PressurePa, Margin: of(-53324.11691415345), Status: "fail",
			}},
		}},
		Flags: []diag.Diagnostic{{
			Code: "band-high", Level: diag.Alarm, Range: place(file, src, `"2 .. 5 barg"`, 0), System: "series", Case: "base", At: "P1",
			Message: "pressure at (P1) is 5.533 barg, above the 5 barg of band \"between\"",
			Value:   p1.PressurePa, Limit: of(601325.0), Unit: "Pa",
		}},
		Sources: map[string][]byte{file: []byte(src)},
	}
}

// Broken is a file with mistakes: nothing was solved.
func Broken() *compiler.Outcome {
	file, src := source("broken")
	mistake := func(code, text string, nth int, message, hint string) diag.Diagnostic {
		return diag.Diagnostic{Code: code, Level: diag.Error, Range: place(file, src, text, nth), Message: message, Hint: hint}
	}
	twice := mistake("repeated-name", `"NV-1"`, 1, `a valve "NV-1" stands in this system already`, "give one of the two another tag")
	twice.Related = []diag.Related{{Range: place(file, src, `"NV-1"`, 0), Message: "the other one"}}
	return &compiler.Outcome{
		Flags: []diag.Diagnostic{
			mistake("unknown-attribute", "presure", 0, `a source has no attribute "presure"`, `did you mean "pressure"?`),
			twice,
			mistake("unknown-unit", "barq", 0, `"barq" is not a unit of pressure`, `write "3.5 barg" (gauge) or "3.5 bara" (absolute)`),
			mistake("gauge-or-absolute", "barg", 1, "a droop is a difference of pressures, which is neither gauge nor absolute", `write "0.3 bar"`),
			mistake("unknown-unit", "barq", 1, "a note is free text, so this mistake is made up", ""),
			mistake("bad-path", "-->", 0, `"-->" is no arrow`, `write "->"`),
			mistake("bad-path", "<<-PATH\n    HDR -> PCV-1 --> (P1)\n    -> NV-1 -> ATM\n  PATH", 0, "this path is marked over several lines", ""),
		},
		Sources: map[string][]byte{file: []byte(src)},
	}
}
