package lang

import (
	"math"

	"tapline/lang/quantity"
)

// What the rows of the schema are written with: one function for each type of
// attribute, and methods that add to a row while the table is being built.

const (
	deviceValue = quantity.Single | quantity.Tolerance // any value of a device
	judged      = quantity.Range | quantity.Bound      // what a band or an allow block states
	ratedValue  = quantity.Single | quantity.Range | quantity.Bound
)

var (
	above0    = &Limits{Low: 0, High: math.Inf(1), LowOpen: true, Text: "above 0"}
	from0     = &Limits{Low: 0, High: math.Inf(1), Text: "0 or more"}
	fraction  = &Limits{Low: 0, High: 1, Text: "from 0 to 100 %"}
	share     = &Limits{Low: 0, High: 1, LowOpen: true, Text: "above 0, up to 100 %"}
	upTo1     = &Limits{Low: 0, High: 1, LowOpen: true, Text: "above 0, up to 1"}
	drawCount = &Limits{Low: 1, High: maxDraws, Text: "a whole number from 1 to 10 million"}
	seeds     = &Limits{Low: 0, High: 1 << 53, Text: "a whole number from 0 to 2^53"}
	altitude  = &Limits{Low: -5000, High: 11000, Text: "from -5000 m to 11000 m"}
)

func measure(name string, d quantity.Dimension, help string) *Attribute {
	a := &Attribute{Name: name, Type: TypeQuantity, Dimension: d, Forms: deviceValue, Help: help}
	switch d {
	case quantity.Pressure, quantity.Temperature, quantity.Length, quantity.Area, quantity.Volume:
		a.Limits = above0 // absolute; gauge pressures are held against the atmosphere by the compiler
	case quantity.GasFlow, quantity.LiquidFlow, quantity.AnyFlow, quantity.Time:
		a.Limits = from0
	}
	return a
}

func number(name, help string) *Attribute {
	return &Attribute{Name: name, Type: TypeNumber, Dimension: quantity.Number, Forms: deviceValue, Help: help}
}

func text(name, help string) *Attribute { return &Attribute{Name: name, Type: TypeText, Help: help} }

func onOff(name, help string) *Attribute {
	return &Attribute{Name: name, Type: TypeFlag, Help: help, Default: "false"}
}

func choice(name, help string, choices ...string) *Attribute {
	return &Attribute{Name: name, Type: TypeChoice, Choices: choices, Help: help}
}

func composition(name, help string) *Attribute {
	return &Attribute{Name: name, Type: TypeComposition, Help: help}
}

func refer(name string, to Target, help string) *Attribute {
	return &Attribute{Name: name, Type: TypeName, Refers: to, Help: help}
}

func refers(name string, to Target, help string) *Attribute {
	return &Attribute{Name: name, Type: TypeNames, Refers: to, Help: help}
}

func (a *Attribute) needed() *Attribute { a.Required = true; return a }

// unless makes an attribute needed where there is none of some nested blocks.
func (a *Attribute) unless(nested ...string) *Attribute { a.Unless = nested; return a.needed() }

// without names nested blocks that say the same in another way.
func (a *Attribute) without(nested ...string) *Attribute { a.Excludes = nested; return a }

// orValue lets a choice be a value too.
func (a *Attribute) orValue(d quantity.Dimension, l *Limits) *Attribute {
	a.Dimension, a.Forms, a.Limits = d, deviceValue, l
	return a
}

func (a *Attribute) standing(value string) *Attribute { a.Default = value; return a }

func (a *Attribute) in(l *Limits) *Attribute { a.Limits = l; return a }

func (a *Attribute) forms(f quantity.Form) *Attribute { a.Forms = f; return a }

func (a *Attribute) term(words string) *Attribute { a.Term = words; return a }

func (a *Attribute) fixed() *Attribute { a.Fixed = true; return a }

func (a *Attribute) planned() *Attribute { a.NotBuilt = true; return a }

func (a *Attribute) later(choices ...string) *Attribute { a.Later = choices; return a }
