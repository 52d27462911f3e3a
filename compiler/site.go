package compiler

import (
	"slices"
	"strings"
	"sync"

	"tapline/lang"
	"tapline/lang/diag"
	"tapline/lang/quantity"
	"tapline/solver/fluid"
)

// siteOf reads what a case says of the place.
func siteOf(b *lang.Block) (site quantity.Site, ambientK float64) {
	if v := b.Get("reference_state"); v != nil && v.Reference != nil {
		ref := *v.Reference
		site.Reference = &ref
	}
	r := reader{}
	if v := b.Get("atmosphere"); v != nil && !v.Null {
		// A gauge pressure of the atmosphere itself is refused by its limits, and
		// would be zero here.
		site.AtmospherePa = v.Quantity.Nominal.PressurePa(quantity.Site{})
	} else {
		site.AtmospherePa = quantity.StandardAtmospherePa(r.value(b, "elevation"))
	}
	return site, r.value(b, "ambient")
}

// fluids makes the gases of a case by name. Equal compositions give one and the
// same gas, over all cases, so that their properties are prepared once. It may be
// used from several goroutines, but for one that is lent.
type fluids struct {
	mu   sync.Mutex
	made map[string]fluid.Composed
	used []FluidBasis // in the order in which they were asked for
	read map[atSite]fluid.Composed

	shared *Fluids // with other systems; may be nil

	// Of one that is lent to a goroutine of a spread: where it takes from what is made
	// already, and what the blocks that do not move come to.
	from *fluids
	same map[*lang.Block]fluid.Composed
}

func newFluids() *fluids {
	return &fluids{made: map[string]fluid.Composed{}, read: map[atSite]fluid.Composed{}}
}

// atSite is all that the fluid of a block depends on, the atmosphere for the sake of a
// water dew point. A block that no case touches is the same in all of them.
type atSite struct {
	block        *lang.Block
	atmospherePa float64
}

// lend gives one for a single goroutine, which takes what f has and keeps no more
// than mostLent of its own: a spread may have a gas for every case.
func (f *fluids) lend() *fluids {
	return &fluids{made: map[string]fluid.Composed{}, from: f, same: map[*lang.Block]fluid.Composed{}}
}

const mostLent = 256

// get makes the gas that a fluid block describes.
func (f *fluids) get(b *lang.Block, r *reader) fluid.Composed {
	if f.from != nil {
		return f.lent(b, r)
	}
	f.mu.Lock()
	defer f.mu.Unlock()
	at := atSite{b, r.site.AtmospherePa}
	if m := f.read[at]; m != nil {
		return m
	}
	c, ok := recipeOf(b, r)
	if !ok {
		return nil
	}
	key := c.key()
	m := f.made[key]
	if m == nil {
		if m = f.shared.get(&c, r); m == nil {
			return nil
		}
		f.made[key] = m
	}
	f.use(basisOf(b.Tag, m))
	f.read[at] = m
	return m
}

func (f *fluids) lent(b *lang.Block, r *reader) fluid.Composed {
	if m := f.same[b]; m != nil {
		return m
	}
	c, ok := recipeOf(b, r)
	if !ok {
		return nil
	}
	key := c.key()
	m := f.made[key]
	if m == nil {
		f.from.mu.Lock()
		m = f.from.made[key]
		f.from.mu.Unlock()
	}
	if m == nil {
		if m = c.fluid(r); m == nil {
			return nil
		}
		if len(f.made) >= mostLent {
			clear(f.made)
		}
		f.made[key] = m
	}
	f.same[b] = m
	return m
}

// forget drops what holds for one case of a spread only.
func (f *fluids) forget() { clear(f.same) }

// use notes what a fluid rests on. Compositions of several cases that rest on the same
// equation are one, with the greatest error and all that is to be known of any.
func (f *fluids) use(b FluidBasis) {
	for i := range f.used {
		u := &f.used[i]
		if u.Name == b.Name && u.Equation == b.Equation {
			u.DensityError = max(u.DensityError, b.DensityError)
			u.Note, u.Plain = together(u.Note, b.Note), u.Plain && b.Plain
			return
		}
	}
	f.used = append(f.used, b)
}

// together joins what two notes say, each part once, in an order of its own where they
// differ.
func together(a, b string) string {
	if a == b || b == "" {
		return a
	}
	parts := append(strings.Split(a, noteEnd), strings.Split(b, noteEnd)...)
	slices.Sort(parts)
	parts = slices.DeleteFunc(slices.Compact(parts), func(p string) bool { return p == "" })
	return strings.Join(parts, noteEnd)
}

// noteEnd parts the notes of a fluid.
const noteEnd = "; "

// gas is what is meant to be at a node, before anything is solved: what devices
// there are taken to be made and set for.
type gas struct {
	mixture fluid.Composed // nil where none reaches
	source  int            // index into Program.Devices
	unlike  bool           // an unlike gas can reach it too
}

// intended gives every node the gas of the nearest source along the paths, or of
// one that can reach it at all where none does along them.
func (p *Program) intended(gases map[int]fluid.Composed, closed, leaks func(device int) bool) (at []gas, meet *diag.Diagnostic) {
	at = make([]gas, len(p.Nodes))
	var queue []int
	for i := range p.Nodes {
		at[i].source = -1
		if b := p.Nodes[i].Boundary; p.isSource(i) && gases[b] != nil {
			at[i] = gas{mixture: gases[b], source: b}
			queue = append(queue, i)
		}
	}
	const forth, back = 1, 2
	passes := make([]int, len(p.Devices)) // which ways
	for i := range p.Devices {
		d := &p.Devices[i]
		if d.Element < 0 || closed(i) {
			continue
		}
		passes[i] = forth
		if !oneWay(d.Kind) || leaks(i) {
			passes[i] |= back
		}
	}
	open := func(h hop) bool {
		if h.back {
			return passes[h.device]&back != 0
		}
		return passes[h.device]&forth != 0
	}
	ends := func(n int) bool { // nothing goes on behind a vent
		b := p.Nodes[n].Boundary
		return b >= 0 && at[n].source != b
	}
	for _, backToo := range []bool{false, true} {
		for q := 0; q < len(queue); q++ {
			n := queue[q]
			for _, h := range p.hops[n] {
				if at[h.to].mixture == nil && (backToo || !h.back) && open(h) && !ends(n) {
					at[h.to] = at[n]
					queue = append(queue, h.to)
				}
			}
		}
	}
	// Where unlike gases meet, and all that lies behind.
	queue = queue[:0]
	for n := range at {
		if at[n].mixture != nil {
			queue = append(queue, n)
		}
	}
	for q := 0; q < len(queue); q++ {
		n := queue[q]
		for _, h := range p.hops[n] {
			if !open(h) {
				continue
			}
			t := &at[h.to]
			if meet == nil && t.mixture != nil && !ends(n) && at[n].mixture.Basis().Phase != t.mixture.Basis().Phase {
				meet = p.phasesMeet(&at[n], t, h.to)
			}
			if !t.unlike && (at[n].unlike || at[n].mixture != t.mixture) && !ends(n) && !p.isSource(h.to) {
				t.unlike = true
				queue = append(queue, h.to)
			}
		}
	}
	return at, meet
}

// phasesMeet says that a gas and a liquid can come together.
func (p *Program) phasesMeet(a, b *gas, node int) *diag.Diagnostic {
	if a.mixture.Basis().Phase != fluid.Liquid {
		a, b = b, a
	}
	liquid, other := &p.Devices[a.source], &p.Devices[b.source]
	return &diag.Diagnostic{
		Code: "phases-meet", Level: diag.Error, Range: liquid.Block.TagRange,
		Message: "the liquid of " + liquid.Tag + " and the gas of " + other.Tag + " can meet at " + p.Nodes[node].Name + "; what gas and liquid do together is not computed",
		Hint:    "shut a valve or put a check valve between them, or lead them to separate vents",
		Related: []diag.Related{{Range: other.Block.TagRange, Message: other.Tag}},
	}
}
