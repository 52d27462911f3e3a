package fluid

import "math"

// A curve is a published correlation of a property with temperature.
type curve struct {
	form        curveForm // noCurve: there is none
	lowK, highK float64
	c           [5]float64
	relError    float64 // expected, within lowK and highK
}

type curveForm uint8

const (
	noCurve      curveForm = iota
	ownFormula             // a function of the substance's own
	dippr102               // c0 T^c1/(1 + c2/T + c3/T^2)
	polynomial             // c0 + c1 T + ... + c4 T^4
	lennardJones           // Chapman and Enskog's theory, c0 sigma [angstrom], c1 eps/k [K]
	chung                  // the same with parameters from the critical point
)

// at evaluates the forms that need nothing but their coefficients.
func (c *curve) at(tK float64) float64 {
	k := &c.c
	switch c.form {
	case dippr102:
		return k[0] * math.Exp(k[1]*math.Log(tK)) / (1 + (k[2]+k[3]/tK)/tK)
	case polynomial:
		return k[0] + tK*(k[1]+tK*(k[2]+tK*(k[3]+tK*k[4])))
	}
	return 0
}

// within gives the temperature at which the curve is read, and what of the error
// comes from reading it at another than tK.
func (c *curve) within(tK float64) (readK, extra float64) {
	if tK >= c.lowK && tK <= c.highK {
		return tK, 0
	}
	readK = max(c.lowK, min(tK, c.highK))
	return readK, 0.3 * math.Abs(math.Log(tK/readK))
}
