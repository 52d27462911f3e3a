package device

// A Nozzle is the flow passage of a relief device, fully open, for gas: ISO
// 4126-1 and API 520 Part I, critical and subcritical,
//
//	w = K A p1 sqrt(M/(Z R T1)) psi(p2/p1)
//
// with the isentropic psi of the ideal-gas ratio of heat capacities at the
// relieving temperature. p1 is the relieving pressure at the nozzle, p2 the back
// pressure. ISO's K_b is the subcritical ratio itself and is thereby included;
// API's, for bellows, is not. A caution is due where Z leaves 0.8..1.1.
type Nozzle struct {
	AreaM2 float64 // flow area
	K      float64 // coefficient of discharge: K_d for what happens, K_dr = 0.9 K_d where protection is judged
}

// Flow implements Law.
func (n Nozzle) Flow(pUp, pDown float64, g *Gas) Flow {
	a := n.K * n.AreaM2
	if !(a > 0 && pUp > 0) {
		return closed()
	}
	x := drop(pUp, pDown)
	return throttled(a, pUp, x, g, isentropic(x, exponentWithin(g.GammaIdeal)))
}
