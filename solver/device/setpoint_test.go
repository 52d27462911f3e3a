package device

import (
	"errors"
	"testing"
)

// bench is an ideal gas, so that the law can be worked by hand: nitrogen at 20 degC.
func bench(pPa float64) *Gas {
	return &Gas{PressurePa: pPa, TemperatureK: 293.15, DensityKgM3: pPa * 0.0280134 / (GasConstant * 293.15), Exponent: 1, MolarMass: 0.0280134, GammaIdeal: 1.4, Kappa: 1.4}
}

// Choked, the lift is the flow over that of the open passage, which is
// N6 Cv 2/3 sqrt(0.7 p1 rho1): at 50 bar and 57.4645 kg/m3 with Cv 0.1
// 27.341 x 0.1 x 0.66667 x sqrt(0.7 x 50 x 57.4645) = 81.745 kg/h.
func TestOnsetChoked(t *testing.T) {
	c := Coefficient{Cv: 0.1, XT: 0.7}
	const full = 81.745 / 3600
	g := bench(50e5)
	// A droop of 0.1 bar at a quarter of it is one of 0.4 bar.
	onset, band, err := Setting{SetPa: 4e5, BandPa: 1e4, BandFlowKgS: full / 4, OtherPa: 50e5}.Onset(c, g)
	if err != nil || onset != 4e5 {
		t.Fatal(onset, err)
	}
	within(t, "droop", band, 4e4, 1e-4)
	// Set at a tenth of it: the onset is a tenth of the droop higher.
	onset, band, err = Setting{SetPa: 4e5, SetFlowKgS: full / 10, BandPa: 3e4, OtherPa: 50e5}.Onset(c, g)
	if err != nil || band != 3e4 {
		t.Fatal(band, err)
	}
	within(t, "onset", onset, 4.03e5, 1e-6)
	// Both: droop 0.4 bar, onset 0.04 bar above the set.
	onset, band, err = Setting{SetPa: 4e5, SetFlowKgS: full / 10, BandPa: 1e4, BandFlowKgS: full / 4, OtherPa: 50e5}.Onset(c, g)
	if err != nil {
		t.Fatal(err)
	}
	within(t, "droop of both", band, 4e4, 1e-4)
	within(t, "onset of both", onset, 4.04e5, 1e-6)
}

// Not choked, the points that were stated lie on the curve that comes out.
func TestOnsetPassesThroughItsPoints(t *testing.T) {
	c := Coefficient{Cv: 0.2, XT: 0.7}
	for _, s := range []Setting{
		{SetPa: 4e5, SetFlowKgS: 1e-3, BandPa: 2e4, BandFlowKgS: 2.5e-3, OtherPa: 5e5},
		{SetPa: 4e5, SetFlowKgS: 1e-3, BandPa: 2e4, BandFlowKgS: 2.5e-3, OtherPa: 1.5e5, Holder: true},
	} {
		g := bench(max(s.SetPa, s.OtherPa))
		onset, band, err := s.Onset(c, g)
		if err != nil {
			t.Fatal(err)
		}
		flow := func(held float64) float64 { // of the device with the onset and band found
			up, down, y := s.OtherPa, held, (onset-held)/band
			if s.Holder {
				up, down, y = held, s.OtherPa, (held-onset)/band
			}
			return y * c.Flow(up, down, g).W
		}
		moved := onset - s.BandPa
		if s.Holder {
			moved = onset + s.BandPa
		}
		within(t, "flow at the set", flow(s.SetPa), s.SetFlowKgS, 1e-9)
		within(t, "flow at the band", flow(moved), s.BandFlowKgS, 1e-9)
	}
}

func TestOnsetRefuses(t *testing.T) {
	c := Coefficient{Cv: 0.1, XT: 0.7}
	for _, tc := range []struct {
		s    Setting
		want error
	}{
		{Setting{SetPa: 4e5, SetFlowKgS: 1, BandPa: 1e4, OtherPa: 50e5}, ErrSetFlow},
		{Setting{SetPa: 4e5, BandPa: 1e4, BandFlowKgS: 1, OtherPa: 50e5}, ErrBandFlow},
		{Setting{SetPa: 4e5, SetFlowKgS: 1e-3, BandPa: 1e4, OtherPa: 3e5}, ErrSetFlow},
		{Setting{SetPa: 4e5, SetFlowKgS: 15e-3, BandPa: 1e5, BandFlowKgS: 1e-5, OtherPa: 50e5}, ErrNoOnset},
		{Setting{SetPa: 4e5, SetFlowKgS: 1e-3, BandPa: 1e5, BandFlowKgS: 1e-5, OtherPa: 1e5, Holder: true}, ErrNoOnset},
	} {
		if _, _, err := tc.s.Onset(c, bench(50e5)); !errors.Is(err, tc.want) {
			t.Errorf("%+v: %v, want %v", tc.s, err, tc.want)
		}
	}
}
