package solver

import (
	"errors"
	"math"

	"tapline/solver/fluid"
)

// Temperatures follow from the flows: throttling keeps the enthalpy, the device
// or tube then exchanges heat with its surroundings, junctions mix enthalpy by
// mass. With the flows known one sweep downstream solves this exactly. Flow and
// temperature are then iterated in turn: a warmer gas flows a little less.

// idle is the share of what could pass a node wide open below which its flow is
// rounding.
const idle = 1e-9

// stream is what arrives at a node: the flow [kg/s], its enthalpy [W], and
// temperature [K] and specific enthalpy [J/kg] of what came last.
type stream struct {
	mass, enthalpy float64
	tK, h          float64
	several        bool // what came is not all
}

// A leg is the flow of an element, in its direction; mass is 0 where there is none.
type leg struct {
	from, to int
	mass     float64 // kg/s
}

// energy holds the scratch of the sweep.
type energy struct {
	arrives  []stream
	waits    []int     // flows that have not yet arrived
	enthalpy []float64 // per node, where last known [J/kg]

	nodes, tubes      []caloric // where the gases of nodes and tubes were taken
	throttled, leaves []caloric // per element: before and after its exchange of heat
	inside            []conductor
	isobar            fluid.Isobar // of the element looked at
}

func newEnergy(nodes, elements int) *energy {
	return &energy{
		arrives: make([]stream, nodes), waits: make([]int, nodes), enthalpy: make([]float64, nodes),
		nodes: make([]caloric, nodes), tubes: make([]caloric, elements), throttled: make([]caloric, elements), leaves: make([]caloric, elements),
		inside: make([]conductor, elements),
	}
}

// forget lets go of what is known of the fluids.
func (en *energy) forget() {
	clear(en.nodes)
	clear(en.tubes)
	clear(en.inside)
	clear(en.throttled)
	clear(en.leaves)
}

// flows reports whether element i carries gas from and to the nodes given, and
// what compositions and temperatures follow [kg/s]: its flow, or one that lags.
func (w *Workspace) flows(i int) (from, to int, mass float64, ok bool) {
	e := &w.net.Elements[i]
	m := w.linear[i]
	if w.damping.on {
		m = w.damping.flow[i] // lags behind what shuts, too
	} else if !w.inPlay(i) || !w.sites.carries(w.net, i) {
		m = 0
	}
	if m == 0 {
		return 0, 0, 0, false
	}
	if m > 0 {
		return e.From, e.To, m, true
	}
	return e.To, e.From, -m, true
}

// Sweeps of a pass round a ring. What is not settled then goes on in the next pass;
// where a gas has no state on the way it costs much to find that out again.
const mostHeatSweeps, leastHeatSweeps = 30, 4

// temperatures follows the heat through the present flows and gives the largest
// change of a temperature that a law rests on [K].
func (w *Workspace) temperatures() (largest float64) {
	if w.c.Thermal == Isothermal {
		return 0
	}
	for k := range mostHeatSweeps {
		ring, changed := w.sweepHeat()
		largest = max(largest, changed)
		if !ring || changed <= 0.01*temperatureTol || k >= leastHeatSweeps && w.trouble() != nil {
			break
		}
	}
	return largest
}

// sweepHeat goes through all nodes downstream. A ring that flow follows round
// (static head can drive one) is cut where it is met first: what comes round to
// there is taken as it last was.
func (w *Workspace) sweepHeat() (ring bool, largest float64) {
	en := w.energy
	for i := range en.waits {
		en.arrives[i] = stream{}
	}
	w.count(en.waits)
	w.queue = w.queue[:0]
	for i, k := range en.waits {
		if k == 0 {
			w.queue = append(w.queue, i)
		}
	}
	largest = max(largest, w.drain())
	for i, k := range en.waits {
		if k <= 0 {
			continue
		}
		ring = true
		for _, at := range w.net.at[i] {
			if l := &w.legs[at.element]; l.mass > 0 && l.to == i && en.waits[l.from] > 0 {
				w.comesRound(at.element, l)
			}
		}
		en.waits[i] = 0
		w.queue = append(w.queue, i)
		largest = max(largest, w.drain())
	}
	return ring, largest
}

// drain goes on from the nodes at which all has arrived, the latest first: it follows a
// run to its end, and the runs of a network stand together in memory.
func (w *Workspace) drain() (largest float64) {
	for len(w.queue) > 0 {
		i := w.queue[len(w.queue)-1]
		w.queue = w.queue[:len(w.queue)-1]
		largest = max(largest, w.leave(i))
	}
	return largest
}

// comesRound lets a stream arrive at the temperature at which it last did.
func (w *Workspace) comesRound(element int, l *leg) {
	t := w.outlet[element]
	if !(t > 0) {
		t = w.temperature[l.from]
	}
	h, _, err := w.fluidAt(l.from).Enthalpy(t, w.p[l.to])
	if err != nil {
		w.problem[l.to] = err
		return
	}
	w.energy.arrives[l.to].add(l.mass, t, h)
}

// add adds what arrives.
func (s *stream) add(mass, tK, h float64) {
	s.several = s.mass > 0
	s.tK, s.h = tK, h
	s.mass += mass
	s.enthalpy += mass * h
}

// leave sets the temperature of a node at which all flows have arrived and
// sends its gas on. It gives the largest change of a temperature that a law
// rests on.
func (w *Workspace) leave(i int) (change float64) {
	en := w.energy
	if w.sites.place[i] != moving && en.arrives[i].mass == 0 {
		t := w.surroundings(i)
		change = math.Abs(t - w.temperature[i])
		w.temperature[i] = t
		return change
	}
	t, h := w.nodeState(i)
	if !finite(t) {
		t, h = w.temperature[i], math.NaN()
	}
	if change = math.Abs(t - w.temperature[i]); en.arrives[i].mass < idle*w.scale[i]*w.p[i] {
		change = 0 // what passes is rounding, and may come from either side
	}
	if w.damping.on {
		t, h = w.dampHeat(i, w.temperature[i], t), math.NaN()
	}
	w.temperature[i] = t
	gas := w.fluidAt(i)
	if _, tabled := gas.(*fluid.Table); math.IsNaN(h) || !tabled { // whose state may be none
		var ok bool
		if h, ok = w.renew(i); !ok {
			h = en.enthalpy[i]
		}
	}
	en.enthalpy[i] = h
	for _, at := range w.net.at[i] {
		l := &w.legs[at.element]
		if l.from != i || l.mass == 0 {
			continue
		}
		out, hOut := w.carry(at.element, gas, l, h)
		if w.c.Devices[at.element].Mean { // whose law rests on it
			change = max(change, math.Abs(out-w.outlet[at.element]))
		}
		w.outlet[at.element] = out
		en.arrives[l.to].add(l.mass, out, hOut)
		if en.waits[l.to]--; en.waits[l.to] == 0 {
			w.queue = append(w.queue, l.to)
		}
	}
	return change
}

// surroundings is the temperature that node i takes at rest: ambient, or the
// coolest trace where all that ends there is traced.
func (w *Workspace) surroundings(i int) float64 {
	t := math.Inf(1)
	for _, at := range w.net.at[i] {
		wall := w.c.Devices[at.element].Heat.WallK
		if wall == 0 || w.c.Thermal != Exchange {
			return w.c.AmbientK
		}
		t = min(t, wall)
	}
	if !finite(t) {
		return w.c.AmbientK
	}
	return t
}

// nodeState mixes what arrives at node i with what enters there: temperature and
// enthalpy, NaN where that is to be asked.
func (w *Workspace) nodeState(i int) (t, h float64) {
	c, s := &w.c.Conditions[i], &w.energy.arrives[i]
	mass, enthalpy := s.mass, s.enthalpy
	if c.Kind == Pressure && (c.Fluid >= 0 || mass == 0) {
		return c.TemperatureK, math.NaN()
	}
	if enters := w.enters(i, mass); enters > 0 {
		if mass == 0 {
			return c.TemperatureK, math.NaN()
		}
		h, _, err := w.standIn(w.own(i)).Enthalpy(c.TemperatureK, w.p[i])
		if err != nil {
			w.problem[i] = err
			return c.TemperatureK, math.NaN()
		}
		mass += enters
		enthalpy += enters * h
	} else if mass == 0 {
		return w.temperature[i], math.NaN()
	} else if !s.several {
		return s.tK, s.h
	}
	h = enthalpy / mass
	t, err := w.fluidAt(i).TemperatureAt(h, w.p[i], w.temperature[i])
	if err != nil {
		w.problem[i] = err
		return wall(err, w.temperature[i]), math.NaN()
	}
	return t, h
}

// wall is the temperature at which the search for an enthalpy ended on a state
// that is no gas: the last there is one. Iterations that pass through, or end
// there, stay near; where the error tells of no such state it is otherwise [K].
func wall(err error, otherwise float64) float64 {
	var no *fluid.StateError
	if errors.As(err, &no) && no.TemperatureK > 0 && no.TemperatureK < otherwise {
		return no.TemperatureK * (1 + 2e-7)
	}
	return otherwise
}

// carry takes gas of enthalpy h along a leg to the pressure at its end: its temperature and enthalpy where it leaves.
func (w *Workspace) carry(element int, gas fluid.Fluid, l *leg, h float64) (t, hOut float64) {
	guess := w.outlet[element]
	if !(guess > 0) {
		guess = w.temperature[l.from]
	}
	heat := &w.c.Devices[element].Heat
	exchanges, within := w.c.Thermal == Exchange && (heat.UAWK > 0 || heat.LengthM > 0), caloricK
	if exchanges {
		within = exchangeK
	}
	k, p := &w.energy.throttled[element], w.p[l.to]
	t, err := k.temperature(&w.energy.isobar, gas, h, p, guess, within)
	if err != nil {
		w.problem[l.to] = err
		return wall(err, w.temperature[l.from]), h
	}
	if !exchanges {
		return t, h
	}
	wall := heat.WallK
	if wall == 0 {
		wall = w.c.AmbientK
	}
	ua := heat.UAWK
	if heat.LengthM > 0 {
		g := &w.mean[element]
		ua += heat.LengthM * tubeConductance(heat, w.energy.inside[element].at(gas, g), g, l.mass, k.cp)
	}
	t = wall + (t-wall)*decay(ua/(l.mass*k.cp))
	if hOut, err = w.energy.leaves[element].enthalpy(&w.energy.isobar, gas, t, p); err != nil {
		w.problem[l.to] = err
		return t, h
	}
	return t, hOut
}
