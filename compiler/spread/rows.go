package spread

import (
	"sync"

	"tapline/compiler"
)

// rows hands the rows of chunks on in the order of the chunks. A goroutine that is
// far ahead waits, so that few are kept.
type rows struct {
	mu      sync.Mutex
	turn    sync.Cond
	next    int
	waiting map[int][]compiler.Row
	each    func(chunk int, rows []compiler.Row)
	stopped bool
}

// keptChunks is how many chunks may wait for an earlier one.
const keptChunks = 64

func newRows(first int, each func(int, []compiler.Row)) *rows {
	r := &rows{next: first, waiting: map[int][]compiler.Row{}, each: each}
	r.turn.L = &r.mu
	return r
}

func (r *rows) put(chunk int, made []compiler.Row) {
	if r.each == nil {
		return
	}
	r.mu.Lock()
	defer r.mu.Unlock()
	for chunk >= r.next+keptChunks && !r.stopped {
		r.turn.Wait()
	}
	r.waiting[chunk] = made
	for {
		made, ok := r.waiting[r.next]
		if !ok {
			break
		}
		delete(r.waiting, r.next)
		r.each(r.next, made)
		r.next++
	}
	r.turn.Broadcast()
}

// stop lets nobody wait any longer.
func (r *rows) stop() {
	r.mu.Lock()
	r.stopped = true
	r.mu.Unlock()
	r.turn.Broadcast()
}
