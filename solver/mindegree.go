package solver

import "math"

// Approximate minimum degree (Amestoy, Davis & Duff, SIAM J. Matrix Anal. Appl. 17
// (1996) 886-905). The graph is kept as a quotient graph: an eliminated node becomes
// an element, the list of the nodes it made neighbours of one another, in place of
// the edges between them. The node of least degree is taken next, where the degree is
// bounded from above: by what the elements at a node hold outside the newest one,
// each counted by itself. An element of which nothing is outside the newest one is
// absorbed by it; a node with nothing outside is eliminated with it; nodes with the
// same neighbours are taken as one.

// quotient is the graph while nodes are taken from it. The list of a node is the
// elements at it, then the nodes next to it that no element joins to it; it only
// shrinks. The list of an element is the nodes in it.
type quotient struct {
	lists    []int32
	at, size []int32 // where a list begins and how long it is
	elements []int32 // how many of it are elements
	weight   []int32 // nodes that a node stands for, 0 once taken or stood for by another
	alive    []bool  // elements: not absorbed by a later one
	holds    []int32 // elements: sum of the weights in it
	degree   []int32
	left     int32

	first, after, before []int32 // nodes by degree
	member, last         []int32 // those a node stands for, linked

	round   int32
	marked  []int32 // round in which a node was put into the newest element
	outside []int32 // elements: weight outside the newest one, in round seen
	seen    []int32

	key, hash, alike []int32 // of a node's list; the first node with it, in the newest element; the next
	compared         []int32 // stamp of the comparison in which a node or element was met
	stamp            int32
	order            []int32
}

func filled32(n int, v int32) []int32 {
	s := make([]int32, n)
	for i := range s {
		s[i] = v
	}
	return s
}

func newQuotient(g *graph) *quotient {
	n := g.nodes()
	q := &quotient{
		lists: append(make([]int32, 0, 2*len(g.next)), g.next...),
		at:    append([]int32(nil), g.start[:n]...), size: make([]int32, n), elements: make([]int32, n),
		weight: filled32(n, 1), alive: make([]bool, n), holds: make([]int32, n), degree: make([]int32, n), left: int32(n),
		first: filled32(n+1, -1), after: make([]int32, n), before: make([]int32, n),
		member: filled32(n, -1), last: make([]int32, n),
		marked: make([]int32, n), outside: make([]int32, n), seen: make([]int32, n),
		key: make([]int32, n), hash: filled32(n, -1), alike: make([]int32, n), compared: make([]int32, n),
		order: make([]int32, 0, n),
	}
	for i := range int32(n) {
		q.size[i] = g.start[i+1] - g.start[i]
		q.degree[i] = q.size[i]
		q.last[i] = i
	}
	return q
}

// minimumDegree takes all nodes. Nodes with very many neighbours come last, as in
// the paper's programs: following their lists would cost more than it is worth.
func (q *quotient) minimumDegree() []int32 {
	n := int32(len(q.weight))
	dense := int32(max(16, 10*math.Sqrt(float64(n))))
	var late []int32
	for i := n - 1; i >= 0; i-- {
		if q.degree[i] > dense {
			late = append(late, i)
			q.weight[i] = 0
			q.left--
			continue
		}
		q.put(i)
	}
	for low := int32(0); q.left > 0; {
		for q.first[low] < 0 {
			low++
		}
		low = min(low, q.take(q.first[low]))
	}
	for k := len(late) - 1; k >= 0; k-- {
		q.order = append(q.order, late[k])
	}
	return q.order
}

func (q *quotient) put(i int32) {
	d := q.degree[i]
	q.before[i], q.after[i] = -1, q.first[d]
	if q.first[d] >= 0 {
		q.before[q.first[d]] = i
	}
	q.first[d] = i
}

func (q *quotient) drop(i int32) {
	if q.before[i] >= 0 {
		q.after[q.before[i]] = q.after[i]
	} else {
		q.first[q.degree[i]] = q.after[i]
	}
	if q.after[i] >= 0 {
		q.before[q.after[i]] = q.before[i]
	}
}

// emit orders what node i stands for.
func (q *quotient) emit(i int32) {
	q.left -= q.weight[i]
	q.weight[i] = 0
	for m := i; m >= 0; m = q.member[m] {
		q.order = append(q.order, m)
	}
}

// take eliminates node p, which becomes an element, and gives the least degree of
// the nodes in it.
func (q *quotient) take(p int32) (least int32) {
	q.round++
	q.drop(p)
	q.marked[p] = q.round
	begin := int32(len(q.lists))
	for k, from := int32(0), q.at[p]; k < q.size[p]; k++ {
		v := q.lists[from+k]
		if k >= q.elements[p] {
			q.gather(p, v)
			continue
		}
		for j, to := q.at[v], q.at[v]+q.size[v]; j < to; j++ {
			q.gather(p, q.lists[j])
		}
		q.alive[v] = false
	}
	q.emit(p)
	q.at[p], q.size[p], q.alive[p] = begin, int32(len(q.lists))-begin, true
	q.measure(p)
	for k := begin; k < begin+q.size[p]; k++ {
		q.shrink(p, q.lists[k])
	}
	q.unite(p)
	least = int32(len(q.weight))
	kept := begin
	for k := begin; k < begin+q.size[p]; k++ {
		i := q.lists[k]
		if q.weight[i] == 0 {
			continue
		}
		q.lists[kept] = i
		kept++
		d := min(q.degree[i]+q.holds[p]-q.weight[i], q.left-q.weight[i])
		q.degree[i] = d
		q.put(i)
		least = min(least, d)
	}
	q.size[p] = kept - begin
	if q.alive[p] = kept > begin; !q.alive[p] {
		q.lists = q.lists[:begin]
	}
	return least
}

// gather puts node i into the newest element p, once.
func (q *quotient) gather(p, i int32) {
	if q.weight[i] == 0 || q.marked[i] == q.round {
		return
	}
	q.marked[i] = q.round
	q.lists = append(q.lists, i)
	q.holds[p] += q.weight[i]
	q.drop(i)
}

// measure finds what each element next to the newest one holds outside of it.
func (q *quotient) measure(p int32) {
	for k := q.at[p]; k < q.at[p]+q.size[p]; k++ {
		i := q.lists[k]
		for _, e := range q.lists[q.at[i] : q.at[i]+q.elements[i]] {
			if !q.alive[e] {
				continue
			}
			if q.seen[e] != q.round {
				q.seen[e] = q.round
				q.outside[e] = q.holds[e]
			}
			q.outside[e] -= q.weight[i]
		}
	}
}

// shrink takes from the list of node i what element p now stands for, bounds its
// degree outside p, and eliminates it with p where nothing is left there.
func (q *quotient) shrink(p, i int32) {
	list := q.lists[q.at[i] : q.at[i]+q.size[i]]
	kept, outside, sum := int32(0), int32(0), uint32(0)
	for _, e := range list[:q.elements[i]] {
		switch {
		case !q.alive[e]:
		case q.outside[e] == 0:
			q.alive[e] = false // all of it is in p
		default:
			outside += q.outside[e]
			list[kept] = e
			kept++
			sum += uint32(e)
		}
	}
	tail := kept
	for _, j := range list[q.elements[i]:] {
		if q.weight[j] == 0 || q.marked[j] == q.round {
			continue
		}
		outside += q.weight[j]
		sum += uint32(j)
		list[tail] = j
		tail++
	}
	if outside == 0 {
		q.holds[p] -= q.weight[i]
		q.emit(i)
		return
	}
	// There is room for p: what brought i into it, the taken node or an absorbed
	// element, has left the list.
	list[tail] = list[kept]
	list[kept] = p
	q.elements[i], q.size[i] = kept+1, tail+1
	q.degree[i] = min(q.degree[i], outside)
	q.key[i] = int32(sum % uint32(len(q.hash)))
	q.alike[i] = q.hash[q.key[i]]
	q.hash[q.key[i]] = i
}

// unite finds the nodes in element p with the same neighbours; the first stands for
// the others from now on.
func (q *quotient) unite(p int32) {
	for _, i := range q.lists[q.at[p] : q.at[p]+q.size[p]] {
		if q.weight[i] == 0 {
			continue
		}
		for a := q.hash[q.key[i]]; a >= 0; a = q.alike[a] {
			if q.weight[a] == 0 || q.alike[a] < 0 {
				continue
			}
			q.stamp++
			for _, j := range q.lists[q.at[a] : q.at[a]+q.size[a]] {
				q.compared[j] = q.stamp
			}
			for b := q.alike[a]; b >= 0; b = q.alike[b] {
				if q.weight[b] > 0 && q.same(a, b) {
					q.weight[a] += q.weight[b]
					q.weight[b] = 0
					q.member[q.last[a]] = b
					q.last[a] = q.last[b]
				}
			}
		}
		q.hash[q.key[i]] = -1
	}
}

// same reports whether node b has the list of node a, which has been stamped.
func (q *quotient) same(a, b int32) bool {
	if q.size[a] != q.size[b] || q.elements[a] != q.elements[b] {
		return false
	}
	for _, j := range q.lists[q.at[b] : q.at[b]+q.size[b]] {
		if q.compared[j] != q.stamp {
			return false
		}
	}
	return true
}
