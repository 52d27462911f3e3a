package device

import "math"

// Constants of IEC 60534-2-1:2011, worked out from the definition of Kv: 1 m3/h
// of water of 999.1 kg/m3 at a drop of 1 bar.
const (
	// KvPerCv is Kv [m3/h at 1 bar] of a valve whose Cv is 1 (the standard's N18).
	KvPerCv = 0.865
	// N6Kv is sqrt(999.1): kg/h, bar, kg/m3, coefficient Kv.
	N6Kv = 31.608
	// N6Cv is N6Kv times KvPerCv: kg/h, bar, kg/m3, coefficient Cv.
	N6Cv = 27.341
	// areaPerCv turns a Cv into the m2 of w = area u sqrt(p1 rho1), all SI.
	areaPerCv = N6Cv / 3600 / 316.22776601683796 // sqrt(1e5)

	n2  = 1.6e-3 // mm, Kv
	n4  = 7.07e-2
	n32 = 140
)

// smallestChoke keeps the choking drop away from zero, whatever xT says.
const smallestChoke = 1e-3

// A Coefficient is a passage known by its flow coefficient, for gas, after IEC
// 60534-2-1:2011 without fittings (equations for compressible fluid, clause 7):
//
//	x = (p1 - p2)/p1, xc = (gamma/1.4) xT, xs = min(x, xc), Y = 1 - xs/(3 xc)
//	w = N6 Cv Y sqrt(xs p1 rho1)
//
// with the ideal-gas gamma at the inlet, which the standard bounds to 1.08..1.65.
// The slope is zero from xc on. Below x = 1e-6 the root is straightened.
//
// For a liquid (the same standard, clause 5, with N1 brought to the units of N6):
//
//	w = N6 Cv sqrt(rho1 dp),  dp = min(p1 - p2, FL^2 (p1 - FF pv))
//
// with the minimum rounded as liquid.go has it.
//
// Where SeatM or Fd is given the passage has a laminar end (smalltrim.go).
type Coefficient struct {
	Cv float64 // fully open
	XT float64 // critical pressure differential ratio factor; 0.7 is usual
	FL float64 // liquid pressure recovery factor; for gas read only by the laminar end; 0.9 is usual

	SeatM float64 // bore of the seat of a needle or small-flow trim [m]; 0 = not given
	Fd    float64 // valve style modifier; wins over SeatM; 0 = not given
	SizeM float64 // nominal size of the body [m], for the laminar end; 0 = large beside the trim
}

// Flow implements Law.
func (c Coefficient) Flow(pUp, pDown float64, g *Gas) (f Flow) {
	c.set(&f, pUp, pDown, g)
	return f
}

// Pass implements TwoWay.
func (c Coefficient) Pass(f *Flow, pIn, pOut float64, g *Gas, _ *Start) {
	if pIn >= pOut {
		c.set(f, pIn, pOut, g)
		return
	}
	c.set(f, pOut, pIn, g)
	f.turn()
}

func (c *Coefficient) set(f *Flow, pUp, pDown float64, g *Gas) {
	if !(c.Cv > 0 && pUp > 0) {
		*f = closed()
		return
	}
	x := drop(pUp, pDown)
	if g.Liquid {
		s := incompressible(x, pUp, recovered(c.FL), g)
		s.throttle(f, areaPerCv*c.Cv, pUp, g)
		if c.small(g) {
			var l Flow
			s.linear(&l, c.laminarScale(pUp, g), pUp, g)
			f.join(&l)
		}
		return
	}
	f.throttle(areaPerCv*c.Cv, pUp, x, g, parabola(x, c.chokingDrop(g)))
	if c.small(g) {
		var l Flow
		c.laminarGas(&l, x, pUp, g)
		f.join(&l)
	}
}

// small reports whether the passage has a laminar end.
func (c *Coefficient) small(g *Gas) bool {
	return (c.SeatM > 0 || c.Fd > 0) && c.FL > 0 && g.ViscosityPaS > 0
}

// chokingDrop is xc, the relative drop from which the flow is choked.
func (c Coefficient) chokingDrop(g *Gas) float64 {
	return max(g.GammaIdeal*(1/1.4)*c.XT, smallestChoke)
}

// CvFor gives the Cv that passes wKgS from pUp to pDown [Pa], turbulent, with
// the factor xT. It is 0 where there is no drop.
func CvFor(wKgS, pUp, pDown, xT float64, g *Gas) float64 {
	one := Coefficient{Cv: 1, XT: xT}.Flow(pUp, pDown, g)
	if one.W <= 0 {
		return 0
	}
	return wKgS / one.W
}

// ResistanceFromCv gives the loss coefficient K (drop over the dynamic pressure
// in a bore of boreM) of a passage with the given Cv: K = N2 D^4/Kv^2.
func ResistanceFromCv(cv, boreM float64) float64 {
	kv, d2 := KvPerCv*cv, 1e6*boreM*boreM
	return n2 * d2 * d2 / (kv * kv)
}

// squared is here because math.Pow is not for squares.
func squared(x float64) float64 { return x * x }

// hypotenuse is sqrt(a^2 + b^2) for values far from overflow.
func hypotenuse(a, b float64) float64 { return math.Sqrt(a*a + b*b) }
