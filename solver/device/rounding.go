package device

import "math"

// Every throttling law here is W = K sqrt(p1 rho1) u(x) with x = (p1 - p2)/p1
// and u = sqrt(G(x)), where G starts as a multiple of x. The slope of a square
// root is infinite at x = 0, where two pressures meet, and no solver can step
// through that. Below straightBelow the factor sqrt(x) is therefore replaced by
// the odd polynomial through the origin that has the same value, slope and
// curvature there:
//
//	q(x) = sqrt(x0) (45 s - 18 s^3 + 5 s^5)/32,  s = x/x0
//
// It rises everywhere: the slope 45 - 54 s^2 + 25 s^4 has no real root.
// At 1 bar the straight part is the last 0.1 Pa.

// straightBelow is x0, the relative drop under which a law is straightened.
const straightBelow = 1e-6

// straightened gives q(x) and its slope for 0 <= x < straightBelow.
func straightened(x float64) (q, slope float64) {
	const root = 1e-3 // sqrt(straightBelow)
	s := x / straightBelow
	s2 := s * s
	return root * s * (45 + s2*(5*s2-18)) / 32, root / straightBelow * (45 + s2*(25*s2-54)) / 32
}

// smallestRoot keeps a solver's chord defined where nothing flows.
const smallestRoot = 1e-30

// closed is the flow of a passage that is not there.
func closed() Flow { return Flow{Exponent: 1, Root: smallestRoot} }

// A shape is the dimensionless part of a throttling law at one x.
type shape struct {
	u     float64 // flow
	slope float64 // du/dx
	// root is 1/(2 du/dG): u itself where u = sqrt(G), more where u is straightened.
	root   float64
	choked bool
}

// parabola is the shape sqrt(x) (1 - x/(3 xc)), level from x = xc on: the
// expansion factor of IEC 60534-2-1:2011 and, with another xc, of an orifice.
func parabola(x, xc float64) shape {
	if x >= xc {
		u := 2.0 / 3 * math.Sqrt(xc)
		return shape{u: u, root: u, choked: true}
	}
	part := x / xc
	y := 1 - part*(1.0/3)
	if x >= straightBelow {
		r := math.Sqrt(x)
		u := r * y
		return shape{u: u, slope: (1 - part) * r * (0.5 / x), root: u}
	}
	q, dq := straightened(x)
	slope := dq*y - q/(3*xc)
	return shape{u: q * y, slope: slope, root: y * (1 - part) / (2 * slope)}
}

// drop gives (pUp - pDown)/pUp, held to 0..1.
func drop(pUp, pDown float64) float64 {
	switch x := (pUp - pDown) / pUp; {
	case x > 1:
		return 1
	case x > 0:
		return x
	}
	return 0
}

// throttle sets the flow w = k sqrt(p1 rho1) u(x) and its slopes, with the shape s
// of u at x; k in m2.
func (f *Flow) throttle(k, pUp, x float64, g *Gas, s shape) {
	load, perPa := k*g.load(pUp), 1/pUp
	byDrop := load * s.slope * perPa
	f.W = load * s.u
	f.Up = byDrop*(1-x) + f.W*perPa*(0.5+0.5*g.Exponent)
	f.Down = -byDrop
	f.Exponent, f.Root, f.Choked = 0.5, load*s.root, s.choked
}
