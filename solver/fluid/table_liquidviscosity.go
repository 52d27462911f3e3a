package fluid

// liquidViscosities are those of the saturated liquid [Pa s]. Substances without a
// row have none that is known here.
//
//	dippr101     D. W. Green, R. H. Perry, Perry's Chemical Engineers' Handbook, 8th
//	             ed., table 2-313
//	ppds9        VDI Heat Atlas, 2nd ed., chapter D3.1
//	letsouStiel  A. Letsou, L. I. Stiel, AIChE J. 19 (1973) 409-411
//	ownFormula   water, see steam.go
//
// The coefficients were read from the open library chemicals. Where both tables
// have a substance, the range is cut to where they agree within 10 % (ethylene
// 14 %). Exceptions are propylene and isobutane, of which the first table is 15 %
// off at 300 K and the second is taken; and hydrogen sulfide, on which they differ
// by up to 45 %. The last column says that Letsou and Stiel carry on from 0.76 to
// 0.98 of the critical temperature; against the reference values of seven
// hydrocarbons they are within 7 %. The error covers the reference values there are
// and half of what the tables differ by.
var liquidViscosities = [substanceCount]struct {
	curve
	goesOn bool
}{
	methane:            {curve{dippr101, 90.69, 182, [5]float64{-6.1572, 178.15, -0.95239, -9.0606e-24, 10}, 0.06}, false},
	nitrogen:           {curve{dippr101, 63.15, 122, [5]float64{16.004, -181.61, -5.1551, 0, 0}, 0.1}, false},
	carbonDioxide:      {curve{dippr101, 216.58, 296, [5]float64{18.775, -402.92, -4.6854, -6.9171e-26, 10}, 0.09}, false},
	ethane:             {curve{dippr101, 90.35, 214, [5]float64{-7.0046, 276.38, -0.6087, -3.1108e-18, 7}, 0.08}, true},
	propane:            {curve{dippr101, 90, 259, [5]float64{-17.156, 646.25, 1.1101, -7.3439e-11, 4}, 0.06}, true},
	isobutane:          {curve{ppds9, 110, 285, [5]float64{2.79529, 0.37315, 419.63, 28.072, 1.567e-5}, 0.08}, true},
	nButane:            {curve{dippr101, 134.86, 298, [5]float64{-7.2471, 534.82, -0.57469, -4.6625e-27, 10}, 0.06}, true},
	isopentane:         {curve{dippr101, 150, 310, [5]float64{-12.596, 889.11, 0.20469, 0, 0}, 0.08}, true},
	nPentane:           {curve{dippr101, 158, 329, [5]float64{-53.509, 1836.6, 7.1409, -1.9627e-5, 2}, 0.08}, true},
	nHexane:            {curve{dippr101, 174.65, 355, [5]float64{-6.3276, 640, -0.694, 5.6884e21, -10}, 0.08}, true},
	nHeptane:           {curve{dippr101, 193, 379, [5]float64{-9.4622, 877.07, -0.23445, 1.4022e22, -10}, 0.08}, true},
	nOctane:            {curve{dippr101, 227, 398, [5]float64{-7.556, 881.09, -0.52502, 4.6342e22, -10}, 0.08}, true},
	nNonane:            {curve{dippr101, 232, 416, [5]float64{-68.54, 3165.3, 9.0919, -1.3519e-5, 2}, 0.08}, true},
	nDecane:            {curve{dippr101, 246, 432, [5]float64{-9.6489, 1181.1, -0.24367, 9.0522e34, -15}, 0.08}, true},
	hydrogen:           {curve{dippr101, 13.95, 33, [5]float64{-11.661, 24.7, -0.261, -4.1e-16, 10}, 0.15}, false},
	oxygen:             {curve{dippr101, 58, 116, [5]float64{-4.1476, 94.04, -1.207, 0, 0}, 0.06}, false},
	carbonMonoxide:     {curve{dippr101, 68.15, 131.37, [5]float64{-4.9735, 97.67, -1.1088, 0, 0}, 0.08}, false},
	water:              {curve{ownFormula, 273.15, 573.15, [5]float64{}, 0.03}, false},
	hydrogenSulfide:    {curve{dippr101, 187.68, 350, [5]float64{-10.905, 762.11, -0.11863, 0, 0}, 0.3}, false},
	argon:              {curve{dippr101, 83.78, 150, [5]float64{-8.8685, 204.29, -0.38305, -1.2937e-22, 10}, 0.06}, false},
	ethylene:           {curve{dippr101, 104, 198, [5]float64{1.8878, 78.865, -2.1554, 0, 0}, 0.14}, true},
	propylene:          {curve{ppds9, 125, 255, [5]float64{1.41868, 0.31808, 772.733, -16.157, 1.059e-5}, 0.1}, true},
	oneButene:          {curve{dippr101, 134, 294, [5]float64{-10.773, 591.61, 0, 0, 0}, 0.08}, true},
	isobutene:          {curve{dippr101, 132.81, 266.25, [5]float64{-10.385, 599.59, -0.046088, 0, 0}, 0.15}, true},
	propyne:            {curve{dippr101, 170.45, 373.15, [5]float64{-2.8737, 301.35, -1.2271, 0, 0}, 0.12}, false},
	ammonia:            {curve{dippr101, 195.41, 373, [5]float64{-6.743, 598.3, -0.7341, -3.69e-27, 10}, 0.05}, false},
	sulfurHexafluoride: {curve{letsouStiel, 242.2, 312.3, [5]float64{}, 0.3}, false},
	chlorine:           {curve{dippr101, 172.12, 333.72, [5]float64{-9.5412, 456.62, 0, 0, 0}, 0.08}, false},
	fluorine:           {curve{dippr101, 53.48, 140, [5]float64{8.18, -75.6, -3.5148, 0, 0}, 0.08}, false},
	sulfurDioxide:      {curve{dippr101, 225, 400, [5]float64{46.223, -1378, -8.7475, 0, 0}, 0.08}, false},
	carbonylSulfide:    {curve{ppds9, 135, 350, [5]float64{1.09689, 1.29173, 344.677, -34, 8.662e-5}, 0.15}, false},
	nitrousOxide:       {curve{dippr101, 210, 283.09, [5]float64{19.329, -381.68, -4.8618, 0, 0}, 0.08}, false},
	hydrogenChloride:   {curve{dippr101, 216, 318.15, [5]float64{-116.34, 3834.6, 16.864, -2.5875e-10, 4}, 0.08}, false},
	neon:               {curve{dippr101, 25.09, 44.13, [5]float64{-17.945, 115.57, 1.428, -2.14e-17, 10}, 0.15}, false},
	krypton:            {curve{ppds9, 116, 200, [5]float64{1.20479, 0.6058, 216.325, 2.278, 8.756e-5}, 0.15}, false},
	xenon:              {curve{ppds9, 170, 280, [5]float64{0.55314, -37.8285, 164.8, -1106.94, 0.00050739}, 0.15}, false},
	ethyleneOxide:      {curve{dippr101, 160.65, 283.85, [5]float64{-8.521, 634.2, -0.3314, 0, 0}, 0.08}, false},
	dimethylEther:      {curve{dippr101, 131.65, 248.31, [5]float64{-10.62, 448.99, 8.3967e-5, 0, 0}, 0.08}, false},
	methanol:           {curve{dippr101, 175.47, 337.85, [5]float64{-25.317, 1789.2, 2.069, 0, 0}, 0.05}, false},
	ethanol:            {curve{dippr101, 200, 440, [5]float64{7.875, 781.98, -3.0418, 0, 0}, 0.06}, false},
	acetone:            {curve{dippr101, 190, 329.44, [5]float64{-14.918, 1023.4, 0.5961, 0, 0}, 0.12}, true},
	benzene:            {curve{dippr101, 278.68, 545, [5]float64{7.5117, 294.68, -2.794, 0, 0}, 0.04}, false},
	toluene:            {curve{dippr101, 195, 383.78, [5]float64{-226.08, 6805.7, 37.542, -0.060853, 1}, 0.04}, true},
	ethylbenzene:       {curve{dippr101, 178.2, 413.1, [5]float64{-13.563, 1208.6, 0.377, 0, 0}, 0.08}, true},
	orthoXylene:        {curve{dippr101, 247.98, 418.1, [5]float64{-15.489, 1393.5, 0.63711, 0, 0}, 0.08}, true},
	metaXylene:         {curve{dippr101, 225.3, 413.1, [5]float64{-11.91, 1094.9, 0.13825, 0, 0}, 0.08}, true},
	paraXylene:         {curve{dippr101, 286.41, 413.1, [5]float64{-7.381, 911.7, -0.54152, 0, 0}, 0.08}, true},
	cyclohexane:        {curve{dippr101, 279.69, 418, [5]float64{-33.763, 2497.2, 3.2236, 0, 0}, 0.08}, false},
	vinylChloride:      {curve{dippr101, 130, 400, [5]float64{0.26297, 276.55, -1.7282, 0, 0}, 0.08}, false},
	methylChloride:     {curve{dippr101, 175.43, 379, [5]float64{-25.132, 1381.9, 2.0811, -4.4999e-27, 10}, 0.08}, false},
	r134a:              {curve{letsouStiel, 284.4, 366.7, [5]float64{}, 0.15}, false},
	acetylene:          {curve{dippr101, 193.15, 273.15, [5]float64{6.224, -151.8, -2.6554, 0, 0}, 0.15}, false},
	butadiene:          {curve{dippr101, 250, 400, [5]float64{17.844, -310.2, -4.5058, 0, 0}, 0.08}, false},
	nitricOxide:        {curve{dippr101, 109.5, 180.05, [5]float64{-246.65, 3150.3, 49.98, -0.22541, 1}, 0.08}, false},
	nitrogenDioxide:    {curve{ppds9, 262, 400, [5]float64{6.86768, -0.14884, 423.463, -446.706, 9.19e-6}, 0.15}, false},
	hydrogenCyanide:    {curve{dippr101, 259.83, 298.85, [5]float64{-21.927, 1266.5, 1.5927, 0, 0}, 0.15}, false},
	carbonDisulfide:    {curve{dippr101, 242, 345, [5]float64{-10.306, 703.01, 0, 0, 0}, 0.08}, false},
	silane:             {curve{ppds9, 110, 245, [5]float64{0.61446, 0.39805, 505.03, -16.673, 2.342e-5}, 0.15}, false},
	phosphine:          {curve{letsouStiel, 246.6, 318.0, [5]float64{}, 0.3}, false},
	methanethiol:       {curve{dippr101, 150.18, 279.11, [5]float64{-10.628, 645, 0.025885, 0, 0}, 0.15}, false},
	formaldehyde:       {curve{dippr101, 181.15, 254.05, [5]float64{-11.24, 751.69, -0.024579, 0, 0}, 0.15}, false},
	styrene:            {curve{dippr101, 242.54, 418.31, [5]float64{-22.675, 1758, 1.6701, 0, 0}, 0.08}, true},
}
