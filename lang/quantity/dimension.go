package quantity

// A Dimension is what kind of value a place in a file takes.
type Dimension int

const (
	Pressure              Dimension = iota // absolute or gauge, Pa
	PressureDifference                     // Pa
	Temperature                            // K
	TemperatureDifference                  // K
	GasFlow                                // volume with its reference state, mass or amount
	LiquidFlow                             // volume or mass
	AnyFlow                                // either of the two
	Length                                 // m
	Area                                   // m2
	Volume                                 // m3
	Mass                                   // kg
	Force                                  // N
	Stiffness                              // N/m
	Time                                   // s
	Ratio                                  // 1; %, ppm or a bare number
	Number                                 // a bare number
	Power                                  // W
	Conductance                            // W/K
	HeatTransfer                           // W/(m2 K)
	Speed                                  // m/s
	Density                                // kg/m3
)

var dimensionNames = [...]string{
	Pressure:              "pressure",
	PressureDifference:    "pressure difference",
	Temperature:           "temperature",
	TemperatureDifference: "temperature difference",
	GasFlow:               "gas flow",
	LiquidFlow:            "liquid flow",
	AnyFlow:               "flow",
	Length:                "length",
	Area:                  "area",
	Volume:                "volume",
	Mass:                  "mass",
	Force:                 "force",
	Stiffness:             "stiffness",
	Time:                  "time",
	Ratio:                 "ratio",
	Number:                "number",
	Power:                 "power",
	Conductance:           "heat conductance",
	HeatTransfer:          "heat transfer coefficient",
	Speed:                 "speed",
	Density:               "density",
}

// String gives the name used in messages: "pressure difference".
func (d Dimension) String() string {
	if d < 0 || int(d) >= len(dimensionNames) {
		return "unknown dimension"
	}
	return dimensionNames[d]
}
