package device

import (
	"math"
	"math/rand/v2"
	"testing"
)

// Rows with fittings beside the valve, and what must be true of them.

func reducersOf(r row) Fittings {
	return Fittings{BoreM: 1e-3 * r.in("d"), InletM: 1e-3 * r.in("D1"), OutletM: 1e-3 * r.in("D2")}
}

// fittedCv is the Cv of a valve that passes wKgS with its fittings.
func fittedCv(f Fittings, c Coefficient, wKgS, pUp, pDown float64, g *Gas) float64 {
	return bisect(1e-3, 1e4, func(cv float64) float64 {
		c.Cv = cv
		return f.Fitted(c).Flow(pUp, pDown, g).W - wKgS
	})
}

// Y is taken at x_TP, as the standard has it; the quoted Kv at x_T.
func rotaryPlug(r row, _ examples) map[string]any {
	p1, p2 := 1e3*r.in("p1"), 1e3*r.in("p2")
	g := withZ(ideal(p1, r.in("T1"), r.in("M")/1e3, r.in("gamma"), 0), r.in("Z1"))
	w := r.in("Q") * normalMolM3 * g.MolarMass / perHour
	f, c := reducersOf(r), Coefficient{XT: r.in("xT"), FL: r.in("FL")}
	c.Cv = fittedCv(f, c, w, p1, p2, g)
	return map[string]any{"Kv": KvPerCv * c.Cv, "choked": f.Fitted(c).Flow(p1, p2, g).Choked}
}

func fittedCondensate(r row, _ examples) map[string]any {
	rho := r.in("rho") * poundKg / (footM * footM * footM)
	g := liquidAt(rho, 0, psiPa*r.in("pv"), psiPa*r.in("pc"))
	line := 0.0254 * r.in("D1=D2")
	f := Fittings{BoreM: 0.0254 * r.in("d"), InletM: line, OutletM: line}
	w := r.in("Q") * 3.785411784e-3 / 60 * rho
	return map[string]any{"Cv": fittedCv(f, Coefficient{FL: r.in("FL")}, w, psiPa*r.in("p1"), psiPa*r.in("p2"), g)}
}

// The figures of row CV-04's note, worked out apart from this code: F_P 0.8669,
// x_TP 0.6253, Y 0.6876 at Kv 70.89.
func TestPipingFactorsOfTheRotaryPlug(t *testing.T) {
	r := load(t)["CV-04"]
	f := reducersOf(r)
	c := f.Fitted(Coefficient{Cv: 70.89 / KvPerCv, XT: r.in("xT"), FL: r.in("FL")})
	g := ideal(1e3*r.in("p1"), r.in("T1"), r.in("M")/1e3, r.in("gamma"), 0)
	x := drop(1e3*r.in("p1"), 1e3*r.in("p2"))
	got := map[string][2]float64{
		"F_P":  {f.PipingFactor(70.89 / KvPerCv), 0.8669},
		"x_TP": {c.XT, 0.6253},
		"Y":    {parabola(x, c.chokingDrop(g)).u / math.Sqrt(x), 0.6876},
		// F_LP = 0.85/sqrt(1 + 0.85^2 x 1.0332 x (70.89/2500)^2/0.0016), with
		// zetai = 0.5 (1 - 0.390625)^2 + 1 - 0.390625^2.
		"F_LP": {c.FL * f.PipingFactor(70.89/KvPerCv), 0.72486},
	}
	for name, v := range got {
		if math.Abs(v[0]/v[1]-1) > 1e-4 {
			t.Errorf("%s: %g, want %g", name, v[0], v[1])
		}
	}
}

// The zetas by hand for d/D1 = 1/2 and d/D2 = 1/sqrt 2:
// 0.5 x 0.75^2 + (1 - 1/16) + 0.5^2 - (1 - 1/4).
func TestZetasByHand(t *testing.T) {
	for _, c := range []struct {
		name        string
		f           Fittings
		before, sum float64
	}{
		{"both", Fittings{0.01, 0.02, 0.01 * math.Sqrt2}, 1.21875, 0.71875},
		{"inlet alone", Fittings{0.01, 0.02, 0.01}, 1.21875, 1.21875},
		{"outlet alone regains", Fittings{0.01, 0, 0.01 * math.Sqrt2}, 0, -0.5},
		{"same line on both sides", Fittings{0.01, 0.02, 0.02}, 1.21875, 0.84375},
		{"none", Fittings{0.01, 0.01, 0}, 0, 0},
		{"a narrower line counts for none", Fittings{0.01, 0.005, 0.002}, 0, 0},
	} {
		if math.Abs(c.f.Before()-c.before) > 1e-12 || math.Abs(c.f.Sum()-c.sum) > 1e-12 {
			t.Errorf("%s: %g and %g, want %g and %g", c.name, c.f.Before(), c.f.Sum(), c.before, c.sum)
		}
	}
}

// Without fittings, or where the valve is small beside its bore, the law is the
// bare valve's; and a pipe of its own resistance explains F_P: at a small drop the
// valve and its fittings are resistances in series.
func TestFittingsAreResistancesInSeries(t *testing.T) {
	bare := Coefficient{Cv: 2, XT: 0.7, FL: 0.9}
	if got := (Fittings{BoreM: 0.01, InletM: 0.01}).Fitted(bare); math.Abs(got.Cv-2) > 1e-12 || math.Abs(got.XT-0.7) > 1e-12 || math.Abs(got.FL-0.9) > 1e-12 {
		t.Errorf("without fittings: %+v", got)
	}
	f := Fittings{BoreM: 0.01, InletM: 0.02, OutletM: 0.02}
	for _, g := range []*Gas{ideal(5e5, 293.15, 0.028, 1.4, 0), liquidAt(998, 0, 2339, 22.064e6)} {
		const dp = 20.0
		got := f.Fitted(bare).Flow(5e5, 5e5-dp, g).W
		rho, _ := g.Density(5e5)
		k := ResistanceFromCv(bare.Cv, 0.01) + f.Sum()
		if want := area(0.01) * math.Sqrt(2*rho*dp/k); math.Abs(got/want-1) > 2e-4 {
			t.Errorf("liquid %v: %g, want %g", g.Liquid, got, want)
		}
	}
}

// More opening always passes more, with any fittings: F_P C rises with C.
func TestFittedFlowRisesWithOpening(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 1))
	for range 300 {
		f := Fittings{BoreM: 0.01, InletM: 0.01 * (1 + 3*r.Float64()), OutletM: 0.01 * (1 + 3*r.Float64())}
		c := Coefficient{XT: 0.2 + 0.7*r.Float64(), FL: 0.5 + 0.5*r.Float64()}
		for _, g := range []*Gas{ideal(5e5, 293.15, 0.028, 1.4, 0), liquidAt(998, 0, 2339, 22.064e6)} {
			last, pDown := 0.0, 5e5*r.Float64()
			for cv := 0.05; f.Stated(cv); cv *= 1.2 {
				c.Cv = cv
				w := f.Fitted(c).Flow(5e5, pDown, g).W
				if w < last {
					t.Fatalf("%+v, %+v to %g: flow falls from %g to %g", f, c, pDown, last, w)
				}
				last = w
			}
		}
	}
}

// The flow chokes where the standard has it, at F_g x_TP, and a liquid at
// (F_LP/F_P)^2 (p1 - FF pv).
func TestFittedChokes(t *testing.T) {
	f := Fittings{BoreM: 0.025, InletM: 0.05, OutletM: 0.04}
	bare := Coefficient{Cv: 14, XT: 0.7, FL: 0.9}
	c := f.Fitted(bare)
	q := squared(14*0.865) / math.Pow(25, 4)
	zi := 0.5*squared(0.75) + 1 - 1.0/16
	sum := zi + squared(1-0.390625) - (1 - squared(0.390625))
	fp2 := 1 / (1 + sum*q/0.0016)
	if want := 0.7 / fp2 / (1 + 0.7*zi*q/0.0018); math.Abs(c.XT/want-1) > 1e-12 {
		t.Errorf("x_TP %g, want %g", c.XT, want)
	}
	g := ideal(5e5, 293.15, 0.028, 1.4, 0)
	if !c.Flow(5e5, 5e5*(1-c.XT*1.001), g).Choked || c.Flow(5e5, 5e5*(1-c.XT*0.999), g).Choked {
		t.Error("the gas does not choke at x_TP")
	}
	water := liquidAt(998, 0, 2339, 22.064e6)
	flp2 := 0.81 / (1 + 0.81*zi*q/0.0016)
	want := flp2 / fp2 * (5e5 - CriticalRatioFactor(2339, 22.064e6)*2339)
	if got := c.ChokedDrop(5e5, water); math.Abs(got/want-1) > 1e-9 {
		t.Errorf("liquid chokes at a drop of %g, want %g", got, want)
	}
}
