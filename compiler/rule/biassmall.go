package rule

import (
	"fmt"

	"tapline/compiler"
	"tapline/lang"
	"tapline/lang/diag"
	"tapline/solver"
)

var biasTooSmall = &Rule{
	Codes:   []string{"bias-too-small"},
	Means:   "a holder whose dome follows the pressure it returns to is open, and its bias is less than the gas loses on its way there: nothing flows, or the holder stands wide open and holds nothing",
	Basis:   "held inlet = ratio times dome + bias, against the pressure behind the holder in an operating case",
	perCase: judgeBias,
}

func judgeBias(c *Case) {
	if !c.solved() || c.Kind != "operating" {
		return
	}
	c.each(func(d *compiler.Device, b *lang.Block) {
		l := c.balance(d)
		dome := c.domeAt(d)
		if d.Kind != "holder" || l == nil || l.Up <= 0 || dome < 0 || l.Ref == 0 || c.Result.Nodes[dome].State == solver.Trapped {
			return
		}
		n := b.Nested("loading")
		if n == nil || !c.quiet(d.Out)[dome] {
			return // its dome follows a pilot, not what it returns to
		}
		e := c.Result.Elements[d.Element]
		in, out, domePa := c.highest(d.In), c.highest(d.Out), c.domePa(d)
		onset, full := inletAt(l, 0, out, domePa), inletAt(l, 1, out, domePa)
		// Without flow: its balance would have it open, and the gas does not get
		// out. With flow: even fully open it is pushed above its band.
		stuck := !(e.FlowKgS > leastReverse) && in >= onset
		floats := e.FlowKgS > leastReverse && in > full
		if !stuck && !floats {
			return
		}
		bias, _ := c.Settings[d.Number]["bias_Pa"].(float64)
		at := n.Get("bias").Range
		if f := b.Nested("balance"); f != nil && f.Has("bias_force") {
			at = f.Get("bias_force").Range
		}
		needs := in - onset + bias
		what := fmt.Sprintf("it stands wide open and holds nothing; its inlet floats at %s, %s above what it is loaded to hold", c.show(in, "pressure"), c.show(in-onset, "drop"))
		if stuck {
			needs = max(in, out) - onset + bias
			what = fmt.Sprintf("it is open and nothing flows; %s stands before it and %s behind", c.show(in, "pressure"), c.show(out, "pressure"))
		}
		c.flag(diag.Diagnostic{
			Code: "bias-too-small", Level: diag.Alarm, Range: at, At: d.Tag, Value: c.Put(bias), Limit: c.Put(needs), Unit: "Pa",
			Message: fmt.Sprintf("the bias of %s, %s over %s, does not cover what is lost on the way there: %s", d.Tag, c.show(bias, "drop"), c.Program.Nodes[dome].Name, what),
			Hint:    fmt.Sprintf("a bias of more than %s, or less loss behind it", c.show(needs, "drop")),
		})
	})
}
