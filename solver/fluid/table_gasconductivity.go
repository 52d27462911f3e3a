package fluid

// gasConductivities is the same for the thermal conductivity [W/(m K)].
//
//	dippr102    D. W. Green, R. H. Perry, Perry's Chemical Engineers' Handbook, 8th
//	            ed., table 2-314
//	polynomial  VDI Heat Atlas, 2nd ed., chapter D3.1; ammonia: R. Tufeu et al., Ber.
//	            Bunsenges. Phys. Chem. 88 (1984) 422-427; R134a: M. O. McLinden et
//	            al., Int. J. Refrig. 23 (2000) 43-63
//	monatomic   15/4 R/M times viscosity, dilute.go
//	ownFormula  dilute.go
//
// The errors cover the reference values there are and what the tables lie above
// Eucken's relations, which is much for the xylenes, 1,3-butadiene, isobutene, ethylene
// oxide and carbonyl sulfide. Phosphine is Eucken's modified relation with heat
// capacities from memory. Nitrogen dioxide is not known: its equilibrium with the dimer carries heat.
var gasConductivities = [substanceCount]curve{
	methane:            {dippr102, 111.63, 600, [5]float64{8.3983e-6, 1.4268, -49.654, 0}, 0.025},
	nitrogen:           {dippr102, 63.15, 2000, [5]float64{0.00033143, 0.7722, 16.323, 373.72}, 0.02},
	carbonDioxide:      {dippr102, 194.67, 1500, [5]float64{3.69, -0.3838, 964, 1.86e6}, 0.04},
	ethane:             {dippr102, 184.55, 1000, [5]float64{7.3869e-5, 1.1689, 500.73, 0}, 0.04},
	propane:            {polynomial, 230, 1000, [5]float64{-0.006656, 5.3e-5, 1.0181e-7, 0, 0}, 0.03},
	isobutane:          {dippr102, 261.43, 1000, [5]float64{0.089772, 0.18501, 639.23, 1.1147e6}, 0.06},
	nButane:            {dippr102, 272.65, 1000, [5]float64{0.051094, 0.45253, 5455.5, 1.9798e6}, 0.045},
	isopentane:         {dippr102, 273.15, 1000, [5]float64{0.0008968, 0.7742, 456, 230640}, 0.06},
	nPentane:           {dippr102, 273.15, 1000, [5]float64{-684.4, 0.764, -1.055e9, 0}, 0.06},
	nHexane:            {dippr102, 339.09, 1000, [5]float64{-650.5, 0.8053, -1.4121e9, 0}, 0.035},
	nHeptane:           {dippr102, 339.15, 1000, [5]float64{-0.070028, 0.38068, -7049.9, -2.4005e6}, 0.06},
	nOctane:            {dippr102, 339, 1000, [5]float64{-8758, 0.8448, -2.7121e10, 0}, 0.06},
	nNonane:            {dippr102, 423.97, 1000, [5]float64{-0.065771, 0.27198, -3482.3, -1.5803e6}, 0.06},
	nDecane:            {dippr102, 447.3, 1000, [5]float64{-668.4, 0.9323, -4.071e9, 0}, 0.06},
	hydrogen:           {ownFormula, 20, 1000, [5]float64{}, 0.035},
	oxygen:             {dippr102, 80, 2000, [5]float64{0.00044994, 0.7456, 56.699, 0}, 0.015},
	carbonMonoxide:     {dippr102, 70, 1500, [5]float64{0.00059882, 0.6863, 57.13, 501.92}, 0.02},
	water:              {ownFormula, 273, 1000, [5]float64{}, 0.03},
	hydrogenSulfide:    {dippr102, 212.8, 600, [5]float64{1.381e-7, 1.8379, -352.09, 46041}, 0.06},
	helium:             {monatomic, 20, 2000, [5]float64{}, 0.02},
	argon:              {monatomic, 60, 2000, [5]float64{}, 0.015},
	ethylene:           {dippr102, 170, 590.92, [5]float64{8.6806e-6, 1.4559, 299.72, -29403}, 0.06},
	propylene:          {dippr102, 225.45, 1000, [5]float64{4.49e-5, 1.2018, 421, 0}, 0.06},
	oneButene:          {dippr102, 266.91, 1000, [5]float64{9.6809e-5, 1.1153, 781.82, 0}, 0.06},
	isobutene:          {dippr102, 266.25, 1000, [5]float64{-488.1, 0.8877, -1.4485e9, 0}, 0.12},
	propyne:            {dippr102, 249.94, 1000, [5]float64{0.00026544, 0.8921, 222.19, 79869}, 0.06},
	ammonia:            {polynomial, 195, 700, [5]float64{0.03589, -0.000175, 4.551e-7, 1.685e-10, -4.828e-13}, 0.03},
	sulfurHexafluoride: {ownFormula, 223, 1000, [5]float64{}, 0.03},
	chlorine:           {dippr102, 200, 1000, [5]float64{0.0009993, 0.5472, 458.6, 0}, 0.06},
	fluorine:           {dippr102, 70, 700, [5]float64{0.00012144, 0.93831, 0, 0}, 0.06},
	sulfurDioxide:      {dippr102, 250, 900, [5]float64{10.527, -0.7732, -1333, 1.5064e6}, 0.06},
	carbonylSulfide:    {polynomial, 220, 1000, [5]float64{-0.004089, 6.2e-5, -4.27e-9, 0, 0}, 0.13},
	nitrousOxide:       {dippr102, 182.3, 1000, [5]float64{0.001096, 0.667, 540, 0}, 0.06},
	hydrogenChloride:   {dippr102, 190, 700, [5]float64{0.001865, 0.49755, 358, 0}, 0.06},
	neon:               {monatomic, 30, 3273.1, [5]float64{}, 0.02},
	krypton:            {monatomic, 120, 1000, [5]float64{}, 0.02},
	xenon:              {monatomic, 165, 1000, [5]float64{}, 0.025},
	deuterium:          {dippr102, 233.15, 1500, [5]float64{0.00028527, 0.9874, -200.51, 21807}, 0.05},
	ethyleneOxide:      {dippr102, 273.15, 1000, [5]float64{-0.0003788, 1.115, -5641, 0}, 0.13},
	dimethylEther:      {dippr102, 248.31, 1500, [5]float64{0.059975, 0.2667, 1018.6, 1.0988e6}, 0.06},
	methanol:           {dippr102, 273, 684.37, [5]float64{5.7992e-7, 1.7862, 0, 0}, 0.04},
	ethanol:            {dippr102, 293.15, 1000, [5]float64{-0.010109, 0.6475, -7332, -268000}, 0.06},
	acetone:            {dippr102, 329.44, 1000, [5]float64{-26.8, 0.9098, -1.265e8, 0}, 0.06},
	benzene:            {dippr102, 339.15, 1000, [5]float64{1.652e-5, 1.3117, 491, 0}, 0.06},
	toluene:            {dippr102, 383.78, 1000, [5]float64{2.392e-5, 1.2694, 537, 0}, 0.1},
	ethylbenzene:       {dippr102, 409.35, 1000, [5]float64{1.7537e-5, 1.3144, 560.65, 0}, 0.1},
	orthoXylene:        {dippr102, 320, 1000, [5]float64{4.9707e-6, 1.3787, -225.64, 66786}, 0.2},
	metaXylene:         {dippr102, 320, 1000, [5]float64{3.0593e-9, 2.4182, -569.28, 121060}, 0.15},
	paraXylene:         {dippr102, 320, 1000, [5]float64{9.9305e-8, 1.9229, -469.93, 113460}, 0.15},
	cyclohexane:        {dippr102, 325, 1000, [5]float64{8.59e-7, 1.7709, 243, 0}, 0.06},
	vinylChloride:      {dippr102, 259.25, 1000, [5]float64{-229.41, 0.59582, -1.6943e8, 0}, 0.06},
	methylChloride:     {dippr102, 213.15, 750, [5]float64{-22136, 0.7666, -4.8749e10, 0}, 0.06},
	r134a:              {polynomial, 240, 455, [5]float64{-0.0105248, 8.00982e-5, 0, 0, 0}, 0.02},
	r14:                {dippr102, 145.1, 1000, [5]float64{9.2004e-5, 1.0164, 270.83, 0}, 0.06},
	acetylene:          {polynomial, 200, 600, [5]float64{-0.00302, 5.9e-5, 7.458e-8, 0, 0}, 0.08},
	butadiene:          {dippr102, 268.74, 1000, [5]float64{-20890, 0.9593, -9.382e10, 0}, 0.16},
	nitricOxide:        {dippr102, 121.38, 750, [5]float64{0.0004096, 0.7509, 45.6, 0}, 0.06},
	nitrogenDioxide:    {polynomial, 290, 600, [5]float64{0.066085, -0.000479, 1.01124e-6, 0, 0}, 1.0},
	hydrogenCyanide:    {dippr102, 273.15, 673.15, [5]float64{4.6496e-6, 1.3669, -210.76, 58295}, 0.15},
	carbonDisulfide:    {dippr102, 273.15, 1000, [5]float64{0.0003467, 0.7345, 479, 0}, 0.06},
	silane:             {polynomial, 200, 1000, [5]float64{-0.001601, 6.2e-5, 7.4888e-8, -2.9302e-11, 3.487e-15}, 0.1},
	phosphine:          {dippr102, 200, 500, [5]float64{1.1e-5, 1.28, 0, 0}, 0.15},
	methanethiol:       {dippr102, 273.15, 1000, [5]float64{2.653e-5, 1.1631, 29.996, 32519}, 0.06},
	formaldehyde:       {dippr102, 254.05, 994.05, [5]float64{44.847, -0.7096, -3493.5, 5.3532e6}, 0.12},
	styrene:            {dippr102, 418.31, 1000, [5]float64{0.010048, 0.4033, 553.74, 685570}, 0.06},
}
