package properties

import "tapline/solver/fluid"

// dews adds the dew points at the pressure of a state.
func (f *Fluid) dews(s *State) {
	f.once.Do(func() { f.curves = fluid.DewsOf(f.Composed) })
	dew := f.curves.At(s.PressurePa)
	s.set("hydrocarbon_dew_K", dew.HydrocarbonK)
	s.set("water_dew_K", dew.WaterK)
	s.set("dew_margin_K", s.TemperatureK-dew.HighestK())
	s.set("cricondenbar_Pa", dew.CricondenbarPa)
	s.Mostly, s.Frost, s.Undewed = dew.Mostly, dew.Frost, dew.Words
}
