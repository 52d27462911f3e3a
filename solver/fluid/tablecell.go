package fluid

import "sync/atomic"

// A cell of a table.
type cell struct {
	good                     bool // else the equation answers
	midK, perK, midPa, perPa float64
	volume                   surface // rho T/p
	enthalpy                 surface // h [J/kg]
	kappa, viscosity         surface
	gamma                    line // of the ideal gas, along y
	conductivity             atomic.Pointer[surface]
}

// x is where a pressure lies, and y where a temperature does, from -1 to 1.
func (c *cell) x(pPa float64) float64 { return (pPa - c.midPa) * c.perPa }
func (c *cell) y(tK float64) float64  { return (tK - c.midK) * c.perK }

func (c *cell) density(x, y, tK, pPa float64) (rhoKgM3, exponent float64) {
	var l line
	c.volume.isotherm(&l, y)
	v, slope := l.with(x)
	return pPa / tK * v, 1 + pPa*c.perPa*slope/v
}

func (c *cell) point(p *Point, tK, pPa float64) {
	x, y := c.x(pPa), c.y(tK)
	p.DensityKgM3, p.Exponent = c.density(x, y, tK, pPa)
	p.H = c.enthalpy.at(x, y)
	p.Kappa = c.kappa.at(x, y)
	p.GammaIdeal = c.gamma.at(y)
	p.ViscosityPaS = c.viscosity.at(x, y)
}

const degree = 4

// A line is sum c[k] x^k.
type line [degree + 1]float64

func (c *line) at(x float64) float64 {
	return (((c[4]*x+c[3])*x+c[2])*x+c[1])*x + c[0]
}

// with gives the value and the slope.
func (c *line) with(x float64) (v, slope float64) {
	v = c[4]*x + c[3]
	slope = c[4]*x + v
	v = v*x + c[2]
	slope = slope*x + v
	v = v*x + c[1]
	slope = slope*x + v
	return v*x + c[0], slope
}

// A surface is sum c[i][k] y^i x^k.
type surface [degree + 1]line

func (c *surface) at(x, y float64) float64 {
	return (((c[4].at(x)*y+c[3].at(x))*y+c[2].at(x))*y+c[1].at(x))*y + c[0].at(x)
}

// isobar gives the line in y at one x.
func (c *surface) isobar(l *line, x float64) {
	l[0] = c[0].at(x)
	l[1] = c[1].at(x)
	l[2] = c[2].at(x)
	l[3] = c[3].at(x)
	l[4] = c[4].at(x)
}

// isotherm gives the line in x at one y.
func (c *surface) isotherm(l *line, y float64) {
	c0, c1, c2, c3, c4 := &c[0], &c[1], &c[2], &c[3], &c[4]
	l[0] = (((c4[0]*y+c3[0])*y+c2[0])*y+c1[0])*y + c0[0]
	l[1] = (((c4[1]*y+c3[1])*y+c2[1])*y+c1[1])*y + c0[1]
	l[2] = (((c4[2]*y+c3[2])*y+c2[2])*y+c1[2])*y + c0[2]
	l[3] = (((c4[3]*y+c3[3])*y+c2[3])*y+c1[3])*y + c0[3]
	l[4] = (((c4[4]*y+c3[4])*y+c2[4])*y+c1[4])*y + c0[4]
}
