// Package solver computes the steady pressures, flows and temperatures of a
// network of gas-handling devices. It is a library of its own: it knows neither
// the language nor the compiler, and a network can be built by hand.
//
// In: a Network (which element joins which nodes, once per system) and a Case
// (what is known at the nodes and the law of every element). Out: a Result with
// the state of every node (flowing, at a dead end, trapped, boundary) and of
// every element, and with the residual of what was found. An answer that was
// not found is said to be Unsolved; an answer that is one of several is said to
// be so.
//
// Everything is SI: Pa absolute, K, kg/s. Flows are positive from an element's
// From to its To. Mass balances hold to 1e-9 of a node's throughput, and every
// reported flow equals its law at the reported pressures and temperatures to 1e-7, or to
// what rounding of the pressures is worth.
//
// The files: topology.go (what carries flow), filling.go and rest.go (what rests, what is
// trapped), layout.go, sparse.go, symbolic.go, order.go and mindegree.go (the linear solve), newton.go, link.go and
// regime.go (the inner iteration), goround.go (when it goes round), guess.go (the first
// guess), solve.go (cold and warm starts, passes), driver.go (pseudo-time fallback),
// hold.go (what leaves the monotone class), energy.go, exchange.go and gas.go (temperatures and gas
// properties), caloric.go (what the equation of state said nearby), shares.go (what mixes where), damp.go (what swings
// between passes), column.go (liquid that hangs), answers.go (several answers), snap.go and
// cycle.go (devices that jump), friction.go (dead bands), lag.go, holdup.go and response.go (how long a change takes from
// a source to a place, asked of a Result).
package solver
