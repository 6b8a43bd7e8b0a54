package main

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"

	"pipstake/ids/problem"
)

// newFolder fills a folder beside its place and moves it there once it is
// whole. By is how the user chose the place: "with --out".
func (e *env) newFolder(shown, by string, fill func(dir string) error) error {
	dir := e.abs(shown)
	choose := "choose another place " + by
	if _, err := os.Lstat(dir); !errors.Is(err, fs.ErrNotExist) {
		return problem.Use(fmt.Sprintf("%s exists already", quotedPath(shown)), "choose another folder "+by+", or remove that one")
	}
	clearAbandoned(filepath.Dir(dir))
	work, err := os.MkdirTemp(filepath.Dir(dir), ".pipstake-new-")
	if err != nil {
		return problem.Failure(fmt.Sprintf("cannot make a folder beside %s: %s", shown, problem.Reason(err)), choose)
	}
	defer os.RemoveAll(work)
	if err := fill(work); err != nil {
		return err
	}
	if e.dryRun {
		return nil
	}
	err = os.Chmod(work, 0o755)
	if err == nil {
		err = os.Rename(work, dir)
	}
	if err != nil {
		return problem.Failure(fmt.Sprintf("cannot make %s: %s", shown, problem.Reason(err)), choose)
	}
	return nil
}
