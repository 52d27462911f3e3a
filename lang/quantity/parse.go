package quantity

// Parse reads a text as a value of dimension d in one of the allowed forms.
// The error is always an *Error.
func Parse(text string, d Dimension, allowed Form) (Value, error) {
	return Value{}, &Error{Message: "not yet read", End: len(text)}
}

// SeriesLen tells how many points a series would expand to, without expanding
// it; 0 if the text is no series.
func SeriesLen(text string, d Dimension) int { return 0 }

// ParseReference reads "15 degC, 101.325 kPaa".
func ParseReference(text string) (Reference, error) {
	return Reference{}, &Error{Message: "not yet read", End: len(text)}
}

// Units lists the spellings accepted, canonical order.
func (d Dimension) Units() []string { return nil }

// Site is what the conversions need to know of the place.
type Site struct {
	AtmospherePa float64    // absolute
	Reference    *Reference // nil if the system states none
}

// Stream is what the conversions need to know of a flowing gas or liquid.
type Stream struct {
	MolarMass   float64 // kg/mol
	DensityKgM3 float64 // at the local state
}

// PressurePa gives the absolute pressure.
func (q Quantity) PressurePa(s Site) float64 { return q.SI }

// MassFlowKgS gives the mass flow.
func (q Quantity) MassFlowKgS(s Site, molarMass, localDensity float64) (float64, error) {
	return q.SI, nil
}

// Convert gives an SI result (absolute Pa, K, kg/s for every flow) in a unit by name.
func Convert(si float64, unit string, s Site, g Stream) (float64, error) { return si, nil }

// Format gives an SI result as text with its unit.
func Format(si float64, unit string, s Site, g Stream) (string, error) { return "", nil }

// StandardAtmospherePa gives the pressure of the US Standard Atmosphere 1976.
func StandardAtmospherePa(elevationM float64) float64 { return 101325 }
