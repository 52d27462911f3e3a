package fluid

import "math"

// makeup is a fluid laid out for solving equilibria: the components really present
// with their mole fractions, and their fugacities at any others. It belongs to one
// goroutine.
type makeup struct {
	f     fugacities
	names []string
	z     []float64
}

// makeupOf lays out f, whose wholly absent components it leaves out.
func makeupOf(f Composed) *makeup {
	if m, ok := f.(*Mixture); ok && m.own != nil {
		return &makeup{f: &ownFugacities{m.Evaluator()}, names: []string{substances[m.parts[0].i].name}, z: []float64{1}}
	} else if ok {
		u := &makeup{f: m.fugacities()}
		for _, p := range m.parts {
			u.names = append(u.names, components[p.i].name)
			u.z = append(u.z, p.x)
		}
		return u
	}
	if c, ok := f.(*Cubic); ok {
		kind, z := c.kind.present(c.x)
		return &makeup{f: cubicFugacities{kind, c.lowK}, names: kind.names, z: z}
	}
	names, x := f.Fractions()
	a := &anyFugacities{f: f, full: make([]float64, len(x))}
	u := &makeup{f: a}
	for k := range x {
		if x[k] > 0 {
			a.at = append(a.at, k)
			u.names = append(u.names, names[k])
			u.z = append(u.z, x[k])
		}
	}
	for ph := range a.last {
		a.last[ph] = make([]float64, len(u.z))
	}
	return u
}

// ownFugacities are those of one substance under its own equation.
type ownFugacities struct{ e *Evaluator }

func (f *ownFugacities) lnPhi(dst, _ []float64, tK, pPa float64, ph Phase) bool {
	r, err := root{}, error(nil)
	if ph == Liquid {
		r, err = f.e.solveLiquid(tK, pPa)
	} else {
		r, err = f.e.solve(tK, pPa)
	}
	if err == nil {
		dst[0] = f.e.lnPhiPure(r)
	}
	return err == nil
}

// anyFugacities tries compositions of a fluid by making fluids like it.
type anyFugacities struct {
	f    Composed
	at   []int // place of each component present in the order of Fractions
	full []float64
	last [2][]float64
	made [2]Composed
}

func (a *anyFugacities) lnPhi(dst, x []float64, tK, pPa float64, ph Phase) bool {
	same := a.made[ph] != nil
	sum := 0.0
	for k := range x {
		same = same && x[k] == a.last[ph][k]
		sum += x[k]
	}
	if !same {
		for k, at := range a.at {
			a.full[at] = x[k] / sum
		}
		made, err := a.f.Like(a.full)
		if err != nil {
			return false
		}
		copy(a.last[ph], x)
		a.made[ph] = made
	}
	ln, err := a.made[ph].LnPhi(tK, pPa, ph)
	if err != nil {
		return false
	}
	// A fluid made with fractions of 0 may have left those components out.
	k := 0
	for i, at := range a.at {
		switch {
		case len(ln) == len(a.full):
			dst[i] = ln[at]
		case x[i] > 0:
			dst[i] = ln[k]
			k++
		}
	}
	return !math.IsNaN(sum)
}

// water gives the place of water and its mole fraction; -1 where there is none.
func (u *makeup) water() (at int, y float64) {
	for k, name := range u.names {
		if name == components[water].name {
			return k, u.z[k]
		}
	}
	return -1, 0
}

// criticalOf gives the constants of a substance for first estimates.
func criticalOf(name string) (critical, bool) {
	for i := range substances {
		if s := &substances[i]; s.name == name {
			return critical{s.tC, s.pC, s.acentric}, true
		}
	}
	return critical{}, false
}
