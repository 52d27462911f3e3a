package device

import "math"

// Fittings beside a valve. A valve in a line wider than itself stands between a
// reducer and an expander, which take their part of the drop. IEC 60534-2-1:2011
// (clause 8, "Piping geometry") has for a valve of nominal bore d in lines of D1
// before and D2 behind it, both short and concentric,
//
//	zeta1 = 0.5 (1 - (d/D1)^2)^2    resistance of the reducer
//	zeta2 =     (1 - (d/D2)^2)^2    resistance of the expander
//	zetaB = 1 - (d/D)^4             Bernoulli coefficient of either
//	sum   = zeta1 + zeta2 + zetaB1 - zetaB2
//	zetai = zeta1 + zetaB1          what lies before the valve
//
// and with q = (C/d^2)^2, C as Kv and d in mm,
//
//	F_P  = 1/sqrt(1 + sum q/N2)                        N2 = 1.60e-3
//	x_TP = (x_T/F_P^2)/(1 + x_T zetai q/N5)            N5 = 1.80e-3
//	F_LP = F_L/sqrt(1 + F_L^2 zetai q/N2)
//
// The flow is then that of the bare valve with F_P C for C, x_TP for x_T and, in the
// choking drop of a liquid, F_LP/F_P for F_L. That is a Coefficient again: the law
// in the network costs nothing more. q is that of the valve as far open as it is, so
// whoever changes C has to fit anew.
//
// The standard states its factors for turbulent flow, and where C/(N18 d^2) is at
// most 0.047 (from memory). The laminar end of a small trim takes the fitted
// coefficient; in so small a valve F_P is 1 but for a few parts in a thousand.
//
// The same losses as a length of line: a passage of resistance K in a line of bore D
// costs what L = K D/f_T of that line costs, f_T being the friction factor of fully
// rough flow (TP 410 handbook of flow through valves and fittings, chapter 2).

const (
	n5 = 1.8e-3 // mm, Kv
	// widestFitted is the largest C/(N18 d^2) for which the factors are stated.
	widestFitted = 0.047
)

// Fittings are the lines beside a valve. A line of 0, or no wider than the valve,
// needs no fitting; the factors know none for a line that is narrower.
type Fittings struct {
	BoreM   float64 // nominal bore d of the valve [m], above 0
	InletM  float64 // inside diameter D1 of the line before it [m]
	OutletM float64 // inside diameter D2 of the line behind it [m]
}

// Before gives zetai: resistance and Bernoulli coefficient of what lies before the
// valve, in velocity heads in its bore.
func (f Fittings) Before() float64 {
	b := f.narrowing(f.InletM)
	return 0.5*squared(1-b) + 1 - b*b
}

// Sum gives the sum of the loss coefficients of the fittings on both sides. It is
// below 0 where the outlet regains more than the fittings cost.
func (f Fittings) Sum() float64 {
	b := f.narrowing(f.OutletM)
	return f.Before() + squared(1-b) - (1 - b*b)
}

// narrowing is (d/D)^2, at most 1.
func (f Fittings) narrowing(lineM float64) float64 {
	if !(lineM > f.BoreM) {
		return 1
	}
	return squared(f.BoreM / lineM)
}

// load is (C/d^2)^2 of a coefficient Cv.
func (f Fittings) load(cv float64) float64 {
	return squared(KvPerCv * cv / squared(1e3*f.BoreM))
}

// PipingFactor gives F_P of a valve that passes cv.
func (f Fittings) PipingFactor(cv float64) float64 {
	return 1 / math.Sqrt(max(1+f.Sum()*f.load(cv)/n2, smallestChoke))
}

// Fitted gives the passage of a valve together with the fittings beside it. A drop
// beyond that to FF pv at the outlet chokes a liquid in any case.
func (f Fittings) Fitted(c Coefficient) Coefficient {
	before, q, fp := f.Before(), f.load(c.Cv), f.PipingFactor(c.Cv)
	fl2 := recovered(c.FL)
	c.XT = c.XT / squared(fp) / (1 + c.XT*before*q/n5)
	c.FL = math.Sqrt(fl2/(1+fl2*before*q/n2)) / fp
	c.Cv *= fp
	return c
}

// Stated reports whether the standard states its factors for a valve that passes cv:
// it does not for one that hardly resists beside its own bore.
func (f Fittings) Stated(cv float64) bool { return math.Sqrt(f.load(cv)) <= widestFitted*KvPerCv }

// EquivalentLength gives the length [m] of a line of boreM that costs what a passage
// of resistance k in it does, in flow so turbulent that the friction factor is
// roughFriction (see Colebrook).
func EquivalentLength(k, boreM, roughFriction float64) float64 { return k * boreM / roughFriction }
