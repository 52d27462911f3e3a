package fluid

import "testing"

// The table of substances against the file it was written from
// (testdata/fluid/components.csv), number by number; the molar masses of the
// components of GERG-2008 against that equation's table.
func TestSubstances(t *testing.T) {
	rows := readCSV(t, "components.csv")
	if len(rows) != substanceCount {
		t.Fatalf("%d substances, %d in the table", len(rows), substanceCount)
	}
	for i, r := range rows {
		s := &substances[i]
		if s.name != r["name"] || s.formula != r["formula"] || substanceByName()[s.name] != i {
			t.Fatalf("substance %d is %s %s, want %s %s", i, s.name, s.formula, r["name"], r["formula"])
		}
		if (r["in_gerg2008"] == "yes") != (i < componentCount) {
			t.Errorf("%s is on the wrong side", s.name)
		}
		molarMass := r.num(t, "molar_mass_g_per_mol")
		if i < componentCount {
			molarMass = 1e3 * components[i].molarMass
			near(t, s.name+" molar mass of the file", molarMass, r.num(t, "molar_mass_g_per_mol"), molarMass, 3e-5)
		}
		for _, c := range []struct {
			what      string
			got, want float64
		}{
			{"molar mass", 1e3 * s.molarMass, molarMass},
			{"critical temperature", s.tC, r.num(t, "T_c_K")},
			{"critical pressure", s.pC, 1e3 * r.num(t, "p_c_kPa")},
			{"acentric factor", s.acentric, r.num(t, "acentric_factor")},
			{"critical volume", 1e6 * s.vC, r.num(t, "V_c_cm3_per_mol")},
			{"dipole moment", s.dipoleD, r.num(t, "dipole_debye")},
			{"boiling point", s.boilK, r.num(t, "T_boil_1atm_K")},
		} {
			near(t, s.name+" "+c.what, c.got, c.want, c.want, 1e-15)
		}
		if s.memory != (r["T_c_source"] == "memory") {
			t.Errorf("%s: source of the critical point", s.name)
		}
		// A liquid range exists, save for the three that sublime at one atmosphere.
		switch i {
		case carbonDioxide, sulfurHexafluoride, acetylene:
			if s.boilK >= s.tripleK {
				t.Errorf("%s sublimes at %g K, above its triple point", s.name, s.boilK)
			}
		default:
			if s.tripleK >= s.boilK || s.boilK >= s.tC {
				t.Errorf("%s: triple point %g K, boiling point %g K, critical %g K", s.name, s.tripleK, s.boilK, s.tC)
			}
		}
	}
}
