package device

// An EffectiveArea is a lettered orifice of API 526: an area for choosing a size
// with the effective coefficient of discharge, not the real bore, which is larger.
type EffectiveArea struct {
	Letter string
	AreaM2 float64
}

const squareInch = 0.0254 * 0.0254 // m2

// EffectiveAreas are the lettered orifices of API 526, from small to large.
func EffectiveAreas() []EffectiveArea {
	return []EffectiveArea{
		{"D", 0.110 * squareInch}, {"E", 0.196 * squareInch}, {"F", 0.307 * squareInch},
		{"G", 0.503 * squareInch}, {"H", 0.785 * squareInch}, {"J", 1.287 * squareInch},
		{"K", 1.838 * squareInch}, {"L", 2.853 * squareInch}, {"M", 3.60 * squareInch},
		{"N", 4.34 * squareInch}, {"P", 6.38 * squareInch}, {"Q", 11.05 * squareInch},
		{"R", 16.0 * squareInch}, {"T", 26.0 * squareInch},
	}
}

// psiPa is one pound-force per square inch [Pa].
const psiPa = 6894.757293168361

// AllowedOverpressurePa is what the protected equipment may exceed its gauge
// rating by while devices discharge, fire excluded: 10 % or 3 psi, the greater,
// for a single device; 16 % or 4 psi for several (ASME BPVC VIII Div. 1, UG-125).
func AllowedOverpressurePa(ratingGaugePa float64, several bool) float64 {
	if several {
		return max(0.16*ratingGaugePa, 4*psiPa)
	}
	return max(0.10*ratingGaugePa, 3*psiPa)
}
