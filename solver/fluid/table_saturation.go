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

// boilingLines by index less componentCount. From the open library chemicals: VDI
// Heat Atlas, 2nd ed. (2010), part D3 (m = 2.5, n = 5), save for isobutene, which is
// from J. McGarry, Ind. Eng. Chem. Process Des. Dev. 22 (1983) 313-322 (3, 6), and
// r134a, from R. Tillner-Roth, H. D. Baehr, J. Phys. Chem. Ref. Data 23 (1994)
// 657-729 (2, 4), written down from memory and held against
// testdata/fluid/pure-saturation-check.csv. None: deuterium, which is above its
// critical temperature in the whole range, and phosphine.
var boilingLines = [substanceCount - componentCount]boilingLine{
	ethylene - componentCount:           {282.35, 5.042e6, -6.41327, 1.45469, -1.24183, -1.99446, 2.5, 5},
	propylene - componentCount:          {365.57, 4.665e6, -6.66599, 1.4343, -1.39324, -2.46883, 2.5, 5},
	oneButene - componentCount:          {419.29, 4.006e6, -7.07897, 1.87819, -2.02256, -2.64845, 2.5, 5},
	isobutene - componentCount:          {417.9, 4.00706e6, -6.95542, 1.35673, -2.45222, -1.4611, 3, 6},
	propyne - componentCount:            {402.4, 5.63e6, -7.11026, 1.86493, -2.56109, -1.65671, 2.5, 5},
	ammonia - componentCount:            {405.5, 11.359e6, -7.30274, 1.64638, -2.01606, -1.96884, 2.5, 5},
	sulfurHexafluoride - componentCount: {318.88, 3.766e6, -7.08034, 1.65103, -1.96365, -0.2506, 2.5, 5},
	chlorine - componentCount:           {416.96, 7.991e6, -6.43911, 1.48278, -1.21184, -2.02926, 2.5, 5},
	fluorine - componentCount:           {144.41, 5.24e6, -6.27045, 1.53939, -1.25605, -1.27235, 2.5, 5},
	sulfurDioxide - componentCount:      {430.64, 7.876e6, -7.27858, 1.72871, -2.37473, -2.70464, 2.5, 5},
	carbonylSulfide - componentCount:    {378.77, 6.369e6, -6.51272, 1.55373, -1.33074, -2.08761, 2.5, 5},
	nitrousOxide - componentCount:       {309.52, 7.245e6, -6.79599, 1.59751, -1.85163, -2.29494, 2.5, 5},
	hydrogenChloride - componentCount:   {324.65, 8.31e6, -6.63222, 1.06066, 0.05415, -4.45907, 2.5, 5},
	neon - componentCount:               {44.49, 2.679e6, -5.74238, 1.0886, -0.05896, -1.19851, 2.5, 5},
	krypton - componentCount:            {209.48, 5.525e6, -5.98396, 1.34334, -0.66521, -1.30012, 2.5, 5},
	xenon - componentCount:              {289.73, 5.842e6, -6.00659, 1.37325, -0.77703, -1.22529, 2.5, 5},
	ethyleneOxide - componentCount:      {469.15, 7.19e6, -6.39656, -0.13545, 0.30047, -4.54866, 2.5, 5},
	dimethylEther - componentCount:      {400.3, 5.341e6, -7.33288, 2.677, -3.4025, -0.11957, 2.5, 5},
	methanol - componentCount:           {513.38, 8.216e6, -8.72963, 1.4586, -2.78449, -0.70669, 2.5, 5},
	ethanol - componentCount:            {513.9, 6.148e6, -8.33803, 0.0872, -3.30575, -0.26001, 2.5, 5},
	acetone - componentCount:            {508.1, 4.692e6, -7.67033, 1.96469, -2.4438, -2.90162, 2.5, 5},
	benzene - componentCount:            {562.01, 4.901e6, -7.11451, 1.83981, -2.25158, -3.15179, 2.5, 5},
	toluene - componentCount:            {591.75, 4.126e6, -7.50051, 2.08939, -2.56368, -2.85042, 2.5, 5},
	ethylbenzene - componentCount:       {617.05, 3.613e6, -7.64476, 2.01616, -2.69311, -3.25571, 2.5, 5},
	orthoXylene - componentCount:        {630.25, 3.732e6, -7.60791, 1.79921, -2.42215, -3.36892, 2.5, 5},
	metaXylene - componentCount:         {617.05, 3.541e6, -7.63902, 1.65289, -2.19801, -3.94677, 2.5, 5},
	paraXylene - componentCount:         {616.25, 3.511e6, -7.67395, 1.81953, -2.39673, -3.44627, 2.5, 5},
	cyclohexane - componentCount:        {553.6, 4.075e6, -7.00979, 1.57475, -1.9682, -3.26095, 2.5, 5},
	vinylChloride - componentCount:      {432.05, 5.67e6, -6.32153, 1.11198, -1.35813, -3.25332, 2.5, 5},
	methylChloride - componentCount:     {416.25, 6.68e6, -6.71862, 1.27727, -0.96338, -3.14698, 2.5, 5},
	r134a - componentCount:              {374.18, 4.05629e6, -7.686556, 2.311791, -2.039554, -3.583758, 2, 4},
	r14 - componentCount:                {227.55, 3.74e6, -6.92188, 1.54525, -1.41276, -2.87791, 2.5, 5},
	acetylene - componentCount:          {308.35, 6.139e6, -6.99241, 1.57338, -1.33202, -5.21884, 2.5, 5},
	butadiene - componentCount:          {425.15, 4.277e6, -6.79824, 1.08553, -0.96279, -3.84778, 2.5, 5},
	nitricOxide - componentCount:        {180.15, 6.48e6, -8.38772, 0.85755, -3.11447, -8.98765, 2.5, 5},
	nitrogenDioxide - componentCount:    {431.15, 10.132e6, -11.33898, 2.3762, 0.6782, -2.53997, 2.5, 5},
	hydrogenCyanide - componentCount:    {456.65, 5.39e6, -9.77338, 5.29679, -4.36059, 1.58018, 2.5, 5},
	carbonDisulfide - componentCount:    {552.05, 7.9e6, -6.58802, 1.03676, 0.15875, -3.44094, 2.5, 5},
	silane - componentCount:             {269.75, 4.84e6, -7.30552, 2.7106, -0.09783, -4.71464, 2.5, 5},
	methanethiol - componentCount:       {469.95, 7.23e6, -8.04229, 4.64898, -4.38751, -1.03684, 2.5, 5},
	formaldehyde - componentCount:       {408.05, 6.59e6, -7.46907, 1.2829, -0.50464, -4.29089, 2.5, 5},
	styrene - componentCount:            {636.05, 3.84e6, -8.15126, 3.51813, -4.34082, -2.42333, 2.5, 5},
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
