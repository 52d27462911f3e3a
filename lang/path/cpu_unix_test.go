//go:build unix

package path

import (
	"syscall"
	"time"
)

// cpu is the processor time used so far. What else runs on the machine does not
// count.
func cpu() time.Duration {
	var r syscall.Rusage
	if syscall.Getrusage(syscall.RUSAGE_SELF, &r) != nil {
		return 0
	}
	return time.Duration(r.Utime.Nano() + r.Stime.Nano())
}
