package fluid

import "math"

// What density adds to viscosity and conductivity of a pure substance.
//
// Most substances follow a function of the reduced density alone: J. A. Jossi, L. I.
// Stiel, G. Thodos, AIChE J. 8 (1962) 59-63 for viscosity; L. I. Stiel, G. Thodos,
// AIChE J. 10 (1964) 26-30 for conductivity. The published viscosity polynomial does
// not quite vanish at zero density; here its value there is subtracted, so that
// dilute gas is met exactly.
//
// Those below have a correlation of their own, without the enhancement at the
// critical point:
//
//	nitrogen, oxygen, argon  E. W. Lemmon, R. T Jacobsen, Int. J. Thermophys. 25 (2004) 21-69, both properties
//	carbon dioxide           A. Fenghour, W. A. Wakeham, V. Vesovic, J. Phys. Chem. Ref. Data 27 (1998) 31-44;
//	                         V. Vesovic et al., J. Phys. Chem. Ref. Data 19 (1990) 763-808
//	methane                  D. G. Friend, J. F. Ely, H. Ingham, J. Phys. Chem. Ref. Data 18 (1989) 583-638, both
//	ethane                   D. G. Friend, H. Ingham, J. F. Ely, J. Phys. Chem. Ref. Data 20 (1991) 275-347, both
//	ammonia                  A. Fenghour et al., J. Phys. Chem. Ref. Data 24 (1995) 1649-1667;
//	                         R. Tufeu et al., Ber. Bunsenges. Phys. Chem. 88 (1984) 422-427
//	R134a                    M. O. McLinden, S. A. Klein, R. A. Perkins, Int. J. Refrig. 23 (2000) 43-63 (conductivity)
//	sulfur hexafluoride      M. J. Assael et al., J. Phys. Chem. Ref. Data 41 (2012) 023104 (conductivity)
//	hydrogen                 C. D. Muzny, M. L. Huber, A. F. Kazakov, J. Chem. Eng. Data 58 (2013) 969-979 (viscosity)
//	water                    steam.go
//
// The coefficients were read from the open library CoolProp, Vesovic's and those of
// steam are from memory and confirmed by the check values and reference rows of the
// tests.

// excess is unit sum n tau^t delta^d exp(-delta^l) / (1 + below0 delta +
// below1 delta tau), where l = 0 stands for no exponential.
type excess struct {
	unit, tC, rhoC float64 // reducing temperature [K] and density [mol/m3]
	below          [2]float64
	terms          []excessTerm
}

type excessTerm struct {
	n, t float64
	d, l int
}

func (r *excess) at(tK, rhoMol float64) float64 {
	tau, delta := r.tC/tK, rhoMol/r.rhoC
	var power [13]float64
	power[0] = 1
	for k := 1; k < len(power); k++ {
		power[k] = power[k-1] * delta
	}
	lnTau := math.Log(tau)
	sum := 0.0
	for i := range r.terms {
		t := &r.terms[i]
		v := t.n * power[t.d]
		switch {
		case t.l > 0:
			v *= math.Exp(t.t*lnTau - power[t.l])
		case t.t == 0:
		case t.t == 1:
			v *= tau
		case t.t == 2:
			v *= tau * tau
		default:
			v *= math.Exp(t.t * lnTau)
		}
		sum += v
	}
	return r.unit * sum / (1 + delta*(r.below[0]+r.below[1]*tau))
}

// perKilogram is the reducing density 1 kg/m3 in mol/m3.
func perKilogram(i int) float64 { return 1 / substances[i].molarMass }

var denseViscosities = [substanceCount]*excess{
	nitrogen: {1e-6, 126.192, 11183.9, [2]float64{}, []excessTerm{
		{10.72, 0.1, 2, 0}, {0.03989, 0.25, 10, 1}, {0.001208, 3.2, 12, 1}, {-7.402, 0.9, 2, 2}, {4.620, 0.3, 1, 3}}},
	oxygen: {1e-6, 154.581, 13630, [2]float64{}, []excessTerm{
		{17.67, 0.05, 1, 0}, {0.4042, 0, 5, 0}, {0.0001077, 2.1, 12, 0}, {0.3510, 0, 8, 1}, {-13.67, 0.5, 1, 2}}},
	argon: {1e-6, 150.687, 13407.43, [2]float64{}, []excessTerm{
		{12.19, 0.42, 1, 0}, {13.99, 0, 2, 0}, {0.005027, 0.95, 10, 0}, {-18.93, 0.5, 5, 2}, {-6.698, 0.9, 1, 4}, {-3.827, 0.8, 2, 4}}},
	carbonDioxide: {1e-6, 251.196, perKilogram(carbonDioxide), [2]float64{}, []excessTerm{
		{0.4071119e-2, 0, 1, 0}, {0.7198037e-4, 0, 2, 0}, {0.2411697e-16, 3, 6, 0}, {0.2971072e-22, 0, 8, 0}, {-0.1627888e-22, 1, 8, 0}}},
	methane: {12.149e-6, 190.551, 10139, [2]float64{-0.38798341, 0.03533815}, []excessTerm{
		{0.41250137, 0, 1, 0}, {-0.14390912, 1, 1, 0}, {0.10366993, 0, 2, 0}, {0.40287464, 1, 2, 0}, {-0.24903524, 1.5, 2, 0},
		{-0.12953131, 0, 3, 0}, {0.06575776, 2, 3, 0}, {0.02566628, 0, 4, 0}, {-0.03716526, 1, 4, 0}}},
	ethane: {15.977e-6, 305.33, 6870, [2]float64{-0.30435286, 0.001215675}, []excessTerm{
		{0.47177003, 0, 1, 0}, {-0.23950311, 1, 1, 0}, {0.39808301, 0, 2, 0}, {-0.27343335, 1, 2, 0}, {0.35192260, 1.5, 2, 0},
		{-0.21101308, 0, 3, 0}, {-0.00478579, 2, 3, 0}, {0.07378129, 0, 4, 0}, {-0.030435255, 1, 4, 0}}},
	ammonia: {1e-6, 405.4, 13211.8, [2]float64{}, []excessTerm{
		{4.0050406, 0, 3, 0}, {-14.107915, 1, 3, 0}, {34.760743, 2, 2, 0}, {4.6313103, 2, 4, 0}, {-3.9373745, 3, 4, 0},
		{-12.000751, 4, 2, 0}, {1.9284978, 4, 4, 0}}},
}

var denseConductivities = [substanceCount]*excess{
	nitrogen: {1e-3, 126.192, 11183.9, [2]float64{}, []excessTerm{
		{8.862, 0, 1, 0}, {31.11, 0.03, 2, 0}, {-73.13, 0.2, 3, 1}, {20.03, 0.8, 4, 2}, {-0.7096, 0.6, 8, 2}, {0.2672, 1.9, 10, 2}}},
	oxygen: {1e-3, 154.581, 13630, [2]float64{}, []excessTerm{
		{15.31, 0, 1, 0}, {8.898, 0, 3, 0}, {-0.7336, 0.3, 4, 0}, {6.728, 4.3, 5, 2}, {-4.374, 0.5, 7, 2}, {-0.4747, 1.8, 10, 2}}},
	argon: {1e-3, 150.687, 13407.43, [2]float64{}, []excessTerm{
		{13.73, 0, 1, 0}, {10.07, 0, 2, 0}, {0.7375, 0, 4, 0}, {-33.96, 0.8, 5, 2}, {20.47, 1.2, 6, 2}, {-2.274, 0.8, 9, 2}, {-3.973, 0.5, 1, 4}}},
	carbonDioxide: {1e-3, 304.1282, perKilogram(carbonDioxide), [2]float64{}, []excessTerm{
		{2.447164e-2, 0, 1, 0}, {8.705605e-5, 0, 2, 0}, {-6.547950e-8, 0, 3, 0}, {6.594919e-11, 0, 4, 0}}},
	methane: {6.29638e-3, 190.55, 10139, [2]float64{}, []excessTerm{
		{2.4149207, 0, 1, 0}, {1.5554612, 0, 2, 0}, {0.55166331, 0, 3, 0}, {-0.52837734, 0, 4, 0}, {0.073809553, 1, 4, 0},
		{0.24465507, 0, 5, 0}, {-0.047613626, 1, 5, 0}}},
	ethane: {1e-3, 305.33, 6870, [2]float64{}, []excessTerm{
		{4.2448708, 0, 1, 0}, {12.149219, 0, 2, 0}, {-0.11755611, 0, 3, 0}, {-0.34524131, 0, 4, 0}, {0.96668692, 0, 5, 0},
		{10.536403, 1.5, 1, 0}, {-3.3184301, 1, 3, 0}}},
	ammonia: {1e-3, 405.4, 235 / 17.03026e-3, [2]float64{}, []excessTerm{
		{38.08645, 0, 1, 0}, {66.47986, 0, 2, 0}, {-30.0295, 0, 3, 0}, {9.98779, 0, 4, 0}}},
	sulfurHexafluoride: {1e-3, 318.7232, 742.297 / 146.05542e-3, [2]float64{}, []excessTerm{
		{-28.3746, 0, 1, 0}, {35.2768, -1, 1, 0}, {20.7472, 0, 2, 0}, {-43.3053, -1, 2, 0}, {-5.5718, 0, 3, 0}, {51.2084, -1, 3, 0},
		{5.3289, 0, 4, 0}, {-29.0262, -1, 4, 0}, {-1.61688, 0, 5, 0}, {5.98438, -1, 5, 0}}},
	r134a: {1e-3, 374.21, 5049.886, [2]float64{}, []excessTerm{
		{3.7740609, 0, 1, 0}, {10.534224, 0, 2, 0}, {-2.9527946, 0, 3, 0}, {1.2867259, 0, 4, 0}}},
}

// ownViscosity gives what density adds to the viscosity [Pa s] of a substance with a
// correlation of its own, but for its slope at zero density.
func ownViscosity(i int, tK, rhoMol float64) float64 {
	switch i {
	case water:
		return steam(100e-6, waterH, tK) * (steamFactor(&waterH1, tK, rhoMol) - 1)
	case hydrogen:
		t, d := tK/33.145, rhoMol*2.01588e-3/90.5
		d2 := d * d
		return 6.43449673e-6 * d2 * math.Exp(0.0456334068*t+0.232797868/t+0.958326120*d2/(0.127941189+t)+0.363576595*d2*d2*d2)
	}
	return denseViscosities[i].at(tK, rhoMol)
}

func hasOwnViscosity(i int) bool { return i == water || i == hydrogen || denseViscosities[i] != nil }

func ownConductivity(i int, tK, rhoMol float64) float64 {
	if i == water {
		return steam(1e-3, waterL, tK) * (steamFactor(&waterL1, tK, rhoMol) - 1)
	}
	return denseConductivities[i].at(tK, rhoMol)
}

func hasOwnConductivity(i int) bool { return i == water || denseConductivities[i] != nil }

// virial describes the slope of viscosity with density at zero density: eta0 rho
// sigma^3 N_A B with B a polynomial in (eps/T)^(1/4).
type virial struct {
	sigmaNm, epsK float64
	b             []virialTerm
}

type virialTerm struct {
	power int
	b     float64
}

var virials = [substanceCount]*virial{
	hydrogen: {0.297, 30.41, []virialTerm{{0, -0.1870}, {4, 2.4871}, {8, 3.7151}, {12, -11.0972}, {16, 9.0965}, {20, -3.8292}, {24, 0.5166}}},
	ammonia: {0.2957, 386, []virialTerm{{0, -1.7999496}, {2, 46.692621}, {4, -534.60794}, {6, 3360.4074}, {8, -13019.164},
		{10, 33414.23}, {12, -58711.743}, {14, 71426.686}, {16, -59834.012}, {18, 33652.741}, {20, -12027.35}, {22, 2434.8205}, {24, -208.07957}}},
}

// at gives sigma^3 N_A B [m3/mol].
func (v *virial) at(tK float64) float64 {
	return 6.0221408e-4 * v.sigmaNm * v.sigmaNm * v.sigmaNm * reducedVirial(v.b, tK/v.epsK)
}

// reducedVirial gives B at the reduced temperature, above a third, for which the
// polynomials are meant.
func reducedVirial(b []virialTerm, t float64) float64 {
	s := math.Sqrt(math.Sqrt(min(1/t, 3)))
	var power [25]float64
	power[0] = 1
	for k := 1; k < len(power); k++ {
		power[k] = power[k-1] * s
	}
	sum := 0.0
	for _, v := range b {
		sum += v.b * power[v.power]
	}
	return sum
}

// rainwaterFriend is B after J. C. Rainwater, D. G. Friend, Phys. Rev. A 36 (1987)
// 4062, as fitted by E. Vogel et al., J. Phys. Chem. Ref. Data 27 (1998) 947.
var rainwaterFriend = []virialTerm{{0, -19.572881}, {1, 219.73999}, {2, -1015.3226}, {3, 2471.01251}, {4, -3375.1717},
	{5, 2491.6597}, {6, -787.26086}, {10, 14.085455}, {22, -0.34664158}}

// polarStart corrects the function of Jossi, Stiel and Thodos where density is low,
// for polar vapours, whose viscosity starts by falling with density: its slope at zero
// density gives way to Rainwater and Friend's, with diameter and energy from the
// critical point as in Chung's theory, and comes back by exp(-(r/0.3)^2). The blend is
// ours: it takes hydrogen sulfide from 8 to 3 % off, methanol from 4 to 3 %, R134a from 3 to 1 %.
// For hydrocarbons it does no good and is not used. eta0 is the dilute viscosity.
func polarStart(tR, r, eta0, xi float64) float64 {
	const sigmaCubed = 0.809 * 0.809 * 0.809 * 0.60221408 // N_A sigma^3/Vc
	slope := eta0 * sigmaCubed * reducedVirial(rainwaterFriend, 1.2593*tR)
	return r * math.Exp(-r*r/0.09) * (slope - jossiSlope/xi)
}

// jossiSlope is that of jossiStielThodos at zero.
const jossiSlope = 4 * 1.0230 * 1.0230 * 1.0230 * 0.23364

// jossiStielThodos is the contribution to viscosity of the reduced density r, times
// the substance's xi.
func jossiStielThodos(r float64) float64 {
	const atZero = 1.0230 * 1.0230 * 1.0230 * 1.0230
	q := 1.0230 + r*(0.23364+r*(0.58533+r*(-0.40758+r*0.093324)))
	return q*q*q*q - atZero
}

// stielThodos is the contribution to conductivity, times Gamma Zc^5. The published
// pieces miss each other by 0.3 % at their ends; here each starts where the last one
// ended.
func stielThodos(r float64) float64 {
	low := 1.22e-2 * math.Expm1(0.535*min(r, 0.5))
	middle := 1.14e-2 * (math.Exp(0.67*max(0.5, min(r, 2))) - math.Exp(0.67*0.5))
	high := 2.60e-3 * (math.Exp(1.155*max(r, 2)) - math.Exp(1.155*2))
	return low + middle + high
}
