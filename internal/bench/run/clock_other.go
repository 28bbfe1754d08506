//go:build !unix

package run

import "time"

var epoch = time.Now()

// cpuTime is wall time here: the system has no other clock.
func cpuTime() time.Duration { return time.Since(epoch) }
