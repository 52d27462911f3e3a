package solver

import (
	"math"

	"tapline/solver/fluid"
)

// Pass after pass the temperatures follow flows that hardly move any more, and what
// they ask of the equation of state is next to what they asked before. A caloric is
// the enthalpy of a fluid about the last state asked for, to first order in
// temperature and pressure. Within its bounds what it leaves out is some 1e-8 K,
// below the temperature the passes are content with; outside, the equation is asked
// and its answer is the new state. Nothing is kept from one cold start to the next.

const (
	caloricK     = 1e-3 // K from the state, where only the temperature of an enthalpy is asked
	exchangeK    = 1e-5 // K from it, where its heat capacity is asked too
	caloricShare = 1e-6 // of the pressure
	caloricTries = 4    // Newton steps before the fluid's own search
)

type caloric struct {
	fluid     fluid.Fluid // nil where nothing is known
	t, p      float64     // the state
	h, cp, hp float64     // enthalpy there, and its slopes against temperature and pressure
}

// near reports whether a state is within tK and caloricShare of the one known.
func (k *caloric) near(t, p, tK float64) bool {
	return math.Abs(t-k.t) <= tK && math.Abs(p-k.p) <= caloricShare*k.p
}

// ask takes the state from the equation.
func (k *caloric) ask(f fluid.Fluid, t, p float64) error {
	s, err := f.At(t, p)
	if err != nil {
		k.fluid = nil
		return err
	}
	k.know(f, &s)
	return nil
}

func (k *caloric) know(f fluid.Fluid, s *fluid.State) {
	*k = caloric{f, s.TemperatureK, s.PressurePa, s.H, s.Cp, -s.Cp * s.JouleThomson}
}

// guess is the temperature of enthalpy h at p by the straight line.
func (k *caloric) guess(h, p float64) float64 { return k.t + (h-k.h-k.hp*(p-k.p))/k.cp }

// temperature gives the temperature [K] at which f has enthalpy h [J/kg] at p [Pa],
// with the heat capacity there to what tK [K] allows. A table is asked itself, which
// costs hardly more than the straight line, from where the answer was last; it leaves
// its isobar. from is where to look first otherwise.
func (k *caloric) temperature(b *fluid.Isobar, f fluid.Fluid, h, p, from, tK float64) (float64, error) {
	table, ok := f.(*fluid.Table)
	if !ok {
		return k.byEquation(f, h, p, from, tK)
	}
	if k.fluid == nil && k.t > 0 {
		from = k.t
	}
	t, cp, ok := table.Isenthalpic(b, h, p, from)
	if !ok {
		var err error
		if t, err = k.byEquation(table.Equation(), h, p, from, tK); err != nil {
			return t, err
		}
		if at, slope, ok := table.Isenthalpic(b, h, p, t); ok {
			t, cp = at, slope
		} else {
			return t, nil
		}
	}
	k.fluid, k.t, k.cp = nil, t, cp
	return t, nil
}

// byEquation gives the temperature [K] at which f has enthalpy h [J/kg] at p [Pa],
// with the heat capacity there to what tK [K] allows.
func (k *caloric) byEquation(f fluid.Fluid, h, p, from, tK float64) (float64, error) {
	if k.fluid != f {
		if k.ask(f, from, p) != nil {
			return f.TemperatureAt(h, p, from)
		}
	}
	for range caloricTries {
		t := k.guess(h, p)
		if k.near(t, p, tK) {
			return t, nil
		}
		if !(math.Abs(t-k.t) < 50) || k.ask(f, t, p) != nil {
			break
		}
	}
	t, err := f.TemperatureAt(h, p, from)
	if err == nil {
		err = k.ask(f, t, p)
	}
	return t, err
}

// enthalpy gives the enthalpy [J/kg] of f at t [K] and p [Pa]. b is an isobar of that
// pressure where f is a table.
func (k *caloric) enthalpy(b *fluid.Isobar, f fluid.Fluid, t, p float64) (float64, error) {
	if table, ok := f.(*fluid.Table); ok {
		if h, ok := b.Enthalpy(t); ok {
			return h, nil
		}
		h, _, err := table.Enthalpy(t, p)
		return h, err
	}
	if k.fluid != f || !k.near(t, p, caloricK) {
		if err := k.ask(f, t, p); err != nil {
			return 0, err
		}
	}
	return k.about(t, p), nil
}

// about is the enthalpy by the straight line.
func (k *caloric) about(t, p float64) float64 { return k.h + k.cp*(t-k.t) + k.hp*(p-k.p) }
