package rule

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"tapline/compiler"
	"tapline/lang"
	"tapline/lang/diag"
)

// Lag bands. The mean is judged, the "transport time to here" of the language; the
// time to 95 %, which stirred volumes and slow ways stretch, stands in the message.

var lagRule = &Rule{
	Codes:     []string{"lag-source", "no-lag", "no-volume", "sorption"},
	Means:     "a lag is limited where nothing arrives (no-lag), or where several sources arrive and the band names none (lag-source); or what the lag passes states no volume (no-volume), or carries water, hydrogen sulphide or ammonia, which come later than it (sorption)",
	Basis:     "volume by volume, what a part holds over what passes it (the principle of ASTM D7278); sorption is not part of it",
	perSystem: lagNotes,
}

// lag holds what a band says of the lag against its spot.
func (c *Case) lag(b *lang.Block, s spot, level diag.Level) {
	v := b.Attrs["lag"]
	if v == nil || v.Null || v.Quantity == nil {
		return
	}
	q := v.Quantity
	l := limit{math.NaN(), math.NaN(), q.LowOpen, q.HighOpen}
	if q.HasLow {
		l.low = q.Low.SI
	}
	if q.HasHigh {
		l.high = q.High.SI
	}
	o := compiler.CheckOutcome{
		Name: b.Tag, Source: "band", Case: c.Name, At: s.text, Quantity: "lag",
		Min: c.Known(l.low), Max: c.Known(l.high), Status: "unjudged",
	}
	lags := c.lagsOf(b, s)
	switch {
	case !c.solved() || len(lags) == 0:
	case len(lags) > 1 && lags[0].Seconds != nil:
		var each []string
		for _, g := range lags {
			each = append(each, fmt.Sprintf("%s (%.3g %%, %s)", g.From, 100*g.Part, seconds(*g.Seconds)))
		}
		c.flag(diag.Diagnostic{
			Code: "lag-source", Level: diag.Caution, Range: v.Range, At: s.text,
			Message: fmt.Sprintf("the lag at %s is not judged: %s feed it and the band names none", s.place(), strings.Join(each, " and ")),
			Hint:    fmt.Sprintf("from = %q", lags[0].From),
		})
	case lags[0].Seconds == nil:
		if q.HasHigh { // what never arrives is later than any limit
			o.Status = "fail"
		}
		from := lags[0].From
		if len(lags) > 1 {
			from = "any source"
		}
		c.flag(diag.Diagnostic{
			Code: "no-lag", Level: level, Range: v.Range, At: s.text,
			Message: fmt.Sprintf("no change at %s arrives at %s: %s", from, s.place(), lags[0].Reason),
			Hint:    "open a way through it, or leave the case out with except or kinds",
		})
	default:
		value := *lags[0].Seconds
		o.Value, o.Margin, o.Status = c.Known(value), c.Known(l.margin(value)), "pass"
		if holds, end := l.holds(value); !holds {
			o.Status = "fail"
			c.late(v, s, &lags[0], end, level)
		}
	}
	c.checks = append(c.checks, o)
}

// leastPart is the part of the flow below which a source does not count beside
// another: a seat that leaks does not make a lag ambiguous.
const leastPart = 1e-3

// lagsOf gives the lags of a case that a band is about.
func (c *Case) lagsOf(b *lang.Block, s spot) (out []compiler.LagOutcome) {
	from := ""
	if v := b.Get("from"); v != nil {
		from = v.Text
	}
	for _, l := range c.Outcome.Lags {
		if l.To == s.text && (from == "" || l.From == from) {
			out = append(out, l)
		}
	}
	if i := slices.IndexFunc(out, func(l compiler.LagOutcome) bool { return l.Part >= 1-leastPart }); i >= 0 {
		return out[i : i+1]
	}
	return out
}

// late flags a lag outside its band and says what takes the time.
func (c *Case) late(v *lang.Value, s spot, l *compiler.LagOutcome, end float64, level diag.Level) {
	code, word, hint := "band-high", "above", "less volume, less pressure or more flow in what takes the time; a bypass back before it"
	value := *l.Seconds
	if value < end || value == end && v.Quantity.LowOpen && !v.Quantity.HasHigh {
		code, word, hint = "band-low", "below", ""
	}
	message := fmt.Sprintf("the lag at %s from %s is %s, %s %s", s.place(), l.From, seconds(value), word, seconds(end))
	if *l.Seconds95 > value*1.001 {
		message += fmt.Sprintf("; 95 %% of a change is there after %s", seconds(*l.Seconds95))
	}
	largest := slices.Clone(l.Segments)
	slices.SortStableFunc(largest, func(a, b compiler.LagSegment) int { return cmp.Compare(b.Seconds, a.Seconds) })
	var most []string
	for _, g := range largest[:min(len(largest), 3)] {
		if g.Seconds >= 0.05*value {
			most = append(most, g.Name+" "+seconds(g.Seconds))
		}
	}
	if len(most) > 0 {
		message += "; of it " + strings.Join(most, ", ")
	}
	c.flag(diag.Diagnostic{
		Code: code, Level: level, Range: v.Range, At: s.text, Value: c.Put(value), Limit: c.Put(end), Unit: "s", Message: message, Hint: hint,
	})
}

// seconds writes a time.
func seconds(s float64) string { return fmt.Sprintf("%.4g s", s) }

// sorbing are the components that walls hold back (common practice), as the trade
// writes them.
var sorbing = []struct{ name, shown string }{
	{"water", "water"}, {"hydrogen_sulfide", "hydrogen sulphide"}, {"ammonia", "ammonia"},
}

// lagNotes says once, over all cases, what the lags that bands limit leave out.
func lagNotes(s *System) {
	var at *lang.Value
	bare, sticky := map[string]bool{}, map[string]bool{}
	for i := range s.Cases {
		c := s.at(i)
		for _, b := range c.Resolved.Blocks {
			if b.Kind != "band" || !b.Has("lag") || !applies(b, c) {
				continue
			}
			if at == nil {
				at = b.Attrs["lag"]
			}
			for _, place := range b.Get("at").Texts() {
				sp, ok := c.spot(place)
				if !ok {
					continue
				}
				for _, l := range c.lagsOf(b, sp) {
					c.passed(&l, sp, bare, sticky)
				}
			}
		}
	}
	if len(bare) > 0 {
		names := s.stirredFirst(bare)
		s.flag(diag.Diagnostic{
			Code: "no-volume", Level: diag.Note, Range: at.NameRange, At: strings.Join(names, ", "),
			Message: fmt.Sprintf("lags count no volume of %s: %s", listed(names, 8), states(len(names))),
			Hint:    `volume = "50 mL"`,
		})
	}
	if len(sticky) > 0 {
		var names []string
		for _, k := range sorbing {
			if sticky[k.shown] {
				names = append(names, k.shown)
			}
		}
		s.flag(diag.Diagnostic{
			Code: "sorption", Level: diag.Note, Range: at.NameRange, At: strings.Join(names, ", "),
			Message: fmt.Sprintf("lags are those of the gas itself; walls hold back %s, which a change shows later", strings.Join(names, " and ")),
			Hint:    "short lines, warm and smooth walls, and a test with the component itself",
		})
	}
}

func states(n int) string {
	if n == 1 {
		return "it states none"
	}
	return "they state none"
}

// passed notes the devices without a volume that a lag passes, and what in the gas
// there sticks to walls.
func (c *Case) passed(l *compiler.LagOutcome, sp spot, bare, sticky map[string]bool) {
	if l.Seconds == nil {
		return
	}
	for _, g := range l.Segments {
		if g.Bare {
			bare[g.Name] = true
		}
	}
	node := sp.node
	if node < 0 {
		node = sp.device.In
	}
	if m, ok := c.Result.Nodes[node].Gas.(interface{ Fractions() ([]string, []float64) }); ok {
		names, x := m.Fractions()
		for _, k := range sorbing {
			if i := slices.Index(names, k.name); i >= 0 && x[i] > 0 {
				sticky[k.shown] = true
			}
		}
	}
}

// stirredFirst sorts tags: filters, vessels and analyzers first, whose volumes
// count most.
func (s *System) stirredFirst(tags map[string]bool) []string {
	var first, rest []string
	for i := range s.Program.Devices {
		switch d := &s.Program.Devices[i]; {
		case !tags[d.Tag]:
		case d.Kind == "filter" || d.Kind == "vessel" || d.Kind == "analyzer":
			first = append(first, d.Tag)
		default:
			rest = append(rest, d.Tag)
		}
	}
	return append(first, rest...)
}

// listed joins names for a sentence, at most n of them.
func listed(names []string, n int) string {
	if len(names) > n {
		return strings.Join(names[:n], ", ") + fmt.Sprintf(" and %d more", len(names)-n)
	}
	return strings.Join(names, ", ")
}
