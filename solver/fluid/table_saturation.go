package fluid

import "math"

// boilingLine is a published equation for the saturation pressure of one substance,
//
//	ln(p/p_c) = (a tau + b tau^1.5 + c tau^m + d tau^n) T_c/T,  tau = 1 - T/T_c
//
// with its own critical point, which differs a little from that of `substances`.
type boilingLine struct {
	tC, pC     float64 // [K], [Pa]
	a, b, c, d float64
	m, n       float64
}

// boilingLines by index less componentCount, of the substances without a
// multiparameter equation. From the open library chemicals: VDI Heat Atlas, 2nd ed.
// (2010), part D3 (m = 2.5, n = 5). None: phosphine.
var boilingLines = [substanceCount - componentCount]boilingLine{
	propyne - componentCount:         {402.4, 5.63e6, -7.11026, 1.86493, -2.56109, -1.65671, 2.5, 5},
	fluorine - componentCount:        {144.41, 5.24e6, -6.27045, 1.53939, -1.25605, -1.27235, 2.5, 5},
	methylChloride - componentCount:  {416.25, 6.68e6, -6.71862, 1.27727, -0.96338, -3.14698, 2.5, 5},
	r14 - componentCount:             {227.55, 3.74e6, -6.92188, 1.54525, -1.41276, -2.87791, 2.5, 5},
	acetylene - componentCount:       {308.35, 6.139e6, -6.99241, 1.57338, -1.33202, -5.21884, 2.5, 5},
	butadiene - componentCount:       {425.15, 4.277e6, -6.79824, 1.08553, -0.96279, -3.84778, 2.5, 5},
	nitricOxide - componentCount:     {180.15, 6.48e6, -8.38772, 0.85755, -3.11447, -8.98765, 2.5, 5},
	nitrogenDioxide - componentCount: {431.15, 10.132e6, -11.33898, 2.3762, 0.6782, -2.53997, 2.5, 5},
	hydrogenCyanide - componentCount: {456.65, 5.39e6, -9.77338, 5.29679, -4.36059, 1.58018, 2.5, 5},
	carbonDisulfide - componentCount: {552.05, 7.9e6, -6.58802, 1.03676, 0.15875, -3.44094, 2.5, 5},
	silane - componentCount:          {269.75, 4.84e6, -7.30552, 2.7106, -0.09783, -4.71464, 2.5, 5},
	methanethiol - componentCount:    {469.95, 7.23e6, -8.04229, 4.64898, -4.38751, -1.03684, 2.5, 5},
	formaldehyde - componentCount:    {408.05, 6.59e6, -7.46907, 1.2829, -0.50464, -4.29089, 2.5, 5},
	styrene - componentCount:         {636.05, 3.84e6, -8.15126, 3.51813, -4.34082, -2.42333, 2.5, 5},
}

// pressurePa gives the saturation pressure at tK. Above the equation's own critical
// temperature it runs on straight in 1/T.
func (l *boilingLine) pressurePa(tK float64) float64 {
	tau := 1 - tK/l.tC
	sum := l.a * tau
	if tau > 0 {
		sum += l.b*tau*math.Sqrt(tau) + l.c*math.Pow(tau, l.m) + l.d*math.Pow(tau, l.n)
	}
	return l.pC * math.Exp(sum*l.tC/tK)
}
