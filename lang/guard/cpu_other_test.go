//go:build !unix

package guard

import "time"

var started = time.Now()

// cpu is the time since the start, for want of the processor's.
func cpu() time.Duration { return time.Since(started) }
