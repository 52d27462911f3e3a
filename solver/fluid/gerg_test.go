package fluid

import (
	"math"
	"testing"
)

// near compares relative to scale.
func near(t *testing.T, what string, got, want, scale, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance*math.Abs(scale)) {
		t.Errorf("%s = %.15g, want %.15g (off %.2g)", what, got, want, (got-want)/scale)
	}
}

// held compares a state with a row of the NIST files, whose molar units are the
// row's. The tolerances are the files' own precision with room for another order
// of summation; enthalpy and entropy pass through zero and are held against R T
// and R.
func held(t *testing.T, m *Mixture, s State, r row, label string, tolerance float64) {
	t.Helper()
	perMol := m.MolarMass()
	tK := r.num(t, "T_K")
	z, cp := r.num(t, "Z"), r.num(t, "cp_J_per_molK")
	near(t, label+" Z", s.Z, z, z, tolerance)
	near(t, label+" cp", s.Cp*perMol, cp, cp, tolerance)
	cv := r.num(t, "cv_J_per_molK")
	near(t, label+" cv", s.Cv*perMol, cv, cv, tolerance)
	near(t, label+" h", s.H*perMol, r.num(t, "h_J_per_mol"), gasConstant*tK, tolerance)
	near(t, label+" s", s.S*perMol, r.num(t, "s_J_per_molK"), gasConstant, tolerance)
	// Joule-Thomson passes through zero too: its natural size is 1/(rho cp).
	scale := 1 / (s.DensityKgM3 * s.Cp)
	near(t, label+" jt", s.JouleThomson, r.num(t, "jt_K_per_kPa")/1e3, scale, tolerance)
	if r["w_m_per_s"] == "" { // unstable states have no speed of sound
		if s.DensityExponent > 0 && s.Z > 0 {
			t.Errorf("%s: slope positive in an unstable state", label)
		}
		return
	}
	w, kappa := r.num(t, "w_m_per_s"), r.num(t, "kappa")
	near(t, label+" w", s.Sound, w, w, tolerance)
	near(t, label+" kappa", s.Kappa, kappa, kappa, tolerance)
}

// testdata/fluid/gerg2008-check.csv: NIST AGA8 program (GERG2008.cpp v2.01).
func TestStatesAgainstNIST(t *testing.T) {
	all := compositions(t, "gerg2008-compositions.csv", "composition")
	for _, r := range readCSV(t, "gerg2008-check.csv") {
		m := all[r["composition"]]
		label := r["composition"] + " " + r["T_K"] + " K " + r["p_kPa"] + " kPa"
		tK, pPa := r.num(t, "T_K"), 1e3*r.num(t, "p_kPa")
		s, err := m.At(tK, pPa)
		if err != nil {
			t.Errorf("%s: %v", label, err)
			continue
		}
		rho := 1e3 * r.num(t, "rho_mol_per_L")
		near(t, label+" rho", s.DensityMol, rho, rho, 1e-11)
		held(t, m, s, r, label, 1e-10)
	}
}

// testdata/fluid/gerg2008-binary-check.csv: the same program, every pair and every
// component, from density; some states are unstable.
func TestPairsAgainstNIST(t *testing.T) {
	for _, r := range readCSV(t, "gerg2008-binary-check.csv") {
		m := pairOf(t, r["components"])
		label := r["components"] + " " + r["T_K"] + " K " + r["rho_mol_per_L"] + " mol/L"
		s := m.Evaluator().atDensity(r.num(t, "T_K"), 1e3*r.num(t, "rho_mol_per_L"))
		p := 1e3 * r.num(t, "p_kPa")
		near(t, label+" p", s.PressurePa, p, p, 1e-10)
		slope := r.num(t, "dp_drho_kPa_L_per_mol")
		near(t, label+" dp/drho", s.PressurePa/(s.DensityMol*s.DensityExponent), slope, slope, 1e-10)
		held(t, m, s, r, label, 1e-10)
	}
}
