//go:build unix

package run

import (
	"syscall"
	"time"
)

// cpuTime returns the processor time of the process. On a busy machine it is more meaningful
// than wall time.
func cpuTime() time.Duration {
	var u syscall.Rusage
	if err := syscall.Getrusage(syscall.RUSAGE_SELF, &u); err != nil {
		return 0
	}
	return time.Duration(u.Utime.Nano() + u.Stime.Nano())
}
