package fluid

// idealCapacity is the heat capacity of the ideal gas of one substance,
//
//	cp0/R = c0 + c1 T + c2 T^2 + c3 T^3 + c4 T^4 + r0 T^(1/2) + r1 T^(3/4) + sum v (theta/T)^2 e^(theta/T) / (e^(theta/T) - 1)^2
//
// the sum running over its waves, with theta in K.
type idealCapacity struct {
	lowK  float64 // the constants hold from here [K] to 1000 K
	c     [5]float64
	waves []vibration
	roots [2]float64
}

// capacities are the heat capacities of the substances beyond GERG-2008, by index
// less componentCount. Their sources:
//
//	waves with broken weights    the ideal-gas part of the substance's reference equation of state, as the
//	                             open libraries CoolProp and thermo hold it: ethylene Smukala 2000, propylene
//	                             Lemmon 2013, 1-butene Lemmon and Ihmels 2005, ammonia Gao 2020, sulfur
//	                             hexafluoride Guder and Wagner 2009, fluorine de Reuck 1990, sulfur dioxide Gao 2016,
//	                             carbonyl sulfide, nitrous oxide, acetone, toluene Lemmon and Span 2006, ethylene
//	                             oxide Thol 2015, dimethyl ether Wu 2011, ethanol Schroeder 2014, benzene Thol 2012,
//	                             ethylbenzene and xylenes Zhou 2012, methyl chloride Thorade; and of those whose
//	                             multiparameter equation is in use (table_multiparameter.go) from its publication:
//	                             isobutene, chlorine, hydrogen chloride, deuterium, methanol, cyclohexane, vinyl
//	                             chloride, R134a
//	whole weights                harmonic vibrations with the fundamentals of T. Shimanouchi, NSRDS-NBS 39 (1972),
//	                             and of handbooks, from memory: nitrogen dioxide, hydrogen cyanide,
//	                             carbon disulfide, silane, phosphine. The wave numbers are in 1/cm
//	formaldehyde, styrene        B. J. McBride, S. Gordon, M. A. Reno, NASA TM-4513 (1993)
//	other polynomials            B. E. Poling, J. M. Prausnitz, J. P. O'Connell, The Properties of Gases and
//	                             Liquids, 5th ed. (2001), app. A, section C, as the open library chemicals holds it
//
// They are constants of fits, not fitted here. The polynomials are good to about
// 1 %, the rest to 0.5 % (own judgement; the tests have what can be compared).
var capacities = [substanceCount - componentCount]idealCapacity{
	ethylene - componentCount: {lowK: 60, c: [5]float64{4}, waves: []vibration{
		{2.49395851, 4.43266896 * 282.35}, {3.0027152, 5.74840149 * 282.35}, {2.5126584, 7.8027825 * 282.35}, {3.99064217, 15.5851154 * 282.35}}},
	propylene - componentCount: {lowK: 60, c: [5]float64{4}, waves: []vibration{{1.544, 324}, {4.013, 973}, {8.923, 1932}, {6.02, 4317}}},
	oneButene - componentCount: {lowK: 60, c: [5]float64{3.9197}, waves: []vibration{{2.9406, 274}, {6.5395, 951}, {14.535, 2127}, {5.8971, 5752}}},
	isobutene - componentCount: {lowK: 60, c: [5]float64{4}, waves: []vibration{{4.8924, 399}, {7.832, 1270}, {7.2867, 2005}, {8.7293, 4017}}},
	propyne - componentCount:   {lowK: 60, c: [5]float64{3.158, 0.01221, 0.00001167, -2.316e-8, 1.002e-11}},
	ammonia - componentCount:   {lowK: 60, c: [5]float64{4}, waves: []vibration{{2.224, 1646}, {3.148, 3965}, {0.9579, 7231}}},
	sulfurHexafluoride - componentCount: {lowK: 60, c: [5]float64{4}, waves: []vibration{
		{3.66118232, 1.617282065 * 318.7232}, {7.87885103, 2.747115139 * 318.7232}, {3.45981679, 4.232907175 * 318.7232}}},
	chlorine - componentCount: {lowK: 60, c: [5]float64{3.5}, waves: []vibration{{1.0256, 800}, {0.067756, 3000}, {0.14068, 8200}}},
	fluorine - componentCount: {lowK: 60, c: [5]float64{3.5011231, 0, 0,
		12 * 5.2985762e-5 / (144.414 * 144.414 * 144.414), -20 * 3.0717001e-6 / (144.414 * 144.414 * 144.414 * 144.414)},
		waves: []vibration{{1.012767, 8.9057501 * 144.414}}},
	sulfurDioxide - componentCount:    {lowK: 60, c: [5]float64{4, 2 * 0.0159272204 / 430.64}, waves: []vibration{{1.0875, 783}, {1.916, 1864}}},
	carbonylSulfide - componentCount:  {lowK: 60, c: [5]float64{3.5}, waves: []vibration{{2.1651, 768}, {0.93456, 1363}, {1.0623, 3175}, {0.34269, 12829}}},
	nitrousOxide - componentCount:     {lowK: 60, c: [5]float64{3.5}, waves: []vibration{{2.1769, 879}, {1.6145, 2372}, {0.48393, 5447}}},
	hydrogenChloride - componentCount: {lowK: 60, c: [5]float64{3.5}, waves: []vibration{{0.0033327, 300}, {0.935243, 4000}, {0.209996, 6300}}},
	neon - componentCount:             {lowK: lowestK, c: [5]float64{2.5}},
	krypton - componentCount:          {lowK: lowestK, c: [5]float64{2.5}},
	xenon - componentCount:            {lowK: lowestK, c: [5]float64{2.5}},
	deuterium - componentCount: {lowK: 60, c: [5]float64{2.5}, waves: []vibration{
		{-3.54145, 7174.1}, {3.0326, 8635}, {-3.52422, 902.7}, {-1.73421, 181.1}, {-3.57135, 438.5}, {2.14858, 5034.2},
		{6.23107, 269.9}, {-3.30425, 229.9}, {6.23098, 666.4}, {-3.57137, 452.8}, {3.32901, 192}, {0.97782, 1187.6}}},
	ethyleneOxide - componentCount: {lowK: 60, c: [5]float64{4}, waves: []vibration{{6.79, 1330}, {4.53, 2170}, {3.68, 4470}}},
	dimethylEther - componentCount: {lowK: 60, c: [5]float64{4.039}, waves: []vibration{{2.641, 361}, {2.123, 974}, {8.992, 1916}, {6.191, 4150}}},
	methanol - componentCount: {lowK: 60, c: [5]float64{3.9007912}, waves: []vibration{
		{10.992677, 2115.01542}, {18.33683, 1676.18569}, {-16.366004, 1935.16717}, {-6.2332348, 1504.97016},
		{2.8035363, 4222.83691}, {1.0778099, 5296.17127}, {0.96965697, 273.36934}}},
	ethanol - componentCount: {lowK: 60, c: [5]float64{4.43069}, waves: []vibration{
		{2.14326, 0.816771 * 514.71}, {5.09206, 2.59175 * 514.71}, {6.60138, 3.80408 * 514.71}, {5.70777, 8.58736 * 514.71}}},
	acetone - componentCount:       {lowK: 60, c: [5]float64{4}, waves: []vibration{{3.7072, 310}, {7.0675, 3480}, {11.012, 1576}}},
	benzene - componentCount:       {lowK: 60, c: [5]float64{3.94645}, waves: []vibration{{7.36374, 4116}, {18.649, 1511}, {4.01834, 630}}},
	toluene - componentCount:       {lowK: 60, c: [5]float64{4}, waves: []vibration{{1.6994, 190}, {8.0577, 797}, {17.059, 1619}, {8.4567, 3072}, {8.6423, 7915}}},
	ethylbenzene - componentCount:  {lowK: 60, c: [5]float64{5.2557889}, waves: []vibration{{9.7329909, 585}, {11.201832, 4420}, {25.440749, 1673}}},
	orthoXylene - componentCount:   {lowK: 60, c: [5]float64{3.748798}, waves: []vibration{{4.754892, 225}, {6.915052, 627}, {25.84813, 1726}, {10.93886, 4941}}},
	metaXylene - componentCount:    {lowK: 60, c: [5]float64{2.169909}, waves: []vibration{{4.44312, 160}, {2.862794, 190}, {24.83298, 1333}, {16.26077, 3496}}},
	paraXylene - componentCount:    {lowK: 60, c: [5]float64{5.2430504}, waves: []vibration{{5.2291378, 414}, {19.549862, 1256}, {16.656178, 2649}, {5.9390291, 6681}}},
	cyclohexane - componentCount:   {lowK: 60, c: [5]float64{4}, waves: []vibration{{0.83775, 773}, {16.036, 941}, {24.636, 2185}, {7.1715, 4495}}},
	vinylChloride - componentCount: {lowK: 60, c: [5]float64{4}, waves: []vibration{{4.51, 923}, {4.45, 1907}, {3.04, 4400}}},
	methylChloride - componentCount: {lowK: 60, c: [5]float64{3.92518, 2 * 0.060842 / 416.3, 6 * 0.11525 / (416.3 * 416.3), -12 * 0.010843 / (416.3 * 416.3 * 416.3)},
		waves: []vibration{{3.764997, 3.7101 * 416.3}}},
	r134a - componentCount:           {lowK: 60, c: [5]float64{-0.629789}, roots: [2]float64{0.75 * 9.723916 / sqrt37418, 1.3125 * 3.92717 / (sqrt37418 * sqrtSqrt37418)}},
	r14 - componentCount:             {lowK: 60, c: [5]float64{2.643, 0.015383, 0.0000085, -2.94e-8, 1.469e-11}},
	acetylene - componentCount:       {lowK: 60, c: [5]float64{2.41, 0.010926, -0.00000255, -7.9e-9, 5.24e-12}},
	butadiene - componentCount:       {lowK: 60, c: [5]float64{3.607, 0.005085, 0.00008253, -1.2371e-7, 5.321e-11}},
	nitricOxide - componentCount:     {lowK: 60, c: [5]float64{4.534, -0.007644, 0.00002066, -2.156e-8, 8.06e-12}},
	nitrogenDioxide - componentCount: {lowK: 60, c: [5]float64{4}, waves: waves(1319.8, 749.6, 1616.8)},
	hydrogenCyanide - componentCount: {lowK: 60, c: [5]float64{3.5}, waves: waves(2096.7, 713.5, 713.5, 3311.5)},
	carbonDisulfide - componentCount: {lowK: 60, c: [5]float64{3.5}, waves: waves(658, 396.7, 396.7, 1535.4)},
	silane - componentCount:          {lowK: 60, c: [5]float64{4}, waves: waves(2186, 971, 971, 2189, 2189, 2189, 913, 913, 913)},
	phosphine - componentCount:       {lowK: 60, c: [5]float64{4}, waves: waves(2321, 992, 2327, 2327, 1118, 1118)},
	methanethiol - componentCount:    {lowK: 60, c: [5]float64{4.119, 0.001313, 0.00002591, -3.212e-8, 1.208e-11}},
	formaldehyde - componentCount:    {lowK: 200, c: [5]float64{4.79372315, -9.90833369e-3, 3.73220008e-5, -3.79285261e-8, 1.31772652e-11}},
	styrene - componentCount:         {lowK: 200, c: [5]float64{1.18175769, 0.0334876025, 6.92366253e-5, -1.24490419e-7, 5.49384735e-11}},
}

// Roots of R134a's reducing temperature, 374.18 K.
const (
	sqrt37418     = 19.343732835210478
	sqrtSqrt37418 = 4.398151070075979
)

// waves makes vibrations of weight 1 from wave numbers [1/cm].
func waves(perCm ...float64) []vibration {
	const second = 1.438777 // h c/k [cm K]
	list := make([]vibration, len(perCm))
	for i, n := range perCm {
		list[i] = vibration{1, second * n}
	}
	return list
}
