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
	dippr101               // exp(c0 + c1/T + c2 ln T + c3 T^c4)
	ppds9                  // c4 exp(c0 X^(1/3) + c1 X^(4/3)), X = (c2 - T)/(T - c3)
	lennardJones           // Chapman and Enskog's theory, c0 sigma [angstrom], c1 eps/k [K]
	chung                  // the same with parameters from the critical point
	monatomic              // conductivity from viscosity
	letsouStiel            // corresponding states of the saturated liquid
)

// at evaluates the forms that need nothing but their coefficients.
func (c *curve) at(tK float64) float64 {
	k := &c.c
	switch c.form {
	case dippr102:
		return k[0] * math.Exp(k[1]*math.Log(tK)) / (1 + (k[2]+k[3]/tK)/tK)
	case polynomial:
		return k[0] + tK*(k[1]+tK*(k[2]+tK*(k[3]+tK*k[4])))
	case dippr101:
		l := math.Log(tK)
		sum := k[0] + k[1]/tK + k[2]*l
		if k[3] != 0 {
			sum += k[3] * math.Exp(k[4]*l)
		}
		return math.Exp(sum)
	case ppds9:
		x := (k[2] - tK) / (tK - k[3])
		return k[4] * math.Exp(math.Cbrt(x)*(k[0]+k[1]*x))
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
