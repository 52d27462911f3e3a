package quantity

import (
	"slices"
	"sync"
)

// The table of units. Every spelling that Parse accepts, every factor, and the
// lists in hints and in the reference page come from here and nowhere else.
//
// Sources of the factors. Exact by definition: SI prefixes and the minute, hour
// and day (BIPM SI Brochure, 9th edition, table 8), inch 25.4 mm, foot
// 304.8 mm, pound 0.45359237 kg (international yard and pound agreement, 1959),
// standard gravity 9.80665 m/s2 (3rd CGPM, 1901), US gallon 231 in3, pound
// force and psi from these (NIST SP 811, appendix B).
// Columns of liquid are the conventional ones, a density of exactly 1000 kg/m3
// for water and 13595.1 kg/m3 for mercury at standard gravity (NIST SP 811,
// appendix B.8: inch of water, conventional, 249.0889 Pa; inch of mercury,
// conventional, 3386.389 Pa). The British thermal unit is that of the
// International Table, 1055.05585262 J (the same appendix).
const (
	inchM       = 0.0254
	footM       = 0.3048
	poundKg     = 0.45359237
	gravity     = 9.80665
	poundForceN = poundKg * gravity
	psiPa       = poundForceN / (inchM * inchM)
	waterPaM    = 1000 * gravity    // Pa per metre of water
	mercuryPaM  = 13595.1 * gravity // Pa per metre of mercury
	gallonM3    = 231 * inchM * inchM * inchM
	cubicFootM3 = footM * footM * footM
	btuJ        = 1055.05585262

	minuteS = 60
	hourS   = 3600
	dayS    = 86400

	zeroCelsiusK = 273.15
)

// normal is the state of the N units: 0 degC, 101.325 kPa (DIN 1343).
var normal = Reference{TemperatureK: zeroCelsiusK, PressurePa: 101325}

// A Unit is one row of the table: SI = (number + Offset) Factor.
type Unit struct {
	Name      string
	Dimension Dimension // for flows: GasFlow, LiquidFlow (plain volume), or AnyFlow (mass, fits both)
	Factor    float64
	Offset    float64 // for degC and degF only
	Basis     Basis
	Ref       Reference // for OwnReference
	Also      []string  // other spellings accepted

	// stem ties the spellings of one unit together for hints: "bar" for barg,
	// bara and bar; "L/min" for slpm, NL/min, aL/min and L/min.
	stem string

	// A factor that is a power of ten, 10^tens, shifts the decimal point.
	decimal bool
	tens    int
}

// pressureStems become gauge ("g"), absolute ("a") and difference (bare or "d").
var pressureStems = []struct {
	name string
	pa   float64
}{
	{"bar", 1e5},
	{"mbar", 100},
	{"kPa", 1000},
	{"MPa", 1e6},
	{"hPa", 100},
	{"Pa", 1},
	{"psi", psiPa},
	{"inH2O", waterPaM * inchM},
	{"mmH2O", waterPaM / 1000},
	{"inHg", mercuryPaM * inchM},
	{"mmHg", mercuryPaM / 1000},
}

// table is made when first asked for.
var table = sync.OnceValue(func() []Unit {
	rows := make([]Unit, 0, 192)
	for _, p := range pressureStems {
		rows = append(rows,
			Unit{Name: p.name + "g", Dimension: Pressure, Factor: p.pa, Basis: Gauge, stem: p.name},
			Unit{Name: p.name + "a", Dimension: Pressure, Factor: p.pa, stem: p.name})
	}
	for _, p := range pressureStems {
		rows = append(rows, Unit{Name: p.name, Dimension: PressureDifference, Factor: p.pa, Also: []string{p.name + "d"}, stem: p.name})
	}
	plain := func(d Dimension, name string, factor float64) {
		rows = append(rows, Unit{Name: name, Dimension: d, Factor: factor})
	}
	rows = append(rows,
		Unit{Name: "degC", Dimension: Temperature, Factor: 1, Offset: zeroCelsiusK},
		Unit{Name: "degF", Dimension: Temperature, Factor: 5. / 9, Offset: 459.67})
	plain(Temperature, "K", 1)
	plain(Temperature, "degR", 5./9)
	plain(TemperatureDifference, "K", 1)

	flow := func(b Basis, name, stem string, factor float64) {
		u := Unit{Name: name, Dimension: GasFlow, Factor: factor, Basis: b, stem: stem}
		switch b {
		case OwnReference:
			u.Ref = normal
		case MassFlow:
			u.Dimension = AnyFlow
		case LiquidVolume:
			u.Dimension = LiquidFlow
		}
		rows = append(rows, u)
	}
	flow(SiteReference, "slpm", "L/min", 1e-3/minuteS)
	flow(SiteReference, "sccm", "mL/min", 1e-6/minuteS)
	flow(SiteReference, "sL/h", "L/h", 1e-3/hourS)
	flow(SiteReference, "Sm3/h", "m3/h", 1./hourS)
	flow(SiteReference, "Sm3/d", "m3/d", 1./dayS)
	flow(SiteReference, "scfm", "ft3/min", cubicFootM3/minuteS)
	flow(SiteReference, "scfh", "ft3/h", cubicFootM3/hourS)
	flow(SiteReference, "MMscfd", "", 1e6*cubicFootM3/dayS)
	flow(OwnReference, "NL/min", "L/min", 1e-3/minuteS)
	flow(OwnReference, "NL/h", "L/h", 1e-3/hourS)
	flow(OwnReference, "NmL/min", "mL/min", 1e-6/minuteS)
	flow(OwnReference, "Nm3/h", "m3/h", 1./hourS)
	flow(OwnReference, "Nm3/d", "m3/d", 1./dayS)
	flow(Actual, "aL/min", "L/min", 1e-3/minuteS)
	flow(Actual, "aL/h", "L/h", 1e-3/hourS)
	flow(Actual, "amL/min", "mL/min", 1e-6/minuteS)
	flow(Actual, "am3/h", "m3/h", 1./hourS)
	flow(Actual, "acfm", "ft3/min", cubicFootM3/minuteS)
	flow(Actual, "acfh", "ft3/h", cubicFootM3/hourS)
	flow(MassFlow, "kg/h", "", 1./hourS)
	flow(MassFlow, "kg/min", "", 1./minuteS)
	flow(MassFlow, "kg/s", "", 1)
	flow(MassFlow, "g/h", "", 1e-3/hourS)
	flow(MassFlow, "g/min", "", 1e-3/minuteS)
	flow(MassFlow, "g/s", "", 1e-3)
	flow(MassFlow, "mg/min", "", 1e-6/minuteS)
	flow(MassFlow, "t/h", "", 1000./hourS)
	flow(MassFlow, "lb/h", "", poundKg/hourS)
	flow(MassFlow, "lb/min", "", poundKg/minuteS)
	flow(MoleFlow, "mol/s", "", 1)
	flow(MoleFlow, "mol/min", "", 1./minuteS)
	flow(MoleFlow, "mol/h", "", 1./hourS)
	flow(MoleFlow, "mmol/min", "", 1e-3/minuteS)
	flow(MoleFlow, "kmol/h", "", 1000./hourS)
	flow(MoleFlow, "lbmol/h", "", 1000*poundKg/hourS)
	flow(LiquidVolume, "L/min", "L/min", 1e-3/minuteS)
	flow(LiquidVolume, "L/h", "L/h", 1e-3/hourS)
	flow(LiquidVolume, "mL/min", "mL/min", 1e-6/minuteS)
	flow(LiquidVolume, "mL/h", "mL/h", 1e-6/hourS)
	flow(LiquidVolume, "cm3/min", "mL/min", 1e-6/minuteS)
	flow(LiquidVolume, "m3/h", "m3/h", 1./hourS)
	flow(LiquidVolume, "m3/d", "m3/d", 1./dayS)
	flow(LiquidVolume, "m3/s", "m3/s", 1)
	flow(LiquidVolume, "gal/min", "gal/min", gallonM3/minuteS)
	flow(LiquidVolume, "gal/h", "gal/h", gallonM3/hourS)
	flow(LiquidVolume, "ft3/min", "ft3/min", cubicFootM3/minuteS)
	flow(LiquidVolume, "ft3/h", "ft3/h", cubicFootM3/hourS)

	plain(Length, "m", 1)
	plain(Length, "cm", 1e-2)
	plain(Length, "mm", 1e-3)
	plain(Length, "um", 1e-6)
	plain(Length, "km", 1e3)
	plain(Length, "in", inchM)
	plain(Length, "ft", footM)
	plain(Area, "m2", 1)
	plain(Area, "cm2", 1e-4)
	plain(Area, "mm2", 1e-6)
	plain(Area, "in2", inchM*inchM)
	plain(Area, "ft2", footM*footM)
	plain(Volume, "m3", 1)
	plain(Volume, "L", 1e-3)
	plain(Volume, "mL", 1e-6)
	plain(Volume, "uL", 1e-9)
	plain(Volume, "cm3", 1e-6)
	plain(Volume, "mm3", 1e-9)
	plain(Volume, "in3", inchM*inchM*inchM)
	plain(Volume, "ft3", cubicFootM3)
	plain(Volume, "gal", gallonM3)
	plain(Mass, "kg", 1)
	plain(Mass, "g", 1e-3)
	plain(Mass, "mg", 1e-6)
	plain(Mass, "t", 1000)
	plain(Mass, "lb", poundKg)
	plain(Force, "N", 1)
	plain(Force, "kN", 1000)
	plain(Force, "lbf", poundForceN)
	plain(Stiffness, "N/mm", 1000)
	plain(Stiffness, "N/m", 1)
	plain(Stiffness, "kN/m", 1000)
	plain(Stiffness, "lbf/in", poundForceN/inchM)
	plain(Time, "s", 1)
	plain(Time, "min", minuteS)
	plain(Time, "h", hourS)
	plain(Time, "d", dayS)
	plain(Ratio, "%", 1e-2)
	plain(Ratio, "ppm", 1e-6)
	plain(Ratio, "ppb", 1e-9)
	plain(Power, "W", 1)
	plain(Power, "kW", 1000)
	plain(Power, "Btu/h", btuJ/hourS)
	plain(Conductance, "W/K", 1)
	plain(HeatTransfer, "W/m2K", 1)
	plain(Speed, "m/s", 1)
	plain(Speed, "km/h", 1000./hourS)
	plain(Speed, "ft/s", footM)
	plain(Density, "kg/m3", 1)
	plain(Density, "g/L", 1)
	plain(Density, "g/cm3", 1000)
	plain(Density, "lb/ft3", poundKg/cubicFootM3)
	for i := range rows {
		u := &rows[i]
		for n := -9; n <= 9 && u.Offset == 0; n++ {
			if u.Factor == exactPowers[n+9] {
				u.decimal, u.tens = true, n
			}
		}
	}
	return rows
})

var exactPowers = [...]float64{1e-9, 1e-8, 1e-7, 1e-6, 1e-5, 1e-4, 1e-3, 1e-2, 1e-1, 1, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9}

// Table gives a copy of all rows in canonical order, for a reference page.
func Table() []Unit {
	return slices.Clone(table())
}

// Units lists the spellings a value of this dimension takes, in canonical
// order and without the alternatives. It is empty for Number; a Ratio may also
// stand bare.
func (d Dimension) Units() []string {
	var names []string
	for _, u := range table() {
		if u.fits(d) {
			names = append(names, u.Name)
		}
	}
	return names
}

// fits reports whether a value of dimension d may carry this unit.
func (u *Unit) fits(d Dimension) bool {
	switch d {
	case AnyFlow:
		return u.Dimension == GasFlow || u.Dimension == LiquidFlow || u.Dimension == AnyFlow
	case GasFlow, LiquidFlow:
		return u.Dimension == d || u.Dimension == AnyFlow
	}
	return u.Dimension == d
}
