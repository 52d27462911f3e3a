package report

import (
	"fmt"
	"strings"

	"tapline/compiler"
)

// The tables of spreads: one a spread, a row a limit, with the range of what was
// found, the share inside, and the worst case by name. As with cases, bands always
// have a row, other limits where a case fails them or could not be judged.

func (w *writer) spreads(s *compiler.SystemOutcome) {
	u := unitsOf(s)
	for i := range s.Spreads {
		w.spread(u, &s.Spreads[i])
	}
}

func (w *writer) spread(u units, s *compiler.SpreadOutcome) {
	w.broken(spreadHead(s), bold)
	var moves []string
	for _, v := range s.Variables {
		moves = append(moves, v.Name+" "+v.Text)
	}
	const most = 12
	if more := len(moves) - most; more > 0 {
		moves = append(moves[:most], fmt.Sprintf("%d more", more))
	}
	if s.Of != "rows" {
		w.broken(strings.Join(moves, "; "), "")
	}
	for _, c := range s.UnsolvedCases {
		w.broken("not solved: "+strings.TrimPrefix(c.Case, s.Name+": ")+": "+c.Reason, red)
	}
	if more := s.Unsolved - len(s.UnsolvedCases); more > 0 {
		w.broken(fmt.Sprintf("not solved: %d more", more), red)
	}
	share := "share of combinations inside"
	switch s.Of {
	case "draws":
		share = fmt.Sprintf("share inside (%g %% interval)", 100**s.Confidence)
	case "rows":
		share = "share of rows inside"
	}
	t := &table{
		head:  []cell{{"limit", ""}, {"lowest .. highest", ""}, {share, ""}, {"worst case", ""}},
		words: []bool{true, false, true, true},
	}
	held := 0
	for i := range s.Limits {
		l := &s.Limits[i]
		if l.Source != "band" && l.Inside == l.Judged && l.Unjudged <= s.Unsolved {
			held++
			continue
		}
		t.rows = append(t.rows, u.spreadRow(s, l))
	}
	if len(t.rows) > 0 {
		w.WriteByte('\n')
		t.write(&w.Builder, w.Width, w.painter)
	}
	if held > 0 {
		w.sentence(fmt.Sprintf("%s of devices or rules, met in every case, not shown.", count(held, "limit", "limits")), 0)
	}
	w.WriteByte('\n')
}

func spreadHead(s *compiler.SpreadOutcome) string {
	of := map[string]string{"combinations": count(s.Cases, "combination", "combinations"), "draws": count(s.Cases, "draw", "draws"), "rows": count(s.Cases, "row", "rows")}[s.Of]
	head := fmt.Sprintf("Spread %q: %s", s.Name, of)
	if s.Seed != nil {
		head += fmt.Sprintf(", seed %d, every tolerance uniform over its width", *s.Seed)
	}
	if s.Kind != "" && s.Kind != "operating" {
		head += ", " + s.Kind
	}
	if s.Unsolved > 0 {
		head += fmt.Sprintf(", %d not solved", s.Unsolved)
	}
	return head
}

func (u units) spreadRow(s *compiler.SpreadOutcome, l *compiler.SpreadLimit) []cell {
	scaleOf := func(v *compiler.SpreadValue) scale {
		through, atmosphere := stream{}, l.AtmospherePa
		if v != nil {
			through.MolarMass, through.DensityKgM3, through.liquid = v.MolarMass, v.LiquidKgM3, v.LiquidKgM3 > 0
			atmosphere = v.AtmospherePa
		}
		return u.of(l.Quantity, atmosphere, through)
	}
	head := scaleOf(l.Worst)
	name := []string{l.Name + ", " + strings.ReplaceAll(l.Quantity, "_", " ")}
	if l.Name != l.At {
		name = []string{l.Name, l.At + " " + strings.ReplaceAll(l.Quantity, "_", " ")}
	}
	c := compiler.CheckOutcome{Min: l.Min, Max: l.Max}
	if b := endsOf(&c, head).String(); b != "" {
		name = append(name, b)
	}
	row := []cell{{strings.Join(name, "\n"), ""}, {"-", ""}, {"-", ""}, {"-", ""}}
	if l.Judged == 0 {
		row[2].text = "not judged"
		return row
	}
	colour := ""
	if l.Inside < l.Judged {
		colour = red
	}
	row[2] = cell{shareOf(s, l), colour}
	if l.Lowest == nil {
		return row
	}
	low, high := scaleOf(l.Lowest).show(l.Lowest.Value), scaleOf(l.Highest).show(l.Highest.Value)
	n := decimals([]float64{low, high})
	lowText, highText := beyond(low, scaleOf(l.Lowest).pointer(l.Min), scaleOf(l.Lowest).pointer(l.Max), n), beyond(high, scaleOf(l.Highest).pointer(l.Min), scaleOf(l.Highest).pointer(l.Max), n)
	row[1] = cell{strings.TrimSpace(lowText) + " .. " + strings.TrimSpace(highText), colour}
	row[3].text = strings.TrimPrefix(l.Worst.Case, s.Name+": ")
	return row
}

// shareOf writes how many cases are inside.
func shareOf(s *compiler.SpreadOutcome, l *compiler.SpreadLimit) string {
	var text string
	switch {
	case l.Inside == l.Judged && l.ShareLow == nil:
		text = "all"
	case l.ShareLow == nil:
		text = fmt.Sprintf("%d of %d", l.Inside, l.Judged)
	default:
		text = fmt.Sprintf("%s %% (%s .. %s)", compact(100**l.Share, 4), compact(100**l.ShareLow, 4), compact(100**l.ShareHigh, 4))
	}
	if l.Unjudged > 0 {
		text += fmt.Sprintf(", %d not judged", l.Unjudged)
	}
	return text
}
