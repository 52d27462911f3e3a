package fluid

// The functional forms that several substances share, {0, t, d, c}: R. Span, W. Wagner,
// Int. J. Thermophys. 24 (2003) 1-39 for nonpolar and polar substances, and E. W.
// Lemmon, E. C. Ihmels, Fluid Phase Equilib. 228-229 (2005) 173-187 for the butenes.
var (
	nonpolar = [12]pureTerm{
		{0, 0.25, 1, 0}, {0, 1.125, 1, 0}, {0, 1.5, 1, 0}, {0, 1.375, 2, 0}, {0, 0.25, 3, 0}, {0, 0.875, 7, 0},
		{0, 0.625, 2, 1}, {0, 1.75, 5, 1}, {0, 3.625, 1, 2}, {0, 3.625, 4, 2}, {0, 14.5, 3, 3}, {0, 12, 4, 3},
	}
	polar = [12]pureTerm{
		{0, 0.25, 1, 0}, {0, 1.25, 1, 0}, {0, 1.5, 1, 0}, {0, 0.25, 3, 0}, {0, 0.875, 7, 0}, {0, 2.375, 1, 1},
		{0, 2, 2, 1}, {0, 2.125, 5, 1}, {0, 3.5, 1, 2}, {0, 6.5, 1, 2}, {0, 4.75, 4, 2}, {0, 12.5, 2, 3},
	}
	butenes = [12]pureTerm{
		{0, 0.12, 1, 0}, {0, 1.3, 1, 0}, {0, 1.74, 1, 0}, {0, 2.1, 2, 0}, {0, 0.28, 3, 0}, {0, 0.69, 7, 0},
		{0, 0.75, 2, 1}, {0, 2, 5, 1}, {0, 4.4, 1, 2}, {0, 4.7, 4, 2}, {0, 15, 3, 3}, {0, 14, 4, 3},
	}
)

// multiparameterShort are the equations in those forms.
var multiparameterShort = [substanceCount]*multiparameter{
	oneButene: {
		source:  "E. W. Lemmon and E. C. Ihmels, Fluid Phase Equilib. 228 (2005) 173",
		density: 0.005, liquid: 0.002,
		tR: 419.29, rhoR: 4240, gasR: 8.314472,
		lowK: 87.8, highK: 525, highPa: 50e6,
		form: &butenes, n: []float64{0.78084, -2.8258, 0.99403, 0.017951, 0.088889, 0.00024673, 0.22846, -0.074009, -0.22913, -0.062334, -0.025385, 0.01104},
	},
	isobutene: {
		source:  "E. W. Lemmon and E. C. Ihmels, Fluid Phase Equilib. 228 (2005) 173",
		density: 0.005, liquid: 0.002,
		tR: 418.09, rhoR: 4170, gasR: 8.314472,
		lowK: 132.4, highK: 550, highPa: 50e6,
		form: &butenes, n: []float64{0.77111, -2.7971, 1.0118, 0.02073, 0.085086, 0.00021968, 0.20633, -0.078843, -0.23726, -0.080211, -0.027001, 0.013072},
	},
	carbonylSulfide: {
		source:  "E. W. Lemmon and R. Span, J. Chem. Eng. Data 51 (2006) 785",
		density: 0.005, liquid: 0.002,
		tR: 378.77, rhoR: 7410, gasR: 8.314472,
		lowK: 134.3, highK: 650, highPa: 50e6,
		form: &nonpolar, n: []float64{0.94374, -2.5348, 0.59058, -0.021488, 0.082083, 0.00024689, 0.21226, -0.041251, -0.22333, -0.050828, -0.028333, 0.016983},
	},
	nitrousOxide: {
		source:  "E. W. Lemmon and R. Span, J. Chem. Eng. Data 51 (2006) 785",
		density: 0.0025, liquid: 0.002,
		tR: 309.52, rhoR: 10270, gasR: 8.314472,
		lowK: 182.33, highK: 525, highPa: 50e6,
		form: &polar, n: []float64{0.88045, -2.4235, 0.38237, 0.068917, 0.00020367, 0.13122, 0.46032, -0.0036985, -0.23263, -0.00042859, -0.04281, -0.023038},
	},
	krypton: {
		source:  "E. W. Lemmon and R. Span, J. Chem. Eng. Data 51 (2006) 785",
		density: 0.002, liquid: 0.002,
		tR: 209.48, rhoR: 10850, gasR: 8.314472,
		lowK: 115.775, highK: 750, highPa: 200e6,
		form: &nonpolar, n: []float64{0.83561, -2.3725, 0.54567, 0.014361, 0.066502, 0.0001931, 0.16818, -0.033133, -0.15008, -0.022897, -0.021454, 0.0069397},
	},
	xenon: {
		source:  "E. W. Lemmon and R. Span, J. Chem. Eng. Data 51 (2006) 785",
		density: 0.002, liquid: 0.002,
		tR: 289.733, rhoR: 8400, gasR: 8.314472,
		lowK: 161.405, highK: 750, highPa: 700e6,
		form: &nonpolar, n: []float64{0.83115, -2.3553, 0.53904, 0.014382, 0.066309, 0.00019649, 0.14996, -0.035319, -0.15929, -0.027521, -0.023305, 0.0086941},
	},
	acetone: {
		source:  "E. W. Lemmon and R. Span, J. Chem. Eng. Data 51 (2006) 785",
		density: 0.005, liquid: 0.002,
		tR: 508.1, rhoR: 4700, gasR: 8.314472,
		lowK: 178.5, highK: 550, highPa: 700e6,
		form: &polar, n: []float64{0.90041, -2.1267, -0.083409, 0.065683, 0.00016527, -0.039663, 0.72085, 0.0092318, -0.17217, -0.14961, -0.076124, -0.018166},
	},
	toluene: {
		source:  "E. W. Lemmon and R. Span, J. Chem. Eng. Data 51 (2006) 785",
		density: 0.005, liquid: 0.001,
		tR: 591.75, rhoR: 3169, gasR: 8.314472,
		lowK: 178, highK: 700, highPa: 500e6,
		form: &nonpolar, n: []float64{0.96464, -2.7855, 0.86712, -0.1886, 0.11804, 0.00025181, 0.57196, -0.029287, -0.43351, -0.1254, -0.028207, 0.014076},
	},
}
