package quantity

import (
	"strings"
	"sync"

	"github.com/agext/levenshtein"
)

// spellings maps every accepted spelling to the rows that carry it; "K" is a
// temperature and a difference, most others have one row.
var spellings = sync.OnceValue(func() map[string][]*Unit {
	rows := table()
	m := make(map[string][]*Unit, len(rows)+len(pressureStems))
	for i := range rows {
		u := &rows[i]
		m[u.Name] = append(m[u.Name], u)
		for _, s := range u.Also {
			m[s] = append(m[s], u)
		}
	}
	return m
})

// find gives the row of a spelling for a dimension, or nil.
func find(spelling string, d Dimension) *Unit {
	for _, u := range spellings()[spelling] {
		if u.fits(d) {
			return u
		}
	}
	return nil
}

// sibling gives the unit of the same stem with another dimension and basis,
// such as bara for bar, or nil.
func sibling(stem string, d Dimension, b Basis) *Unit {
	if stem == "" {
		return nil
	}
	rows := table()
	for i := range rows {
		if u := &rows[i]; u.stem == stem && u.Dimension == d && u.Basis == b {
			return u
		}
	}
	return nil
}

// habits are spellings of the trade that are not accepted, with what to write.
var habits = sync.OnceValue(func() map[string]string {
	return map[string]string{
		"°C": "degC", "C": "degC", "celsius": "degC", "℃": "degC", "oC": "degC",
		"°F": "degF", "F": "degF", "fahrenheit": "degF", "℉": "degF", "oF": "degF",
		"°R": "degR", "R": "degR", "degK": "K", "°K": "K", "kelvin": "K",
		"lpm": "L/min", "ccm": "mL/min", "cc/min": "mL/min", "gpm": "gal/min", "gph": "gal/h",
		"cfm": "ft3/min", "cfh": "ft3/h", "nlpm": "NL/min", "nccm": "NmL/min",
		"sl/min": "slpm", "sm3/h": "Sm3/h", "sft3/h": "scfh", "sft3/min": "scfm",
		"sec": "s", "second": "s", "seconds": "s", "minute": "min", "minutes": "min",
		"hr": "h", "hrs": "h", "hour": "h", "hours": "h", "day": "d", "days": "d",
		"cc": "mL", "ccs": "mL", "liter": "L", "litre": "L", "liters": "L", "litres": "L",
		"inch": "in", "inches": "in", "feet": "ft", "foot": "ft", "micron": "um", "metre": "m", "meter": "m",
		"sqmm": "mm2", "sqin": "in2", "lbs": "lb", "kgs": "kg", "percent": "%", "pct": "%", "ppmv": "ppm", "vppm": "ppm",
		"torr": "mmHga", "iwc": "inH2O", "inwc": "inH2O", "lb/in": "lbf/in", "btu/hr": "Btu/h",
		"w/(m2k)": "W/m2K", "w/m2/k": "W/m2K",
	}
})

// plainer rewrites typographic signs of a unit as the ASCII the table uses.
var plainer = strings.NewReplacer("²", "2", "³", "3", "µ", "u", "μ", "u", "^", "", "(", "", ")", "", "·", "", "*", "", "₂", "2")

// nearest gives the accepted spelling that an unknown one most likely stands
// for, among those that fit d; "" if none is near. Ties go to the earlier row.
func nearest(wrong string, d Dimension) string {
	if len(wrong) > 24 {
		return ""
	}
	for _, w := range []string{wrong, plainer.Replace(wrong), strings.ToLower(plainer.Replace(wrong))} {
		if s, ok := habits()[w]; ok && find(s, d) != nil {
			return s
		}
		if find(w, d) != nil {
			return w
		}
	}
	clean := plainer.Replace(wrong)
	best, distance := "", 3
	if len(clean) <= 3 {
		distance = 2
	}
	for _, s := range d.Units() {
		if strings.EqualFold(s, clean) {
			return s
		}
		if n := levenshtein.Distance(strings.ToLower(s), strings.ToLower(clean), nil); n < distance && n < len(s) {
			best, distance = s, n
		}
	}
	return best
}
