package registry

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
)

// Find returns the folder of the registry: flag where it is not empty, else env,
// the value of PIPSTAKE_REGISTRY, else the nearest folder from cwd upward that
// holds a registry. The error is an *AccessError.
func Find(flag, env, cwd string) (dir string, err error) {
	for _, named := range []struct{ dir, by string }{{flag, "--registry"}, {env, "PIPSTAKE_REGISTRY"}} {
		if named.dir == "" {
			continue
		}
		dir := named.dir
		if !filepath.IsAbs(dir) {
			dir = filepath.Join(cwd, dir)
		}
		if !isRegistry(dir) {
			return "", &AccessError{Path: dir, What: fmt.Sprintf("holds no registry, though %s says so", named.by),
				Remedy: fmt.Sprintf("make one with: {init: %q}", named.dir)}
		}
		return dir, nil
	}
	for dir := cwd; ; dir = filepath.Dir(dir) {
		if isRegistry(dir) {
			return dir, nil
		}
		if dir == filepath.Dir(dir) {
			return "", &AccessError{Path: cwd, What: "neither this folder nor one above it holds a registry",
				Remedy: "make one with: {init}, or name one {with registry}"}
		}
	}
}

// isRegistry reports whether the folder holds the file that marks a registry.
func isRegistry(dir string) bool {
	info, err := os.Stat(filepath.Join(dir, MarkerFile))
	return err == nil && !info.IsDir()
}

// Init makes a new registry in dir, which is made where it does not exist. The
// error is a *Refusal where one of the files is there already, else an
// *AccessError.
func Init(dir string) error {
	return store{disk: systemDisk{}, dir: dir, names: fileNames()}.init(newTables())
}

// init writes the empty tables; the file that marks a registry comes last.
func (s store) init(r *Registry) error {
	if err := os.MkdirAll(s.dir, 0o777); err != nil {
		return cannotWrite(s.dir, err)
	}
	tables := r.tables()
	tables = append(tables[:len(tables)-len(r.optional())], r.marks)
	for _, t := range tables {
		path := s.path(t.fileName())
		if _, err := os.Lstat(path); err == nil {
			what := fmt.Sprintf("%s is there already", path)
			if isRegistry(s.dir) {
				what = fmt.Sprintf("%s holds a registry already", s.dir)
			}
			return &Refusal{What: what, Remedy: "use it, or name another folder"}
		} else if !errors.Is(err, fs.ErrNotExist) {
			return cannotRead(path, err)
		}
	}
	if err := r.marks.load(s.path(marksFile), r.marks.blankFile()); err != nil {
		return err
	}
	r.GiveMark()
	return s.writeNew(tables)
}

// writeNew writes tables of a new registry, all or none, the last first.
func (s store) writeNew(tables []tableFile) (err error) {
	written := len(tables)
	defer func() {
		for _, t := range tables[written:] {
			if err != nil {
				_ = s.disk.Remove(s.path(t.fileName()))
			}
		}
	}()
	for i := len(tables) - 1; i >= 0; i-- {
		text := tables[i].blankFile()
		if tables[i].changed() {
			text = tables[i].render()
		}
		if err := s.write(s.path(tables[i].fileName()), text, usualMode); err != nil {
			return err
		}
		written = i
	}
	return s.syncDir(s.dir)
}
