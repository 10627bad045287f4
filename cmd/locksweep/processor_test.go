//go:build unix

package main

import (
	"syscall"
	"time"
)

// processorTime is what this process has had of the processors so far, which does not hang on what else the machine does.
func processorTime() time.Duration {
	var used syscall.Rusage
	if syscall.Getrusage(syscall.RUSAGE_SELF, &used) != nil {
		return 0
	}
	return time.Duration(used.Utime.Nano() + used.Stime.Nano())
}
