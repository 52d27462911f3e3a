package solver

// A binary heap with the first of all at the top.

type ordered[T any] interface{ before(T) bool }

func push[T ordered[T]](h []T, x T) []T {
	h = append(h, x)
	for i := len(h) - 1; i > 0; {
		up := (i - 1) / 2
		if !h[i].before(h[up]) {
			break
		}
		h[i], h[up] = h[up], h[i]
		i = up
	}
	return h
}

func pop[T ordered[T]](h []T) (top T, left []T) {
	top = h[0]
	last := len(h) - 1
	h[0] = h[last]
	h = h[:last]
	for i := 0; ; {
		c := 2*i + 1
		if c >= last {
			break
		}
		if c+1 < last && h[c+1].before(h[c]) {
			c++
		}
		if !h[c].before(h[i]) {
			break
		}
		h[i], h[c] = h[c], h[i]
		i = c
	}
	return top, h
}
