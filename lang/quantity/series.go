package quantity

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"github.com/alecthomas/participle/v2/lexer"
)

// list reads "16, 25, 60 barg"; a unit left out is the next one to the right.
func (r *reader) list(p *plain) (Value, *Error) {
	if err := r.want(Series, r.all()); err != nil {
		return Value{}, err
	}
	items := append([]*measure{&p.First}, p.Rest...)
	points := make([]Quantity, len(items))
	var unit *lexer.Token
	for i := len(items) - 1; i >= 0; i-- {
		if items[i].Unit != nil {
			unit = items[i].Unit
		}
		q, err := r.quantity(items[i], unit, p.At)
		if err != nil {
			return Value{}, err
		}
		points[i] = q
	}
	for i := 1; i < len(points); i++ {
		if err := r.comparable(points[i-1], points[i], items[i-1].place().to(items[i].place())); err != nil {
			return Value{}, err
		}
	}
	r.points = len(points)
	return Value{Form: Series, Points: points}, nil
}

// spaced reads "a .. b, n values" and "a .. b by s".
func (r *reader) spaced(p *plain, expand bool) (Value, *Error) {
	if err := r.want(Series, r.all()); err != nil {
		return Value{}, err
	}
	low, high, err := r.ends(p)
	if err != nil {
		return Value{}, err
	}
	n := 0
	if p.Range.Count != nil {
		if n, err = r.count(p.Range.Count); err != nil {
			return Value{}, err
		}
	} else if n, err = r.steps(p, low, high); err != nil {
		return Value{}, err
	}
	r.points = n
	v := Value{Form: Series}
	if !expand {
		return v, nil
	}
	// Points are spaced in the numbers of the unit on the right, so that their
	// texts read "60", "65", not the echo of a conversion.
	u := find(high.Unit, flowOr(r.d))
	a, b := fromSI(low.SI, u), fromSI(high.SI, u)
	zero := 1e-12 * max(math.Abs(a), math.Abs(b)) // what the conversion can leave of nothing
	v.Points = make([]Quantity, n)
	for i := range v.Points {
		q := high
		number := a + (b-a)*float64(i)/float64(n-1)
		if math.Abs(number) < zero {
			number = 0
		}
		q.Number = shortest(number)
		q.SI = low.SI + (high.SI-low.SI)*float64(i)/float64(n-1)
		v.Points[i] = q
	}
	v.Points[0].SI, v.Points[n-1].SI = low.SI, high.SI
	return v, nil
}

func (r *reader) count(t *lexer.Token) (int, *Error) {
	n, err := strconv.Atoi(t.Value)
	switch {
	case strings.ContainsAny(t.Value, ".eE"):
		return 0, r.fail(tokenPlace(t), "the number of values must be a whole number", `"60 .. 110 barg, 11 values"`)
	case err != nil || n > MaxPoints:
		return 0, r.fail(tokenPlace(t), fmt.Sprintf("too many values: at most %d", MaxPoints), "")
	case n < 2:
		return 0, r.fail(tokenPlace(t), "a series has at least 2 values, its two ends", "write a single value for one case")
	}
	return n, nil
}

// steps gives the number of points of "a .. b by s".
func (r *reader) steps(p *plain, low, high Quantity) (int, *Error) {
	m := p.Range.Step
	step, err := r.difference(m, m.Unit, high)
	if err != nil {
		return 0, err
	}
	if step <= 0 {
		return 0, r.fail(m.place(), "the step must be above zero", "")
	}
	steps := (high.SI - low.SI) / step
	if steps > MaxPoints-1 {
		return 0, r.fail(m.place(), fmt.Sprintf("the step is so small that the series has more than %d values", MaxPoints), "")
	}
	n := math.Round(steps)
	if n < 1 || math.Abs(steps-n) > 1e-6*max(1, n) {
		hint := ""
		if n >= 1 {
			both := p.First.place().to(p.Range.High.place())
			hint = fmt.Sprintf(`"%s, %d values"`, r.at(both), int(n)+1)
		}
		return 0, r.fail(m.place(), "steps of this size do not end at the upper value", hint)
	}
	return int(n) + 1, nil
}
