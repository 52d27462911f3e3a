package device

// A Part is a passage that stands partly open: Share of what Open passes, as a lift
// acts everywhere in this package.
type Part struct {
	Open  Law
	Share float64 // 0..1
}

// Flow implements Law.
func (p Part) Flow(pUp, pDown float64, g *Gas) Flow {
	if !(p.Share > 0) {
		return closed()
	}
	f := p.Open.Flow(pUp, pDown, g)
	f.W *= p.Share
	f.Up *= p.Share
	f.Down *= p.Share
	f.Root *= p.Share
	return f
}
