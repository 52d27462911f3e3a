package device

import "math"

// A FlowController (mass-flow controller) passes its set flow where its fully
// open passage could pass more, and what that passage lets through otherwise. The
// two are joined over a twentieth of the set flow either side, with
// continuous slopes,
//
//	w = min(set, w_o) - (eps - |w_o - set|)^2 / (4 eps),  eps = set/20
//
// so that with 5 % to spare the flow is the set one exactly; where the two are
// equal it is 1.25 % low.
type FlowController struct {
	SetKgS float64
	Open   Law // fully open: full scale at its least drop and stated inlet, see CvFor
}

// controllerBand is eps over the set flow.
const controllerBand = 1.0 / 20

// Flow implements Law. Choked is that of the open passage, where it limits.
func (c FlowController) Flow(pUp, pDown float64, g *Gas) Flow {
	f := c.Open.Flow(pUp, pDown, g)
	if !(c.SetKgS > 0) {
		return closed()
	}
	eps := controllerBand * c.SetKgS
	spare := f.W - c.SetKgS
	if spare <= -eps {
		return f
	}
	f.Choked = f.Choked && spare < 0
	w, share := c.SetKgS, 0.0
	if spare < eps {
		w = min(c.SetKgS, f.W) - squared(eps-math.Abs(spare))/(4*eps)
		share = (eps - spare) / (2 * eps)
	}
	f.Root *= w / f.W
	f.W = w
	f.Up *= share
	f.Down *= share
	return f
}
