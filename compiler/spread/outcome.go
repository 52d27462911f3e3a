package spread

import (
	"fmt"
	"slices"

	"tapline/compiler"
	"tapline/lang"
	"tapline/lang/diag"
)

// Outcome puts names to a tally of all cases of a spread.
func (t *Tally) Outcome(s *lang.Spread) compiler.SpreadOutcome {
	o := compiler.SpreadOutcome{
		Name: s.Name, Kind: s.Kind, After: append([]string{}, s.After...), Of: s.Of(),
		Cases: t.Cases, Solved: t.Solved, Unsolved: t.Cases - t.Solved, UnsolvedCases: []compiler.UnsolvedCase{},
		Variables: []compiler.SpreadVariable{}, Limits: []compiler.SpreadLimit{},
	}
	if s.Draws > 0 {
		seed, c := s.Seed, confidence
		o.Seed, o.Confidence = &seed, &c
	}
	for _, f := range t.Unsolved {
		o.UnsolvedCases = append(o.UnsolvedCases, compiler.UnsolvedCase{Case: s.CaseName(f.Case), Reason: f.Reason})
	}
	for _, v := range s.Variables {
		one := compiler.SpreadVariable{Name: v.Label, Text: v.Text}
		if v.Values > 0 {
			one.Values = &v.Values
		}
		o.Variables = append(o.Variables, one)
	}
	value := func(v *Value) *compiler.SpreadValue {
		if v == nil {
			return nil
		}
		return &compiler.SpreadValue{
			Case: s.CaseName(v.Case), Value: v.Value, Margin: v.Margin,
			MolarMass: v.MolarMass, LiquidKgM3: v.LiquidKgM3, AtmospherePa: v.AtmospherePa,
		}
	}
	for _, l := range t.Limits {
		one := compiler.SpreadLimit{
			Name: l.Name, Source: l.Source, At: l.At, Quantity: l.Quantity, Min: l.First.Min, Max: l.First.Max,
			Judged: l.Judged, Inside: l.Inside, Unjudged: l.Unjudged, AtmospherePa: l.First.AtmospherePa,
			Lowest: value(l.Lowest), Highest: value(l.Highest), Worst: value(l.Worst),
		}
		if l.Judged > 0 {
			share := float64(l.Inside) / float64(l.Judged)
			one.Share = &share
			if s.Draws > 0 {
				low, high := interval(l.Inside, l.Judged, confidence)
				one.ShareLow, one.ShareHigh = &low, &high
			}
		}
		o.Limits = append(o.Limits, one)
	}
	return o
}

// Diagnostics gives what was flagged: each finding once, of the case that is furthest
// beyond its limit, with the number of cases that have it.
func (t *Tally) Diagnostics(s *lang.Spread, system string) []diag.Diagnostic {
	var out []diag.Diagnostic
	for _, f := range t.Flags {
		d := f.Worst
		d.System, d.Case = system, s.CaseName(f.Case)
		d.Related = slices.Clone(d.Related)
		if f.Cases > 1 {
			d.Message += fmt.Sprintf("; so in %d of the %d cases of the spread %q, here furthest", f.Cases, t.Cases, s.Name)
		}
		out = append(out, d)
	}
	return out
}
