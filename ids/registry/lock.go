package registry

import (
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"time"

	"github.com/gofrs/flock"

	"pipstake/ids/plainfile"
)

// Two guards keep commands from changing a registry at once. The lock of the
// operating system vanishes with its process, but does nothing on some network
// drives. The claim is a file that only one command can make; it works there as
// well, but stays behind where a command is killed. Where the lock works, a
// claim of the same computer that is met under the lock is such a remnant, and
// is removed. Any other is waited for.

const (
	lockFile    = ".lock"
	claimFile   = ".changing"
	defaultWait = 10 * time.Second
	lockPoll    = 10 * time.Millisecond

	// emptyFor is how long a claim that names no computer may still be one that
	// is just being made.
	emptyFor = 500 * time.Millisecond

	mostHost = 1 << 10 // bytes in the name of a computer
)

// isOtherKind reports whether something else stands in the place of a file.
func isOtherKind(err error) bool {
	var kind *plainfile.KindError
	return errors.As(err, &kind)
}

// locker takes a lock on a file and reports whether it keeps others out.
type locker func(ctx context.Context, path string) (unlock func(), works bool, err error)

// flocked is the lock of the operating system.
func flocked(ctx context.Context, path string) (unlock func(), works bool, err error) {
	// Everybody who may write in the folder may take the lock.
	open := func() *flock.Flock { return flock.New(path, flock.SetPermissions(0o666)) }
	return takeProved(ctx, open(), open())
}

// fileLock is a lock of the operating system on an open file.
type fileLock interface {
	TryLockContext(ctx context.Context, poll time.Duration) (bool, error)
	TryLock() (bool, error)
	Unlock() error
	Close() error
}

// takeProved takes the first of two locks on one file, and proves with the
// second whether it keeps others out.
func takeProved(ctx context.Context, l, second fileLock) (unlock func(), works bool, err error) {
	if _, err := l.TryLockContext(ctx, lockPoll); err != nil {
		if errors.Is(err, errors.ErrUnsupported) {
			return func() {}, false, nil
		}
		return nil, false, err
	}
	taken, err := second.TryLock()
	_ = second.Close() // which unlocks as well
	return func() { _ = l.Unlock() }, err == nil && !taken, nil
}

// lock keeps other commands from changing the registry in dir, until unlock is
// called. It waits no longer than wait for a command that holds it. The error
// is an *AccessError.
func lock(take locker, dir string, wait time.Duration) (unlock func(), err error) {
	if wait <= 0 {
		wait = defaultWait
	}
	ctx, cancel := context.WithTimeout(context.Background(), wait)
	defer cancel()
	path := filepath.Join(dir, lockFile)
	if _, err := plainfile.Check(path); isOtherKind(err) {
		return nil, cannotRead(path, err)
	}
	free, works, err := take(ctx, path)
	switch {
	case errors.Is(err, context.DeadlineExceeded):
		return nil, &AccessError{Path: dir, What: "another command has been changing it for " + wait.String(),
			Remedy: "wait until that command is done, or end it, and run this one again"}
	case err != nil:
		return nil, cannotWrite(path, err)
	}
	c := claim{path: filepath.Join(dir, claimFile), host: hostName(), lockWorks: works}
	err = c.take(ctx)
	if errors.Is(err, context.DeadlineExceeded) {
		err = &AccessError{Path: dir, What: fmt.Sprintf("a command on %s has been changing it for %s", c.holder, wait),
			Remedy: "wait until that command is done; if none runs there, it was cut off, so delete the file " + claimFile}
	}
	if err != nil {
		free()
		return nil, err
	}
	return func() { c.release(); free() }, nil
}

// hostName tells this computer from others.
func hostName() string {
	if name, _ := os.Hostname(); name != "" {
		return name
	}
	return "a computer without a name"
}

// claim is the file that only one command can make.
type claim struct {
	path      string
	host      string // this computer
	lockWorks bool   // no other command of this computer can be at work
	holder    string // the computer of the claim that is in the way
}

// take makes the file, as soon as no other is there.
func (c *claim) take(ctx context.Context) error {
	var emptySince time.Time
	for {
		err := c.create()
		if err == nil || !c.inTheWay(err) {
			return err
		}
		holder, err := plainfile.Read(c.path, mostHost)
		c.holder = string(holder)
		if err != nil || c.holder != "" {
			emptySince = time.Time{} // an empty one that is met next is another
		}
		switch {
		case isOtherKind(err):
			return cannotRead(c.path, err)
		case err != nil: // it has just gone
		case c.holder == "" && emptySince.IsZero():
			c.holder, emptySince = "another computer", time.Now()
		case c.lockWorks && (c.holder == c.host || c.holder == "" && time.Since(emptySince) > emptyFor):
			_ = os.Remove(c.path)
		}
		select {
		case <-ctx.Done():
			return ctx.Err()
		case <-time.After(lockPoll):
		}
	}
}

// create makes the file; the error is fs.ErrExist where there is one.
func (c *claim) create() error {
	f, err := os.OpenFile(c.path, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o666)
	if err != nil {
		if c.inTheWay(err) {
			return err
		}
		return cannotWrite(c.path, err)
	}
	return c.sign(f)
}

// sign writes the computer's name into the file, which goes where that fails.
func (c *claim) sign(f io.WriteCloser) error {
	_, err := io.WriteString(f, c.host)
	if closed := f.Close(); err == nil {
		err = closed
	}
	if err != nil {
		c.release()
		return cannotWrite(c.path, err)
	}
	return nil
}

// inTheWay reports whether the error says that another command's file is there.
// On Windows one that is just being removed cannot be opened.
func (c *claim) inTheWay(err error) bool {
	return errors.Is(err, fs.ErrExist) || runtime.GOOS == "windows" && errors.Is(err, fs.ErrPermission)
}

func (c *claim) release() { _ = os.Remove(c.path) }
