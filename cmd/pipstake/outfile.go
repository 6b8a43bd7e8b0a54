package main

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
)

// target is where a PDF goes.
type target struct {
	path   string // absolute; "" for standard output
	shown  string // as the user would write it
	exists bool
	mode   fs.FileMode // of the file that it replaces
}

func (t target) stdout() bool { return t.path == "" }

// target looks at the place for a PDF, before anything is done. Standard
// output must not be a terminal; a file must not exist, unless force says to
// replace it and it is a PDF.
func (e *env) target(out string, force bool) (target, error) {
	if out == "-" {
		if isTerminal(e.stdout) {
			return target{}, &usageError{"a PDF would garble the terminal", "name a file with --out FILE, or send it on: --out - | lp"}
		}
		return target{shown: "standard output"}, nil
	}
	t := target{path: e.abs(out), shown: out}
	folder := filepath.Dir(t.path)
	if info, err := os.Stat(folder); err != nil || !info.IsDir() {
		return target{}, &usageError{fmt.Sprintf("--out %q: there is no folder %s", out, folder), "make the folder first, or choose another one"}
	}
	info, err := os.Lstat(t.path)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return t, nil
	case err != nil:
		return target{}, &usageError{fmt.Sprintf("output %q: %s", out, reason(err)), "choose another file with --out FILE"}
	case !info.Mode().IsRegular():
		return target{}, &usageError{fmt.Sprintf("output %q is %s, not a file", out, kindOf(info.Mode())), "choose a file with --out FILE"}
	case !force:
		return target{}, &usageError{fmt.Sprintf("%q exists already", out), "choose another file with --out FILE, or replace it with --force"}
	case !isPDF(t.path):
		return target{}, &usageError{fmt.Sprintf("%q exists and is no PDF, so it is not replaced", out), "choose another file with --out FILE"}
	}
	t.exists, t.mode = true, info.Mode().Perm()
	return t, nil
}

func kindOf(mode fs.FileMode) string {
	switch {
	case mode.IsDir():
		return "a folder"
	case mode&fs.ModeSymlink != 0:
		return "a symbolic link"
	}
	return "a device or pipe"
}

// isPDF reports whether a file starts as a PDF does, or is empty.
func isPDF(path string) bool {
	f, err := os.Open(path)
	if err != nil {
		return false
	}
	defer f.Close()
	start := make([]byte, 5)
	n, _ := f.Read(start)
	return n == 0 || string(start[:n]) == "%PDF-"
}

// temporary is a file beside its target, which moves there once all is done.
type temporary struct {
	target target
	path   string
}

// store writes data to a temporary file in the target's folder and syncs it to
// disk. Nothing is left behind after an error.
func (t target) store(data []byte) (temporary, error) {
	tmp := temporary{target: t}
	f, err := createBeside(t.path)
	if err != nil {
		return tmp, &failure{fmt.Sprintf("cannot write in the folder of %s: %s", t.shown, reason(err)), "choose another place with --out FILE"}
	}
	tmp.path = f.Name()
	_, err = f.Write(data)
	if err == nil && t.exists {
		err = f.Chmod(t.mode)
	}
	if err == nil {
		err = f.Sync()
	}
	if closed := f.Close(); err == nil {
		err = closed
	}
	if err != nil {
		tmp.discard()
		return tmp, &failure{fmt.Sprintf("cannot write %s: %s", t.shown, reason(err)), "nothing was recorded; choose another place with --out FILE"}
	}
	return tmp, nil
}

// createBeside makes a new file in the folder of path.
func createBeside(path string) (*os.File, error) {
	for n := 0; ; n++ {
		name := filepath.Join(filepath.Dir(path), fmt.Sprintf(".pipstake-%d-%d.tmp", os.Getpid(), n))
		f, err := os.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o666)
		if !errors.Is(err, fs.ErrExist) {
			return f, err
		}
	}
}

// place moves the file to its target.
func (t temporary) place() error {
	if err := os.Rename(t.path, t.target.path); err != nil {
		return err
	}
	if folder, err := os.Open(filepath.Dir(t.target.path)); err == nil {
		folder.Sync() // not every system can; the file itself is on disk
		folder.Close()
	}
	return nil
}

// discard removes the file.
func (t temporary) discard() { os.Remove(t.path) }
