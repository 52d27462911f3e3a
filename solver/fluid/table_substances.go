package fluid

import "sync"

// The substances beyond the components of GERG-2008, which come first in the table
// below and in its order.
const (
	ethylene = componentCount + iota
	propylene
	oneButene
	isobutene
	propyne
	ammonia
	sulfurHexafluoride
	chlorine
	fluorine
	sulfurDioxide
	carbonylSulfide
	nitrousOxide
	hydrogenChloride
	neon
	krypton
	xenon
	deuterium
	ethyleneOxide
	dimethylEther
	methanol
	ethanol
	acetone
	benzene
	toluene
	ethylbenzene
	orthoXylene
	metaXylene
	paraXylene
	cyclohexane
	vinylChloride
	methylChloride
	r134a
	r14
	acetylene
	butadiene
	nitricOxide
	nitrogenDioxide
	hydrogenCyanide
	carbonDisulfide
	silane
	phosphine
	methanethiol
	formaldehyde
	styrene
	substanceCount
)

// substance holds what the cubic equation and the correlations of transport need
// to know of one substance.
type substance struct {
	name, formula string
	molarMass     float64 // kg/mol
	tC            float64 // critical temperature [K]
	pC            float64 // critical pressure [Pa]
	acentric      float64
	vC            float64 // critical volume [m3/mol]
	dipoleD       float64 // dipole moment [debye]
	boilK         float64 // boiling or sublimation at 101.325 kPa [K]
	tripleK       float64 // triple point [K]; 0 for helium, which has none
	memory        bool    // critical constants and boiling point are handbook values from memory
}

// substances: testdata/fluid/components.csv has the source of every value. Unless
// marked as from memory the critical point is that of the substance's reference
// equation of state and the acentric factor that of its file in the open library
// CoolProp 8.0; the boiling point is its saturation temperature. From memory are
// all dipole moments, and besides the marked rows the boiling points of carbon
// dioxide, sulfur hexafluoride (both sublimation) and propyne. What is from memory
// is good to about 1 K, 2 % in pressure, 0.01 in acentric factor, 3 % in volume and
// 0.05 debye. Molar masses of the first 21 are those of GERG-2008.
//
// Triple points: the reference equations' as collected in the open library
// chemicals; of the marked rows L. A. K. Staveley et al., Pure Appl. Chem. 53
// (1981) 1847-1880; of nitrogen dioxide, hydrogen cyanide, silane and formaldehyde
// from memory. They serve only to say "solid" instead of "liquid".
//
// Nitrogen dioxide stands for its equilibrium with the dimer N2O4.
var substances = [substanceCount]substance{
	methane:            {"methane", "CH4", 16.04246e-3, 190.564, 4599.2005e3, 0.01142, 98.627717e-6, 0, 111.6672, 90.6941, false},
	nitrogen:           {"nitrogen", "N2", 28.0134e-3, 126.192, 3395.8004e3, 0.0372, 89.414236e-6, 0, 77.35499, 63.151, false},
	carbonDioxide:      {"carbon_dioxide", "CO2", 44.0095e-3, 304.1282, 7377.2984e3, 0.22394, 94.118483e-6, 0, 194.69, 216.592, false},
	ethane:             {"ethane", "C2H6", 30.06904e-3, 305.322, 4872.2e3, 0.099, 145.83878e-6, 0, 184.5686, 90.368, false},
	propane:            {"propane", "C3H8", 44.09562e-3, 369.89001, 4251.1653e3, 0.1521, 199.99998e-6, 0.084, 231.0362, 85.525, false},
	isobutane:          {"isobutane", "C4H10", 58.1222e-3, 407.81, 3629e3, 0.18353178, 257.74812e-6, 0.132, 261.401, 113.73, false},
	nButane:            {"n_butane", "C4H10", 58.1222e-3, 425.125, 3796e3, 0.20081009, 254.92193e-6, 0, 272.6599, 134.895, false},
	isopentane:         {"isopentane", "C5H12", 72.14878e-3, 460.34979, 3378.2172e3, 0.2274, 305.71844e-6, 0.1, 300.9763, 112.65, false},
	nPentane:           {"n_pentane", "C5H12", 72.14878e-3, 469.7, 3367.519e3, 0.25103191, 311.52726e-6, 0, 309.2093, 143.47, false},
	nHexane:            {"n_hexane", "C6H14", 86.17536e-3, 507.82, 3044.1153e3, 0.30031893, 369.58088e-6, 0, 341.8656, 177.83, false},
	nHeptane:           {"n_heptane", "C7H16", 100.20194e-3, 541.22592, 2773.8243e3, 0.349, 445.53745e-6, 0, 371.5333, 182.55, false},
	nOctane:            {"n_octane", "C8H18", 114.22852e-3, 568.74, 2483.5912e3, 0.3975283, 492.36358e-6, 0, 398.7938, 216.37, false},
	nNonane:            {"n_nonane", "C9H20", 128.2551e-3, 594.54781, 2281.911e3, 0.4433, 552.445e-6, 0, 423.913, 219.7, false},
	nDecane:            {"n_decane", "C10H22", 142.28168e-3, 617.69885, 2101.3367e3, 0.4884, 609.75417e-6, 0, 447.2702, 243.5, false},
	hydrogen:           {"hydrogen", "H2", 2.01588e-3, 33.144333, 1296.3576e3, -0.219, 64.508291e-6, 0, 20.3689, 13.957, false},
	oxygen:             {"oxygen", "O2", 31.9988e-3, 154.59939, 5046.4105e3, 0.0222, 74.950218e-6, 0, 90.18781, 54.361, false},
	carbonMonoxide:     {"carbon_monoxide", "CO", 28.0101e-3, 132.85989, 3498.1947e3, 0.0497, 92.164511e-6, 0.112, 81.63817, 68.16, false},
	water:              {"water", "H2O", 18.01528e-3, 647.096, 22064e3, 0.34429208, 55.948037e-6, 1.855, 373.1243, 273.16, false},
	hydrogenSulfide:    {"hydrogen_sulfide", "H2S", 34.08088e-3, 373.10087, 8998.8716e3, 0.1005, 98.153859e-6, 0.97, 212.8549, 187.7, false},
	helium:             {"helium", "He", 4.002602e-3, 5.1953, 228.32279e3, -0.38353993, 57.521106e-6, 0, 4.223807, 0, false},
	argon:              {"argon", "Ar", 39.948e-3, 150.687, 4863.0005e3, -0.00219, 74.585512e-6, 0, 87.30214, 83.8058, false},
	ethylene:           {"ethylene", "C2H4", 28.05376e-3, 282.35, 5041.6922e3, 0.0866, 130.94548e-6, 0, 169.3786, 103.986, false},
	propylene:          {"propylene", "C3H6", 42.07974e-3, 364.211, 4554.993e3, 0.146, 183.25146e-6, 0.366, 225.5308, 87.953, false},
	oneButene:          {"1_butene", "C4H8", 56.10632e-3, 419.29018, 4005.7237e3, 0.19186065, 235.8457e-6, 0.34, 266.844, 87.8, false},
	isobutene:          {"isobutene", "C4H8", 56.10632e-3, 418.0898, 4015.7065e3, 0.19259345, 239.81081e-6, 0.503, 266.1458, 132.4, false},
	propyne:            {"propyne", "C3H4", 40.06e-3, 402.70114, 5657.5033e3, 0.204, 161.07142e-6, 0.784, 249.9, 170.5, false},
	ammonia:            {"ammonia", "NH3", 17.03052e-3, 405.56, 11363.391e3, 0.25569052, 73.014021e-6, 1.47, 239.8343, 195.49, false},
	sulfurHexafluoride: {"sulfur_hexafluoride", "SF6", 146.05542e-3, 318.7232, 3754.983e3, 0.21, 196.76063e-6, 0, 209.3, 223.555, false},
	chlorine:           {"chlorine", "Cl2", 70.906e-3, 416.8654, 7642.3739e3, 0.07, 125.78887e-6, 0, 239.1976, 172.17, false},
	fluorine:           {"fluorine", "F2", 37.99681e-3, 144.41443, 5239.5165e3, 0.0449, 64.090274e-6, 0, 85.03679, 53.4811, false},
	sulfurDioxide:      {"sulfur_dioxide", "SO2", 64.0638e-3, 430.64, 7886.579e3, 0.25612994, 123.78876e-6, 1.633, 263.137, 197.7, false},
	carbonylSulfide:    {"carbonyl_sulfide", "COS", 60.0751e-3, 378.77027, 6368.7999e3, 0.0978, 134.95552e-6, 0.715, 222.9886, 134.3, false},
	nitrousOxide:       {"nitrous_oxide", "N2O", 44.0128e-3, 309.52068, 7244.8167e3, 0.1613, 97.173198e-6, 0.161, 184.6839, 182.33, false},
	hydrogenChloride:   {"hydrogen_chloride", "HCl", 36.4609e-3, 324.68001, 8313.5089e3, 0.12965267, 84.245995e-6, 1.109, 188.1726, 159.07, false},
	neon:               {"neon", "Ne", 20.179e-3, 44.4, 2661.6307e3, -0.03549258, 41.493793e-6, 0, 27.09998, 24.5561, false},
	krypton:            {"krypton", "Kr", 83.798e-3, 209.47955, 5525.4325e3, -0.00089, 92.187618e-6, 0, 119.7349, 115.775, false},
	xenon:              {"xenon", "Xe", 131.293e-3, 289.73257, 5841.9136e3, 0.00363, 119.045e-6, 0, 165.0513, 161.405, false},
	deuterium:          {"deuterium", "D2", 4.0282e-3, 38.339999, 1679.5503e3, -0.13629027, 58.038305e-6, 0, 23.66131, 18.724, false},
	ethyleneOxide:      {"ethylene_oxide", "C2H4O", 44.05256e-3, 468.92001, 7304.687e3, 0.21019549, 139.46329e-6, 1.89, 283.6595, 160.654, false},
	dimethylEther:      {"dimethyl_ether", "C2H6O", 46.06844e-3, 400.378, 5336.6648e3, 0.196, 168.35016e-6, 1.3, 248.3678, 131.66, false},
	methanol:           {"methanol", "CH4O", 32.04216e-3, 513.37951, 8215.8533e3, 0.56493749, 113.82823e-6, 1.7, 337.6323, 175.61, false},
	ethanol:            {"ethanol", "C2H6O", 46.06844e-3, 514.70928, 6267.9146e3, 0.644, 168.61455e-6, 1.69, 351.5704, 159, false},
	acetone:            {"acetone", "C3H6O", 58.07914e-3, 508.10001, 4692.4166e3, 0.3071, 212.77104e-6, 2.88, 329.2249, 178.5, false},
	benzene:            {"benzene", "C6H6", 78.1118e-3, 562.01969, 4906.2888e3, 0.21083697, 256.278e-6, 0, 353.2164, 278.674, false},
	toluene:            {"toluene", "C7H8", 92.13842e-3, 591.74908, 4126.3469e3, 0.2657, 315.55738e-6, 0.375, 383.7457, 178, false},
	ethylbenzene:       {"ethylbenzene", "C8H10", 106.165e-3, 617.12, 3622.4421e3, 0.304, 364.82823e-6, 0.59, 409.3142, 178.2, false},
	orthoXylene:        {"o_xylene", "C8H10", 106.165e-3, 630.259, 3737.4598e3, 0.312, 372.50896e-6, 0.64, 417.521, 247.985, false},
	metaXylene:         {"m_xylene", "C8H10", 106.165e-3, 616.89, 3534.5991e3, 0.326, 375.24004e-6, 0.3, 412.2139, 225.3, false},
	paraXylene:         {"p_xylene", "C8H10", 106.165e-3, 616.168, 3531.5211e3, 0.324, 371.20677e-6, 0, 411.4704, 286.4, false},
	cyclohexane:        {"cyclohexane", "C6H12", 84.15948e-3, 553.60002, 4080.5259e3, 0.20926, 310.17389e-6, 0, 353.8649, 279.86, false},
	vinylChloride:      {"vinyl_chloride", "C2H3Cl", 62.49822e-3, 425, 5600.3086e3, 0.16, 176.99108e-6, 1.45, 259.2584, 119.31, false},
	methylChloride:     {"methyl_chloride", "CH3Cl", 50.48752e-3, 418.62565, 6929.0026e3, 0.1500685, 147.7622e-6, 1.89, 249.1727, 175.51, false},
	r134a:              {"r134a", "C2H2F4", 102.032e-3, 374.21197, 4059.2764e3, 0.32684, 199.30262e-6, 2.058, 247.0762, 169.85, false},
	r14:                {"r14", "CF4", 88.0046e-3, 227.39623, 3762.4564e3, 0.1785, 140.36161e-6, 0, 145.1048, 89.54, false},
	acetylene:          {"acetylene", "C2H2", 26.037e-3, 308.3, 6138e3, 0.189, 112.2e-6, 0, 188.4, 192.61, true},
	butadiene:          {"1_3_butadiene", "C4H6", 54.09e-3, 425.0, 4320e3, 0.195, 221e-6, 0, 268.7, 164.25, true},
	nitricOxide:        {"nitric_oxide", "NO", 30.006e-3, 180.0, 6480e3, 0.582, 57.7e-6, 0.159, 121.4, 109.5, true},
	nitrogenDioxide:    {"nitrogen_dioxide", "NO2", 46.0055e-3, 431.0, 10100e3, 0.85, 167.8e-6, 0.316, 294.3, 261.95, true},
	hydrogenCyanide:    {"hydrogen_cyanide", "HCN", 27.025e-3, 456.7, 5390e3, 0.41, 139e-6, 2.98, 298.9, 259.86, true},
	carbonDisulfide:    {"carbon_disulfide", "CS2", 76.141e-3, 552.0, 7900e3, 0.11, 160e-6, 0, 319.4, 161.27, true},
	silane:             {"silane", "SiH4", 32.117e-3, 269.7, 4840e3, 0.094, 132.7e-6, 0, 161.0, 88.5, true},
	phosphine:          {"phosphine", "PH3", 33.998e-3, 324.5, 6540e3, 0.04, 113.3e-6, 0.58, 185.4, 139.36, true},
	methanethiol:       {"methanethiol", "CH4S", 48.107e-3, 470.0, 7230e3, 0.155, 145e-6, 1.52, 279.1, 150.17, true},
	formaldehyde:       {"formaldehyde", "CH2O", 30.026e-3, 408.0, 6590e3, 0.282, 115e-6, 2.33, 254.0, 181, true},
	styrene:            {"styrene", "C8H8", 104.15e-3, 636.0, 3840e3, 0.297, 352e-6, 0.13, 418.3, 242.48, true},
}

var substanceByName = sync.OnceValue(func() map[string]int {
	index := make(map[string]int, substanceCount)
	for i := range substances {
		index[substances[i].name] = i
	}
	return index
})
