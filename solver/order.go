package solver

import "slices"

// minimumDegree orders the nodes of a symmetric pattern so that elimination
// fills little in (Tinney & Walker 1967, scheme 2), the lowest number first
// among equals, and gives for each node the neighbours that are eliminated
// after it. Trees and ladders, what sample systems are, keep degree two and
// take time linear in their size.
func minimumDegree(adj [][]int) (order []int, later [][]int) {
	n := len(adj)
	later = make([][]int, n)
	for i := range adj {
		slices.Sort(adj[i])
		adj[i] = slices.Compact(adj[i])
	}
	degree := make([]int, n)
	buckets := make([][]int, 1, 8)
	put := func(v int) {
		d := len(adj[v])
		degree[v] = d
		for len(buckets) <= d {
			buckets = append(buckets, nil)
		}
		buckets[d] = append(buckets[d], v)
	}
	for v := n - 1; v >= 0; v-- {
		put(v)
	}
	done := make([]bool, n)
	low := 0
	for len(order) < n {
		for len(buckets[low]) == 0 {
			low++
		}
		last := len(buckets[low]) - 1
		v := buckets[low][last]
		buckets[low] = buckets[low][:last]
		if done[v] || degree[v] != low {
			continue // an entry left behind when the degree changed
		}
		done[v] = true
		order = append(order, v)
		later[v] = adj[v]
		for _, u := range adj[v] {
			adj[u] = merge(adj[u], adj[v], u, v)
			if len(adj[u]) != degree[u] {
				put(u)
				low = min(low, degree[u])
			}
		}
	}
	return order, later
}

// merge is the union of two sorted sets less u and v.
func merge(a, b []int, u, v int) []int {
	out := make([]int, 0, len(a)+len(b))
	for len(a) > 0 || len(b) > 0 {
		var x int
		switch {
		case len(b) == 0 || len(a) > 0 && a[0] < b[0]:
			x, a = a[0], a[1:]
		case len(a) == 0 || b[0] < a[0]:
			x, b = b[0], b[1:]
		default:
			x, a, b = a[0], a[1:], b[1:]
		}
		if x != u && x != v {
			out = append(out, x)
		}
	}
	return out
}
