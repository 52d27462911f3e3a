package properties

import (
	"errors"

	"tapline/solver/fluid"
)

// boils is a liquid that knows its bubble pressure, which may be known where the
// viscosity, and with it the error, is not.
type boils interface {
	LiquidAt(tK, pPa float64) (bubblePa, criticalPa, viscosityPaS float64, err error)
}

// boiling adds the bubble pressure at the temperature of a liquid, and why its
// viscosity is not known where it is not.
func (f *Fluid) boiling(s *State) {
	b, ok := f.Composed.(boils)
	if !ok {
		return
	}
	bubblePa, _, _, err := b.LiquidAt(s.TemperatureK, s.PressurePa)
	if bubblePa > 0 {
		s.set("bubble_Pa", bubblePa)
	}
	var e *fluid.StateError
	if _, known := s.Values["viscosity_Pa_s"]; !known && errors.As(err, &e) {
		s.Unviscous = e.Fluid + " " + e.Reason
	}
}
