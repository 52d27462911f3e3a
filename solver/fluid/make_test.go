package fluid

import (
	"math"
	"strings"
	"testing"
)

// Spellings of the trade; common practice.
func TestName(t *testing.T) {
	for name, spellings := range map[string]string{
		"methane":             "CH4 ch4 C1 c-1 methane Methane METHANE R50",
		"n_butane":            "nC4 NC4 n-butane n_butane N-Butane nbutane butane R600",
		"isobutane":           "iC4 i-C4 isobutane iso-butane i-butane R600a",
		"carbon_dioxide":      "CO2 CO₂ co2 carbon_dioxide carbon-dioxide CarbonDioxide R744",
		"carbon_monoxide":     "CO carbon-monoxide",
		"sulfur_hexafluoride": "SF6 sulphur-hexafluoride sulfur_hexafluoride SF₆",
		"r134a":               "R134a R-134a HFC-134a r134A",
		"r14":                 "R14 CF4 carbon-tetrafluoride",
		"1_3_butadiene":       "1,3-butadiene butadiene 1_3_butadiene",
		"1_butene":            "1-butene butene-1",
		"ethylene":            "C2H4 ethene ethylene C2=",
		"propylene":           "propene C3H6 c3=",
		"ammonia":             "NH3 R717 Ammonia",
		"hydrogen_sulfide":    "H2S hydrogen-sulphide",
		"water":               "H2O moisture steam",
		"nitric_oxide":        "NO nitric-oxide",
		"nitrogen_dioxide":    "NO2",
		"o_xylene":            "o-xylene ortho-xylene",
		"methanethiol":        "methyl-mercaptan CH3SH",
		"n_hexane":            "C6 nC6 hexane C6H14",
	} {
		for _, s := range strings.Fields(spellings) {
			if got, ok := Name(s); !ok || got != name {
				t.Errorf("%s: %q %v, want %s", s, got, ok, name)
			}
		}
	}
	for _, s := range []string{"carbon dioxide", " n butane ", "sulfur hexa fluoride"} {
		if _, ok := Name(s); !ok {
			t.Errorf("%q is not known", s)
		}
	}
	// Formulas that several share name none; nor does what is no component.
	for _, s := range []string{"", "_", "C8H10", "C4H10", "C4H8", "C2H6O", "air", "natural gas", "C11", "CH", strings.Repeat("methane", 1e5)} {
		if got, ok := Name(s); ok {
			t.Errorf("%.20q: %s", s, got)
		}
	}
	for _, name := range Components() {
		if got, ok := Name(name); !ok || got != name {
			t.Errorf("%s: %q", name, got)
		}
		if got, ok := Name(Spoken(name)); !ok || got != name {
			t.Errorf("%s is spoken %q, which is %q", name, Spoken(name), got)
		}
	}
	for name, want := range map[string]string{"n_hexane": "n-hexane", "CO2": "carbon dioxide", "1_3_butadiene": "1,3-butadiene", "1_butene": "1-butene",
		"o_xylene": "o-xylene", "r134a": "R134a", "no such thing": "no such thing"} {
		if got := Spoken(name); got != want {
			t.Errorf("%s is spoken %q, want %q", name, got, want)
		}
	}
}

func FuzzName(f *testing.F) {
	f.Add("CH4")
	f.Add("n-butane")
	f.Add("\xff₄")
	f.Fuzz(func(t *testing.T, s string) {
		name, ok := Name(s)
		if ok != IsComponent(name) {
			t.Errorf("%q: %q %v", s, name, ok)
		}
	})
}

func TestMake(t *testing.T) {
	for _, c := range []struct {
		x        map[string]float64
		equation string
		want     string // the equation taken, or words of the error
	}{
		{map[string]float64{"CH4": 0.9, "nitrogen": 0.1}, "auto", "GERG-2008"},
		{map[string]float64{"CH4": 0.9, "ethene": 0.1}, "auto", "Peng-Robinson"},
		{map[string]float64{"CH4": 1, "ethene": 0}, "auto", "GERG-2008"},
		{map[string]float64{"CH4": 1, "ethene": 0}, "gerg-2008", "GERG-2008"},
		{map[string]float64{"CH4": 1}, "peng-robinson", "Peng-Robinson"},
		{map[string]float64{"CH4": 0.9, "ethene": 0.1}, "gerg-2008", `GERG-2008 does not cover ethylene; write "auto" or "peng-robinson"`},
		{map[string]float64{"CH4": 1}, "redlich", `unknown equation of state "redlich"; write "auto", "gerg-2008", "multiparameter" or "peng-robinson"`},
		{map[string]float64{"NH3": 1}, "auto", "multiparameter equation of K. Gao et al., J. Phys. Chem. Ref. Data 52 (2023) 013102"},
		{map[string]float64{"NH3": 1, "N2": 0}, "multiparameter", "multiparameter equation of K. Gao et al., J. Phys. Chem. Ref. Data 52 (2023) 013102"},
		{map[string]float64{"NH3": 1}, "peng-robinson", "Peng-Robinson"},
		{map[string]float64{"NH3": 0.9, "N2": 0.1}, "multiparameter", `that of one substance, and this is a mixture; write "auto"`},
		{map[string]float64{"CH4": 1}, "multiparameter", `of methane here is that of GERG-2008; write "auto" or "gerg-2008"`},
		{map[string]float64{"silane": 1}, "multiparameter", `no multiparameter equation of silane is here; write "auto" or "peng-robinson"`},
		{map[string]float64{"silane": 1}, "auto", "Peng-Robinson"},
		{nil, "multiparameter", "sum to 0"},
		{map[string]float64{"brine": 1}, "auto", `unknown component "brine"; write one of 1_3_butadiene`},
		{map[string]float64{"C1": 0.5, "methane": 0.5}, "auto", `"C1" and "methane" are both methane`},
		{map[string]float64{"SF6": 0.9}, "auto", "sum to 0.9"},
		{map[string]float64{"SF6": 2}, "auto", "mole fraction of sulfur_hexafluoride is 2"},
		{map[string]float64{"SF6": math.NaN()}, "auto", "is NaN"},
		{nil, "auto", "sum to 0"},
		{nil, "peng-robinson", "sum to 0"},
	} {
		f, err := Make(c.x, c.equation)
		if err != nil {
			if f != nil || !strings.Contains(err.Error(), c.want) {
				t.Errorf("%v %s: %v, want %q", c.x, c.equation, err, c.want)
			}
			continue
		}
		if got := f.Basis().Equation; got != c.want {
			t.Errorf("%v %s: %s, want %q", c.x, c.equation, got, c.want)
		}
	}
}

// A fluid made like another has its fractions, in the same order.
func TestLike(t *testing.T) {
	for _, equation := range []string{"gerg-2008", "peng-robinson"} {
		f, err := Make(map[string]float64{"nitrogen": 0.2, "methane": 0.5, "argon": 0.3}, equation)
		if err != nil {
			t.Fatal(err)
		}
		like, err := f.Like([]float64{0.1, 0.2, 0.7})
		if err != nil {
			t.Fatal(err)
		}
		same, err := Make(map[string]float64{"argon": 0.1, "methane": 0.2, "nitrogen": 0.7}, equation)
		if err != nil {
			t.Fatal(err)
		}
		a, err1 := like.At(300, 50e5)
		b, err2 := same.At(300, 50e5)
		if a != b || err1 != nil || err2 != nil {
			t.Errorf("%s: %+v %v, want %+v %v", equation, a, err1, b, err2)
		}
		names, x := like.Fractions()
		if strings.Join(names, " ") != "argon methane nitrogen" || x[2] != 0.7 {
			t.Errorf("%s: %v %v", equation, names, x)
		}
		for _, bad := range [][]float64{nil, {1}, {0.5, 0.6, 0.7}, {-1, 1, 1}, {math.NaN(), 0, 1}} {
			if g, err := f.Like(bad); err == nil || g != nil {
				t.Errorf("%s: %v gives %v", equation, bad, g)
			}
		}
	}
	f := cubicOf(t, map[string]float64{"ethylene": 0.5, "argon": 0.5})
	g, err := f.Like([]float64{0, 1})
	if err != nil {
		t.Fatal(err)
	}
	lnPhi, err := g.LnPhi(300, 20e5, Gas)
	if err != nil || len(lnPhi) != 2 || math.IsNaN(lnPhi[0]) {
		t.Errorf("fugacities with a component at 0: %v %v", lnPhi, err)
	}
	if err := g.Stable(250, 20e5); err != nil {
		t.Error(err)
	}
	if err := g.Stable(250, 30e5); err == nil || !strings.Contains(err.Error(), "ethylene") {
		t.Errorf("%v, want words on liquid ethylene", err)
	}
}

func TestBasis(t *testing.T) {
	for _, c := range []struct {
		x     map[string]float64
		error float64
		notes []string
	}{
		{map[string]float64{"methane": 0.9, "ethane": 0.1}, 0.001, nil},
		{map[string]float64{"nitrogen": 0.5, "ethane": 0.5}, 0.005, nil},
		{map[string]float64{"helium": 1}, 0.002, nil},
		{map[string]float64{"xenon": 1}, 0.002, nil},
		{map[string]float64{"fluorine": 1}, 0.025, []string{"errs up to 7 % in density, beyond its critical pressure up to 20 %", "heat capacity is up to 15 %"}},
		{map[string]float64{"ammonia": 0.99, "silane": 0.01}, 0.0499, []string{"heat capacity is up to 40 %", "cooling of the vapour of ammonia by throttling comes out up to 75 %", "ammonia stated alone has an equation of its own, far better"}},
		{map[string]float64{"ethylene": 0.5, "nitrogen": 0.5}, 0.03, []string{"heat capacity is up to 15 %"}},
		{map[string]float64{"ethylene": 0.4, "silane": 0.5, "nitrogen": 0.1}, 0.035, []string{"taken as 0, for ethylene with silane, nitrogen with silane", "handbook constants without a reference for silane"}},
		{map[string]float64{"NO2": 1e-4, "nitrogen": 0.9999}, 0.03, []string{"single molecules"}},
	} {
		f, err := Make(c.x, "auto")
		if err != nil {
			t.Fatal(err)
		}
		b := f.Basis()
		near(t, "expected error", b.DensityError, c.error, c.error, 1e-2)
		for _, note := range c.notes {
			if !strings.Contains(b.Note, note) {
				t.Errorf("%v: note %q, want %q", c.x, b.Note, note)
			}
		}
	}
}

// The words of refusals.
func TestRefusalsInWords(t *testing.T) {
	for _, c := range []struct {
		x       map[string]float64
		tK, pPa float64
		want    string
	}{
		{map[string]float64{"NH3": 1}, 293.15, 12e5, "ammonia at 12 bara, 20 degC is liquid: above 8.57 bara it is not a gas at this temperature"},
		{map[string]float64{"SF6": 1}, 210, 2e5, "sulfur hexafluoride at 2 bara, -63.15 degC may be solid: below its triple point of -49.595 degC"},
		{map[string]float64{"xenon": 1}, 710, 1e5, "is outside the range of the equation of state, 145.3 to 700 K"},
		{map[string]float64{"ethylene": 1}, 460, 1e5, "is outside the range of the equation of state, 93.59 to 450 K; equation = \"peng-robinson\" reaches it, with less certainty"},
		{map[string]float64{"chlorine": 1}, 500, 201e5, "is outside the range of the equation of state, above 0 up to 200 bara; equation ="},
		{map[string]float64{"methyl chloride": 1}, 710, 1e5, "is outside the range of its constants, 60 to 700 K"},
		{map[string]float64{"styrene": 0.01, "nitrogen": 0.99}, 150, 1e5, "the mixture of mostly nitrogen at 1 bara, -123.15 degC is outside the range of its constants, 200 to 700 K"},
		{map[string]float64{"xenon": 1}, 300, 71e6, "above 0 up to 700 bara"},
		{map[string]float64{"xenon": 1}, 300, -1, "above 0 up to 700 bara"},
		{map[string]float64{"xenon": 1}, math.NaN(), 1e5, "outside the range"},
		{map[string]float64{"NO2": 1}, 320, 1e5, "of its nitrogen dioxide is paired to N2O4"},
		{map[string]float64{"benzene": 0.2, "nitrogen": 0.8}, 300, 2e5, "is not all gas: what condenses is mostly benzene"},
		{map[string]float64{"CH4": 0.98, "H2O": 0.02}, 293.15, 2e5, "is not all gas: its water dew point is"},
		{map[string]float64{"CH4": 0.5, "nC10": 0.5}, 300, 50e5, "condenses"},
	} {
		f, err := Make(c.x, "auto")
		if err != nil {
			t.Fatal(err)
		}
		if err := f.Stable(c.tK, c.pPa); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%v, want %q", err, c.want)
		}
	}
}
