package properties

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"
	"sync"
)

// maxParts is how many components a composition of the command line may have.
const maxParts = 100

var plainNumber = sync.OnceValue(func() *regexp.Regexp {
	return regexp.MustCompile(`^-?[0-9]{1,20}(\.[0-9]{1,20})?([eE][-+]?[0-9]{1,2})?$`)
})

var withUnit = sync.OnceValue(func() *regexp.Regexp {
	return regexp.MustCompile(`^-?[0-9]{1,20}(\.[0-9]{1,20})?([eE][-+]?[0-9]{1,2})? *(%|ppm|ppb)$`)
})

// IsComposition tells a composition from the name of a fluid.
func IsComposition(text string) bool { return strings.ContainsAny(text, "=,") }

// Map writes a composition of the command line, "methane=0.9, ethane=0.1", as the
// map that a fluid block holds. Parts are fractions or per cent, as their sum
// tells, or carry % or ppm; one may be the rest. Whether numbers beside a rest
// are fractions may not be seen from them: then it is asked.
func Map(text string) (string, error) {
	names, values, err := entries(text)
	if err != nil {
		return "", err
	}
	scale, err := scaleOf(names, values)
	if err != nil {
		return "", err
	}
	out := make([]string, len(names))
	for i, v := range values {
		if plainNumber().MatchString(v) {
			x, _ := strconv.ParseFloat(v, 64)
			v = strconv.FormatFloat(x*scale, 'g', 15, 64)
		} else {
			v = strconv.Quote(v)
		}
		out[i] = strconv.Quote(names[i]) + " = " + v
	}
	return "{ " + strings.Join(out, ", ") + " }", nil
}

// entries parts a composition into names and values.
func entries(text string) (names, values []string, err error) {
	parts := strings.Split(text, ",")
	if len(parts) > maxParts {
		return nil, nil, fmt.Errorf("the composition has %d components; at most %d are taken", len(parts), maxParts)
	}
	for _, p := range parts {
		name, value, ok := strings.Cut(p, "=")
		name, value = strings.TrimSpace(name), strings.TrimSpace(value)
		if !ok || name == "" || value == "" {
			return nil, nil, fmt.Errorf("%q in the composition is not COMPONENT=PART; write 'methane=90, ethane=10'", strings.TrimSpace(p))
		}
		if !plainNumber().MatchString(value) && !withUnit().MatchString(value) && value != "rest" {
			return nil, nil, fmt.Errorf("%q is no part of %s; a part is a number, such as 10, '10 %%' or '500 ppm', or rest, and commas stand between the components", value, name)
		}
		names, values = append(names, name), append(values, value)
	}
	return names, values, nil
}

// scaleOf tells what makes per cent of the bare numbers: 1 or 100.
func scaleOf(names, values []string) (float64, error) {
	sum, most, bare, rest := 0.0, 0.0, -1, false
	for i, v := range values {
		switch {
		case plainNumber().MatchString(v):
			x, _ := strconv.ParseFloat(v, 64)
			sum, most, bare = sum+x, math.Max(most, x), i
		case v == "rest":
			rest = true
		}
	}
	switch {
	case bare < 0 || most > 1:
		return 1, nil
	case rest:
		x, _ := strconv.ParseFloat(values[bare], 64)
		return 0, fmt.Errorf("beside a rest, %[1]s=%[2]s may be a fraction or per cent; write '%[1]s=%[3]s %%' or '%[1]s=%[2]s %%'",
			names[bare], values[bare], strconv.FormatFloat(x*100, 'g', 12, 64))
	}
	return 100, nil
}
