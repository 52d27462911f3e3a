package compiler

import (
	"sync"

	"tapline/solver/fluid"
)

// maxShared bounds the fluids that are kept: systems that all differ would
// otherwise hold them, with their tables, to the end of the run.
const maxShared = 256

// Fluids are lent from one system to the next, so that what is worked out about
// a composition once (its tables, its dew curve) serves every system that has
// it. A fluid never changes, so no answer depends on who made it. The zero value
// is ready; it may be used from several goroutines.
type Fluids struct {
	mu   sync.Mutex
	made map[string]fluid.Composed
}

// get makes the fluid of a recipe, or takes the one made before; nil where it
// cannot be made. A nil Fluids makes it anew.
func (f *Fluids) get(c *recipe, r *reader) fluid.Composed {
	if f == nil {
		return c.fluid(r)
	}
	key := c.key()
	f.mu.Lock()
	m := f.made[key]
	f.mu.Unlock()
	if m != nil {
		return m
	}
	if m = c.fluid(r); m == nil {
		return nil
	}
	f.mu.Lock()
	defer f.mu.Unlock()
	if other := f.made[key]; other != nil {
		return other
	}
	if f.made == nil {
		f.made = map[string]fluid.Composed{}
	}
	if len(f.made) < maxShared {
		f.made[key] = m
	}
	return m
}
