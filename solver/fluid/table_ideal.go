package fluid

// idealCapacity is the heat capacity of the ideal gas of one substance,
//
//	cp0/R = c0 + c1 T + c2 T^2 + c3 T^3 + c4 T^4 + sum v (theta/T)^2 e^(theta/T) / (e^(theta/T) - 1)^2
//
// the sum running over its waves, with theta in K.
type idealCapacity struct {
	lowK  float64 // the constants hold from here [K] to 1000 K
	c     [5]float64
	waves []vibration
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
//	                             ethylbenzene and xylenes Zhou 2012, methyl chloride Thorade
//	whole weights                harmonic vibrations with the fundamentals of T. Shimanouchi, NSRDS-NBS 39 (1972),
//	                             and of handbooks, from memory: vinyl chloride, nitrogen dioxide, hydrogen cyanide,
//	                             carbon disulfide, silane, phosphine. The wave numbers are in 1/cm
//	formaldehyde, styrene        B. J. McBride, S. Gordon, M. A. Reno, NASA TM-4513 (1993)
//	other polynomials            B. E. Poling, J. M. Prausnitz, J. P. O'Connell, The Properties of Gases and
//	                             Liquids, 5th ed. (2001), app. A, section C, as the open library chemicals holds it
//
// They are constants of fits, not fitted here. The polynomials are good to about
// 1 %, the rest to 0.5 % (own judgement; the tests have what can be compared).
var capacities = [substanceCount - componentCount]idealCapacity{
	ethylene - componentCount: {60, [5]float64{4}, []vibration{
		{2.49395851, 4.43266896 * 282.35}, {3.0027152, 5.74840149 * 282.35}, {2.5126584, 7.8027825 * 282.35}, {3.99064217, 15.5851154 * 282.35}}},
	propylene - componentCount: {60, [5]float64{4}, []vibration{{1.544, 324}, {4.013, 973}, {8.923, 1932}, {6.02, 4317}}},
	oneButene - componentCount: {60, [5]float64{3.9197}, []vibration{{2.9406, 274}, {6.5395, 951}, {14.535, 2127}, {5.8971, 5752}}},
	isobutene - componentCount: {60, [5]float64{3.231, 0.020949, 0.00002313, -3.949e-8, 1.566e-11}, nil},
	propyne - componentCount:   {60, [5]float64{3.158, 0.01221, 0.00001167, -2.316e-8, 1.002e-11}, nil},
	ammonia - componentCount:   {60, [5]float64{4}, []vibration{{2.224, 1646}, {3.148, 3965}, {0.9579, 7231}}},
	sulfurHexafluoride - componentCount: {60, [5]float64{4}, []vibration{
		{3.66118232, 1.617282065 * 318.7232}, {7.87885103, 2.747115139 * 318.7232}, {3.45981679, 4.232907175 * 318.7232}}},
	chlorine - componentCount: {60, [5]float64{3.056, 0.0053708, -0.000008098, 5.693e-9, -1.5256e-12}, nil},
	fluorine - componentCount: {60, [5]float64{3.5011231, 0, 0,
		12 * 5.2985762e-5 / (144.414 * 144.414 * 144.414), -20 * 3.0717001e-6 / (144.414 * 144.414 * 144.414 * 144.414)},
		[]vibration{{1.012767, 8.9057501 * 144.414}}},
	sulfurDioxide - componentCount:    {60, [5]float64{4, 2 * 0.0159272204 / 430.64}, []vibration{{1.0875, 783}, {1.916, 1864}}},
	carbonylSulfide - componentCount:  {60, [5]float64{3.5}, []vibration{{2.1651, 768}, {0.93456, 1363}, {1.0623, 3175}, {0.34269, 12829}}},
	nitrousOxide - componentCount:     {60, [5]float64{3.5}, []vibration{{2.1769, 879}, {1.6145, 2372}, {0.48393, 5447}}},
	hydrogenChloride - componentCount: {60, [5]float64{3.827, -0.002936, 0.00000879, -1.031e-8, 4.39e-12}, nil},
	neon - componentCount:             {lowestK, [5]float64{2.5}, nil},
	krypton - componentCount:          {lowestK, [5]float64{2.5}, nil},
	xenon - componentCount:            {lowestK, [5]float64{2.5}, nil},
	deuterium - componentCount:        {60, [5]float64{3.59, -0.000462, 5.7e-7, 3.6e-10, -2.6e-13}, nil},
	ethyleneOxide - componentCount:    {60, [5]float64{4}, []vibration{{6.79, 1330}, {4.53, 2170}, {3.68, 4470}}},
	dimethylEther - componentCount:    {60, [5]float64{4.039}, []vibration{{2.641, 361}, {2.123, 974}, {8.992, 1916}, {6.191, 4150}}},
	methanol - componentCount:         {60, [5]float64{4.714, -0.006986, 0.00004211, -4.443e-8, 1.535e-11}, nil},
	ethanol - componentCount: {60, [5]float64{4.43069}, []vibration{
		{2.14326, 0.816771 * 514.71}, {5.09206, 2.59175 * 514.71}, {6.60138, 3.80408 * 514.71}, {5.70777, 8.58736 * 514.71}}},
	acetone - componentCount:       {60, [5]float64{4}, []vibration{{3.7072, 310}, {7.0675, 3480}, {11.012, 1576}}},
	benzene - componentCount:       {60, [5]float64{3.94645}, []vibration{{7.36374, 4116}, {18.649, 1511}, {4.01834, 630}}},
	toluene - componentCount:       {60, [5]float64{4}, []vibration{{1.6994, 190}, {8.0577, 797}, {17.059, 1619}, {8.4567, 3072}, {8.6423, 7915}}},
	ethylbenzene - componentCount:  {60, [5]float64{5.2557889}, []vibration{{9.7329909, 585}, {11.201832, 4420}, {25.440749, 1673}}},
	orthoXylene - componentCount:   {60, [5]float64{3.748798}, []vibration{{4.754892, 225}, {6.915052, 627}, {25.84813, 1726}, {10.93886, 4941}}},
	metaXylene - componentCount:    {60, [5]float64{2.169909}, []vibration{{4.44312, 160}, {2.862794, 190}, {24.83298, 1333}, {16.26077, 3496}}},
	paraXylene - componentCount:    {60, [5]float64{5.2430504}, []vibration{{5.2291378, 414}, {19.549862, 1256}, {16.656178, 2649}, {5.9390291, 6681}}},
	cyclohexane - componentCount:   {100, [5]float64{4.035, -0.004433, 0.00016834, -2.0775e-7, 7.746e-11}, nil},
	vinylChloride - componentCount: {60, [5]float64{4}, waves(3121, 3086, 3030, 1608, 1369, 1279, 1030, 941, 896, 720, 620, 395)},
	methylChloride - componentCount: {60, [5]float64{3.92518, 2 * 0.060842 / 416.3, 6 * 0.11525 / (416.3 * 416.3), -12 * 0.010843 / (416.3 * 416.3 * 416.3)},
		[]vibration{{3.764997, 3.7101 * 416.3}}},
	r134a - componentCount:           {60, [5]float64{3.064, 0.02542, 0.00000586, -3.339e-8, 1.716e-11}, nil},
	r14 - componentCount:             {60, [5]float64{2.643, 0.015383, 0.0000085, -2.94e-8, 1.469e-11}, nil},
	acetylene - componentCount:       {60, [5]float64{2.41, 0.010926, -0.00000255, -7.9e-9, 5.24e-12}, nil},
	butadiene - componentCount:       {60, [5]float64{3.607, 0.005085, 0.00008253, -1.2371e-7, 5.321e-11}, nil},
	nitricOxide - componentCount:     {60, [5]float64{4.534, -0.007644, 0.00002066, -2.156e-8, 8.06e-12}, nil},
	nitrogenDioxide - componentCount: {60, [5]float64{4}, waves(1319.8, 749.6, 1616.8)},
	hydrogenCyanide - componentCount: {60, [5]float64{3.5}, waves(2096.7, 713.5, 713.5, 3311.5)},
	carbonDisulfide - componentCount: {60, [5]float64{3.5}, waves(658, 396.7, 396.7, 1535.4)},
	silane - componentCount:          {60, [5]float64{4}, waves(2186, 971, 971, 2189, 2189, 2189, 913, 913, 913)},
	phosphine - componentCount:       {60, [5]float64{4}, waves(2321, 992, 2327, 2327, 1118, 1118)},
	methanethiol - componentCount:    {60, [5]float64{4.119, 0.001313, 0.00002591, -3.212e-8, 1.208e-11}, nil},
	formaldehyde - componentCount:    {200, [5]float64{4.79372315, -9.90833369e-3, 3.73220008e-5, -3.79285261e-8, 1.31772652e-11}, nil},
	styrene - componentCount:         {200, [5]float64{1.18175769, 0.0334876025, 6.92366253e-5, -1.24490419e-7, 5.49384735e-11}, nil},
}

// waves makes vibrations of weight 1 from wave numbers [1/cm].
func waves(perCm ...float64) []vibration {
	const second = 1.438777 // h c/k [cm K]
	list := make([]vibration, len(perCm))
	for i, n := range perCm {
		list[i] = vibration{1, second * n}
	}
	return list
}
