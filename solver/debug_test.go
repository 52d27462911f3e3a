package solver

import (
	"fmt"
	"testing"

	"tapline/solver/fluid"
)

func TestDebug(t *testing.T) {
	n, c, class := generate(*seedFlag, fluid.Ideal(0.0289652, 1.4, 1.8e-5))
	w := NewWorkspace(n)
	r, err := w.Solve(c)
	fmt.Println(class, err, r.Status, r.Stage, r.Iterations, r.Reason)
	for i, e := range n.Elements {
		d := c.Devices[i]
		fmt.Printf("%-4s %2d->%2d sense %d %T lift %v oneway %v regime %d  p %.6g -> %.6g  lin %.4g law %.4g place %d %d res %v %v\n", e.Name, e.From, e.To, e.Sense, d.Passage, d.Lift, d.OneWay, w.regime[i], w.p[e.From], w.p[e.To], w.linear[i], w.link[i].m, w.sites.place[e.From], w.sites.place[e.To], r.Elements[i].State, r.Nodes[e.From].State)
	}
}
