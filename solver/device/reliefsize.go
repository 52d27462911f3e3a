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

// Saturated steam through a fully open nozzle at critical flow: Napier's equation,
// which API 520 Part I states as W = P1 A K_d K_N K_SH/190.5 (kg/h, kPa, mm2), K_N
// the correction above 10,339 kPa. K_SH, for superheat, is 1 here: superheated steam
// is a gas.

// MostSteamPa is the pressure up to which K_N is given.
const MostSteamPa = 22057e3

// NapierCorrection is K_N: 1 up to 10,339 kPa.
func NapierCorrection(p1Pa float64) float64 {
	if p := p1Pa / 1e3; p > 10339 {
		return (0.02764*p - 1000) / (0.03324*p - 1061)
	}
	return 1
}

// SteamFlow is the flow [kg/s] of saturated steam through an area.
func SteamFlow(k, areaM2, p1Pa float64) float64 {
	return k * areaM2 * 1e6 * (p1Pa / 1e3) * NapierCorrection(p1Pa) / 190.5 / 3600
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
