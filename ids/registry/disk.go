package registry

import (
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"syscall"

	"pipstake/ids/plainfile"
)

// disk is everything that a commit asks of the file system, one method an
// operation, so that a test can stop it at each.
type disk interface {
	ReadFile(path string) (string, error)
	Stat(path string) (fs.FileInfo, error)
	Resolve(path string) (string, error)                    // follows symbolic links
	Create(path string, mode fs.FileMode) (diskFile, error) // the file must not exist
	Rename(from, to string) error                           // replaces to
	Remove(path string) error
	Own(path string, like fs.FileInfo)
	SyncDir(dir string) error
	Names(dir string) ([]string, error)
}

// usualMode leaves the mode of a new file to the user's umask.
const usualMode fs.FileMode = 0

// diskFile is a file being written.
type diskFile interface {
	io.WriteCloser
	Sync() error
}

// systemDisk is the real file system.
type systemDisk struct{}

func (systemDisk) Stat(path string) (fs.FileInfo, error) { return os.Stat(path) }
func (systemDisk) Resolve(path string) (string, error)   { return filepath.EvalSymlinks(path) }
func (systemDisk) Remove(path string) error              { return os.Remove(path) }

func (systemDisk) ReadFile(path string) (string, error) {
	f, err := plainfile.Open(path)
	if err != nil {
		return "", err
	}
	defer f.Close()
	var text strings.Builder // whose bytes become the text without a copy
	if info, err := f.Stat(); err == nil && !tooLarge(info.Size()) {
		text.Grow(int(info.Size()))
	}
	part := make([]byte, 64<<10)
	for !tooLarge(int64(text.Len())) {
		n, err := f.Read(part)
		text.Write(part[:n])
		if err == io.EOF {
			break
		}
		if err != nil {
			return "", err
		}
	}
	return text.String(), nil
}

func (systemDisk) Create(path string, mode fs.FileMode) (diskFile, error) {
	const flags = os.O_WRONLY | os.O_CREATE | os.O_EXCL
	if mode == usualMode {
		return os.OpenFile(path, flags, 0o666)
	}
	f, err := os.OpenFile(path, flags, mode)
	if err != nil {
		return nil, err
	}
	// The umask took part of the mode away. Where a file system keeps no
	// modes, there is none to put back.
	_ = f.Chmod(mode)
	return f, nil
}

// Rename says so in its error where another program holds the file open, which
// only Windows minds.
func (systemDisk) Rename(from, to string) error {
	err := os.Rename(from, to)
	if isHeld(runtime.GOOS, err) {
		return &heldError{err}
	}
	return err
}

// isHeld reports whether the error of a system says that another program holds
// a file open.
func isHeld(system string, err error) bool {
	// ERROR_ACCESS_DENIED, ERROR_SHARING_VIOLATION, ERROR_LOCK_VIOLATION
	var code syscall.Errno
	return system == "windows" && errors.As(err, &code) && (code == 5 || code == 32 || code == 33)
}

// heldError says that another program, a spreadsheet mostly, holds a file open.
type heldError struct{ err error }

func (e *heldError) Error() string { return e.err.Error() }
func (e *heldError) Unwrap() error { return e.err }

// Own gives a new file to the owner and group of an old one, as far as that is
// allowed.
func (systemDisk) Own(path string, like fs.FileInfo) { keepOwner(path, like) }

// SyncDir makes renames and removals in a folder last. Windows has no such
// operation and does it by itself.
func (systemDisk) SyncDir(dir string) error {
	if runtime.GOOS == "windows" {
		return nil
	}
	d, err := os.Open(dir)
	if err != nil {
		return err
	}
	defer d.Close()
	return unlessUnknown(d.Sync())
}

// unlessUnknown is the error, or nil for one that says that a file system knows no
// sync of a folder, as some of those on a network do not.
func unlessUnknown(err error) error {
	if errors.Is(err, syscall.EINVAL) || errors.Is(err, errors.ErrUnsupported) {
		return nil
	}
	return err
}

func (systemDisk) Names(dir string) ([]string, error) {
	entries, err := os.ReadDir(dir)
	var names []string
	for _, e := range entries {
		names = append(names, e.Name())
	}
	return names, err
}

// reason is what the system said, without the path.
func reason(err error) string {
	var onPath *fs.PathError
	var onLink *os.LinkError
	var held *heldError
	if errors.As(err, &held) {
		err = held.err
	}
	switch {
	case errors.As(err, &onPath):
		err = onPath.Err
	case errors.As(err, &onLink):
		err = onLink.Err
	}
	return err.Error()
}

// cannotRead is the error of reading path.
func cannotRead(path string, err error) error {
	remedy := "look whether the folder can be read"
	var kind *plainfile.KindError
	switch {
	case errors.As(err, &kind):
		remedy = "take it away, and put the file back from a copy where one belongs there"
	case errors.Is(err, fs.ErrNotExist):
		remedy = "put the file back from a copy"
	case errors.Is(err, fs.ErrPermission):
		remedy = "allow yourself to read it"
	}
	return &AccessError{Path: path, What: "cannot be read", Remedy: remedy, Err: err}
}

// cannotWrite is the error of writing path.
func cannotWrite(path string, err error) error {
	remedy := "look whether the folder can be written"
	var held *heldError
	switch {
	case errors.As(err, &held):
		remedy = "close the spreadsheet that has it open and run the command again"
	case errors.Is(err, syscall.ENOSPC), errors.Is(err, syscall.EDQUOT), errors.Is(err, syscall.EFBIG):
		remedy = "make room on the disk and run the command again"
	case errors.Is(err, syscall.EROFS):
		remedy = "the disk is read-only, so copy the registry to another"
	case errors.Is(err, fs.ErrPermission):
		remedy = "allow yourself to write there"
	}
	return &AccessError{Path: path, What: "cannot be written", Remedy: remedy, Err: err}
}
