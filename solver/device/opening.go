package device

import "math"

const (
	// Rangeability of an equal-percentage trim: flow coefficient fully open over
	// that which the curve has when shut (common practice).
	Rangeability = 50
	// closesBelow is the travel under which a real equal-percentage trim leaves its
	// curve to shut: from there a straight line leads to zero.
	closesBelow = 0.05
)

// Opening gives the flow coefficient of a trim over that fully open, for a travel
// fraction of 0..1 (values outside count as the nearest): "linear", which is also
// taken for any other word, "equal_percentage" (Rangeability^(fraction-1), a
// straight line to zero below 5 % travel), and "quick_opening" (the square root
// of the travel; common practice).
func Opening(characteristic string, fraction float64) float64 {
	if !(fraction > 0) {
		return 0
	}
	fraction = min(fraction, 1)
	switch characteristic {
	case "equal_percentage":
		if fraction < closesBelow {
			return fraction / closesBelow * math.Pow(Rangeability, closesBelow-1)
		}
		return math.Pow(Rangeability, fraction-1)
	case "quick_opening":
		return math.Sqrt(fraction)
	}
	return fraction
}
