package properties

// boils is a liquid that knows its bubble pressure, which may be known where the
// viscosity, and with it the error, is not.
type boils interface {
	LiquidAt(tK, pPa float64) (bubblePa, criticalPa, viscosityPaS float64, err error)
}

// boiling adds the bubble pressure at the temperature of a liquid.
func (f *Fluid) boiling(s *State) {
	if b, ok := f.Composed.(boils); ok {
		if bubblePa, _, _, _ := b.LiquidAt(s.TemperatureK, s.PressurePa); bubblePa > 0 {
			s.set("bubble_Pa", bubblePa)
		}
	}
}
