package fluid

import (
	"math"
	"sync/atomic"
)

// Tables of a gas over temperature and pressure, for loops that ask for it often.
//
// The plane is laid out in cells. Every octave of temperature from 64 K has 32 rows of
// equal height. In each row every octave of pressure from 1024 Pa has 1, 2, 4 or 8
// cells of equal width, by how far its pressures are from where the gas is no longer
// dilute (newRow). So the leading bits of the two numbers are the index of their cell.
// Rows come in pairs laid out alike, and far below that pressure a cell is tall: it takes
// both rows, and is entered in both. Most of what a system needs lies there, and filling
// cells is a third of a cold run.
//
// A cell holds polynomials of the fourth degree in both, through the equation's values
// at the 5 by 5 Chebyshev-Lobatto points of the cell. These lie on its edges too, and
// along an edge the polynomial is that of the edge's own points: so cells that share a
// whole edge agree along it, and what a loop sees is continuous, in value to rounding
// and in slope to what the fit errs. Slopes are those of the polynomials, exactly, so
// that a density and its exponent, or an enthalpy and its heat capacity, belong together.
//
// A cell is filled where it is first asked for, and held against the equation at four
// points between (tablefill.go). Where it is not good enough - by the critical point,
// at the saturation curve, where a correlation of viscosity ends - the equation answers
// in all of the cell, as it does outside the table, and its errors are the table's. What
// a cell holds depends on its place alone. So an answer never depends on what was
// asked before, or by which goroutine; two that miss a cell at the same time fill it
// alike, and one result is dropped.
//
// Memory: a cell takes 1.1 kB, and there are at most 108 rows of 128 cells: 15 MB for
// a fluid asked for in all states there are. A system of forty devices fills some tens
// of cells, and a hundred thousand spread cases of it some hundreds.

const (
	rowBits   = 5 // an octave of temperature has two to this power of rows
	lowRow    = (1023 + 6) << rowBits
	rowCount  = 3<<rowBits + 12 // 64 to 704 K
	octaves   = 16              // of pressure, 1024 Pa to 67 MPa
	lowOctave = 1023 + 10
	mostBits  = 3
	// A cell is at most this part as wide as the pressure at which the gas of its row
	// is no longer dilute.
	cellShare = 0.1
	// Up to this part of it a cell is tried over both rows of a pair.
	tallShare = 0.2
)

// A Table gives the properties of a gas as its equation does, only faster. It is a
// Fluid. Density, enthalpy (over cp T) and all of Point but the exponent are within 1e-7
// of the equation's, the exponent and the heat capacity within 1e-5. It is safe for
// concurrent use.
type Table struct {
	tabled
	molarMass float64
	rows      [rowCount]atomic.Pointer[tableRow]
}

// tabled is a fluid that can fill a table.
type tabled interface {
	Fluid
	table() *Table
	sampler() sampler
	// dilutePa is a pressure at which the gas at tK [K] is no longer dilute.
	dilutePa(tK float64) float64
	// dryPa is a pressure below which the gas at tK [K] and above has no doubt about it
	// (MaybeTwoPhase).
	dryPa(tK float64) float64
}

var _ Fluid = (*Table)(nil)

// Tabled gives the table of a gas, the same one each time, and any other fluid itself.
func Tabled(f Fluid) Fluid {
	if t, ok := f.(tabled); ok {
		return t.table()
	}
	return f
}

func newTable(f tabled) *Table { return &Table{tabled: f, molarMass: f.MolarMass()} }

// Equation gives the fluid that the table is of.
func (t *Table) Equation() Fluid { return t.tabled }

// MolarMass gives the molar mass [kg/mol].
func (t *Table) MolarMass() float64 { return t.molarMass }

// A Point is what a law of flow needs to know of a gas.
type Point struct {
	DensityKgM3  float64
	Exponent     float64 // d ln rho / d ln p at constant temperature
	H            float64 // specific enthalpy [J/kg]
	Kappa        float64 // isentropic exponent (rho/p) (dp/drho)_s
	GammaIdeal   float64 // cp/cv at vanishing pressure
	ViscosityPaS float64
}

// Point fills p with the state of the gas at tK [K] and pPa [Pa, absolute]; false where
// the table has none and the equation is to be asked.
func (t *Table) Point(p *Point, tK, pPa float64) bool {
	c := t.cellAt(tK, pPa)
	if c == nil || !c.good {
		return false
	}
	c.point(p, tK, pPa)
	return true
}

// Density gives the density [kg/m3] and d ln rho / d ln p at constant temperature.
func (t *Table) Density(tK, pPa float64) (rhoKgM3, exponent float64, err error) {
	c := t.cellAt(tK, pPa)
	if c == nil || !c.good {
		return t.tabled.Density(tK, pPa)
	}
	rhoKgM3, exponent = c.density(c.x(pPa), c.y(tK), tK, pPa)
	return rhoKgM3, exponent, nil
}

// Enthalpy gives the specific enthalpy [J/kg] and its slope at constant pressure,
// the heat capacity [J/(kg K)].
func (t *Table) Enthalpy(tK, pPa float64) (h, cp float64, err error) {
	c := t.cellAt(tK, pPa)
	if c == nil || !c.good {
		return t.tabled.Enthalpy(tK, pPa)
	}
	var b line
	c.enthalpy.isobar(&b, c.x(pPa))
	h, slope := b.with(c.y(tK))
	return h, slope * c.perK, nil
}

// ConductivityAt gives the thermal conductivity [W/(m K)] at tK [K] and pPa [Pa,
// absolute]; false where the equation is to be asked. It is fitted apart, where it is
// first asked for.
func (t *Table) ConductivityAt(tK, pPa float64) (wMK float64, ok bool) {
	c := t.cellAt(tK, pPa)
	if c == nil || !c.good {
		return 0, false
	}
	k := c.conductivity.Load()
	if k == nil {
		k = t.fillConductivity(c)
	}
	if k == unfitSurface {
		return 0, false
	}
	return k.at(c.x(pPa), c.y(tK)), true
}

// MaybeTwoPhase says whether the gas may be partly condensed, and why, where its equation
// does; the equation is asked only where the lowest temperature of the row leaves a doubt.
func (t *Table) MaybeTwoPhase(tK, pPa float64) (maybe bool, why string) {
	if i := rowOf(tK); i < rowCount {
		if row := t.rows[i].Load(); row != nil && pPa < row.dryPa {
			return false, ""
		}
	}
	if d, ok := t.tabled.(interface {
		MaybeTwoPhase(tK, pPa float64) (bool, string)
	}); ok {
		return d.MaybeTwoPhase(tK, pPa)
	}
	return false, ""
}

// TemperatureAt gives the temperature [K] of an enthalpy, as Mixture.TemperatureAt
// does. Where the answer lies in a good cell, it is the table's.
func (t *Table) TemperatureAt(hJKg, pPa, guessK float64) (float64, error) {
	var b Isobar
	if tK, _, ok := t.Isenthalpic(&b, hJKg, pPa, guessK); ok {
		return tK, nil
	}
	tK, err := t.tabled.TemperatureAt(hJKg, pPa, guessK)
	if err == nil {
		if again, _, ok := t.Isenthalpic(&b, hJKg, pPa, tK); ok {
			return again, nil
		}
	}
	return tK, err
}

// cellAt gives the cell of a state, nil outside the table.
func (t *Table) cellAt(tK, pPa float64) *cell {
	i := rowOf(tK)
	bits := math.Float64bits(pPa)
	if i >= rowCount || bits>>52-lowOctave >= octaves {
		return nil
	}
	if row := t.rows[i].Load(); row != nil {
		if c := row.at(bits).Load(); c != nil {
			return c
		}
	}
	return t.fill(i, bits)
}

// rowOf is the row of a temperature, rowCount or above outside the table.
func rowOf(tK float64) uint64 { return math.Float64bits(tK)>>(52-rowBits) - lowRow }

// tableRow is the cells of one row.
type tableRow struct {
	first  [octaves]uint8 // cell of each octave
	shift  [octaves]uint8 // of a number's bits that leaves those of its cell
	cells  []atomic.Pointer[cell]
	dryPa  float64 // at its lowest temperature
	tallPa float64 // up to which its cells may be tall
}

func newRow(dilutePa, dryPa float64) *tableRow {
	r := &tableRow{dryPa: dryPa, tallPa: tallShare * dilutePa}
	count := 0
	for k := range r.first {
		widthPa := math.Float64frombits(uint64(lowOctave+k) << 52)
		bits := 0
		for bits < mostBits && widthPa > cellShare*dilutePa {
			widthPa /= 2
			bits++
		}
		r.first[k], r.shift[k] = uint8(count), uint8(52-bits)
		count += 1 << bits
	}
	r.cells = make([]atomic.Pointer[cell], count)
	return r
}

// at gives the cell of the pressure with these bits, which is in the table.
func (r *tableRow) at(bits uint64) *atomic.Pointer[cell] {
	k := (bits>>52 - lowOctave) % octaves
	return &r.cells[uint64(r.first[k])+bits&(1<<52-1)>>(r.shift[k]&63)]
}
