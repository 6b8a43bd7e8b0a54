package registry

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"syscall"
	"testing"
	"time"
)

// heldLock is a lock of the operating system as drives of all kinds have it.
type heldLock struct {
	err    error // of taking it
	others bool  // whether it is taken where another has it
	open   *int
}

func (l heldLock) TryLockContext(context.Context, time.Duration) (bool, error) {
	*l.open++
	return l.err == nil, l.err
}
func (l heldLock) TryLock() (bool, error) { *l.open++; return l.others, nil }
func (l heldLock) Unlock() error          { *l.open--; return nil }
func (l heldLock) Close() error           { *l.open--; return nil }

// A lock is trusted only where a second one on the same file is refused. Drives
// without locks say ENOSYS or EOPNOTSUPP (flock(2)), and others take every lock.
func TestLocksOfDrives(t *testing.T) {
	for _, c := range []struct {
		name   string
		err    error
		others bool
		works  bool
		failed bool
	}{
		{"a drive of one's own", nil, false, true, false},
		{"every lock is taken", nil, true, false, false},
		{"no locks", &fs.PathError{Op: "flock", Path: "r/.lock", Err: syscall.EOPNOTSUPP}, false, false, false},
		{"no locks known", syscall.ENOSYS, false, false, false},
		{"no right to it", syscall.EACCES, false, false, true},
	} {
		open := 0
		unlock, works, err := takeProved(context.Background(), heldLock{c.err, false, &open}, heldLock{nil, c.others, &open})
		if works != c.works || (err != nil) != c.failed {
			t.Errorf("%s: it works %v, error %v", c.name, works, err)
		}
		if err != nil {
			continue
		}
		if unlock(); c.err == nil && open != 0 {
			t.Errorf("%s: %d locks stay", c.name, open)
		}
	}
}

// Nobody can run the files that guard a registry, and the claim names the computer.
func TestGuards(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("Windows keeps no such modes")
	}
	dir := newRegistry(t, nil)
	err := Change(dir, Options{}, func(*Registry) error {
		for _, name := range []string{lockFile, claimFile} {
			info, err := os.Stat(filepath.Join(dir, name))
			if err != nil {
				return err
			}
			if host, err := os.Hostname(); err != nil || name == claimFile && readFile(t, dir, name) != host {
				t.Errorf("%s names %q, on %q, %v", name, readFile(t, dir, name), host, err)
			}
			if mode := info.Mode().Perm(); mode&0o111 != 0 || mode&0o600 != 0o600 {
				t.Errorf("%s has the mode %v", name, mode)
			}
		}
		return nil
	})
	if err != nil {
		t.Error(err)
	}
}

// fullFile is a file on a full disk: it takes nothing, or says so when it is closed.
type fullFile struct{ early bool }

func (f fullFile) Write(p []byte) (int, error) {
	if f.early {
		return 0, syscall.ENOSPC
	}
	return len(p), nil
}
func (f fullFile) Close() error { return syscall.ENOSPC }

// A claim that could not be written does not stay, to keep everybody out.
func TestClaimOnAFullDisk(t *testing.T) {
	t.Parallel()
	for _, early := range []bool{true, false} {
		c := claim{path: filepath.Join(t.TempDir(), claimFile), host: "shed"}
		if err := os.WriteFile(c.path, nil, 0o666); err != nil {
			t.Fatal(err)
		}
		var access *AccessError
		if err := c.sign(fullFile{early}); !errors.As(err, &access) || access.Path != c.path {
			t.Errorf("%v", err)
		}
		if _, err := os.Stat(c.path); !errors.Is(err, fs.ErrNotExist) {
			t.Errorf("the claim is there still: %v", err)
		}
	}
}

// The codes are those of Microsoft's "System Error Codes (0-499)": access
// denied, sharing violation, lock violation; 2 is a file that is not there.
// Elsewhere 5 is an error of input and output.
func TestHeldFiles(t *testing.T) {
	for _, c := range []struct {
		system string
		code   syscall.Errno
		want   bool
	}{
		{"windows", 5, true}, {"windows", 32, true}, {"windows", 33, true},
		{"windows", 2, false}, {"windows", 31, false}, {"windows", 34, false}, {"windows", 112, false},
		{"linux", 5, false}, {"darwin", 32, false},
	} {
		err := &os.LinkError{Op: "rename", Old: "a", New: "b", Err: c.code}
		if got := isHeld(c.system, fmt.Errorf("saving: %w", err)); got != c.want {
			t.Errorf("%s, %d: held %v", c.system, c.code, got)
		}
	}
	if isHeld("windows", nil) || isHeld("windows", errors.New("5")) {
		t.Error("an error without a code is held")
	}
}
