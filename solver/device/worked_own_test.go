package device

import (
	"fmt"
	"math"
)

var regression = map[string]check{
	"LG-05": liquidSample,
	"CV-05": func(_ row, all examples) map[string]any {
		r := all["CV-04"]
		p1, p2 := 1e3*r.in("p1"), 1e3*r.in("p2")
		g := withZ(ideal(p1, r.in("T1"), r.in("M")/1e3, r.in("gamma"), 0), r.in("Z1"))
		w := r.in("Q") * normalMolM3 * g.MolarMass / perHour
		x, xc := drop(p1, p2), Coefficient{XT: r.in("xT")}.chokingDrop(g)
		return map[string]any{
			"Kv": KvPerCv * CvFor(w, p1, p2, r.in("xT"), g),
			"Y":  parabola(x, xc).u / math.Sqrt(x),
		}
	},
	"CV-14": func(r row, _ examples) map[string]any {
		p1 := bar * r.in("p1")
		g := ideal(p1, r.in("T1"), r.in("M")/1e3, r.in("gamma"), 0)
		c := Coefficient{Cv: r.in("Kv") / KvPerCv, XT: r.in("xT")}
		choke := bisect(0, p1, func(p float64) float64 {
			if c.Flow(p1, p, g).Choked {
				return -1
			}
			return 1
		})
		return map[string]any{"w": perHour * c.Flow(p1, 1.5*bar, g).W, "p2_choke": choke / bar}
	},
	"RV-08": func(r row, _ examples) map[string]any {
		p0 := bar * r.in("p0")
		g := ideal(p0, r.in("T0"), r.in("M")/1e3, r.in("k"), 0)
		n := Nozzle{AreaM2: 1e-6 * r.in("A"), K: r.in("Kdr")}
		return map[string]any{"C": 3.948 * CriticalFlowFactor(r.in("k")), "Qm": perHour * n.Flow(p0, atm, g).W}
	},
	"RV-11": func(r row, _ examples) map[string]any {
		p1 := 1.1*r.in("set")*psiPa + 14.7*psiPa
		g := ideal(p1, r.in("T")/1.8, r.in("M")/1e3, 1.4, 0)
		w := Nozzle{AreaM2: r.in("A") * squareInch, K: r.in("Kd")}.Flow(p1, atm, g).W
		return map[string]any{"W": perHour * w / poundKg, "Q": w / g.MolarMass / cubicFootAt60F * 60}
	},
	"CF-08": func(r row, _ examples) map[string]any {
		p0 := 1e6 * r.in("p0")
		g := ideal(p0, r.in("T0"), GasConstant/r.in("R"), r.in("gamma"), 0)
		o := ThickOrifice{BoreM: math.Sqrt(4e-6 * r.in("A") / math.Pi), Cd: 1}
		return map[string]any{"m": 1e3 * o.Flow(p0, atm, g).W}
	},
	"TB-01": func(r row, _ examples) map[string]any { return volumes(r, 25.4) },
	"TB-02": func(r row, _ examples) map[string]any { return volumes(r, 1) },
	"RG-01": func(r row, _ examples) map[string]any {
		spec := ReducerSpec{
			SetPa: 5 * bar, ReferenceInletPa: 200 * bar, DroopPa: 0.3 * bar,
			SupplyEffect: squared(r.in("seat") / r.in("sensing")),
		}
		rise := func(from, to float64) float64 { return (onset(spec, to*bar) - onset(spec, from*bar)) / bar }
		return map[string]any{"rise_per_bar": rise(200, 199), "rise_200_to_20_bar": rise(200, 20)}
	},
	"RG-02": func(r row, _ examples) map[string]any {
		first := ReducerSpec{SetPa: 20 * bar, ReferenceInletPa: 200 * bar, DroopPa: bar, SupplyEffect: r.in("stage_1_ratio")}
		second := ReducerSpec{SetPa: 5 * bar, ReferenceInletPa: 20 * bar, DroopPa: bar, SupplyEffect: r.in("stage_2_ratio")}
		at := func(inlet float64) float64 { return onset(second, onset(first, inlet)) }
		return map[string]any{"outlet_change": math.Abs(at(200*bar-r.in("inlet_change")*bar)-at(200*bar)) / bar}
	},
}

// onset is the outlet pressure at which a reducer begins to open.
func onset(s ReducerSpec, inletPa float64) float64 {
	l := s.Lift()
	return -(l.Bias + l.Up*inletPa) / l.Down
}

// volumes gives the mL per metre of tubes named outside diameter x wall.
func volumes(r row, unitMM float64) map[string]any {
	got := map[string]any{}
	for size := range r.Expected {
		var inch string
		var od, wall float64
		if unitMM == 1 {
			_, _ = fmt.Sscanf(size, "%fx%f", &od, &wall)
		} else {
			var a, b float64
			_, _ = fmt.Sscanf(size, "%1f/%1fx%s", &a, &b, &inch)
			_, _ = fmt.Sscanf(inch, "%f", &wall)
			od = a / b
		}
		got[size] = 1e6 * Tube{BoreM: 1e-3 * unitMM * (od - 2*wall), LengthM: 1}.VolumeM3()
	}
	return got
}
