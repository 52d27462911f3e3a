package lang

import (
	"strings"

	"tapline/lang/quantity"
)

// samples shows a value of each dimension, for hints.
var samples = [quantity.Density + 1]string{
	quantity.Pressure:              "3.2 barg",
	quantity.PressureDifference:    "0.3 bar",
	quantity.Temperature:           "20 degC",
	quantity.TemperatureDifference: "10 K",
	quantity.GasFlow:               "60 NL/h",
	quantity.LiquidFlow:            "2 L/h",
	quantity.AnyFlow:               "60 NL/h",
	quantity.Length:                "4 mm",
	quantity.Area:                  "12 mm2",
	quantity.Volume:                "0.5 L",
	quantity.Force:                 "12 N",
	quantity.Stiffness:             "48 N/mm",
	quantity.Time:                  "60 s",
	quantity.Ratio:                 "10 %",
	quantity.Number:                "0.12",
	quantity.Conductance:           "0.2 W/K",
}

var sampleNames = [...][]string{
	ToNothing: {"low-flow"},
	ToFluid:   {"biomethane"},
	ToSource:  {"GRID"},
	ToDevice:  {"NV-11", "AE-11"},
	ToPlace:   {"(P2)", "AE-11.in"},
	ToCase:    {"winter", "flare header high"},
}

// example shows how an attribute is written.
func (a *Attribute) example() string {
	return a.Name + " = " + a.sample()
}

func (a *Attribute) sample() string {
	switch a.Type {
	case TypeQuantity:
		s := samples[a.Dimension]
		switch {
		case a.Forms&quantity.Tube != 0:
			s = "6 mm x 1 mm"
		case a.Forms == quantity.AtPressure:
			s = "-8 degC at 70 bara"
		case a.Forms == quantity.DropAtFlow:
			s = "0.3 bar at 60 slpm"
		case a.Forms&quantity.FlowAtDrop != 0:
			s += " at 10 bar"
		case a.Forms&quantity.Single == 0 && a.Forms&quantity.Bound != 0:
			s = "<= " + s
		case a.Forms&quantity.Single == 0:
			s = "0 .. " + s
		}
		return `"` + s + `"`
	case TypeNumber:
		if a.Limits == drawCount || a.Limits == seeds {
			return "5000"
		}
		return samples[quantity.Number]
	case TypeFlag:
		return "true"
	case TypeText:
		return `"..."`
	case TypeChoice:
		return `"` + a.Choices[0] + `"`
	case TypeName:
		return `"` + sampleNames[a.Refers][0] + `"`
	case TypeChoices:
		return `["` + a.Choices[0] + `"]`
	case TypePorts:
		return `["feed", "purge"]`
	case TypePassages:
		return `["sample > cell"]`
	case TypePositions:
		return `{ measure = ["sample > cell"], calibrate = ["cal > cell"], off = [] }`
	case TypeNames:
		return `["` + strings.Join(sampleNames[a.Refers], `", "`) + `"]`
	case TypeDome:
		return `"(P7)" or "12 barg"`
	case TypePath:
		return `"GRID -> V-1 -> (P1)"`
	case TypeReference:
		return `"15 degC, 101.325 kPaa"`
	case TypeComposition:
		return `{ methane = "rest", hydrogen = 20 }`
	case TypePoints:
		return `[["0 slpm", "3.6 barg"], ["60 slpm", "3.3 barg"]]`
	case TypeCurveFile:
		return `"pcv-11.csv"`
	case TypeUnits:
		return `{ pressure = "barg" }`
	case TypeShares:
		return `{ "GRID" = ">= 99 %" }`
	}
	return `{ order = "A-1042" }`
}
