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
// C does. s is then found by fixed point beside the Newton steps in K; since w is
// at a maximum an error of 1e-7 in s is one of 1e-14 in w.

// steepest bounds the exponent e in C. Beyond it the gas is so near its critical
// point that one mean density does not describe a tube.
const steepest = 1.9

// meanGas is C as a function of s at one inlet pressure.
type meanGas struct {
	p1, areaM2 float64
	gas        *Gas
	e          float64
}

func (m *meanGas) c(s float64) float64 {
	c := m.gas.PressurePa / (m.gas.DensityKgM3 * m.areaM2 * m.areaM2)
	if m.e == 1 {
		return c
	}
	pm := 2.0 / 3 * m.p1 * (1 + s + s*s) / (1 + s)
	return c * math.Pow(pm/m.gas.PressurePa, 1-m.e)
}

func tau(s float64) float64 { return s * s * (2 + s) / ((1 + s) * (1 + s + s*s)) }

// sonic is 1 + (1-e) h and its derivative by ln s.
func (m *meanGas) sonic(s float64) (v, slope float64) {
	if m.e == 1 {
		return 1, 0
	}
	n, d := 2-s-s*s, 2*(1+s+s*s)
	h := n / d
	dh := (-(1+2*s)*d - n*2*(1+2*s)) / (d * d)
	return 1 + (1-m.e)*h, (1 - m.e) * s * dh
}

func (d *duct) isothermal(p1, p2 float64, g *Gas) Flow {
	m := meanGas{p1: p1, areaM2: d.areaM2, gas: g, e: min(max(g.Exponent, 0), steepest)}
	s2 := p2 / p1
	c := m.c(min(s2, 1))
	friction := d.flowPerRe * d.flowPerRe * d.lengthByBore // w^2 f L/D = friction K
	if p2 >= p1 {
		up := d.flowPerRe / 64 * 2 * p1 / (c * friction)
		return Flow{Up: up, Down: -up, Exponent: 1, Root: smallestRoot}
	}
	sonic2, _ := m.sonic(s2)
	sq2 := (p1 - p2) * (p1 + p2)
	log2 := -2 * math.Log1p(-(p1-p2)/p1)
	c2 := c

	kMax := sq2 / (c * friction)
	k := d.start(kMax, d.loss+log2)
	// A sonic exit lifts p_m by less than half, C falls by less than a third.
	all := bracket{0, 1.5 * kMax}
	in := all
	s, choked := s2, false
	var re, e, w2, sq, drive, slope, step float64
	for range maxSteps {
		re, e = reynoldsAt(k, d.roughness)
		w2 = squared(d.flowPerRe * re)
		moved := false
		if choked = w2*c2 > p2*p2*sonic2; choked {
			was := s
			s = max(m.exit(s, w2), s2)
			moved = m.e != 1 && math.Abs(s-was) > 1e-7*s
			c = m.c(s)
			pe := s * p1
			sq, drive = (p1-pe)*(p1+pe), d.loss-2*math.Log(s)
		} else {
			s, c, sq, drive = s2, c2, sq2, d.loss+log2
		}
		f := sq - c*(friction*k+w2*drive)
		slope = c * (friction + 2*w2*e/k*drive)
		step = f / slope
		if math.Abs(step) <= settled*k && !moved {
			break
		}
		if moved {
			in = all
		}
		k = in.next(k, step, f)
	}

	byK := e / k // d ln w / dK
	w := d.flowPerRe * re * (1 + byK*step)
	dwByF := d.flowPerRe * re * byK / slope
	t := (1 - m.e) * sq
	pe := s * p1
	fl := Flow{
		W:        w,
		Up:       dwByF * (2*p1 - (t*(1-tau(s))+2*w2*c)/p1),
		Exponent: min(max(e*sq/(k*slope), 0.5), 1),
		Root:     max(w, smallestRoot),
		Choked:   choked,
	}
	if !choked {
		fl.Down = dwByF * min((2*w2*c-t*tau(s))/pe-2*pe, 0)
	}
	return fl
}

// exit improves s, the ratio at which w^2 C = s^2 p1^2 sonic(s). One step is the
// answer for an ideal gas.
func (m *meanGas) exit(s, w2 float64) float64 {
	if m.e == 1 {
		return min(math.Sqrt(w2*m.c(s))/m.p1, 1)
	}
	v, slope := m.sonic(s)
	ratio := w2 * m.c(s) / (squared(s*m.p1) * v)
	byLog := (1-m.e)*tau(s) - slope/v // d ln ratio / d ln s, but for the square
	n := s * math.Sqrt(ratio) * (1 + byLog/4*min(max(ratio-1, -0.5), 0.5))
	return min(n, 1)
}
