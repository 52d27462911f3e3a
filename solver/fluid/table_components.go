package fluid

// The components in the customary order of GERG-2008 (Kunz & Wagner 2012;
// ISO 20765-2). The order matters in one place: beta of a pair
// belongs to the component that comes first here.
const (
	methane = iota
	nitrogen
	carbonDioxide
	ethane
	propane
	isobutane
	nButane
	isopentane
	nPentane
	nHexane
	nHeptane
	nOctane
	nNonane
	nDecane
	hydrogen
	oxygen
	carbonMonoxide
	water
	hydrogenSulfide
	helium
	argon
	componentCount
)

// component holds the constants of one substance: critical (reducing) point and
// ideal-gas heat capacity.
type component struct {
	name          string
	molarMass     float64 // kg/mol
	rhoC          float64 // critical density [mol/m3]
	tC            float64 // critical temperature [K]
	idealEntropy  float64 // s constant of the ideal gas [-]
	idealEnthalpy float64 // h constant of the ideal gas [K]
	cp0           float64 // constant part of cp0/R* [-]
	sinh, cosh    []vibration
}

// vibration is one term of the ideal-gas heat capacity: weight v [-] and
// characteristic temperature theta [K].
type vibration struct{ v, theta float64 }

// components: molar masses, critical points and ideal-gas constants of Kunz &
// Wagner 2012 (ISO 20765-2). The two integration constants are those of
// the public-domain NIST AGA8 program (GERG2008.cpp, v2.01), recomputed there so
// that h = s = 0 for each pure ideal gas at 298.15 K and 101.325 kPa; they shift
// h and s only.
var components = [componentCount]component{
	methane: {"methane", 16.04246e-3, 10.139342719e3, 190.564, 29.83843397, -15999.69151, 4.00088,
		[]vibration{{0.76315, 820.659}, {8.74432, 1062.82}},
		[]vibration{{0.0046, 178.41}, {-4.46921, 1090.53}}},
	nitrogen: {"nitrogen", 28.0134e-3, 11.1839e3, 126.192, 17.56770785, -2801.729072, 3.50031,
		[]vibration{{0.13732, 662.738}, {0.90066, 1740.06}},
		[]vibration{{-0.1466, 680.562}}},
	carbonDioxide: {"carbon_dioxide", 44.0095e-3, 10.624978698e3, 304.1282, 20.65844696, -4902.171516, 3.50002,
		[]vibration{{2.04452, 919.306}, {2.03366, 483.553}},
		[]vibration{{-1.06044, 865.07}, {0.01393, 341.109}}},
	ethane: {"ethane", 30.06904e-3, 6.87085454e3, 305.322, 36.73005938, -23639.65301, 4.00263,
		[]vibration{{4.33939, 559.314}, {13.1974, 1031.38}},
		[]vibration{{1.23722, 223.284}, {-6.01989, 1071.29}}},
	propane: {"propane", 44.09562e-3, 5.000043088e3, 369.825, 44.70909619, -31236.63551, 4.02939,
		[]vibration{{6.60569, 479.856}, {19.1921, 955.312}},
		[]vibration{{3.197, 200.893}, {-8.37267, 1027.29}}},
	isobutane: {"isobutane", 58.1222e-3, 3.86014294e3, 407.817, 34.30180349, -38525.50276, 4.06714,
		[]vibration{{8.97575, 438.27}, {25.1423, 1905.02}},
		[]vibration{{5.25156, 198.018}, {16.1388, 893.765}}},
	nButane: {"n_butane", 58.1222e-3, 3.920016792e3, 425.125, 36.53237783, -38957.80933, 4.33944,
		[]vibration{{9.44893, 468.27}, {24.4618, 1914.1}},
		[]vibration{{6.89406, 183.636}, {14.7824, 903.185}}},
	isopentane: {"isopentane", 72.14878e-3, 3.271e3, 460.35, 43.17218626, -51198.30946, 4,
		[]vibration{{11.7618, 292.503}, {33.1688, 1919.37}},
		[]vibration{{20.1101, 910.237}}},
	nPentane: {"n_pentane", 72.14878e-3, 3.215577588e3, 469.7, 42.67837089, -45215.83, 4,
		[]vibration{{8.95043, 178.67}, {33.4032, 1774.25}},
		[]vibration{{21.836, 840.538}}},
	nHexane: {"n_hexane", 86.17536e-3, 2.705877875e3, 507.82, 46.99717188, -52746.83318, 4,
		[]vibration{{11.6977, 182.326}, {38.6164, 1826.59}},
		[]vibration{{26.8142, 859.207}}},
	nHeptane: {"n_heptane", 100.20194e-3, 2.315324434e3, 540.13, 52.07631631, -57104.81056, 4,
		[]vibration{{13.7266, 169.789}, {43.5561, 1760.46}},
		[]vibration{{30.4707, 836.195}}},
	nOctane: {"n_octane", 114.22852e-3, 2.056404127e3, 569.32, 57.25830934, -60546.76385, 4,
		[]vibration{{15.6865, 158.922}, {48.1731, 1693.07}},
		[]vibration{{33.8029, 815.064}}},
	nNonane: {"n_nonane", 128.2551e-3, 1.81e3, 594.55, 62.09646901, -66600.12837, 4,
		[]vibration{{18.0241, 156.854}, {53.3415, 1693.79}},
		[]vibration{{38.1235, 814.882}}},
	nDecane: {"n_decane", 142.28168e-3, 1.64e3, 617.7, 65.93909154, -74131.45483, 4,
		[]vibration{{21.0069, 164.947}, {58.3657, 1750.24}},
		[]vibration{{43.4931, 836.264}}},
	hydrogen: {"hydrogen", 2.01588e-3, 14.94e3, 33.19, 13.07520288, -5836.943696, 2.47906,
		[]vibration{{0.95806, 228.734}, {1.56039, 1651.71}},
		[]vibration{{0.45444, 326.843}, {-1.3756, 1671.69}}},
	oxygen: {"oxygen", 31.9988e-3, 13.63e3, 154.595, 16.8017173, -2318.32269, 3.50146,
		[]vibration{{1.07558, 2235.71}},
		[]vibration{{1.01334, 1116.69}}},
	carbonMonoxide: {"carbon_monoxide", 28.0101e-3, 10.85e3, 132.86, 17.45786899, -2635.244116, 3.50055,
		[]vibration{{1.02865, 1550.45}},
		[]vibration{{0.00493, 704.525}}},
	water: {"water", 18.01528e-3, 17.87371609e3, 647.096, 21.57882705, -7766.733078, 4.00392,
		[]vibration{{0.01059, 268.795}, {3.06904, 2507.37}},
		[]vibration{{0.98763, 1141.41}}},
	hydrogenSulfide: {"hydrogen_sulfide", 34.08088e-3, 10.19e3, 373.1, 21.5830944, -6069.035869, 4,
		[]vibration{{3.11942, 1833.63}},
		[]vibration{{1.00243, 847.181}}},
	helium: {"helium", 4.002602e-3, 17.399e3, 5.1953, 10.04639507, -745.375, 2.5,
		nil,
		nil},
	argon: {"argon", 39.948e-3, 13.407429659e3, 150.687, 10.04639507, -745.375, 2.5,
		nil,
		nil},
}
