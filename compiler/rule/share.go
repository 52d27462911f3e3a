package rule

import (
	"fmt"
	"math"
	"strconv"

	"tapline/compiler"
	"tapline/lang"
	"tapline/lang/diag"
)

// shares holds what a band says of where the gas at a node comes from.
func (c *Case) shares(b *lang.Block, s spot, level diag.Level) {
	v := b.Get("share")
	if v == nil || v.Null || s.node < 0 {
		return
	}
	for _, e := range v.Map {
		if e.Value.Quantity == nil {
			continue
		}
		value := c.shareOf(e.Key, s.node)
		l, ok := c.limitOf(e.Value.Quantity, s)
		o := compiler.CheckOutcome{
			Name: b.Tag, Source: "band", Case: c.Name, At: s.text, Quantity: "share " + e.Key,
			Min: c.Known(l.low), Max: c.Known(l.high), Status: "unjudged",
		}
		if ok && !math.IsNaN(value) {
			o.Value, o.Margin, o.Status = c.Known(value), c.Known(l.margin(value)), "pass"
			if holds, end := l.holds(value); !holds {
				o.Status = "fail"
				code, word := "band-high", "above"
				if value < end || value == end && l.lowOpen && end == l.low {
					code, word = "band-low", "below"
				}
				c.flag(diag.Diagnostic{
					Code: code, Level: level, Range: e.Value.Range, At: s.text, Value: c.Put(value), Limit: c.Put(end), Unit: "1",
					Message: fmt.Sprintf("the share of %s in the gas at %s is %s, %s %s", e.Key, s.text, shareText(value), word, shareText(end)),
				})
			}
		}
		c.checks = append(c.checks, o)
	}
}

// shareOf is the mole fraction that came in at a source; NaN where the gas of the
// node is not known.
func (c *Case) shareOf(source string, node int) float64 {
	d, ok := c.Program.Device(source)
	list := c.Result.Nodes[node].Shares
	if !ok || !c.solved() || list == nil {
		return math.NaN()
	}
	for _, s := range list {
		if s.Entry == d.In {
			return s.Mole
		}
	}
	return 0
}

// shareText writes a mole fraction so that what is near a whole, or near nothing,
// can still be told from it.
func shareText(x float64) string {
	if x > 0 && x < 1e-4 {
		return strconv.FormatFloat(1e6*x, 'g', 3, 64) + " ppm"
	}
	return strconv.FormatFloat(100*x, 'g', 6, 64) + " %"
}
