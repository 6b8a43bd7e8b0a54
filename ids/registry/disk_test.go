package registry

import (
	"errors"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"syscall"
	"time"
)

// testDisk is a file system in memory that tells what lasts through a crash
// from what does not: bytes last after their file's Sync, names after their
// folder's SyncDir. It can fail, or stop for good, at any operation that
// writes.
type testDisk struct {
	now     map[string]*testFile // what a running program sees
	lasting map[string]*testFile // what is certain to be there after a crash
	pending []nameChange         // since the last SyncDir
	clock   int64

	ops     int
	failAt  int  // this operation fails; 0 for none
	failFor int  // and as many after it, itself counted
	stopped bool // and all after it, as the program is dead
	stop    bool // set stopped at failAt

	held map[string]int // how often renaming to a path fails as where it is held open
}

// testFile is a file's bytes, and those that are synced.
type testFile struct {
	data, synced string
	mode         fs.FileMode
	time         int64
}

// nameChange gives a name to a file, or takes it away for nil.
type nameChange struct {
	path string
	file *testFile
}

var errStopped = errors.New("the program was stopped")

// op counts an operation that writes, and reports whether it fails.
func (d *testDisk) op(what, path string) error {
	d.ops++
	if d.stopped {
		return &fs.PathError{Op: what, Path: path, Err: errStopped}
	}
	if d.failAt > 0 && d.ops >= d.failAt && d.ops < d.failAt+max(1, d.failFor) {
		d.stopped = d.stop
		return &fs.PathError{Op: what, Path: path, Err: syscall.ENOSPC}
	}
	return nil
}

func newTestDisk(files map[string]string) *testDisk {
	d := &testDisk{now: map[string]*testFile{}, lasting: map[string]*testFile{}}
	for path, data := range files {
		d.clock++
		f := &testFile{data, data, 0o640, d.clock}
		d.now[path], d.lasting[path] = f, f
	}
	return d
}

func (d *testDisk) get(op, path string) (*testFile, error) {
	if f := d.now[filepath.ToSlash(path)]; f != nil {
		return f, nil
	}
	return nil, &fs.PathError{Op: op, Path: path, Err: fs.ErrNotExist}
}

func (d *testDisk) ReadFile(path string) (string, error) {
	f, err := d.get("open", path)
	if err != nil {
		return "", err
	}
	return f.data, nil
}

func (d *testDisk) Stat(path string) (fs.FileInfo, error) {
	f, err := d.get("stat", path)
	if err != nil {
		return nil, err
	}
	return testInfo{path, *f}, nil
}

func (d *testDisk) Resolve(path string) (string, error) {
	_, err := d.get("lstat", path)
	return path, err
}

func (d *testDisk) Names(dir string) ([]string, error) {
	var names []string
	for path := range d.now {
		names = append(names, filepath.Base(path))
	}
	slices.Sort(names)
	return names, nil
}

func (d *testDisk) name(path string, f *testFile) {
	path = filepath.ToSlash(path)
	if f == nil {
		delete(d.now, path)
	} else {
		d.now[path] = f
	}
	d.pending = append(d.pending, nameChange{path, f})
}

func (d *testDisk) Create(path string, mode fs.FileMode) (diskFile, error) {
	path = filepath.ToSlash(path)
	if err := d.op("create", path); err != nil {
		return nil, err
	}
	if d.now[path] != nil {
		return nil, &fs.PathError{Op: "create", Path: path, Err: fs.ErrExist}
	}
	d.clock++
	f := &testFile{mode: mode, time: d.clock}
	d.name(path, f)
	return &testWriter{d, path, f}, nil
}

func (d *testDisk) Rename(from, to string) error {
	from, to = filepath.ToSlash(from), filepath.ToSlash(to)
	if err := d.op("rename", to); err != nil {
		return err
	}
	if d.held[to] > 0 {
		d.held[to]--
		return &heldError{&os.LinkError{Op: "rename", Old: from, New: to,
			Err: errors.New("The process cannot access the file because it is being used by another process.")}}
	}
	f, err := d.get("rename", from)
	if err != nil {
		return err
	}
	// A rename is one step, so both names change together or not at all.
	delete(d.now, from)
	d.now[to] = f
	d.pending = append(d.pending, nameChange{from + "\x00" + to, f})
	return nil
}

func (d *testDisk) Remove(path string) error {
	if _, err := d.get("remove", path); err != nil {
		return err
	}
	if err := d.op("remove", path); err != nil {
		return err
	}
	d.name(path, nil)
	return nil
}

func (d *testDisk) Own(string, fs.FileInfo) {}

func (d *testDisk) SyncDir(dir string) error {
	if err := d.op("sync", dir); err != nil {
		return err
	}
	for _, c := range d.pending {
		apply(d.lasting, c)
	}
	d.pending = nil
	return nil
}

// apply makes a change of names.
func apply(names map[string]*testFile, c nameChange) {
	from, to, isRename := strings.Cut(c.path, "\x00")
	switch {
	case isRename:
		delete(names, from)
		names[to] = c.file
	case c.file == nil:
		delete(names, c.path)
	default:
		names[c.path] = c.file
	}
}

// afterCrash returns a disk as it may be after a crash: of the names that were
// not synced those in kept came through, and unsynced bytes came through
// wholly, in part or not at all.
func (d *testDisk) afterCrash(kept uint, bytes float64) *testDisk {
	names := maps.Clone(d.lasting)
	for i, c := range d.pending {
		if kept>>i&1 == 1 {
			apply(names, c)
		}
	}
	files := map[string]string{}
	for path, f := range names {
		if data := f.synced; f.data != data {
			data = f.data[:int(bytes*float64(len(f.data)))]
			files[path] = data
			continue
		}
		files[path] = f.synced
	}
	after := newTestDisk(files)
	for path, f := range after.now {
		f.mode = names[path].mode
	}
	return after
}

type testWriter struct {
	disk *testDisk
	path string
	file *testFile
}

func (w *testWriter) Write(p []byte) (int, error) {
	if err := w.disk.op("write", w.path); err != nil {
		if !errors.Is(err, errStopped) {
			w.file.data += string(p[:len(p)/2]) // a full disk takes what there is room for
		}
		return len(p) / 2, err
	}
	w.file.data += string(p)
	return len(p), nil
}

func (w *testWriter) Sync() error {
	if err := w.disk.op("fsync", w.path); err != nil {
		return err
	}
	w.file.synced = w.file.data
	return nil
}

func (w *testWriter) Close() error { return w.disk.op("close", w.path) }

// quickDisk is the real file system, but that nothing is made to last.
type quickDisk struct{ systemDisk }

func (d quickDisk) SyncDir(string) error { return nil }

func (d quickDisk) Create(path string, mode fs.FileMode) (diskFile, error) {
	f, err := d.systemDisk.Create(path, mode)
	return quickFile{f}, err
}

type quickFile struct{ diskFile }

func (quickFile) Sync() error { return nil }

type testInfo struct {
	path string
	file testFile
}

func (i testInfo) Name() string       { return filepath.Base(i.path) }
func (i testInfo) Size() int64        { return int64(len(i.file.data)) }
func (i testInfo) Mode() fs.FileMode  { return i.file.mode }
func (i testInfo) ModTime() time.Time { return time.Unix(0, i.file.time) }
func (i testInfo) IsDir() bool        { return false }
func (i testInfo) Sys() any           { return nil }
