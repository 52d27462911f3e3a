package properties

import (
	"errors"
	"fmt"
	"strings"

	"tapline/lang/quantity"
)

// MaxStates is how many states one run works out.
const MaxStates = 10_000

// A Point is a state that is asked for.
type Point struct {
	PressurePa   float64 // absolute
	TemperatureK float64
	Pressure     string // as written
	Temperature  string
}

// String gives the state as it was asked for.
func (p Point) String() string { return p.Pressure + ", " + p.Temperature }

// Usage shows how states are written.
const Usage = `"52 barg, 12 degC" or "10 .. 60 barg, 6 values; -10 .. 30 degC by 10 K"`

// Points reads the states of one text: a pressure and a temperature, in either
// order. With a semicolon between them each may be a series, and every
// combination is a state. Gauge pressures count from the site's atmosphere; gauge
// tells whether there was one.
func Points(text string, site quantity.Site) (points []Point, gauge bool, err error) {
	first, second, err := halves(text)
	if err != nil {
		return nil, false, err
	}
	const forms = quantity.Single | quantity.Series
	swapped := isTemperature(first) && !isTemperature(second)
	if swapped {
		first, second = second, first
	}
	if n := quantity.SeriesLen(first, quantity.Pressure) * quantity.SeriesLen(second, quantity.Temperature); n > MaxStates {
		return nil, false, fmt.Errorf("%q are %d states; at most %d are worked out in one run", text, n, MaxStates)
	}
	pressures, err := values(first, quantity.Pressure, forms)
	if err != nil {
		return nil, false, err
	}
	temperatures, err := values(second, quantity.Temperature, forms)
	if err != nil {
		return nil, false, err
	}
	add := func(p, t quantity.Quantity) error {
		pa := p.PressurePa(site)
		if !(pa > 0) {
			return fmt.Errorf("%s is not above absolute zero where the atmosphere is %.5g bara", written(p), site.AtmospherePa/1e5)
		}
		gauge = gauge || p.Basis == quantity.Gauge
		points = append(points, Point{PressurePa: pa, TemperatureK: t.SI, Pressure: written(p), Temperature: written(t)})
		return nil
	}
	if swapped {
		for _, t := range temperatures {
			for _, p := range pressures {
				err = errors.Join(err, add(p, t))
			}
		}
	} else {
		for _, p := range pressures {
			for _, t := range temperatures {
				err = errors.Join(err, add(p, t))
			}
		}
	}
	return points, gauge, err
}

// halves parts a text into its pressures and its temperatures.
func halves(text string) (first, second string, err error) {
	parts := strings.Split(text, ";")
	if len(parts) == 1 {
		parts = strings.Split(text, ",")
	}
	if len(parts) != 2 {
		return "", "", fmt.Errorf("%q is not a pressure and a temperature; write %s", text, Usage)
	}
	return strings.TrimSpace(parts[0]), strings.TrimSpace(parts[1]), nil
}

func isTemperature(text string) bool {
	_, err := quantity.Parse(text, quantity.Temperature, quantity.Single)
	return err == nil || quantity.SeriesLen(text, quantity.Temperature) > 1
}

// values reads one half.
func values(text string, d quantity.Dimension, forms quantity.Form) ([]quantity.Quantity, error) {
	v, err := quantity.Parse(text, d, forms)
	if err != nil {
		var e *quantity.Error
		if errors.As(err, &e) && e.Hint != "" {
			return nil, fmt.Errorf("%s; write %s", e.Message, e.Hint)
		}
		return nil, err
	}
	if v.Form == quantity.Single {
		return []quantity.Quantity{v.Nominal}, nil
	}
	return v.Points, nil
}

func written(q quantity.Quantity) string { return q.Number + " " + q.Unit }
