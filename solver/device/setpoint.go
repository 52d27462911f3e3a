package device

import (
	"errors"
	"math"
)

// What a regulator is set to, and how far it droops, is often stated at a flow.
// At the flow w the lift is y = Cv(w)/Cv, with the coefficient that passes w
// between the two pressures, and the held pressure is
//
//	p = P_o -+ y band
//
// (minus for the outlet of a reducer, plus for the inlet of a holder). A Setting
// is solved for the onset P_o and the band.

// A Setting is what is stated of a regulator at its reference state.
type Setting struct {
	SetPa      float64 // held pressure
	SetFlowKgS float64 // the flow at which it is SetPa; 0: at the onset
	// BandPa is what the held pressure moves from the onset to fully open, or to
	// BandFlowKgS where that is not 0.
	BandPa      float64
	BandFlowKgS float64
	OtherPa     float64 // pressure on the other side
	Holder      bool    // the held pressure is the inlet
}

// Errors of Onset.
var (
	ErrSetFlow  = errors.New("the set is stated at more than the device passes fully open")
	ErrBandFlow = errors.New("the band is stated at more than the device passes fully open")
	ErrNoOnset  = errors.New("no onset gives both the set and the band")
)

// Onset gives the held pressure at which the device opens, and its whole band.
func (s Setting) Onset(c Coefficient, g *Gas) (onsetPa, bandPa float64, err error) {
	sign := -1.0
	if s.Holder {
		sign = 1
	}
	lift := func(w, heldPa float64) float64 {
		up, down := s.OtherPa, heldPa
		if s.Holder {
			up, down = down, up
		}
		if cv := CvFor(w, up, down, c.XT, g); cv > 0 {
			return cv / c.Cv
		}
		return math.Inf(1) // nothing flows without a drop
	}
	atSet := 0.0
	if s.SetFlowKgS > 0 {
		if atSet = lift(s.SetFlowKgS, s.SetPa); atSet > 1 {
			return 0, 0, ErrSetFlow
		}
	}
	if s.BandFlowKgS == 0 {
		return s.SetPa - sign*atSet*s.BandPa, s.BandPa, nil
	}
	whole := func(onset float64) float64 { return s.BandPa / lift(s.BandFlowKgS, onset+sign*s.BandPa) }
	miss := func(onset float64) float64 { return onset + sign*atSet*whole(onset) - s.SetPa }
	onsetPa = s.SetPa
	if atSet > 0 {
		low, high := s.SetPa, s.OtherPa // miss rises with the onset
		if s.Holder {
			low, high = s.OtherPa, s.SetPa
		}
		if miss(low) > 0 || miss(high) < 0 {
			return 0, 0, ErrNoOnset
		}
		for range 100 {
			if onsetPa = (low + high) / 2; miss(onsetPa) < 0 {
				low = onsetPa
			} else {
				high = onsetPa
			}
		}
	}
	if bandPa = whole(onsetPa); !(bandPa >= s.BandPa) {
		return 0, 0, ErrBandFlow
	}
	return onsetPa, bandPa, nil
}
