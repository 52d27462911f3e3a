package device

import "math"

// Small trims pass laminar flow at small drops: w is then proportional to
// p1^2 - p2^2 and inversely to viscosity. The standard (IEC 60534-2-1, non-
// turbulent flow) multiplies the turbulent flow by a factor F_R of the valve
// Reynolds number, which itself contains the flow, and F_R jumps at Re_v = 10.
// A solver needs one smooth, monotone, explicit law. So only the standard's
// laminar asymptote is kept, F_R = (0.026/F_L) sqrt(n Re_v), which put into
// w = F_R w_t and solved for w gives
//
//	w_l = (N6 C)^2 p1 rho1 x (1 - x/2) k / Re*,   Re* = (F_L/0.026)^2 / n
//
// with Re_v = k w, and joined to the turbulent law by
//
//	w = w_t w_l / sqrt(w_t^2 + w_l^2)
//
// For a liquid x (1 - x/2) is the drop that sizes the valve, over p1.
//
// Units of k, as in the standard: kg/h, Pa s, mm, C = Kv.

// n19TimesN4 is N4 N19 = 0.0707 x 2.5: for a needle F_d = N19 sqrt(C F_L)/D0.
const n19TimesN4 = 0.177

// reynoldsPerFlow is k: the valve Reynolds number of 1 kg/h.
func (c *Coefficient) reynoldsPerFlow(viscosityPaS float64) float64 {
	if c.Fd > 0 {
		return n4 * c.Fd / (viscosityPaS * math.Sqrt(KvPerCv*c.Cv*c.FL))
	}
	return n19TimesN4 / (viscosityPaS * 1e3 * c.SeatM)
}

// ValveReynolds gives the valve Reynolds number Re_v at a flow of wKgS. Where
// neither SeatM nor Fd is given it takes F_d = 1. Turbulent above 10,000.
func (c Coefficient) ValveReynolds(wKgS, viscosityPaS float64) float64 {
	if c.Fd <= 0 && c.SeatM <= 0 {
		c.Fd = 1
	}
	return c.reynoldsPerFlow(viscosityPaS) * 3600 * wKgS
}

// laminarScale is w_l at x (1 - x/2) = 1.
func (c *Coefficient) laminarScale(pUp float64, g *Gas) float64 {
	n := 1.0
	if c.SizeM > 0 {
		n = reducedTrim(KvPerCv*c.Cv, c.SizeM)
	}
	rho, _ := g.Density(pUp)
	load := squared(areaPerCv*c.Cv) * pUp * rho // square of the turbulent flow at u = 1
	return 3600 * c.reynoldsPerFlow(g.ViscosityPaS) * n / squared(c.FL/0.026) * load
}

// laminarGas sets the laminar flow of a gas at the relative drop x.
func (c *Coefficient) laminarGas(f *Flow, x, pUp float64, g *Gas) {
	scale := c.laminarScale(pUp, g)
	perPa := 1 / pUp
	f.W = scale * x * (1 - x/2)
	f.Up = (scale*(1-x)*(1-x) + f.W*(1+g.Exponent)) * perPa
	f.Down = -scale * (1 - x) * perPa
}

// join makes f, a turbulent flow, the smooth join of itself and a laminar one.
func (f *Flow) join(l *Flow) {
	// The shares of the two; from the slopes where both flows are zero.
	byT, byL := l.W, f.W
	if byT == 0 {
		byT, byL = l.Down, f.Down
	}
	perH := 1 / hypotenuse(byT, byL)
	byT, byL = math.Abs(byT)*perH, math.Abs(byL)*perH
	t3, l3 := byT*byT*byT, byL*byL*byL
	f.W *= byT
	f.Up = t3*f.Up + l3*l.Up
	f.Down = t3*f.Down + l3*l.Down
	f.Exponent = byT*byT*f.Exponent + byL*byL
	f.Root *= byT
	f.Choked = f.Choked && byT > byL
}

// reducedTrim is the standard's n of a trim small beside its body, n2 in the
// 2005 edition: 1 + N32 (C/d^2)^(2/3); C = Kv, d in mm.
func reducedTrim(kv, sizeM float64) float64 {
	return 1 + n32*squared(math.Cbrt(kv/squared(1e3*sizeM)))
}

// ReynoldsFactor is the standard's own F_R (ANSI/ISA-75.01.01-2007, the non-
// turbulent annex): the smallest of 1, the transitional and the laminar form;
// the laminar form alone below Re_v = 10, where it therefore jumps. It is here
// to be held against published values; Coefficient uses the smooth join above.
// reduced says that the trim is small beside the body (C/d^2 < 0.016 N18).
func ReynoldsFactor(fl, kv, sizeM, reynolds float64, reduced bool) float64 {
	n := n2 / squared(kv/squared(1e3*sizeM))
	if reduced {
		n = reducedTrim(kv, sizeM)
	}
	laminar := 0.026 / fl * math.Sqrt(n*reynolds)
	if reynolds < 10 {
		return min(laminar, 1)
	}
	transitional := 1 + 0.33*math.Sqrt(fl)/math.Sqrt(math.Sqrt(n))*math.Log10(reynolds/1e4)
	return min(laminar, transitional, 1)
}
