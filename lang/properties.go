package lang

// A Property is one value that `tapline fluid` prints of a state. The table
// names it in JSON and CSV, where it is in SI, and in text.
type Property struct {
	Key     string // in JSON and CSV
	Label   string // in text; "" where the text shows it elsewhere
	Unit    string // in text
	PerSI   float64
	Places  int    // significant digits in text
	Help    string // meaning and SI unit
	Kelvin  bool   // in text a temperature in degC
	Liquids bool   // of liquids only
	Gases   bool   // of gases only
}

// Properties lists what is printed of a state, in order.
func Properties() []Property {
	return []Property{
		{Key: "z", Label: "Z", PerSI: 1, Places: 6, Help: "compressibility factor p/(rho R T)"},
		{Key: "density_kg_m3", Label: "density", Unit: "kg/m3", PerSI: 1, Places: 6, Help: "mass density [kg/m3]"},
		{Key: "density_mol_m3", Help: "molar density [mol/m3]"},
		{Key: "gamma_ideal", Label: "gamma", PerSI: 1, Places: 5, Gases: true, Help: "cp/cv of the ideal gas at this temperature"},
		{Key: "kappa", Label: "kappa", PerSI: 1, Places: 5, Help: "isentropic exponent (rho/p) (dp/drho) at constant entropy"},
		{Key: "sound_m_s", Label: "speed of sound", Unit: "m/s", PerSI: 1, Places: 5, Help: "speed of sound [m/s]"},
		{Key: "joule_thomson_K_Pa", Label: "Joule-Thomson", Unit: "K/bar", PerSI: 1e5, Places: 4, Help: "Joule-Thomson coefficient, dT/dp at constant enthalpy [K/Pa]"},
		{Key: "cp_J_kg_K", Label: "cp", Unit: "kJ/(kg K)", PerSI: 1e-3, Places: 5, Help: "heat capacity at constant pressure [J/(kg K)]"},
		{Key: "cv_J_kg_K", Label: "cv", Unit: "kJ/(kg K)", PerSI: 1e-3, Places: 5, Help: "heat capacity at constant volume [J/(kg K)]"},
		{Key: "enthalpy_J_kg", Label: "h", Unit: "kJ/kg", PerSI: 1e-3, Places: 5, Help: "enthalpy, zero for the ideal gases at 298.15 K [J/kg]"},
		{Key: "entropy_J_kg_K", Label: "s", Unit: "kJ/(kg K)", PerSI: 1e-3, Places: 5, Help: "entropy, zero for the ideal gases at 298.15 K, 101.325 kPa [J/(kg K)]"},
		{Key: "viscosity_Pa_s", Label: "viscosity", Unit: "uPa s", PerSI: 1e6, Places: 4, Help: "dynamic viscosity [Pa s]"},
		{Key: "viscosity_error", Help: "its expected relative error"},
		{Key: "conductivity_W_m_K", Label: "conductivity", Unit: "mW/(m K)", PerSI: 1e3, Places: 4, Help: "thermal conductivity [W/(m K)]"},
		{Key: "conductivity_error", Help: "its expected relative error"},
		{Key: "hydrocarbon_dew_K", Label: "hydrocarbon dew point", Unit: "degC", Kelvin: true, Gases: true, Help: "temperature at which a liquid other than water begins to condense at this pressure [K]"},
		{Key: "cricondenbar_Pa", Label: "cricondenbar", Unit: "bara", PerSI: 1e-5, Places: 4, Gases: true, Help: "highest pressure with a hydrocarbon dew point, or the critical one [Pa, absolute]"},
		{Key: "water_dew_K", Label: "water dew point", Unit: "degC", Kelvin: true, Gases: true, Help: "temperature at which water or ice begins to condense at this pressure [K]"},
		{Key: "dew_margin_K", Label: "dew margin", Unit: "K", PerSI: 1, Places: 4, Gases: true, Help: "temperature less the higher dew point [K]"},
		{Key: "bubble_Pa", Label: "bubble pressure", Unit: "bara", PerSI: 1e-5, Places: 5, Liquids: true, Help: "pressure at which the liquid begins to boil at this temperature [Pa, absolute]"},
	}
}
