package fluid

import (
	"math"
	"strings"
	"testing"
)

// IAPWS SR1-86(1992), table 1 (verification values), and IAPWS R14-08(2011), table 3.
func TestWaterSaturationPublished(t *testing.T) {
	for _, c := range []struct{ tK, pPa, rho float64 }{
		{273.16, 611.657, 999.789}, {373.1243, 0.101325e6, 958.365}, {647.096, 22.064e6, 322},
	} {
		near(t, "saturation pressure", waterSaturationPa(c.tK), c.pPa, c.pPa, 1e-5)
		near(t, "liquid density", components[water].molarMass/waterVolume(c.tK), c.rho, c.rho, 1e-6)
	}
	near(t, "sublimation pressure at 230 K", gasLimitPa(water, 230), 8.94735, 8.94735, 1e-6)
}

// damped gives a gas with water in it from its dry mole fractions.
func damped(dry map[string]float64) func(y float64) (Composed, error) {
	return func(y float64) (Composed, error) {
		x := map[string]float64{"water": y}
		for name, v := range dry {
			x[name] = v * (1 - y)
		}
		return New(x)
	}
}

var dryAir = map[string]float64{"nitrogen": 0.7812, "oxygen": 0.2095, "argon": 0.0093}

// Humid air: the enhancement factor of L. Greenspan, J. Res. NBS 80A (1976) 41-44,
// fitted by B. Hardy (3rd Int. Symp. on Humidity and Moisture, 1998) to the
// temperature scale ITS-90, for up to 2 MPa; over water and over ice. Constants from
// memory. What a gas of a given dew point holds of water agrees within 0.4 % (0.05 K
// of dew point), and within 1 % (0.1 K) where it is coldest at 20 bara.
func TestHumidAirEnhancement(t *testing.T) {
	factor := func(tC, pPa, satPa float64) float64 {
		a := []float64{3.53624e-4, 2.9328363e-5, 2.6168979e-7, 8.5813609e-9}
		b := []float64{-1.07588e1, 6.3268134e-2, -2.5368934e-4, 6.3405286e-7}
		if tC < 0 {
			a = []float64{3.64449e-4, 2.9367585e-5, 4.8874766e-7, 4.3669918e-9}
			b = []float64{-1.07271e1, 7.6215115e-2, -1.7490155e-4, 2.4668279e-6}
		}
		poly := func(c []float64) float64 { return c[0] + tC*(c[1]+tC*(c[2]+tC*c[3])) }
		return math.Exp(poly(a)*(1-satPa/pPa) + math.Exp(poly(b))*(pPa/satPa-1))
	}
	for _, tC := range []float64{-40, -20, -5, 5, 20, 50} {
		for _, pPa := range []float64{1e5, 5e5, 10e5, 20e5} {
			tK := tC + celsiusOffset
			sat := waterSaturationPa(tK)
			if tC < 0 {
				sat = gasLimitPa(water, tK)
			}
			want := sat * factor(tC, pPa, sat) / pPa
			got, err := WaterFraction(damped(dryAir), tK, pPa)
			if err != nil {
				t.Error(err)
				continue
			}
			t.Logf("dew point %4g degC at %3g bara: %.6g of water, published %.6g, %+.2f %%", tC, pPa/1e5, got, want, 100*(got/want-1))
			close := 0.004
			if tC < -10 && pPa > 5e5 {
				close = 0.01
			}
			if math.Abs(got/want-1) > close {
				t.Errorf("dew point %g degC at %g Pa: %g of water, want %g", tC, pPa, got, want)
			}
		}
	}
}

// The water of a dew point has that dew point: to 1e-9.
func TestWaterFractionRoundTrip(t *testing.T) {
	gases := []map[string]float64{
		dryAir, {"methane": 1}, {"carbon_dioxide": 0.9, "hydrogen": 0.1},
		{"methane": 0.9, "ethane": 0.05, "propane": 0.03, "nitrogen": 0.02},
	}
	for _, dry := range gases {
		for _, tC := range []float64{-60, -25, -8, -0.001, 0.02, 4, 25, 60} {
			for _, pPa := range []float64{2e4, 1e5, 8e5, 30e5, 70e5} {
				y, err := WaterFraction(damped(dry), tC+celsiusOffset, pPa)
				if err != nil {
					if tC == 60 && pPa == 2e4 || strings.Contains(err.Error(), "no gas state") {
						continue
					}
					t.Errorf("%v %g degC %g Pa: %v", dry, tC, pPa, err)
					continue
				}
				f, err := damped(dry)(y)
				if err != nil {
					t.Fatal(err)
				}
				tK, isFrost := DewsOf(f).Water(pPa)
				if !(math.Abs(tK-tC-celsiusOffset) < 1e-9*tK) {
					t.Errorf("%v %g degC at %g Pa: comes back as %.12g degC (y %g)", dry, tC, pPa, tK-celsiusOffset, y)
				}
				if frost := tC < -0.6; math.Abs(tC) > 0.1 && isFrost != frost {
					t.Errorf("%g degC at %g Pa: frost %v", tC, pPa, isFrost)
				}
			}
		}
	}
}

// A colder gas, and one under more pressure, holds less water.
func TestWaterFractionMonotone(t *testing.T) {
	last := 0.0
	for tC := -80.0; tC < 90; tC += 2.5 {
		y, err := WaterFraction(damped(map[string]float64{"methane": 1}), tC+celsiusOffset, 40e5)
		if err != nil || !(y > last) {
			t.Fatalf("%g degC: %g after %g, %v", tC, y, last, err)
		}
		last = y
	}
}

func TestWaterFractionRefuses(t *testing.T) {
	for _, c := range []struct {
		dry       map[string]float64
		dewK, pPa float64
		want      string
	}{
		{dryAir, 380, 1e5, "water alone boils"},
		{dryAir, math.NaN(), 1e5, "outside"},
		{dryAir, 100, 1e5, "outside"},
		{dryAir, 280, math.NaN(), "outside"},
		{dryAir, 280, -1, "outside"},
		{dryAir, 280, 1e12, "outside"},
		{map[string]float64{"carbon_dioxide": 1}, 263.15, 60e5, "no gas state"},
	} {
		y, err := WaterFraction(damped(c.dry), c.dewK, c.pPa)
		if err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%v: %g, %v; want %q", c, y, err, c.want)
		}
	}
}
