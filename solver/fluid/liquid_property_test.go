package fluid

import (
	"math"
	"testing"
)

// Over all components and a grid of states: what is said to be liquid is denser than
// at the critical point, heavier with pressure and lighter with warmth, and is no gas
// for the equations of gases, but for a few per cent of pressure where the two rest on
// different saturation lines; and every refusal is in words.
func TestNoStateIsGasAndLiquid(t *testing.T) {
	liquids := 0
	for _, name := range Components() {
		l, err := LiquidOf(map[string]float64{name: 1})
		if err != nil {
			t.Logf("%v", err)
			continue
		}
		gas, err := Make(map[string]float64{name: 1}, "auto")
		if err != nil {
			t.Fatal(err)
		}
		critical := l.MolarMass() / substances[substanceByName()[name]].vC
		for tK := 65.0; tK < 690; tK *= 1.07 {
			for pPa := 1e3; pPa < 6e7; pPa *= 2.3 {
				err := l.Stable(tK, pPa)
				if err != nil {
					if len(err.Error()) < 20 {
						t.Errorf("%s at %g K, %g Pa: %v", name, tK, pPa, err)
					}
					continue
				}
				s, err := l.At(tK, pPa)
				if err != nil {
					t.Errorf("%s at %g K, %g Pa is liquid, but %v", name, tK, pPa, err)
					continue
				}
				liquids++
				if s.DensityKgM3 < 1.1*critical || s.DensityKgM3 > 4*critical || !(s.DensityExponent > 0) || !(s.Cp > 0) || math.IsNaN(s.H+s.S) {
					t.Errorf("%s at %g K, %g Pa: %+v", name, tK, pPa, s)
				}
				if bubble, _, _, err := l.(interface {
					LiquidAt(tK, pPa float64) (a, b, c float64, err error)
				}).LiquidAt(tK, pPa); err == nil && pPa > 1.1*bubble && gas.Stable(tK, pPa) == nil {
					t.Errorf("%s at %g K, %g Pa is said to be liquid and gas; bubble pressure %g", name, tK, pPa, bubble)
				}
			}
		}
	}
	if liquids < 5000 {
		t.Errorf("only %d liquid states", liquids)
	}
}
