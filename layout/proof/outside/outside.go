// Package outside is what tests use of the machine around them: other programs, of
// which none is waited for without end, and a place for files that costs little. It
// imports nothing of the project, so tests of any room may use it.
package outside

import (
	"context"
	"fmt"
	"os/exec"
	"time"
)

// Patience is how long a program, or work that might wait for ever, is given:
// far more than it takes on a busy machine.
const Patience = 4 * time.Minute

// keepMemory has glibc keep memory that a program has freed, and take it in large
// pages. A spreadsheet program that paints 16 canvases of 64 MiB at each start
// takes a quarter of the processor time so, and gives none of it back meanwhile.
const keepMemory = "GLIBC_TUNABLES=glibc.malloc.hugetlb=1:glibc.malloc.mmap_threshold=1073741824:glibc.malloc.trim_threshold=4294967296"

// Command is that of package exec, with an end: the program is killed when
// Patience is over. Add to what Environ returns to give it more variables.
func Command(name string, args ...string) *exec.Cmd {
	ctx, cancel := context.WithTimeout(context.Background(), Patience)
	c := exec.CommandContext(ctx, name, args...)
	c.Env = append(c.Environ(), keepMemory)
	c.Cancel = func() error {
		cancel()
		return c.Process.Kill()
	}
	c.WaitDelay = 5 * time.Second
	return c
}

// Ends runs work that a fault would make wait for ever, and returns an error
// where it has not ended by the time that Patience is over.
func Ends(work func()) error {
	done := make(chan struct{})
	go func() {
		defer close(done)
		work()
	}()
	select {
	case <-done:
		return nil
	case <-time.After(Patience):
		return fmt.Errorf("it still waits after %v", Patience)
	}
}
