package solver

import (
	"math"

	"tapline/solver/device"
	"tapline/solver/fluid"
)

// tangents renews the gas of every node and of every tube.
func (w *Workspace) tangents() {
	for i := range w.net.Nodes {
		if !w.classified || w.sites.place[i] != trapped {
			w.renew(i)
		}
	}
	for i := range w.net.Elements {
		if !w.c.Devices[i].Mean {
			continue
		}
		e := &w.net.Elements[i]
		up, down := e.From, e.To
		if w.p[down] > w.p[up] {
			up, down = down, up
		}
		from, to, _, flows := w.flows(i)
		if flows && w.classified {
			up, down = from, to // a rise may lead it up in pressure
		}
		p1, p2 := w.p[up], w.p[down]
		p := 2.0 / 3 * (p1*p1 + p1*p2 + p2*p2) / (p1 + p2)
		t := w.temperature[up]
		if out := w.outlet[i]; out > 0 && flows {
			t = 0.5 * (t + out)
		}
		if _, err := w.energy.tubes[i].tangent(&w.mean[i], w.fluidAt(up), t, p); err != nil {
			w.problem[up] = err
		}
	}
}

// renew takes the gas of node i at its present pressure and temperature and
// gives its enthalpy [J/kg].
func (w *Workspace) renew(i int) (h float64, ok bool) {
	h, err := w.energy.nodes[i].tangent(&w.gas[i], w.fluidAt(i), w.temperature[i], w.p[i])
	if err != nil {
		w.problem[i] = err
	}
	return h, err == nil
}

// tangent fills g at a state and gives its enthalpy. Where the fluid has no
// state there it becomes an ideal gas, or a plain liquid, so that an iteration on its way elsewhere
// can go on; the caller keeps the error and no answer is given while one stands. Where k
// knows that g is as good as at the state already, it stays.
func (k *caloric) tangent(g *device.Gas, f fluid.Fluid, tK, pPa float64) (h float64, err error) {
	if table, ok := f.(*fluid.Table); ok {
		if k.fluid == table && k.still(tK, pPa) {
			return k.h, nil
		}
		var q fluid.Point
		if table.Point(&q, tK, pPa) {
			if k.fluid != table {
				*k, *g = caloric{fluid: table}, device.Gas{MolarMass: table.MolarMass()}
			}
			k.t, k.p, k.h = tK, pPa, q.H
			g.PressurePa, g.TemperatureK, g.DensityKgM3, g.Exponent = pPa, tK, q.DensityKgM3, q.Exponent
			g.GammaIdeal, g.Kappa, g.ViscosityPaS = q.GammaIdeal, q.Kappa, q.ViscosityPaS
			return q.H, nil
		}
		f = table.Equation()
	}
	if k.fluid == f && k.still(tK, pPa) {
		return k.about(tK, pPa), nil
	}
	made, s, err := gasAt(f, tK, pPa)
	k.know(f, &s)
	if _, liquid := f.(liquidFluid); err != nil && liquid {
		made = device.Gas{Liquid: true, PressurePa: pPa, TemperatureK: tK, DensityKgM3: 800, MolarMass: f.MolarMass(), ViscosityPaS: 5e-4}
	} else if err != nil {
		m := f.MolarMass()
		made = device.Gas{PressurePa: pPa, TemperatureK: tK, DensityKgM3: pPa * m / (8.314472 * tK), Exponent: 1,
			MolarMass: m, GammaIdeal: 1.4, Kappa: 1.4, ViscosityPaS: 1.5e-5}
	}
	if err != nil {
		k.fluid = nil
	}
	*g = made
	return s.H, err
}

// still reports whether a state is where the gas was last taken, as near as makes no
// difference.
func (k *caloric) still(tK, pPa float64) bool {
	return math.Abs(tK-k.t) <= 0.1*temperatureTol && math.Abs(pPa-k.p) <= 0.1*tangentTol*pPa
}

// GasAt gives what the laws need to know of a fluid at a temperature [K] and an
// absolute pressure [Pa], and its enthalpy [J/kg]. The error is the fluid's: it
// has no gas state there.
func GasAt(f fluid.Fluid, tK, pPa float64) (g device.Gas, h float64, err error) {
	g, s, err := gasAt(f, tK, pPa)
	return g, s.H, err
}

func gasAt(f fluid.Fluid, tK, pPa float64) (g device.Gas, s fluid.State, err error) {
	s, err = f.At(tK, pPa)
	if err != nil {
		return g, fluid.State{}, err
	}
	g = device.Gas{PressurePa: pPa, TemperatureK: tK, DensityKgM3: s.DensityKgM3, Exponent: s.DensityExponent,
		MolarMass: f.MolarMass(), GammaIdeal: s.GammaIdeal, Kappa: s.Kappa}
	l, liquid := f.(liquidFluid)
	if !liquid {
		g.ViscosityPaS, _ = f.Viscosity(tK, s.DensityKgM3)
		return g, s, nil
	}
	g.Liquid = true
	g.VapourPressurePa, g.CriticalPa, g.ViscosityPaS, err = l.LiquidAt(tK, pPa)
	return g, s, err
}

// conductivity gives the thermal conductivity of a gas [W/(m K)], whose state g is.
func conductivity(f fluid.Fluid, g *device.Gas) float64 {
	if table, ok := f.(*fluid.Table); ok {
		if k, ok := table.ConductivityAt(g.TemperatureK, g.PressurePa); ok {
			return k
		}
	}
	k, _ := f.Conductivity(g.TemperatureK, g.DensityKgM3)
	return k
}

// liquidFluid is a liquid: it has a bubble pressure and a critical pressure [Pa], and
// a viscosity [Pa s] that may not be known.
type liquidFluid interface {
	LiquidAt(tK, pPa float64) (bubblePa, criticalPa, viscosityPaS float64, err error)
}
