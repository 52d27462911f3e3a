// Package properties works out and prints what the program takes the
// properties of a fluid to be: a table for people, JSON, or CSV over ranges.
package properties

import (
	"errors"
	"math"
	"sync"

	"tapline/solver/fluid"
)

// A Fluid is what is asked about.
type Fluid struct {
	Name     string         // what it is called, or its composition as given
	Case     string         // of the system; "" for a composition of the command line
	Composed fluid.Composed // the equation behind it
	// AtmospherePa is where gauge pressures start from, and Atmosphere says in
	// words where it is known from; "" where no pressure was one.
	AtmospherePa float64
	Atmosphere   string
	Notes        []string // what was said about the composition

	once   sync.Once // guards curves
	curves *fluid.Dews
}

// A State is a fluid at one point.
type State struct {
	Point
	Phase     string             // "gas" or "liquid"; "" if refused
	Values    map[string]float64 // by the keys of lang.Properties; what is not known is not there
	LnPhi     []float64          // of the components in the order of Fractions; nil where not known
	Mostly    string             // what the first drop at the hydrocarbon dew point is most of
	Undewed   string             // why there is no hydrocarbon dew point, else ""
	Unviscous string             // why a liquid has no viscosity that is known, else ""
	Frost     bool               // at the water dew point ice forms
	Refused   string             // why there is no such state, else ""
}

// At works out a state.
func (f *Fluid) At(p Point) State {
	s := State{Point: p, Values: map[string]float64{}}
	t, pa := p.TemperatureK, p.PressurePa
	if err := f.Composed.Stable(t, pa); err != nil {
		s.Refused = f.refusal(p, err)
		return s
	}
	at, err := f.Composed.At(t, pa)
	if err != nil {
		s.Refused = f.refusal(p, err)
		return s
	}
	phase := f.Composed.Basis().Phase
	s.Phase = phase.String()
	s.set("z", at.Z)
	s.set("density_kg_m3", at.DensityKgM3)
	s.set("density_mol_m3", at.DensityMol)
	s.set("kappa", at.Kappa)
	s.set("sound_m_s", at.Sound)
	s.set("joule_thomson_K_Pa", at.JouleThomson)
	s.set("cp_J_kg_K", at.Cp)
	s.set("cv_J_kg_K", at.Cv)
	s.set("enthalpy_J_kg", at.H)
	s.set("entropy_J_kg_K", at.S)
	viscosity, off := f.Composed.Viscosity(t, at.DensityKgM3)
	if viscosity > 0 { // 0 where it is not known
		s.set("viscosity_Pa_s", viscosity)
		s.set("viscosity_error", off)
	}
	conductivity, off := f.Composed.Conductivity(t, at.DensityKgM3)
	s.set("conductivity_W_m_K", conductivity)
	s.set("conductivity_error", off)
	if phi, err := f.Composed.LnPhi(t, pa, phase); err == nil {
		s.LnPhi = phi
	}
	if phase == fluid.Liquid {
		f.boiling(&s)
	} else {
		s.set("gamma_ideal", at.GammaIdeal)
		f.dews(&s)
	}
	return s
}

// set keeps what is a number.
func (s *State) set(key string, x float64) {
	if !math.IsNaN(x) && !math.IsInf(x, 0) {
		s.Values[key] = x
	}
}

// refusal words why there is no state, with the fluid and the state as they were
// asked for.
func (f *Fluid) refusal(p Point, err error) string {
	var e *fluid.StateError
	if errors.As(err, &e) {
		return f.Name + " at " + p.String() + " " + e.Reason
	}
	return f.Name + " at " + p.String() + ": " + err.Error()
}
