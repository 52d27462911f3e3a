package device

import "math"

// Isothermal flow in a long tube, physics of the real gas at the mean pressure:
//
//	p1^2 - p2e^2 = w^2 C [ f L/D + K + 2 ln(p1/p2e) ],  C = p_m/(rho_m A^2)
//
// With s = p2e/p1, p_m = 2/3 p1 (1+s+s^2)/(1+s), and rho_m ~ p_m^e (Gas.Density)
//
//	d ln C / d ln p2e = (1-e) tau,  d ln C / d ln p1 = (1-e)(1-tau)
//	tau = s^2 (2+s)/((1+s)(1+s+s^2))
//
// and w is largest over the exit pressure where
//
//	w^2 C = p2e^2 [ 1 + (1-e) h ],  h = (2+s)(1-s)/(2 (1+s+s^2))
//
// For an ideal gas (e = 1) that is p2e = w sqrt(C), the sonic exit. For a real
// gas the bracket moves the sonic exit by what the density at the exit differs
// from C's mean; without it the flow would fall with a falling outlet wherever
// C does. s is then found by Newton steps of its own beside those in K; since w is
// at a maximum an error of 1e-7 in s is one of 1e-14 in w.

// steepest bounds the exponent e in C. Beyond it the gas is so near its critical
// point that one mean density does not describe a tube.
const steepest = 1.9

// meanGas is a gas in a tube with one inlet pressure.
type meanGas struct {
	p1      float64
	tangent float64 // C at the point of tangency
	pa      float64 // pressure of that
	bent    float64 // 1-e
	loss    float64 // of the tube, in dynamic pressures
}

// An exit is what goes with one pressure at the exit.
type exit struct {
	pa      float64
	c       float64
	squares float64 // p1^2 - p2e^2
	drive   float64 // K + 2 ln(p1/p2e)
}

func (m *meanGas) exit(pa float64) exit {
	s := pa / m.p1
	return exit{pa, m.c(s), (m.p1 - pa) * (m.p1 + pa), m.loss + 2*lnOfRatio(m.p1, pa)}
}

func (m *meanGas) c(s float64) float64 {
	if m.bent == 0 {
		return m.tangent
	}
	return m.tangent * powerOfRatio(2.0/3*m.p1*(1+s+s*s), (1+s)*m.pa, m.bent)
}

func tau(s float64) float64 { return s * s * (2 + s) / ((1 + s) * (1 + s + s*s)) }

// sonic is 1 + (1-e) h and its derivative by ln s.
func (m *meanGas) sonic(s float64) (v, slope float64) {
	if m.bent == 0 {
		return 1, 0
	}
	n, d := 2-s-s*s, 1/(2*(1+s+s*s))
	dh := -(1 + 2*s) * (d + 2*n*d*d)
	return 1 + m.bent*n*d, m.bent * s * dh
}

// sonicExit improves a sonic exit, where w^2 C = pa^2 sonic(s), and gives d ln pa/d ln
// w^2 there. One step is the answer for an ideal gas.
func (m *meanGas) sonicExit(x *exit, w2, p2 float64) (better exit, byFlow float64) {
	pa, byFlow := 0.0, 0.5
	if m.bent == 0 {
		pa = math.Sqrt(w2 * m.tangent)
	} else {
		s := x.pa / m.p1
		v, slope := m.sonic(s)
		ratio := w2 * x.c / (squared(x.pa) * v)
		byFlow = 1 / (2 + slope/v - m.bent*tau(s)) // ln ratio falls so much with ln s
		pa = x.pa * math.Sqrt(ratio) * (1 + (byFlow-0.5)*min(max(ratio-1, -0.5), 0.5))
	}
	return m.exit(min(max(pa, p2), m.p1)), byFlow
}

func (d *duct) isothermal(fl *Flow, p1, p2 float64, g *Gas, from *Start) {
	var m meanGas
	m.p1, m.pa, m.loss = p1, g.PressurePa, d.loss
	m.tangent = g.PressurePa / (g.DensityKgM3 * d.areaM2 * d.areaM2)
	m.bent = 1 - min(max(g.Exponent, 0), steepest)
	perK := d.flowPerRe * d.flowPerRe * d.lengthByBore // w^2 f L/D = perK K
	if p2 >= p1 {
		fl.rest(d.flowPerRe / 64 * 2 * p1 / (m.c(1) * perK))
		return
	}
	open := m.exit(p2)
	s2 := p2 / p1
	sonic, _ := m.sonic(s2)
	sonicFrom := p2 * p2 * sonic / open.c // w^2

	kMax := open.squares / (open.c * perK)
	// A sonic exit lifts p_m by less than half, C falls by less than a third.
	all := bracket{0, 1.5 * kMax}
	in := all
	out := open
	at, wall := from.begin(kMax, d)
	if s := from.sonicFor(s2, wall+d.loss); s > 0 {
		out = m.exit(s * p1)
	}
	if at.k == 0 {
		at = from.friction(out.squares*wall/(out.c*perK*(wall+out.drive)), d.roughness)
	}
	var choked bool
	for range maxSteps {
		w2 := squared(d.flowPerRe * at.re)
		was, byFlow := out.pa, 0.0
		if choked = w2 > sonicFrom; choked {
			out, byFlow = m.sonicExit(&out, w2, p2)
		} else {
			out = open
		}
		moved := choked && m.bent != 0 && math.Abs(out.pa-was) > 1e-5*was
		rise := 2 * w2 * at.exponent // of w^2 with ln K
		fall := perK*at.k + rise*out.drive
		bend := -2 * w2 * at.curve() * out.drive
		if choked {
			bend += 4 * rise * at.exponent * byFlow
		}
		f := out.squares/out.c - perK*at.k - w2*out.drive
		z := toRoot(f, fall, bend)
		if math.Abs(z) <= settled && !moved {
			end := at.moved(z)
			if math.Abs(z) <= settledSonic || choked == (squared(d.flowPerRe*end.re) > sonicFrom) {
				at = end
				break
			}
		}
		if moved {
			in = all
		}
		at = from.friction(in.next(at.k, z, f), d.roughness)
	}

	w := d.flowPerRe * at.re
	w2 := w * w
	from.sonic = 0
	if choked {
		out, _ = m.sonicExit(&out, w2, p2)
		from.sonic = out.pa / p1
	}
	fall := perK*at.k + 2*w2*at.exponent*out.drive
	byF := w * at.exponent / (fall * out.c)
	t, tau := m.bent*out.squares, tau(out.pa/p1)
	fl.W, fl.Root, fl.Choked = w, max(w, smallestRoot), choked
	fl.Up = byF * (2*p1 - (t*(1-tau)+2*w2*out.c)/p1)
	fl.Down = 0
	if !choked {
		fl.Down = byF * min((2*w2*out.c-t*tau)/p2-2*p2, 0)
	}
	fl.exponent(at.exponent * out.squares / (fall * out.c))
}
