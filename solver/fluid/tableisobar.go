package fluid

import "math"

// An Isobar is the enthalpy of a gas against temperature at one pressure, as far as one
// cell of its table goes. It belongs to the loop that asked for it.
type Isobar struct {
	h                 line // of y [J/kg]
	midK, perK, halfK float64
}

// onEdge is how far outside of a cell is still its edge.
const onEdge = 1e-9

// isobar gives that of a pressure.
func (c *cell) isobar(b *Isobar, pPa float64) {
	b.midK, b.perK, b.halfK = c.midK, c.perK, 1/c.perK
	c.enthalpy.isobar(&b.h, c.x(pPa))
}

// Enthalpy gives the specific enthalpy [J/kg] at tK [K]; false where that is not in the
// cell, as it is of the zero Isobar.
func (b *Isobar) Enthalpy(tK float64) (hJKg float64, ok bool) {
	off := tK - b.midK
	return b.h.at(off * b.perK), math.Abs(off) <= b.halfK*(1+onEdge)
}

// temperature gives the temperature [K] of an enthalpy and the heat capacity there
// [J/(kg K)], sought from y on; where that leads out of the cell it is false, and the
// temperature is where the other cell is. A step is the series of the inverse to the
// third power, and the last one, below a hundredth of half a cell, is good to 1e-9 of it
// by the critical point and to 1e-14 elsewhere.
func (b *Isobar) temperature(hJKg, y float64) (tK, cp float64, ok bool) {
	const last, most = 1e-2, 20
	c := &b.h
	for range most {
		h, slope := c.with(y)
		per := 1 / slope
		third := (4*c[4]*y + c[3]) * per
		second := ((6*c[4]*y+3*c[3])*y + c[2]) * per
		d := (hJKg - h) * per
		d -= d * d * (second + d*(third-2*second*second))
		if y += d; !(math.Abs(y) <= 1+onEdge) {
			break
		}
		if math.Abs(d) <= last {
			return b.midK + y*b.halfK, slope * (1 + d*(2*second+3*d*third)) * b.perK, true
		}
	}
	return b.midK + y*b.halfK, 0, false
}

// mostCells is the number of cells that a search for a temperature goes through.
const mostCells = 8

// Isenthalpic gives the temperature [K] of an enthalpy and the heat capacity there
// [J/(kg K)], sought from guessK on, and the isobar about the answer; false where the way
// leads through states for which the equation is to be asked. The isobar is then the zero one.
func (t *Table) Isenthalpic(b *Isobar, hJKg, pPa, guessK float64) (tK, cp float64, ok bool) {
	tK = guessK
	for range mostCells {
		c := t.cellAt(tK, pPa)
		if c == nil || !c.good {
			break
		}
		c.isobar(b, pPa)
		if tK, cp, ok = b.temperature(hJKg, c.y(tK)); ok {
			return tK, cp, true
		}
	}
	*b = Isobar{}
	return 0, 0, false
}
