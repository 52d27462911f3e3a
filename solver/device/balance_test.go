package device

import (
	"math"
	"testing"
)

// Areas of the part worked by hand below: 40 mm sensing, 4 mm seat, 3 mm stem.
// pi/4 mm2 times 1600, 16 and 9.
const (
	sensing = 1256.6370614e-6
	seat    = 12.566370614e-6
	stem    = 7.0685834706e-6
)

func within(t *testing.T, what string, got, want, rel float64) {
	t.Helper()
	if math.Abs(got-want) > rel*math.Abs(want) {
		t.Errorf("%s is %.9g, want %.9g", what, got, want)
	}
}

// Each effect alone, by hand: the areas in mm2 and the forces in N stand in the
// comment, own arithmetic.
func TestBalanceByHand(t *testing.T) {
	plain := Balance{SensingM2: Circle(0.040), SeatM2: Circle(0.004), SensedInSeat: true, TravelM: 0.5e-3}
	with := func(change func(*Balance)) Balance {
		b := plain
		change(&b)
		return b
	}
	annulus := func(b *Balance) { b.SensedInSeat = false }
	cases := []struct {
		name  string
		parts Balance
		of    func(Balance) Forces
		want  Forces // only what is not 0 is held against
	}{
		// 1256.637 - 12.566 = 1244.0707; 12.566/1244.0707 = 1/99.
		{"reducer, inlet shuts it", plain, Balance.Reducer, Forces{HeldM2: 1244.0706908e-6, OtherM2: seat, Effect: 1. / 99}},
		// 1256.637 + 12.566 = 1269.2034; -1/101.
		{"reducer, inlet opens it", with(annulus), Balance.Reducer, Forces{HeldM2: 1269.2034320e-6, OtherM2: -seat, Effect: -1. / 101}},
		// Net seat 16 - 9 = 7 of 1600: 7/1593.
		{"balanced trim", with(func(b *Balance) { b.BalancingM2 = Circle(0.003) }), Balance.Reducer,
			Forces{HeldM2: sensing - seat + stem, OtherM2: seat - stem, Effect: 7. / 1593}},
		// Stem of 5 mm, wider than the seat: 16 - 25 = -9; -9/1609: the sign turns.
		{"overbalanced trim", with(func(b *Balance) { b.BalancingM2 = Circle(0.005) }), Balance.Reducer, Forces{Effect: -9. / 1609}},
		// 40 N/mm x 0.5 mm = 20 N over 1244.0707 mm2 = 16076.257 Pa.
		{"spring alone", with(func(b *Balance) { b.RateNM = 40e3 }), Balance.Reducer, Forces{BandPa: 16076.257}},
		// 2 N/mm x 0.5 mm = 1 N: 803.8128 Pa.
		{"poppet's spring alone", with(func(b *Balance) { b.PoppetRateNM = 2e3 }), Balance.Reducer, Forces{BandPa: 803.8128}},
		// 6 N against the load.
		{"poppet's preload in a reducer", with(func(b *Balance) { b.PoppetPreloadN = 6 }), Balance.Reducer, Forces{PoppetN: -6}},
		{"poppet's preload in a holder", with(func(b *Balance) { b.PoppetPreloadN = 6 }), Balance.Holder, Forces{PoppetN: 6}},
		// +-5 N: 10 N over 1244.0707 mm2.
		{"friction", with(func(b *Balance) { b.FrictionN = 5 }), Balance.Reducer, Forces{DeadBandPa: 8038.128}},
		// 8 N over 1244.0707 mm2.
		{"seat force", with(func(b *Balance) { b.SeatForceN = 8 }), Balance.Reducer, Forces{TightPa: 6430.503}},
		{"holder on its diaphragm, inlet around the seat", with(func(b *Balance) { annulus(b); b.OnElement = true }), Balance.Holder,
			Forces{HeldM2: 1244.0706908e-6, OtherM2: seat, Effect: 1. / 99}},
		{"holder on its diaphragm, inlet in the seat", with(func(b *Balance) { b.OnElement = true }), Balance.Holder,
			Forces{HeldM2: seat, OtherM2: 1244.0706908e-6, Effect: 99}},
		{"holder with a poppet, inlet around the seat", with(annulus), Balance.Holder, Forces{HeldM2: 1244.0706908e-6, Effect: 1. / 99}},
		{"holder with a poppet, inlet in the seat", plain, Balance.Holder, Forces{HeldM2: 1269.2034320e-6, Effect: -1. / 101}},
		{"disc on a nozzle, outlet in the bonnet", with(func(b *Balance) { b.OnElement, b.OutletBehind = true, true }), Balance.Holder,
			Forces{HeldM2: seat, OtherM2: -seat, Effect: -1}},
		{"diaphragm, outlet in the bonnet", with(func(b *Balance) { annulus(b); b.OnElement, b.OutletBehind = true, true }), Balance.Holder, Forces{Effect: -1}},
	}
	for _, c := range cases {
		got := c.of(c.parts)
		for _, f := range []struct {
			name      string
			got, want float64
		}{
			{"held area", got.HeldM2, c.want.HeldM2}, {"other area", got.OtherM2, c.want.OtherM2}, {"effect", got.Effect, c.want.Effect},
			{"band", got.BandPa, c.want.BandPa}, {"dead band", got.DeadBandPa, c.want.DeadBandPa}, {"tight", got.TightPa, c.want.TightPa},
			{"poppet", got.PoppetN, c.want.PoppetN},
		} {
			if f.want != 0 {
				within(t, c.name+": "+f.name, f.got, f.want, 1e-6)
			}
		}
	}
}

// A hand-worked reducer: spring 100 N, poppet 6 N, inlet 50 bar over atmosphere.
// It opens at (100 - 6 - 50e5 Pa x 12.566 mm2)/1244.0707 mm2
// = (94 - 62.8319) N/1244.0707 mm2 = 25053.4 Pa above atmosphere.
func TestPreloadByHand(t *testing.T) {
	f := Balance{SensingM2: Circle(0.040), SeatM2: Circle(0.004), SensedInSeat: true, PoppetPreloadN: 6}.Reducer()
	within(t, "preload", f.PreloadN(atmPa+25053.366, atmPa+50e5, atmPa), 100, 1e-6)
	// A holder with the inlet around its seat: 100 N + 6 N = p_in x 1244.0707 mm2
	// + 1e5 Pa x 12.566 mm2 (1.25664 N): 84194.4 Pa.
	f = Balance{SensingM2: Circle(0.040), SeatM2: Circle(0.004), PoppetPreloadN: 6}.Holder()
	within(t, "holder's preload", f.PreloadN(atmPa+84194.053, atmPa+1e5, atmPa), 100, 1e-5)
}

// At the onset that the lift gives, the forces written out one by one for every
// arrangement add to nothing, with a spring and with a dome, over a range of
// pressures on the other side.
func TestForcesAreInBalance(t *testing.T) {
	const as, a0, ab, ad = 1256.6370614e-6, 12.566370614e-6, 7.0685834706e-6, 804.2477193e-6 // dome of 32 mm
	const poppet = 6.0
	parts := Balance{SensingM2: as, SeatM2: a0, BalancingM2: ab, PoppetPreloadN: poppet, RateNM: 40e3, PoppetRateNM: 2e3, TravelM: 0.5e-3}
	seated := parts
	seated.SensedInSeat = true
	bare := Balance{SensingM2: as, SeatM2: a0, OnElement: true, RateNM: 40e3, TravelM: 0.5e-3}
	centre := bare
	centre.SensedInSeat = true
	behind := bare
	behind.OutletBehind = true
	cases := []struct {
		name   string
		parts  Balance
		holder bool
		// opening gives all forces that open less all that shut, with the load and
		// the force of the spring.
		opening func(in, out, load, spring float64) float64
	}{
		{"reducer, inlet shuts", seated, false, func(in, out, load, spring float64) float64 {
			return load*as + spring - out*as + out*a0 - out*ab - in*a0 + in*ab - poppet
		}},
		{"reducer, inlet opens", parts, false, func(in, out, load, spring float64) float64 {
			return load*as + spring - out*as + in*a0 - in*ab - out*a0 + out*ab - poppet
		}},
		{"holder with poppet, inlet around the seat", parts, true, func(in, out, load, spring float64) float64 {
			return in*as + out*a0 - out*ab - in*a0 + in*ab - load*as - spring - poppet
		}},
		{"holder with poppet, inlet in the seat", seated, true, func(in, out, load, spring float64) float64 {
			return in*as + in*a0 - in*ab - out*a0 + out*ab - load*as - spring - poppet
		}},
		{"holder, inlet around the seat", bare, true, func(in, out, load, spring float64) float64 {
			return in*(as-a0) + out*a0 - load*as - spring
		}},
		{"holder, inlet in the seat", centre, true, func(in, out, load, spring float64) float64 {
			return in*a0 + out*(as-a0) - load*as - spring
		}},
		{"holder, outlet behind", behind, true, func(in, out, _, spring float64) float64 {
			return in*(as-a0) + out*a0 - out*as - spring
		}},
	}
	for _, c := range cases {
		for _, spring := range []float64{300, 40, -40} {
			for _, other := range []float64{1.2e5, 3e5, 60e5} {
				for _, dome := range []float64{0, 8e5} {
					if dome > 0 && c.parts.OutletBehind || dome == 0 && spring < 0 {
						continue
					}
					f := c.parts.Reducer()
					if c.holder {
						f = c.parts.Holder()
					}
					load := atmPa
					var d *DomeSpec
					// The set for this spring at a reference of 2 bar on the other side.
					const reference = 2e5
					set := (spring+f.PoppetN+atmPa*(f.HeldM2+f.OtherM2))/f.HeldM2 - f.Effect*reference
					if dome > 0 {
						load = (dome*ad + atmPa*(as-ad)) / as
						d = &DomeSpec{Ratio: ad / as, BiasPa: f.BiasPa(spring), FixedPa: dome, FromLoad: true}
					} else {
						within(t, c.name+": preload", f.PreloadN(set, reference, atmPa), spring, 1e-9)
					}
					var l Lift
					onset := 0.0
					if c.holder {
						l = HolderSpec{SetPa: set, ReferenceOutletPa: reference, AccumulationPa: f.BandPa, OutletEffect: f.Effect, Dome: d, AtmospherePa: atmPa}.Lift()
						onset = -(l.Bias + l.Down*other) / l.Up
						within(t, c.name+": fully open", l.At(onset+f.BandPa, other, 0), 1, 1e-9)
						if sum := c.opening(onset, other, load, spring); math.Abs(sum) > 1e-9*as*60e5 {
							t.Errorf("%s, spring %g N, dome %g: %g N left over at the onset", c.name, spring, dome, sum)
						}
						continue
					}
					l = ReducerSpec{SetPa: set, ReferenceInletPa: reference, DroopPa: f.BandPa, SupplyEffect: f.Effect, Dome: d, AtmospherePa: atmPa}.Lift()
					onset = -(l.Bias + l.Up*other) / l.Down
					within(t, c.name+": fully open", l.At(other, onset-f.BandPa, 0), 1, 1e-9)
					if sum := c.opening(other, onset, load, spring); math.Abs(sum) > 1e-9*as*60e5 {
						t.Errorf("%s, spring %g N, dome %g: %g N left over at the onset", c.name, spring, dome, sum)
					}
				}
			}
		}
	}
}

// Plain attributes and the forces give the same lift where they describe the same
// device: the bias measured at the reference inlet is that of the forces and the
// effect of the load there.
func TestForcesAgainstMeasuredBias(t *testing.T) {
	f := Balance{SensingM2: Circle(0.05), SeatM2: Circle(0.006), SensedInSeat: true, PoppetPreloadN: 5, RateNM: 30e3, TravelM: 1e-3}.Reducer()
	const dome, reference = 12e5, 70e5
	forced := ReducerSpec{DroopPa: f.BandPa, SupplyEffect: f.Effect, AtmospherePa: atmPa,
		Dome: &DomeSpec{Ratio: 1, BiasPa: f.BiasPa(80), FixedPa: dome, FromLoad: true}}
	measured := forced
	measured.ReferenceInletPa = reference
	measured.Dome = &DomeSpec{Ratio: 1, BiasPa: f.BiasPa(80) + f.Effect*(dome-reference), FixedPa: dome}
	for _, in := range []float64{20e5, 70e5, 200e5} {
		for _, out := range []float64{10e5, 12e5, 13e5} {
			x, y := forced.Lift(), measured.Lift()
			a, b := x.At(in, out, 0), y.At(in, out, 0)
			if math.Abs(a-b) > 1e-8*(1+math.Abs(a)) {
				t.Errorf("inlet %g, outlet %g: %g by forces, %g as measured", in, out, a, b)
			}
		}
	}
	// Where the dome follows a node, forces weigh it by 1 + S.
	forced.Dome.FixedPa = 0
	within(t, "weight of the dome", forced.Lift().Ref*f.BandPa, 1+f.Effect, 1e-12)
}

// On one body the accumulations stand as the rates do: the loading spring and the
// poppet's against the poppet's alone under a dome.
func TestSpringAgainstDome(t *testing.T) {
	spring := Balance{SensingM2: sensing, SeatM2: seat, RateNM: 48e3, PoppetRateNM: 2e3, TravelM: 0.5e-3}
	dome := spring
	dome.RateNM = 0
	within(t, "ratio of the accumulations", spring.Holder().BandPa/dome.Holder().BandPa, (48+2)/2., 1e-12)
	// A closed dome of 0.1 L at 10 bar: 10e5 Pa x (1256.637e-6 m2)^2/1e-4 m3
	// = 15791.37 N/m, a third of the spring.
	within(t, "rate of a closed dome", DomeRate(10e5, sensing, 1e-4), 15791.37, 1e-6)
	dome.DomeRateNM = DomeRate(10e5, sensing, 1e-4)
	within(t, "ratio with a closed dome", spring.Holder().BandPa/dome.Holder().BandPa, 50/17.79137, 1e-6)
	// Without any rate, a thousandth of the load.
	dome.DomeRateNM, dome.PoppetRateNM = 0, 0
	if band, least := dome.Holder().DomeBandPa(8e5); band != 800 || !least {
		t.Errorf("least band %g, %v", band, least)
	}
	if band, least := spring.Holder().DomeBandPa(8e5); band != spring.Holder().BandPa || least {
		t.Errorf("band %g, %v", band, least)
	}
}

// With its loading lost a device keeps the spring of its poppet: a reducer stays
// shut, a holder opens only against it.
func TestLostKeepsThePoppet(t *testing.T) {
	b := Balance{SensingM2: sensing, SeatM2: seat, PoppetPreloadN: 6, RateNM: 40e3, TravelM: 0.5e-3}
	f := b.Holder()
	l := HolderSpec{SetPa: 3e5, AccumulationPa: f.BandPa, OutletEffect: f.Effect, PoppetPa: f.PoppetN / f.HeldM2, AtmospherePa: atmPa}.Lost()
	// 6 N over 1244.0707 mm2 = 4822.877 Pa above atmosphere.
	within(t, "holder opens at", -(l.Bias+l.Down*atmPa)/l.Up, atmPa+4822.877, 1e-8)
	b.SensedInSeat = true
	r := b.Reducer()
	l = ReducerSpec{SetPa: 3e5, DroopPa: r.BandPa, SupplyEffect: r.Effect, PoppetPa: r.PoppetN / r.HeldM2, AtmospherePa: atmPa}.Lost()
	within(t, "reducer opens at", -(l.Bias+l.Up*atmPa)/l.Down, atmPa-4822.877, 1e-8)
}
