package device

import "math"

// The orifice plate of ISO 5167-2:2003, for pipes of 50 mm to 1 m bore. No law of
// this package uses it: instrument tubing is far too small. It stands here
// because the sharp orifice tends to it, and tests hold the two together.

// Taps says where a plate's pressures are taken.
type Taps int

// The arrangements of ISO 5167-2.
const (
	CornerTaps Taps = iota
	BoreTaps        // D and D/2
	FlangeTaps      // 25.4 mm from the plate
)

// PlateCoefficient is the Reader-Harris/Gallagher discharge coefficient (ISO
// 5167-2:2003, 5.3.2.1) of a bore of boreM in a pipe of pipeM, reynolds that of
// the pipe; 0.1 <= bore/pipe <= 0.75.
func PlateCoefficient(pipeM, boreM, reynolds float64, taps Taps) float64 {
	var l1, l2 float64
	switch taps {
	case BoreTaps:
		l1, l2 = 1, 0.47
	case FlangeTaps:
		l1 = 0.0254 / pipeM
		l2 = l1
	}
	beta := boreM / pipeM
	b4 := squared(squared(beta))
	a := math.Pow(19000*beta/reynolds, 0.8)
	m2 := 2 * l2 / (1 - beta)
	c := 0.5961 + 0.0261*beta*beta - 0.216*b4*b4 +
		0.000521*math.Pow(1e6*beta/reynolds, 0.7) +
		(0.0188+0.0063*a)*math.Pow(beta, 3.5)*math.Pow(1e6/reynolds, 0.3) +
		(0.043+0.080*math.Exp(-10*l1)-0.123*math.Exp(-7*l1))*(1-0.11*a)*b4/(1-b4) -
		0.031*(m2-0.8*math.Pow(m2, 1.1))*math.Pow(beta, 1.3)
	if pipeM < 0.07112 {
		c += 0.011 * (0.75 - beta) * (2.8 - pipeM/0.0254)
	}
	return c
}

// PlateExpansibility is epsilon of ISO 5167-2:2003, 5.3.2.2, for p2/p1 of 0.75 and
// more.
func PlateExpansibility(pipeM, boreM, p1, p2, kappa float64) float64 {
	b4 := squared(squared(boreM / pipeM))
	return 1 - (0.351+0.256*b4+0.93*b4*b4)*(1-math.Pow(p2/p1, 1/kappa))
}

// PlateFlow is the mass flow [kg/s] of ISO 5167-1 (1):
// C/sqrt(1-beta^4) eps pi/4 d^2 sqrt(2 dp rho1).
func PlateFlow(coefficient, expansibility, pipeM, boreM, dropPa, densityKgM3 float64) float64 {
	b4 := squared(squared(boreM / pipeM))
	return coefficient / math.Sqrt(1-b4) * expansibility * area(boreM) * math.Sqrt(2*dropPa*densityKgM3)
}
