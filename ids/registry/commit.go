package registry

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"path/filepath"
	"slices"
	"strings"
	"time"
)

// A commit replaces several files as one:
//
//  1. each new file is written beside the old one and made to last (fsync);
//  2. the files are compared with what the command had read;
//  3. the journal, which lists the new files, is put into the registry's
//     folder and made to last: from here on the new state holds;
//  4. each new file is renamed over the old one, and that is made to last;
//  5. the journal is removed.
//
// Whoever finds a journal reads the new files where they still stand beside
// the old ones. The next change carries on with step 4. What is left of a
// commit that never had a journal is removed.

const (
	journalFile = ".commit"
	newSuffix   = ".new"
)

// recover finishes an interrupted commit, or clears away what is left of one
// that never came to hold.
func (s store) recover() error {
	text, j, err := s.journal()
	if err != nil {
		return err
	}
	states, err := s.stat()
	if err != nil {
		return err
	}
	if text != "" {
		if err := s.finish(states, j); err != nil {
			return err
		}
	}
	leftovers := []string{s.path(journalFile) + newSuffix}
	for _, f := range states {
		leftovers = append(leftovers, newPath(f.path))
	}
	for _, path := range leftovers {
		if err := s.disk.Remove(path); err != nil && !errors.Is(err, fs.ErrNotExist) {
			return cannotWrite(path, err)
		}
	}
	return nil
}

// finish puts the new files of a journal into place. A file that somebody
// edited after the commit was interrupted is kept beside them.
func (s store) finish(states []fileState, j journal) error {
	for _, e := range j.Files {
		i := slices.IndexFunc(states, func(f fileState) bool { return f.name == e.Name })
		path := states[i].path
		if _, err := s.disk.Stat(newPath(path)); errors.Is(err, fs.ErrNotExist) {
			continue // in place already
		}
		data, err := s.disk.ReadFile(path)
		if err != nil {
			return cannotRead(path, err)
		}
		if sum := hash(data); sum != e.Was && sum != e.Is {
			if err := s.setAside(e.Name, data, states[i].mode); err != nil {
				return err
			}
		}
		if err := s.rename(newPath(path), path); err != nil {
			return cannotWrite(path, err)
		}
	}
	return s.endJournal(states, j)
}

// setAside keeps an edited file that a commit replaces.
func (s store) setAside(name, text string, mode fs.FileMode) error {
	for n := 1; ; n++ {
		path := s.path(fmt.Sprintf("%s.conflict-%d.csv", strings.TrimSuffix(name, ".csv"), n))
		err := s.write(path, text, mode)
		if err == nil || !errors.Is(err, fs.ErrExist) {
			return err
		}
	}
}

// endJournal makes the renames last and then removes the journal.
func (s store) endJournal(states []fileState, j journal) error {
	if err := s.syncDirs(states, j); err != nil {
		return err
	}
	path := s.path(journalFile)
	if err := s.disk.Remove(path); err != nil {
		return cannotWrite(path, err)
	}
	return s.syncDir(s.dir)
}

// syncDirs makes the names of a journal's files last.
func (s store) syncDirs(states []fileState, j journal) error {
	var dirs []string
	for _, f := range states {
		dir := filepath.Dir(f.path)
		listed := slices.ContainsFunc(j.Files, func(e journalEntry) bool { return e.Name == f.name })
		if listed && !slices.Contains(dirs, dir) {
			dirs = append(dirs, dir)
		}
	}
	for _, dir := range dirs {
		if err := s.syncDir(dir); err != nil {
			return err
		}
	}
	return nil
}

func (s store) syncDir(dir string) error {
	if err := s.disk.SyncDir(dir); err != nil {
		return cannotWrite(dir, err)
	}
	return nil
}

// commit saves the new texts of some files, by name, over the states that were
// read. It returns errChanged where a file is no longer as it was read. With any
// error the old state holds.
func (s store) commit(states []fileState, texts map[string]string) error {
	j, err := s.prepare(states, texts)
	if err == nil {
		err = s.unchanged(states)
	}
	if err == nil {
		err = s.begin(j, states[0].mode)
	}
	if err != nil {
		s.discard(states, j)
		return err
	}
	if err := s.syncDir(s.dir); err != nil {
		return s.revoke(states, j, err)
	}
	for i, e := range j.Files {
		f := states[slices.IndexFunc(states, func(f fileState) bool { return f.name == e.Name })]
		err := s.rename(newPath(f.path), f.path)
		if err != nil && i == 0 {
			return s.revoke(states, j, cannotWrite(f.path, err))
		}
		if err != nil {
			return nil // the new state holds; the next change carries on
		}
	}
	_ = s.endJournal(states, j) // the new state holds either way
	return nil
}

// prepare writes the new files beside the old ones. The journal lists those
// begun, with an error as well.
func (s store) prepare(states []fileState, texts map[string]string) (journal, error) {
	var j journal
	for _, f := range states {
		text, isNew := texts[f.name]
		if !isNew {
			continue
		}
		if f.mode&0o222 == 0 {
			return j, &AccessError{Path: f.path, What: "is write-protected", Remedy: "take the protection off if the registry is to change"}
		}
		j.Files = append(j.Files, journalEntry{f.name, hash(f.text), hash(text)})
		if err := s.write(newPath(f.path), text, f.mode); err != nil {
			return j, err
		}
		s.disk.Own(newPath(f.path), f.info)
	}
	return j, s.syncDirs(states, j)
}

// begin puts the journal into the folder. It is open to those who may read the
// registry.
func (s store) begin(j journal, mode fs.FileMode) error {
	data, err := json.Marshal(j)
	if err != nil {
		return err
	}
	path := s.path(journalFile)
	if err := s.write(path+newSuffix, string(data), mode); err != nil {
		return err
	}
	if err := s.disk.Rename(path+newSuffix, path); err != nil {
		_ = s.disk.Remove(path + newSuffix)
		return cannotWrite(path, err)
	}
	return nil
}

// unchanged compares the files with what was read.
func (s store) unchanged(states []fileState) error {
	for _, f := range states {
		path, err := s.disk.Resolve(s.path(f.name))
		if err != nil {
			return cannotRead(f.path, err)
		}
		data, err := s.disk.ReadFile(path)
		if err != nil {
			return cannotRead(path, err)
		}
		if path != f.path || data != f.text {
			return errChanged
		}
	}
	return nil
}

// discard removes the new files of a commit that never came to hold. What
// cannot be removed is cleared away by the next change.
func (s store) discard(states []fileState, j journal) {
	for _, f := range states {
		if slices.ContainsFunc(j.Files, func(e journalEntry) bool { return e.Name == f.name }) {
			_ = s.disk.Remove(newPath(f.path))
		}
	}
}

// revoke goes back to the old state after err, while all old files still
// stand, and returns err. Where the journal cannot be taken away the new state
// holds, and there is no error.
func (s store) revoke(states []fileState, j journal, err error) error {
	path := s.path(journalFile)
	removed := s.disk.Remove(path)
	if removed != nil && !errors.Is(removed, fs.ErrNotExist) {
		return nil
	}
	if s.disk.SyncDir(s.dir) != nil {
		return err // after a crash the journal may stand again, so its files stay
	}
	s.discard(states, j)
	return err
}

// rename puts a new file in the place of an old one. Where another program
// holds that open, it tries again for a second.
func (s store) rename(from, to string) error {
	const tries = 10
	err := s.disk.Rename(from, to)
	var held *heldError
	for try := 1; try < tries && errors.As(err, &held); try++ {
		time.Sleep(s.pause)
		err = s.disk.Rename(from, to)
	}
	return err
}

// write makes a new file that lasts.
func (s store) write(path, text string, mode fs.FileMode) error {
	f, err := s.disk.Create(path, mode)
	if err != nil {
		return cannotWrite(path, err)
	}
	_, err = io.WriteString(f, text)
	if err == nil {
		err = f.Sync()
	}
	if closed := f.Close(); err == nil {
		err = closed
	}
	if err != nil {
		_ = s.disk.Remove(path)
		return cannotWrite(path, err)
	}
	return nil
}

func hash(text string) string {
	sum := sha256.Sum256([]byte(text))
	return hex.EncodeToString(sum[:])
}
