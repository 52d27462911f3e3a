package solver

import (
	"errors"
	"math"

	"tapline/solver/device"
	"tapline/solver/fluid"
)

// Temperatures follow from the flows: throttling keeps the enthalpy, the device
// or tube then exchanges heat with its surroundings, junctions mix enthalpy by
// mass. With the flows known one sweep downstream solves this exactly. Flow and
// temperature are then iterated in turn: a warmer gas flows a little less.

// idle is the share of what could pass a node wide open below which its flow is
// rounding.
const idle = 1e-9

// stream is what arrives at a node.
type stream struct{ mass, enthalpy float64 }

// energy holds the scratch of the sweep.
type energy struct {
	arrives  []stream
	single   []float64 // temperature of the only stream that arrives, NaN for several
	waits    []int     // flows that have not yet arrived
	enthalpy []float64 // per node [J/kg]

	nodes, tubes      []caloric // where the gases of nodes and tubes were taken
	throttled, leaves []caloric // per element: before and after its exchange of heat
	inside            []conductor
}

func newEnergy(nodes, elements int) *energy {
	return &energy{
		make([]stream, nodes), make([]float64, nodes), make([]int, nodes), make([]float64, nodes),
		make([]caloric, nodes), make([]caloric, elements), make([]caloric, elements), make([]caloric, elements),
		make([]conductor, elements),
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
		en.arrives[i], en.single[i] = stream{}, math.NaN()
	}
	w.count(en.waits)
	w.queue = w.queue[:0]
	for i, k := range en.waits {
		if k == 0 {
			w.queue = append(w.queue, i)
		}
	}
	for q := 0; q < len(w.queue); q++ {
		largest = max(largest, w.leave(w.queue[q]))
	}
	for i, k := range en.waits {
		if k <= 0 {
			continue
		}
		ring = true
		for _, at := range w.net.at[i] {
			if from, to, mass, ok := w.flows(at.element); ok && to == i && en.waits[from] > 0 {
				w.comesRound(at.element, from, i, mass)
			}
		}
		en.waits[i] = 0
		w.queue = append(w.queue, i)
		for q := len(w.queue) - 1; q < len(w.queue); q++ {
			largest = max(largest, w.leave(w.queue[q]))
		}
	}
	return ring, largest
}

// comesRound lets a stream arrive at the temperature at which it last did.
func (w *Workspace) comesRound(element, from, to int, mass float64) {
	t := w.outlet[element]
	if !(t > 0) {
		t = w.temperature[from]
	}
	h, _, err := w.fluidAt(from).Enthalpy(t, w.p[to])
	if err != nil {
		w.problem[to] = err
		return
	}
	w.arrive(to, mass, h, t)
}

// arrive adds a stream to what arrives at a node.
func (w *Workspace) arrive(to int, mass, h, tK float64) {
	en := w.energy
	s := &en.arrives[to]
	if s.mass == 0 {
		en.single[to] = tK
	} else {
		en.single[to] = math.NaN()
	}
	s.mass += mass
	s.enthalpy += mass * h
}

// leave sets the temperature of a node at which all flows have arrived and
// sends its gas on. It gives the largest change of a temperature that a law
// rests on.
func (w *Workspace) leave(i int) (change float64) {
	en := w.energy
	if w.sites.place[i] != moving && w.energy.arrives[i].mass == 0 {
		t := w.surroundings(i)
		change = math.Abs(t - w.temperature[i])
		w.temperature[i] = t
		return change
	}
	t := w.nodeTemperature(i)
	if !finite(t) {
		t = w.temperature[i]
	}
	if change = math.Abs(t - w.temperature[i]); en.arrives[i].mass < idle*w.scale[i]*w.p[i] {
		change = 0 // what passes is rounding, and may come from either side
	}
	w.temperature[i] = w.dampHeat(i, w.temperature[i], t)
	gas := w.fluidAt(i)
	if h, ok := w.renew(i); ok {
		en.enthalpy[i] = h
	}
	h := en.enthalpy[i]
	for _, at := range w.net.at[i] {
		from, to, mass, ok := w.flows(at.element)
		if !ok || from != i {
			continue
		}
		out, hOut := w.carry(at.element, gas, i, to, mass, h)
		if w.c.Devices[at.element].Mean { // whose law rests on it
			change = max(change, math.Abs(out-w.outlet[at.element]))
		}
		w.outlet[at.element] = out
		w.arrive(to, mass, hOut, out)
		if en.waits[to]--; en.waits[to] == 0 {
			w.queue = append(w.queue, to)
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

// nodeTemperature mixes what arrives at node i with what enters there.
func (w *Workspace) nodeTemperature(i int) float64 {
	c, s := &w.c.Conditions[i], w.energy.arrives[i]
	if c.Kind == Pressure && (c.Fluid >= 0 || s.mass == 0) {
		return c.TemperatureK
	}
	if enters := w.enters(i, s.mass); enters > 0 {
		if s.mass == 0 {
			return c.TemperatureK
		}
		h, _, err := w.standIn(w.own(i)).Enthalpy(c.TemperatureK, w.p[i])
		if err != nil {
			w.problem[i] = err
			return c.TemperatureK
		}
		s.mass += enters
		s.enthalpy += enters * h
	} else if s.mass == 0 {
		return w.temperature[i]
	} else if t := w.energy.single[i]; !math.IsNaN(t) {
		return t
	}
	t, err := w.fluidAt(i).TemperatureAt(s.enthalpy/s.mass, w.p[i], w.temperature[i])
	if err != nil {
		w.problem[i] = err
		return wall(err, w.temperature[i])
	}
	return t
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

// carry takes gas of enthalpy h from node i through an element to the
// pressure of node to: its temperature and enthalpy where it leaves.
func (w *Workspace) carry(element int, gas fluid.Fluid, i, to int, mass, h float64) (t, hOut float64) {
	guess := w.outlet[element]
	if !(guess > 0) {
		guess = w.temperature[i]
	}
	heat := &w.c.Devices[element].Heat
	exchanges, within := w.c.Thermal == Exchange && (heat.UAWK > 0 || heat.LengthM > 0), caloricK
	if exchanges {
		within = exchangeK
	}
	k, p := &w.energy.throttled[element], w.p[to]
	t, err := k.temperature(gas, h, p, guess, within)
	if err != nil {
		w.problem[to] = err
		return wall(err, w.temperature[i]), h
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
		ua += heat.LengthM * tubeConductance(heat, w.energy.inside[element].at(gas, g), g, mass, k.cp)
	}
	t = wall + (t-wall)*math.Exp(-ua/(mass*k.cp))
	if hOut, err = w.energy.leaves[element].enthalpy(gas, t, p); err != nil {
		w.problem[to] = err
		return t, h
	}
	return t, hOut
}

// tubeConductance is the heat conductance of a tube per length [W/(m K)]: film
// inside and film outside in series. Inside, Nu is 3.66 in laminar flow (fully
// developed, constant wall temperature) and 0.023 Re^0.8 Pr^0.4 in turbulent
// flow (Dittus & Boelter), joined by the eighth power sum.
func tubeConductance(heat *Heat, k float64, g *device.Gas, mass, cp float64) float64 {
	mu := g.ViscosityPaS
	re := 4 * mass / (math.Pi * heat.BoreM * mu)
	nu, _ := device.Larger(3.66, 0.023*math.Pow(re*re*cp*mu/k, 0.4))
	u := 1 / (math.Pi * k * nu)
	if heat.OutsideWM2K > 0 {
		u += 1 / (math.Pi * heat.OuterM * heat.OutsideWM2K)
	}
	return 1 / u
}

// A conductor is the conductivity of the gas in a tube where it was last asked for.
// It hardly changes between passes, and is known to a few per cent.
type conductor struct {
	fluid     fluid.Fluid
	t, rho, k float64
}

// at gives the conductivity [W/(m K)] of f at the state of g.
func (c *conductor) at(f fluid.Fluid, g *device.Gas) float64 {
	if c.fluid != f || math.Abs(g.TemperatureK-c.t) > caloricK || math.Abs(g.DensityKgM3-c.rho) > 1e-5*c.rho {
		*c = conductor{f, g.TemperatureK, g.DensityKgM3, conductivity(f, g)}
	}
	return c.k
}
