package compiler

import (
	"math"

	"tapline/lang/diag"
	"tapline/solver/device"
)

// Fittings: the reducers beside a valve that stands in a wider line, and what a tube
// states of the fittings in it.

// fittings reads the lines beside a valve; ok is false where the block states no
// bore of the valve.
func (l *law) fittings() (f device.Fittings, ok bool) {
	if !l.has("bore") {
		return f, false
	}
	f.BoreM = l.number("bore", "bore_m")
	for _, line := range []struct {
		name string
		at   *float64
	}{{"inlet_line", &f.InletM}, {"outlet_line", &f.OutletM}} {
		if !l.has(line.name) {
			continue
		}
		*line.at = l.number(line.name, line.name+"_m")
		if *line.at < f.BoreM {
			v := l.b.Get(line.name)
			l.found = append(l.found, diag.Diagnostic{
				Code: "line-narrower", Level: diag.Error, Range: v.Range,
				Message: line.name + " of " + l.b.Tag + " is narrower than the bore of the valve; the standard's factors are for wider lines",
				Hint:    "leave " + line.name + " out where the line is no wider than the valve",
				Related: []diag.Related{{Range: l.b.Get("bore").Range, Message: "the bore"}},
			})
		}
	}
	return f, true
}

// fitted gives the passage of a valve with the fittings beside it, and notes what it
// resists as its makers' books have it: the loss coefficient in the line, the length
// of drawn tube of that bore that costs as much, and the factors of the standard.
func (l *law) fitted(c device.Coefficient) device.Coefficient {
	f, ok := l.fittings()
	if !ok || !(c.Cv > 0) {
		return c
	}
	c.SizeM = f.BoreM
	line := max(f.BoreM, f.InletM)
	k := device.ResistanceFromCv(c.Cv, line)
	l.settings["resistance_k"] = k
	l.settings["resistance_bore_m"] = line
	l.settings["equivalent_length_m"] = device.EquivalentLength(k, line, device.Colebrook(math.Inf(1), drawnRoughnessM/line))
	if f.InletM <= f.BoreM && f.OutletM <= f.BoreM {
		return c
	}
	factor := f.PipingFactor(c.Cv)
	l.settings["sum_zeta"], l.settings["piping_factor"] = f.Sum(), factor
	if !f.Stated(c.Cv) {
		l.assume(l.b.Tag + " passes more for its bore than the standard states its factors for fittings for; they are taken to hold")
	}
	c = f.Fitted(c)
	l.settings["x_tp"], l.settings["f_lp"] = c.XT, c.FL*factor
	return c
}

// tubeFittings adds what the block states of the fittings in a tube: their flow
// coefficient as a resistance in its bore, and a length of it that is passed but
// holds nothing.
func (l *law) tubeFittings(t *device.Tube) {
	switch {
	case l.has("fittings_cv"):
		t.K += device.ResistanceFromCv(l.number("fittings_cv", "fittings_cv"), t.BoreM)
	case l.has("fittings_kv"):
		cv := l.value(l.b, "fittings_kv") / device.KvPerCv
		l.settings["fittings_cv"] = cv
		t.K += device.ResistanceFromCv(cv, t.BoreM)
	}
	if l.has("fittings_length") {
		t.LengthM += l.number("fittings_length", "fittings_length_m")
	}
	l.settings["k"] = t.K
}
