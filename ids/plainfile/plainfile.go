// Package plainfile opens files that are files. A named pipe, a socket or a
// device in the place of one could keep whoever opens it waiting for ever, or
// feed it without end, so each is refused as what it is before it is opened. It
// does not know what is in a file.
package plainfile

import (
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
)

// KindError says that there is something else in the place of a file.
type KindError struct{ Kind string } // "a named pipe"

func (e *KindError) Error() string { return "it is " + e.Kind + ", not a file" }

// SizeError says that a file is larger than what is to be read may be.
type SizeError struct{ Size, Most int64 } // in bytes

func (e *SizeError) Error() string {
	return fmt.Sprintf("its %d MB are too many", e.Size>>20)
}

// Kind is what a mode says a file is, with its article.
func Kind(mode fs.FileMode) string {
	switch {
	case mode.IsRegular():
		return "a file"
	case mode.IsDir():
		return "a folder"
	case mode&fs.ModeSymlink != 0:
		return "a symbolic link"
	case mode&fs.ModeNamedPipe != 0:
		return "a named pipe"
	case mode&fs.ModeSocket != 0:
		return "a socket"
	}
	return "a device"
}

// Check reports by an error that path, with symbolic links followed, is no file.
// The error is a *fs.PathError, of a *KindError where something else is there.
func Check(path string) (fs.FileInfo, error) {
	info, err := os.Stat(path)
	if err == nil && !info.Mode().IsRegular() {
		err = &fs.PathError{Op: "open", Path: path, Err: &KindError{Kind(info.Mode())}}
	}
	return info, err
}

// Open opens a file for reading. Errors are those of Check.
func Open(path string) (*os.File, error) {
	if _, err := Check(path); err != nil {
		return nil, err
	}
	return os.Open(path)
}

// OpenStream is Open for what is read once, from its start to its end. It also
// takes what a shell has opened already and hands over by a name of the system,
// as with <(command).
func OpenStream(path string) (*os.File, error) {
	if handedOver(path) {
		return os.Open(path)
	}
	return Open(path)
}

// handedOver reports whether a path names an open file of this process.
func handedOver(path string) bool {
	path = filepath.ToSlash(filepath.Clean(path))
	return path == "/dev/stdin" || strings.HasPrefix(path, "/dev/fd/") || strings.HasPrefix(path, "/proc/self/fd/")
}

// Read reads a file of at most so many bytes. The error is a *fs.PathError, of a
// *KindError or a *SizeError where it is refused.
func Read(path string, most int64) ([]byte, error) {
	f, err := Open(path)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	info, err := f.Stat()
	if err != nil {
		return nil, err
	}
	tooLarge := func(size int64) error {
		return &fs.PathError{Op: "read", Path: path, Err: &SizeError{size, most}}
	}
	if info.Size() > most {
		return nil, tooLarge(info.Size())
	}
	data, err := io.ReadAll(io.LimitReader(f, most+1))
	if err == nil && int64(len(data)) > most { // it has grown
		err = tooLarge(int64(len(data)))
	}
	return data, err
}
