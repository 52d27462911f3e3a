package solver

// Which nodes carry flow is a matter of the graph, not of numbers. Shut devices
// are dropped, every node of known pressure or inflow gets an edge to one outside
// node, and a node can carry flow exactly where it lies on a cycle through the
// outside, that is in a biconnected component that contains it
// (Hopcroft & Tarjan, CACM 16 (1973) 372-378; here one iterative pass).
//
// What the others rest at is told in filling.go.

// place says what kind of node the graph makes of a node.
type place uint8

const (
	moving  place = iota // on a way from outside to outside
	stub                 // at rest, tied to its root by open passages
	filled               // at rest, filled through a device that stops at no flow
	trapped              // at rest, reached by nothing
)

// sites holds the classification for one set of shut devices.
type sites struct {
	place    []place
	resting  bool // some node is not moving
	preorder []int32
	disc     []int32 // discovery time from 1; 0 not seen
	low      []int32 // earliest time a subtree reaches back to; 0 is the outside
	via      []int32 // element by which a node was found
	parent   []int32 // node from which it was found, -1 the outside
	next     []int32 // next element to look at
	stack    []int
	frontier []int  // moving nodes next to ones at rest
	settled  []bool // joined to the outside and labelled for good
	heap     []label
	fresh    []int // nodes labelled since the last round
	drained  []drain
	root     []int32   // where fill ran: the moving node that a node at rest is filled from
	head     []float64 // per element: what the pressure falls by from From to To at rest [Pa]
	slack    float64   // what one way must beat another by, where there are heads [Pa]
}

func newSites(n *Network) *sites {
	k := len(n.Nodes)
	return &sites{
		place: make([]place, k), disc: make([]int32, k), low: make([]int32, k),
		via: make([]int32, k), parent: make([]int32, k), next: make([]int32, k), root: make([]int32, k),
		settled: make([]bool, k), head: make([]float64, len(n.Elements)),
	}
}

// outside reports whether a node is joined to the outside of the network.
func outside(k *Condition) bool {
	return k.Kind == Pressure || k.Kind == Inflow && k.InflowKgS > 0
}

// classify finds which nodes carry flow when the elements marked shut are dropped.
func (s *sites) classify(n *Network, c *Case, shut []bool) {
	s.preorder = s.preorder[:0]
	clear(s.disc)
	for o := range n.Nodes {
		if s.disc[o] == 0 && outside(&c.Conditions[o]) {
			s.search(n, c, shut, o)
		}
	}
	s.resting = len(s.preorder) < len(n.Nodes)
	for i := range s.place {
		s.place[i] = trapped
	}
	for _, v := range s.preorder {
		u := s.parent[v]
		if outside(&c.Conditions[v]) || s.place[u] == moving && s.low[v] < s.disc[u] {
			s.place[v] = moving
		} else {
			s.resting = true
		}
	}
	s.frontier = s.frontier[:0]
	if !s.resting {
		return
	}
	clear(s.settled)
	for i := range n.Elements {
		a, b := n.Elements[i].From, n.Elements[i].To
		if s.place[b] == moving {
			a, b = b, a
		}
		if s.place[a] == moving && s.place[b] != moving && !s.settled[a] {
			s.settled[a] = true
			s.frontier = append(s.frontier, a)
		}
	}
}

// search is the depth-first pass from a node that hangs on the outside by an
// edge of its own.
func (s *sites) search(n *Network, c *Case, shut []bool, root int) {
	enter := func(v, via, parent int) {
		s.preorder = append(s.preorder, int32(v))
		s.disc[v] = int32(len(s.preorder))
		s.low[v], s.via[v], s.parent[v], s.next[v] = s.disc[v], int32(via), int32(parent), 0
		if parent >= 0 && outside(&c.Conditions[v]) {
			s.low[v] = 0
		}
		s.stack = append(s.stack, v)
	}
	s.stack = s.stack[:0]
	enter(root, -1, -1)
	for len(s.stack) > 0 {
		v := s.stack[len(s.stack)-1]
		if int(s.next[v]) == len(n.at[v]) {
			s.stack = s.stack[:len(s.stack)-1]
			if u := s.parent[v]; u >= 0 {
				s.low[u] = min(s.low[u], s.low[v])
			}
			continue
		}
		e := n.at[v][s.next[v]]
		s.next[v]++
		switch {
		case e.element == int(s.via[v]) || shut[e.element]:
		case s.disc[e.other] == 0:
			enter(e.other, e.element, v)
		default:
			s.low[v] = min(s.low[v], s.disc[e.other])
		}
	}
}

// carries reports whether element i lies on a way from outside to outside,
// given that it is not shut.
func (s *sites) carries(n *Network, i int) bool {
	e := &n.Elements[i]
	return s.place[e.From] == moving && s.place[e.To] == moving
}
