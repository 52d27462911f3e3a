// Package several does several things at a time.
package several

import (
	"sync"
	"sync/atomic"
)

// Each calls do for 0 up to n, several at a time, and gives what any of the calls
// panicked with: a fault in one must not take what the others found.
func Each(n, workers int, do func(i int)) (faults []any) {
	faults = make([]any, n)
	var next atomic.Int64
	var group sync.WaitGroup
	work := func() {
		for {
			i := int(next.Add(1)) - 1
			if i >= n {
				return
			}
			func() {
				defer func() { faults[i] = recover() }()
				do(i)
			}()
		}
	}
	for range min(n, workers) - 1 {
		group.Go(work)
	}
	work()
	group.Wait()
	return faults
}
