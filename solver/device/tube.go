package device

// Flow through a tube is implicit: friction depends on the flow. Each form below
// (isothermal, adiabatic, liquid) is one scalar equation F(K) = 0 in the friction
// number K = f Re^2 of friction.go, of which the Reynolds number and with it the
// flow is an explicit, rising function. F falls with K and is close to linear in
// it (start.go).
//
// A sonic exit is part of F: the exit pressure is the larger of p2 and the
// pressure at which w, as a function of the exit pressure, has its maximum.
// There the derivative of F by the exit pressure is zero, which is why value and
// both slopes join and why F'(K) needs no term for it.
//
// Slopes follow by implicit differentiation, dK/dp = -F_p/F_K.

// Liquids are in liquid.go.

// A Tube is a run of tube or hose between two places in the line. The Gas is that
// at the mean pressure p_m = 2/3 (p1^3-p2^3)/(p1^2-p2^2) and mean temperature.
//
// Where 0.02 L/D + K is 10 or more the flow is isothermal with the acceleration
// term; a shorter tube is taken as adiabatic (Fanno) because the isothermal sonic
// exit passes up to 13 % too much there.
type Tube struct {
	BoreM      float64 // inside diameter
	LengthM    float64 // less than one bore counts as one bore
	RoughnessM float64 // absolute; 1.5e-6 for drawn tube
	K          float64 // losses inside the run (bends, fittings) in dynamic pressures, from 0; no exit loss
	// RiseM is the height of the downstream end above the upstream end. See Signed.
	RiseM float64
}

const (
	gravity       = 9.80665 // m/s2, standard
	adiabaticUpTo = 10      // 0.02 L/D + K
	// lowestExit bounds the ratio of exit to inlet pressure: what flows at this
	// ratio is what flows into vacuum, to 1e-12.
	lowestExit = 1e-6
	// leastViscosity keeps K finite where a gas says it has no viscosity.
	leastViscosity = 1e-12
)

// Flow implements Law. With a rise, half of the gas column's weight is taken off
// the upstream pressure and half added to the downstream one. Where what is left
// does not drive forward, W is 0 with the slopes of a flow about to start.
func (t Tube) Flow(pUp, pDown float64, g *Gas) (f Flow) {
	var from Start
	t.forward(&f, pUp, pDown, g, &from)
	return f
}

// Signed is Flow for a tube whose direction the pressures decide: positive from
// in to out, RiseM being the height of out above in. With a rise the flow does
// not turn where the pressures are equal but where they differ by the weight of
// the gas, so the caller cannot know the direction. Up and Down are dW/dp_in and
// dW/dp_out, signed; W and Root have the sign of the flow.
func (t Tube) Signed(pIn, pOut float64, g *Gas) (f Flow) {
	var from Start
	t.Pass(&f, pIn, pOut, g, &from)
	return f
}

// Pass implements TwoWay.
func (t Tube) Pass(f *Flow, pIn, pOut float64, g *Gas, from *Start) {
	ahead := pIn >= pOut
	if t.RiseM != 0 {
		ahead = pIn-pOut >= columnPa(t.RiseM, g)
		if !g.Liquid {
			half := halfColumn(t.RiseM, g)
			ahead = pIn*half >= pOut/half
		}
	}
	if ahead {
		t.forward(f, pIn, pOut, g, from)
		return
	}
	t.RiseM = -t.RiseM
	t.forward(f, pOut, pIn, g, from)
	f.turn()
}

func (t *Tube) forward(f *Flow, pUp, pDown float64, g *Gas, from *Start) {
	switch {
	case !(t.BoreM > 0 && pUp > 0):
		*f = closed()
	case t.RiseM == 0:
		t.level(f, pUp, pDown, g, from)
	case g.Liquid:
		t.level(f, pUp, pDown+columnPa(t.RiseM, g), g, from)
	default:
		half := halfColumn(t.RiseM, g)
		t.level(f, pUp*half, pDown/half, g, from)
		f.Up *= half
		f.Down /= half
	}
}

// VolumeM3 is the volume the tube holds.
func (t Tube) VolumeM3() float64 { return area(t.BoreM) * t.LengthM }

// halfColumn is the factor by which pressure falls over half of a rise, the gas
// taken as of one temperature and compressibility (barometric formula).
func halfColumn(riseM float64, g *Gas) float64 {
	if riseM == 0 {
		return 1
	}
	return exp(-min(max(gravity*riseM*g.DensityKgM3/(2*g.PressurePa), -1), 1))
}

// duct is a tube made ready for the equations.
type duct struct {
	areaM2, lengthByBore, roughness, loss float64
	flowPerRe                             float64 // w = flowPerRe Re [kg/s]
}

func (t *Tube) level(f *Flow, p1, p2 float64, g *Gas, from *Start) {
	a, perBore := area(t.BoreM), 1/t.BoreM
	var d duct
	d.areaM2 = a
	d.lengthByBore = max(t.LengthM*perBore, 1)
	d.roughness = max(t.RoughnessM*perBore, 0)
	d.loss = max(t.K, 0)
	d.flowPerRe = max(g.ViscosityPaS, leastViscosity) * a * perBore
	if g.Liquid {
		d.liquid(f, p1-p2, g, from)
		return
	}
	p2 = max(p2, lowestExit*p1)
	if 0.02*d.lengthByBore+d.loss < adiabaticUpTo {
		d.adiabatic(f, p1, p2, g, from)
	} else {
		d.isothermal(f, p1, p2, g, from)
	}
}

// rest is the flow without a drive, of which only the slope is not 0.
func (f *Flow) rest(slope float64) {
	f.W, f.Up, f.Down, f.Exponent, f.Root, f.Choked = 0, slope, -slope, 1, smallestRoot, false
}

// exponent sets the exponent within its bounds.
func (f *Flow) exponent(a float64) {
	switch f.Exponent = a; {
	case a < 0.5:
		f.Exponent = 0.5
	case a > 1:
		f.Exponent = 1
	}
}
