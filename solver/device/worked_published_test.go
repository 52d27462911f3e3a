package device

import "math"

var published = map[string]check{
	"CV-01": waterValve,
	"RV-05": viscousCrude,
	"CF-14": waterPlate,
	"FR-08": oilPipe,
	"CV-03": func(r row, _ examples) map[string]any {
		return map[string]any{"sum_zeta": reducersOf(r).Sum()}
	},
	"CV-04": rotaryPlug,
	"CV-07": func(r row, _ examples) map[string]any {
		p1, p2 := 1e3*r.in("p1"), 1e3*r.in("p2")
		g := ideal(p1, r.in("T1"), r.in("M")/1e3, r.in("gamma"), 0)
		w := r.in("Q") * normalMolM3 * g.MolarMass / perHour
		c := Coefficient{XT: r.in("xT")}
		return map[string]any{
			"Kv_turbulent": KvPerCv * CvFor(w, p1, p2, c.XT, g),
			"x":            drop(p1, p2),
			"Fgamma":       c.chokingDrop(g) / c.XT,
		}
	},
	"CV-08": reynoldsFactor,
	"CV-09": reynoldsFactor,
	"CV-10": fittedCondensate,
	"CV-11": func(r row, _ examples) map[string]any {
		bore := 1e-3 * r.in("pipe_bore")
		k := ResistanceFromCv(r.in("Kv")/KvPerCv, bore)
		l := EquivalentLength(k, bore, r.in("f_T"))
		return map[string]any{"K": k, "L_over_D": l / bore, "L": l}
	},
	"CV-12": func(row, examples) map[string]any {
		return map[string]any{
			"Cv_per_Kv": 1 / KvPerCv,
			"Kv_per_Cv": KvPerCv,
			// w = Av sqrt(rho dp): our area per Cv brought to Kv.
			"Av_per_Kv": areaPerCv / KvPerCv,
		}
	},
	"CV-13": func(row, examples) map[string]any {
		// From our constants, Kv basis, bar turned to kPa.
		n6 := N6Cv / KvPerCv / 10
		n8 := n6 / math.Sqrt(GasConstant)
		n9 := n8 * 1e3 / normalMolM3
		return map[string]any{
			"N1": 0.1 * N6Kv / math.Sqrt(999.1), "N6": n6, "N8": n8,
			"N9_0C": n9, "N9_15C": n9 * 288.15 / 273.15, "N22_0C": n9 / math.Sqrt2,
			// K of a Kv of 1 in a bore of 1 mm is N2.
			"N2": ResistanceFromCv(1/KvPerCv, 1e-3),
			"N4": n4, "N5": n5, "N18": KvPerCv, "N32": float64(n32),
		}
	},
	"RV-01": func(r row, _ examples) map[string]any {
		p1 := 1e3 * r.in("P1")
		g := withZ(ideal(p1, r.in("T"), r.in("M")/1e3, r.in("k"), 0), r.in("Z"))
		w := r.in("W") / perHour
		a := w / (Nozzle{AreaM2: 1, K: r.in("Kd")}).Flow(p1, atm, g).W
		letter := ""
		for _, e := range EffectiveAreas() {
			if e.AreaM2 >= a {
				letter = e.Letter
				break
			}
		}
		return map[string]any{"A": a * 1e6, "C_us": 520 * CriticalFlowFactor(r.in("k")), "letter": letter}
	},
	"RV-03": func(r row, _ examples) map[string]any {
		return map[string]any{"F2": SubcriticalF2(r.in("k"), r.in("r"))}
	},
	"RV-04": func(r row, _ examples) map[string]any {
		p1 := 1e3 * r.in("P1")
		return map[string]any{"A": 1e6 * r.in("W") / perHour / SteamFlow(r.in("Kd"), 1, p1), "KN": NapierCorrection(p1)}
	},
	"RV-06": func(r row, _ examples) map[string]any {
		return r.each(func(k float64) float64 { return 520 * CriticalFlowFactor(k) })
	},
	"RV-07": func(r row, _ examples) map[string]any {
		return r.each(func(k float64) float64 {
			// The choked flow of 1 mm2 at 1 kPa, 1 K, 1 kg/kmol in kg/h.
			g := ideal(1e3, 1, 1e-3, k, 0)
			return perHour * Nozzle{AreaM2: 1e-6, K: 1}.Flow(1e3, 1, g).W
		})
	},
	"RV-09": func(r row, _ examples) map[string]any { return r.each(CriticalRatio) },
	"RV-10": func(row, examples) map[string]any {
		got := map[string]any{}
		for _, e := range EffectiveAreas() {
			got[e.Letter] = e.AreaM2 / squareInch
		}
		return got
	},
	"RV-12": func(row, examples) map[string]any {
		at := func(psi float64) float64 { return AllowedOverpressurePa(psi*psiPa, false) / psiPa }
		return map[string]any{"at_20": at(20), "at_30": at(30), "at_100": at(100)}
	},
	"CF-01": func(r row, _ examples) map[string]any {
		// The law with the row's factor in place of C*, far below the critical ratio.
		g := ideal(r.in("pin"), r.in("Tin"), r.in("M"), 1.4, 0)
		g.CriticalFactor = r.in("Cf")
		o := ThickOrifice{BoreM: math.Sqrt(r.in("At") * 4 / math.Pi), Cd: r.in("Cd")}
		return map[string]any{"n": o.Flow(r.in("pin"), 0.2*r.in("pin"), g).W / g.MolarMass}
	},
	"CF-02": func(r row, _ examples) map[string]any {
		cf := VenturiFactor(1-r.in("dp")/r.in("pin"), r.in("gamma"), r.in("beta"))
		return map[string]any{"Cf": cf, "n": venturiFlow(r, cf)}
	},
	"CF-03": func(_ row, all examples) map[string]any {
		return map[string]any{"n": venturiFlow(all["CF-02"], all["CF-02"].Expected["Cf"].Value.(float64))}
	},
	"CF-05": func(r row, _ examples) map[string]any {
		// The row gives V = Kv p/sqrt(T). Calibrated at another state, the law must
		// give the row's flow at the row's.
		o := ThickOrifice{BoreM: 0.01, Cd: 0.98}
		choked := func(p, t float64) float64 { return o.Flow(p, 0.3*p, ideal(p, t, 0.0289, 1.4, 0)).W }
		v := r.in("Kv") * 70 / math.Sqrt(300) // at 70 kPa and 300 K
		return map[string]any{"V": v * choked(1e3*r.in("pin"), r.in("Tin")) / choked(70e3, 300)}
	},
	"CF-06":  func(r row, _ examples) map[string]any { return r.each(CriticalFlowFactor) },
	"CF-09a": isentropicTable,
	"CF-09b": isentropicTable,
	"CF-09d": isentropicTable,
	"CF-10": func(r row, _ examples) map[string]any {
		// The nozzle's inlet brought to rest.
		k, v := r.in("k"), r.in("V_in")
		t0 := r.in("T_in") + v*v/(2*r.in("cp"))
		p0 := 1e6 * r.in("p_in") * math.Pow(t0/r.in("T_in"), k/(k-1))
		molarMass := GasConstant / (r.in("cp") * (k - 1) / k)
		n := Nozzle{AreaM2: 1e-4 * r.in("A_throat"), K: 1}
		at := func(pb float64) float64 { return n.Flow(p0, pb, ideal(p0, t0, molarMass, k, 0)).W }
		return map[string]any{"m_0.7": at(0.7e6), "m_0.4": at(0.4e6)}
	},
	"CF-12": func(r row, _ examples) map[string]any {
		d, bore := 1e-3*r.in("D"), 1e-3*r.in("d")
		re := 4 * r.in("m") / (math.Pi * d * r.in("mu"))
		return map[string]any{
			"C_corner": PlateCoefficient(d, bore, re, CornerTaps),
			"C_D_D2":   PlateCoefficient(d, bore, re, BoreTaps),
			"C_flange": PlateCoefficient(d, bore, re, FlangeTaps),
		}
	},
	"CF-13": func(r row, _ examples) map[string]any {
		d, bore, p1, p2 := 1e-3*r.in("D"), 1e-3*r.in("d"), 1e3*r.in("p1"), 1e3*r.in("p2")
		eps := PlateExpansibility(d, bore, p1, p2, r.in("kappa"))
		return map[string]any{"epsilon": eps, "m": PlateFlow(r.in("C"), eps, d, bore, p1-p2, r.in("rho"))}
	},
	"FR-01": colebrook,
	"FR-02": colebrook,
	"FR-04": func(r row, _ examples) map[string]any { return map[string]any{"f": Laminar(r.in("Re"))} },
	"FR-05": func(r row, _ examples) map[string]any { return map[string]any{"f": Blasius(r.in("Re"))} },
	"FR-06": func(r row, _ examples) map[string]any {
		return r.each(func(rr float64) float64 { return Colebrook(math.Inf(1), rr) })
	},
	"FR-07": func(r row, _ examples) map[string]any {
		d := 1e-3 * r.in("D")
		re := r.in("rho") * r.in("V") * d / r.in("mu")
		f := Colebrook(re, r.in("eps")/r.in("D"))
		return map[string]any{"Re": re, "f": f, "dp": f * r.in("L") / d * r.in("rho") * squared(r.in("V")) / 2}
	},
	"FR-09a": fannoTable,
	"FR-09b": fannoTable,
	"FR-09c": fannoTable,
	"FR-09d": fannoTable,
	"FR-09f": fannoTable,
	"FR-10": func(r row, _ examples) map[string]any {
		perLength := r.in("f_darcy") / (1e-2 * r.in("D"))
		one, two := FannoLength(r.in("M1"), 1.4), FannoLength(r.in("M2"), 1.4)
		return map[string]any{"L": (one - two) / perLength, "L_to_sonic": two / perLength}
	},
	"FR-11": func(r row, _ examples) map[string]any {
		k, rs, d := r.in("k"), r.in("R"), 1e-2*r.in("D")
		m1 := r.in("V1") / math.Sqrt(k*rs*r.in("T1"))
		m2 := FannoMach(FannoLength(m1, k)-r.in("f_darcy")*r.in("L")/d, k)
		return map[string]any{"M1": m1, "M2": m2, "m": 1e3 * r.in("p1") / (rs * r.in("T1")) * r.in("V1") * area(d)}
	},
	"FR-12": func(r row, _ examples) map[string]any {
		const k, rs = 1.4, 287
		t1 := r.in("T1") + freezing
		m1 := r.in("V1") / math.Sqrt(k*rs*t1)
		m2 := FannoMach(FannoLength(m1, k)-r.in("f_darcy")*r.in("L")/(1e-2*r.in("D")), k)
		t2 := t1 * (2 + (k-1)*m1*m1) / (2 + (k-1)*m2*m2)
		return map[string]any{
			"M2": m2, "T2": t2, "V2": m2 * math.Sqrt(k*rs*t2),
			"p2": r.in("p1") * FannoPressure(m2, k) / FannoPressure(m1, k),
		}
	},
	"FR-15": func(r row, _ examples) map[string]any {
		// The book drops the logarithm; the resistance is given less by as much.
		p1, p2, rt := 1e3*r.in("p1"), 1e3*r.in("p2"), r.in("R")*r.in("T")
		flow := func(p, d, length float64) float64 {
			return IsothermalFlow(p1, p, rt, area(d), 4*r.in("f_fanning")*length/d-2*math.Log(p1/p))
		}
		d := bisect(0.01, 0.1, func(d float64) float64 { return flow(p2, d, r.in("l")) - r.in("m") })
		half := bisect(p2, p1-1, func(p float64) float64 { return r.in("m") - flow(p, d, r.in("l")/2) })
		mach := func(p float64) float64 { return r.in("m") * rt / (p * area(d)) / math.Sqrt(1.4*rt) }
		return map[string]any{"d": d, "p_halfway": half / 1e3, "M1": mach(p1), "M2": mach(p2)}
	},
	"FR-17": func(r row, _ examples) map[string]any {
		// Commercial steel 0.046 mm; air's viscosity at 115 degF, 0.0192 mPa s (mem).
		p1, t := r.in("p1")*psiPa+atm, fahrenheit(r.in("T"))
		g := ideal(p1, t, 0.028964, 1.4, 1.92e-5)
		tube := Tube{BoreM: 1.049 * 0.0254, LengthM: r.in("L") * footM, RoughnessM: 0.046e-3}
		w := r.in("Q") / 60 * cubicFootAt60F * g.MolarMass
		dp := bisect(0, 0.5*p1, func(dp float64) float64 { return tube.Flow(p1, p1-dp, g).W - w })
		return map[string]any{"dp": dp / psiPa, "V1": w / (g.DensityKgM3 * area(tube.BoreM)) / footM * 60}
	},
	"FR-19": func(r row, _ examples) map[string]any {
		// From a header at rest: the ends of a Capillary. Viscosity 0.012 mPa s (mem)
		// hardly matters.
		p1 := r.in("p1")*psiPa + atm
		g := ideal(p1, fahrenheit(r.in("T1")), r.in("SG")*0.028964, r.in("k"), 1.2e-5)
		pipe := Capillary{BoreM: 3.068 * 0.0254, LengthM: r.in("L") * footM, RoughnessM: 0.046e-3}
		f := pipe.Flow(p1, atm, g)
		if !f.Choked {
			return nil
		}
		return map[string]any{"Q": f.W / g.MolarMass / cubicFootAt60F * perHour}
	},
	"FR-20": func(r row, _ examples) map[string]any {
		// The library takes its density at p1.
		d := r.in("D")
		return map[string]any{"m": IsothermalFlow(1e3*r.in("p1"), 1e3*r.in("p2"), 1e3*r.in("p1")/r.in("rho_avg"),
			area(d), r.in("f_darcy")*r.in("L")/d)}
	},
	"FR-21": func(_ row, all examples) map[string]any {
		r := all["FR-20"]
		return map[string]any{"p2": 1e3 * r.in("p1") * IsothermalExit(r.in("f_darcy")*r.in("L")/r.in("D"))}
	},
}

func reynoldsFactor(r row, _ examples) map[string]any {
	return map[string]any{"FR": ReynoldsFactor(r.in("FL"), r.in("C"), 1e-3*r.in("d"), r.in("Rev"), r.Inputs["reduced_trim"].(bool))}
}

func isentropicTable(r row, _ examples) map[string]any {
	i := IsentropicAt(r.in("M"), r.in("gamma"))
	return map[string]any{"p/pt": i.Pressure, "rho/rhot": i.Density, "T/Tt": i.Temperature, "A/A*": i.Area}
}

func fannoTable(r row, _ examples) map[string]any {
	m := r.in("M")
	return map[string]any{"4fL*/D": FannoLength(m, 1.4), "p*/p": 1 / FannoPressure(m, 1.4)}
}

func colebrook(r row, _ examples) map[string]any {
	return map[string]any{"f": Colebrook(r.in("Re"), r.in("eps/D"))}
}

// venturiFlow is the molar flow of 40 CFR 1065.642.
func venturiFlow(r row, cf float64) float64 {
	return r.in("Cd") * cf * r.in("At") * r.in("pin") / math.Sqrt(r.in("Z")*r.in("M")*GasConstant*r.in("Tin"))
}

// bisect finds where f, rising, is zero.
func bisect(lo, hi float64, f func(float64) float64) float64 {
	for range 100 {
		if mid := (lo + hi) / 2; f(mid) < 0 {
			lo = mid
		} else {
			hi = mid
		}
	}
	return (lo + hi) / 2
}
