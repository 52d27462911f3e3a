package device

import (
	"math"
	"math/rand/v2"
	"testing"
)

// The data of Akima (J. ACM 17 (1970) 589-602) that Fritsch & Carlson interpolate
// in their figures, as points only: between any two of them the interpolant stays
// between their values, and it never turns back.
func TestRisingKeepsOrder(t *testing.T) {
	r := NewRising([]float64{0, 2, 3, 5, 6, 8, 9, 11, 12, 14, 15}, []float64{10, 10, 10, 10, 10, 10, 10.5, 15, 50, 60, 85})
	last := 10.0
	for x := 0.0; x <= 15; x += 0.01 {
		y, slope := r.At(x)
		if y < last-1e-12 || slope < -1e-12 {
			t.Fatalf("at %g it falls: %g after %g, slope %g", x, y, last, slope)
		}
		last = y
	}
}

func TestRisingRandom(t *testing.T) {
	rnd := rand.New(rand.NewPCG(5, 7))
	for range 300 {
		x, y := []float64{0}, []float64{0}
		for range 1 + rnd.IntN(8) {
			x = append(x, x[len(x)-1]+math.Pow(10, -3+3*rnd.Float64()))
			y = append(y, y[len(y)-1]+math.Pow(10, -3+3*rnd.Float64()))
		}
		r := NewRising(x, y)
		end := x[len(x)-1]
		for i := range x {
			if got, _ := r.At(x[i]); math.Abs(got-y[i]) > 1e-12*y[len(y)-1] {
				t.Fatalf("point %d: %g, want %g", i, got, y[i])
			}
		}
		if _, s := r.At(0); !(s > 0) {
			t.Fatal("no slope at 0", x, y)
		}
		last := -1.0
		for k := range 1000 {
			at := end * float64(k) / 1000
			v, s := r.At(at)
			h := end * 1e-7
			up, _ := r.At(at + h)
			down, _ := r.At(at - h)
			if v < last || s < 0 {
				t.Fatalf("falls at %g of %v %v", at, x, y)
			}
			if d := (up - down) / (2 * h); math.Abs(d-s) > 1e-3*(s+y[len(y)-1]/end) {
				t.Fatalf("slope at %g: %g, by difference %g", at, s, d)
			}
			last = v
		}
		mid := 0.37 * y[len(y)-1]
		if back, _ := r.At(r.Inverse(mid)); math.Abs(back-mid) > 1e-9*mid {
			t.Fatalf("inverse: %g, want %g", back, mid)
		}
	}
}

// Straight data stay straight.
func TestRisingStraight(t *testing.T) {
	r := NewRising([]float64{0, 0.1, 0.5, 1}, []float64{0, 0.2, 1, 2})
	for x := -0.5; x < 1; x += 0.01 {
		if y, s := r.At(x); math.Abs(y-2*x) > 1e-12 || math.Abs(s-2) > 1e-12 {
			t.Fatalf("at %g: %g %g", x, y, s)
		}
	}
}

func TestTrimFamily(t *testing.T) {
	half, full := NewRising([]float64{0, 1}, []float64{0, 0.5}), NewRising([]float64{0, 1}, []float64{0, 1})
	trim := &Trim{FamilyPa: []float64{2e5, 6e5}, Curves: []*Rising{full, half}}
	for _, c := range []struct{ in, want float64 }{{1e5, 0.4}, {2e5, 0.4}, {4e5, 0.3}, {6e5, 0.2}, {9e5, 0.2}} {
		if o, s := trim.Open(0.4, c.in, 1e5); math.Abs(o-c.want) > 1e-15 || math.Abs(s-c.want/0.4) > 1e-15 {
			t.Errorf("at %g Pa: %g slope %g, want %g", c.in, o, s, c.want)
		}
	}
	trim.ByOutlet = true
	if o, _ := trim.Open(0.4, 9e5, 4e5); math.Abs(o-0.3) > 1e-15 {
		t.Errorf("by the outlet: %g", o)
	}
}
