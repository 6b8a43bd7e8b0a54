package registry

import (
	"context"
	"errors"
	"path/filepath"
	"time"

	"github.com/gofrs/flock"
)

const (
	lockFile    = ".lock"
	defaultWait = 10 * time.Second
	lockPoll    = 20 * time.Millisecond
)

// lock keeps other commands from changing the registry in dir, until unlock is
// called. It waits no longer than wait for a command that holds it. Where the
// file system has no locks there is none, and only the comparison before a
// commit guards the files. The error is an *AccessError.
func lock(dir string, wait time.Duration) (unlock func(), err error) {
	if wait <= 0 {
		wait = defaultWait
	}
	path := filepath.Join(dir, lockFile)
	ctx, cancel := context.WithTimeout(context.Background(), wait)
	defer cancel()
	// Everybody who may write in the folder may take the lock.
	l := flock.New(path, flock.SetPermissions(0o666))
	locked, err := l.TryLockContext(ctx, lockPoll)
	switch {
	case locked:
		return func() { _ = l.Unlock() }, nil
	case errors.Is(err, context.DeadlineExceeded):
		return nil, &AccessError{Path: dir, What: "another command has been changing it for " + wait.String(),
			Remedy: "wait until that command is done, or end it, and run this one again"}
	case errors.Is(err, errors.ErrUnsupported):
		return func() {}, nil
	}
	return nil, cannotWrite(path, err)
}
