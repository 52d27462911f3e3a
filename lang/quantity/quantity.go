// Package quantity reads and writes engineering values: a number with its
// unit, a range, a bound, a nominal with a tolerance, a series or a tube size,
// as they stand in the strings of a system file.
//
//	v, err := quantity.Parse("0.9 .. 1.1 barg", quantity.Pressure, quantity.Range)
//
// gives v.Low.SI = 90000 and v.High.SI = 110000 with Basis Gauge. Everything
// that comes out is SI; what a number is measured from (absolute zero, the
// site's atmosphere, a reference state) is its Basis, and is never guessed:
// a unit that does not say it is an error that shows the spellings which do.
//
// What needs the site or the gas (gauge to absolute, reference volume to mass)
// is done at the edge, by the methods of Quantity, and back again by Convert
// and Format.
//
// The grammar stands in grammar.go, the table of units in units.go. No text,
// however hostile, makes Parse panic, recurse or allocate beyond the points of
// the series it asks for (at most MaxPoints).
package quantity

// A Basis says what the SI number of a Quantity is measured from.
type Basis uint8

const (
	Plain         Basis = iota // SI is final
	Gauge                      // SI is Pa above the site's atmosphere
	SiteReference              // SI is m3/s at the site's reference state (slpm, sccm, scfh, Sm3/h ...)
	OwnReference               // SI is m3/s at Ref (NL/min ..., "200 L/min at 21.1 degC, 1.01325 bara")
	Actual                     // SI is m3/s at the local state (aL/min, am3/h, acfh)
	MassFlow                   // SI is kg/s
	MoleFlow                   // SI is mol/s
	LiquidVolume               // SI is m3/s of liquid
)

// A Reference is the state at which a volume of gas is counted.
type Reference struct {
	TemperatureK float64 // above zero
	PressurePa   float64 // absolute, above zero
}

// A Quantity is one number in SI with what it is measured from.
type Quantity struct {
	SI     float64
	Basis  Basis
	Ref    Reference // for OwnReference
	Unit   string    // as written, or as taken over from the other end of a range
	Number string    // as written
}

// A Form is a set of ways to write a value.
type Form uint16

const (
	// Single is "3.2 barg", for flows also "200 L/min at 21.1 degC, 1.01325 bara".
	Single Form = 1 << iota
	// Range is "0.9 .. 1.1 barg" or "500 mbarg .. 2 barg".
	Range
	// Bound is ">= 1 slpm" or "<= 60 s", also with > and <.
	Bound
	// Tolerance is "25 +/- 0.5 psig", "25 psig +/- 0.5 psi" or "0.12 +/- 10 %", also with ±.
	Tolerance
	// Series is "60 .. 110 barg, 11 values", "60 .. 110 barg by 5 bar" or "16, 25, 60 barg".
	Series
	// Tube is "6 mm x 1 mm": outside diameter and wall.
	Tube
	// FlowAtDrop is a flow stated at a difference of pressure, "5 mL/min at 10 bar".
	FlowAtDrop
	// AtPressure is a temperature that belongs to a pressure, "-8 degC at 70 bara".
	AtPressure
	// DropAtFlow is a difference of pressure stated at a flow, "0.3 bar at 60 slpm".
	DropAtFlow
)

// A Value is what Parse found.
type Value struct {
	Form      Form       // the one form that was found
	Nominal   Quantity   // Single, Tolerance, FlowAtDrop, AtPressure, DropAtFlow; for Tube the outside diameter
	Low, High Quantity   // Range, Bound (see HasLow and HasHigh), Tolerance
	HasLow    bool       // Low is stated
	HasHigh   bool       // High is stated
	LowOpen   bool       // the bound is ">", not ">="
	HighOpen  bool       // the bound is "<", not "<="
	Wall      Quantity   // Tube
	Drop      Quantity   // FlowAtDrop: the difference of pressure
	At        Quantity   // AtPressure: the pressure; DropAtFlow: the flow
	Points    []Quantity // Series, expanded, in the order written
	Text      string     // as written
}

// An Error says what is wrong with a text, where, and what to write instead.
// Start and End are byte offsets in the text that was given, End exclusive;
// End is greater than Start unless the text is empty.
type Error struct {
	Message string
	Hint    string // may be empty
	Start   int
	End     int
}

// Error gives the message alone.
func (e *Error) Error() string { return e.Message }
