package registry

import (
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"path/filepath"
	"slices"
	"time"

	"pipstake/ids/plainfile"
)

// store is a registry's folder on a disk.
type store struct {
	disk  disk
	dir   string
	names []string // of its files
	opt   Options
	pause time.Duration // before a file that is held open is tried again
}

// journal is what journalFile holds.
type journal struct{ Files []journalEntry }

// journalEntry is one file of a commit, with the SHA-256 of its bytes before
// and after.
type journalEntry struct{ Name, Was, Is string }

// fileState is a file as it was read.
type fileState struct {
	name  string
	path  string // with symbolic links followed
	text  string
	stamp string // of size and time
	mode  fs.FileMode
	info  fs.FileInfo
}

// errChanged says that a file is not as it was read.
var errChanged = errors.New("changed meanwhile")

// newPath is where the new bytes of a file are written.
func newPath(path string) string {
	return filepath.Join(filepath.Dir(path), "."+filepath.Base(path)+newSuffix)
}

func (s store) path(name string) string { return filepath.Join(s.dir, name) }

// read returns all files in one state, be it before or after a commit that was
// interrupted or is under way.
func (s store) read() ([]fileState, error) {
	const tries = 50
	for range tries {
		before, listed, err := s.journal()
		if err != nil {
			return nil, err
		}
		states, err := s.stat()
		if err != nil {
			return nil, err
		}
		if err := s.readAll(states, listed); err != nil {
			return nil, err
		}
		again, err := s.stat()
		if err != nil {
			return nil, err
		}
		after, _, err := s.journal()
		if err != nil {
			return nil, err
		}
		if before == after && sameStamps(states, again) {
			return states, nil
		}
		time.Sleep(2 * time.Millisecond)
	}
	return nil, &ChangedError{File: s.dir}
}

// stat finds the files and their stamps.
func (s store) stat() ([]fileState, error) {
	states := make([]fileState, len(s.names))
	for i, name := range s.names {
		path, err := s.disk.Resolve(s.path(name))
		if err != nil {
			return nil, cannotRead(s.path(name), err)
		}
		info, err := s.disk.Stat(path)
		if err != nil {
			return nil, cannotRead(path, err)
		}
		if !info.Mode().IsRegular() {
			return nil, cannotRead(path, &plainfile.KindError{Kind: plainfile.Kind(info.Mode())})
		}
		states[i] = fileState{name: name, path: path, mode: info.Mode().Perm(), info: info,
			stamp: fmt.Sprint(info.Size(), info.ModTime().UnixNano())}
	}
	return states, nil
}

func sameStamps(a, b []fileState) bool {
	return slices.EqualFunc(a, b, func(a, b fileState) bool { return a.path == b.path && a.stamp == b.stamp })
}

// readAll reads the files' bytes: the new ones of those that a journal lists,
// where they are not yet in place.
func (s store) readAll(states []fileState, j journal) error {
	for i := range states {
		f := &states[i]
		listed := slices.ContainsFunc(j.Files, func(e journalEntry) bool { return e.Name == f.name })
		err := fs.ErrNotExist
		if listed {
			f.text, err = s.disk.ReadFile(newPath(f.path))
		}
		if errors.Is(err, fs.ErrNotExist) {
			f.text, err = s.disk.ReadFile(f.path)
		}
		if err != nil {
			return cannotRead(f.path, err)
		}
	}
	return nil
}

// journal reads the journal: its text, "" for none, and what it says.
func (s store) journal() (string, journal, error) {
	var j journal
	path := s.path(journalFile)
	data, err := s.disk.ReadFile(path)
	if errors.Is(err, fs.ErrNotExist) {
		return "", j, nil
	}
	if err != nil {
		return "", j, cannotRead(path, err)
	}
	err = json.Unmarshal([]byte(data), &j)
	for _, e := range j.Files {
		if !slices.Contains(s.names, e.Name) {
			err = fmt.Errorf("it names %q", e.Name)
		}
	}
	if err != nil {
		return "", j, &AccessError{Path: path, What: "is not the journal of an interrupted command", Remedy: "move it out of the folder", Err: err}
	}
	return data, j, nil
}
