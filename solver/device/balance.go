package device

import "math"

// The balance of forces on the moving parts of a regulator, at the point where
// its seat just opens, and what follows from it. Areas are those of circles, or
// effective ones: the area of a diaphragm is taken to stay the same over the
// travel, and the forces of the flowing gas are left out, so that the droop and
// the accumulation found here are the least there can be (common practice).
//
// The load, a spring of force F or a dome, acts on the whole sensing area a_s:
//
//	P_L = r p_dome + (1 - r) p_atm,  r = dome area/sensing area
//
// (r = 0 with a spring alone: the bonnet is vented). On the other side stand the
// held pressure on the area held and the other pressure on the area other, and
// what a poppet adds, F_p. The seat just opens at
//
//	held p_held + other p_other = a_s P_L + F + F_p,  held + other = a_s
//	p_held = P_L + b + E (P_L - p_other),  b = (F + F_p)/held,  E = other/held
//
// so the effect E, the fall of the held pressure per rise of the other one, is a
// ratio of areas alone. With a_n = a_0 - a_b, the area of the seat less that of a
// sealed stem that carries the pressure from before the poppet back behind it
// (balanced trim; a_b = 0 without):
//
//	reducer, outlet in the seat, inlet around it:  p_in shuts it on a_n, p_out
//	   opens it on a_n:  held = a_s - a_n, other = a_n; the outlet rises as the
//	   inlet falls, S = a_n/(a_s - a_n)
//	reducer, outlet around the seat, inlet in it:  held = a_s + a_n, other = -a_n;
//	   the inlet opens it and the outlet falls with it, S = -a_n/(a_s + a_n)
//	holder with a poppet, inlet around the seat:  held = a_s - a_n, other = a_n
//	holder with a poppet, inlet in the seat:      held = a_s + a_n, other = -a_n
//	holder that seals on its sensing element, inlet around the seat:
//	   held = a_s - a_0, other = a_0:  B = a_0/(a_s - a_0), small
//	holder that seals on its sensing element, inlet in the seat:
//	   held = a_0, other = a_s - a_0:  B = (a_s - a_0)/a_0, large: it snaps
//	holder with the outlet behind its sensing element:  other is less by a_s, the
//	   load is the spring alone, and B = -1 whatever the areas
//
// The spring of a poppet shuts it: F_p is minus its preload in a reducer, whose
// load opens, and plus in a holder, whose load shuts. From shut to fully open the
// moving parts go the travel h against all rates k, so that the held pressure
// moves by (k + k_poppet + k_dome) h/held. Friction F_f holds them anywhere
// within F_f/held to either side, and a force F_t that makes the seat tight takes
// F_t/held beyond the onset.

// A Balance is the parts that move in a regulator. Lengths are turned into areas
// with Circle.
type Balance struct {
	SensingM2   float64 // effective area of diaphragm or piston; above 0
	SeatM2      float64 // of the seat's bore; below SensingM2
	BalancingM2 float64 // of a stem that balances the poppet; below SensingM2, 0 for none
	// SensedInSeat has the held pressure in the bore of the seat and the other
	// one in the annulus around it.
	SensedInSeat bool
	// OnElement has the sensing element itself sit on the seat (holders).
	OnElement bool
	// OutletBehind has the outlet pressure behind the sensing element, with the
	// spring (holders).
	OutletBehind bool

	RateNM         float64 // of the loading spring; 0 without one
	PoppetRateNM   float64
	DomeRateNM     float64 // of the gas shut in behind a closed dome: DomeRate
	PoppetPreloadN float64
	TravelM        float64 // from shut to fully open
	FrictionN      float64
	SeatForceN     float64 // that makes the seat tight
}

// Circle is the area of a diameter [m2].
func Circle(diameterM float64) float64 { return math.Pi / 4 * diameterM * diameterM }

// DomeRate is the stiffness [N/m] of gas shut in at a pressure behind an area that
// moves: p A^2/V, at constant temperature, since the answers are steady ones.
func DomeRate(pressurePa, areaM2, volumeM3 float64) float64 {
	return pressurePa * areaM2 * areaM2 / volumeM3
}

// Forces is what a Balance comes to for the pressure that is held: the outlet of
// a reducer, the inlet of a holder.
type Forces struct {
	HeldM2  float64 // area on which the held pressure acts against the load; above 0
	OtherM2 float64 // area on which the other one does; negative where it helps the load
	PoppetN float64 // what the poppet's spring adds to the load
	// Effect is the fall of the held pressure per rise of the other one: S of a
	// reducer, B of a holder.
	Effect     float64
	BandPa     float64 // droop or accumulation, from onset to fully open
	DeadBandPa float64 // whole width in which friction holds it
	TightPa    float64 // lock-up or reseat: from onset to a tight seat
}

// Reducer gives the forces in a pressure-reducing regulator.
func (b Balance) Reducer() Forces {
	net := b.SeatM2 - b.BalancingM2
	if !b.SensedInSeat {
		net = -net
	}
	return b.forces(b.SensingM2-net, net, -b.PoppetPreloadN)
}

// Holder gives the forces in a back-pressure regulator.
func (b Balance) Holder() Forces {
	net := b.SeatM2 - b.BalancingM2
	held, other := b.SensingM2-net, net
	switch {
	case b.OnElement && b.SensedInSeat:
		held, other = b.SeatM2, b.SensingM2-b.SeatM2
	case b.OnElement:
		held, other = b.SensingM2-b.SeatM2, b.SeatM2
	case b.SensedInSeat:
		held, other = b.SensingM2+net, -net
	}
	if b.OutletBehind {
		other = -held
	}
	return b.forces(held, other, b.PoppetPreloadN)
}

func (b Balance) forces(held, other, poppetN float64) Forces {
	return Forces{
		HeldM2: held, OtherM2: other, PoppetN: poppetN, Effect: other / held,
		BandPa:     (b.RateNM + b.PoppetRateNM + b.DomeRateNM) * b.TravelM / held,
		DeadBandPa: 2 * b.FrictionN / held,
		TightPa:    b.SeatForceN / held,
	}
}

// PreloadN is the force of the loading spring of a shut device that has its onset
// at heldPa with the other pressure at otherPa. Negative: the spring would have to
// pull.
func (f Forces) PreloadN(heldPa, otherPa, atmospherePa float64) float64 {
	return f.HeldM2*(heldPa-atmospherePa) + f.OtherM2*(otherPa-atmospherePa) - f.PoppetN
}

// BiasPa is what a spring beside the dome, negative against it, and the poppet's
// spring add to the load at the onset.
func (f Forces) BiasPa(springN float64) float64 { return (springN + f.PoppetN) / f.HeldM2 }

// leastOfLoad is the least band of a device that is loaded by a dome, as a share
// of the load: nothing follows its dome closer (common practice).
const leastOfLoad = 1e-3

// DomeBandPa is the band under a dome at loadPa absolute, and whether it is the
// least there can be instead of what the rates give.
func (f Forces) DomeBandPa(loadPa float64) (bandPa float64, least bool) {
	if floor := leastOfLoad * loadPa; f.BandPa < floor {
		return floor, true
	}
	return f.BandPa, false
}
