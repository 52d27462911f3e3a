package fluid

import "math"

// Filling a cell. The four points at which it is held against the equation lie where the
// error of a polynomial through Lobatto points is largest, midway between two of them
// as angles go.

// Tolerances of a cell: of density, relative; of enthalpy, over cp T; of kappa and
// viscosity, relative. The first two are below what a network is solved to, so that
// nothing in it notices where the equation takes over.
const (
	volumeTol   = 1e-8
	enthalpyTol = 3e-9
	otherTol    = 1e-7
)

// sample is what a cell is fitted to.
type sample struct{ volume, enthalpy, kappa, viscosity, gamma, cp float64 }

// sampler evaluates an equation at one temperature after the other; false where that
// refuses the state.
type sampler interface {
	sample(tK, pPa float64) (sample, bool)
}

// Every cell, and every surface of conductivity, that is not good enough.
var unfit, unfitSurface = &cell{}, &surface{}

// fill makes the cell in row i of a pressure with these bits; a tall one serves the other
// row of its pair too.
func (t *Table) fill(i, bits uint64) *cell {
	row := t.row(i)
	shift := row.shift[(bits>>52-lowOctave)%octaves]
	lowPa := math.Float64frombits(bits >> shift << shift)
	highPa := math.Float64frombits((bits>>shift + 1) << shift)
	at := row.at(bits)
	if highPa <= row.tallPa {
		if c := newCell(t.sampler(), rowK(i&^1), rowK((i|1)+1), lowPa, highPa); c.good {
			t.row(i^1).at(bits).CompareAndSwap(nil, c)
			at.CompareAndSwap(nil, c)
			return at.Load()
		}
	}
	at.CompareAndSwap(nil, newCell(t.sampler(), rowK(i), rowK(i+1), lowPa, highPa))
	return at.Load()
}

// row gives row i, laid out as the other of its pair is.
func (t *Table) row(i uint64) *tableRow {
	if row := t.rows[i].Load(); row != nil {
		return row
	}
	t.rows[i].CompareAndSwap(nil, newRow(t.dilutePa(rowK(i&^1)), t.dryPa(rowK(i))))
	return t.rows[i].Load()
}

// rowK is the lowest temperature of row i.
func rowK(i uint64) float64 { return math.Float64frombits((lowRow + i) << (52 - rowBits)) }

func newCell(s sampler, lowK, highK, lowPa, highPa float64) *cell {
	c := &cell{
		good: true,
		midK: (lowK + highK) / 2, perK: 2 / (highK - lowK),
		midPa: (lowPa + highPa) / 2, perPa: 2 / (highPa - lowPa),
	}
	var gamma line
	for i, y := range lobatto {
		// The highest pressure comes first: at the lowest temperature it is where gas
		// ends.
		for k := degree; k >= 0; k-- {
			v, ok := s.sample(c.midK+y/c.perK, c.midPa+lobatto[k]/c.perPa)
			if !ok {
				return unfit
			}
			c.volume[i][k], c.enthalpy[i][k], c.kappa[i][k], c.viscosity[i][k] = v.volume, v.enthalpy, v.kappa, v.viscosity
			gamma[i] = v.gamma
		}
	}
	for _, s := range []*surface{&c.volume, &c.enthalpy, &c.kappa, &c.viscosity} {
		s.fit()
	}
	c.gamma = gamma.fitted()
	for _, at := range between {
		tK := c.midK + at.y/c.perK
		for _, x := range at.x {
			pPa := c.midPa + x/c.perPa
			v, ok := s.sample(tK, pPa)
			if !ok || !c.meets(&v, tK, pPa) {
				return unfit
			}
		}
	}
	return c
}

// fillConductivity makes the conductivities of a good cell.
func (t *Table) fillConductivity(c *cell) *surface {
	k := new(surface)
	at := func(x, y float64) float64 {
		tK, pPa := c.midK+y/c.perK, c.midPa+x/c.perPa
		rho, _ := c.density(x, y, tK, pPa)
		wMK, _ := t.tabled.Conductivity(tK, rho)
		return wMK
	}
	for i, y := range lobatto {
		for n, x := range lobatto {
			k[i][n] = at(x, y)
		}
	}
	k.fit()
	for _, b := range between {
		for _, x := range b.x {
			if want := at(x, b.y); !(math.Abs(k.at(x, b.y)-want) <= otherTol*want) {
				k = unfitSurface
			}
		}
	}
	if c.conductivity.CompareAndSwap(nil, k) {
		return k
	}
	return c.conductivity.Load()
}

var (
	lobatto = [degree + 1]float64{-1, -math.Sqrt2 / 2, 0, math.Sqrt2 / 2, 1}
	between = [...]struct {
		y float64
		x [2]float64
	}{{0.92, [2]float64{-0.92, 0.38}}, {-0.38, [2]float64{0.92, -0.38}}}
)

func (c *cell) meets(v *sample, tK, pPa float64) bool {
	var p Point
	c.point(&p, tK, pPa)
	off := func(got, want, size, tol float64) bool { return !(math.Abs(got-want) <= tol*size) }
	volume := p.DensityKgM3 * tK / pPa
	return !off(volume, v.volume, v.volume, volumeTol) &&
		!off(p.H, v.enthalpy, v.cp*tK, enthalpyTol) &&
		!off(p.Kappa, v.kappa, v.kappa, otherTol) &&
		!off(p.ViscosityPaS, v.viscosity, v.viscosity, otherTol)
}

// powers[k][n] is the coefficient of x^k in Lagrange's polynomial of Lobatto point n.
var powers = func() (m [degree + 1]line) {
	for n, at := range lobatto {
		c := line{1}
		for j, other := range lobatto {
			if j == n {
				continue
			}
			for k := degree; k > 0; k-- {
				c[k] = (c[k-1] - other*c[k]) / (at - other)
			}
			c[0] *= -other / (at - other)
		}
		for k := range c {
			m[k][n] = c[k]
		}
	}
	return m
}()

// fitted gives the line through values at the Lobatto points.
func (c *line) fitted() (r line) {
	for k := range r {
		for n, v := range c {
			r[k] += powers[k][n] * v
		}
	}
	return r
}

// fit makes a surface of its values at the Lobatto points.
func (c *surface) fit() {
	for i := range c {
		c[i] = c[i].fitted()
	}
	for k := range c[0] {
		var column line
		for i := range c {
			column[i] = c[i][k]
		}
		for i, v := range column.fitted() {
			c[i][k] = v
		}
	}
}

// farPa is the pressure at which the virial terms b delta + b3 delta^2 of the
// compressibility, taken as positive, are a quarter; unitPa is that of the ideal gas at
// delta 1.
func farPa(unitPa, b, b3 float64) float64 {
	return unitPa * 2 * farFromSpinodal / (math.Abs(b) + math.Sqrt(b*b+4*farFromSpinodal*math.Abs(b3)))
}

func (m *Mixture) table() *Table { return m.tables() }

func (m *Mixture) dilutePa(tK float64) float64 {
	e := Evaluator{m: m}
	e.setTemperature(tK)
	return farPa(m.gasR*tK*m.rhoR, e.b, e.b3)
}

func (m *Mixture) sampler() sampler { return &mixtureSampler{e: Evaluator{m: m}} }

type mixtureSampler struct {
	e Evaluator
	d thin
}

func (s *mixtureSampler) sample(tK, pPa float64) (sample, bool) {
	a, err := s.e.At(tK, pPa)
	if err != nil {
		return sample{}, false
	}
	return sampleOf(&a, &s.e.m.trans, &s.d), true
}

func (c *Cubic) table() *Table { return c.tables() }

func (c *Cubic) dilutePa(tK float64) float64 {
	a, _, _ := c.attractionAt(tK)
	a /= cubicR * tK
	return farPa(cubicR*tK, c.b-a, c.b*(c.b+2*a))
}

// dryPa is infinite: its dew points are asked, not a quick bound.
func (c *Cubic) dryPa(float64) float64 { return math.Inf(1) }

func (c *Cubic) sampler() sampler { return &cubicSampler{c: c} }

type cubicSampler struct {
	c *Cubic
	d thin
}

func (s *cubicSampler) sample(tK, pPa float64) (sample, bool) {
	a, err := s.c.At(tK, pPa)
	if err != nil {
		return sample{}, false
	}
	return sampleOf(&a, &s.c.trans, &s.d), true
}

// sampleOf takes what a cell needs of a state; d is kept from one to the next.
func sampleOf(a *State, t *transport, d *thin) sample {
	if d.tK != a.TemperatureK {
		*d = t.thinAt(a.TemperatureK)
	}
	viscosity, _ := t.viscosityOf(d, a.DensityMol)
	return sample{a.DensityKgM3 * a.TemperatureK / a.PressurePa, a.H, a.Kappa, viscosity, a.GammaIdeal, a.Cp}
}
