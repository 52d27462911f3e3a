package solver

import "math"

// Where a device's opening rises with the pressure that its own flow raises, or
// falls with the pressure its flow lowers, the network leaves the class in which
// the answer is known to be one: supply effect of a reducer, outlet effect of a
// holder, a loading that follows a node. Such a case is solved again, with the
// gases and temperatures of the first answer, from all-low and from all-high: the
// loads of the wrong sense are held at what these pressures make and replaced by
// what the answer makes until they agree. Where each load only feeds itself
// and the others upwards this finds the lowest and the highest answer there is
// (Tarski's fixed points), so one and the same from both ends is the only one.
// Where a load moves to and fro without closing in, or a dome follows a pressure of the network, the
// pressures are also led from all-low and all-high in pseudo-time. Another place
// reached is another answer.

// mayHaveSeveral reports whether a law in the case has a slope of the wrong sign.
func (w *Workspace) mayHaveSeveral() bool {
	for i := range w.c.Devices {
		d := &w.c.Devices[i]
		if l := d.Lift; d.Passage != nil && l != nil && (l.Up < 0 || l.Down > 0 || l.Ref != 0) {
			return true
		}
	}
	return false
}

// An Answer is a further steady state of a case.
type Answer struct {
	Start    string // from where it was found: "all low", "all high", "after lifting"
	Nodes    []NodeResult
	Elements []ElementResult
}

// otherAnswers solves from all-low and all-high starts and records what differs
// from r. It reports whether it is sure of what it found. The workspace ends with the
// last of them.
func (w *Workspace) otherAnswers(r *Result) (sure bool) {
	before := len(r.Others)
	defer func() { r.Several = len(r.Others) > before }()
	sure = true
	for _, high := range []bool{false, true} {
		start := "all low"
		if high {
			start = "all high"
		}
		settled, surely := w.substitute(high)
		if settled {
			w.note(r, start)
		}
		if surely && !w.domes {
			continue
		}
		sure = false
		if w.flat(high); w.pseudoTime() || w.hydraulics(elementTol) != NotFound {
			w.note(r, start) // if nothing was found there may be more answers than are said
		}
	}
	return sure
}

// domed reports whether a dome follows a pressure that is solved for.
func (w *Workspace) domed() bool {
	for i := range w.c.Devices {
		if d := &w.c.Devices[i]; d.Passage != nil && d.Lift != nil && d.Lift.Ref != 0 && !w.fixed[w.net.Elements[i].Sense] {
			return true
		}
	}
	return false
}

// note records the present answer in r where it is another. The gases and
// temperatures of the first answer led to it; they are now made its own.
func (w *Workspace) note(r *Result, start string) {
	if w.asLeft || !w.another(r.Nodes) {
		return // what was left at its start's pressure says nothing of another answer
	}
	if s, _ := w.passes(mostPasses); s == NotFound || w.asLeft || w.worstViolation() >= 0 || !w.another(r.Nodes) {
		return
	}
	for _, known := range r.Others {
		if !w.another(known.Nodes) {
			return
		}
	}
	var o Result
	if w.report(&o); o.Status == Solved {
		r.Others = append(r.Others, Answer{start, o.Nodes, o.Elements})
	}
}

// another reports whether the present pressures differ from an answer's. What
// rests in both may rest at what it was before; that is said of dead ends as such
// and makes no other answer.
func (w *Workspace) another(known []NodeResult) bool {
	for i := range known {
		k := &known[i]
		if k.State == Trapped || w.sites.place[i] == trapped {
			continue
		}
		p := w.level(i)
		if w.sites.place[i] == filled {
			p = w.locked[i]
		}
		flows := k.State == Flowing || w.sites.place[i] == moving
		if flows && math.Abs(p/k.PressurePa-1) > 1e-6 {
			return true
		}
	}
	return false
}

// substitute starts from the loads of the wrong sense that all-low or all-high
// pressures make, holds them, and gives them again and again what the answer
// makes. It reports whether that settled, and whether surely so: every load moved
// one way only, or every move was at most half the one before. Where moves shrink
// like that and have come next to the answer known already, they lead there: that is
// sure, and they are not followed to the end.
func (w *Workspace) substitute(high bool) (settled, surely bool) {
	w.from(w.final.stance)
	w.settle(false)
	w.gather(&w.known)
	w.flat(high)
	h := &w.ends
	w.gather(h)
	w.from(w.final.stance) // the answer to held loads is one, whatever the start
	defer w.hold(nil)
	oneWay, shrinks, last := true, true, math.Inf(1)
	way := w.known.now // of the first move
	clear(way)
	for range mostSubstitutions {
		tol := elementTol
		if last > leadsHome {
			tol = min(max(farTol, farShare*last), roughTol[2])
		}
		if !w.respond(h, tol) {
			return false, false
		}
		if h.agree() {
			return true, oneWay || shrinks
		}
		miss := h.miss()
		if shrinks = shrinks && miss <= 0.5*last; shrinks && h.near(w.known.made, min(miss, leadsHome)) {
			return false, true
		}
		last = miss
		for k := range h.now {
			switch by := h.made[k] - h.now[k]; {
			case math.Abs(by) <= 1e-9*(h.high[k]-h.low[k]):
			case way[k] == 0:
				way[k] = by
			default:
				oneWay = oneWay && by*way[k] > 0
			}
		}
		copy(h.now, h.made)
	}
	return false, false
}

// A stance is where an iteration stands.
type stance struct {
	p, linear []float64
	regime    []regime
}

func (w *Workspace) stand() (s stance) {
	s.copy(w)
	return s
}

func (s *stance) copy(w *Workspace) {
	s.p = append(s.p[:0], w.p...)
	s.linear = append(s.linear[:0], w.linear...)
	s.regime = append(s.regime[:0], w.regime...)
}

func (w *Workspace) from(s stance) {
	copy(w.p, s.p)
	copy(w.linear, s.linear)
	copy(w.regime, s.regime)
	w.classified = false
}

// A terminus is where an iteration ended, temperatures and all.
type terminus struct {
	stance
	temperature, outlet []float64
}

func (t *terminus) copy(w *Workspace) {
	t.stance.copy(w)
	t.temperature = append(t.temperature[:0], w.temperature...)
	t.outlet = append(t.outlet[:0], w.outlet...)
}

const (
	mostSubstitutions = 60
	leadsHome         = 1e-3 // distance of a load from the known one, as a share of its box, from which it leads there
	// While loads move by more than that, flows need be no better than this share of the
	// move, and no better than farTol.
	farShare, farTol = 0.01, 1e-5
)

// afterLifting looks for an answer in which the relief devices have lifted before:
// those that jump stand open, the others close along their closing line. Opening
// lowers all pressures before it, so only what stands above its reseat point can
// have stayed open. A burst disc is not asked: it stays open.
func (w *Workspace) afterLifting(r *Result) {
	may := false
	for i := range w.c.Devices {
		d := &w.c.Devices[i]
		switch {
		case d.Passage == nil:
		case d.Snap && !math.IsInf(d.ReseatZ, -1):
			may = may || w.popped[i] || w.liftOf(i) > d.ReseatZ
		case d.Closing != nil:
			e := &w.net.Elements[i]
			closing := own(*d.Closing, e)
			may = may || closing.At(w.level(e.From), w.level(e.To), follows(e, w.ref)) > opensAt
		}
	}
	if !may {
		return
	}
	for i := range w.c.Devices {
		d := &w.c.Devices[i]
		switch {
		case d.Snap && !math.IsInf(d.ReseatZ, -1):
			w.popped[i] = true
		case d.Closing != nil:
			closing := own(*d.Closing, &w.net.Elements[i])
			w.base[i], w.lifts[i] = closing, closing
		}
	}
	before := len(r.Others)
	w.position()
	if s, _ := w.passes(mostPasses); s != NotFound {
		if s, turning := w.flip(); s != NotFound && len(turning) == 0 {
			w.note(r, "after lifting")
		}
	}
	// Several that jump may rest in sets that lie between.
	if ids := w.jumping(); 1 < len(ids) && len(ids) <= mostEnumerated {
		w.eachSet(ids, func() bool {
			w.note(r, "after lifting")
			return true
		})
	}
	r.PathDependent = len(r.Others) > before
}
