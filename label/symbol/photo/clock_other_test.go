//go:build !unix

package photo_test

import "time"

var started = time.Now()

// processorTime is the time that has passed, where no other is to be had.
func processorTime() time.Duration { return time.Since(started) }
