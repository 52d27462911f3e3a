package solver

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
