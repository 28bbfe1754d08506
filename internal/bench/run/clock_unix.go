//go:build unix

package run

import (
	"syscall"
	"time"
)

// cpuTime is the processor time that the process has used. On a machine with
// other work it says more than a clock on the wall.
func cpuTime() time.Duration {
	var u syscall.Rusage
	if err := syscall.Getrusage(syscall.RUSAGE_SELF, &u); err != nil {
		return 0
	}
	return time.Duration(u.Utime.Nano() + u.Stime.Nano())
}
