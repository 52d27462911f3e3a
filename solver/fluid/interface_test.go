package fluid

import (
	"errors"
	"math"
	"testing"
)

func TestIdealGas(t *testing.T) {
	// Air as an ideal gas: rho = 1.2041 kg/m3 at 20 degC, 101.325 kPa, speed of
	// sound 343.2 m/s (any handbook).
	g := Ideal(28.9647e-3, 1.4, 1.8e-5)
	s, err := g.At(293.15, 101325)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "density", s.DensityKgM3, 1.2041, 1, 1e-4)
	near(t, "sound", s.Sound, 343.2, 343.2, 1e-3)
	near(t, "cp - cv", s.Cp-s.Cv, gasConstant/28.9647e-3, 1, 1e-9)
	near(t, "cp/cv", s.Cp/s.Cv, 1.4, 1, 1e-12)
	rho, exponent, err := g.Density(293.15, 101325)
	if err != nil || math.Abs(rho/s.DensityKgM3-1) > 1e-15 || exponent != 1 {
		t.Errorf("density %g, %g, %v", rho, exponent, err)
	}
	h, cp, err := g.Enthalpy(293.15, 5e5)
	if err != nil || h != s.H || cp != s.Cp {
		t.Errorf("enthalpy %g, %g, %v", h, cp, err)
	}
	end, err := g.TemperatureAt(h, 1e5, 0)
	if err != nil || math.Abs(end-293.15) > 1e-10 {
		t.Errorf("throttled to %g, %v", end, err)
	}
	// Eucken's conductivity of air is 0.0255 W/(m K) at 20 degC, within 10 %.
	c, bound := g.Conductivity(293.15, 1.2)
	near(t, "conductivity", c, 0.0255, 0.0255, bound)

	// The real gas at low pressure is the ideal one.
	argon, real := Ideal(39.948e-3, 5.0/3, 2.27e-5), pureOf(t, "argon")
	a, err1 := argon.At(300, 10)
	b, err2 := real.At(300, 10)
	if err := errors.Join(err1, err2); err != nil {
		t.Fatal(err)
	}
	near(t, "density", b.DensityKgM3, a.DensityKgM3, a.DensityKgM3, 1e-6)
	near(t, "h", b.H, a.H, a.Cp, 1e-3)
	near(t, "s", b.S, a.S, a.Cp, 1e-5)
}

func TestIdealGasRefuses(t *testing.T) {
	good := Ideal(0.028, 1.4, 1.8e-5)
	for _, c := range []struct {
		g       *IdealGas
		tK, pPa float64
	}{
		{good, 0, 1e5}, {good, 300, -1}, {good, math.NaN(), 1e5}, {good, 300, math.Inf(1)},
		{Ideal(0, 1.4, 1e-5), 300, 1e5}, {Ideal(0.028, 1, 1e-5), 300, 1e5}, {Ideal(0.028, 1.4, math.NaN()), 300, 1e5},
	} {
		var state *StateError
		if _, err := c.g.At(c.tK, c.pPa); !errors.As(err, &state) {
			t.Errorf("At %v: %v", c, err)
		}
		if _, _, err := c.g.Density(c.tK, c.pPa); err == nil {
			t.Errorf("Density %v accepted", c)
		}
		if _, _, err := c.g.Enthalpy(c.tK, c.pPa); err == nil {
			t.Errorf("Enthalpy %v accepted", c)
		}
	}
	if _, err := good.TemperatureAt(-1e9, 1e5, 300); err == nil {
		t.Error("a temperature below 0 K")
	}
}
