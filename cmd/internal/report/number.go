package report

import (
	"math"
	"strconv"
	"strings"
)

// Numbers are shown with four significant digits, the decimal points of a
// column under one another. A value outside its limit takes as many more
// digits as it needs to read so: 1.40004 above 1.4, never "1.400, too high".

const significant = 4

// decimals gives how many decimal places show the largest of vs with
// significant digits.
func decimals(vs []float64) int {
	most := 0.0
	for _, v := range vs {
		if !math.IsInf(v, 0) {
			most = max(most, math.Abs(v))
		}
	}
	if most == 0 || math.IsNaN(most) {
		return 0
	}
	return min(max(significant-1-int(math.Floor(math.Log10(most))), 0), 6)
}

// fixed writes v with n decimals. A value that would lose all but one of its
// digits beside larger neighbours is written with three of its own instead.
func fixed(v float64, n int) string {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return "-"
	}
	if v == 0 {
		return "0"
	}
	s := strconv.FormatFloat(v, 'f', n, 64)
	if math.Abs(v)*math.Pow10(n) < 10 && s != strconv.FormatFloat(v, 'f', -1, 64) {
		s = compact(v, 3)
	}
	return s
}

// compact writes v with at most n significant digits and no trailing zeros.
func compact(v float64, n int) string {
	switch a := math.Abs(v); {
	case math.IsNaN(v) || math.IsInf(v, 0):
		return "-"
	case a == 0:
		return "0"
	case a < 1e-4 || a >= 1e7:
		return strconv.FormatFloat(v, 'g', n, 64)
	}
	places := max(0, n-1-int(math.Floor(math.Log10(math.Abs(v)))))
	s := strconv.FormatFloat(v, 'f', places, 64)
	if places > 0 {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	return s
}

// beyond writes v so that it reads as lying outside low..high, either of which
// may be nil, if that is where it lies.
func beyond(v float64, low, high *float64, n int) string {
	s := fixed(v, n)
	for ; n < 12; n++ {
		shown, err := strconv.ParseFloat(s, 64)
		if err != nil || (low == nil || (shown < *low) == (v < *low)) && (high == nil || (shown > *high) == (v > *high)) {
			break
		}
		s = fixed(v, n+1)
	}
	return s
}

// alignPoints pads numbers (or a dash for none) on the left so that their
// decimal points stand under one another.
func alignPoints(numbers []string) {
	widest := 0
	for _, s := range numbers {
		widest = max(widest, whole(s))
	}
	for i, s := range numbers {
		numbers[i] = strings.Repeat(" ", widest-whole(s)) + s
	}
}

// whole gives the characters before the decimal point or the exponent.
func whole(s string) int {
	if i := strings.IndexAny(s, ".e "); i >= 0 {
		return i
	}
	return len(s)
}
