package solver

// The order of elimination. Nodes with at most one neighbour left are taken first,
// again and again: trees and all that hangs on loops go that way, without fill and
// in linear time, however many neighbours a node has. What is left, the loops, is
// ordered by approximate minimum degree (mindegree.go).
//
// Everything goes by lists in a fixed order, so that one pattern has one order.

// A graph is a symmetric pattern: the neighbours of node i are next[start[i]:start[i+1]],
// each once and without i.
type graph struct{ start, next []int32 }

func (g *graph) of(i int32) []int32 { return g.next[g.start[i]:g.start[i+1]] }

func (g *graph) nodes() int { return len(g.start) - 1 }

// newGraph makes the graph of n nodes with the edges given, which may repeat or end
// where they begin.
func newGraph(n int, edges [][2]int32) *graph {
	g := &graph{start: make([]int32, n+1)}
	for _, e := range edges {
		if e[0] != e[1] {
			g.start[e[0]+1]++
			g.start[e[1]+1]++
		}
	}
	for i := range n {
		g.start[i+1] += g.start[i]
	}
	g.next = make([]int32, g.start[n])
	at := append([]int32(nil), g.start[:n]...)
	for _, e := range edges {
		if a, b := e[0], e[1]; a != b {
			g.next[at[a]], g.next[at[b]] = b, a
			at[a]++
			at[b]++
		}
	}
	// Repeated neighbours are left out.
	seen := at // by now a position past each list; reused as the last node that saw another
	for i := range seen {
		seen[i] = -1
	}
	kept := int32(0)
	for i := range int32(n) {
		from, to := g.start[i], g.start[i+1]
		g.start[i] = kept
		for _, j := range g.next[from:to] {
			if seen[j] != i {
				seen[j] = i
				g.next[kept] = j
				kept++
			}
		}
	}
	g.start[n] = kept
	g.next = g.next[:kept]
	return g
}

// elimination orders the nodes of g.
func (g *graph) elimination() []int32 {
	n := g.nodes()
	order := make([]int32, 0, n)
	left := make([]int32, n) // neighbours not yet taken, -1 where taken itself
	for i := range left {
		left[i] = g.start[i+1] - g.start[i]
	}
	for i := range int32(n) {
		// From each end of a tree inwards, as far as it goes.
		for v := i; v >= 0 && left[v] >= 0 && left[v] <= 1; {
			left[v] = -1
			order = append(order, v)
			up := int32(-1)
			for _, u := range g.of(v) {
				if left[u] >= 0 {
					left[u]--
					up = u
				}
			}
			v = up
		}
	}
	if len(order) == n {
		return order
	}
	// What is left, numbered anew.
	core := make([]int32, 0, n-len(order))
	for i := range int32(n) {
		if left[i] >= 0 {
			left[i] = int32(len(core))
			core = append(core, i)
		}
	}
	sub := &graph{start: make([]int32, 1, len(core)+1)}
	for _, i := range core {
		for _, j := range g.of(i) {
			if left[j] >= 0 {
				sub.next = append(sub.next, left[j])
			}
		}
		sub.start = append(sub.start, int32(len(sub.next)))
	}
	for _, v := range newQuotient(sub).minimumDegree() {
		order = append(order, core[v])
	}
	return order
}
