//go:build unix

package photo_test

import (
	"syscall"
	"time"
)

// processorTime is what this process has used of all processors.
func processorTime() time.Duration {
	var used syscall.Rusage
	if err := syscall.Getrusage(syscall.RUSAGE_SELF, &used); err != nil {
		panic(err)
	}
	return time.Duration(used.Utime.Nano() + used.Stime.Nano())
}
