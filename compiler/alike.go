package compiler

import "tapline/lang"

// Cases of a system differ from one another in little. What rests on nothing but the
// block of a device, the site and the gas that is meant to be there is made for the
// first case and taken over by those that have the same.
//
// Blocks that no layer of a case touches are shared with the description, and equal
// compositions are one fluid, so that the same is the same pointer. In a spread it is
// not: there a block changes under its pointer, and nothing is taken over.

// sameSite tells whether c stands where the case that it is alike to stands, whatever
// the air's temperature.
func (c *Case) sameSite() bool {
	if c.like == nil || c.like.Site.AtmospherePa != c.Site.AtmospherePa {
		return false
	}
	a, b := c.like.Site.Reference, c.Site.Reference
	return a == b || a != nil && b != nil && *a == *b
}

// changed lists the blocks that are not those of the case that c is alike to.
func (c *Case) changed() []*lang.Block {
	if !c.sameSite() {
		return c.Resolved.Blocks
	}
	var out []*lang.Block
	for i, b := range c.Resolved.Blocks {
		if b != c.like.Resolved.Blocks[i] {
			out = append(out, b)
		}
	}
	return out
}

// takeOver gives device i the law that it has in the case that c is alike to, where it
// would come out the same.
func (p *Program) takeOver(i int, c *Case) bool {
	d := &p.Devices[i]
	switch d.Kind {
	case "reducer", "holder", "relief", "flow_controller":
		return false // rest on the base's answer, or are told more once solved
	}
	if !c.sameSite() || c.like.Blocks[i] != c.Blocks[i] || c.like.gases[d.In] != c.gases[d.In] ||
		c.like.AmbientK != c.AmbientK && feelsAir(d) {
		return false
	}
	c.Settings[i], c.Solver.Devices[d.Element] = c.like.Settings[i], c.like.Solver.Devices[d.Element]
	return true
}
