package solver

import (
	"fmt"
	"math"

	"tapline/solver/fluid"
)

// What a part holds. Along a tube the gas thins towards the outlet. Friction and
// the gain of speed of isothermal flow give
//
//	p dp - (w/A)^2 (p/rho) dp/p = -const dx
//
// with p/rho taken at the mean pressure as the flow law has it, so that x follows
// from p without solving, and the mass is an integral over p of smooth terms: eight
// Gauss points. Without the gain of speed and for an ideal gas it is V rho at the
// mean pressure 2/3 (p1^3-p2^3)/(p1^2-p2^2) (Weymouth's; lag_test.go compares).
// The gas approaches the temperature of the wall along the way as energy.go has
// it. The weight of the column and the profile of short adiabatic tubes are left
// out: a rise of 10 m is worth 0.1 % of pressure, and such a tube holds little.

// gauss holds the points and weights of eight-point Gauss-Legendre quadrature on
// 0..1 (Abramowitz & Stegun 1964, table 25.4, moved to the unit interval).
var gauss = [8][2]float64{
	{0.0198550717512319, 0.0506142681451881},
	{0.1016667612931866, 0.1111905172266872},
	{0.2372337950418355, 0.1568533229389436},
	{0.4082826787521751, 0.1813418916891810},
	{0.5917173212478249, 0.1813418916891810},
	{0.7627662049581645, 0.1568533229389436},
	{0.8983332387068134, 0.1111905172266872},
	{0.9801449282487681, 0.0506142681451881},
}

// held gives the mass inside an element [kg].
func (t *Transport) held(element int, h hop) (float64, error) {
	v := t.inner(t.in.Elements, element)
	if v.VolumeM3 == 0 {
		return 0, nil
	}
	up, down, e := &t.r.Nodes[h.from], &t.r.Nodes[h.to], &t.r.Elements[element]
	f := up.Gas
	if f == nil {
		return 0, fmt.Errorf("what fills %s is not known", t.net.Elements[element].Name)
	}
	f = t.c.Tabled(f)
	if t.c.Devices[element].Mean && v.Side == Between {
		rho, err := t.alongTube(element, h, f)
		return v.VolumeM3 * rho, err
	}
	first, _, err := f.Density(up.TemperatureK, up.PressurePa)
	if err != nil && v.Side != Downstream {
		return 0, err
	}
	if v.Side == Upstream {
		return v.VolumeM3 * first, nil
	}
	last, _, err := f.Density(e.OutletK, down.PressurePa)
	if err != nil {
		return 0, err
	}
	if v.Side == Downstream {
		return v.VolumeM3 * last, nil
	}
	return v.VolumeM3 * (first + last) / 2, nil
}

// alongTube gives the mean density in a tube.
func (t *Transport) alongTube(element int, h hop, f fluid.Fluid) (float64, error) {
	v, e := t.in.Elements[element], &t.r.Elements[element]
	p1, p2 := t.r.Nodes[h.from].PressurePa, t.r.Nodes[h.to].PressurePa
	temperature := t.along(element, h)
	gain := 0.0 // (w/A)^2 p/rho [Pa2]
	if v.LengthM > 0 && p1 > p2 {
		flux := h.flowKgS * v.LengthM / v.VolumeM3
		// A sonic exit stands above the pressure behind it.
		for k := 0; k < 20; k++ {
			p := 2.0 / 3 * (p1*p1 + p1*p2 + p2*p2) / (p1 + p2)
			rho, _, err := f.Density(temperature.at(0.5), p)
			if err != nil {
				return 0, err
			}
			gain = flux * flux * p / rho
			was := p2
			if e.Choked {
				p2 = math.Sqrt(gain)
			}
			if p2 = min(p2, p1); math.Abs(p2-was) <= 1e-9*p1 {
				break
			}
		}
		gain = min(gain, p2*p2)
	}
	level := math.Abs(p1-p2) <= 1e-9*p1 || p2 > p1 // a column that drives its own flow
	way := func(p float64) float64 { return (p1*p1-p*p)/2 + gain*math.Log(p/p1) }
	all := way(p2)
	sum, weights := 0.0, 0.0
	for _, g := range gauss {
		x, weight := g[0], g[1]
		p := p1 + (p2-p1)*x
		if !level {
			weight *= p - gain/p
			x = way(p) / all
		}
		rho, _, err := f.Density(temperature.at(x), p)
		if err != nil {
			return 0, err
		}
		sum += weight * rho
		weights += weight
	}
	return sum / weights, nil
}

// A profile is the temperature along a tube: of a gas that nears its wall, or a
// straight line.
type profile struct {
	first, last, wall float64 // [K]
	fade              float64 // logarithm of what is left of the difference to the wall, at the outlet
	straight          bool
}

func (t *Transport) along(element int, h hop) profile {
	p := profile{first: t.r.Nodes[h.from].TemperatureK, last: t.r.Elements[element].OutletK, wall: t.c.Devices[element].Heat.WallK}
	if math.IsNaN(p.last) {
		p.last = p.first
	}
	if p.wall == 0 {
		p.wall = t.c.AmbientK
	}
	left := (p.last - p.wall) / (p.first - p.wall)
	p.straight = t.c.Thermal != Exchange || t.c.Devices[element].Heat.LengthM == 0 || !(left >= 0 && left < 1)
	if !p.straight {
		p.fade = max(math.Log(left), -math.MaxFloat64) // finite, so that no length is no fading
	}
	return p
}

// at gives the temperature [K] at a part x, 0..1, of the tube's length.
func (p *profile) at(x float64) float64 {
	if p.straight {
		return p.first + (p.last-p.first)*x
	}
	return p.wall + (p.first-p.wall)*math.Exp(p.fade*x)
}
