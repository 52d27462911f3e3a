package properties

// boiling adds the bubble pressure at the temperature of a liquid.
func (f *Fluid) boiling(s *State) {
	type boils interface {
		Boiling(tK float64) (bubblePa, criticalPa float64, err error)
	}
	if b, ok := f.Composed.(boils); ok {
		if bubble, _, err := b.Boiling(s.TemperatureK); err == nil {
			s.set("bubble_Pa", bubble)
		}
	}
}
