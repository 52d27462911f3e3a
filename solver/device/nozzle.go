package device

import "math"

// A Nozzle is the flow passage of a relief device, fully open, for gas: ISO
// 4126-1 and API 520 Part I, critical and subcritical,
//
//	w = K A p1 sqrt(M/(Z R T1)) psi(p2/p1)
//
// with the isentropic psi of the ideal-gas ratio of heat capacities at the
// relieving temperature. p1 is the relieving pressure at the nozzle, p2 the back
// pressure. ISO's K_b is the subcritical ratio itself and is thereby included;
// API's, for bellows, is not. A caution is due where Z leaves 0.8..1.1.
//
// A liquid flows by the certified liquid form of API 520 Part I,
//
//	w = K A K_v sqrt(2 rho (p1 - p2)),  K_v = 1/sqrt(1 + 170/Re),  Re = 4 w/(pi D mu)
//
// D the diameter of a circle of area A, K_v that of the 10th edition: put in, it
// leaves a quadratic in w that rises from zero, where the form of the 7th
// (ViscosityFactor7) does not below Re of about 100. The standard leaves flashing
// liquid to other methods; here the throat is not let fall below FF pv
// (liquid.go), so that the law does not promise what cannot pass.
type Nozzle struct {
	AreaM2 float64 // flow area
	K      float64 // coefficient of discharge: K_d for what happens, K_dr = 0.9 K_d where protection is judged
}

// Flow implements Law.
func (n Nozzle) Flow(pUp, pDown float64, g *Gas) (f Flow) {
	a := n.K * n.AreaM2
	if !(a > 0 && pUp > 0) {
		return closed()
	}
	x := drop(pUp, pDown)
	if !g.Liquid {
		f.throttle(a, pUp, x, g, isentropic(x, exponentWithin(g.GammaIdeal)))
		return f
	}
	s := incompressible(x, pUp, 1, g)
	s.throttle(&f, math.Sqrt2*a, pUp, g)
	if g.ViscosityPaS > 0 {
		rho, _ := g.Density(pUp)
		drag := viscosityDrag * g.ViscosityPaS * math.Sqrt(math.Pi*n.AreaM2)
		var l Flow
		s.linear(&l, 2*a*a*pUp*rho/drag, pUp, g)
		f.slow(&l)
	}
	return f
}

// viscosityNumber is the Reynolds number of K_v = 1/sqrt(1 + 170/Re), and
// viscosityDrag what it makes of w: 170/Re = drag mu sqrt(pi A)/w.
const (
	viscosityNumber = 170
	viscosityDrag   = viscosityNumber / 2
)

// slow makes f, a flow t without viscosity whose viscous limit is l, the root of
// w^2 + w t^2/l = t^2: w = t (sqrt(1 + r^2/4) - r/2), r = t/l.
func (f *Flow) slow(l *Flow) {
	r := f.W / l.W
	if f.W == 0 {
		r = f.Down / l.Down
	}
	s := math.Sqrt(1 + r*r/4)
	h := 1 / (s + r/2) // s - r/2
	byT, byL := h*h/s, r*r*h/(2*s)
	f.W *= h
	f.Up = byT*f.Up + byL*l.Up
	f.Down = byT*f.Down + byL*l.Down
	f.Exponent = (0.5*h + r/2) / s
	f.Root *= h
}

// ViscosityFactor is K_v of API 520 Part I, 10th edition: 1/sqrt(1 + 170/Re).
func ViscosityFactor(reynolds float64) float64 {
	return 1 / math.Sqrt(1+viscosityNumber/reynolds)
}

// ViscosityFactor7 is K_v of the 7th edition, to be held against published values:
// 1/(0.9935 + 2.878/Re^0.5 + 342.75/Re^1.5).
func ViscosityFactor7(reynolds float64) float64 {
	root := math.Sqrt(reynolds)
	return 1 / (0.9935 + 2.878/root + 342.75/(root*reynolds))
}
