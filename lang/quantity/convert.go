package quantity

import (
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"
)

// GasConstant is the molar gas constant [J/(mol K)], exact in the SI of 2019
// (CODATA 2018).
const GasConstant = 8.31446261815324

// A Site is what conversions need to know of the place.
type Site struct {
	AtmospherePa float64    // absolute
	Reference    *Reference // nil if the system states none
}

// A Stream is what conversions need to know of what flows. Fields that a unit
// does not need may be zero.
type Stream struct {
	MolarMass   float64 // kg/mol
	DensityKgM3 float64 // at the local state
}

// ErrNoReference is the error of a flow at the site's reference state where
// the system states none.
var ErrNoReference = errors.New("the flow is counted at the site's reference state, and none is stated")

// MolarVolume gives the ideal molar volume [m3/mol], R T / p.
func (r Reference) MolarVolume() float64 {
	return GasConstant * r.TemperatureK / r.PressurePa
}

// PressurePa gives the absolute pressure [Pa] of a Pressure. It can be below
// zero for a gauge value lower than the site's atmosphere.
func (q Quantity) PressurePa(s Site) float64 {
	if q.Basis == Gauge {
		return q.SI + s.AtmospherePa
	}
	return q.SI
}

// MassFlowKgS gives a flow as mass [kg/s]. Volumes at a reference state use
// the ideal molar volume and molarMass [kg/mol]; actual and liquid volumes use
// localDensity [kg/m3].
func (q Quantity) MassFlowKgS(s Site, molarMass, localDensity float64) (float64, error) {
	factor, err := massPerUnit(q.Basis, q.Ref, s, Stream{MolarMass: molarMass, DensityKgM3: localDensity})
	return q.SI * factor, err
}

// massPerUnit gives the kg in one SI unit of a basis of flow.
func massPerUnit(b Basis, ref Reference, s Site, g Stream) (float64, error) {
	switch b {
	case MassFlow:
		return 1, nil
	case SiteReference, OwnReference, MoleFlow:
		if !(g.MolarMass > 0) {
			return 0, errors.New("the molar mass is not known")
		}
		if b == MoleFlow {
			return g.MolarMass, nil
		}
		if b == SiteReference {
			if s.Reference == nil {
				return 0, ErrNoReference
			}
			ref = *s.Reference
		}
		return g.MolarMass / ref.MolarVolume(), nil
	case Actual, LiquidVolume:
		if !(g.DensityKgM3 > 0) {
			return 0, errors.New("the density is not known")
		}
		return g.DensityKgM3, nil
	}
	return 0, errors.New("the value is not a flow")
}

// Convert gives a result of the solver in a unit by name. The result is
// absolute Pa for a unit of pressure, Pa for one of pressure difference, kg/s
// for every unit of flow, else SI. The error is that of an unknown unit, or of
// a flow that needs what s or g do not hold.
func Convert(si float64, unit string, s Site, g Stream) (float64, error) {
	rows := spellings()[unit]
	if len(rows) == 0 {
		return 0, fmt.Errorf("%q is not a unit", clip(unit))
	}
	u := rows[0]
	switch u.Basis {
	case Plain:
	case Gauge:
		si -= s.AtmospherePa
	default:
		factor, err := massPerUnit(u.Basis, u.Ref, s, g)
		if err != nil {
			return 0, err
		}
		si /= factor
	}
	return fromSI(si, u), nil
}

// Format gives a result of the solver as text with its unit, "3.214 barg", to
// four significant digits and never finer than the zero of the scale allows: a
// gauge pressure to a millionth of an atmosphere, a temperature to 0.01 K.
func Format(si float64, unit string, s Site, g Stream) (string, error) {
	x, err := Convert(si, unit, s, g)
	if err != nil {
		return "", err
	}
	u := spellings()[unit][0]
	finest := math.Inf(-1)
	switch {
	case u.Dimension == Temperature && u.Offset != 0: // digits of the offset; a kelvin has none
		finest = -2
	case u.Basis == Gauge:
		finest = math.Floor(math.Log10(0.1 / u.Factor))
	}
	return digits(x, 4, finest) + " " + unit, nil
}

// digits writes x to n significant digits, but not finer than 10^finest; the
// whole part is never rounded, trailing zeros are dropped.
func digits(x float64, n int, finest float64) string {
	if x == 0 || math.IsNaN(x) || math.IsInf(x, 0) {
		return strconv.FormatFloat(x+0, 'g', -1, 64)
	}
	size := math.Floor(math.Log10(math.Abs(x)))
	places := max(0, min(float64(n)-1-size, -finest))
	if math.Abs(x) >= 1e9 || math.Abs(x) < 1e-4 && places > 7 {
		return strconv.FormatFloat(x, 'e', n-1, 64)
	}
	text := strconv.FormatFloat(x, 'f', int(places), 64)
	if strings.Contains(text, ".") {
		text = strings.TrimRight(strings.TrimRight(text, "0"), ".")
	}
	if text == "-0" {
		return "0"
	}
	return text
}
