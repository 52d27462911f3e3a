package solver

import (
	"math"

	"tapline/solver/device"
)

// columned is a law with a rise, of which a fluid at rest hangs.
type columned interface {
	HeadPa(g *device.Gas) float64
}

// columns brings the heads of all rises up to date, and gives their sum.
func (w *Workspace) columns() (sum float64) {
	for i := range w.net.Elements {
		w.sites.head[i] = 0
		if c, ok := w.c.Devices[i].Passage.(columned); ok {
			w.sites.head[i] = c.HeadPa(&w.mean[i])
			sum += math.Abs(w.sites.head[i])
		}
	}
	return sum
}

// mayBreak reports whether the columns of liquid in the network weigh so much that
// one of them may pull a vacuum and break: it then has no steady state here.
func (w *Workspace) mayBreak() bool {
	least := w.highest
	liquid := false
	for i := range w.p {
		if w.fixed[i] {
			least = min(least, w.p[i])
		}
		liquid = liquid || w.gas[i].Liquid
	}
	return liquid && w.columns() >= least
}
