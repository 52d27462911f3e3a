package fluid

// gasViscosities says how the viscosity [Pa s] of each substance at vanishing
// density is found, over which temperatures, and how well it is known.
//
//	dippr102      D. W. Green, R. H. Perry, Perry's Chemical Engineers' Handbook,
//	              8th ed., table 2-312
//	polynomial    VDI Heat Atlas, 2nd ed., chapter D3.1
//	lennardJones  B. E. Poling, J. M. Prausnitz, J. P. O'Connell, The Properties of
//	              Gases and Liquids, 5th ed., appendix B: sigma [angstrom], eps/k [K]
//	chung         T. H. Chung et al., Ind. Eng. Chem. Res. 27 (1988) 671-679
//	ownFormula    the reference correlation of the substance, see dilute.go
//
// The coefficients were read from the open library chemicals. Where there are
// reference values the method nearest to them was taken, and the error covers them.
// Elsewhere the error is our judgement from how far table and Chung's theory lie
// apart. The pentanes to decane follow Chung, for the handbook's n-hexane lies 4 %
// above the reference correlation and Chung's 0.7 %; so does 1,3-butadiene, between
// two handbook values 13 % apart. Hydrogen cyanide and nitrogen dioxide (a reacting
// mixture) are hardly known. The handbook's hydrogen cyanide is a third of what
// molecules of its size can have, and is not used.
var gasViscosities = [substanceCount]curve{
	methane:            {dippr102, 90.69, 1000, [5]float64{5.2546e-7, 0.59006, 105.67, 0}, 0.012},
	nitrogen:           {ownFormula, 60, 2000, [5]float64{}, 0.01},
	carbonDioxide:      {ownFormula, 200, 1500, [5]float64{}, 0.01},
	ethane:             {dippr102, 90.35, 1000, [5]float64{2.5906e-7, 0.67988, 98.902, 0}, 0.012},
	propane:            {ownFormula, 200, 700, [5]float64{}, 0.02},
	isobutane:          {dippr102, 150, 1000, [5]float64{1.0871e-7, 0.78135, 70.639, 0}, 0.03},
	nButane:            {ownFormula, 200, 700, [5]float64{}, 0.015},
	isopentane:         {chung, 110, 1000, [5]float64{}, 0.04},
	nPentane:           {chung, 112, 1000, [5]float64{}, 0.04},
	nHexane:            {chung, 121, 1000, [5]float64{}, 0.025},
	nHeptane:           {chung, 129, 1000, [5]float64{}, 0.04},
	nOctane:            {chung, 135, 1000, [5]float64{}, 0.06},
	nNonane:            {chung, 142, 1000, [5]float64{}, 0.06},
	nDecane:            {chung, 147, 1000, [5]float64{}, 0.06},
	hydrogen:           {ownFormula, 20, 1000, [5]float64{}, 0.005},
	oxygen:             {ownFormula, 60, 2000, [5]float64{}, 0.01},
	carbonMonoxide:     {dippr102, 68.15, 1250, [5]float64{1.1127e-6, 0.5338, 94.7, 0}, 0.01},
	water:              {ownFormula, 250, 1173, [5]float64{}, 0.02},
	hydrogenSulfide:    {ownFormula, 190, 600, [5]float64{}, 0.025},
	helium:             {dippr102, 20, 2000, [5]float64{3.253e-7, 0.7162, -9.6, 107}, 0.01},
	argon:              {ownFormula, 60, 2000, [5]float64{}, 0.01},
	ethylene:           {dippr102, 169.41, 1000, [5]float64{2.0789e-6, 0.4163, 352.7, 0}, 0.02},
	propylene:          {dippr102, 87.89, 1000, [5]float64{7.3919e-7, 0.5423, 263.73, 0}, 0.03},
	oneButene:          {dippr102, 87.8, 1000, [5]float64{6.9744e-7, 0.5462, 305.25, 0}, 0.05},
	isobutene:          {dippr102, 132.81, 1000, [5]float64{9.0981e-7, 0.49288, 260.08, 0}, 0.06},
	propyne:            {dippr102, 170.45, 800, [5]float64{1.163e-6, 0.4787, 316, 0}, 0.04},
	ammonia:            {ownFormula, 196, 680, [5]float64{}, 0.025},
	sulfurHexafluoride: {ownFormula, 222, 1000, [5]float64{}, 0.01},
	chlorine:           {dippr102, 200, 1000, [5]float64{2.6e-7, 0.7423, 98.3, 0}, 0.03},
	fluorine:           {dippr102, 53.48, 1000, [5]float64{6.36e-7, 0.6638, 61.6, 0}, 0.04},
	sulfurDioxide:      {dippr102, 197.67, 1000, [5]float64{6.863e-7, 0.6112, 217, 0}, 0.03},
	carbonylSulfide:    {polynomial, 170, 1000, [5]float64{-1.0565e-6, 4.941e-8, -9.608e-12, 0, 0}, 0.04},
	nitrousOxide:       {dippr102, 182.3, 1000, [5]float64{2.115e-6, 0.4642, 305.7, 0}, 0.03},
	hydrogenChloride:   {dippr102, 200, 1000, [5]float64{4.924e-7, 0.6702, 157.7, 0}, 0.03},
	neon:               {dippr102, 30, 3273.1, [5]float64{7.19e-7, 0.6659, 5.3, 0}, 0.015},
	krypton:            {polynomial, 120, 1000, [5]float64{-7.92e-7, 1.02624e-7, -5.5428e-11, 2.187e-14, -3.69e-18}, 0.01},
	xenon:              {polynomial, 165, 1000, [5]float64{-2.3692e-6, 9.8454e-8, -4.8314e-11, 1.953e-14, -3.42e-18}, 0.015},
	deuterium:          {dippr102, 60, 480, [5]float64{2.4999e-7, 0.6878, 0.5962, 0}, 0.02},
	ethyleneOxide:      {dippr102, 160.65, 1000, [5]float64{4.3403e-8, 0.94806, 0, 0}, 0.05},
	dimethylEther:      {dippr102, 131.65, 1000, [5]float64{2.68e-6, 0.3975, 534, 0}, 0.04},
	methanol:           {dippr102, 240, 1000, [5]float64{3.0663e-7, 0.69655, 205, 0}, 0.03},
	ethanol:            {dippr102, 200, 1000, [5]float64{1.0613e-7, 0.8066, 52.7, 0}, 0.05},
	acetone:            {dippr102, 178.45, 1000, [5]float64{3.1005e-8, 0.9762, 23.139, 0}, 0.06},
	benzene:            {dippr102, 278.68, 1000, [5]float64{3.134e-8, 0.9676, 7.9, 0}, 0.025},
	toluene:            {dippr102, 178.18, 1000, [5]float64{8.7268e-7, 0.49397, 323.79, 0}, 0.025},
	ethylbenzene:       {dippr102, 178.2, 1000, [5]float64{4.2231e-7, 0.58154, 239.21, 0}, 0.05},
	orthoXylene:        {dippr102, 247.98, 1000, [5]float64{8.3436e-7, 0.49713, 365.86, 0}, 0.05},
	metaXylene:         {dippr102, 225.3, 1000, [5]float64{6.8293e-7, 0.52199, 324.17, 0}, 0.05},
	paraXylene:         {dippr102, 286.41, 1000, [5]float64{9.3485e-7, 0.47683, 371.96, 0}, 0.05},
	cyclohexane:        {dippr102, 279.69, 900, [5]float64{6.77e-8, 0.8367, 36.7, 0}, 0.05},
	vinylChloride:      {dippr102, 119.36, 1000, [5]float64{2.379e-7, 0.71517, 102.84, 0}, 0.05},
	methylChloride:     {dippr102, 230, 700, [5]float64{8.6e-8, 0.8706, 35.8, 0}, 0.04},
	r134a:              {ownFormula, 200, 455, [5]float64{}, 0.015},
	r14:                {dippr102, 89.56, 1000, [5]float64{2.1709e-6, 0.45853, 208, 0}, 0.03},
	acetylene:          {dippr102, 192.4, 600, [5]float64{1.2025e-6, 0.4952, 291.4, 0}, 0.03},
	butadiene:          {chung, 101, 1000, [5]float64{}, 0.08},
	nitricOxide:        {dippr102, 110, 1500, [5]float64{1.467e-6, 0.5123, 125.4, 0}, 0.03},
	nitrogenDioxide:    {polynomial, 290, 600, [5]float64{-2.28505e-5, 1.75834e-7, -2.29768e-10, 1.7134e-13, -4.92e-17}, 0.2},
	hydrogenCyanide:    {lennardJones, 171, 1500, [5]float64{3.63, 569.1}, 0.25},
	carbonDisulfide:    {dippr102, 161.11, 800, [5]float64{5.8204e-8, 0.9262, 44.581, 0}, 0.05},
	silane:             {lennardJones, 62, 1500, [5]float64{4.084, 207.6}, 0.05},
	phosphine:          {lennardJones, 75, 1500, [5]float64{3.981, 251.5}, 0.06},
	methanethiol:       {dippr102, 150.18, 1000, [5]float64{1.637e-7, 0.76706, 107.97, 0}, 0.05},
	formaldehyde:       {dippr102, 181.15, 1000, [5]float64{4.758e-7, 0.6405, 161.7, 0}, 0.08},
	styrene:            {dippr102, 242.54, 1000, [5]float64{6.3863e-7, 0.5254, 295.1, 0}, 0.06},
}
