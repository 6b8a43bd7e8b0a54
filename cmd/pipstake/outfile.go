package main

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"strings"

	"pipstake/cmd/pipstake/terminal"
	"pipstake/ids/plainfile"
	"pipstake/ids/problem"
)

// fileKind is a kind of file that is written.
type fileKind struct {
	noun   string // with its article: "a PDF"
	binary bool   // so that a terminal cannot show it
	starts []string
}

var pdfFile = fileKind{noun: "a PDF", binary: true, starts: []string{"%PDF-"}}

// target is where a file goes.
type target struct {
	path   string // absolute; "" for standard output
	shown  string // as the user would write it
	flag   string // the one that names it: "--out"
	exists bool
	dryRun bool        // no file appears there
	mode   fs.FileMode // of the file that it replaces
}

func (t target) stdout() bool { return t.path == "" }

// target looks at the place for a PDF, named by --out; see targetOf.
func (e *env) target(out string, force bool) (target, error) {
	return e.targetOf(pdfFile, "--out", out, force)
}

// targetOf looks at the place for a file that a flag names, before anything is
// done. Standard output must not be a terminal where the file is binary; a file
// must not exist, unless force says to replace it and it is of the same kind.
func (e *env) targetOf(kind fileKind, flag, out string, force bool) (target, error) {
	choose := "choose another file with " + flag + " FILE"
	if out == "-" {
		if kind.binary && terminal.IsTerminal(e.stdout) {
			return target{}, problem.Use(kind.noun+" would garble the terminal", "name a file with "+flag+" FILE, or send it on: "+flag+" - | lp")
		}
		if e.dryRun {
			return target{}, problem.Use("a dry run writes no file, to standard output neither", "leave out "+flag+" -")
		}
		return target{shown: "standard output"}, nil
	}
	t := target{path: e.abs(out), shown: out, flag: flag, dryRun: e.dryRun}
	folder := filepath.Dir(t.path)
	if info, err := os.Stat(folder); err != nil || !info.IsDir() {
		return target{}, problem.Use(fmt.Sprintf("%s %s: there is no folder %s", flag, quotedPath(out), folder), "make the folder first, or choose another one")
	}
	info, err := os.Lstat(t.path)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return t, nil
	case err != nil:
		return target{}, problem.Use(fmt.Sprintf("output %s: %s", quotedPath(out), problem.Reason(err)), choose)
	case !info.Mode().IsRegular():
		return target{}, problem.Use(fmt.Sprintf("output %s is %s, not a file", quotedPath(out), plainfile.Kind(info.Mode())), "choose a file with "+flag+" FILE")
	case !force:
		return target{}, problem.Use(fmt.Sprintf("%s exists already", quotedPath(out)), choose+", or replace it with --force")
	case !kind.holds(t.path):
		return target{}, problem.Use(fmt.Sprintf("%s exists and is no %s, so it is not replaced", quotedPath(out), kind.bare()), choose)
	}
	if err := heldOpen(t.path); err != nil {
		return target{}, problem.Use(fmt.Sprintf("%s cannot be replaced now: %s", quotedPath(out), problem.Reason(err)), "close the program that shows it, or "+choose)
	}
	t.exists, t.mode = true, info.Mode().Perm()
	return t, nil
}

// heldOpen finds out on Windows whether another program keeps a file from being
// replaced, as viewers of PDF do. Elsewhere none can.
func heldOpen(path string) error {
	if runtime.GOOS != "windows" {
		return nil
	}
	f, err := os.OpenFile(path, os.O_RDWR, 0)
	if err != nil {
		return err
	}
	return f.Close()
}

// bare is the noun without its article.
func (k fileKind) bare() string {
	_, noun, _ := strings.Cut(k.noun, " ")
	return noun
}

// holds reports whether a file starts as those of the kind do, or is empty.
func (k fileKind) holds(path string) bool {
	f, err := plainfile.Open(path)
	if err != nil {
		return false
	}
	defer f.Close()
	start := make([]byte, 64)
	n, _ := io.ReadFull(f, start) // a short file is compared as far as it goes
	for _, s := range k.starts {
		if strings.HasPrefix(string(start[:n]), s) {
			return true
		}
	}
	return n == 0
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
		return tmp, problem.Failure(fmt.Sprintf("cannot write in the folder of %s: %s", t.shown, problem.Reason(err)), "choose another place with "+t.flag+" FILE")
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
		return tmp, problem.Failure(fmt.Sprintf("cannot write %s: %s", t.shown, problem.Reason(err)), "nothing was recorded; choose another place with "+t.flag+" FILE")
	}
	return tmp, nil
}

// createBeside makes a new file in the folder of path, and clears away those that
// killed commands left there.
func createBeside(path string) (*os.File, error) {
	clearAbandoned(filepath.Dir(path))
	for n := 0; ; n++ {
		name := filepath.Join(filepath.Dir(path), fmt.Sprintf(".pipstake-%d-%d.tmp", os.Getpid(), n))
		f, err := os.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o666)
		if !errors.Is(err, fs.ErrExist) {
			return f, err
		}
	}
}

// moveIntoPlace moves the file to its target, or away in a dry run.
func (t temporary) moveIntoPlace() error {
	if t.target.dryRun {
		t.discard()
		return nil
	}
	if err := os.Rename(t.path, t.target.path); err != nil {
		return err
	}
	if folder, err := os.Open(filepath.Dir(t.target.path)); err == nil {
		folder.Sync() // not every system can; the file itself is on disk
		folder.Close()
	}
	return nil
}

// deliver writes data to a target that nothing else depends on, whole or not
// at all.
func (e *env) deliver(t target, data []byte) error {
	if t.stdout() {
		_, err := e.Write(data) // a failure is kept until Flush
		return err
	}
	tmp, err := t.store(data)
	if err != nil {
		return err
	}
	if err := tmp.moveIntoPlace(); err != nil {
		tmp.discard()
		return problem.Failure(fmt.Sprintf("cannot write %s: %s", t.shown, problem.Reason(err)), "choose another place with "+t.flag+" FILE")
	}
	return nil
}

// discard removes the file.
func (t temporary) discard() { os.Remove(t.path) }
